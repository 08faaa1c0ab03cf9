//! The main job through the group-chat platform: what people do there, and what they see, on the platform's double.

mod answering;
mod every_line;
mod linking;
mod mischief;
mod photos;
mod round;
