//! The group-chat platform.

pub mod sender;
