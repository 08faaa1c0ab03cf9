//! Enclosures: what is written, and what is said of it.

use wrackline::lines::ask::{EnclosureField, SetUp};
use wrackline_core::place::{EnclosureId, PoolId, QuietZone, Water};

use super::{KEEPER, NORTH, Rig, enclosure_add, holds, march, pool_add};

fn enclosure_set(fields: Vec<EnclosureField>) -> SetUp {
    SetUp::EnclosureSet {
        enclosure: NORTH,
        fields,
        from: None,
    }
}

#[test]
fn an_enclosure_from_its_first_day() {
    let mut rig = Rig::bare();
    holds(&rig.hear(SetUp::EnclosureList), &["No enclosures yet"]);
    let fields = vec![
        EnclosureField::Room("Hall".to_owned()),
        EnclosureField::Crabs(6),
        EnclosureField::Largest(5.0),
    ];
    let from = Some(march(2, 21, 0));
    let text = rig.hear(SetUp::EnclosureAdd {
        name: "Dune".to_owned(),
        litres: 400.0,
        fields,
        from,
    });
    holds(
        &text,
        &[
            "Dune: 400 L, kept from Monday 2 March 21:00. Next: morning look, due since Tuesday 3 March 08:00: ▅ overdue.",
            "Room of Dune: Hall.",
            "Besides: 6 crabs, largest 5 cm.",
            "/pool add dune salt VOLUME",
        ],
    );
    let dune = rig.place().enclosures[&EnclosureId(1)].clone();
    assert_eq!(
        (dune.since, dune.crabs, dune.room.as_str()),
        (march(2, 21, 0), 6, "Hall")
    );
    holds(
        &rig.hear(SetUp::EnclosureList),
        &["1 enclosure", "Dune | Hall | 400 L | 6 crabs, largest 5 cm"],
    );
}

#[test]
fn fields_of_an_enclosure() {
    let mut rig = Rig::north();
    rig.hear(enclosure_add("Dune", 100.0));
    let one = |rig: &mut Rig, field| rig.hear(enclosure_set(vec![field]));
    let name = EnclosureField::Name("Reef".to_owned());
    holds(&one(&mut rig, name), &["North is called Reef now."]);
    holds(
        &one(&mut rig, EnclosureField::Name("REEF".to_owned())),
        &["REEF now."],
    );
    holds(
        &one(&mut rig, EnclosureField::Litres(300.0)),
        &["REEF: 300 L in all, 400 L before."],
    );
    holds(
        &one(&mut rig, EnclosureField::Order(9)),
        &["Walking order: Dune, REEF."],
    );
    holds(&one(&mut rig, EnclosureField::Crabs(1)), &["REEF: 1 crab."]);
    holds(
        &one(&mut rig, EnclosureField::Quarantine(true)),
        &["comes last in the walking order"],
    );
    holds(
        &one(&mut rig, EnclosureField::Sensor(true)),
        &["daily reading by hand is no longer called"],
    );
    holds(
        &one(&mut rig, EnclosureField::Sensor(false)),
        &["next reading: Thursday 5 March 08:00."],
    );
    holds(
        &one(&mut rig, EnclosureField::Carer(Some(KEEPER))),
        &["REEF: turns are expected of Maren."],
    );
    holds(
        &one(&mut rig, EnclosureField::Room(String::new())),
        &["No room is named for REEF any more."],
    );
    let several = vec![EnclosureField::Smallest(2.0), EnclosureField::Largest(5.0)];
    holds(
        &rig.hear(enclosure_set(several)),
        &["smallest crab measures 2 cm", "largest crab measures 5 cm"],
    );
    // A change from before an earlier change of its kind would come to nothing; one of another kind counts.
    rig.wait(3);
    rig.hear(enclosure_set(vec![EnclosureField::Crabs(7)]));
    let back = |field| SetUp::EnclosureSet {
        enclosure: NORTH,
        fields: vec![field],
        from: Some(march(4, 14, 0)),
    };
    holds(
        &rig.refused(back(EnclosureField::Crabs(8))),
        &["was changed at REEF 15:40"],
    );
    rig.hear(back(EnclosureField::Room("Hall".to_owned())));
    assert_eq!(rig.place().enclosures[&NORTH].crabs, 7);
}

#[test]
fn a_quiet_zone_says_what_waits() {
    let mut rig = Rig::north();
    let until = jiff::civil::date(2026, 4, 2);
    let zone = QuietZone {
        spot: "left back".to_owned(),
        until,
    };
    let text = rig.hear(enclosure_set(vec![EnclosureField::Quiet(Some(zone.clone()))]));
    holds(
        &text,
        &[
            "Quiet zone in North, left back, until Thursday 2 April",
            "Scrub waits until then.",
        ],
    );
    // Two scrubs are still one kind of duty.
    rig.hear(pool_add(Water::Fresh, 6.0, Vec::new()));
    let text = rig.hear(enclosure_set(vec![EnclosureField::Quiet(Some(zone.clone()))]));
    holds(&text, &["Scrub waits until then."]);
    rig.hear(super::pool_set(wrackline::lines::ask::PoolField::Nested(true)));
    let text = rig.hear(enclosure_set(vec![EnclosureField::Quiet(Some(zone))]));
    holds(&text, &["Scrub and leak check wait until then."]);
    holds(
        &rig.hear(enclosure_set(vec![EnclosureField::Quiet(None)])),
        &["North has no quiet zone any more."],
    );
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
