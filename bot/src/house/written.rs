//! What a line writes, taken up into the book before it is committed.

use jiff::Timestamp;
use wrackline_core::care::board;
use wrackline_core::journal::{Book, Entry, Event, Seq};
use wrackline_core::place::CarerId;
use wrackline_core::rota;

use crate::desk::Outcome;
use crate::engine;
use crate::shelf::{HeldBook, next_logged_at, row};
use crate::store::{Change, ServerRow};

/// Shares the turns out before a line is taken up, where a round was held since and no engine did it: what was shown to
/// whoever says the line is then what it changes. A place is shared out for the first time by what is said of turns:
/// whoever is set up last would else find all in the hands of the first. Returns the entry, where posts may show it.
pub(super) fn share_first(
    held: &mut HeldBook,
    outcome: &Outcome,
    now: Timestamp,
    change: &mut Change,
) -> Option<Seq> {
    let says = |is_it: fn(&Event) -> bool| outcome.drafts.iter().any(|draft| is_it(&draft.event));
    let book = held.book();
    let is_of_turns = says(|event| matches!(event, Event::Away(_) | Event::Coming(..)));
    let is_wanted = is_of_turns || (book.shared_at(now).is_some() && !outcome.drafts.is_empty());
    if !is_wanted {
        return None;
    }
    let place = book.place_at(now);
    if !rota::is_stale(book, &place, now) {
        return None;
    }
    let board = board(book, &place, now);
    // What is said of turns was said of how they were shown, and that is without moves for evenness.
    let share = if says(rota::is_of_hands) {
        rota::share_out
    } else {
        rota::even_out
    };
    let shared = share(book, &place, &board, now, rota::HORIZON_DAYS);
    engine::hold(held, &shared, now, change)
}

/// Whether new entries change who can do which turns. Until turns were shared out for the first time, there is nothing to
/// be shared out again.
pub(super) fn change_hands(book: &Book, numbers: &[u64], now: Timestamp) -> bool {
    let is_of_hands = |seq: &u64| match book.entry(*seq).map(|entry| &entry.event) {
        Some(Event::Retract(of)) => book
            .entry(*of)
            .is_some_and(|entry| rota::is_of_hands(&entry.event)),
        Some(event) => rota::is_of_hands(event),
        None => false,
    };
    book.shared_at(now).is_some() && numbers.iter().any(is_of_hands)
}

/// Numbers the entries and puts them into the book.
pub(super) fn take_up(
    held: &mut HeldBook,
    outcome: &Outcome,
    me: CarerId,
    moment: Timestamp,
    change: &mut Change,
) -> Vec<u64> {
    let book = held.book_mut();
    let last = book.last_seq();
    let logged_at = next_logged_at(book, moment);
    let mut numbers = Vec::new();
    for (seq, draft) in (last + 1..).zip(&outcome.drafts) {
        let event: Event = draft.event.clone();
        let entry = Entry {
            seq,
            at: draft.at,
            logged_at,
            by: draft.by,
            said_by: me,
            event,
        };
        change.entries.push(row(&entry));
        if let Some(note) = &draft.note {
            change
                .notes
                .push((i64::try_from(seq).unwrap_or(i64::MAX), note.clone()));
            book.notes.insert(seq, note.clone());
        }
        book.insert(entry);
        numbers.push(seq);
    }
    for (carer, name) in &outcome.names {
        change.names.push((carer.0, name.clone()));
        book.names.insert(*carer, name.clone());
    }
    change.accounts = outcome
        .accounts
        .iter()
        .map(|(carer, account)| (carer.0, *account))
        .collect();
    change.server = outcome
        .server
        .map(|(server, channel)| ServerRow { server, channel });
    numbers
}
