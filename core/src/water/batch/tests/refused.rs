//! What a ledger refuses.

use super::*;

/// A ledger with 5 of 9 kg left of A, 4 in a pool, and nothing else.
fn refusing() -> Ledger {
    ledger(&[
        made(A, Water::Salt, 9.0, 35.0, true),
        filled(POOL, 4.0, Source::Batch(A)),
    ])
}

/// Each of these is refused on its day for this reason, and the ledger stays as it was.
fn check_refused(cases: impl IntoIterator<Item = (f64, What, Problem)>) {
    let mut ledger = refusing();
    let (pool, batch) = (ledger.pool(POOL), *ledger.batch(A).unwrap());
    for (days, what, problem) in cases {
        assert_eq!(next(&mut ledger, 99, days, what), Err(problem), "{what:?}");
        assert_eq!(
            (ledger.pool(POOL), *ledger.batch(A).unwrap()),
            (pool.clone(), batch),
            "{what:?}"
        );
        assert_eq!(ledger.pool(OTHER), None);
    }
}

#[test]
fn more_than_is_there_changes_nothing() {
    let (asked, left, held) = (Kilograms(5.1), Kilograms(5.0), Kilograms(4.0));
    let too_little = Problem::TooLittleLeft {
        batch: A,
        left,
        asked,
    };
    let vapour = Kilograms(3.9);
    let dry = Problem::Dry {
        pool: POOL,
        water: Kilograms(4.0 * 0.965),
        asked: vapour,
    };
    let pool_too_little = Problem::PoolTooLittle {
        pool: POOL,
        held,
        asked,
    };
    check_refused([
        (2.0, drawn(A, OTHER, 5.1), too_little.clone()),
        (2.0, filled(POOL, 5.1, Source::Batch(A)), too_little.clone()),
        (
            2.0,
            What::Discarded {
                batch: A,
                mass: asked,
            },
            too_little,
        ),
        (2.0, changed(POOL, 5.1, FRESH), pool_too_little),
        (
            2.0,
            What::Evaporated {
                pool: POOL,
                mass: vapour,
            },
            dry,
        ),
    ]);
}

#[test]
fn what_cannot_be_changes_nothing() {
    let unknown = Problem::UnknownBatch { batch: B };
    let salinity = Salinity(1.0);
    let backwards = Problem::Backwards {
        last: day(1.0),
        at: day(0.5),
    };
    let brine = Source::Other(Salinity(400.0));
    check_refused([
        (2.0, drawn(B, POOL, 1.0), unknown.clone()),
        (2.0, What::Measured { batch: B, salinity }, unknown.clone()),
        (
            2.0,
            made(A, Water::Salt, 1.0, 35.0, true),
            Problem::MadeTwice { batch: A },
        ),
        (0.5, drawn(A, POOL, 1.0), backwards),
        (2.0, drawn(A, POOL, -1.0), Problem::Mass { value: -1.0 }),
        (2.0, filled(POOL, 1.0, brine), Problem::Salinity { value: 400.0 }),
    ]);
    let again = next(&mut refusing(), 1, 2.0, drawn(A, POOL, 1.0));
    assert_eq!(again, Err(Problem::KnownEvent { id: EventId(1) }));
    let chlorine = Wrong::Chlorine(MilligramsPerLitre(1.0));
    assert_eq!(refusing().trail(B, chlorine, &Means::default()), Err(unknown));
    let means = Means {
        label: Some((Millilitres(1.0), Litres(0.0))),
        ..Means::default()
    };
    let label = Problem::Label { dose: 1.0, per: 0.0 };
    assert_eq!(refusing().trail(A, chlorine, &means), Err(label));
    assert!(Ledger::new(Rules { keep: Days(0.0) }).is_err());
}
