//! A past week stays as it was told, and a week with a clock change has its own length.

use jiff::civil;
use wrackline_core::care::{Duty, Every, Numbers, Rule};
use wrackline_core::civil::Week;
use wrackline_core::journal::{EnclosureChange, Event, Part, PlaceChange, PoolChange, RoundChange, Sighting};
use wrackline_core::place::RoundId;
use wrackline_core::week::week;
use wrackline_tests::journal::{NORTH, NORTH_SALT, SALT, Script};

use super::{of, sum, two_rounds};

#[test]
fn what_comes_later_leaves_a_past_week_as_it_was() {
    let lines = "03-02 09:00 change; 03-04 20:00 change; 03-06 08:00 change 0.5; 03-03 08:00 humidity 88";
    let before = two_rounds(lines);
    let expected = sum(&before, "03-09 12:00");
    let check = |what: &str, event: Event| {
        let mut script = before.clone();
        script.add("2026-03-10 08:00", event);
        assert_eq!(sum(&script, "03-20 12:00"), expected, "{what}");
    };
    let numbers = Numbers {
        every: Some(Every::Days(1)),
        grace_h: Some(1),
        hazard_h: Some(2),
    };
    check("numbers", Event::Numbers(Rule::ChangeStill, numbers));
    let round = RoundChange::Time(civil::time(6, 0, 0, 0));
    check("a round", Event::Round(RoundId(1), round));
    check("a round less", Event::Round(RoundId(2), RoundChange::Retired));
    check(
        "a zone",
        Event::Place(PlaceChange::Zone("Pacific/Kiritimati".to_owned())),
    );
    check("the pool's end", Event::Pool(SALT, PoolChange::Retired));
    check(
        "the enclosure's end",
        Event::Enclosure(NORTH, EnclosureChange::Retired),
    );
    check("work", Event::Did(Duty::Change, NORTH_SALT, Part::Whole));
    check("a sighting", Event::Saw(NORTH_SALT, Sighting::Leak));
    for gear in ["gear air added", "gear filter added-proven"] {
        let mut script = before.clone();
        script.tell(&format!("03-10 08:00 {gear}"));
        assert_eq!(sum(&script, "03-20 12:00"), expected, "{gear}");
    }
    // What is back-dated into it counts.
    let mut script = before.clone();
    script.tell("03-08 08:00 change");
    assert_ne!(sum(&script, "03-20 12:00").duties, expected.duties);
}

#[test]
fn a_week_with_a_clock_change_has_its_hours() {
    let check = |monday: civil::Date, hours: i64| {
        let script = Script::place("America/New_York", "08:00");
        let (from, until) = Week { monday }.span(&script.zone);
        assert_eq!((until.as_second() - from.as_second()) / 3600, hours, "{monday}");
        let found = week(&script.book(), Week { monday }, until);
        assert_eq!(found.until, until, "{monday}");
        let look = of(&found, Duty::Look);
        // Open all the time, it is missed at every further day's interval.
        assert_eq!(look.missed, 7, "{monday}");
    };
    check(civil::date(2026, 2, 23), 168);
    check(civil::date(2026, 3, 2), 167);
    check(civil::date(2026, 10, 26), 169);
}
