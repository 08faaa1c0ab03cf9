//! Place, rounds and carers: what is written, and what is said of it.

use wrackline::lines::ask::{CarerField, EnclosureField, PlaceField, SetUp};
use wrackline_core::place::{CarerId, QuietHours, Role, RoundId};
use wrackline_core::quantity::{GravityConvention, Units};

use super::{KEEPER, NORTH, Rig, carer_add, holds, round_add, time};

fn night() -> PlaceField {
    PlaceField::Quiet(Some(QuietHours {
        from: time(22, 0),
        to: time(7, 0),
    }))
}

fn enclosure_set(fields: Vec<EnclosureField>) -> SetUp {
    SetUp::EnclosureSet {
        enclosure: NORTH,
        fields,
        from: None,
    }
}

#[test]
fn the_place() {
    let mut rig = Rig::bare();
    holds(
        &rig.hear(SetUp::PlaceShow),
        &["This place: 0 enclosures, 0 pools, 1 carer.", "No quiet hours."],
    );
    let text = rig.hear(SetUp::PlaceSet(vec![
        PlaceField::Name("  Tide   House ".to_owned()),
        PlaceField::Units(Units::Us),
        PlaceField::Gravity(GravityConvention::T25T25),
    ]));
    holds(
        &text,
        &[
            "The place is called Tide House.",
            "US gallons",
            "Specific gravity is read as 25/25.",
        ],
    );
    let place = rig.place();
    assert_eq!((place.name.as_str(), place.units), ("Tide House", Units::Us));
    assert_eq!(place.gravity, Some(GravityConvention::T25T25));
    holds(
        &rig.hear(SetUp::PlaceShow),
        &["Tide House", "Zone: America/New_York, where it is 12:40 now."],
    );
}

#[test]
fn a_zone_keeps_the_rounds_on_the_clock() {
    let mut rig = Rig::bare();
    rig.hear(round_add("Morning", 8, 0));
    let text = rig.hear(SetUp::PlaceSet(vec![PlaceField::Zone(
        "europe/berlin".to_owned(),
    )]));
    holds(
        &text,
        &[
            "Zone: Europe/Berlin, where it is 18:40 now.",
            "wall-clock time: Morning 08:00.",
        ],
    );
    assert_eq!(rig.place().zone.name(), "Europe/Berlin");
    assert_eq!(rig.place().rounds[0].time, time(8, 0));
}

#[test]
fn rounds_and_quiet_hours() {
    let mut rig = Rig::bare();
    holds(&rig.hear(SetUp::RoundList), &["one at 08:00 is assumed"]);
    let text = rig.hear(round_add("Dawn", 6, 30));
    holds(
        &text,
        &[
            "Dawn: care at 06:30, next",
            "assumed at 08:00 is not held any more",
        ],
    );
    assert_eq!(rig.place().rounds.len(), 1);
    let text = rig.hear(SetUp::PlaceSet(vec![night()]));
    holds(
        &text,
        &[
            "Quiet hours: 22:00 to 07:00.",
            "Dawn 06:30 lies in the quiet hours, 22:00 to 07:00: its call waits until 07:00.",
        ],
    );
    holds(
        &rig.hear(round_add("Night", 23, 0)),
        &["Night 23:00 lies in the quiet hours", "until 07:00"],
    );
    assert!(!rig.hear(round_add("Noon", 12, 0)).contains("quiet hours"));
    let text = rig.hear(SetUp::RoundSet {
        round: RoundId(1),
        time: time(7, 0),
    });
    holds(&text, &["Dawn moves from 06:30 to 07:00; next"]);
    assert!(
        !text.contains("quiet hours"),
        "07:00 is the first minute after: {text}"
    );
    holds(
        &rig.hear(SetUp::RoundList),
        &["3 rounds", "Dawn 07:00, next", "Night 23:00, next"],
    );
    holds(
        &rig.hear(SetUp::RoundRetire { round: RoundId(1) }),
        &["Dawn 07:00 is no longer held. Left:"],
    );
    rig.hear(SetUp::RoundRetire { round: RoundId(2) });
    let text = rig.hear(SetUp::RoundRetire { round: RoundId(3) });
    holds(
        &text,
        &["Noon 12:00 is no longer held. No round is left, so one at 08:00 is assumed."],
    );
    // A number never comes back with another meaning.
    rig.hear(round_add("Dawn", 6, 30));
    assert_eq!(rig.place().rounds[0].id, RoundId(4));
    holds(
        &rig.hear(SetUp::PlaceSet(vec![PlaceField::Quiet(None)])),
        &["No quiet hours."],
    );
    assert_eq!(rig.place().quiet, None);
}

#[test]
fn carers_come_and_go() {
    let mut rig = Rig::north();
    holds(
        &rig.hear(carer_add("Ilja", Role::Regular)),
        &["Ilja shares the work as regular.", "shares the turns"],
    );
    holds(&rig.hear(carer_add("Pia", Role::Helper)), &["no account"]);
    let (ilja, pia) = (CarerId(2), CarerId(3));
    assert_eq!(rig.book.name(ilja), "Ilja");
    assert_eq!(rig.place().carers[&pia].role, Role::Helper);
    let stand_in = |carer, other| SetUp::CarerSet {
        carer,
        fields: vec![CarerField::StandIn(other)],
    };
    holds(
        &rig.hear(stand_in(KEEPER, Some(ilja))),
        &["When Maren does not answer, Ilja is asked."],
    );
    assert_eq!(rig.place().carers[&KEEPER].stand_in, Some(ilja));
    holds(
        &rig.hear(stand_in(ilja, None)),
        &["When Ilja does not answer, the next one in order is asked."],
    );
    rig.hear(enclosure_set(vec![EnclosureField::Carer(Some(ilja))]));
    holds(
        &rig.hear(SetUp::CarerList),
        &[
            "3 carers",
            "Maren | keeper | Ilja | – | 1 | everything | –",
            "Ilja | regular | – | North | 1 | everything | –",
        ],
    );
    // With a second keeper the first may change or leave.
    rig.hear(SetUp::CarerSet {
        carer: pia,
        fields: vec![CarerField::Role(Role::Keeper)],
    });
    let text = rig.hear(SetUp::CarerSet {
        carer: KEEPER,
        fields: vec![CarerField::Role(Role::Sitter)],
    });
    holds(&text, &["Maren is sitter now.", "for a span of days"]);
    let text = rig.hear(SetUp::CarerSet {
        carer: ilja,
        fields: vec![CarerField::Role(Role::Helper)],
    });
    holds(&text, &["Ilja is helper now.", "Maren had Ilja as stand-in"]);
    let text = rig.hear(SetUp::CarerRetire { carer: ilja });
    holds(
        &text,
        &[
            "Ilja no longer shares the work",
            "North had them as carer by habit",
            "Maren had Ilja",
        ],
    );
    assert!(!rig.place().carers.contains_key(&ilja));
    // The name is free again, the number is not.
    rig.hear(carer_add("ilja", Role::Regular));
    assert_eq!(rig.book.name(CarerId(4)), "ilja");
}
