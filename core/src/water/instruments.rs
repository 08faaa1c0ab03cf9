//! What instruments show of salt water, each by its own convention.
