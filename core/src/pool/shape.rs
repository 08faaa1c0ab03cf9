//! The inside of a vessel: volume to a level and back.
