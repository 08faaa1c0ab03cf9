//! bot
