//! A place's own journal under another way of keeping.

mod laws;
mod worked;
