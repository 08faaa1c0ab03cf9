//! Place, rounds, carers and enclosures: what is written, and what is said of it.

use wrackline::lines::ask::{EnclosureField, PlaceField, SetUp};
use wrackline_core::place::{CarerId, EnclosureId, PoolId, QuietHours, QuietZone, Role, RoundId, Water};
use wrackline_core::quantity::{GravityConvention, Units};

use super::{KEEPER, NORTH, Rig, carer_add, enclosure_add, holds, march, pool_add, round_add, time};

fn enclosure_set(fields: Vec<EnclosureField>) -> SetUp {
    SetUp::EnclosureSet { enclosure: NORTH, fields, from: None }
}

fn night() -> PlaceField {
    PlaceField::Quiet(Some(QuietHours { from: time(22, 0), to: time(7, 0) }))
}

#[test]
fn the_place() {
    let mut rig = Rig::bare();
    holds(&rig.hear(SetUp::PlaceShow), &["This place: 0 enclosures, 0 pools, 1 carer.", "No quiet hours."]);
    let text = rig.hear(SetUp::PlaceSet(vec![
        PlaceField::Name("  Tide   House ".to_owned()),
        PlaceField::Units(Units::Us),
        PlaceField::Gravity(GravityConvention::T25T25),
    ]));
    holds(&text, &["The place is called Tide House.", "US gallons", "Specific gravity is read as 25/25."]);
    let place = rig.place();
    assert_eq!((place.name.as_str(), place.units), ("Tide House", Units::Us));
    assert_eq!(place.gravity, Some(GravityConvention::T25T25));
    holds(&rig.hear(SetUp::PlaceShow), &["Tide House", "Zone: America/New_York, where it is 12:40 now."]);
}

#[test]
fn a_zone_keeps_the_rounds_on_the_clock() {
    let mut rig = Rig::bare();
    rig.hear(round_add("Morning", 8, 0));
    let text = rig.hear(SetUp::PlaceSet(vec![PlaceField::Zone("europe/berlin".to_owned())]));
    holds(&text, &["Zone: Europe/Berlin, where it is 18:40 now.", "wall-clock time: Morning 08:00."]);
    assert_eq!(rig.place().zone.name(), "Europe/Berlin");
    assert_eq!(rig.place().rounds[0].time, time(8, 0));
}

#[test]
fn rounds_and_quiet_hours() {
    let mut rig = Rig::bare();
    holds(&rig.hear(SetUp::RoundList), &["one at 08:00 is assumed"]);
    let text = rig.hear(round_add("Dawn", 6, 30));
    holds(&text, &["Dawn: care at 06:30, next", "assumed at 08:00 is not held any more"]);
    assert_eq!(rig.place().rounds.len(), 1);
    let text = rig.hear(SetUp::PlaceSet(vec![night()]));
    holds(
        &text,
        &[
            "Quiet hours: 22:00 to 07:00.",
            "Dawn 06:30 lies in the quiet hours, 22:00 to 07:00: its call waits until 07:00.",
        ],
    );
    holds(&rig.hear(round_add("Night", 23, 0)), &["Night 23:00 lies in the quiet hours", "until 07:00"]);
    assert!(!rig.hear(round_add("Noon", 12, 0)).contains("quiet hours"));
    let text = rig.hear(SetUp::RoundSet { round: RoundId(1), time: time(7, 0) });
    holds(&text, &["Dawn moves from 06:30 to 07:00; next"]);
    assert!(!text.contains("quiet hours"), "07:00 is the first minute after: {text}");
    holds(&rig.hear(SetUp::RoundList), &["3 rounds", "Dawn 07:00, next", "Night 23:00, next"]);
    holds(&rig.hear(SetUp::RoundRetire { round: RoundId(1) }), &["Dawn 07:00 is no longer held. Left:"]);
    rig.hear(SetUp::RoundRetire { round: RoundId(2) });
    let text = rig.hear(SetUp::RoundRetire { round: RoundId(3) });
    holds(&text, &["Noon 12:00 is no longer held. No round is left, so one at 08:00 is assumed."]);
    // A number never comes back with another meaning.
    rig.hear(round_add("Dawn", 6, 30));
    assert_eq!(rig.place().rounds[0].id, RoundId(4));
    holds(&rig.hear(SetUp::PlaceSet(vec![PlaceField::Quiet(None)])), &["No quiet hours."]);
    assert_eq!(rig.place().quiet, None);
}

#[test]
fn carers_come_and_go() {
    let mut rig = Rig::north();
    holds(&rig.hear(carer_add("Ilja", Role::Regular)), &["Ilja shares the work as regular.", "shares the turns"]);
    holds(&rig.hear(carer_add("Pia", Role::Helper)), &["no account"]);
    let (ilja, pia) = (CarerId(2), CarerId(3));
    assert_eq!(rig.book.name(ilja), "Ilja");
    assert_eq!(rig.place().carers[&pia].role, Role::Helper);
    let stand_in = |carer, other| SetUp::CarerSet { carer, role: None, stand_in: Some(other) };
    holds(&rig.hear(stand_in(KEEPER, Some(ilja))), &["When Maren does not answer, Ilja is asked."]);
    assert_eq!(rig.place().carers[&KEEPER].stand_in, Some(ilja));
    holds(&rig.hear(stand_in(ilja, None)), &["When Ilja does not answer, the next one in order is asked."]);
    rig.hear(enclosure_set(vec![EnclosureField::Carer(Some(ilja))]));
    holds(&rig.hear(SetUp::CarerList), &["3 carers", "Maren | keeper | Ilja | –", "Ilja | regular | – | North"]);
    // With a second keeper the first may change or leave.
    rig.hear(SetUp::CarerSet { carer: pia, role: Some(Role::Keeper), stand_in: None });
    let text = rig.hear(SetUp::CarerSet { carer: KEEPER, role: Some(Role::Sitter), stand_in: None });
    holds(&text, &["Maren is sitter now.", "for a span of days"]);
    let text = rig.hear(SetUp::CarerSet { carer: ilja, role: Some(Role::Helper), stand_in: None });
    holds(&text, &["Ilja is helper now.", "Maren had Ilja as stand-in"]);
    let text = rig.hear(SetUp::CarerRetire { carer: ilja });
    holds(&text, &["Ilja no longer shares the work", "North had them as carer by habit", "Maren had Ilja"]);
    assert!(!rig.place().carers.contains_key(&ilja));
    // The name is free again, the number is not.
    rig.hear(carer_add("ilja", Role::Regular));
    assert_eq!(rig.book.name(CarerId(4)), "ilja");
}

#[test]
fn an_enclosure_from_its_first_day() {
    let mut rig = Rig::bare();
    holds(&rig.hear(SetUp::EnclosureList), &["No enclosures yet"]);
    let fields =
        vec![EnclosureField::Room("Hall".to_owned()), EnclosureField::Crabs(6), EnclosureField::Largest(5.0)];
    let from = Some(march(2, 21, 0));
    let text = rig.hear(SetUp::EnclosureAdd { name: "Dune".to_owned(), litres: 400.0, fields, from });
    holds(
        &text,
        &[
            "Dune: 400 L, kept from Monday 2 March 21:00. Next: morning look, due since Tuesday 3 March 08:00.",
            "Dune stands here: Hall.",
            "Besides: 6 crabs, largest 5 cm.",
            "/pool add dune salt VOLUME",
        ],
    );
    let dune = rig.place().enclosures[&EnclosureId(1)].clone();
    assert_eq!((dune.since, dune.crabs, dune.room.as_str()), (march(2, 21, 0), 6, "Hall"));
    holds(&rig.hear(SetUp::EnclosureList), &["1 enclosure", "Dune | Hall | 400 L | 6 crabs, largest 5 cm"]);
}

#[test]
fn fields_of_an_enclosure() {
    let mut rig = Rig::north();
    rig.hear(enclosure_add("Dune", 100.0));
    let one = |rig: &mut Rig, field| rig.hear(enclosure_set(vec![field]));
    let name = EnclosureField::Name("Reef".to_owned());
    holds(&one(&mut rig, name), &["North is called Reef now."]);
    holds(&one(&mut rig, EnclosureField::Name("REEF".to_owned())), &["REEF now."]);
    holds(&one(&mut rig, EnclosureField::Litres(300.0)), &["REEF: 300 L in all, 400 L before."]);
    holds(&one(&mut rig, EnclosureField::Order(9)), &["Walking order: Dune, REEF."]);
    holds(&one(&mut rig, EnclosureField::Crabs(1)), &["REEF: 1 crab."]);
    holds(&one(&mut rig, EnclosureField::Quarantine(true)), &["comes last in the walking order"]);
    holds(&one(&mut rig, EnclosureField::Sensor(true)), &["daily reading by hand is no longer called"]);
    holds(&one(&mut rig, EnclosureField::Sensor(false)), &["next reading: Thursday 5 March 08:00."]);
    holds(&one(&mut rig, EnclosureField::Carer(Some(KEEPER))), &["REEF: turns are expected of Maren."]);
    let several = vec![EnclosureField::Smallest(2.0), EnclosureField::Largest(5.0)];
    holds(&rig.hear(enclosure_set(several)), &["smallest crab measures 2 cm", "largest crab measures 5 cm"]);
    // A change from before an earlier change of its kind would come to nothing; one of another kind counts.
    rig.wait(3);
    rig.hear(enclosure_set(vec![EnclosureField::Crabs(7)]));
    let back = |field| SetUp::EnclosureSet { enclosure: NORTH, fields: vec![field], from: Some(march(4, 14, 0)) };
    holds(&rig.refused(back(EnclosureField::Crabs(8))), &["was changed at REEF 15:40"]);
    rig.hear(back(EnclosureField::Room("Hall".to_owned())));
    assert_eq!(rig.place().enclosures[&NORTH].crabs, 7);
}

#[test]
fn a_quiet_zone_says_what_waits() {
    let mut rig = Rig::north();
    let until = jiff::civil::date(2026, 4, 2);
    let zone = QuietZone { spot: "left back".to_owned(), until };
    let text = rig.hear(enclosure_set(vec![EnclosureField::Quiet(Some(zone.clone()))]));
    holds(
        &text,
        &["Quiet zone in North, left back, until Thursday 2 April", "Scrub waits until then."],
    );
    rig.hear(super::pool_set(wrackline::lines::ask::PoolField::Nested(true)));
    let text = rig.hear(enclosure_set(vec![EnclosureField::Quiet(Some(zone))]));
    holds(&text, &["Leak check and scrub wait until then."]);
    holds(&rig.hear(enclosure_set(vec![EnclosureField::Quiet(None)])), &["North has no quiet zone any more."]);
    assert_eq!(rig.place().enclosures[&NORTH].quiet, None);
}

#[test]
fn a_retired_enclosure_takes_its_pools_along() {
    let mut rig = Rig::north();
    rig.hear(pool_add(Water::Fresh, 6.0, Vec::new()));
    let text = rig.hear(SetUp::EnclosureRetire { enclosure: NORTH });
    holds(
        &text,
        &[
            "North is no longer kept, nor North fresh and North salt.",
            "No longer called: morning look, change,",
            "The journal keeps all that was logged.",
        ],
    );
    assert!(rig.place().enclosures.is_empty() && rig.place().pools.is_empty());
    rig.hear(enclosure_add("North", 100.0));
    let place = rig.place();
    assert_eq!(place.enclosures.keys().collect::<Vec<_>>(), [&EnclosureId(2)]);
    assert!(!place.pools.contains_key(&PoolId(1)));
}
