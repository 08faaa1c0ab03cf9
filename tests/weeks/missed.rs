//! What was missed is counted by what was in force at that time, whatever was set later.

use std::collections::BTreeMap;

use jiff::{SignedDuration, Timestamp, civil};
use proptest::prelude::*;
use wrackline_core::care::{Duty, Every, Numbers, Pace, Rule, standing};
use wrackline_core::civil::{Week, plus_minutes, second_before, seconds_between};
use wrackline_core::journal::{Book, Entry, Event, Part, RoundChange};
use wrackline_core::place::{RoundId, Target};
use wrackline_core::week::week;
use wrackline_tests::journal::NORTH_SALT;

use super::{of, sum, two_rounds};
use crate::care::order::{SPAN_MIN, config, journals};

/// How often a duty was missed from 2 March on, told at a moment.
fn check(duty: Duty, lines: &str, moment: &str, expected: u32) {
    let found = of(&sum(&two_rounds(lines), moment), duty);
    assert_eq!(found.missed, expected, "{duty:?} at {moment} after {lines:?}");
}

const FILTERED: &str = "03-01 07:00 gear filter added-proven; 03-01 08:00 change; 03-02 08:00 change";

#[test]
fn what_was_no_duty_was_not_missed_when_gear_stops() {
    // A filtered pool is not conditioned; without the filter it is again, every two days from the change on.
    let stopped = &format!("{FILTERED}; 03-07 10:00 gear filter stopped");
    check(Duty::Condition, stopped, "03-07 11:00", 0);
    check(Duty::Condition, stopped, "03-08 07:00", 0);
    // On the 8th, six days after the change, it is open and a further interval is over.
    check(Duty::Condition, stopped, "03-09 12:00", 1);
    let dosed = &format!("{stopped}; 03-07 20:00 condition");
    check(Duty::Condition, dosed, "03-09 12:00", 0);
    let taken_off = &format!("{FILTERED}; 03-07 10:00 gear filter removed");
    check(Duty::Condition, taken_off, "03-07 11:00", 0);
}

#[test]
fn changes_are_missed_by_the_cadence_of_their_time() {
    // Of aerated water every four days, due on 4 March, the 8th was missed.
    let told = |lines: &str, moment: &str| {
        let mut script = two_rounds(&format!("02-28 07:00 gear air added; {lines}"));
        let numbers = Numbers {
            every: Some(Every::Days(4)),
            grace_h: None,
            hazard_h: None,
        };
        script.add("2026-01-01 00:00", Event::Numbers(Rule::ChangeAerated, numbers));
        of(&sum(&script, moment), Duty::Change).missed
    };
    assert_eq!(told("", "03-09 12:00"), 1);
    // Every two days since the stop on the 7th: not the 6th.
    let stopped = "03-07 10:00 gear air stopped";
    assert_eq!(told(stopped, "03-07 11:00"), 0);
    assert_eq!(told(stopped, "03-09 12:00"), 1);
    // Every two days until the start on the 7th: the 2nd does not wait for the 4th.
    let started = "02-28 09:00 gear air stopped; 03-07 10:00 gear air started";
    assert_eq!(told(started, "03-07 09:00"), 2);
    assert_eq!(told(started, "03-08 09:00"), 3);
    // A still pool's were missed on the 4th and the 6th, though nothing is any more once the pool is out of use.
    check(Duty::Change, "03-07 10:00 life out-of-use", "03-09 12:00", 2);
    // A round that moves on the day makes no second one of it: the 4th, the 6th, the 8th.
    let mut script = two_rounds("");
    let round = RoundChange::Time(civil::time(9, 0, 0, 0));
    script.add("2026-03-04 08:30", Event::Round(RoundId(1), round));
    assert_eq!(of(&sum(&script, "03-09 12:00"), Duty::Change).missed, 3);
}

/// Missed turns of a week by duty and target, told at a moment.
fn told(book: &Book, one: Week, now: Timestamp) -> BTreeMap<(Duty, Target), u32> {
    let duties = week(book, one, now).duties;
    let each = duties
        .iter()
        .map(|duty| ((duty.duty.family(), duty.target), duty.missed));
    each.collect()
}

proptest! {
    #![proptest_config(config(24))]

    #[test]
    fn what_was_missed_stays_so_and_nothing_comes_to_it((entries, start) in journals(), hours in 1_i64..60) {
        let book = Book::of(entries);
        let one = Week::of(civil::date(2026, 3, 12));
        let mut before = BTreeMap::new();
        let mut now = start + SignedDuration::from_hours(7 * 24);
        while now <= plus_minutes(start, SPAN_MIN) {
            let found = told(&book, one, now);
            for (key, count) in &before {
                prop_assert!(found.get(key) >= Some(count), "{:?} at {}: {} before", key, now, count);
            }
            before = found;
            now += SignedDuration::from_hours(hours);
        }
    }

    #[test]
    fn each_is_missed_as_the_duty_stood_right_before_it((entries, _) in journals()) {
        // Rounds that move change what a whole interval is; they are held by a case.
        let kept = |entry: &Entry| match entry.event {
            Event::Did(_, _, part) => part == Part::Whole,
            Event::Round(..) | Event::Place(..) | Event::Retract(..) => entry.at < start(),
            _ => true,
        };
        let mut settled = entries;
        settled.retain(kept);
        // Everything on the half hour, so that looking at each half hour sees all.
        settled.iter_mut().for_each(|entry| entry.at = half_hour(entry.at));
        let book = Book::of(settled);
        let one = Week::of(civil::date(2026, 3, 12));
        let (from, until) = one.span(&book.place_at(start()).zone);
        let found = told(&book, one, until);
        for duty in [Duty::Change, Duty::Condition] {
            let (mut expected, mut at) = (0, from);
            while at < until {
                expected += u32::from(is_missed(&book, duty, at));
                at = plus_minutes(at, 30);
            }
            prop_assert_eq!(found.get(&(duty, NORTH_SALT)).copied().unwrap_or(0), expected, "{:?}", duty);
        }
    }
}

/// When what is set up is, and nothing was done yet.
fn start() -> Timestamp {
    "2026-01-01T00:00:00Z".parse().expect("a time")
}

fn half_hour(at: Timestamp) -> Timestamp {
    let seconds = at.as_second();
    Timestamp::from_second(seconds - seconds.rem_euclid(1800)).expect("a time")
}

/// Whether a further whole interval of an open turn is over at this moment, as it stood right before.
fn is_missed(book: &Book, duty: Duty, at: Timestamp) -> bool {
    let before = second_before(at);
    let Some(turn) = standing(book, &book.place_at(before), duty, NORTH_SALT, before) else {
        return false;
    };
    let Pace::Interval { every, .. } = turn.cadence.pace else {
        return false;
    };
    let gone = seconds_between(turn.due, at);
    gone > 0 && gone % (every.minutes() * 60) == 0
}
