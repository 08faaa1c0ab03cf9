//! The worked cases of the cadence arithmetic: zone, rounds, one entry → due, overdue, hazard.
//! The rows are this project's own worked examples of its definitions, in `data/cadence-cases.csv`.

use wrackline_core::care::{Duty, standing};
use wrackline_core::journal::GearChange;
use wrackline_core::place::Gear;
use wrackline_tests::journal::{NORTH_SALT, Script};

#[test]
fn worked_cases() {
    let mut checked = 0;
    for line in include_str!("data/cadence-cases.csv").lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let &[zone, rounds, duty, entry, due, overdue, hazard] = cells.as_slice() else {
            panic!("not seven cells: {line}");
        };
        let mut script = Script::place(zone, rounds);
        let duty = match duty {
            "change-still" => Duty::Change,
            "change-aerated" => {
                script.gear("2000-01-02 00:00", Gear::Air, GearChange::Added { proven: false });
                Duty::Change
            }
            "part-change" => {
                script.gear(
                    "2000-01-02 00:00",
                    Gear::Filter,
                    GearChange::Added { proven: true },
                );
                Duty::PartChange
            }
            "condition" => Duty::Condition,
            other => panic!("no such duty: {other}"),
        };
        script.did(entry, duty);
        let (book, now) = (script.book(), script.at(entry));
        let standing = standing(&book, &book.place_at(now), duty, NORTH_SALT, now).expect("a standing");
        let show = |at| script.zone.rfc3339(at);
        let found = [
            show(standing.due),
            show(standing.overdue),
            standing.hazard.map_or(String::new(), show),
        ];
        assert_eq!(found, [due, overdue, hazard], "{line}");
        checked += 1;
    }
    assert_eq!(checked, 100, "rows of the table");
}
