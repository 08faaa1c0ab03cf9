//! Which posts new entries touch, so that they are rendered anew.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use jiff::{SignedDuration, Timestamp};
use wrackline_core::air::{HIGH_PERCENT, LOW_PERCENT};
use wrackline_core::care::{Duty, TurnKey, closers};
use wrackline_core::journal::{Book, Event, PlaceChange, Seq};
use wrackline_core::moment::Subject;
use wrackline_core::place::Target;
use wrackline_core::quantity::{Kind, Measured};
use wrackline_core::rota::Slot;

use crate::store::{PlaceId, Result, Store};

/// How far back posts are kept up to date, in hours.
const EDIT_BACK_H: i64 = 48;

/// What entries touch.
#[derive(Default)]
struct Touched {
    /// Duties that an entry did or undid, with the first such entry.
    turns: BTreeMap<(Duty, Target), Seq>,
    /// Turns that were put off, freed or taken.
    keys: BTreeSet<TurnKey>,
    /// Duties of which a turn may have changed hands.
    hands: BTreeSet<(Duty, Target)>,
    alarms: BTreeSet<Seq>,
    spells: BTreeSet<Target>,
    all: bool,
}

impl Touched {
    fn by(&mut self, book: &Book, seq: Seq) {
        let Some(entry) = book.entry(seq) else { return };
        match &entry.event {
            Event::Did(duty, target, _) | Event::Waits(duty, target, _) => {
                // It may have told of untreated water, and be taken back.
                self.alarms.insert(seq);
                self.turn(duty.family(), *target, seq);
                duty.renews()
                    .iter()
                    .for_each(|renewed| self.turn(*renewed, *target, seq));
            }
            Event::NotNeeded { turn, .. } => self.turn(turn.duty.family(), turn.target, seq),
            Event::Later { turn, .. } | Event::Cannot { turn } | Event::Took { turn } => {
                self.keys.insert(*turn);
            }
            Event::Read(target, measured) => {
                self.turn(Duty::Reading, *target, seq);
                self.turn(Duty::Test, *target, seq);
                if matches!(measured.kind(), Kind::Ammonia | Kind::Nitrite | Kind::Nitrate) {
                    self.cycle(*target, seq);
                }
                if measured.kind() == Kind::Humidity && is_near_a_spell(book, *target, entry.at) {
                    self.spells.insert(*target);
                }
            }
            Event::Input(pool, _) => {
                self.turn(Duty::Test, Target::Pool(*pool), seq);
                self.cycle(Target::Pool(*pool), seq);
            }
            Event::Saw(..) => self.matter(book, seq),
            Event::Noted(of) | Event::Going(of) | Event::Looked(of) | Event::Closed(of) => {
                self.matter(book, *of);
                if let Some(Event::Read(target, _)) = book.entry(*of).map(|entry| &entry.event) {
                    self.spells.insert(*target);
                }
            }
            Event::Batch(..) => {
                self.alarms.insert(seq);
                self.all = true;
            }
            Event::Retract(wrong) => self.by(book, *wrong),
            // A hush changes which calls are made, none of those that were.
            Event::Place(PlaceChange::Hush(_)) => {}
            Event::Nodded(of) => self.by(book, *of),
            // What is called shows in whose hand each turn lies.
            Event::Shared(slots) => {
                let all = slots.iter().map(|(slot, _)| (slot.duty, slot.target));
                self.hands.extend(all);
            }
            Event::Coming(slot, _) => {
                self.hands.insert((slot.duty, slot.target));
            }
            Event::Published(_)
            | Event::Together(_)
            | Event::Amount(_)
            | Event::Drew(..)
            | Event::Dosed(_) => {}
            // A change of the place may change what any turn of the last calls looks like.
            _ => self.all = true,
        }
    }

    /// What is said of one sighting may be told with any that was seen of the same at the same spot.
    fn matter(&mut self, book: &Book, of: Seq) {
        self.alarms.insert(of);
        self.alarms.extend(book.seen_alike(of));
    }

    /// Whether a filter's cycle is proven decides how often its pool is changed and conditioned.
    fn cycle(&mut self, target: Target, seq: Seq) {
        for duty in [Duty::Change, Duty::Condition] {
            self.turn(duty, target, seq);
        }
    }

    fn turn(&mut self, duty: Duty, target: Target, seq: Seq) {
        let first = self.turns.entry((duty, target)).or_insert(seq);
        *first = seq.min(*first);
    }

    fn touches(&self, book: &Book, subject: &Subject) -> bool {
        match subject {
            Subject::Round { turns, looks, .. } | Subject::Late { turns, looks } => {
                self.all
                    || looks.iter().any(|look| self.alarms.contains(&look.matter))
                    || turns.iter().any(|called| self.touches_turn(book, &called.turn))
            }
            Subject::Seen(seq) => self.alarms.contains(seq) || self.treats(book, *seq),
            Subject::Spell { enclosure, .. } => self.spells.contains(&Target::Enclosure(*enclosure)),
            Subject::Offered(seq) | Subject::Moved(seq) | Subject::Uncovered(seq) => {
                let is_touched = |slot: Slot| {
                    let key = (slot.duty, slot.target);
                    self.turns.contains_key(&key) || self.hands.contains(&key)
                };
                self.all || slots(book, *seq).any(is_touched)
            }
            Subject::SeenSettled(_)
            | Subject::SpellSettled { .. }
            | Subject::Week { .. }
            | Subject::Handover { .. } => false,
        }
    }

    /// Whether untreated water, which this entry told of, may have been treated or changed since.
    fn treats(&self, book: &Book, seq: Seq) -> bool {
        let is_seen = matches!(book.entry(seq).map(|entry| &entry.event), Some(Event::Saw(..)));
        let mends = |(duty, target): &(Duty, Target)| {
            matches!(duty, Duty::Condition | Duty::Change) && matches!(target, Target::Pool(_))
        };
        !is_seen && (self.all || self.turns.keys().any(mends))
    }

    /// Whether a called turn may look otherwise now. One that an earlier entry closed stays as it is.
    fn touches_turn(&self, book: &Book, turn: &TurnKey) -> bool {
        let of = (turn.duty, turn.target);
        let first = self.turns.get(&of).copied();
        let first = first.or(self.hands.contains(&of).then_some(Seq::MAX));
        let Some(seq) = first else {
            return self.keys.contains(turn);
        };
        let closed_before = closers(book, turn, Timestamp::MAX).any(|done| done.seq < seq);
        !closed_before || self.keys.contains(turn)
    }
}

/// The coming turns that an entry is about.
fn slots(book: &Book, seq: Seq) -> impl Iterator<Item = Slot> {
    let (one, several) = match book.entry(seq).map(|entry| &entry.event) {
        Some(Event::Coming(slot, _)) => (Some(*slot), &[][..]),
        Some(Event::Shared(all)) => (None, all.as_slice()),
        _ => (None, &[][..]),
    };
    let open = several.iter().filter(|(_, carer)| carer.is_none());
    one.into_iter().chain(open.map(|(slot, _)| *slot))
}

/// Whether a humidity reading goes on with a spell or ends it: it or the one before lies outside the limits.
fn is_near_a_spell(book: &Book, target: Target, at: Timestamp) -> bool {
    let last = book
        .readings(target, Kind::Humidity, Timestamp::MIN, at)
        .rev()
        .take(2);
    last.into_iter().any(|(_, measured)| match measured {
        Measured::Humidity(percent) => !(LOW_PERCENT..=HIGH_PERCENT).contains(&percent),
        _ => false,
    })
}

/// The recent posts that these new entries touch.
///
/// # Errors
/// Those of the store.
pub async fn posts(
    store: &Arc<dyn Store>,
    place: PlaceId,
    book: &Book,
    entries: &[Seq],
    now: Timestamp,
) -> Result<Vec<i64>> {
    let mut touched = Touched::default();
    for seq in entries {
        touched.by(book, *seq);
    }
    let since = now
        .saturating_sub(SignedDuration::from_hours(EDIT_BACK_H))
        .unwrap_or(now);
    let posts = store.posts(place, since.as_millisecond()).await?;
    let concerned = posts.iter().filter(|post| {
        serde_json::from_str::<Subject>(&post.body).is_ok_and(|subject| touched.touches(book, &subject))
    });
    Ok(concerned.map(|post| post.id).collect())
}
