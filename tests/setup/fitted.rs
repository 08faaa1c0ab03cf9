//! Gear: what is written, which cadence is said to hold, and why.

use wrackline::lines::ask::{GearVerb, SetUp};
use wrackline_core::care::Duty;
use wrackline_core::journal::{Event, GearChange};
use wrackline_core::place::{Gear, PoolId, Water};

use super::{Rig, SALT, gear, holds, march, pool_add, pool_spot};

const ADD: GearVerb = GearVerb::Add { proven: false };

#[test]
fn air_waits_for_the_first_change_under_it() {
    let mut rig = Rig::north();
    holds(&rig.hear(SetUp::GearList), &["No gear is fitted"]);
    rig.wait(1);
    let text = rig.hear(gear(Gear::Air, ADD));
    holds(
        &text,
        &[
            "North salt: air from 13:40. Next: change, Friday 6 March 08:00.",
            "the cadence of a still pool holds: a change every 2 days. After it: every 7 days.",
            "drip loop",
        ],
    );
    rig.wait(1);
    rig.did(Duty::Change);
    let text = rig.hear(gear(Gear::Air, GearVerb::Stop));
    holds(
        &text,
        &[
            "the air stands still from 14:40",
            "Without its air the pool is still: a change every 2 days.",
        ],
    );
    holds(
        &rig.hear(SetUp::GearList),
        &["North salt | air, stands still since 14:40 | 13:40"],
    );
    holds(
        &rig.hear(gear(Gear::Air, GearVerb::Start)),
        &["the air runs again", "Change: all 8 L every 7 days."],
    );
    let text = rig.hear(gear(Gear::Air, GearVerb::Retire));
    holds(&text, &["the air is taken off", "Change: all 8 L every 2 days."]);
    assert_eq!(rig.place().pools[&SALT].air, None);
    // What was taken off may be fitted again.
    holds(&rig.hear(gear(Gear::Air, ADD)), &["air from 14:40"]);
}

#[test]
fn air_of_the_pools_first_day_counts_at_once() {
    let mut rig = Rig::north();
    let text = rig.hear(gear(Gear::Air, ADD));
    holds(
        &text,
        &[
            "Next: change, Wednesday 11 March 08:00.",
            "Change: all 8 L every 7 days.",
        ],
    );
}

#[test]
fn a_filter_counts_once_it_is_proven() {
    let mut rig = Rig::north();
    rig.wait(1);
    let text = rig.hear(gear(Gear::Filter, ADD));
    holds(
        &text,
        &[
            "North salt: filter fitted from 13:40, its cycle not proven. Next: change, Friday 6 March 08:00.",
            "keeps the cadence that it has without the filter: a change every 2 days.",
            "/gear set north salt filter proven",
        ],
    );
    assert_eq!(
        rig.place().pools[&SALT].filter.map(|fitted| fitted.proven),
        Some(None)
    );
    let text = rig.hear(gear(Gear::Filter, GearVerb::Proven));
    holds(
        &text,
        &[
            "the filter's cycle is proven from 13:40",
            "holds: a change every 2 days. After it: a part change, 4 L of 8 L, every 7 days.",
        ],
    );
    rig.wait(1);
    rig.did(Duty::Change);
    let text = rig.hear(gear(Gear::Filter, GearVerb::Stop));
    holds(
        &text,
        &["While the filter stands still the cadence without it holds: a change every 2 days."],
    );
    assert_eq!(
        rig.place().pools[&SALT].filter.and_then(|fitted| fitted.stopped),
        Some(march(4, 14, 40))
    );
    let text = rig.hear(gear(Gear::Filter, GearVerb::Start));
    holds(
        &text,
        &[
            "the filter runs again",
            "Next: part change",
            "Part change: 4 L of 8 L every 7 days.",
        ],
    );
    assert!(!text.contains("stood still for"), "{text}");
}

#[test]
fn a_filter_that_rested_is_not_trusted() {
    for (hours, part) in [
        (4, None),
        (5, Some("rinsed in pool water")),
        (30, Some("proven again")),
    ] {
        let mut rig = Rig::north();
        rig.hear(gear(Gear::Filter, GearVerb::Add { proven: true }));
        rig.hear(gear(Gear::Filter, GearVerb::Stop));
        rig.wait(hours);
        let text = rig.hear(gear(Gear::Filter, GearVerb::Start));
        match part {
            Some(part) => holds(&text, &[&format!("The filter stood still for {hours} h."), part]),
            None => assert!(!text.contains("stood still for"), "{text}"),
        }
    }
}

#[test]
fn gear_of_several_pools() {
    let mut rig = Rig::north();
    rig.hear(pool_add(Water::Fresh, 6.0, Vec::new()));
    let spot = pool_spot(&[PoolId(2), SALT]);
    let text = rig.hear(SetUp::Gear {
        spot,
        gear: Gear::Air,
        verb: ADD,
        from: None,
    });
    holds(
        &text,
        &[
            "North fresh and North salt: air from 12:40.",
            "North fresh: Next:",
            "North salt: Next:",
        ],
    );
    assert!(rig.place().pools.values().all(|pool| pool.air.is_some()));
    assert_eq!(
        rig.book
            .entries()
            .filter(|one| matches!(one.event, Event::Gear(..)))
            .count(),
        2
    );
    let retracted = rig.book.last_seq();
    rig.write(rig.now, Event::Retract(retracted));
    // A retracted change does not stand in the way of a new one.
    holds(&rig.hear(gear(Gear::Air, ADD)), &["North salt: air from 12:40."]);
    assert!(
        rig.book
            .entries()
            .any(|one| one.event == Event::Gear(SALT, Gear::Air, GearChange::Added { proven: false }))
    );
}
