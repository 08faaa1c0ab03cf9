//! What is refused of pools, gear and duties.

use wrackline::lines::ask::{GearVerb, Grain, PoolField, SetUp, Spot};
use wrackline_core::care::{Every, Numbers, Rule, Schedule};
use wrackline_core::place::{EnclosureId, Gear, Life, OwnDutyId, PoolId, Water};

use super::refusals::{all_refused, own, rig};
use super::{NORTH, SALT, enclosure_spot, gear, life, march, pool_add, pool_set, pool_spot};

#[test]
fn pools() {
    let early = SetUp::PoolSet {
        pool: SALT,
        fields: vec![life(Life::Cycling)],
        from: Some(march(3, 9, 0)),
    };
    let nowhere = SetUp::PoolAdd {
        enclosure: EnclosureId(9),
        water: Water::Salt,
        litres: 8.0,
        fields: Vec::new(),
        from: None,
    };
    let future = SetUp::PoolSet {
        pool: SALT,
        fields: vec![PoolField::Nested(true)],
        from: Some(march(5, 0, 0)),
    };
    let cases = vec![
        (pool_add(Water::Salt, 0.0, Vec::new()), "over zero"),
        (pool_add(Water::Salt, -2.0, Vec::new()), "over zero"),
        (
            pool_add(Water::Salt, 401.0, Vec::new()),
            "401 L of water are more than North holds in all, 400 L",
        ),
        (pool_set(PoolField::Litres(500.0)), "more than North holds"),
        (pool_set(life(Life::InUse)), "North salt is in use already"),
        (
            SetUp::PoolSet {
                pool: SALT,
                fields: Vec::new(),
                from: None,
            },
            "Say what is to change",
        ),
        (nowhere, "enclosure is no longer kept"),
        (early, "North salt was set up 12:40"),
        (future, "is still to come"),
        (SetUp::PoolRetire { pool: PoolId(9) }, "pool is no longer kept"),
    ];
    all_refused(&rig(), cases);
}

#[test]
fn gear_of_pools() {
    let from = |gear, verb, from| SetUp::Gear {
        spot: pool_spot(&[SALT]),
        gear,
        verb,
        from: Some(from),
    };
    let fitted = GearVerb::Add { proven: false };
    let none = SetUp::Gear {
        spot: Spot::default(),
        gear: Gear::Air,
        verb: fitted,
        from: None,
    };
    // One of the two has its air already: neither is changed.
    let both = SetUp::Gear {
        spot: pool_spot(&[PoolId(2), SALT]),
        gear: Gear::Air,
        verb: fitted,
        from: None,
    };
    let cases = vec![
        (from(Gear::Filter, fitted, march(4, 12, 41)), "is still to come"),
        (
            from(Gear::Filter, fitted, march(4, 12, 39)),
            "added with an earlier time: /pool add … from TIME",
        ),
        (
            gear(Gear::Air, GearVerb::Add { proven: true }),
            "Only a filter has a cycle",
        ),
        (gear(Gear::Air, GearVerb::Proven), "Only a filter has a cycle"),
        (gear(Gear::Air, fitted), "North salt has its air already"),
        (
            gear(Gear::Air, GearVerb::Start),
            "The air of North salt runs already",
        ),
        (gear(Gear::Filter, GearVerb::Stop), "North salt has no filter"),
        (gear(Gear::Filter, GearVerb::Start), "North salt has no filter"),
        (gear(Gear::Filter, GearVerb::Proven), "North salt has no filter"),
        (gear(Gear::Filter, GearVerb::Retire), "North salt has no filter"),
        (none, "no pool there"),
        (both, "North salt has its air already"),
    ];
    all_refused(&rig(), cases);

    let mut rig = rig();
    rig.hear(gear(Gear::Filter, GearVerb::Add { proven: true }));
    rig.wait(5);
    rig.hear(gear(Gear::Air, GearVerb::Stop));
    let cases = vec![
        (
            gear(Gear::Air, GearVerb::Stop),
            "stands still already, since 17:40",
        ),
        (
            gear(Gear::Filter, GearVerb::Proven),
            "is proven already, since 12:40",
        ),
        (
            from(Gear::Air, GearVerb::Start, march(4, 15, 0)),
            "The air of North salt was last changed 17:40",
        ),
    ];
    all_refused(&rig, cases);
}

#[test]
fn duties() {
    let set = |rule, every: Option<Every>, grace_h, hazard_h| SetUp::DutySet {
        rule,
        numbers: Numbers {
            every,
            grace_h,
            hazard_h,
        },
        nod: None,
    };
    let three = || Schedule::Every(Every::Days(3));
    let north = || Some(enclosure_spot(&[SALT]));
    let set_of_pools = Spot {
        pools: vec![SALT],
        enclosures: vec![NORTH],
        grain: Grain::Set,
    };
    let monday_never = Schedule::Weekdays {
        days: Vec::new(),
        at: None,
    };
    let cases = vec![
        (set(Rule::ChangeStill, None, None, None), "Say what is to change"),
        (
            set(Rule::ChangeStill, Some(Every::Days(0)), None, None),
            "over zero",
        ),
        (
            set(Rule::ChangeStill, None, None, Some(47)),
            "A hazard after 47 h would come before",
        ),
        (
            set(Rule::ChangeStill, Some(Every::Days(5)), None, None),
            "say a longer hazard with it",
        ),
        (
            set(Rule::ChangeStill, None, Some(97), None),
            "A grace of 97 h is longer than the 4 days",
        ),
        (own("mist", north(), three()), "a duty called Mist already"),
        (own("Scrub", north(), three()), "a duty of the catalogue already"),
        (
            own("Feed", Some(set_of_pools), three()),
            "of one pool or one enclosure",
        ),
        (
            own("Feed", Some(pool_spot(&[PoolId(9)])), three()),
            "no longer kept",
        ),
        (
            own("Feed", north(), Schedule::Every(Every::Hours(0))),
            "no day on which it would come",
        ),
        (
            own("Feed", north(), monday_never),
            "no day on which it would come",
        ),
        (
            own("Feed", None, Schedule::Cron("0 0 8 30 2 *".to_owned())),
            "no day on which it would come",
        ),
        (SetUp::DutyRetire { duty: OwnDutyId(9) }, "no longer done"),
    ];
    all_refused(&rig(), cases);
}
