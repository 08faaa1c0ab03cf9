//! Of which round a turn was that is done, and who could have had it.

use jiff::{SignedDuration, Timestamp};

use crate::care::standing;
use crate::journal::{Book, Done, When};
use crate::people::Carer;
use crate::place::{CarerId, Place, Target};
use crate::rota::credit::{Crew, crews, held, nearest};
use crate::rota::{Able, Needs, able, hand};

/// What was, as far as is known in the end.
pub(super) struct Past<'a> {
    book: &'a Book,
    crews: Vec<Crew>,
    held: Vec<When>,
    known: Timestamp,
}

impl<'a> Past<'a> {
    pub(super) fn new(book: &'a Book, from: Timestamp, to: Timestamp, place: &Place) -> Self {
        Self {
            book,
            crews: crews(book, from, to),
            held: held(place, from, to),
            known: to,
        }
    }

    /// Of which round a turn was, and who could have had it. Nobody but its doer, where someone else had it.
    pub(super) fn could(&self, done: &Done, target: Target, needs: &Needs) -> (When, Vec<&Carer>) {
        let now = self.held[nearest(&self.held, done.at)];
        let crew = self.crews.partition_point(|crew| crew.from <= done.at).max(1) - 1;
        let people = &self.crews[crew].people;
        let able_at = |carer: &Carer, when: &When| able(self.book, carer, needs, when, self.known);
        let all_at = |when: &When| -> Vec<&Carer> {
            let all = people.values();
            all.filter(|carer| able_at(carer, when) == Able::Yes).collect()
        };
        let Some((due, owner)) = self.before(done, target) else {
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
        (due, all)
    }

    /// The round that a turn was due in, and whose it was, right before it was done.
    fn before(&self, done: &Done, target: Target) -> Option<(When, Option<CarerId>)> {
        let before = done.at.saturating_sub(SignedDuration::from_secs(1)).ok()?;
        let place = self.book.place_at(before);
        let standing = standing(self.book, &place, done.duty.family(), target, before)?;
        let owner = hand(self.book, &place, &standing, before);
        let due = When::of(&place, standing.due);
        Some((due, owner.carer.filter(|_| owner.settled)))
    }
}
