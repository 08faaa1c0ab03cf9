//! A scenario in virtual time, against the real scheduler, store and desk, with simulated carers.
//!
//! The same arguments give the same transcript, byte for byte: time is set by hand, chance comes from the seed, and
//! nothing depends on the order of a hash.

pub mod carers;
mod report;
pub mod scenario;
pub mod stage;
pub mod transcript;

pub use scenario::Scenario;
pub use stage::{Audience, Stage};
pub use transcript::Transcript;
