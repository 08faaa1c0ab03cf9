//! What holds for every ledger.

use proptest::prelude::*;

use std::collections::BTreeMap;

use super::brute::Brute;
use super::tests::{day, made};
use super::*;
use crate::quantity::MilligramsPerLitre;

const BATCHES: u32 = 4;
const POOLS: u32 = 4;

/// One choice of what happens next. The numbers are shares of what there is, so that most of them can be.
type Choice = (u8, u32, u32, f64, f64, bool);

fn any_choice() -> impl Strategy<Value = Choice> {
    (
        0..12_u8,
        0..BATCHES,
        0..POOLS,
        0.01..=1.0_f64,
        0.0..=1.0_f64,
        any::<bool>(),
    )
}

/// A history that can be, from choices: it starts with every batch.
fn history(choices: &[Choice]) -> Vec<Event> {
    let mut events: Vec<Event> = Vec::new();
    let mut push = |what| {
        let number = u32::try_from(events.len()).unwrap();
        let (id, at) = (EventId(number.into()), day(f64::from(number) / 8.0));
        events.push(Event { id, at, what });
        events.clone()
    };
    let mut so_far = Vec::new();
    for number in 0..BATCHES {
        let salt = if number.is_multiple_of(2) {
            0.0
        } else {
            30.0 + f64::from(number)
        };
        so_far = push(made(BatchId(number), Water::Salt, 40.0, salt, number > 1));
    }
    for (kind, batch, pool, part, other, from_batch) in choices {
        let (batch, pool) = (BatchId(*batch), PoolId(*pool));
        let now = Brute::of(&so_far, &salinities());
        let (left, held) = (now.left[&batch], now.mass(pool));
        let (source, have) = if *from_batch {
            (Source::Batch(batch), left)
        } else {
            (Source::Other(Salinity(40.0 * other)), 20.0)
        };
        let into = Kilograms(part * have * 0.4);
        let what = match kind {
            0 => What::Conditioned {
                batch,
                dosed: Millilitres(1.0),
            },
            1 => What::Discarded {
                batch,
                mass: Kilograms(left * part * 0.3),
            },
            2 | 3 => What::Drawn {
                batch,
                pool,
                mass: Kilograms(left * part * 0.4),
            },
            4 => What::Filled {
                pool,
                mass: into,
                source,
            },
            5 | 6 => What::ToppedUp {
                pool,
                mass: into,
                source,
            },
            7 | 8 if held > 0.0 => What::Evaporated {
                pool,
                mass: Kilograms(now.water(pool) * part * 0.9),
            },
            9..=11 if held > 0.0 => {
                let removed = Kilograms(held * other * 0.999);
                What::Changed {
                    pool,
                    removed,
                    added: into,
                    source,
                }
            }
            _ => continue,
        };
        so_far = push(what);
    }
    so_far
}

/// What the batches of a history are believed to hold, in g/kg.
fn salinities() -> BTreeMap<BatchId, f64> {
    let salt = |number: u32| {
        if number.is_multiple_of(2) {
            0.0
        } else {
            30.0 + f64::from(number)
        }
    };
    (0..BATCHES)
        .map(|number| (BatchId(number), salt(number)))
        .collect()
}

fn ledger(events: &[Event]) -> Ledger {
    let mut ledger = Ledger::new(Rules::default()).unwrap();
    for event in events {
        ledger.apply(*event).unwrap();
    }
    ledger
}

fn near(got: f64, want: f64) -> Result<(), TestCaseError> {
    prop_assert!(
        (got - want).abs() <= 1e-9 * want.abs().max(1e-3),
        "{got} is not {want}"
    );
    Ok(())
}

proptest! {
    #[test]
    fn water_and_salt_are_conserved(choices in prop::collection::vec(any_choice(), 0..40)) {
        let balance = ledger(&history(&choices)).balance();
        let lost = |entered: f64, here: f64, gone: f64| (entered - here - gone).abs() / entered;
        let (mass, salt) = (
            lost(balance.entered.mass.0, balance.here.mass.0, balance.gone.mass.0),
            lost(balance.entered.salt.0, balance.here.salt.0, balance.gone.salt.0),
        );
        prop_assert!(mass < 1e-12 && salt < 1e-12, "{mass}, {salt}");
    }

    #[test]
    fn every_pool_holds_what_its_pours_left(choices in prop::collection::vec(any_choice(), 0..40)) {
        let events = history(&choices);
        let (ledger, brute) = (ledger(&events), Brute::of(&events, &salinities()));
        for pool in (0..POOLS).map(PoolId) {
            let Some(got) = ledger.pool(pool) else {
                prop_assert!(brute.mass(pool) == 0.0);
                continue;
            };
            near(got.mass.0, brute.mass(pool))?;
            near(got.salinity.0, brute.salt(pool) / brute.mass(pool) * 1000.0)?;
            for batch in (0..BATCHES).map(BatchId) {
                let share = got.shares.get(&batch).copied().unwrap_or(0.0);
                near(share, brute.of_batch(pool, batch, false).0 / brute.water(pool))?;
            }
        }
        for batch in ledger.batches() {
            near(batch.left.0, brute.left[&batch.id])?;
        }
    }

    #[test]
    fn every_affected_pool_is_found_and_no_other(
        choices in prop::collection::vec(any_choice(), 0..40),
        batch in (0..BATCHES).prop_map(BatchId),
        chlorine in 0.1..=5.0_f64,
    ) {
        let events = history(&choices);
        let (ledger, brute) = (ledger(&events), Brute::of(&events, &salinities()));
        let trail = ledger.trail(batch, Wrong::Chlorine(MilligramsPerLitre(chlorine)), &Means::default()).unwrap();
        let pools: Vec<PoolId> = trail.pools.iter().map(|reached| reached.pool).collect();
        let want: Vec<PoolId> = (0..POOLS).map(PoolId).filter(|pool| brute.ever.contains(&(batch, false, *pool))).collect();
        prop_assert_eq!(pools, want);
        for reached in &trail.pools {
            let (water, mark) = brute.of_batch(reached.pool, batch, true);
            let mass = brute.mass(reached.pool);
            near(reached.share, water / brute.water(reached.pool))?;
            near(reached.dissolved, mark / mass)?;
            // The mg that are in the pool: those of the litres that came.
            let mg = chlorine * to_litres(Kilograms(mark), Salinity(salinities()[&batch])).0;
            match reached.found {
                Found::Chlorine(now) => near(now.0 * reached.litres.0, mg)?,
                Found::Gone => prop_assert!(mark / mass < 1e-9),
                Found::Salinity { .. } => prop_assert!(false, "{:?}", reached),
            }
        }
    }

    #[test]
    fn a_wrong_salinity_is_what_the_pours_hold_and_the_fix_meets_its_target(
        choices in prop::collection::vec(any_choice(), 0..40),
        batch in (0..BATCHES).prop_map(BatchId),
        truly in 0.0..=60.0_f64,
        target in prop::option::of(0.0..=40.0_f64),
    ) {
        let events = history(&choices);
        let ledger = ledger(&events);
        let mut true_salinities = salinities();
        true_salinities.insert(batch, truly);
        let (brute, believed_by) = (Brute::of(&events, &true_salinities), Brute::of(&events, &salinities()));
        let targets = (0..POOLS).filter_map(|pool| Some((PoolId(pool), Salinity(target?)))).collect();
        let means = Means { targets, ..Means::default() };
        // With more salt than was believed there may be less water than is said to have evaporated.
        let trail = match ledger.trail(batch, Wrong::Salinity(Salinity(truly)), &means) {
            Err(Problem::Dry { .. }) => return Ok(()),
            other => other.unwrap(),
        };
        let pools: Vec<PoolId> = trail.pools.iter().map(|reached| reached.pool).collect();
        let ever = |pool: &PoolId| [false, true].iter().any(|treated| brute.ever.contains(&(batch, *treated, *pool)));
        prop_assert_eq!(pools, (0..POOLS).map(PoolId).filter(ever).collect::<Vec<_>>());
        for reached in &trail.pools {
            let (mass, salt) = (brute.mass(reached.pool), brute.salt(reached.pool));
            near(reached.mass.0, mass)?;
            let Found::Salinity { now, believed } = reached.found else {
                continue;
            };
            near(now.0, salt / mass * 1000.0)?;
            near(believed.0, believed_by.salt(reached.pool) / believed_by.mass(reached.pool) * 1000.0)?;
            let wanted = target.unwrap_or(believed.0);
            match reached.fix {
                Fix::Nothing => prop_assert!((now.0 - wanted).abs() < 0.05 + 1e-9),
                Fix::Salt { grams, .. } => {
                    near((salt + grams.0 / 1000.0) / (mass + grams.0 / 1000.0) * 1000.0, wanted)?;
                }
                Fix::Change { share, mass: changed } => {
                    near(salt * (1.0 - share) / mass * 1000.0, wanted)?;
                    near(changed.0, mass * share)?;
                }
                Fix::Condition { .. } => prop_assert!(false, "{:?}", reached),
            }
        }
    }

    #[test]
    fn an_offer_is_never_more_than_is_wanted_or_left(
        choices in prop::collection::vec(any_choice(), 0..40),
        wanted in 0.1..=200.0_f64,
        at in 0.0..=30.0_f64,
    ) {
        let ledger = ledger(&history(&choices));
        let offer = ledger.offer(Water::Salt, Litres(wanted), None, day(at)).unwrap();
        let given: f64 = offer.parts.iter().map(|part| part.litres.0).sum();
        near(given + offer.short.0, wanted)?;
        for part in &offer.parts {
            let batch = ledger.batch(part.batch).unwrap();
            prop_assert!(part.mass.0 <= batch.left.0 * (1.0 + 1e-12) && batch.conditioned && part.use_by >= day(at));
        }
        prop_assert!(offer.parts.is_sorted_by_key(|part| ledger.batch(part.batch).unwrap().made_at));
        for (batch, left, _) in &offer.aside {
            prop_assert!(left.0 > 0.0 && offer.parts.iter().all(|part| part.batch != *batch));
        }
    }

    #[test]
    fn no_number_panics_and_none_is_odd(
        numbers in prop::array::uniform8(prop_oneof![
            prop::sample::select(vec![0.0, -1.0, 1e-9, 5e-324, 1e300, 1e6, 300.0]),
            0.0..=50.0_f64,
            prop::num::f64::ANY,
        ]),
    ) {
        let [a, b, c, d, e, f, g, h] = numbers;
        let (batch, pool) = (BatchId(1), PoolId(1));
        let source = Source::Other(Salinity(e));
        let mut ledger = Ledger::new(Rules { keep: Days(3650.0) }).unwrap();
        let whats = [
            made(batch, Water::Fresh, a, b, true),
            What::Drawn { batch, pool, mass: Kilograms(c) },
            What::Evaporated { pool, mass: Kilograms(d) },
            What::Changed { pool, removed: Kilograms(d), added: Kilograms(f), source },
            What::Measured { batch, salinity: Salinity(g) },
            What::ToppedUp { pool, mass: Kilograms(h), source: Source::Batch(batch) },
            What::Evaporated { pool, mass: Kilograms(f) },
            What::Evaporated { pool, mass: Kilograms(h) },
        ];
        for (number, what) in (0_u64..).zip(whats) {
            // What cannot be is refused; the rest goes on.
            let taken = ledger.apply(Event { id: EventId(number), at: day(0.0), what });
            prop_assert!(taken.is_ok() || taken.is_err_and(|problem| !problem.to_string().is_empty()));
        }
        let means = Means { label: Some((Millilitres(a), Litres(b))), targets: [(pool, Salinity(c))].into(), ..Means::default() };
        let mut found = Vec::new();
        for wrong in [Wrong::Chlorine(MilligramsPerLitre(g)), Wrong::Salinity(Salinity(h))] {
            for means in [&means, &Means::default()] {
                let trail = ledger.trail(batch, wrong, means);
                found.extend(trail.into_iter().flat_map(|trail| trail.pools));
            }
        }
        for reached in found {
            let mut all = vec![reached.share, reached.dissolved, reached.mass.0, reached.litres.0];
            match reached.found {
                Found::Chlorine(now) => all.push(now.0),
                Found::Salinity { now, believed } => all.extend([now.0, believed.0]),
                Found::Gone => {}
            }
            match reached.fix {
                Fix::Condition { litres, dose } => all.extend([litres.0, dose.map_or(0.0, |dose| dose.0)]),
                Fix::Change { share, mass } => all.extend([share, mass.0]),
                Fix::Salt { grams, .. } => all.push(grams.0),
                Fix::Nothing => {}
            }
            for number in all {
                prop_assert!(number.is_finite() && number >= 0.0, "{number} in {reached:?}");
            }
        }
        for volume in [litres(Kilograms(a), Salinity(b)).map(|all| all.0), kilograms(Litres(a), Salinity(b)).map(|all| all.0)] {
            prop_assert!(volume.is_err() || volume.is_ok_and(|all| all.is_finite() && all > 0.0));
        }
        let balance = ledger.balance();
        prop_assert!(balance.entered.mass.0.is_finite() && balance.here.salt.0.is_finite());
    }
}
