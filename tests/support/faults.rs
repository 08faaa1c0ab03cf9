//! A store and a chat that fail to order, and the gate by which several processes take turns at one store.

mod chat;
mod gate;
mod ledger;
mod store;

pub use chat::{FaultyChat, Shown, Slip, Tally};
pub use gate::{Gate, Lane, take_turns};
pub use ledger::{Commit, Ledger, Settlement};
pub use store::{Fault, FaultyStore, Trouble};
