//! The recipe of a bucket.
