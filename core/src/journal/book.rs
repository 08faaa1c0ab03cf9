//! The book: a place's whole journal, indexed so that an answer needs only a few of its entries.
//!
//! Every index is kept in order of (time it counts from, number), so the book is the same for any order of
//! arrival.

use std::collections::{BTreeMap, BTreeSet};
use std::ops::Bound;

use jiff::Timestamp;

use super::hands::Hands;
use super::matters::Follow;
use super::{Entry, Event, Input, Part, Seq, Sighting};
use crate::care::{Duty, TurnKey};
use crate::place::{CarerId, PoolId, Target};
use crate::quantity::{Kind, Measured};
use crate::water::batch::BatchId;

/// Something that renewed a duty, or closed a turn of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Done {
    /// The entry.
    pub seq: Seq,
    /// When it counts from.
    pub at: Timestamp,
    /// Who did it.
    pub by: CarerId,
    /// What was done; it may be another duty that renews this one.
    pub duty: Duty,
    /// How.
    pub kind: DoneKind,
}

/// How a [`Done`] came about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DoneKind {
    /// It was done, whole or in part.
    Did(Part),
    /// A reading did it.
    Read,
    /// The turn needed no doing; by a keeper's word or not.
    NotNeeded {
        /// Whether a keeper said so.
        keeper: bool,
    },
}

/// What befell one turn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TurnEvent {
    /// Published with this carer.
    Published(CarerId),
    /// Put off until then.
    Later(Timestamp),
    /// Its carer cannot.
    Cannot(CarerId),
    /// Someone took it.
    Took(CarerId),
    /// Shared out, but nobody can do it.
    Open,
    /// Whoever has it offered it to someone.
    Offered {
        /// Who has it.
        by: CarerId,
        /// Whom it was offered to.
        to: CarerId,
        /// When.
        at: Timestamp,
    },
    /// The one whom it was offered to does not take it.
    Declined(CarerId),
}

/// What the indexes hold: in order of the time it counts from, then of number.
pub(super) type InOrder<T> = BTreeMap<(Timestamp, Seq), T>;

/// A place's journal and the names and notes beside it.
#[derive(Clone, Debug, Default)]
pub struct Book {
    entries: BTreeMap<Seq, Entry>,
    void: BTreeSet<Seq>,
    settings: BTreeSet<(Timestamp, Seq)>,
    of_pool: BTreeMap<PoolId, BTreeSet<(Timestamp, Seq)>>,
    care: BTreeMap<(Duty, Target), InOrder<Done>>,
    turns: BTreeMap<TurnKey, InOrder<TurnEvent>>,
    amounts: BTreeMap<Seq, f64>,
    draws: BTreeMap<Seq, (BatchId, f64)>,
    doses: BTreeMap<Seq, f64>,
    readings: BTreeMap<(Target, Kind), InOrder<Measured>>,
    inputs: BTreeMap<PoolId, InOrder<Input>>,
    /// Sightings by what was seen and where, each with who saw it.
    pub(super) sightings: BTreeMap<(Target, Sighting), InOrder<CarerId>>,
    pub(super) follow_ups: BTreeMap<Seq, InOrder<(Follow, CarerId)>>,
    pub(super) hands: Hands,
    /// Names of carers; those of erased persons are missing.
    pub names: BTreeMap<CarerId, String>,
    /// Notes beside entries.
    pub notes: BTreeMap<Seq, String>,
}

impl Book {
    /// A book of these entries, in any order.
    pub fn of(entries: impl IntoIterator<Item = Entry>) -> Self {
        let mut book = Self::default();
        entries.into_iter().for_each(|entry| book.insert(entry));
        book
    }

    /// Takes up one entry.
    pub fn insert(&mut self, entry: Entry) {
        if let Event::Retract(wrong) = entry.event {
            self.void.insert(wrong);
            if let Some(wrong) = self.entries.get(&wrong).cloned() {
                self.index(&wrong, false);
            }
        }
        if !self.void.contains(&entry.seq) {
            self.index(&entry, true);
        }
        self.entries.insert(entry.seq, entry);
    }

    /// The book as it was before the entry of this number, which is left out with all later ones. It costs a copy and a
    /// little for each that is left out: less than a book made anew of those that stay.
    #[must_use]
    pub fn before(&self, seq: Seq) -> Self {
        let mut book = self.clone();
        while book.last_seq() >= seq.max(1) {
            if let Some((_, last)) = book.entries.pop_last() {
                book.let_go(&last);
            }
        }
        book
    }

    /// Lets go of the last entry, which is in the indexes alone by now.
    fn let_go(&mut self, last: &Entry) {
        if !self.void.contains(&last.seq) {
            self.index(last, false);
        }
        let Event::Retract(wrong) = last.event else {
            return;
        };
        let is_of = |entry: &Entry| matches!(entry.event, Event::Retract(of) if of == wrong);
        if !self.entries.values().any(is_of) {
            self.void.remove(&wrong);
            if let Some(wrong) = self.entries.get(&wrong).cloned() {
                self.index(&wrong, true);
            }
        }
    }

    /// Puts an entry into the indexes, or takes it out again.
    fn index(&mut self, entry: &Entry, put: bool) {
        let key = (entry.at, entry.seq);
        match &entry.event {
            Event::Did(duty, target, part) => self.index_did(entry, *duty, *target, *part, put),
            Event::Waits(duty, target, part) => {
                self.hands.index(entry, put);
                if self.is_nodded(entry.seq) {
                    self.index_did(entry, *duty, *target, *part, put);
                }
            }
            Event::Nodded(of) => self.index_nod(*of, entry.seq, put),
            Event::Shared(_) | Event::Coming(..) | Event::Away(_) | Event::Back | Event::Together(_) => {
                self.hands.index(entry, put);
            }
            Event::NotNeeded { turn, keeper } => {
                let done = done(entry, turn.duty, DoneKind::NotNeeded { keeper: *keeper });
                toggle(
                    self.care.entry((turn.duty.family(), turn.target)).or_default(),
                    key,
                    done,
                    put,
                );
            }
            Event::Read(target, measured) => {
                let of_kind = self.readings.entry((*target, measured.kind())).or_default();
                toggle(of_kind, key, *measured, put);
                if let Some(duty) = duty_of(*target, measured.kind()) {
                    let done = done(entry, duty, DoneKind::Read);
                    toggle(self.care.entry((duty, *target)).or_default(), key, done, put);
                }
            }
            Event::Input(pool, input) => toggle(self.inputs.entry(*pool).or_default(), key, *input, put),
            Event::Amount(litres) => {
                toggle(&mut self.amounts, entry.seq.saturating_sub(1), *litres, put);
            }
            Event::Drew(batch, litres) => {
                let of = entry.seq.saturating_sub(1);
                toggle(&mut self.amounts, of, *litres, put);
                toggle(&mut self.draws, of, (*batch, *litres), put);
            }
            Event::Dosed(ml) => toggle(&mut self.doses, entry.seq.saturating_sub(1), *ml, put),
            Event::Later { turn, until } => self.index_turn(turn, key, TurnEvent::Later(*until), put),
            Event::Cannot { turn } => self.index_turn(turn, key, TurnEvent::Cannot(entry.by), put),
            Event::Took { turn } => self.index_turn(turn, key, TurnEvent::Took(entry.by), put),
            Event::Published(turns) => {
                for (turn, carer) in turns {
                    self.index_turn(turn, key, TurnEvent::Published(*carer), put);
                }
            }
            Event::Saw(target, sighting) => {
                let seen = self.sightings.entry((*target, *sighting)).or_default();
                toggle(seen, key, entry.by, put);
            }
            Event::Noted(of) => self.index_follow_up(*of, key, (Follow::Noted, entry.by), put),
            Event::Going(of) => self.index_follow_up(*of, key, (Follow::Going, entry.by), put),
            Event::Looked(of) => self.index_follow_up(*of, key, (Follow::Looked, entry.by), put),
            Event::Closed(of) => self.index_follow_up(*of, key, (Follow::Closed, entry.by), put),
            Event::Pool(pool, _) | Event::Gear(pool, _, _) | Event::GearFact(pool, _, _) => {
                toggle_set(self.of_pool.entry(*pool).or_default(), key, put);
                toggle_set(&mut self.settings, key, put);
            }
            Event::Retract(_) => {}
            Event::Carer(..) => {
                self.hands.index(entry, put);
                toggle_set(&mut self.settings, key, put);
            }
            _ => toggle_set(&mut self.settings, key, put),
        }
    }

    pub(super) fn index_did(&mut self, entry: &Entry, duty: Duty, target: Target, part: Part, put: bool) {
        let key = (entry.at, entry.seq);
        let done = done(entry, duty, DoneKind::Did(part));
        for renewed in [duty.family()].iter().chain(duty.renews()) {
            toggle(self.care.entry((*renewed, target)).or_default(), key, done, put);
        }
    }

    fn index_turn(&mut self, turn: &TurnKey, key: (Timestamp, Seq), event: TurnEvent, put: bool) {
        toggle(self.turns.entry(*turn).or_default(), key, event, put);
    }

    fn index_follow_up(&mut self, of: Seq, key: (Timestamp, Seq), follow: (Follow, CarerId), put: bool) {
        toggle(self.follow_ups.entry(of).or_default(), key, follow, put);
    }

    /// The number of the last entry; 0 when there is none.
    #[must_use]
    pub fn last_seq(&self) -> Seq {
        self.entries.last_key_value().map_or(0, |(seq, _)| *seq)
    }

    /// An entry by number, retracted or not.
    #[must_use]
    pub fn entry(&self, seq: Seq) -> Option<&Entry> {
        self.entries.get(&seq)
    }

    /// All entries in order of number, retracted ones included.
    pub fn entries(&self) -> impl DoubleEndedIterator<Item = &Entry> {
        self.entries.values()
    }

    /// The entries that came after one, in order of number, retracted ones included.
    pub fn entries_after(&self, seq: Seq) -> impl DoubleEndedIterator<Item = &Entry> {
        let range = (Bound::Excluded(seq), Bound::Unbounded);
        self.entries.range(range).map(|(_, entry)| entry)
    }

    /// Litres that went in or out with an entry, where they were told.
    #[must_use]
    pub fn amount(&self, seq: Seq) -> Option<f64> {
        self.amounts.get(&seq).copied()
    }

    /// The batch from which an entry took its water, and how many litres; `None` where it took none from a batch.
    #[must_use]
    pub fn drawn(&self, seq: Seq) -> Option<(BatchId, f64)> {
        self.draws.get(&seq).copied()
    }

    /// Every entry that took water from a batch.
    pub fn draws(&self) -> impl Iterator<Item = (Seq, BatchId)> {
        self.draws.iter().map(|(seq, (batch, _))| (*seq, *batch))
    }

    /// Millilitres of conditioner that went in with an entry, where they were told.
    #[must_use]
    pub fn dosed_ml(&self, seq: Seq) -> Option<f64> {
        self.doses.get(&seq).copied()
    }

    /// Whether an entry was retracted.
    #[must_use]
    pub fn is_void(&self, seq: Seq) -> bool {
        self.void.contains(&seq)
    }

    /// Entries that set something up or changed it, up to and with a moment, in order.
    pub(super) fn settings_until(&self, now: Timestamp) -> impl Iterator<Item = &Entry> {
        self.settings
            .range(..=(now, Seq::MAX))
            .filter_map(|(_, seq)| self.entries.get(seq))
    }

    /// The same of one pool.
    pub(super) fn pool_settings_until(&self, pool: PoolId, now: Timestamp) -> impl Iterator<Item = &Entry> {
        let all = self.of_pool.get(&pool).map(|set| set.range(..=(now, Seq::MAX)));
        all.into_iter()
            .flatten()
            .filter_map(|(_, seq)| self.entries.get(seq))
    }

    /// What renewed a duty up to and with a moment, in order.
    pub fn done_until(
        &self,
        duty: Duty,
        target: Target,
        now: Timestamp,
    ) -> impl DoubleEndedIterator<Item = &Done> {
        let all = self
            .care
            .get(&(duty.family(), target))
            .map(|map| map.range(..=(now, Seq::MAX)));
        all.into_iter().flatten().map(|(_, done)| done)
    }

    /// What renewed a duty after one moment, up to and with another, in order.
    pub fn done_since(
        &self,
        duty: Duty,
        target: Target,
        after: Timestamp,
        now: Timestamp,
    ) -> impl DoubleEndedIterator<Item = &Done> {
        let first = (after.min(now), Seq::MAX);
        let range = (Bound::Excluded(first), Bound::Included((now, Seq::MAX)));
        let all = self.care.get(&(duty.family(), target));
        let all = all.filter(|_| after < now).map(|map| map.range(range));
        all.into_iter().flatten().map(|(_, done)| done)
    }

    /// Every duty and target of which something was ever done.
    pub fn cared_for(&self) -> impl Iterator<Item = (Duty, Target)> {
        self.care.keys().copied()
    }

    /// What befell a turn up to and with a moment, each with its time and number.
    pub fn keyed_turn_events(
        &self,
        turn: &TurnKey,
        now: Timestamp,
    ) -> impl DoubleEndedIterator<Item = ((Timestamp, Seq), TurnEvent)> {
        let all = self.turns.get(turn).map(|map| map.range(..=(now, Seq::MAX)));
        all.into_iter().flatten().map(|(key, event)| (*key, *event))
    }

    /// What befell a turn up to and with a moment, in order.
    pub fn turn_events(&self, turn: &TurnKey, now: Timestamp) -> impl DoubleEndedIterator<Item = TurnEvent> {
        self.keyed_turn_events(turn, now).map(|(_, event)| event)
    }

    /// Readings of one kind in a span of time, its end included, in order.
    pub fn readings(
        &self,
        target: Target,
        kind: Kind,
        from: Timestamp,
        to: Timestamp,
    ) -> impl DoubleEndedIterator<Item = (Timestamp, Measured)> {
        let from = from.min(to);
        let all = self
            .readings
            .get(&(target, kind))
            .map(|map| map.range((from, 0)..=(to, Seq::MAX)));
        all.into_iter()
            .flatten()
            .map(|((at, _), measured)| (*at, *measured))
    }

    /// What went into a pool up to and with a moment, in order.
    pub fn inputs(
        &self,
        pool: PoolId,
        now: Timestamp,
    ) -> impl DoubleEndedIterator<Item = (Timestamp, Input)> {
        let all = self.inputs.get(&pool).map(|map| map.range(..=(now, Seq::MAX)));
        all.into_iter().flatten().map(|((at, _), input)| (*at, *input))
    }

    /// The number of the last reading of one kind up to and with a moment.
    #[must_use]
    pub fn last_reading(
        &self,
        target: Target,
        kind: Kind,
        now: Timestamp,
    ) -> Option<(Timestamp, Seq, Measured)> {
        let all = self.readings.get(&(target, kind))?;
        all.range(..=(now, Seq::MAX))
            .next_back()
            .map(|((at, seq), measured)| (*at, *seq, *measured))
    }

    /// A carer's name; a dash for one that was erased.
    #[must_use]
    pub fn name(&self, carer: CarerId) -> &str {
        self.names.get(&carer).map_or("–", String::as_str)
    }
}

fn done(entry: &Entry, duty: Duty, kind: DoneKind) -> Done {
    Done {
        seq: entry.seq,
        at: entry.at,
        by: entry.by,
        duty,
        kind,
    }
}

/// The duty that a reading does: an enclosure's humidity or temperature is its daily reading, a nitrogen or
/// chlorine value is a pool's water test.
fn duty_of(target: Target, kind: Kind) -> Option<Duty> {
    match (target, kind) {
        (Target::Enclosure(_), Kind::Humidity | Kind::Temperature) => Some(Duty::Reading),
        (Target::Pool(_), Kind::Ammonia | Kind::Nitrite | Kind::Nitrate) => Some(Duty::Test),
        _ => None,
    }
}

pub(super) fn toggle<K: Ord, V>(map: &mut BTreeMap<K, V>, key: K, value: V, put: bool) {
    if put {
        map.insert(key, value);
    } else {
        map.remove(&key);
    }
}

pub(super) fn toggle_set<K: Ord>(set: &mut BTreeSet<K>, key: K, put: bool) {
    if put {
        set.insert(key);
    } else {
        set.remove(&key);
    }
}
