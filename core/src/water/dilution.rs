//! What repeated part changes do to a concentration.
