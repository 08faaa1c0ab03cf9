//! Of which round a turn was that is done, and who could have had it.

use std::collections::BTreeMap;

use jiff::{SignedDuration, Timestamp};

use super::ahead::Ahead;
use crate::care::standing;
use crate::journal::{Book, Done, When};
use crate::people::Carer;
use crate::place::{CarerId, Place, Target};
use crate::rota::credit::{Crew, crews, held, nearest};
use crate::rota::{Able, Needs, Slot, able, hand};

/// What was, as far as is known in the end.
pub(super) struct Past<'a> {
    book: &'a Book,
    crews: Vec<Crew>,
    held: Vec<When>,
    known: Timestamp,
    /// `None`: everything is known from the start.
    ahead: Option<Ahead<'a>>,
    /// What was done before stays as it was.
    since: Timestamp,
}

impl<'a> Past<'a> {
    pub(super) fn new(book: &'a Book, from: Timestamp, to: Timestamp, place: &Place) -> Self {
        Self {
            book,
            crews: crews(book, from, to),
            held: held(place, from, to),
            known: to,
            ahead: None,
            since: from,
        }
    }

    /// The same for whoever knows no more of a turn than was known when it was settled.
    pub(super) fn ahead(mut self) -> Self {
        self.ahead = Some(Ahead::new(self.book, self.held.clone()));
        self
    }

    /// The same for whoever can change nothing of what was done before a moment.
    pub(super) fn since(mut self, since: Timestamp) -> Self {
        self.since = since;
        self
    }

    /// Of which round a turn was, and who could have had it. Nobody but its doer, where someone else had it.
    pub(super) fn could(&self, done: &Done, target: Target, needs: &Needs) -> (When, Vec<&Carer>) {
        let now = self.held[nearest(&self.held, done.at)];
        if done.at < self.since {
            return (now, Vec::new());
        }
        let people = self.people(done.at);
        let able_at = |carer: &Carer, when: &When| able(self.book, carer, needs, when, self.known);
        let all_at = |when: &When| -> Vec<&Carer> {
            let all = people.values();
            all.filter(|carer| able_at(carer, when) == Able::Yes).collect()
        };
        let Some(Before { slot, at, due, owner }) = self.before(done, target) else {
            return (now, all_at(&now));
        };
        if owner.is_some_and(|owner| owner != done.by && Some(owner) != self.book.together(done.seq)) {
            return (now, Vec::new());
        }
        let mut all = all_at(&due);
        // Being late is no assignment's doing: the turn stays with whoever has it, unless they are gone by then.
        let is_gone = |carer: &&Carer| matches!(able_at(carer, &now), Able::Away | Able::OutsideSpan);
        let is_late = due.at < now.at && due.date <= now.date;
        if !is_late || all.iter().any(is_gone) || all.iter().all(|carer| carer.id != done.by) {
            let more: Vec<&Carer> = all_at(&now);
            let new = more
                .into_iter()
                .filter(|carer| !all.iter().any(|one| one.id == carer.id));
            all.extend(new.collect::<Vec<_>>());
        }
        if let Some((settled, when)) = self.ahead.as_ref().and_then(|ahead| ahead.settled(&slot, at)) {
            let could: Vec<&Carer> = self
                .people(settled)
                .values()
                .filter(|carer| able(self.book, carer, needs, &when, settled) == Able::Yes)
                .collect();
            let later = |carer: &Carer| people.get(&carer.id).map(|carer| able_at(carer, &due));
            // Whoever could not do it after all was relieved of it, and it went to whoever could.
            let relieved = could
                .iter()
                .any(|carer| !matches!(later(carer), Some(Able::Yes | Able::NotThere)));
            if !relieved && could.iter().any(|carer| later(carer) == Some(Able::Yes)) {
                all.retain(|carer| could.iter().any(|one| one.id == carer.id));
            }
        }
        (due, all)
    }

    /// Whether somebody's load is to be even with others': of whoever left without its being known before, it cannot be.
    pub(super) fn counts(&self, place: &Place, carer: CarerId) -> bool {
        self.ahead.is_none() || place.carers.contains_key(&carer) || place.ended.contains_key(&carer)
    }

    /// Everyone at a moment.
    fn people(&self, at: Timestamp) -> &BTreeMap<CarerId, Carer> {
        let crew = self.crews.partition_point(|crew| crew.from <= at).max(1) - 1;
        &self.crews[crew].people
    }

    /// How a turn stood right before it was done.
    fn before(&self, done: &Done, target: Target) -> Option<Before> {
        let before = done.at.saturating_sub(SignedDuration::from_secs(1)).ok()?;
        let place = self.book.place_at(before);
        let standing = standing(self.book, &place, done.duty.family(), target, before)?;
        let owner = hand(self.book, &place, &standing, before);
        Some(Before {
            slot: Slot::of(self.book, &place.zone, &standing, before),
            at: standing.due,
            due: When::of(&place, standing.due),
            owner: owner.carer.filter(|_| owner.settled),
        })
    }
}

/// A turn before it was done.
struct Before {
    slot: Slot,
    at: Timestamp,
    /// The round that it was due in.
    due: When,
    /// Whose it was by the journal.
    owner: Option<CarerId>,
}
