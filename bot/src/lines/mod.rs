//! Lines that people type or dictate: from text to what is asked.
//!
//! [`table`] defines every line. `token` takes a text apart, `split` sorts its words into arguments by the table's
//! small words, `spot`, `duty`, `when`, `people`, `choice` and `schedule` read the arguments, and a file per family of
//! lines makes an [`ask::Ask`] of them. [`complete`] and [`help`] come from the same table.

pub mod ask;
pub mod table;

mod alone;
mod away;
mod batch;
mod care;
mod carer;
mod choice;
mod claim;
mod coming;
mod complete;
mod did;
mod duty;
mod figure;
mod fitting;
mod link;
mod mention;
mod names;
mod nearest;
mod nod;
mod offers;
mod parse;
mod people;
mod place;
mod pool;
mod problem;
mod rehearse;
mod schedule;
mod seen;
mod set_up;
mod sheet;
mod span;
mod split;
mod spot;
mod supplies;
mod token;
mod turn;
mod usage;
mod values;
mod water;
mod when;
mod write;

use jiff::Timestamp;
use wrackline_core::journal::Book;
use wrackline_core::place::{CarerId, Place};

pub use self::complete::complete;
pub use self::figure::Figure;
pub use self::names::{fitting_name, is_free_name};
pub use self::offers::offers;
pub use self::parse::{line_name, parse, who};
pub use self::place::zone_named;
pub use self::problem::problem;
pub use self::table::spec;
pub use self::turn::{as_typed, turn_as_typed};
pub use self::usage::{allows, help, usage};
pub use self::water::needs_no_place;
pub use self::write::write;
use crate::words::Message;

/// What a line is read against.
#[derive(Clone, Copy, Debug)]
pub struct Context<'a> {
    /// The place's journal, for names.
    pub book: &'a Book,
    /// The place as it is now.
    pub place: &'a Place,
    /// Who says it.
    pub me: CarerId,
    /// When it is said.
    pub now: Timestamp,
}

/// Why a line cannot be taken: one sentence that says what was wrong and what would be right.
#[derive(Clone, Debug, PartialEq)]
pub struct Refusal(pub Message);

fn refuse(message: Message) -> Refusal {
    Refusal(message)
}
