//! Duties of the place's own, and its own numbers for those of the catalogue.

use wrackline::lines::ask::{GearVerb, SetUp};
use wrackline_core::care::{Every, Numbers, Rule, Schedule};
use wrackline_core::place::{Gear, OwnDutyId, Target};

use super::{NORTH, Rig, SALT, enclosure_spot, gear, holds, pool_spot, time};

fn set(rule: Rule, every: Option<Every>, grace_h: Option<u32>, hazard_h: Option<u32>) -> SetUp {
    SetUp::DutySet {
        rule,
        numbers: Numbers {
            every,
            grace_h,
            hazard_h,
        },
        nod: None,
    }
}

#[test]
fn numbers_of_the_place() {
    let mut rig = Rig::north();
    let text = rig.hear(set(Rule::ChangeStill, Some(Every::Days(3)), None, None));
    holds(
        &text,
        &[
            "Change of a still pool: every 3 days; overdue after 12 h; hazard after 4 days.",
            "The catalogue: every 2 days; overdue after 12 h; hazard after 4 days.",
            "North salt: change, Saturday 7 March 08:00",
        ],
    );
    // What is said later leaves the rest as it was set.
    let text = rig.hear(set(Rule::ChangeStill, None, Some(6), Some(72)));
    holds(&text, &["every 3 days; overdue after 6 h; hazard after 3 days."]);
    let numbers = Numbers {
        every: Some(Every::Days(3)),
        grace_h: Some(6),
        hazard_h: Some(72),
    };
    assert_eq!(rig.place().numbers[&Rule::ChangeStill].0, numbers);
    holds(
        &rig.hear(SetUp::DutyList),
        &[
            "14 rows of the catalogue, 0 duties",
            "change of a still pool | every 3 days | 6 h | 3 days | this place",
            "scrub of grip stones and ramps | every 14 days | 7 days | never | common practice",
            "morning look | every day | the next round | never | common practice",
        ],
    );
    holds(
        &rig.hear(set(Rule::Rinse, Some(Every::Days(20)), None, None)),
        &["never a hazard", "No pool or enclosure has this duty"],
    );
    // The place's own number is the one that a receipt tells.
    rig.wait(1);
    rig.hear(set(Rule::ChangeAerated, Some(Every::Days(6)), None, None));
    holds(
        &rig.hear(gear(Gear::Air, GearVerb::Add { proven: false })),
        &["every 3 days. After it: every 6 days."],
    );
}

#[test]
fn own_duties() {
    let mut rig = Rig::north();
    let add = |name: &str, spot, schedule, disturbs| SetUp::DutyAdd {
        name: name.to_owned(),
        spot,
        schedule,
        grace_h: 12,
        disturbs,
    };
    let text = rig.hear(add(
        "mist",
        Some(enclosure_spot(&[SALT])),
        Schedule::Every(Every::Days(3)),
        false,
    ));
    holds(
        &text,
        &[
            "Mist, North: every 3 days. First due: Saturday 7 March 08:00.",
            "Overdue 12 h after it is due.",
        ],
    );
    let weekdays = Schedule::Weekdays {
        days: vec![1, 4],
        at: Some(time(21, 0)),
    };
    let text = rig.hear(add("Skim", Some(pool_spot(&[SALT])), weekdays, true));
    holds(
        &text,
        &[
            "Skim, North salt: on Monday and Thursday at 21:00. First due: Thursday 5 March 21:00.",
            "A quiet zone holds it back.",
        ],
    );
    let weekdays = Schedule::Weekdays {
        days: vec![5],
        at: None,
    };
    let text = rig.hear(add("Shop", None, weekdays, false));
    holds(
        &text,
        &["on Friday, at the first round. First due: Friday 6 March 08:00."],
    );
    let cron = Schedule::Cron("0 30 21 * * Mon-Fri".to_owned());
    let text = rig.hear(add("Lights", None, cron, false));
    holds(
        &text,
        &["by cron 30 21 * * Mon-Fri. First due: Wednesday 4 March 21:30."],
    );
    let place = rig.place();
    assert_eq!(place.duties[&OwnDutyId(1)].0.target, Target::Enclosure(NORTH));
    assert_eq!(place.duties[&OwnDutyId(2)].0.target, Target::Pool(SALT));
    assert_eq!(place.duties[&OwnDutyId(3)].0.target, Target::Place);
    holds(
        &rig.hear(SetUp::DutyList),
        &[
            "4 duties of the place's own",
            "Skim (North salt) | on Monday and Thursday",
        ],
    );
    holds(
        &rig.hear(SetUp::DutyRetire { duty: OwnDutyId(1) }),
        &["Mist, North, is no longer called."],
    );
    assert!(!rig.place().duties.contains_key(&OwnDutyId(1)));
    // With the pool its own duties are no longer called either, and the receipt says so.
    holds(&rig.hear(SetUp::PoolRetire { pool: SALT }), &["Skim"]);
    assert!(!rig.place().duties.contains_key(&OwnDutyId(2)));
}
