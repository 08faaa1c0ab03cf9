//! What is asked of a time in which nobody is there.

use jiff::Timestamp;

/// `/alone 9d`, `/alone from DATE to DATE`
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LeftAlone {
    /// When the last one leaves.
    pub leave: Timestamp,
    /// When somebody is back.
    pub back: Timestamp,
}
