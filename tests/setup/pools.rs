//! Pools: what is written, and what is said of it.

use wrackline::lines::ask::{GearVerb, PoolField, SetUp};
use wrackline_core::place::{Gear, Life, PoolId, Water};
use wrackline_core::quantity::Units;

use super::{NORTH, Rig, SALT, gear, holds, life, march, pool_add, pool_set};

const ADD: GearVerb = GearVerb::Add { proven: false };

#[test]
fn a_new_still_pool() {
    let mut rig = Rig::bare();
    rig.hear(super::enclosure_add("North", 400.0));
    holds(&rig.hear(SetUp::PoolList), &["No pools yet"]);
    let text = rig.hear(pool_add(Water::Salt, 8.0, Vec::new()));
    holds(
        &text,
        &[
            "North salt: 8 L of salt water, in use from 12:40. Next: change, Friday 6 March 08:00.",
            "Change: all 8 L every 2 days.",
            "Also: top-up, Thursday 5 March 08:00;",
        ],
    );
    let pool = rig.place().pools[&SALT].clone();
    assert_eq!(
        (pool.litres, pool.life, pool.since),
        (8.0, Life::InUse, march(4, 12, 40))
    );
    holds(
        &rig.hear(SetUp::PoolList),
        &["1 pool", "North salt | 8 L | in use | –"],
    );
    // A second one in use could not be told apart by name; one may be made ready beside it.
    holds(
        &rig.refused(pool_add(Water::Salt, 3.0, Vec::new())),
        &["North has a pool of salt water already"],
    );
    holds(
        &rig.hear(pool_add(Water::Salt, 3.0, vec![PoolField::Life(Life::LeakTest)])),
        &["North salt 2: 3 L of salt water"],
    );
}

#[test]
fn a_pool_as_large_as_its_enclosure_in_other_units() {
    let mut rig = Rig::bare();
    rig.hear(SetUp::PlaceSet(vec![wrackline::lines::ask::PlaceField::Units(
        Units::Us,
    )]));
    rig.hear(super::enclosure_add("North", 378.541_178_4));
    let text = rig.hear(pool_add(Water::Fresh, 3.785_411_784, Vec::new()));
    holds(&text, &["North fresh: 1 US gal of fresh water"]);
    holds(
        &rig.hear(pool_add(Water::Salt, 378.541_178_4, Vec::new())),
        &["100 US gal"],
    );
    holds(
        &rig.refused(pool_add(Water::Salt, 378.6, Vec::new())),
        &["holds in all, 100 US gal"],
    );
}

#[test]
fn an_older_pool_counts_from_then() {
    let mut rig = Rig::north();
    let from = Some(march(1, 9, 0));
    let fields = vec![PoolField::Nested(true), PoolField::Removable(false)];
    let ask = SetUp::PoolAdd {
        enclosure: NORTH,
        water: Water::Fresh,
        litres: 6.0,
        fields,
        from,
    };
    holds(
        &rig.hear(ask),
        &["in use from Sunday 1 March 09:00. Next: change, due since Tuesday 3 March 08:00: ▅ overdue."],
    );
    let pool = rig.place().pools[&PoolId(2)].clone();
    assert_eq!(
        (pool.nested, pool.removable, pool.since),
        (true, false, march(1, 9, 0))
    );
    holds(
        &rig.hear(SetUp::PoolList),
        &["North fresh | 6 L | in use | nested, stationary"],
    );
}

#[test]
fn the_life_of_a_pool() {
    let mut rig = Rig::north();
    let text = rig.hear(pool_set(life(Life::OutOfUse)));
    holds(
        &text,
        &[
            "North salt: out of use from 12:40.",
            "No longer called: change, conditioning, top-up and scrub.",
            "No duty is called for it until it is in use: /pool set north salt life in use.",
        ],
    );
    let text = rig.hear(pool_set(life(Life::Cycling)));
    holds(
        &text,
        &[
            "North salt: cycling from 12:40. Next: top-up",
            "no filter that could cycle yet",
        ],
    );
    let text = rig.hear(gear(Gear::Filter, ADD));
    holds(
        &text,
        &[
            "Next: top-up",
            "North salt is cycling: no change is called",
            "water test",
        ],
    );
    rig.hear(gear(Gear::Filter, GearVerb::Proven));
    let text = rig.hear(pool_set(life(Life::InUse)));
    holds(
        &text,
        &[
            "North salt: in use from 12:40. Next: part change,",
            "Part change: 4 L of 8 L every 7 days.",
        ],
    );
    let text = rig.hear(pool_add(Water::Fresh, 6.0, vec![life(Life::Planned)]));
    holds(
        &text,
        &[
            "6 L of fresh water, planned from 12:40.",
            "No duty is called for it",
        ],
    );
    assert!(!text.contains("Next:"), "{text}");
    let text = rig.hear(pool_add(Water::Fresh, 6.0, vec![life(Life::LeakTest)]));
    holds(&text, &["leak test from 12:40."]);
}

#[test]
fn fields_of_a_pool() {
    let mut rig = Rig::north();
    holds(
        &rig.hear(pool_set(PoolField::Litres(6.5))),
        &["North salt: 6.5 L from 12:40, 8 L before."],
    );
    let text = rig.hear(pool_set(PoolField::Nested(true)));
    holds(
        &text,
        &[
            "one container in another; a leak check is called",
            "leak check, Wednesday 11 March 08:00",
        ],
    );
    let text = rig.hear(pool_set(PoolField::Nested(false)));
    holds(&text, &["a single container", "No longer called: leak check."]);
    holds(
        &rig.hear(pool_set(PoolField::Removable(false))),
        &["stays in its place and is siphoned"],
    );
    holds(
        &rig.hear(pool_set(PoolField::Removable(true))),
        &["lifts out whole"],
    );
    let text = rig.hear(SetUp::PoolRetire { pool: SALT });
    holds(
        &text,
        &[
            "North salt is no longer kept.",
            "No longer called: change,",
            "The journal keeps",
        ],
    );
    assert!(rig.place().pools.is_empty());
    rig.hear(pool_add(Water::Salt, 8.0, Vec::new()));
    assert!(
        rig.place().pools.contains_key(&PoolId(2)),
        "a retired number does not come back"
    );
}
