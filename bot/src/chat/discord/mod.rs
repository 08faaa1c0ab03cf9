//! The group-chat platform.

pub mod commands;
