//! How long and how far readings lay above a limit.
