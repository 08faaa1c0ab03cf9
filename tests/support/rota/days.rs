//! A place's days: turns are shared out and done, people come and go.

use std::collections::{BTreeMap, BTreeSet};

use jiff::Timestamp;
use wrackline_core::care::board;
use wrackline_core::civil::{Zone, belongs, hold, next_round, plus_days, plus_minutes};
use wrackline_core::journal::{Absence, Book, CarerChange, Entry, Event, Say};
use wrackline_core::people::Skills;
use wrackline_core::place::CarerId;
use wrackline_core::rota::{
    Able, Gap, HORIZON_DAYS, SharedOut, Slot, able, even_out, gap, hand_of, share_out,
};

use super::ground::{FIRST_DAY, Ground};
use super::{Dice, Manner, laws};

/// The best sharing-out is looked for among so many at most.
const TRIES_MAX: u64 = 20_000;

/// A place on its way through the days.
pub(super) struct Life {
    pub(super) zone: Zone,
    pub(super) book: Book,
    pub(super) dice: Dice,
    /// Every slot that was ever shared out.
    pub(super) slots: BTreeSet<Slot>,
    pub(super) broken: Vec<String>,
    /// Turns that changed hands after they were published.
    pub(super) moved: usize,
    /// Sharings-out beside the best ones.
    pub(super) gaps: Vec<Gap>,
    /// Rounds of an enclosure that were shared out, and the hands they lay in.
    pub(super) rounds: usize,
    pub(super) hands: usize,
    pub(super) manner: Manner,
    /// When something was said of who is there and who can do what.
    pub(super) news_at: Vec<Timestamp>,
    /// How often somebody took, offered, accepted or declined a coming turn.
    pub(super) said: usize,
    pub(super) people: u32,
    /// Who is slow to answer.
    pub(super) slow: CarerId,
}

impl Life {
    pub(super) fn new(ground: Ground, mut dice: Dice, manner: Manner) -> Self {
        let slow = CarerId(dice.between(1, ground.people));
        Self {
            zone: ground.zone,
            book: Book::of(ground.entries),
            dice,
            slots: BTreeSet::new(),
            broken: Vec::new(),
            moved: 0,
            gaps: Vec::new(),
            rounds: 0,
            hands: 0,
            manner,
            news_at: Vec::new(),
            said: 0,
            people: ground.people,
            slow,
        }
    }

    /// Lives through some days.
    pub(super) fn go(&mut self, days: i64) {
        for day in 0..days {
            let date = plus_days(FIRST_DAY, day);
            let rounds = self.book.place_at(self.zone.day_start(date)).rounds;
            for round in &rounds {
                let at = hold(&self.zone, round, date).at;
                self.news(plus_minutes(at, -30));
                if self.manner == Manner::Talking {
                    self.talk(plus_minutes(at, -20));
                }
                self.share(at, true);
                let last = self.work(at);
                self.work_between(last, next_round(&self.zone, &rounds, at).at);
            }
        }
    }

    pub(super) fn add(&mut self, at: Timestamp, by: CarerId, event: Event) {
        let seq = self.book.last_seq() + 1;
        self.book.insert(Entry::at_once(seq, at, by, event));
    }

    /// Shares out, at a round evenly, holds the result to the laws, and writes it down.
    fn share(&mut self, now: Timestamp, is_round: bool) {
        let place = self.book.place_at(now);
        let board = board(&self.book, &place, now);
        let share = if is_round { even_out } else { share_out };
        let shared = share(&self.book, &place, &board, now, HORIZON_DAYS);
        if self.dice.happens(0.03) {
            self.gaps
                .extend(gap(&self.book, &place, &board, now, HORIZON_DAYS, TRIES_MAX));
        }
        self.broken
            .extend(laws::broken(&self.book, &place, &shared, (now, is_round)));
        self.count(&shared);
        let changes = shared.changes();
        self.slots.extend(changes.iter().map(|(slot, _)| *slot));
        if changes.is_empty() {
            return;
        }
        self.add(now, CarerId(0), Event::Shared(changes));
        if self.dice.happens(0.02) {
            let again = share_out(&self.book, &place, &board, now, HORIZON_DAYS).changes();
            if !again.is_empty() {
                self.broken.push(format!("{now}: shared out twice, {again:?}"));
            }
        }
    }

    fn count(&mut self, shared: &SharedOut) {
        let mut rounds: BTreeMap<_, BTreeSet<CarerId>> = BTreeMap::new();
        for turn in &shared.turns {
            let key = (
                turn.expected.when.date,
                turn.expected.when.round,
                turn.expected.enclosure,
            );
            rounds.entry(key).or_default().extend(turn.carer);
        }
        self.rounds += rounds.len();
        self.hands += rounds.values().map(BTreeSet::len).sum::<usize>();
        self.moved += shared.turns.iter().filter(|turn| turn.moves()).count();
    }

    /// What is said before a round: someone is or will be away, is back, has learnt something, or is gone.
    fn news(&mut self, now: Timestamp) {
        let who = CarerId(self.dice.between(1, self.people));
        let place = self.book.place_at(now);
        if !place.carers.contains_key(&who) {
            return;
        }
        let event = match self.dice.between(0, 999) {
            0..50 => {
                let ahead = *self.dice.one_of(&[0, 0, 1, 3, 6, 10, 20]);
                let length = *self.dice.one_of(&[1, 1, 2, 2, 3, 7, 7, 14]);
                let from = if ahead == 0 {
                    now
                } else {
                    self.zone.day_start(plus_days(self.zone.date(now), ahead))
                };
                let to = self.zone.day_start(plus_days(self.zone.date(from), length));
                Event::Away(Absence::Span { from, to })
            }
            50..55 => {
                let held = belongs(&self.zone, &place.rounds, plus_minutes(now, 30));
                Event::Away(Absence::Rounds(vec![(held.round.id, held.date)]))
            }
            55..58 => Event::Back,
            _ if self.manner == Manner::AsPlanned => return,
            58..60 => Event::Carer(who, CarerChange::Skills(Skills::ALL)),
            60..62 => {
                let lift_kg = Some(6.0);
                Event::Carer(
                    who,
                    CarerChange::Skills(Skills {
                        lift_kg,
                        ..Skills::ALL
                    }),
                )
            }
            62 if who.0 > 2 => Event::Carer(who, CarerChange::Retired),
            _ => return,
        };
        self.add(now, who, event);
        self.news_at.push(now);
        self.share(now, false);
    }

    /// What somebody says of coming turns: they take one, offer one of theirs, or answer an offer to them.
    fn talk(&mut self, now: Timestamp) {
        let who = CarerId(self.dice.between(1, self.people));
        let place = self.book.place_at(now);
        let Some(carer) = place.carers.get(&who) else {
            return;
        };
        let board = board(&self.book, &place, now);
        let turns = share_out(&self.book, &place, &board, now, HORIZON_DAYS).turns;
        for turn in turns.iter().filter(|turn| turn.was.is_some() && !turn.follows) {
            let expected = &turn.expected;
            let hand = hand_of(&self.book, expected, now);
            let can = able(&self.book, carer, &expected.work.needs, &expected.when, now) == Able::Yes;
            let say = match hand.offered {
                Some(offer) if offer.to == who && can && self.dice.happens(0.5) => Say::Taken,
                Some(offer) if offer.to == who && self.dice.happens(0.2) => Say::Declined,
                None if hand.carer == Some(who) && self.dice.happens(0.2) => {
                    let to = CarerId(self.dice.between(1, self.people));
                    if to == who || !place.carers.contains_key(&to) {
                        continue;
                    }
                    Say::Offered(to)
                }
                None if can && hand.carer != Some(who) && self.dice.happens(0.02) => Say::Taken,
                _ => continue,
            };
            self.said += 1;
            self.add(now, who, Event::Coming(expected.slot, say));
        }
    }
}
