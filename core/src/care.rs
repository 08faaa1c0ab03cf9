//! Care: the duties, how often each falls due, and how it stands.
//!
//! [`catalogue`] is the data, [`mod@cadence`] the rule in force, [`anchor`] what it counts from, [`mod@standing`] the
//! mark, [`calendar`] the duties bound to a calendar, [`mod@board`] all of a place's marks at once, [`closed`] what
//! closed a turn, [`mod@guard`] what keeps a second log apart.

pub mod anchor;
pub mod board;
pub mod cadence;
pub mod calendar;
pub mod catalogue;
pub mod closed;
pub mod guard;
pub mod standing;

pub use anchor::{Anchor, PartStep};
pub use board::board;
pub use cadence::{Because, Cadence, Pace, cadence};
pub use calendar::{OwnDuty, Schedule};
pub use catalogue::{Basis, CATALOGUE, Duty, Every, Grace, Numbers, Rule, RuleRow};
pub use closed::closers;
pub use guard::{Dosed, Guarded, dosed, guard};
pub use standing::{DueBy, Mark, Standing, TurnKey, standing};
