//! `/link`: the address of one's own calendar.
//!
//! The address is a secret. It is told once, to the one who asked, and kept nowhere: neither in the journal nor among
//! the answers that a repeat gets again.

use super::{Desk, Outcome};
use crate::chat::blocks::{Answer, Block};
use crate::lines::ask::{Alarm, LinkAsk};
use crate::msg;
use crate::words::Message;

/// What is to be done about the speaker's calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Deed {
    /// It gets an address, in place of the one it had.
    Give {
        /// Whether an alarm rings.
        alarm: Alarm,
    },
    /// Its address leads nowhere from now on.
    End,
    /// It is told how it stands.
    Show,
}

/// What became of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Done {
    /// It has an address.
    Given {
        /// The address.
        address: String,
        /// How many minutes before a turn its alarm rings.
        alarm_min: Option<i64>,
        /// Whether an earlier one leads nowhere since.
        replaces: bool,
    },
    /// Whether it had an address that leads nowhere since.
    Ended(bool),
    /// The alarm of the address that it has, in minutes before a turn; outer `None`: it has none.
    Stands(Option<Option<i64>>),
}

/// What comes of a `/link` line.
#[must_use]
pub fn link(ask: LinkAsk) -> Outcome {
    Outcome::calendar(match ask {
        LinkAsk::List => Deed::Show,
        LinkAsk::Calendar { alarm } => Deed::Give { alarm },
        LinkAsk::CalendarOff => Deed::End,
    })
}

/// Tells what became of the speaker's calendar, to them alone.
#[must_use]
pub fn told(desk: &Desk<'_>, done: Done) -> Answer {
    let lines = match done {
        Done::Given {
            address,
            alarm_min,
            replaces,
        } => {
            let mut lines = vec![
                msg!("calendar-given"),
                msg!("calendar-address", address = address),
                alarm(alarm_min),
            ];
            lines.extend(replaces.then(|| msg!("calendar-replaced")));
            lines.push(msg!("calendar-secret"));
            lines
        }
        Done::Ended(true) => vec![msg!("calendar-ended")],
        Done::Ended(false) | Done::Stands(None) => vec![msg!("calendar-none")],
        Done::Stands(Some(alarm_min)) => vec![msg!("calendar-stands"), alarm(alarm_min)],
    };
    let mut texts = lines.iter().map(|line| desk.say(line));
    let title = texts.next().unwrap_or_default();
    let mut answer = desk.done_text(title);
    answer.private = true;
    answer.blocks.extend(texts.map(|text| Block::Text { text }));
    answer
}

fn alarm(minutes: Option<i64>) -> Message {
    minutes.map_or_else(
        || msg!("calendar-no-alarm"),
        |minutes| msg!("calendar-alarm", minutes = minutes),
    )
}
