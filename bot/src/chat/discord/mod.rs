//! The group-chat platform: native lines, presses and forms in; messages out.
//!
//! * `gateway`, `pulse` — the connection: opened, watched, opened again.
//! * `handler`, `raw` — what the platform tells: sessions, servers, channels; and what cannot be read of it.
//! * `heard`, `commands`, `reply` — what people do there, and how they are answered in time.
//! * `posts`, `private`, `trouble` — posts and edits in a place's channel or a carer's private one, and channels that
//!   refuse them.
//! * `shape`, `rows`, `text`, `names`, `ids` — blocks as the platform's messages.
//! * `sender` — calls of the platform's interface, within its limits.

pub mod commands;
pub mod gateway;
mod handler;
pub mod heard;
pub mod ids;
pub mod names;
pub mod photo;
pub mod posts;
mod private;
pub mod pulse;
mod raw;
pub mod reply;
pub mod rows;
pub mod sender;
pub mod shape;
pub mod text;
pub mod trouble;
