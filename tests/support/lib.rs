//! What the tests stand on: journals written a line at a time, houses in virtual time, servers of their own, and the
//! chat platform's double.

pub mod binary;
pub mod faults;
pub mod house;
pub mod journal;
pub mod kills;
pub mod platform;
pub mod postgres;
pub mod rota;
pub mod served;
pub mod stage;
