//! What the air of an enclosure comes to: a well-mixed box with its pools.
