//! Wrackline's process: lines in, answers and posts out.
//!
//! In reading order:
//!
//! * [`lines`] — the one table of lines; typed text becomes an [`lines::ask::Ask`].
//! * [`desk`] — an ask becomes an answer and entries for the journal.
//! * [`house`] — a line is heard, committed and answered.
//! * [`engine`] — a moment falls due and becomes posts in the outbox.
//! * [`outbox`] — posts are rendered, sent and settled.
//! * [`photo`] and [`keeping`] — pictures freed of all else, and for how long they are kept.
//! * [`shelf`] and [`store`] — books in hand, and where they are kept.
//! * [`chat`] and [`web`] — the transports.
//! * [`config`], [`logs`], [`app`] and [`commands`] — the process around it.
//! * [`replay`] — a scenario in virtual time, through all of the above.

pub mod app;
pub mod chat;
pub mod clock;
pub mod commands;
pub mod config;
pub mod desk;
pub mod engine;
pub mod house;
pub mod keeping;
pub mod lines;
pub mod logs;
pub mod outbox;
pub mod photo;
pub mod replay;
pub mod shelf;
pub mod store;
pub mod web;
pub mod words;
