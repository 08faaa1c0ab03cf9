//! Ledgers by hand.

mod refused;

use jiff::SignedDuration;

use super::*;
use crate::quantity::{Grams, MilligramsPerLitre};

const A: BatchId = BatchId(1);
const B: BatchId = BatchId(2);
const POOL: PoolId = PoolId(7);
const OTHER: PoolId = PoolId(8);
const FRESH: Source = Source::Other(Salinity(0.0));

/// A moment, in days after the first event.
pub(super) fn day(days: f64) -> Timestamp {
    let start: Timestamp = "2026-03-01T08:00:00Z".parse().unwrap();
    start + SignedDuration::from_secs_f64(days * 86_400.0)
}

pub(super) fn made(batch: BatchId, water: Water, kg: f64, salinity: f64, conditioned: bool) -> What {
    let (mass, salinity, dosed) = (Kilograms(kg), Salinity(salinity), Millilitres(0.0));
    What::Made {
        batch,
        water,
        mass,
        salinity,
        conditioned,
        dosed,
    }
}

fn drawn(batch: BatchId, pool: PoolId, kg: f64) -> What {
    What::Drawn {
        batch,
        pool,
        mass: Kilograms(kg),
    }
}

fn changed(pool: PoolId, kg: f64, source: Source) -> What {
    What::Changed {
        pool,
        removed: Kilograms(kg),
        added: Kilograms(kg),
        source,
    }
}

fn filled(pool: PoolId, kg: f64, source: Source) -> What {
    What::Filled {
        pool,
        mass: Kilograms(kg),
        source,
    }
}

/// A ledger of events a day apart, the first on day 0.
fn ledger(events: &[What]) -> Ledger {
    let mut ledger = Ledger::new(Rules::default()).unwrap();
    for (number, what) in (0_u32..).zip(events) {
        let (id, at) = (EventId(number.into()), day(number.into()));
        ledger.apply(Event { id, at, what: *what }).unwrap();
    }
    ledger
}

/// What the next event of a ledger gives, on a day.
fn next(ledger: &mut Ledger, id: u64, days: f64, what: What) -> Result<Vec<Warning>, Problem> {
    ledger.apply(Event {
        id: EventId(id),
        at: day(days),
        what,
    })
}

fn near(got: f64, want: f64) {
    assert!(
        (got - want).abs() < 1e-9 * want.abs().max(1.0),
        "{got} is not {want}"
    );
}

#[test]
fn chlorine_is_followed_through_changes_top_ups_and_vapour() {
    let ledger = ledger(&[
        made(A, Water::Fresh, 30.0, 0.0, false),
        filled(POOL, 10.0, Source::Batch(A)),
        // Half goes, half is new: half of it is A.
        changed(POOL, 5.0, FRESH),
        filled(OTHER, 8.0, FRESH),
        // A fifth of the water goes as vapour: 4 of 8 kg are A, and what 5 kg held is in 8.
        What::Evaporated {
            pool: POOL,
            mass: Kilograms(2.0),
        },
    ]);
    let label = Some((Millilitres(5.0), Litres(10.0)));
    let means = Means {
        label,
        ..Means::default()
    };
    let four = Wrong::Chlorine(MilligramsPerLitre(4.0));
    let trail = ledger.trail(A, four, &means).unwrap();
    assert_eq!((trail.left, trail.pools.len()), (Kilograms(20.0), 1));
    let reached = &trail.pools[0];
    assert_eq!(
        (reached.pool, reached.first, reached.drawn),
        (POOL, day(1.0), Kilograms(10.0))
    );
    near(reached.share, 0.5);
    near(reached.dissolved, 5.0 / 8.0);
    let Found::Chlorine(now) = reached.found else {
        panic!("{reached:?}")
    };
    near(now.0, 2.5);
    near(reached.litres.0, 8.0 / density(Salinity(0.0)));
    let Fix::Condition {
        litres,
        dose: Some(dose),
    } = reached.fix
    else {
        panic!("{reached:?}")
    };
    near(litres.0, reached.litres.0);
    near(dose.0, reached.litres.0 / 2.0);
}

#[test]
fn what_was_drawn_after_conditioning_is_fine() {
    let mut events = vec![
        made(A, Water::Fresh, 30.0, 0.0, false),
        What::Conditioned {
            batch: A,
            dosed: Millilitres(3.0),
        },
        filled(POOL, 10.0, Source::Batch(A)),
    ];
    let four = Wrong::Chlorine(MilligramsPerLitre(4.0));
    assert_eq!(
        ledger(&events).trail(A, four, &Means::default()).unwrap().pools,
        []
    );
    events.swap(1, 2);
    events.push(drawn(A, POOL, 10.0));
    let trail = ledger(&events).trail(A, four, &Means::default()).unwrap();
    near(trail.pools[0].share, 0.5);
    assert_eq!(trail.pools[0].drawn, Kilograms(10.0));
    assert!(matches!(trail.pools[0].fix, Fix::Condition { dose: None, .. }));
    // A wrong salinity, in contrast, is in both.
    let salty = Wrong::Salinity(Salinity(2.0));
    near(
        ledger(&events).trail(A, salty, &Means::default()).unwrap().pools[0].share,
        1.0,
    );
}

#[test]
fn a_pool_that_was_filled_anew_is_named_as_gone() {
    let ledger = ledger(&[
        made(A, Water::Fresh, 30.0, 0.0, true),
        filled(POOL, 10.0, Source::Batch(A)),
        filled(POOL, 10.0, FRESH),
        filled(OTHER, 5.0, FRESH),
    ]);
    let trail = ledger
        .trail(A, Wrong::Chlorine(MilligramsPerLitre(1.0)), &Means::default())
        .unwrap();
    assert_eq!(trail.pools.len(), 1);
    assert_eq!(
        (trail.pools[0].found, trail.pools[0].fix),
        (Found::Gone, Fix::Nothing)
    );
}

#[test]
fn a_wrong_salinity_is_found_and_mended() {
    let events = [
        made(A, Water::Salt, 10.0, 35.0, true),
        filled(POOL, 10.0, Source::Batch(A)),
        made(B, Water::Salt, 10.0, 35.0, true),
        changed(POOL, 5.0, Source::Batch(B)),
    ];
    let ledger = ledger(&events);
    // B had 25: half of 35 and half of 25 is 30. Salt: 10 kg (35 - 30) / 965 is 51.81 g.
    let trail = ledger
        .trail(B, Wrong::Salinity(Salinity(25.0)), &Means::default())
        .unwrap();
    let Found::Salinity { now, believed } = trail.pools[0].found else {
        panic!("{trail:?}")
    };
    near(now.0, 30.0);
    near(believed.0, 35.0);
    let Fix::Salt {
        grams: Grams(grams), ..
    } = trail.pools[0].fix
    else {
        panic!("{trail:?}")
    };
    near(grams, 10_000.0 * 5.0 / 965.0);
    // B had 45: 40, and an eighth of the water goes. For a target of 32, a fifth.
    for (target, share) in [(None, 0.125), (Some(Salinity(32.0)), 0.2)] {
        let targets = target.into_iter().map(|target| (POOL, target)).collect();
        let means = Means {
            targets,
            ..Means::default()
        };
        let trail = ledger.trail(B, Wrong::Salinity(Salinity(45.0)), &means).unwrap();
        let Fix::Change { share: got, mass } = trail.pools[0].fix else {
            panic!("{trail:?}")
        };
        near(got, share);
        near(mass.0, 10.0 * share);
    }
    let trail = ledger
        .trail(B, Wrong::Salinity(Salinity(35.05)), &Means::default())
        .unwrap();
    assert_eq!(trail.pools[0].fix, Fix::Nothing);
}

#[test]
fn the_mass_balance_matches_published_figures() {
    // 35 to 33: 0.05714 of the water. 10 kg from 33 to 35: 20.73 g.
    let to = |target| Means {
        targets: [(POOL, Salinity(target))].into(),
        ..Means::default()
    };
    let ten = Kilograms(10.0);
    let Fix::Change { share, .. } = to(33.0).against_salinity(POOL, ten, Salinity(35.0), Salinity(35.0))
    else {
        panic!("a change");
    };
    assert!((share - 0.057_14).abs() < 1e-5);
    let Fix::Salt { grams, .. } = to(35.0).against_salinity(POOL, ten, Salinity(33.0), Salinity(33.0)) else {
        panic!("salt");
    };
    assert!((grams.0 - 20.73).abs() < 0.005);
}

#[test]
fn a_reading_holds_for_what_was_drawn_before() {
    let mut ledger = ledger(&[
        made(A, Water::Salt, 20.0, 35.0, true),
        filled(POOL, 10.0, Source::Batch(A)),
    ]);
    near(ledger.pool(POOL).unwrap().salinity.0, 35.0);
    let salinity = Salinity(33.0);
    next(&mut ledger, 9, 2.0, What::Measured { batch: A, salinity }).unwrap();
    near(ledger.pool(POOL).unwrap().salinity.0, 33.0);
    assert_eq!(ledger.batch(A).unwrap().measured, Some(day(2.0)));
}

#[test]
fn vapour_leaves_salt_and_fresh_water_brings_it_back() {
    // A tenth lost takes 35 to 38.889; as much fresh water brings 35 back.
    let mut ledger = ledger(&[
        filled(POOL, 10.0, Source::Other(Salinity(35.0))),
        What::Evaporated {
            pool: POOL,
            mass: Kilograms(1.0),
        },
    ]);
    near(ledger.pool(POOL).unwrap().salinity.0, 350.0 / 9.0);
    next(
        &mut ledger,
        9,
        2.0,
        What::ToppedUp {
            pool: POOL,
            mass: Kilograms(1.0),
            source: FRESH,
        },
    )
    .unwrap();
    near(ledger.pool(POOL).unwrap().salinity.0, 35.0);
}

#[test]
fn the_oldest_usable_batch_is_offered_first() {
    let mut ledger = ledger(&[
        made(BatchId(1), Water::Fresh, 5.0, 0.0, true),
        made(BatchId(2), Water::Fresh, 5.0, 0.0, false),
        made(BatchId(3), Water::Salt, 5.0, 35.0, true),
        made(BatchId(4), Water::Fresh, 5.0, 0.0, true),
        made(BatchId(5), Water::Fresh, 5.0, 0.0, true),
        What::Condemned { batch: BatchId(5) },
        What::Discarded {
            batch: BatchId(1),
            mass: Kilograms(2.0),
        },
    ]);
    let five = 5.0 / density(Salinity(0.0));
    let offered = |ledger: &Ledger, litres, days| {
        let offer = ledger
            .offer(Water::Fresh, Litres(litres), None, day(days))
            .unwrap();
        let parts: Vec<(u32, f64)> = offer
            .parts
            .iter()
            .map(|part| (part.batch.0, part.mass.0))
            .collect();
        let aside: Vec<(u32, Aside)> = offer
            .aside
            .iter()
            .map(|(batch, _, why)| (batch.0, *why))
            .collect();
        (parts, offer.short.0, aside)
    };
    let aside = vec![(2, Aside::Unconditioned), (5, Aside::Condemned)];
    assert_eq!(offered(&ledger, five, 7.0).2, aside);
    let (parts, short, _) = offered(&ledger, five, 7.0);
    assert_eq!((parts[0], parts[1].0, short), ((1, 3.0), 4, 0.0));
    near(parts[1].1, 2.0);
    let (parts, short, _) = offered(&ledger, 20.0, 7.0);
    assert_eq!(parts, [(1, 3.0), (4, 5.0)]);
    near(short, 20.0 - 8.0 / density(Salinity(0.0)));
    // Past two weeks the first is put aside; on the day itself it is good.
    assert_eq!(offered(&ledger, 20.0, 14.0).0[0].0, 1);
    assert_eq!(
        offered(&ledger, 20.0, 14.1).2[0],
        (1, Aside::PastUseBy(day(14.0)))
    );
    let measure_first = |ledger: &Ledger| {
        ledger
            .offer(Water::Salt, Litres(1.0), None, day(8.0))
            .unwrap()
            .parts[0]
            .measure_first
    };
    assert!(measure_first(&ledger));
    next(
        &mut ledger,
        50,
        8.0,
        What::Measured {
            batch: BatchId(3),
            salinity: Salinity(34.0),
        },
    )
    .unwrap();
    assert!(!measure_first(&ledger));
}

#[test]
fn check_warnings() {
    let mut ledger = ledger(&[made(A, Water::Salt, 9.0, 35.0, false)]);
    let warnings = next(&mut ledger, 10, 1.0, filled(POOL, 1.0, Source::Batch(A))).unwrap();
    assert_eq!(
        warnings,
        [
            Warning::Unconditioned { batch: A },
            Warning::Unmeasured { batch: A }
        ]
    );
    next(
        &mut ledger,
        11,
        2.0,
        What::Measured {
            batch: A,
            salinity: Salinity(35.0),
        },
    )
    .unwrap();
    next(
        &mut ledger,
        12,
        2.0,
        What::Conditioned {
            batch: A,
            dosed: Millilitres(1.0),
        },
    )
    .unwrap();
    assert_eq!(next(&mut ledger, 13, 14.0, drawn(A, POOL, 1.0)), Ok(vec![]));
    let late = Warning::PastUseBy {
        batch: A,
        use_by: day(14.0),
    };
    assert_eq!(
        next(&mut ledger, 14, 15.0, changed(POOL, 1.0, Source::Batch(A))),
        Ok(vec![late])
    );
    next(&mut ledger, 15, 15.0, What::Condemned { batch: A }).unwrap();
    let warnings = next(&mut ledger, 16, 15.0, drawn(A, POOL, 1.0)).unwrap();
    assert_eq!(warnings, [late, Warning::Condemned { batch: A }]);
    // What is thrown away needs no warning.
    let all = What::Discarded {
        batch: A,
        mass: Kilograms(5.0),
    };
    assert_eq!(next(&mut ledger, 17, 15.0, all), Ok(vec![]));
    assert_eq!(ledger.batch(A).unwrap().left, Kilograms(0.0));
}

#[test]
fn a_day_that_was_said_goes_before_the_rule() {
    let mut ledger = ledger(&[made(A, Water::Fresh, 9.0, 0.0, true)]);
    let use_by = day(3.0);
    next(&mut ledger, 10, 1.0, What::Dated { batch: A, use_by }).unwrap();
    assert_eq!(ledger.batch(A).unwrap().use_by, use_by);
    assert_eq!(next(&mut ledger, 11, 3.0, drawn(A, POOL, 1.0)), Ok(vec![]));
    let late = Warning::PastUseBy { batch: A, use_by };
    assert_eq!(next(&mut ledger, 12, 3.1, drawn(A, POOL, 1.0)), Ok(vec![late]));
    let unknown = next(&mut ledger, 13, 4.0, What::Dated { batch: B, use_by });
    assert_eq!(unknown, Err(Problem::UnknownBatch { batch: B }));
}

#[test]
fn litres_and_kilograms_undo_each_other() {
    // 10 L of sea water of 35 g/kg at 25 °C: 10.2334 kg.
    let mass = kilograms(Litres(10.0), Salinity(35.0)).unwrap();
    assert!((mass.0 - 10.233_430_6).abs() < 1e-7, "{mass:?}");
    let fresh = kilograms(Litres(1.0), Salinity(0.0)).unwrap();
    assert!((fresh.0 - 0.997_047_96).abs() < 1e-8, "{fresh:?}");
    near(litres(mass, Salinity(35.0)).unwrap().0, 10.0);
    assert_eq!(
        litres(mass, Salinity(-1.0)),
        Err(Problem::Salinity { value: -1.0 })
    );
    assert_eq!(
        kilograms(Litres(0.0), Salinity(0.0)),
        Err(Problem::Volume { value: 0.0 })
    );
}
