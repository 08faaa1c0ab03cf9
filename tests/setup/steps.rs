//! The steps of duties, and what can be said.

use wrackline::chat::blocks::Block;
use wrackline::desk::how::{help, how};
use wrackline::lines::ask::{EnclosureField, GearVerb, PoolField, SetUp, Spot};
use wrackline_core::care::{Duty, Every, Schedule};
use wrackline_core::place::{Gear, OwnDutyId, PoolId, QuietZone, Water};
use wrackline_core::quantity::Units;

use super::{NORTH, Rig, SALT, checked, enclosure_spot, gear, holds, pool_add, pool_set, pool_spot, said};

const FRESH: PoolId = PoolId(2);

#[track_caller]
fn steps(rig: &Rig, duty: Duty, spot: &Spot) -> String {
    rig.at_the_desk(|desk| {
        said(&how(desk, duty, spot).unwrap_or_else(|refused| panic!("{}", desk.say(&refused))))
    })
}

fn refused(rig: &Rig, duty: Duty, spot: &Spot) -> String {
    rig.at_the_desk(|desk| checked(desk.say(&how(desk, duty, spot).expect_err("a refusal"))))
}

/// A salt pool with everything fitted, and a small fresh one.
fn rig() -> Rig {
    let mut rig = Rig::north();
    rig.hear(gear(Gear::Air, GearVerb::Add { proven: false }));
    rig.hear(gear(Gear::Filter, GearVerb::Add { proven: true }));
    rig.hear(pool_set(PoolField::Nested(true)));
    rig.hear(pool_add(Water::Fresh, 3.0, vec![PoolField::Nested(true)]));
    rig
}

#[test]
fn as_many_steps_as_the_catalogue_says() {
    let mut rig = rig();
    for verb in [GearVerb::Add { proven: false }, GearVerb::Retire] {
        for pools in [[SALT], [FRESH]] {
            let (spot, count) = (pool_spot(&pools), |duty: Duty| {
                usize::try_from(duty.steps()).unwrap()
            });
            for duty in Duty::ALL {
                let fitted = &rig.place().pools[&pools[0]];
                if matches!(
                    (duty, fitted.filter, fitted.air),
                    (Duty::Rinse, None, _) | (Duty::AirCheck, _, None)
                ) {
                    continue;
                }
                let answer = rig.at_the_desk(|desk| how(desk, duty, &spot).expect("steps"));
                let Some(Block::Items { items }) =
                    answer.blocks.iter().find(|b| matches!(b, Block::Items { .. }))
                else {
                    panic!("{duty:?} has no steps");
                };
                assert_eq!(items.len(), count(duty), "{duty:?}");
                assert!((2..=6).contains(&items.len()), "{duty:?}");
                holds(
                    &said(&answer),
                    &[&format!("{} steps", items.len()), "Common practice"],
                );
            }
        }
        let spot = if verb == GearVerb::Retire {
            pool_spot(&[FRESH, SALT])
        } else {
            pool_spot(&[FRESH])
        };
        for one in [Gear::Air, Gear::Filter] {
            rig.hear(SetUp::Gear {
                spot: spot.clone(),
                gear: one,
                verb,
                from: None,
            });
        }
    }
}

#[test]
fn a_change_of_this_pool() {
    let mut rig = Rig::north();
    let text = steps(&rig, Duty::Change, &pool_spot(&[SALT]));
    holds(
        &text,
        &[
            "Change, North salt, 8 L: 4 steps.",
            "Prepare 8.4 L salt (300.9 g salt",
            "1 · Prepare the salt water: tap water with conditioner by its label, then marine mix",
            "lift it out and empty it",
            "unplug pump, heater and filter before a hand goes in",
            "residual-current device",
            "8 L of water weigh about 8 kg.",
            "never table salt",
            "Then say: /did change north salt",
        ],
    );
    rig.hear(pool_set(PoolField::Removable(false)));
    holds(
        &steps(&rig, Duty::Change, &pool_spot(&[SALT])),
        &["siphon its 8 L into buckets"],
    );
    rig.hear(SetUp::PlaceSet(vec![wrackline::lines::ask::PlaceField::Units(
        Units::Us,
    )]));
    holds(
        &steps(&rig, Duty::Change, &pool_spot(&[SALT])),
        &["2.1 US gal of water weigh about 17.64 lb."],
    );
    holds(
        &steps(&rig, Duty::Reading, &enclosure_spot(&[SALT])),
        &["/read north 82% 79F"],
    );
}

#[test]
fn a_part_change_of_this_pool() {
    let rig = rig();
    let text = steps(&rig, Duty::PartChange, &pool_spot(&[SALT]));
    holds(
        &text,
        &[
            "Part change, North salt, 4 L of 8 L: 4 steps.",
            "siphon 4 L of its 8 L out",
        ],
    );
    let text = steps(&rig, Duty::Change, &pool_spot(&[SALT]));
    holds(
        &text,
        &["North salt is filtered: its own turn is a part change, 4 L of 8 L."],
    );
    let text = steps(&rig, Duty::PartChange, &pool_spot(&[FRESH]));
    holds(
        &text,
        &[
            "North fresh is not filtered",
            "as much of the water as can be had",
        ],
    );
    holds(
        &steps(&rig, Duty::TopUp, &pool_spot(&[SALT])),
        &["not salt water: what evaporates leaves its salt"],
    );
    holds(
        &steps(&rig, Duty::Rinse, &pool_spot(&[SALT])),
        &["never under the tap, and never all media at once"],
    );
}

#[test]
fn enclosures_and_what_is_not_there() {
    let mut rig = rig();
    let text = steps(&rig, Duty::Look, &enclosure_spot(&[FRESH, SALT]));
    holds(
        &text,
        &[
            "Morning look, North: 3 steps.",
            "veterinarian who treats exotic animals",
        ],
    );
    // Of two pools one has a filter, so that one is meant; both have a top-up.
    holds(
        &steps(&rig, Duty::Rinse, &enclosure_spot(&[FRESH, SALT])),
        &["North salt"],
    );
    holds(
        &refused(&rig, Duty::TopUp, &enclosure_spot(&[FRESH, SALT])),
        &["North fresh or North salt"],
    );
    holds(
        &refused(&rig, Duty::Rinse, &pool_spot(&[FRESH])),
        &["North fresh has no filter."],
    );
    holds(
        &refused(&rig, Duty::AirCheck, &pool_spot(&[FRESH])),
        &["North fresh has no air."],
    );
    holds(&refused(&rig, Duty::Change, &Spot::default()), &["nothing there"]);
    holds(
        &refused(&rig, Duty::Own(OwnDutyId(1)), &Spot::default()),
        &["no longer done"],
    );
    let until = jiff::civil::date(2026, 4, 2);
    let quiet = EnclosureField::Quiet(Some(QuietZone {
        spot: "left back".to_owned(),
        until,
    }));
    rig.hear(SetUp::EnclosureSet {
        enclosure: NORTH,
        fields: vec![quiet],
        from: None,
    });
    let text = steps(&rig, Duty::Scrub, &pool_spot(&[SALT]));
    holds(
        &text,
        &["Quiet zone in North, left back: a crab moults there until Thursday 2 April."],
    );
    rig.hear(pool_set(PoolField::Nested(false)));
    holds(
        &refused(&rig, Duty::LeakCheck, &pool_spot(&[SALT])),
        &["a single container"],
    );
}

#[test]
fn an_own_duty_and_help() {
    let mut rig = Rig::north();
    rig.hear(SetUp::DutyAdd {
        name: "mist".to_owned(),
        spot: Some(enclosure_spot(&[SALT])),
        schedule: Schedule::Every(Every::Days(3)),
        grace_h: 12,
        disturbs: false,
    });
    let text = steps(&rig, Duty::Own(OwnDutyId(1)), &Spot::default());
    holds(
        &text,
        &["Mist, North: every 3 days. Next: Saturday 7 March 08:00."],
    );
    let text = rig.at_the_desk(|desk| said(&help(desk, None)));
    holds(&text, &["you can say", "/due"]);
}
