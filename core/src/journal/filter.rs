//! What the journal tells of a filter: its tests, what went in, when it stood still, and so whether its cycle is proven.
//!
//! The judgement is that of [`cycle`]; here its history is gathered. A pool in use counts as fed: what the crabs leave in
//! it is ammonia of an amount that nobody knows.

use jiff::{SignedDuration, Timestamp};
use serde::{Deserialize, Serialize};

use super::{Book, Event, GearChange, PoolChange};
use crate::place::{Gear, Life, Pool, PoolId, Target};
use crate::quantity::{Celsius, Kind, Measured, MilligramsPerLitre};
use crate::water::cycle::{self, Fed, History, Lapse, Reason, Rules, Shown, State, Stop, Test, judge};

/// What went into a pool that a test of its water does not tell.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Input {
    /// Ammonia went in: by how much it raised ammonia, where that is known.
    Fed(Option<Measured>),
    /// This was read in the water that is put in, before it was put in.
    Tap(Measured),
}

/// How often what the crabs of a pool in use leave counts as ammonia that went in, in hours: often enough that such a pool
/// never counts as one that got none.
const CRABS_H: i64 = 7 * 24;

/// How often crabs count as having fed a filter at most: some two hundred years of weeks. A place may be asked for at the
/// end of time.
const CRABS_MAX: usize = 10_000;

/// Temperatures in °C at which the wait for a cycle can be told.
const TEMPERATURES: std::ops::RangeInclusive<f64> = 5.0..=40.0;

/// The least that a kit is taken to tell from 0, in mg/L as the kit counts: the first step of common drop kits. Common
/// practice, no published source. A reading below it shows that the kit tells more.
#[must_use]
pub fn kit_step(kind: Kind) -> f64 {
    if kind == Kind::Nitrate { 5.0 } else { 0.25 }
}

/// From when the journal tells of a filter, and what it rests on there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TellsFrom {
    /// When the filter first ran.
    pub started: Timestamp,
    /// Whether crabs count as having fed it.
    pub crabs: bool,
}

/// The history of a pool's filter.
struct Told {
    started: Timestamp,
    tests: Vec<Test>,
    fed: Vec<Fed>,
    stops: Vec<Stop>,
    source: Option<Shown>,
    /// The keeper's words, the first one first.
    words: Vec<Timestamp>,
    temperature: Option<Celsius>,
    crabs: bool,
}

impl Told {
    fn history(&self, word: Option<Timestamp>) -> History<'_> {
        History {
            started: self.started,
            tests: &self.tests,
            fed: &self.fed,
            stops: &self.stops,
            source: self.source,
            word,
            temperature: self.temperature,
            rules: Rules::default(),
        }
    }

    /// How the filter stands: of what its keeper's words come to, what counts for longest.
    fn judged(&self, now: Timestamp) -> Result<State, cycle::Problem> {
        let mut best: Option<State> = None;
        for word in self.words.iter().copied().map(Some) {
            let state = judge(&self.history(word), now)?;
            let longer = |best: &State| state.proven && (!best.proven || state.since < best.since);
            // Without any proof it is the last word that tells most of what happened since.
            if best.as_ref().is_none_or(|best| longer(best) || !best.proven) {
                best = Some(state);
            }
        }
        best.map_or_else(|| judge(&self.history(None), now), Ok)
    }

    /// When what had been proven stopped counting; nothing where nothing had been.
    fn lapsed(&self, state: &State) -> Option<Timestamp> {
        let lapse = state.reasons.iter().find_map(|reason| match reason {
            Reason::Lapsed(lapse) => Some(*lapse),
            _ => None,
        })?;
        let second = SignedDuration::from_secs(1);
        let (before, at) = match lapse {
            // While it stands the lapse must not move along with now.
            Lapse::Stood { from, .. } => (from, after(from, Rules::default().stood.0)),
            Lapse::Quiet { since, .. } => {
                let at = after(since, Rules::default().quiet.0 * 24.0);
                (at, at)
            }
            Lapse::Back { at } => (at.saturating_sub(second).ok()?, at),
        };
        let had = before >= self.started && self.judged(before).is_ok_and(|state| state.proven);
        had.then_some(at)
    }
}

/// A time so many hours after another, to the second.
fn after(from: Timestamp, hours: f64) -> Timestamp {
    let seconds = SignedDuration::from_secs((hours * 3600.0).round() as i64);
    from.saturating_add(seconds).unwrap_or(from)
}

/// What a kit showed. A value that is not 0 was told from 0.
fn shown(measured: &Measured) -> Option<Shown> {
    let (Measured::Ammonia { mg_l, basis }
    | Measured::Nitrite { mg_l, basis }
    | Measured::Nitrate { mg_l, basis }) = *measured
    else {
        return None;
    };
    let step = kit_step(measured.kind());
    let step = if mg_l > 0.0 {
        step.min(mg_l).max(0.001)
    } else {
        step
    };
    Some(Shown {
        value: MilligramsPerLitre(mg_l),
        basis,
        step: MilligramsPerLitre(step),
    })
}

/// What happened to a pool and its filter by its settings.
#[derive(Default)]
struct Settings {
    started: Option<Timestamp>,
    stops: Vec<Stop>,
    words: Vec<Timestamp>,
    /// Spans in which the pool was in use; the last may be open.
    used: Vec<(Timestamp, Option<Timestamp>)>,
}

impl Settings {
    fn gear(&mut self, change: GearChange, at: Timestamp) {
        match change {
            GearChange::Added { proven } => {
                self.started = Some(at);
                self.stops.clear();
                self.words = proven.then_some(at).into_iter().collect();
            }
            GearChange::Removed => self.started = None,
            GearChange::Proven => self.words.push(at),
            GearChange::Stopped if self.stops.last().is_none_or(|stop| stop.to.is_some()) => {
                self.stops.push(Stop { from: at, to: None });
            }
            GearChange::Started => {
                if let Some(stop) = self.stops.last_mut().filter(|stop| stop.to.is_none()) {
                    stop.to = Some(at);
                }
            }
            GearChange::Stopped => {}
        }
    }

    fn life(&mut self, life: Life, at: Timestamp) {
        let open = self.used.last_mut().filter(|(_, to)| to.is_none());
        match (life, open) {
            (Life::InUse, None) => self.used.push((at, None)),
            (Life::InUse, Some(_)) | (_, None) => {}
            (_, Some((_, to))) => *to = Some(at),
        }
    }

    /// When crabs count as having fed the filter: from when the pool is in use and the filter there, after each stop, and
    /// from time to time.
    fn crabs(&self, started: Timestamp, now: Timestamp) -> Vec<Fed> {
        let mut all = Vec::new();
        for (from, to) in &self.used {
            let (mut at, end) = ((*from).max(started), to.unwrap_or(now).min(now));
            while at <= end && all.len() < CRABS_MAX {
                all.push(at);
                at = after(at, CRABS_H as f64);
            }
            let ends = self.stops.iter().filter_map(|stop| stop.to);
            all.extend(ends.filter(|at| (*from).max(started) <= *at && *at <= end));
        }
        all.into_iter().map(|at| Fed { at, dose: None }).collect()
    }
}

impl Book {
    /// How the filter of a pool stands at a moment, and from when the journal tells of it; `None` where there is none.
    #[must_use]
    pub fn filter_at(&self, id: PoolId, now: Timestamp) -> Option<(State, TellsFrom)> {
        let told = self.told_of_filter(id, now)?;
        let state = told.judged(now).ok()?;
        let tells = TellsFrom {
            started: told.started,
            crabs: told.crabs,
        };
        Some((state, tells))
    }

    /// Puts into a pool whether its filter's cycle is proven at a moment.
    pub(super) fn prove(&self, pool: &mut Pool, now: Timestamp) {
        if pool.filter.is_none() {
            return;
        }
        let Some(told) = self.told_of_filter(pool.id, now) else {
            return;
        };
        if let (Ok(state), Some(filter)) = (told.judged(now), pool.filter.as_mut()) {
            filter.proven = state.since.filter(|_| state.proven);
            filter.lapsed = if state.proven { None } else { told.lapsed(&state) };
        }
    }

    fn told_of_filter(&self, id: PoolId, now: Timestamp) -> Option<Told> {
        let mut settings = Settings::default();
        let mut enclosure = None;
        for entry in self.pool_settings_until(id, now) {
            match &entry.event {
                Event::Gear(_, Gear::Filter, change) => settings.gear(*change, entry.at),
                Event::Pool(
                    _,
                    PoolChange::Added {
                        enclosure: one, life, ..
                    },
                ) => {
                    enclosure = Some(*one);
                    settings.life(*life, entry.at);
                }
                Event::Pool(_, PoolChange::Life(life)) => settings.life(*life, entry.at),
                _ => {}
            }
        }
        let started = settings.started?;
        let mut fed = settings.crabs(started, now);
        let (crabs, mut source) = (!fed.is_empty(), None);
        for (at, input) in self.inputs(id, now) {
            match input {
                Input::Fed(dose) => fed.push(Fed {
                    at,
                    dose: dose.and_then(|dose| dosed(&dose)),
                }),
                Input::Tap(measured) => source = shown(&measured).or(source),
            }
        }
        let warm = |target| {
            let (_, _, measured) = self.last_reading(target, Kind::Temperature, now)?;
            match measured {
                Measured::Temperature(celsius) if TEMPERATURES.contains(&celsius) => Some(Celsius(celsius)),
                _ => None,
            }
        };
        let air = || warm(Target::Enclosure(enclosure?));
        Some(Told {
            started,
            tests: self.tests(id, started, now),
            fed,
            stops: settings.stops,
            source,
            words: settings.words,
            temperature: warm(Target::Pool(id)).or_else(air),
            crabs,
        })
    }

    /// The tests of a pool's water in a span, in order.
    fn tests(&self, id: PoolId, from: Timestamp, to: Timestamp) -> Vec<Test> {
        let of = |kind: Kind| {
            let all = self.readings(Target::Pool(id), kind, from, to);
            all.filter_map(move |(at, measured)| {
                let shown = shown(&measured);
                let only = |wanted: Kind| shown.filter(|_| wanted == kind);
                shown.map(|_| Test {
                    at,
                    ammonia: only(Kind::Ammonia),
                    nitrite: only(Kind::Nitrite),
                    nitrate: only(Kind::Nitrate),
                })
            })
        };
        let kinds = [Kind::Ammonia, Kind::Nitrite, Kind::Nitrate];
        let mut tests: Vec<Test> = kinds.into_iter().flat_map(of).collect();
        tests.sort_by_key(|test| test.at);
        tests
    }
}

/// By how much a dose raised ammonia.
fn dosed(measured: &Measured) -> Option<(MilligramsPerLitre, crate::quantity::Basis)> {
    match *measured {
        Measured::Ammonia { mg_l, basis } if mg_l > 0.0 => Some((MilligramsPerLitre(mg_l), basis)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::journal::{EnclosureChange, Entry};
    use crate::place::{CarerId, EnclosureId, Water};

    #[test]
    fn a_place_with_a_filter_can_be_asked_for_at_the_end_of_time() {
        let (enclosure, pool) = (EnclosureId(1), PoolId(1));
        let events = [
            Event::Enclosure(
                enclosure,
                EnclosureChange::Added {
                    name: "North".to_owned(),
                    litres: 200.0,
                },
            ),
            Event::Pool(
                pool,
                PoolChange::Added {
                    enclosure,
                    water: Water::Salt,
                    litres: 8.0,
                    life: Life::InUse,
                },
            ),
            Event::Gear(pool, Gear::Filter, GearChange::Added { proven: true }),
        ];
        let mut book = Book::default();
        for (seq, event) in (1..).zip(events) {
            let at = Timestamp::UNIX_EPOCH;
            book.insert(Entry::at_once(seq, at, CarerId(1), event));
        }
        let years = |years: i64| Timestamp::UNIX_EPOCH + SignedDuration::from_hours(years * 8_766);
        let proven = |now| {
            let place = book.place_at(now);
            place.pools[&pool].filter.and_then(|filter| filter.proven)
        };
        assert_eq!(proven(years(50)), Some(Timestamp::UNIX_EPOCH));
        assert_eq!(book.place_at(Timestamp::MAX).pools.len(), 1);
    }
}
