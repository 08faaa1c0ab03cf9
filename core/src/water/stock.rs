//! All prepared water of a place, and the pools that it reached, as the journal tells it.
//!
//! Entries come in order of the time that they count from, retracted ones do not count. A pool is followed from the
//! day on which it was set up if water of a batch ever went into it; of any other nothing has to be known. A top-up
//! makes up for what evaporated, so its litres leave as vapour before they go in.

use std::collections::{BTreeMap, BTreeSet};

use jiff::{SignedDuration, Timestamp};

use super::batch::{
    BatchId, Event, EventId, Found, Ledger, Means, Problem, Source, Trail, Warning, What, Wrong, kilograms,
};
use super::instruments::{STANDARD_SALINITY, salinity_of};
use crate::care::Duty;
use crate::care::catalogue::part_fraction;
use crate::civil::plus_days;
use crate::journal::{BatchChange, Book, Entry, Event as Told, Fault, Part, PoolChange, Seq};
use crate::place::{Place, PoolId, Target, Water};
use crate::quantity::{Kilograms, Kind, Litres, Millilitres, Salinity};

/// Less than this, in kg, is nothing to pour.
const NOTHING_KG: f64 = 1e-9;

/// The most of a pool's water that a top-up is taken to make up for: a pool that was nearly dry is no pool that was
/// topped up, and its salt has to stay dissolved in something.
const EVAPORATED_MAX: f64 = 0.9;

/// All prepared water of a place at a moment.
#[derive(Clone, Debug)]
pub struct Stock {
    /// What is in vessels and pools.
    pub ledger: Ledger,
    /// Entries that the ledger could not take, with the reason: numbers that no water has.
    pub odd: Vec<(Seq, Problem)>,
    warnings: BTreeMap<Seq, Vec<Warning>>,
    short: BTreeMap<Seq, Litres>,
}

impl Stock {
    /// What should be said of a duty for which water was drawn.
    #[must_use]
    pub fn warnings(&self, seq: Seq) -> &[Warning] {
        self.warnings.get(&seq).map_or(&[], Vec::as_slice)
    }

    /// Litres that a duty is said to have taken although the batch did not hold them; they count as water from
    /// elsewhere. An entry of an earlier time that was written later can bring this about.
    #[must_use]
    pub fn short(&self, seq: Seq) -> Option<Litres> {
        self.short.get(&seq).copied()
    }
}

/// The prepared water of a place at a moment. `place` is the place at that moment.
#[must_use]
pub fn stock(book: &Book, place: &Place, now: Timestamp) -> Stock {
    stock_if(book, place, now, None)
}

/// Where a batch went that proved wrong ([`Ledger::trail`]). What people poured they know in litres, so the masses of a batch
/// of another salinity are those of that salinity, and not of the one that was believed.
///
/// # Errors
///
/// Those of [`Ledger::trail`].
pub fn trail(
    book: &Book,
    place: &Place,
    now: Timestamp,
    (batch, wrong): (BatchId, Wrong),
    means: &Means,
) -> Result<Trail, Problem> {
    let believed = stock(book, place, now).ledger;
    let Wrong::Salinity(truly) = wrong else {
        return believed.trail(batch, wrong, means);
    };
    // Held against what was believed before, which is the target where none was set.
    let then = |pool: PoolId| believed.pool(pool).map(|pool| pool.salinity);
    let mut means = means.clone();
    let ledger = stock_if(book, place, now, Some((batch, truly))).ledger;
    for one in ledger.trail(batch, wrong, &means)?.pools {
        if let Some(salinity) = then(one.pool) {
            means.targets.entry(one.pool).or_insert(salinity);
        }
    }
    let mut trail = ledger.trail(batch, wrong, &means)?;
    for one in &mut trail.pools {
        if let (Found::Salinity { believed, .. }, Some(salinity)) = (&mut one.found, then(one.pool)) {
            *believed = salinity;
        }
    }
    Ok(trail)
}

/// The same stock, with a salinity of one batch that holds whatever was said of it.
fn stock_if(book: &Book, place: &Place, now: Timestamp, truly: Option<(BatchId, Salinity)>) -> Stock {
    let reached: BTreeSet<PoolId> = book
        .draws()
        .filter_map(|(seq, _)| match book.entry(seq)?.event {
            Told::Did(_, Target::Pool(pool), _) | Told::Waits(_, Target::Pool(pool), _) => Some(pool),
            _ => None,
        })
        .collect();
    let concerns = |entry: &&Entry| {
        let concerned = match &entry.event {
            Told::Batch(..) => true,
            // A helper's work moved the water, whether or not anybody nodded at it.
            Told::Did(duty, Target::Pool(pool), _) | Told::Waits(duty, Target::Pool(pool), _) => {
                (duty.family() == Duty::Change || *duty == Duty::TopUp) && reached.contains(pool)
            }
            Told::Pool(pool, PoolChange::Added { .. } | PoolChange::Retired) => reached.contains(pool),
            _ => false,
        };
        concerned && entry.at <= now && !book.is_void(entry.seq)
    };
    let mut entries: Vec<&Entry> = book.entries().filter(concerns).collect();
    entries.sort_by_key(|entry| (entry.at, entry.seq));
    let mut taker = Taker {
        book,
        place,
        mended: mended(&entries),
        truly,
        next: 0,
        stock: Stock {
            ledger: Ledger::default(),
            odd: Vec::new(),
            warnings: BTreeMap::new(),
            short: BTreeMap::new(),
        },
    };
    for entry in entries {
        taker.take(entry);
    }
    taker.stock
}

/// When each batch was last conditioned, and last measured, by the order of the journal.
fn mended(entries: &[&Entry]) -> BTreeMap<(BatchId, Fault), (Timestamp, Seq)> {
    let mut last = BTreeMap::new();
    for entry in entries {
        let fault = match &entry.event {
            Told::Batch(id, BatchChange::Conditioned { .. }) => (*id, Fault::Unconditioned),
            Told::Batch(id, BatchChange::Measured(_)) => (*id, Fault::Salinity),
            _ => continue,
        };
        last.insert(fault, (entry.at, entry.seq));
    }
    last
}

struct Taker<'a> {
    book: &'a Book,
    place: &'a Place,
    mended: BTreeMap<(BatchId, Fault), (Timestamp, Seq)>,
    truly: Option<(BatchId, Salinity)>,
    next: u64,
    stock: Stock,
}

impl Taker<'_> {
    fn take(&mut self, entry: &Entry) {
        match &entry.event {
            Told::Batch(id, change) => self.batch(entry, *id, change),
            Told::Pool(pool, PoolChange::Retired) => {
                if let Some(held) = self.held(*pool) {
                    self.change(entry, *pool, held, Kilograms(0.0), Source::Other(Salinity(0.0)));
                }
            }
            Told::Pool(pool, _) => {
                self.begin(entry, *pool);
            }
            Told::Did(duty, Target::Pool(pool), part) | Told::Waits(duty, Target::Pool(pool), part) => {
                self.did(entry, *duty, *pool, *part)
            }
            _ => {}
        }
    }

    fn give(&mut self, entry: &Entry, what: What) {
        self.next += 1;
        let event = Event {
            id: EventId(self.next),
            at: entry.at,
            what,
        };
        match self.stock.ledger.apply(event) {
            Ok(warnings) => self.stock.warnings.entry(entry.seq).or_default().extend(warnings),
            Err(problem) => self.stock.odd.push((entry.seq, problem)),
        }
    }

    fn batch(&mut self, entry: &Entry, batch: BatchId, change: &BatchChange) {
        // Whose making was taken back, or counts from later on: nothing is known of it.
        let made = matches!(change, BatchChange::Made { .. });
        if !made && self.stock.ledger.batch(batch).is_none() {
            return;
        }
        let what = match change {
            BatchChange::Made {
                water,
                litres,
                salinity,
                conditioned,
                dosed_ml,
                ..
            } => {
                let salinity = self.salinity(batch, Salinity(*salinity));
                What::Made {
                    batch,
                    water: *water,
                    mass: self.mass(entry, *litres, salinity),
                    salinity,
                    conditioned: *conditioned,
                    dosed: Millilitres(*dosed_ml),
                }
            }
            BatchChange::Measured(read) => match salinity_of(read) {
                Ok(found) => What::Measured {
                    batch,
                    salinity: self.salinity(batch, found.salinity),
                },
                Err(_) => return,
            },
            BatchChange::Conditioned { dosed_ml } => What::Conditioned {
                batch,
                dosed: Millilitres(*dosed_ml),
            },
            BatchChange::UseBy(date) => {
                let next = self.place.zone.day_start(plus_days(*date, 1));
                let use_by = next.checked_sub(SignedDuration::from_secs(1)).unwrap_or(next);
                What::Dated { batch, use_by }
            }
            BatchChange::Wrong(fault) => {
                let key = (entry.at, entry.seq);
                if self
                    .mended
                    .get(&(batch, *fault))
                    .is_some_and(|later| *later > key)
                {
                    return;
                }
                What::Condemned { batch }
            }
            BatchChange::Retired => match self.stock.ledger.batch(batch) {
                Some(found) if found.left.0 > NOTHING_KG => What::Discarded {
                    batch,
                    mass: found.left,
                },
                _ => return,
            },
        };
        self.give(entry, what);
    }

    /// The salinity that counts for a batch where another one was said.
    fn salinity(&self, batch: BatchId, said: Salinity) -> Salinity {
        let truly = self.truly.filter(|(id, _)| *id == batch);
        truly.map_or(said, |(_, salinity)| salinity)
    }

    fn did(&mut self, entry: &Entry, duty: Duty, pool: PoolId, part: Part) {
        let Some((water, holds)) = self.begin(entry, pool) else {
            return;
        };
        let drawn = self.book.drawn(entry.seq);
        if duty == Duty::TopUp {
            let said = drawn
                .map(|(_, litres)| litres)
                .or_else(|| self.book.amount(entry.seq));
            if let Some(litres) = said {
                self.top_up(entry, pool, drawn.map(|(batch, _)| batch), litres);
            }
            return;
        }
        let share = match (part, drawn) {
            (Part::Whole, _) if duty == Duty::PartChange => part_fraction(holds),
            (Part::Whole, _) => 1.0,
            (Part::Fraction(fraction), _) => fraction,
            (Part::Steps(_), Some((_, litres))) => (litres / holds).min(1.0),
            // Steps say nothing of water.
            (Part::Steps(_), None) => return,
        };
        let out = self.held(pool).unwrap_or_default() * share;
        let believed = self.believed(pool, water, entry.at);
        let Some((batch, litres)) = drawn else {
            let into = self.mass(entry, holds * share, believed);
            self.change(entry, pool, out, into, Source::Other(believed));
            return;
        };
        let poured = if share >= 1.0 { litres.min(holds) } else { litres };
        let (take, rest) = self.share_out(entry, batch, poured);
        let source = if take.0 > NOTHING_KG {
            Source::Batch(batch)
        } else {
            Source::Other(believed)
        };
        self.change(entry, pool, out, take, source);
        if let Some(rest) = rest {
            let (mass, source) = (self.mass(entry, rest.0, believed), Source::Other(believed));
            self.give(entry, What::ToppedUp { pool, mass, source });
        }
        self.spill(entry, batch, litres - poured);
    }

    /// What was taken out of a vessel beyond what the pool holds.
    fn spill(&mut self, entry: &Entry, batch: BatchId, litres: f64) {
        if litres <= 0.0 {
            return;
        }
        let (mass, _) = self.share_out(entry, batch, litres);
        if mass.0 > NOTHING_KG {
            self.give(entry, What::Discarded { batch, mass });
        }
    }

    fn top_up(&mut self, entry: &Entry, pool: PoolId, batch: Option<BatchId>, litres: f64) {
        let fresh = Salinity(0.0);
        if let Some(found) = self.stock.ledger.pool(pool) {
            let water = found.mass.0 * (1.0 - found.salinity.0 / 1000.0);
            let vapour = self.mass(entry, litres, fresh).0.min(water * EVAPORATED_MAX);
            if vapour > NOTHING_KG {
                let mass = Kilograms(vapour);
                self.give(entry, What::Evaporated { pool, mass });
            }
        }
        let (take, rest) = match batch {
            Some(batch) => self.share_out(entry, batch, litres),
            None => (Kilograms(0.0), Some(Litres(litres))),
        };
        if let Some(batch) = batch.filter(|_| take.0 > NOTHING_KG) {
            let source = Source::Batch(batch);
            self.give(
                entry,
                What::ToppedUp {
                    pool,
                    mass: take,
                    source,
                },
            );
        }
        if let Some(rest) = rest {
            let (mass, source) = (self.mass(entry, rest.0, fresh), Source::Other(fresh));
            self.give(entry, What::ToppedUp { pool, mass, source });
        }
    }

    /// What a batch gives of some litres, and the litres that it does not hold.
    fn share_out(&mut self, entry: &Entry, batch: BatchId, litres: f64) -> (Kilograms, Option<Litres>) {
        let Some(found) = self.stock.ledger.batch(batch).copied() else {
            self.stock.short.insert(entry.seq, Litres(litres));
            return (Kilograms(0.0), Some(Litres(litres)));
        };
        let asked = self.mass(entry, litres, found.salinity);
        // What rounding leaves is no shortage.
        if asked.0 <= found.left.0 + NOTHING_KG.max(asked.0 * 1e-9) {
            return (Kilograms(asked.0.min(found.left.0)), None);
        }
        let left = if found.left.0 > NOTHING_KG {
            found.left
        } else {
            Kilograms(0.0)
        };
        let missing = litres * (1.0 - left.0 / asked.0);
        let short = self.stock.short.entry(entry.seq).or_insert(Litres(0.0));
        *short = Litres(short.0 + missing);
        (left, Some(Litres(missing)))
    }

    fn change(&mut self, entry: &Entry, pool: PoolId, removed: Kilograms, added: Kilograms, source: Source) {
        self.give(
            entry,
            What::Changed {
                pool,
                removed,
                added,
                source,
            },
        );
    }

    /// Which water a pool is for and how many litres it holds; it is filled with its own water if nothing is known of it.
    fn begin(&mut self, entry: &Entry, pool: PoolId) -> Option<(Water, f64)> {
        let found = self.pool(pool, entry.at)?;
        if self.stock.ledger.pool(pool).is_none() {
            let salinity = self.believed(pool, found.0, entry.at);
            let mass = self.mass(entry, found.1, salinity);
            let source = Source::Other(salinity);
            self.give(entry, What::Filled { pool, mass, source });
        }
        Some(found)
    }

    /// A pool at a moment, else as it was set up: people log what they did before they set the pool up here.
    fn pool(&self, pool: PoolId, at: Timestamp) -> Option<(Water, f64)> {
        let then = self.book.pool_at(pool, at).map(|pool| (pool.water, pool.litres));
        then.or_else(|| {
            self.book.entries().find_map(|entry| match entry.event {
                Told::Pool(id, PoolChange::Added { water, litres, .. })
                    if id == pool && !self.book.is_void(entry.seq) =>
                {
                    Some((water, litres))
                }
                _ => None,
            })
        })
    }

    fn held(&self, pool: PoolId) -> Option<Kilograms> {
        self.stock.ledger.pool(pool).map(|found| found.mass)
    }

    /// The salinity of water that goes into a pool from elsewhere: that which was last read in it, else that of the sea.
    fn believed(&self, pool: PoolId, water: Water, at: Timestamp) -> Salinity {
        if water == Water::Fresh {
            return Salinity(0.0);
        }
        let last = [Kind::Gravity, Kind::Salinity, Kind::Conductivity]
            .into_iter()
            .filter_map(|kind| self.book.last_reading(Target::Pool(pool), kind, at))
            .max_by_key(|(at, seq, _)| (*at, *seq));
        last.and_then(|(_, _, read)| salinity_of(&read).ok())
            .map_or(STANDARD_SALINITY, |found| found.salinity)
    }

    /// The mass of litres; none where they are no volume, which is noted.
    fn mass(&mut self, entry: &Entry, litres: f64, salinity: Salinity) -> Kilograms {
        kilograms(Litres(litres), salinity).unwrap_or_else(|problem| {
            self.stock.odd.push((entry.seq, problem));
            Kilograms(0.0)
        })
    }
}
