//! What every family of set-up lines asks before it writes.

use jiff::Timestamp;
use wrackline_core::journal::Event;

use crate::desk::{Desk, Draft, Refused};
use crate::msg;
use crate::words::Message;

/// The moment from which a change counts: as said, else now.
pub(super) fn from(desk: &Desk<'_>, from: Option<Timestamp>) -> Result<Timestamp, Refused> {
    let at = from.unwrap_or(desk.now());
    if at > desk.now() {
        return Err(msg!("setup-from-future", at = desk.tell.near(at)));
    }
    Ok(at)
}

/// A name with single spaces. Its form was checked where it was read.
pub(super) fn name(text: &str) -> Result<String, Refused> {
    let name = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if name.is_empty() {
        Err(msg!("setup-name-empty"))
    } else {
        Ok(name)
    }
}

/// Refuses a name that is in use; case does not tell names apart.
pub(super) fn free<'n>(
    name: &str,
    used: impl IntoIterator<Item = &'n str>,
    refused: &'static str,
) -> Result<(), Refused> {
    let low = name.to_lowercase();
    match used.into_iter().find(|one| one.to_lowercase() == low) {
        Some(one) => Err(Message::new(refused).with("name", one)),
        None => Ok(()),
    }
}

/// A volume over zero.
pub(super) fn litres(litres: f64) -> Result<f64, Refused> {
    if litres > 0.0 && litres.is_finite() {
        Ok(litres)
    } else {
        Err(msg!("setup-volume-none"))
    }
}

/// When the last change of a kind counts from; what was retracted does not.
pub(super) fn last_change(desk: &Desk<'_>, is: impl Fn(&Event) -> bool) -> Option<Timestamp> {
    let book = desk.book();
    book.entries()
        .filter(|entry| !book.is_void(entry.seq) && is(&entry.event))
        .map(|entry| entry.at)
        .max()
}

/// The number for something new: one past the highest that the journal ever used, so that a number of something
/// retired or retracted never comes back with another meaning.
pub(super) fn next_number(desk: &Desk<'_>, of: impl Fn(&Event) -> Option<u32>) -> u32 {
    desk.book()
        .entries()
        .filter_map(|entry| of(&entry.event))
        .max()
        .unwrap_or(0)
        + 1
}

/// An entry by the speaker that counts from a moment.
pub(super) fn draft(desk: &Desk<'_>, at: Timestamp, event: Event) -> Draft {
    Draft {
        at,
        ..desk.draft(event)
    }
}
