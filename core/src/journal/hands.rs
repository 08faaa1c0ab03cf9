//! Who has which coming turn, and who is away, as the journal says it.

use std::collections::{BTreeMap, BTreeSet};

use jiff::{Timestamp, civil};

use super::book::{InOrder, TurnEvent, toggle, toggle_set};
use super::{Book, Entry, Event, Say, Seq};
use crate::care::Duty;
use crate::people::{Absence, Carer};
use crate::place::{CarerId, RoundId, Target};
use crate::rota::Slot;

/// A moment at which a turn is to be done: the instant, and the round that it belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct When {
    /// The instant.
    pub at: Timestamp,
    /// The round.
    pub round: RoundId,
    /// The round's civil date.
    pub date: civil::Date,
}

/// Indexes of who has which coming turn and who is away.
#[derive(Clone, Debug, Default)]
pub(super) struct Hands {
    slots: BTreeMap<Slot, InOrder<TurnEvent>>,
    shared: BTreeSet<(Timestamp, Seq)>,
    /// What was said of coming turns.
    said: BTreeSet<(Timestamp, Seq)>,
    away: BTreeMap<CarerId, InOrder<Option<Absence>>>,
    people: BTreeSet<(Timestamp, Seq)>,
    /// Helpers' work that waits for a nod, and the nods.
    pub(super) waiting: BTreeSet<Seq>,
    pub(super) nods: BTreeMap<Seq, BTreeSet<Seq>>,
    together: BTreeMap<Seq, CarerId>,
}

impl Hands {
    /// Takes up an entry, or lets go of it.
    pub(super) fn index(&mut self, entry: &Entry, put: bool) {
        let key = (entry.at, entry.seq);
        match &entry.event {
            Event::Shared(all) => {
                toggle_set(&mut self.shared, key, put);
                for (slot, carer) in all {
                    let event = carer.map_or(TurnEvent::Open, TurnEvent::Published);
                    toggle(self.slots.entry(*slot).or_default(), key, event, put);
                }
            }
            Event::Coming(slot, say) => {
                toggle_set(&mut self.said, key, put);
                let event = match say {
                    Say::Offered(to) => TurnEvent::Offered {
                        by: entry.by,
                        to: *to,
                        at: entry.at,
                    },
                    Say::Declined => TurnEvent::Declined(entry.by),
                    Say::Taken => TurnEvent::Took(entry.by),
                    Say::Freed => TurnEvent::Cannot(entry.by),
                };
                toggle(self.slots.entry(*slot).or_default(), key, event, put);
            }
            Event::Away(absence) => {
                let of = self.away.entry(entry.by).or_default();
                toggle(of, key, Some(absence.clone()), put);
            }
            Event::Back => toggle(self.away.entry(entry.by).or_default(), key, None, put),
            Event::Carer(..) => toggle_set(&mut self.people, key, put),
            Event::Waits(..) => {
                if put {
                    self.waiting.insert(entry.seq);
                } else {
                    self.waiting.remove(&entry.seq);
                }
            }
            Event::Together(carer) => toggle(&mut self.together, entry.seq.saturating_sub(1), *carer, put),
            _ => {}
        }
    }
}

impl Absence {
    /// Whether it holds a moment.
    #[must_use]
    pub fn holds(&self, when: &When) -> bool {
        match self {
            Self::Span { from, to } => *from <= when.at && when.at < *to,
            Self::Rounds(rounds) => rounds.contains(&(when.round, when.date)),
        }
    }
}

impl Book {
    /// What befell a coming turn up to and with a moment, each with its time and number.
    pub fn slot_events(
        &self,
        slot: &Slot,
        now: Timestamp,
    ) -> impl DoubleEndedIterator<Item = ((Timestamp, Seq), TurnEvent)> {
        let all = self
            .hands
            .slots
            .get(slot)
            .map(|map| map.range(..=(now, Seq::MAX)));
        all.into_iter().flatten().map(|(key, event)| (*key, *event))
    }

    /// Every coming turn of which anything was ever said, from a first one on.
    pub fn slots_from(&self, first: &Slot) -> impl Iterator<Item = &Slot> {
        self.hands.slots.range(*first..).map(|(slot, _)| slot)
    }

    /// Entries by which turns were shared out after one moment and up to another, in order.
    pub fn shared_since(&self, from: Timestamp, now: Timestamp) -> impl Iterator<Item = Seq> {
        let all = self.hands.shared.range((from, Seq::MAX)..=(now, Seq::MAX));
        all.map(|(_, seq)| *seq)
    }

    /// Entries that say something of a coming turn, after one moment and up to another, in order.
    pub fn said_of_turns(&self, from: Timestamp, now: Timestamp) -> impl Iterator<Item = Seq> {
        let all = self.hands.said.range((from, Seq::MAX)..=(now, Seq::MAX));
        all.map(|(_, seq)| *seq)
    }

    /// When turns were last shared out, up to and with a moment.
    #[must_use]
    pub fn shared_at(&self, now: Timestamp) -> Option<Timestamp> {
        let all = self.hands.shared.range(..=(now, Seq::MAX));
        all.last().map(|(at, _)| *at)
    }

    /// Whether someone is away at a moment, as far as was said up to and with `known`.
    #[must_use]
    pub fn is_away(&self, carer: CarerId, when: &When, known: Timestamp) -> bool {
        let Some(said) = self.hands.away.get(&carer) else {
            return false;
        };
        let mut away = false;
        for ((at, _), absence) in said.range(..=(known, Seq::MAX)) {
            match absence {
                Some(absence) => away = away || absence.holds(when),
                // Whoever is back is there from then on; what was before stays as it was.
                None if *at <= when.at => away = false,
                None => {}
            }
        }
        away
    }

    /// What someone said of being away up to and with a moment, with the entries' numbers: those of which nothing is
    /// over at that moment, and which no return ended.
    #[must_use]
    pub fn absences(&self, carer: CarerId, now: Timestamp, today: civil::Date) -> Vec<(Seq, &Absence)> {
        let mut all = Vec::new();
        let said = self.hands.away.get(&carer).into_iter().flatten();
        for ((at, seq), absence) in said.filter(|((at, _), _)| *at <= now) {
            match absence {
                Some(absence) => all.push((*seq, absence)),
                None if *at <= now => all.clear(),
                None => {}
            }
        }
        all.retain(|(_, absence)| match absence {
            Absence::Span { to, .. } => *to > now,
            Absence::Rounds(rounds) => rounds.iter().any(|(_, date)| *date >= today),
        });
        all
    }

    /// The people as they were at a moment, those whose span is over included.
    #[must_use]
    pub fn people_at(&self, now: Timestamp) -> BTreeMap<CarerId, Carer> {
        let mut all = BTreeMap::new();
        for (_, seq) in self.hands.people.range(..=(now, Seq::MAX)) {
            if let Some(Event::Carer(id, change)) = self.entry(*seq).map(|entry| &entry.event) {
                super::fold::apply_carer(&mut all, *id, change);
            }
        }
        all
    }

    /// Moments at which anything about the people changed, in order.
    pub fn people_changes(&self) -> impl Iterator<Item = Timestamp> {
        self.hands.people.iter().map(|(at, _)| *at)
    }

    /// With whom an entry's duty was done together. Between the duty and this may stand what went in with it.
    #[must_use]
    pub fn together(&self, seq: Seq) -> Option<CarerId> {
        let behind = |seq: Seq| self.hands.together.get(&seq).copied();
        let is_beside =
            |entry: &Entry| matches!(entry.event, Event::Amount(_) | Event::Drew(..) | Event::Dosed(_));
        behind(seq).or_else(|| {
            self.entry(seq + 1)
                .filter(|entry| is_beside(entry))
                .and_then(|_| behind(seq + 1))
        })
    }

    /// Nods at a helper's work, in order of number.
    pub fn nods(&self, of: Seq) -> impl Iterator<Item = Seq> {
        self.hands.nods.get(&of).into_iter().flatten().copied()
    }

    /// Helpers' work that waits for an adult's nod, in order of number.
    pub fn waiting(&self) -> impl Iterator<Item = Seq> {
        let open = |seq: &Seq| !self.is_nodded(*seq);
        self.hands.waiting.iter().copied().filter(open)
    }

    /// The latest of a helper's work at a duty that waits for a nod, as of a moment; none once the duty was renewed
    /// by what was done later.
    #[must_use]
    pub fn waiting_for(&self, duty: Duty, target: Target, now: Timestamp) -> Option<&Entry> {
        let is_of = |one: Duty| one.family() == duty.family() || one.renews().contains(&duty.family());
        let entries = self.waiting().filter_map(|seq| self.entry(seq));
        let of_it = entries.filter(|entry| {
            entry.at <= now && matches!(entry.event, Event::Waits(one, at, _) if at == target && is_of(one))
        });
        let latest = of_it.max_by_key(|entry| (entry.at, entry.seq))?;
        let renewed = self.done_since(duty, target, latest.at, now).next();
        renewed.is_none().then_some(latest)
    }

    /// Whether an adult nodded at a helper's work.
    #[must_use]
    pub fn is_nodded(&self, seq: Seq) -> bool {
        self.hands.nods.get(&seq).is_some_and(|nods| !nods.is_empty())
    }

    /// Takes up a nod or lets go of it; what was waiting counts from the first one.
    pub(super) fn index_nod(&mut self, of: Seq, nod: Seq, put: bool) {
        let before = self.is_nodded(of);
        toggle_set(self.hands.nods.entry(of).or_default(), nod, put);
        let after = self.is_nodded(of);
        if before != after && !self.is_void(of) {
            let waiting = self.entry(of).cloned();
            if let Some((entry, Event::Waits(duty, target, part))) =
                waiting.as_ref().map(|entry| (entry, &entry.event))
            {
                self.index_did(entry, *duty, *target, *part, after);
            }
        }
    }
}
