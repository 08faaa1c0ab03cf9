//! Which filter suits which pool.
