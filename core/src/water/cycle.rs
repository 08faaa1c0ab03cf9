//! How far a filter has come.
