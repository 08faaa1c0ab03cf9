//! A pool as a vessel with gear on it.
//!
//! In reading order: `shape` is its inside; `contents` is how much water there is between the stones; `depth` is who can
//! submerge and who can leave; `filter`, `airline` and `siphon` are what is fitted to it and how it is emptied.

pub mod airline;
pub mod contents;
pub mod depth;
pub mod filter;
pub mod shape;
pub mod siphon;
