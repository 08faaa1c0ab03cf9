//! walk
