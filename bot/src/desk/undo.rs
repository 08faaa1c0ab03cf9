//! Taking back: the journal keeps both the entry and its retraction.

use jiff::Timestamp;
use wrackline_core::care::Duty;
use wrackline_core::civil::seconds_between;
use wrackline_core::journal::{Entry, Event, PlaceChange, Say, Seq};
use wrackline_core::place::{Role, Target};

use super::tell::Tell;
use super::{Desk, Outcome, Refused, turns};
use crate::chat::blocks::Answer;
use crate::msg;

/// How far back an own entry may be taken back, in hours. The keeper may go further, by number.
const BACK_MAX_H: i64 = 48;

/// `/undo`: retracts one's own last entry, or the one of a number, with all that the same line wrote.
///
/// # Errors
/// A refusal when there is none, it is someone else's, too old, or retracted already.
pub fn undo(desk: &Desk<'_>, seq: Option<Seq>) -> Result<Outcome, Refused> {
    let entry = match seq {
        Some(seq) => by_number(desk, seq)?,
        None => last_own(desk)?.ok_or(msg!("refuse-undo-none", hours = BACK_MAX_H))?,
    };
    let mut line: Vec<Seq> = same_line(desk, entry);
    if seq.is_some() && is_said_again(desk, entry, &line) {
        line = vec![entry.seq];
    }
    // A nod at what is taken back goes with it.
    let nods: Vec<Seq> = line.iter().flat_map(|seq| desk.book().nods(*seq)).collect();
    line.extend(nods);
    let drafts = line.iter().map(|seq| desk.draft(Event::Retract(*seq))).collect();
    Ok(Outcome::write(drafts, move |desk, _| told(desk, &line)))
}

fn by_number<'a>(desk: &Desk<'a>, seq: Seq) -> Result<&'a Entry, Refused> {
    let entry = desk
        .book()
        .entry(seq)
        .ok_or(msg!("refuse-undo-unknown", seq = seq))?;
    let keeper = desk.role == Role::Keeper;
    if desk.book().is_void(seq) {
        return Err(msg!("refuse-undo-twice"));
    }
    if !can_retract(&entry.event) {
        return Err(msg!("refuse-undo-kind"));
    }
    if !keeper && entry.said_by != desk.me && entry.by != desk.me {
        return Err(msg!("refuse-undo-others", who = desk.tell.carer(entry.said_by)));
    }
    if !keeper && !is_recent(entry.logged_at, desk.now()) && !is_ahead(desk, &entry.event) {
        return Err(msg!("refuse-undo-old", hours = BACK_MAX_H));
    }
    Ok(entry)
}

/// Whether an absence lies wholly ahead: until it begins it can be taken back, however long ago it was said.
fn is_ahead(desk: &Desk<'_>, event: &Event) -> bool {
    matches!(event, Event::Away(absence) if turns::away::stays(desk, absence).as_ref() == Some(absence))
}

/// Whether an absence was only said again as somebody came back: named by its number it is taken back alone.
fn is_said_again(desk: &Desk<'_>, entry: &Entry, line: &[Seq]) -> bool {
    let is_back = |seq: &Seq| {
        let of = desk.book().entry(*seq);
        of.is_some_and(|of| of.event == Event::Back)
    };
    matches!(entry.event, Event::Away(_)) && line.iter().any(is_back)
}

/// One's own last entry that still says anything; an error where that is one which cannot be taken back, since an older
/// one is not what is meant then.
fn last_own<'a>(desk: &Desk<'a>) -> Result<Option<&'a Entry>, Refused> {
    let open = |entry: &&Entry| {
        entry.said_by == desk.me
            && !desk.book().is_void(entry.seq)
            && is_recent(entry.logged_at, desk.now())
            && !is_dead(desk, entry)
    };
    for entry in desk.book().entries().rev().filter(open) {
        match &entry.event {
            Event::Retract(of) => not_done(desk, *of)?,
            // What was shared out by a line is taken back with it, never by itself.
            Event::Shared(_) => {}
            event if can_retract(event) => return Ok(Some(entry)),
            _ => {}
        }
    }
    Ok(None)
}

/// Refuses where what was retracted is a helper's work that somebody else had logged: it was said not to be done.
fn not_done(desk: &Desk<'_>, of: Seq) -> Result<(), Refused> {
    let of_others = desk.book().entry(of).filter(|entry| entry.said_by != desk.me);
    match of_others.map(|entry| &entry.event) {
        Some(Event::Waits(..)) => {
            let what = name(desk, of).unwrap_or_default();
            Err(msg!("refuse-undo-not-done", what = what))
        }
        _ => Ok(()),
    }
}

/// Whether an entry is an offer that stands no longer: it was answered, another came in its place, or it lapsed.
fn is_dead(desk: &Desk<'_>, entry: &Entry) -> bool {
    let Event::Coming(slot, Say::Offered(to)) = entry.event else {
        return false;
    };
    let shared = turns::shared(&desk.tell);
    let turn = shared.turns.iter().find(|turn| turn.expected.slot == slot);
    let offered = turn.and_then(|turn| turns::hand(&desk.tell, &turn.expected).offered);
    offered.is_none_or(|offer| (offer.by, offer.to) != (entry.by, to))
}

fn is_recent(logged_at: Timestamp, now: Timestamp) -> bool {
    seconds_between(logged_at, now) <= BACK_MAX_H * 3600
}

/// What can be taken back. A set-up is changed by a further set-up line; what the house wrote stays.
fn can_retract(event: &Event) -> bool {
    matches!(
        event,
        Event::Did(..)
            | Event::NotNeeded { .. }
            | Event::Later { .. }
            | Event::Cannot { .. }
            | Event::Took { .. }
            | Event::Amount(_)
            | Event::Drew(..)
            | Event::Dosed(_)
            | Event::Batch(..)
            | Event::Read(..)
            | Event::Input(..)
            | Event::Saw(..)
            | Event::Noted(_)
            | Event::Going(_)
            | Event::Looked(_)
            | Event::Closed(_)
            | Event::Place(PlaceChange::Hush(_))
            | Event::Gear(..)
            | Event::Supplies(_)
            | Event::GearFact(..)
            | Event::Away(_)
            | Event::Back
            | Event::Coming(..)
            | Event::Together(_)
            | Event::Waits(..)
            | Event::Nodded(_)
            | Event::Shared(_)
    )
}

/// The entries that the same line wrote: every line is logged at an instant of its own.
fn same_line(desk: &Desk<'_>, entry: &Entry) -> Vec<Seq> {
    let same = |other: &&Entry| {
        other.logged_at == entry.logged_at
            && other.said_by == entry.said_by
            && can_retract(&other.event)
            && !desk.book().is_void(other.seq)
    };
    desk.book()
        .entries()
        .rev()
        .skip_while(|other| other.logged_at != entry.logged_at || other.seq < entry.seq)
        .take_while(|other| other.logged_at == entry.logged_at)
        .filter(same)
        .map(|other| other.seq)
        .collect::<std::collections::BTreeSet<_>>()
        .into_iter()
        .collect()
}

fn told(desk: &Desk<'_>, line: &[Seq]) -> Answer {
    let names: Vec<String> = line.iter().filter_map(|seq| name(desk, *seq)).collect();
    Answer {
        private: line
            .iter()
            .any(|seq| super::looks::is_of_keepers(&desk.tell, *seq)),
        ..desk.done(&msg!("undone", what = desk.tell.list(&names)))
    }
}

/// What was said of a turn, with the turn.
fn of_turn(tell: &Tell<'_>, id: &'static str, target: Target, duty: Duty) -> String {
    let turn = format!("{}: {}", tell.target(target), tell.duty(duty));
    tell.say(&msg!(id, turn = turn))
}

fn said(say: Say) -> &'static str {
    match say {
        Say::Taken => "undone-taken",
        Say::Offered(_) => "undone-offered",
        Say::Declined => "undone-declined",
        Say::Freed => "undone-cannot",
    }
}

/// A retracted entry in a few words.
fn name(desk: &Desk<'_>, seq: Seq) -> Option<String> {
    let entry = desk.book().entry(seq)?;
    let tell = &desk.tell;
    let what = match &entry.event {
        Event::Did(duty, target, _) | Event::Waits(duty, target, _) => {
            format!("{}: {}", tell.target(*target), tell.duty(*duty))
        }
        Event::Read(target, measured) => {
            let shown = wrackline_core::quantity::show(measured, desk.place().units);
            format!("{}: {shown}", tell.target(*target))
        }
        Event::Input(pool, input) => super::put_in::told(tell, *pool, input),
        Event::Saw(target, sighting) => {
            format!(
                "{}: {}",
                tell.target(*target),
                tell.word(super::sightings::sighting_word(*sighting))
            )
        }
        Event::NotNeeded { turn, .. } | Event::Later { turn, .. } | Event::Took { turn } => {
            format!("{}: {}", tell.target(turn.target), tell.duty(turn.duty))
        }
        Event::Cannot { turn } => of_turn(tell, "undone-cannot", turn.target, turn.duty),
        Event::Coming(slot, say) => of_turn(tell, said(*say), slot.target, slot.duty),
        Event::Away(_) => tell.word("undone-away"),
        Event::Back => tell.word("undone-back"),
        Event::Closed(_) => tell.word("undone-closed"),
        Event::Looked(_) => tell.word("undone-looked"),
        Event::Gear(pool, gear, _) => {
            let gear = tell.word(match gear {
                wrackline_core::place::Gear::Air => "gear-air",
                wrackline_core::place::Gear::Filter => "gear-filter",
            });
            format!("{}: {gear}", tell.pool(*pool))
        }
        Event::Place(PlaceChange::Hush(_)) => tell.word("hush-undone"),
        Event::Nodded(_) => tell.word("nod-undone"),
        Event::Supplies(_) => tell.word("supplies-undone"),
        Event::GearFact(pool, _, fact) => {
            let fact = super::setup::made_told::fact(desk, *fact);
            format!("{}: {fact}", tell.pool(*pool))
        }
        Event::Batch(id, change) => super::batches::named(tell, *id, change),
        Event::Amount(_) | Event::Drew(..) | Event::Dosed(_) | Event::Together(_) | Event::Shared(_) => {
            return None;
        }
        _ => tell.word("an-answer"),
    };
    Some(desk.say(&msg!("undone-one", what = what, at = tell.near(entry.at))))
}
