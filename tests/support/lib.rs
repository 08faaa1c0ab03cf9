//! What the tests stand on: journals written a line at a time, and houses in virtual time.

pub mod binary;
pub mod faults;
pub mod house;
pub mod journal;
