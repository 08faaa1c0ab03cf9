//! What a line writes, taken up into the book before it is committed.

use jiff::Timestamp;
use wrackline_core::journal::{Book, Entry, Event};
use wrackline_core::place::CarerId;
use wrackline_core::rota;

use crate::desk::Outcome;
use crate::shelf::{HeldBook, next_logged_at, row};
use crate::store::{Change, ServerRow};

/// Whether new entries change who can do which turns. Until turns were shared out for the first time, there is nothing to
/// be shared out again, but for an absence: its answer tells where its turns go.
pub(super) fn change_hands(book: &Book, numbers: &[u64], now: Timestamp) -> bool {
    let is_of_hands = |seq: &u64| match book.entry(*seq).map(|entry| &entry.event) {
        Some(Event::Retract(of)) => book
            .entry(*of)
            .is_some_and(|entry| rota::is_of_hands(&entry.event)),
        Some(event) => rota::is_of_hands(event),
        None => false,
    };
    let is_absence = |seq: &u64| matches!(book.entry(*seq).map(|entry| &entry.event), Some(Event::Away(_)));
    let is_shared = book.shared_at(now).is_some() || numbers.iter().any(is_absence);
    is_shared && numbers.iter().any(is_of_hands)
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
