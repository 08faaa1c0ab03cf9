//! What is asked of a helper's work that waits for a nod.

use wrackline_core::care::Duty;

use super::Spot;

/// A nod as it was said.
#[derive(Clone, Debug, PartialEq)]
pub enum NodAsk {
    /// What waits.
    List,
    /// A nod, or that it was not done.
    At {
        /// The duty.
        duty: Duty,
        /// Where.
        spot: Spot,
        /// Whether it was not done.
        no: bool,
    },
}
