//! Any journal of batches, changes, top-ups and retractions, in any order of arrival: each pool holds what its pours
//! left, salt and water are conserved, and a trail finds every pool that it reached and no other. It is held against
//! pours that are followed one by one.

use std::collections::{BTreeMap, BTreeSet};

use jiff::{SignedDuration, Timestamp};
use proptest::prelude::*;
use wrackline_core::care::Duty;
use wrackline_core::journal::{BatchChange, Book, EnclosureChange, Entry, Event, Part, PoolChange};
use wrackline_core::place::{CarerId, EnclosureId, Life, PoolId, Target, Water};
use wrackline_core::quantity::{Litres, Measured, MilligramsPerLitre, Salinity};
use wrackline_core::water::batch::{BatchId, Found, Means, Wrong, kilograms};
use wrackline_core::water::stock::stock;

const POOLS: u32 = 3;
const BATCHES: u32 = 3;
const HOLDS: f64 = 8.0;
const MADE: f64 = 25.0;

/// Something that is said: kind, batch, pool, how much, whether from the batch, minutes after the start.
type Deed = (u8, u32, u32, f64, bool, u16);

fn deeds() -> impl Strategy<Value = Vec<Deed>> {
    let deed = (
        0..12_u8,
        0..BATCHES,
        0..POOLS,
        0.05..=1.0_f64,
        any::<bool>(),
        0..9_000_u16,
    );
    prop::collection::vec(deed, 0..40)
}

fn at(minutes: u16) -> Timestamp {
    let start: Timestamp = "2026-03-01T12:00:00Z".parse().expect("a start");
    start + SignedDuration::from_mins(minutes.into())
}

fn water(pool: u32) -> Water {
    if pool == 0 { Water::Fresh } else { Water::Salt }
}

/// The salinity that a batch is made for.
fn made_for(batch: u32) -> f64 {
    if batch == 0 {
        0.0
    } else {
        30.0 + f64::from(batch) * 3.0
    }
}

/// A journal in the making: what each line writes has a time of logging of its own.
#[derive(Default)]
struct Journal {
    entries: Vec<Entry>,
    lines: Vec<Vec<u64>>,
}

impl Journal {
    fn line(&mut self, minutes: u16, events: Vec<Event>) {
        let logged_at = at(9_000) + SignedDuration::from_secs(self.lines.len() as i64);
        let (by, at) = (CarerId(1), at(minutes));
        let mut line = Vec::new();
        for event in events {
            let seq = self.entries.len() as u64 + 1;
            self.entries.push(Entry {
                seq,
                at,
                logged_at,
                by,
                said_by: by,
                event,
            });
            line.push(seq);
        }
        self.lines.push(line);
    }

    /// A place of some pools, and a batch for each water.
    fn begun() -> Self {
        let mut journal = Self::default();
        let enclosure = EnclosureChange::Added {
            name: "North".to_owned(),
            litres: 400.0,
        };
        journal.line(0, vec![Event::Enclosure(EnclosureId(1), enclosure)]);
        for pool in 0..POOLS {
            let added = PoolChange::Added {
                enclosure: EnclosureId(1),
                water: water(pool),
                litres: HOLDS,
                life: Life::InUse,
            };
            journal.line(0, vec![Event::Pool(PoolId(pool), added)]);
        }
        for batch in 0..BATCHES {
            let made = BatchChange::Made {
                vessel: format!("Can {batch}"),
                water: water(batch),
                litres: MADE,
                salinity: made_for(batch),
                conditioned: true,
                dosed_ml: 0.0,
            };
            // The last one is made only later, so that some draws come before it.
            let minutes = if batch + 1 == BATCHES { 1_000 } else { 1 };
            journal.line(minutes, vec![Event::Batch(BatchId(batch), made)]);
        }
        journal
    }
}

/// A journal of deeds. Retractions take back a whole line.
fn journal(deeds: &[Deed]) -> Vec<Entry> {
    let mut journal = Journal::begun();
    let fixed = journal.lines.len();
    for (kind, batch, pool, share, from, minutes) in deeds {
        let (batch, target) = (BatchId(*batch), Target::Pool(PoolId(*pool)));
        let litres = (share * 3.0 * 100.0).round() / 100.0;
        let with = |duty: Duty, part: Part, litres: f64| {
            let did = Event::Did(duty, target, part);
            if *from {
                vec![did, Event::Drew(batch, litres)]
            } else if duty == Duty::TopUp {
                vec![did, Event::Amount(litres)]
            } else {
                vec![did]
            }
        };
        let events = match kind {
            0 => vec![Event::Batch(batch, BatchChange::Conditioned { dosed_ml: 0.0 })],
            1 => vec![Event::Batch(
                batch,
                BatchChange::Measured(Measured::Salinity(40.0 * share)),
            )],
            2 => vec![Event::Batch(batch, BatchChange::Retired)],
            3..=5 => with(Duty::Change, Part::Fraction(*share), HOLDS * share),
            6 => with(Duty::Change, Part::Whole, HOLDS),
            7..=9 => with(Duty::TopUp, Part::Whole, litres),
            _ => {
                let may = &journal.lines[fixed..];
                let Some(line) = may.get((may.len() as f64 * share) as usize).or(may.last()) else {
                    continue;
                };
                line.iter().map(|seq| Event::Retract(*seq)).collect()
            }
        };
        journal.line(*minutes, events);
    }
    journal.entries
}

/// One pour into a pool: its water without salt, its salt, and how much of the pour holds what is dissolved here.
#[derive(Clone, Copy)]
struct Pour {
    pool: u32,
    from: Option<(u32, bool)>,
    water: f64,
    salt: f64,
    mark: f64,
}

/// Everything, pour by pour.
#[derive(Default)]
struct Poured {
    pours: Vec<Pour>,
    left: BTreeMap<u32, f64>,
    known: BTreeMap<u32, f64>,
    treated: BTreeSet<u32>,
    ever: BTreeSet<(u32, bool, u32)>,
}

fn kg(litres: f64, salinity: f64) -> f64 {
    kilograms(Litres(litres), Salinity(salinity)).expect("a mass").0
}

impl Poured {
    fn of(entries: &[Entry]) -> Self {
        let void: BTreeSet<u64> = entries
            .iter()
            .filter_map(|entry| match entry.event {
                Event::Retract(seq) => Some(seq),
                _ => None,
            })
            .collect();
        let mut standing: Vec<&Entry> = entries
            .iter()
            .filter(|entry| !void.contains(&entry.seq))
            .collect();
        standing.sort_by_key(|entry| (entry.at, entry.seq));
        // What was read last holds for all that was drawn before.
        let mut last: BTreeMap<u32, f64> = (0..BATCHES).map(|batch| (batch, made_for(batch))).collect();
        let mut made = BTreeSet::new();
        for entry in &standing {
            match entry.event {
                Event::Batch(BatchId(id), BatchChange::Made { .. }) => drop(made.insert(id)),
                Event::Batch(BatchId(id), BatchChange::Measured(Measured::Salinity(read)))
                    if made.contains(&id) =>
                {
                    last.insert(id, read);
                }
                _ => {}
            }
        }
        let mut all = Self::default();
        for pool in 0..POOLS {
            all.pour(pool, None, kg(HOLDS, own(pool)), own(pool));
        }
        for entry in &standing {
            all.take(entry, entries, &last);
        }
        all
    }

    fn take(&mut self, entry: &Entry, entries: &[Entry], last: &BTreeMap<u32, f64>) {
        match &entry.event {
            Event::Batch(BatchId(id), change) => match change {
                BatchChange::Made { salinity, .. } => {
                    self.left.insert(*id, kg(MADE, *salinity));
                    self.known.insert(*id, *salinity);
                }
                BatchChange::Measured(Measured::Salinity(read)) if self.left.contains_key(id) => {
                    self.known.insert(*id, *read);
                }
                BatchChange::Conditioned { .. } if self.left.contains_key(id) => {
                    self.treated.insert(*id);
                }
                BatchChange::Retired => {
                    self.left.entry(*id).and_modify(|left| *left = 0.0);
                }
                _ => {}
            },
            Event::Did(duty, Target::Pool(PoolId(pool)), part) => {
                let behind = entries.get(entry.seq as usize).map(|next| &next.event);
                let (batch, litres) = match behind {
                    Some(Event::Drew(BatchId(batch), litres)) => (Some(*batch), Some(*litres)),
                    Some(Event::Amount(litres)) => (None, Some(*litres)),
                    _ => (None, None),
                };
                if *duty == Duty::TopUp {
                    let litres = litres.expect("an amount");
                    let water = self.sum(*pool, |pour| pour.water);
                    let stays = 1.0 - kg(litres, 0.0).min(water * 0.9) / water;
                    self.each(*pool, |pour| pour.water *= stays);
                    self.refill(*pool, batch, litres, 0.0, last);
                } else {
                    let share = match part {
                        Part::Fraction(share) => *share,
                        _ => 1.0,
                    };
                    self.each(*pool, |pour| {
                        pour.water *= 1.0 - share;
                        pour.salt *= 1.0 - share;
                        pour.mark *= 1.0 - share;
                    });
                    self.refill(*pool, batch, litres.unwrap_or(HOLDS * share), own(*pool), last);
                }
            }
            _ => {}
        }
    }

    /// Pours from the batch what it has, and the rest from elsewhere.
    fn refill(&mut self, pool: u32, batch: Option<u32>, litres: f64, own: f64, last: &BTreeMap<u32, f64>) {
        let held = batch.and_then(|batch| Some((batch, *self.left.get(&batch)?, *self.known.get(&batch)?)));
        let Some((batch, held, salinity)) = held else {
            self.pour(pool, None, kg(litres, own), own);
            return;
        };
        let asked = kg(litres, salinity);
        let take = asked.min(held);
        if take > 1e-9 {
            let treated = self.treated.contains(&batch);
            self.ever.insert((batch, treated, pool));
            self.pour(pool, Some((batch, treated)), take, last[&batch]);
            self.left.insert(batch, held - take);
        }
        if asked - take > 1e-8 {
            self.pour(pool, None, kg(litres * (1.0 - take / asked), own), own);
        }
    }

    fn pour(&mut self, pool: u32, from: Option<(u32, bool)>, mass: f64, salinity: f64) {
        let salt = mass * salinity / 1000.0;
        let (water, mark) = (mass - salt, mass);
        self.pours.push(Pour {
            pool,
            from,
            water,
            salt,
            mark,
        });
    }

    fn each(&mut self, pool: u32, change: impl Fn(&mut Pour)) {
        self.pours
            .iter_mut()
            .filter(|pour| pour.pool == pool)
            .for_each(change);
    }

    fn sum(&self, pool: u32, of: impl Fn(&Pour) -> f64) -> f64 {
        self.pours.iter().filter(|pour| pour.pool == pool).map(of).sum()
    }
}

/// The salinity of a pool's own water.
fn own(pool: u32) -> f64 {
    if water(pool) == Water::Fresh { 0.0 } else { 35.0 }
}

fn near(got: f64, want: f64) -> Result<(), TestCaseError> {
    prop_assert!(
        (got - want).abs() <= 1e-6 * want.abs().max(1.0),
        "{got} is not {want}"
    );
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn a_journal_is_followed_like_its_pours(deeds in deeds(), turn in 0..64_usize) {
        let entries = journal(&deeds);
        let mut arrived = entries.clone();
        let by = turn % arrived.len();
        arrived.rotate_left(by);
        let book = Book::of(arrived);
        let now = at(9_000);
        let found = stock(&book, &book.place_at(now), now);
        prop_assert!(found.odd.is_empty(), "{:?}", found.odd);
        let poured = Poured::of(&entries);
        let drawn: BTreeSet<u32> = poured.ever.iter().map(|(_, _, pool)| *pool).collect();
        for pool in drawn {
            let told = found.ledger.pool(PoolId(pool)).expect("a pool that was reached");
            let mass = poured.sum(pool, |pour| pour.water + pour.salt);
            near(told.mass.0, mass)?;
            near(told.salinity.0, poured.sum(pool, |pour| pour.salt) / mass * 1000.0)?;
        }
        for (batch, left) in &poured.left {
            near(found.ledger.batch(BatchId(*batch)).expect("a batch").left.0, *left)?;
        }
        // Nothing is lost and nothing comes of nothing.
        let sum = found.ledger.balance();
        near(sum.here.mass.0 + sum.gone.mass.0, sum.entered.mass.0)?;
        near(sum.here.salt.0 + sum.gone.salt.0, sum.entered.salt.0)?;
        for batch in poured.left.keys() {
            trail_of(&found.ledger, &poured, *batch)?;
        }
    }
}

/// Every pool that a batch reached and no other, with what is there now.
fn trail_of(
    ledger: &wrackline_core::water::batch::Ledger,
    poured: &Poured,
    batch: u32,
) -> Result<(), TestCaseError> {
    let tap = MilligramsPerLitre(2.0);
    let trail = ledger
        .trail(BatchId(batch), Wrong::Chlorine(tap), &Means::default())
        .expect("a trail");
    let told: BTreeSet<u32> = trail.pools.iter().map(|one| one.pool.0).collect();
    let untreated = poured
        .ever
        .iter()
        .filter(|(of, treated, _)| *of == batch && !treated);
    prop_assert_eq!(told, untreated.map(|(_, _, pool)| *pool).collect());
    for one in &trail.pools {
        let mark = poured.sum(one.pool.0, |pour| {
            if pour.from == Some((batch, false)) {
                pour.mark
            } else {
                0.0
            }
        });
        let mass = poured.sum(one.pool.0, |pour| pour.water + pour.salt);
        near(one.dissolved, mark / mass)?;
        if mark / mass < 1e-8 {
            continue;
        }
        let Found::Chlorine(_) = one.found else {
            return Err(TestCaseError::fail(format!("{one:?}")));
        };
    }
    let salt = Wrong::Salinity(Salinity(20.0));
    let trail = ledger
        .trail(BatchId(batch), salt, &Means::default())
        .expect("a trail");
    let told: BTreeSet<u32> = trail.pools.iter().map(|one| one.pool.0).collect();
    let ever = poured.ever.iter().filter(|(of, ..)| *of == batch);
    prop_assert_eq!(told, ever.map(|(_, _, pool)| *pool).collect());
    Ok(())
}
