//! When glass sweats.
