//! What people do of the turns of a random place.

use jiff::{SignedDuration, Timestamp};
use wrackline_core::care::board::is_folded;
use wrackline_core::care::{Duty, Mark, Standing, board};
use wrackline_core::civil::plus_minutes;
use wrackline_core::journal::{Event, Part, When};
use wrackline_core::place::{CarerId, Place, Target};
use wrackline_core::quantity::Measured;
use wrackline_core::rota::{Able, able, hand, work};

use super::Manner;
use super::days::Life;

impl Life {
    /// What is due is done, or not; the moment after the last of it.
    pub(super) fn work(&mut self, now: Timestamp) -> Timestamp {
        let place = self.book.place_at(now);
        let all = board(&self.book, &place, now);
        let open = all
            .iter()
            .filter(|one| one.mark > Mark::Calm && one.held.is_none() && !is_folded(&all, one));
        let mut minute = 2;
        for standing in open {
            minute += 3;
            self.answer(&place, standing, now, plus_minutes(now, minute));
        }
        if self.manner != Manner::AsPlanned && self.dice.happens(0.1) {
            self.read_unasked(&place, plus_minutes(now, 90));
        }
        plus_minutes(now, (minute + 45).max(95))
    }

    /// Somebody reads the hygrometer though nobody called for it.
    fn read_unasked(&mut self, place: &Place, at: Timestamp) {
        let by = CarerId(self.dice.between(1, self.people));
        if let Some(enclosure) = place
            .enclosures
            .keys()
            .next()
            .filter(|_| place.carers.contains_key(&by))
        {
            let reading = Measured::Humidity(80.0);
            self.add(at, by, Event::Read(Target::Enclosure(*enclosure), reading));
        }
    }

    /// What falls due between two rounds is called for then, and done or not.
    pub(super) fn work_between(&mut self, from: Timestamp, to: Timestamp) {
        let mut now = from;
        loop {
            let place = self.book.place_at(now);
            let all = board(&self.book, &place, now);
            let is_next = |one: &&Standing| {
                one.held.is_none() && !is_folded(&all, one) && now < one.due && one.due < to
            };
            let Some(next) = all.iter().filter(is_next).min_by_key(|one| one.due) else {
                return;
            };
            let due = next.due;
            let place = self.book.place_at(due);
            let then = board(&self.book, &place, due);
            if let Some(standing) = then
                .iter()
                .find(|one| one.turn == next.turn && one.held.is_none())
            {
                self.answer(&place, standing, due, plus_minutes(due, 1));
            }
            now = plus_minutes(due, 1);
        }
    }

    /// Everyone who can do a turn at a moment.
    fn who_can(&self, place: &Place, standing: &Standing, now: Timestamp) -> Vec<CarerId> {
        let needs = work(place, standing.duty(), standing.turn.target).needs;
        let when = When::of(place, now);
        let can = place
            .carers
            .values()
            .filter(|one| able(&self.book, one, &needs, &when, now) == Able::Yes);
        can.map(|one| one.id).collect()
    }

    fn answer(&mut self, place: &Place, standing: &Standing, now: Timestamp, at: Timestamp) {
        let can = self.who_can(place, standing, now);
        let owner = hand(&self.book, place, standing, now).carer;
        let Some(owner) = owner.filter(|owner| can.contains(owner)) else {
            // Free for anyone who can, and not always anyone is.
            if !can.is_empty() && (self.manner == Manner::AsPlanned || self.dice.happens(0.7)) {
                let by = *self.dice.one_of(&can);
                self.did(at, by, standing);
            }
            return;
        };
        if self.manner == Manner::AsPlanned {
            return self.did(at, owner, standing);
        }
        let slow = if owner == self.slow { 4 } else { 1 };
        match self.dice.between(1, 100) {
            roll if roll <= 5 * slow => {}
            roll if roll <= 8 * slow => {
                let by = *self.dice.one_of(&can);
                self.did(at, by, standing);
            }
            97 => self.add(at, owner, Event::Cannot { turn: standing.turn }),
            98 => {
                let turn = standing.turn;
                self.add(at, owner, Event::NotNeeded { turn, keeper: false });
            }
            99 => {
                self.did(at, owner, standing);
                self.did(at + SignedDuration::from_mins(40), owner, standing);
            }
            _ => self.did(at, owner, standing),
        }
    }

    fn did(&mut self, at: Timestamp, by: CarerId, standing: &Standing) {
        let target = standing.turn.target;
        let event = match standing.duty() {
            Duty::Reading => Event::Read(target, Measured::Humidity(80.0)),
            duty => Event::Did(duty, target, Part::Whole),
        };
        self.add(at, by, event);
    }
}
