//! What is refused: each in one sentence, and nothing is written.

use wrackline::lines::ask::{CarerField, EnclosureField, GearVerb, PlaceField, SetUp, Spot};
use wrackline_core::care::{Every, Schedule};
use wrackline_core::place::{CarerId, EnclosureId, Gear, QuietHours, QuietZone, Role, RoundId, Water};

use super::{
    KEEPER, NORTH, Rig, SALT, carer_add, enclosure_add, enclosure_spot, gear, march, pool_add, round_add,
    time,
};

/// The place of all refusals: rounds, a helper, an enclosure with a fresh and a salt pool, gear, an own duty.
pub(super) fn rig() -> Rig {
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

pub(super) fn own(name: &str, spot: Option<Spot>, schedule: Schedule) -> SetUp {
    SetUp::DutyAdd {
        name: name.to_owned(),
        spot,
        schedule,
        grace_h: 12,
        disturbs: false,
    }
}

#[track_caller]
pub(super) fn all_refused(rig: &Rig, cases: Vec<(SetUp, &str)>) {
    for (ask, part) in cases {
        let told = format!("{ask:?}");
        let text = rig.refused(ask);
        assert!(text.contains(part), "{told}: {part:?} is not in {text:?}");
        assert!(
            text.ends_with('.') || text.ends_with("TIME.") || text.ends_with("25/25."),
            "{text:?}"
        );
        assert!(!text.contains('!'), "{text:?}");
    }
}

#[test]
fn place_and_rounds() {
    let span = |from, to| SetUp::PlaceSet(vec![PlaceField::Quiet(Some(QuietHours { from, to }))]);
    let cases = vec![
        (SetUp::PlaceSet(Vec::new()), "Say what is to change"),
        (
            SetUp::PlaceSet(vec![PlaceField::Name("  ".to_owned())]),
            "at least one letter",
        ),
        (
            SetUp::PlaceSet(vec![PlaceField::Zone("Sea/Nowhere".to_owned())]),
            "no time zone called Sea/Nowhere",
        ),
        (span(time(22, 0), time(22, 0)), "have no length"),
        (round_add("MORNING", 9, 0), "a round called Morning already"),
        (
            round_add("Noon", 19, 30),
            "At 19:30 there is a round already: Evening",
        ),
        (
            SetUp::RoundSet {
                round: RoundId(1),
                time: time(19, 30),
            },
            "already: Evening",
        ),
        (
            SetUp::RoundSet {
                round: RoundId(1),
                time: time(8, 0),
            },
            "Morning is at 08:00 already",
        ),
        (
            SetUp::RoundSet {
                round: RoundId(0),
                time: time(9, 0),
            },
            "only assumed",
        ),
        (SetUp::RoundRetire { round: RoundId(9) }, "no longer held"),
    ];
    all_refused(&rig(), cases);
}

#[test]
fn carers() {
    let role = |carer, role| SetUp::CarerSet {
        carer,
        fields: vec![CarerField::Role(role)],
    };
    let stand_in = |carer, other| SetUp::CarerSet {
        carer,
        fields: vec![CarerField::StandIn(Some(other))],
    };
    let cases = vec![
        (carer_add("maren", Role::Regular), "Maren shares the work already"),
        (
            SetUp::CarerSet {
                carer: ILJA,
                fields: Vec::new(),
            },
            "Say what is to change",
        ),
        (role(KEEPER, Role::Regular), "Maren is the only keeper"),
        (SetUp::CarerRetire { carer: KEEPER }, "Maren is the only keeper"),
        (stand_in(ILJA, ILJA), "Ilja cannot be their own stand-in"),
        (stand_in(ILJA, PIA), "Pia is a helper"),
        (stand_in(ILJA, CarerId(9)), "does not share the work any more"),
        (
            SetUp::CarerRetire { carer: CarerId(9) },
            "does not share the work any more",
        ),
    ];
    all_refused(&rig(), cases);
}

#[test]
fn enclosures() {
    let set = |field| SetUp::EnclosureSet {
        enclosure: NORTH,
        fields: vec![field],
        from: None,
    };
    let quiet = |day: i8| {
        let until = jiff::civil::date(2026, 3, day);
        EnclosureField::Quiet(Some(QuietZone {
            spot: "left back".to_owned(),
            until,
        }))
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
    let sizes = SetUp::EnclosureSet {
        enclosure: NORTH,
        fields: sizes,
        from: None,
    };
    let cases = vec![
        (enclosure_add("north", 100.0), "an enclosure called North already"),
        (enclosure_add("Dune", 0.0), "over zero"),
        (enclosure_add("Dune", f64::NAN), "over zero"),
        (enclosure_add(" ", 100.0), "at least one letter"),
        (future, "is still to come"),
        (
            SetUp::EnclosureSet {
                enclosure: NORTH,
                fields: Vec::new(),
                from: None,
            },
            "Say what is to change",
        ),
        (
            set(EnclosureField::Litres(10.0)),
            "10 L are less than the water in North fresh, 20 L",
        ),
        (set(EnclosureField::Largest(0.0)), "A length has to be over zero"),
        (sizes, "6 cm against 5 cm"),
        (set(EnclosureField::Carer(Some(PIA))), "Pia is a helper"),
        (set(quiet(4)), "not after today"),
        (set(quiet(3)), "not after today"),
        (early, "North was set up 12:40"),
        (
            SetUp::EnclosureRetire {
                enclosure: EnclosureId(7),
            },
            "no longer kept",
        ),
    ];
    all_refused(&rig(), cases);
}
