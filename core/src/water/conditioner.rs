//! What makes mains water fit.
