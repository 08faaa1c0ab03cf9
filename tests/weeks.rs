//! The week summed up: counts by duty, readings, people, and that what is past stays as it was told.

mod husbandry;
mod missed;
mod past;

use jiff::civil;
use wrackline_core::care::{Duty, Mark, OwnDuty, Schedule, standing};
use wrackline_core::civil::Week;
use wrackline_core::journal::{CarerChange, Event, OwnDutyChange, Part, PoolChange, Sighting};
use wrackline_core::place::{CarerId, OwnDutyId, Role, Target};
use wrackline_core::quantity::Kind;
use wrackline_core::week::{DutyWeek, WeekSummary, week};
use wrackline_tests::journal::{NORTH_ITSELF, NORTH_SALT, SALT, Script};

/// The week of 2 to 8 March 2026.
fn march() -> Week {
    Week {
        monday: civil::date(2026, 3, 2),
    }
}

fn sum(script: &Script, moment: &str) -> WeekSummary {
    week(&script.book(), march(), script.at(&format!("2026-{moment}")))
}

fn of(summary: &WeekSummary, duty: Duty) -> DutyWeek {
    let found = summary.duties.iter().find(|one| one.duty == duty);
    found
        .unwrap_or_else(|| panic!("no {duty:?} in {:?}", summary.duties))
        .clone()
}

/// A duty's week in one line: done, late, missed, not needed, parts, mean minutes from due, mark.
fn line(duty: &DutyWeek) -> String {
    let counts =
        [duty.done, duty.late, duty.missed, duty.not_needed, duty.parts].map(|count| count.to_string());
    let minutes = duty
        .minutes_to_done
        .map_or("none".to_owned(), |minutes| minutes.to_string());
    format!("{}, {minutes}, {}", counts.join(" "), duty.mark.word())
}

fn two_rounds(lines: &str) -> Script {
    let mut script = Script::place("UTC", "08:00 20:00");
    script.tell("02-28 08:00 change");
    script.tell(lines);
    script
}

/// How a duty's week, told after it, looks.
fn check(duty: Duty, lines: &str, expected: &str) {
    let found = line(&of(&sum(&two_rounds(lines), "03-09 12:00"), duty));
    assert_eq!(found, expected, "{duty:?} after {lines:?}");
}

#[test]
fn changes_of_a_week() {
    let check = |lines: &str, expected: &str| check(Duty::Change, lines, expected);
    // Every second day at its round; the last one's turn is calm at the week's end.
    check(
        "03-02 08:00 change; 03-04 08:00 change; 03-06 08:00 change; 03-08 08:00 change",
        "4 0 0 0 0, 0, calm",
    );
    // An hour and three hours after due; early counts as no wait.
    check(
        "03-02 09:00 change; 03-04 11:00 change; 03-05 20:00 change; 03-07 20:00 change",
        "4 0 0 0 0, 60, calm",
    );
    // Due 2 March 08:00, late from 20:00 on.
    check(
        "03-02 20:00 change; 03-04 20:00 change; 03-06 20:00 change",
        "2 1 0 0 0, 240, due",
    );
    check(
        "03-02 19:59 change; 03-04 20:00 change; 03-06 20:00 change",
        "3 0 0 0 0, 239, due",
    );
    // Due on the 2nd, done on the 6th: a further whole interval on the 4th and one on the 6th went by.
    check("03-06 08:00 change", "0 1 2 0 0, 5760, overdue");
    check("03-06 07:59 change", "0 1 1 0 0, 5759, overdue");
    // Never done at all: the 4th, the 6th, the 8th.
    check("", "0 0 3 0 0, none, hazard");
}

#[test]
fn a_mark_is_told_as_it_is_though_another_turn_renews_the_duty() {
    let check = |lines: &str, missed: u32, folded: bool| {
        let script = two_rounds(lines);
        let top_up = of(&sum(&script, "03-09 12:00"), Duty::TopUp);
        let end = script.at("2026-03-08 23:59");
        let (book, place) = (script.book(), script.book().place_at(end));
        let stands = standing(&book, &place, Duty::TopUp, NORTH_SALT, end).expect("a top-up");
        let told = (top_up.missed, top_up.folded, top_up.mark);
        assert_eq!(told, (missed, folded, stands.mark), "{lines:?}");
        let is_late = stands.mark >= Mark::Overdue && !folded;
        assert_eq!(top_up.is_late(), is_late, "{lines:?}");
        stands.mark
    };
    // The change that tops it up waits as well, and is the one that is late.
    assert_eq!(check("", 7, true), Mark::Hazard);
    assert_eq!(check("03-08 08:00 change", 7, false), Mark::Calm);
    check("03-07 08:00 change", 6, false);
}

#[test]
fn parts_and_what_was_not_needed() {
    let check = |lines: &str, expected: &str| check(Duty::Change, lines, expected);
    check(
        "03-02 08:00 change 0.5; 03-03 08:00 change; 03-05 08:00 change; 03-07 08:00 change",
        "3 0 0 0 1, 0, calm",
    );
    check(
        "03-02 08:00 notneeded change; 03-04 08:00 change; 03-06 08:00 change; 03-08 08:00 change",
        "3 0 0 1 0, 0, calm",
    );
    // A filtered pool's own fraction is its whole.
    let filtered = "03-01 07:00 gear filter added-proven; 03-01 08:00 change; 03-08 08:00 change 0.5";
    let found = line(&of(&sum(&two_rounds(filtered), "03-09 12:00"), Duty::PartChange));
    assert_eq!(found, "1 0 0 0 0, 0, calm");
}

/// The week of a duty of the place's own on Monday and Thursday.
fn own(done: &[&str], moment: &str) -> DutyWeek {
    let mut script = two_rounds("");
    let schedule = Schedule::Weekdays {
        days: vec![1, 4],
        at: None,
    };
    let duty = OwnDuty {
        name: "bin".to_owned(),
        target: Target::Place,
        schedule,
        grace_h: 6,
        disturbs: false,
    };
    let bin = Duty::Own(OwnDutyId(1));
    script.add(
        "2026-02-27 00:00",
        Event::OwnDuty(OwnDutyId(1), OwnDutyChange::Added(duty)),
    );
    for moment in done {
        script.add(
            &format!("2026-{moment}"),
            Event::Did(bin, Target::Place, Part::Whole),
        );
    }
    of(&sum(&script, moment), bin)
}

#[test]
fn a_calendars_week() {
    let check = |done: &[&str], expected: &str| {
        assert_eq!(line(&own(done, "03-09 12:00")), expected, "{done:?}");
    };
    check(&["03-02 08:30", "03-05 08:10"], "2 0 0 0 0, 20, calm");
    check(&["03-02 14:00", "03-05 08:00"], "1 1 0 0 0, 180, calm");
    // Monday's was superseded by Thursday's.
    check(&["03-05 09:00"], "1 0 1 0 0, 60, calm");
    // Thursday's stays open; it is missed when Monday's comes, in the week after.
    check(&["03-02 08:00"], "1 0 0 0 0, 0, overdue");
    check(&[], "0 0 1 0 0, none, overdue");
}

#[test]
fn a_week_that_still_runs_is_summed_up_so_far() {
    let script = two_rounds("03-02 08:00 change; 03-04 08:00 change; 03-06 08:00 change");
    let check = |moment: &str, expected: &str| {
        let found = sum(&script, moment);
        assert_eq!(line(&of(&found, Duty::Change)), expected, "{moment}");
        assert_eq!(
            found.until,
            script
                .at(&format!("2026-{moment}"))
                .min(script.at("2026-03-09 00:00"))
        );
    };
    check("03-02 07:00", "0 0 0 0 0, none, calm");
    check("03-02 08:00", "1 0 0 0 0, 0, calm");
    check("03-05 12:00", "2 0 0 0 0, 0, calm");
    check("03-08 09:00", "3 0 0 0 0, 0, due");
    check("03-30 09:00", "3 0 0 0 0, 0, overdue");
}

#[test]
fn what_was_never_done_is_said_to_be_unknown() {
    let found = sum(&two_rounds("03-03 08:00 look"), "03-09 12:00");
    let never = |duty| of(&found, duty).never;
    assert_eq!(
        [Duty::Scrub, Duty::Hygrometer, Duty::Reading].map(never),
        [true; 3]
    );
    assert_eq!(
        [Duty::Look, Duty::Change, Duty::Condition, Duty::TopUp].map(never),
        [false; 4]
    );
    let empty = found
        .readings
        .iter()
        .map(|one| (one.inside, one.under, one.over))
        .collect::<Vec<_>>();
    assert_eq!(empty, [(0, 0, 0); 2]);
}

#[test]
fn readings_in_and_out_of_the_band() {
    let lines = "03-01 23:59 humidity 50; 03-02 00:00 humidity 74.9; 03-03 08:00 humidity 75; \
                 03-04 08:00 humidity 80; 03-05 08:00 humidity 85; 03-08 23:59 humidity 85.1; \
                 03-09 00:00 humidity 99; 03-04 08:00 temperature 23.9; 03-04 09:00 temperature 24; \
                 03-04 10:00 temperature 29; 03-04 11:00 temperature 29.1; 03-04 12:00 temperature 30";
    let found = sum(&two_rounds(lines), "03-12 12:00");
    let check = |kind, expected: (u32, u32, u32)| {
        let one = found
            .readings
            .iter()
            .find(|one| one.kind == kind && one.target == NORTH_ITSELF)
            .expect("readings");
        assert_eq!((one.under, one.inside, one.over), expected, "{kind:?}");
    };
    check(Kind::Humidity, (1, 3, 1));
    check(Kind::Temperature, (1, 2, 2));
}

#[test]
fn who_did_how_much() {
    let mut script = two_rounds("03-02 08:00 change; 03-02 08:05 look; 03-01 08:00 look; 03-09 08:00 look");
    for number in [2, 3] {
        script.add(
            "2026-01-01 00:00",
            Event::Carer(CarerId(number), CarerChange::Added(Role::Regular)),
        );
    }
    let did = |duty| Event::Did(duty, NORTH_ITSELF, Part::Whole);
    script.add_by(CarerId(2), "2026-03-03 08:00", did(Duty::Look));
    let wrong = script.add_by(CarerId(2), "2026-03-04 08:00", did(Duty::Look));
    script.add("2026-03-04 09:00", Event::Retract(wrong));
    let people: Vec<_> = sum(&script, "03-12 12:00").people.into_iter().collect();
    assert_eq!(people, [(CarerId(1), 2), (CarerId(2), 1)]);
}

#[test]
fn matters_that_were_open_and_what_comes_next() {
    let mut script =
        two_rounds("03-02 08:00 change; 03-04 08:00 change; 03-06 08:00 change; 03-08 08:00 change");
    let mut saw = |sighting, at: &str, closed: Option<&str>| {
        let seq = script.add(at, Event::Saw(NORTH_ITSELF, sighting));
        closed.map(|closed| script.add(closed, Event::Closed(seq)));
        seq
    };
    let [_, carried, within, open] = [
        saw(
            Sighting::Condensation,
            "2026-02-20 08:00",
            Some("2026-03-01 08:00"),
        ),
        saw(Sighting::Mould, "2026-02-20 08:00", Some("2026-03-02 08:00")),
        saw(Sighting::Mould, "2026-03-03 08:00", Some("2026-03-04 08:00")),
        saw(Sighting::Mould, "2026-03-08 08:00", Some("2026-03-10 08:00")),
    ];
    saw(Sighting::Condensation, "2026-03-09 08:00", None);
    let found = sum(&script, "03-12 12:00");
    assert_eq!(
        found.matters.iter().map(|matter| matter.seq).collect::<Vec<_>>(),
        [carried, within, open]
    );
    let is_open = |matter: &wrackline_core::journal::Matter| matter.closed.is_none();
    assert_eq!(
        found.matters.iter().map(is_open).collect::<Vec<_>>(),
        [false, false, true]
    );
    let changes = found.coming.iter().filter(|one| one.duty == Duty::Change);
    let changes: Vec<String> = changes.map(|change| script.local(change.due)).collect();
    assert_eq!(
        changes,
        ["03-10 08:00", "03-12 08:00", "03-14 08:00"],
        "every one of the days after"
    );
    assert!(
        found
            .coming
            .iter()
            .all(|one| one.due < script.at("2026-03-16 00:00"))
    );
    assert!(found.coming.is_sorted_by_key(|one| one.due));
}

#[test]
fn what_was_missed_is_counted_once() {
    let missed = |lines: &str, duty| of(&sum(&two_rounds(lines), "03-09 12:00"), duty).missed;
    // By hand: due daily at 08:00 since long ago. Missed on 2, 3, 4 and 5 March before the reading of the 5th at
    // 09:00; then due on the 6th, missed on 7 and 8 March.
    let one = "03-05 09:00 humidity 80";
    assert_eq!(missed(one, Duty::Reading), 6);
    let both = &format!("{one}; 03-05 09:00 temperature 26");
    assert_eq!(missed(both, Duty::Reading), 6, "two quantities of one line");
    let twice = "03-05 09:00 look; 03-05 09:00 look";
    let found = of(&sum(&two_rounds(twice), "03-09 12:00"), Duty::Look);
    assert_eq!((found.late, found.missed), (1, 6), "logged twice at one moment");
    // Due 2 March; missed on the 4th, the 6th and the 8th, however many small parts are done between.
    let none = missed("", Duty::Change);
    let parts = missed(
        "03-05 09:00 change 0.01; 03-05 21:00 change 0.01; 03-07 09:00 change 0.01",
        Duty::Change,
    );
    assert_eq!((none, parts), (3, 3));
}

#[test]
fn the_work_on_what_was_retired_still_counts() {
    let mut script = two_rounds("03-02 08:00 change; 03-04 08:00 change");
    script.add("2026-03-05 10:00", Event::Pool(SALT, PoolChange::Retired));
    assert_eq!(of(&sum(&script, "03-09 12:00"), Duty::Change).done, 2);
}
