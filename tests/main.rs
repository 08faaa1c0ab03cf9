//! The integration tests: one binary, a module per behaviour.

mod cadence;
mod cards;
mod care;
mod chats;
mod contract;
mod cycling;
mod double;
mod foreign;
mod kills;
mod lines;
mod moments;
mod old;
mod photos;
mod porch;
mod replays;
mod setup;
mod shell;
mod simulation;
mod stories;
mod talk;
mod tidy;
mod time;
mod trouble;
mod weeks;
