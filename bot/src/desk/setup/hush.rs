//! `/rounds hush`: everybody is there, so nobody has to be called to the turns. Dangers are told all the same.

use jiff::Timestamp;
use wrackline_core::civil::{plus_days, plus_minutes};
use wrackline_core::journal::{Event, PlaceChange};
use wrackline_core::place::Role;

use crate::chat::blocks::{Answer, Block};
use crate::desk::{Desk, Outcome, Refused};
use crate::lines::ask::HushAsk;
use crate::msg;

/// The longest hush in days: longer than that nobody means that all are there.
const DAYS_MAX: i64 = 7;

/// A hush is set by those who share the work for good: the others are there for a while, or have no account.
fn may_set(desk: &Desk<'_>) -> Result<(), Refused> {
    match desk.role {
        Role::Keeper | Role::Regular => Ok(()),
        Role::Sitter | Role::Helper => Err(msg!("refuse-hush-who")),
    }
}

/// `/rounds hush [until TIME]` and `/rounds hush off`
pub(super) fn hush(desk: &Desk<'_>, ask: HushAsk) -> Result<Outcome, Refused> {
    may_set(desk)?;
    match ask {
        HushAsk::Until(until) => set(desk, until),
        HushAsk::Off => off(desk),
    }
}

/// To the end of the day where no time was said.
fn set(desk: &Desk<'_>, until: Option<Timestamp>) -> Result<Outcome, Refused> {
    let zone = &desk.place().zone;
    let end = || zone.day_start(plus_days(zone.date(desk.now()), 1));
    let until = until.unwrap_or_else(end);
    if until <= desk.now() {
        return Err(msg!("refuse-hush-past", until = desk.tell.near(until)));
    }
    if until > plus_minutes(desk.now(), DAYS_MAX * 24 * 60) {
        return Err(msg!("refuse-hush-long", days = DAYS_MAX));
    }
    let draft = desk.draft(Event::Place(PlaceChange::Hush(Some(until))));
    Ok(Outcome::write(vec![draft], move |desk, numbers| {
        let answer = desk.done(&msg!("hush-receipt", until = told_until(desk, until)));
        with_take_back(desk, answer, numbers)
    }))
}

fn off(desk: &Desk<'_>) -> Result<Outcome, Refused> {
    if desk.place().hushed_until(desk.now()).is_none() {
        return Err(msg!("refuse-hush-none"));
    }
    let draft = desk.draft(Event::Place(PlaceChange::Hush(None)));
    Ok(Outcome::write(vec![draft], |desk, numbers| {
        with_take_back(desk, desk.done(&msg!("hush-off-receipt")), numbers)
    }))
}

fn with_take_back(desk: &Desk<'_>, mut answer: Answer, numbers: &[u64]) -> Answer {
    let first = numbers.first().copied().unwrap_or(0);
    let answers = vec![desk.press(&msg!("press-take-back"), format!("undo.{first}"))];
    answer.blocks.push(Block::Answers { answers });
    answer
}

/// The end of a hush: of a day's end the day, to whoever lives by the place's clock.
fn told_until(desk: &Desk<'_>, until: Timestamp) -> String {
    let zone = &desk.place().zone;
    let before = plus_days(zone.date(until), -1);
    if zone.day_start(zone.date(until)) != until || desk.tell.zone.is_some() {
        return desk.tell.near(until);
    }
    if before == zone.date(desk.now()) {
        return desk.tell.word("hush-end-of-today");
    }
    desk.say(&msg!("hush-end-of-day", date = desk.tell.date(before)))
}

/// That a hush holds, where it does.
pub(super) fn text(desk: &Desk<'_>) -> Option<String> {
    let until = desk.place().hushed_until(desk.now())?;
    Some(desk.say(&msg!("hushed", until = told_until(desk, until))))
}

/// The same below an answer.
pub(in crate::desk) fn told(desk: &Desk<'_>) -> Option<Block> {
    text(desk).map(|text| Block::Text { text })
}
