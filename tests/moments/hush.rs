//! A hush: nobody is called to rounds and late turns, dangers are told all the same.

use wrackline_core::journal::{Event, PlaceChange, Sighting};
use wrackline_tests::journal::{NORTH_ITSELF, Script};

use super::{script, tale};

fn hush(script: &mut Script, at: &str, until: Option<&str>) {
    let until = until.map(|until| script.at(&format!("2026-{until}")));
    script.add(&format!("2026-{at}"), Event::Place(PlaceChange::Hush(until)));
}

#[test]
fn rounds_and_late_turns_wait_for_its_end() {
    let check = |until: Option<&str>, off: Option<&str>, expected: &[&str]| {
        let mut script = script("08:00 19:30", false, "03-02 08:00 change");
        hush(&mut script, "03-04 07:00", until);
        if let Some(off) = off {
            hush(&mut script, off, None);
        }
        assert_eq!(
            tale(&script, "03-04 06:00", "03-05 12:00", "change"),
            expected,
            "{until:?} {off:?}"
        );
    };
    // Without it: the round at eight, late at twenty. The rounds that were hushed are not called up later.
    check(
        Some("03-05 00:00"),
        None,
        &[
            "03-05 00:00 late: change, carer",
            "03-05 08:00 round: change, stand-in",
        ],
    );
    check(
        Some("03-04 12:00"),
        None,
        &[
            "03-04 19:30 round: change",
            "03-04 20:00 late: change, carer",
            "03-05 08:00 round: change, stand-in",
        ],
    );
    check(
        Some("03-05 00:00"),
        Some("03-04 12:00"),
        &[
            "03-04 19:30 round: change",
            "03-04 20:00 late: change, carer",
            "03-05 08:00 round: change, stand-in",
        ],
    );
}

#[test]
fn a_danger_is_told_all_the_same() {
    // The change is a hazard from 03-06 08:00 on; a leak is seen, and then looked at.
    let mut script = script("08:00 19:30", false, "03-02 08:00 change");
    hush(&mut script, "03-06 07:00", Some("03-07 00:00"));
    script.add("2026-03-06 09:00", Event::Saw(NORTH_ITSELF, Sighting::Leak));
    for (at, humidity) in [("03-05 08:00", 60), ("03-05 20:00", 60), ("03-06 09:30", 60)] {
        script.tell(&format!("{at} humidity {humidity}"));
    }
    let all = tale(&script, "03-06 07:30", "03-06 23:00", "");
    let told = |word: &str| all.iter().any(|line| line.ends_with(word));
    assert!(told("08:00 late: change, hazard"), "{all:?}");
    assert!(told("09:00 seen"), "{all:?}");
    assert!(all.iter().any(|line| line.ends_with("spell, low")), "{all:?}");
    assert!(told("10:00 late"), "the leak's look: {all:?}");
    assert!(!all.iter().any(|line| line.contains("round")), "{all:?}");
}
