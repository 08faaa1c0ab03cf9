//! The integration tests: one binary, a module per behaviour.

mod cadence;
mod contract;
