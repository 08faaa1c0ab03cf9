//! What is refused: each in one sentence, and nothing is written.

use wrackline::lines::ask::{EnclosureField, GearVerb, Grain, PlaceField, PoolField, SetUp, Spot};
use wrackline_core::care::{Every, Numbers, Rule, Schedule};
use wrackline_core::place::{
    CarerId, EnclosureId, Gear, Life, OwnDutyId, PoolId, QuietHours, QuietZone, Role, RoundId, Water,
};

use super::{
    KEEPER, NORTH, Rig, SALT, carer_add, enclosure_add, enclosure_spot, gear, life, march, pool_add, pool_set,
    pool_spot, round_add, time,
};

/// The place of all refusals: rounds, a helper, an enclosure with a fresh and a salt pool, gear, an own duty.
fn rig() -> Rig {
    let mut rig = Rig::north();
    rig.hear(round_add("Morning", 8, 0));
    rig.hear(round_add("Evening", 19, 30));
    rig.hear(carer_add("Ilja", Role::Regular));
    rig.hear(carer_add("Pia", Role::Helper));
    rig.hear(pool_add(Water::Fresh, 20.0, Vec::new()));
    rig.hear(gear(Gear::Air, GearVerb::Add { proven: false }));
    let mist = Schedule::Every(Every::Days(3));
    rig.hear(own("Mist", Some(enclosure_spot(&[SALT])), mist));
    rig
}

const ILJA: CarerId = CarerId(2);
const PIA: CarerId = CarerId(3);

fn own(name: &str, spot: Option<Spot>, schedule: Schedule) -> SetUp {
    SetUp::DutyAdd { name: name.to_owned(), spot, schedule, grace_h: 12, disturbs: false }
}

#[track_caller]
fn all_refused(rig: &Rig, cases: Vec<(SetUp, &str)>) {
    for (ask, part) in cases {
        let told = format!("{ask:?}");
        let text = rig.refused(ask);
        assert!(text.contains(part), "{told}: {part:?} is not in {text:?}");
        assert!(text.ends_with('.') || text.ends_with("TIME.") || text.ends_with("25/25."), "{text:?}");
        assert!(!text.contains('!'), "{text:?}");
    }
}

#[test]
fn place_and_rounds() {
    let span = |from, to| SetUp::PlaceSet(vec![PlaceField::Quiet(Some(QuietHours { from, to }))]);
    let cases = vec![
        (SetUp::PlaceSet(Vec::new()), "Say what is to change"),
        (SetUp::PlaceSet(vec![PlaceField::Name("  ".to_owned())]), "at least one letter"),
        (SetUp::PlaceSet(vec![PlaceField::Name("x".repeat(61))]), "at most 60 characters"),
        (SetUp::PlaceSet(vec![PlaceField::Zone("Sea/Nowhere".to_owned())]), "no time zone called Sea/Nowhere"),
        (span(time(22, 0), time(22, 0)), "have no length"),
        (round_add("MORNING", 9, 0), "a round called Morning already"),
        (round_add("Noon", 19, 30), "At 19:30 there is a round already: Evening"),
        (SetUp::RoundSet { round: RoundId(1), time: time(19, 30) }, "already: Evening"),
        (SetUp::RoundSet { round: RoundId(1), time: time(8, 0) }, "Morning is at 08:00 already"),
        (SetUp::RoundSet { round: RoundId(0), time: time(9, 0) }, "only assumed"),
        (SetUp::RoundRetire { round: RoundId(9) }, "no longer held"),
    ];
    all_refused(&rig(), cases);
}

#[test]
fn carers() {
    let role = |carer, role| SetUp::CarerSet { carer, role: Some(role), stand_in: None };
    let stand_in = |carer, other| SetUp::CarerSet { carer, role: None, stand_in: Some(Some(other)) };
    let cases = vec![
        (carer_add("maren", Role::Regular), "Maren shares the work already"),
        (carer_add("all", Role::Regular), "a word that lines need"),
        (SetUp::CarerSet { carer: ILJA, role: None, stand_in: None }, "Say what is to change"),
        (role(KEEPER, Role::Regular), "Maren is the only keeper"),
        (SetUp::CarerRetire { carer: KEEPER }, "Maren is the only keeper"),
        (stand_in(ILJA, ILJA), "Ilja cannot be their own stand-in"),
        (stand_in(ILJA, PIA), "Pia is a helper"),
        (stand_in(ILJA, CarerId(9)), "does not share the work any more"),
        (SetUp::CarerRetire { carer: CarerId(9) }, "does not share the work any more"),
    ];
    all_refused(&rig(), cases);
}

#[test]
fn enclosures() {
    let set = |field| SetUp::EnclosureSet { enclosure: NORTH, fields: vec![field], from: None };
    let quiet = |day: i8| {
        let until = jiff::civil::date(2026, 3, day);
        EnclosureField::Quiet(Some(QuietZone { spot: "left back".to_owned(), until }))
    };
    let early = SetUp::EnclosureSet {
        enclosure: NORTH,
        fields: vec![EnclosureField::Crabs(6)],
        from: Some(march(3, 9, 0)),
    };
    let future = SetUp::EnclosureAdd {
        name: "Dune".to_owned(),
        litres: 100.0,
        fields: Vec::new(),
        from: Some(march(4, 12, 41)),
    };
    let sizes = vec![EnclosureField::Smallest(6.0), EnclosureField::Largest(5.0)];
    let sizes = SetUp::EnclosureSet { enclosure: NORTH, fields: sizes, from: None };
    let cases = vec![
        (enclosure_add("north", 100.0), "an enclosure called North already"),
        (enclosure_add("Dune", 0.0), "over zero"),
        (enclosure_add("Dune", f64::NAN), "over zero"),
        (enclosure_add("Salt", 100.0), "a word that lines need"),
        (future, "is still to come"),
        (SetUp::EnclosureSet { enclosure: NORTH, fields: Vec::new(), from: None }, "Say what is to change"),
        (set(EnclosureField::Litres(10.0)), "10 L are less than the water in North fresh, 20 L"),
        (set(EnclosureField::Largest(0.0)), "A length has to be over zero"),
        (sizes, "6 cm against 5 cm"),
        (set(EnclosureField::Carer(Some(PIA))), "Pia is a helper"),
        (set(quiet(4)), "not after today"),
        (set(quiet(3)), "not after today"),
        (early, "North was set up 12:40"),
        (SetUp::EnclosureRetire { enclosure: EnclosureId(7) }, "no longer kept"),
    ];
    all_refused(&rig(), cases);
}

#[test]
fn pools() {
    let early = SetUp::PoolSet { pool: SALT, fields: vec![life(Life::Cycling)], from: Some(march(3, 9, 0)) };
    let nowhere = SetUp::PoolAdd {
        enclosure: EnclosureId(9),
        water: Water::Salt,
        litres: 8.0,
        fields: Vec::new(),
        from: None,
    };
    let future = SetUp::PoolSet { pool: SALT, fields: vec![PoolField::Nested(true)], from: Some(march(5, 0, 0)) };
    let cases = vec![
        (pool_add(Water::Salt, 0.0, Vec::new()), "over zero"),
        (pool_add(Water::Salt, -2.0, Vec::new()), "over zero"),
        (pool_add(Water::Salt, 401.0, Vec::new()), "401 L of water are more than North holds in all, 400 L"),
        (pool_set(PoolField::Litres(500.0)), "more than North holds"),
        (pool_set(life(Life::InUse)), "North salt is in use already"),
        (SetUp::PoolSet { pool: SALT, fields: Vec::new(), from: None }, "Say what is to change"),
        (nowhere, "enclosure is no longer kept"),
        (early, "North salt was set up 12:40"),
        (future, "is still to come"),
        (SetUp::PoolRetire { pool: PoolId(9) }, "pool is no longer kept"),
    ];
    all_refused(&rig(), cases);
}

#[test]
fn gear_of_pools() {
    let from = |gear, verb, from| SetUp::Gear { spot: pool_spot(&[SALT]), gear, verb, from: Some(from) };
    let fitted = GearVerb::Add { proven: false };
    let none = SetUp::Gear { spot: Spot::default(), gear: Gear::Air, verb: fitted, from: None };
    // One of the two has its air already: neither is changed.
    let both = SetUp::Gear {
        spot: pool_spot(&[PoolId(2), SALT]),
        gear: Gear::Air,
        verb: fitted,
        from: None,
    };
    let cases = vec![
        (from(Gear::Filter, fitted, march(4, 12, 41)), "is still to come"),
        (from(Gear::Filter, fitted, march(4, 12, 39)), "added with an earlier time: /pool add … from TIME"),
        (gear(Gear::Air, GearVerb::Add { proven: true }), "Only a filter has a cycle"),
        (gear(Gear::Air, GearVerb::Proven), "Only a filter has a cycle"),
        (gear(Gear::Air, fitted), "North salt has its air already"),
        (gear(Gear::Air, GearVerb::Start), "The air of North salt runs already"),
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
        (gear(Gear::Air, GearVerb::Stop), "stands still already, since 17:40"),
        (gear(Gear::Filter, GearVerb::Proven), "is proven already, since 12:40"),
        (from(Gear::Air, GearVerb::Start, march(4, 15, 0)), "The air of North salt was last changed 17:40"),
    ];
    all_refused(&rig, cases);
}

#[test]
fn duties() {
    let set = |rule, every: Option<Every>, grace_h, hazard_h| SetUp::DutySet {
        rule,
        numbers: Numbers { every, grace_h, hazard_h },
    };
    let three = || Schedule::Every(Every::Days(3));
    let north = || Some(enclosure_spot(&[SALT]));
    let set_of_pools = Spot { pools: vec![SALT, PoolId(2)], enclosures: vec![NORTH], grain: Grain::Set };
    let monday_never = Schedule::Weekdays { days: Vec::new(), at: None };
    let cases = vec![
        (set(Rule::ChangeStill, None, None, None), "Say what is to change"),
        (set(Rule::ChangeStill, Some(Every::Days(0)), None, None), "over zero"),
        (set(Rule::ChangeStill, None, None, Some(47)), "A hazard after 47 h would come before"),
        (set(Rule::ChangeStill, Some(Every::Days(5)), None, None), "say a longer hazard with it"),
        (set(Rule::ChangeStill, None, Some(97), None), "A grace of 97 h is longer than the 4 days"),
        (own("mist", north(), three()), "a duty called Mist already"),
        (own("Scrub", north(), three()), "a duty of the catalogue already"),
        (own("Feed", Some(set_of_pools), three()), "of one pool or one enclosure"),
        (own("Feed", Some(pool_spot(&[PoolId(9)])), three()), "no longer kept"),
        (own("Feed", north(), Schedule::Every(Every::Hours(0))), "no day on which it would come"),
        (own("Feed", north(), monday_never), "no day on which it would come"),
        (own("Feed", None, Schedule::Cron("0 0 8 30 2 *".to_owned())), "no day on which it would come"),
        (SetUp::DutyRetire { duty: OwnDutyId(9) }, "no longer done"),
    ];
    all_refused(&rig(), cases);
}
