//! Prepared water in a vessel, and the trail of every litre of it.
