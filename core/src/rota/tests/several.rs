//! A duty of several times a day: its turns of a day lie in one hand, and count as what they take together.

use super::*;
use crate::care::{Every, OwnDuty, Schedule};
use crate::journal::OwnDutyChange;
use crate::place::OwnDutyId;

const LIDS: Duty = Duty::Own(OwnDutyId(1));

/// A place with a duty of every three hours.
fn place() -> (Script, Timestamp) {
    let mut script = Script::place();
    let own = OwnDuty {
        name: "lids".to_owned(),
        target: Target::Place,
        schedule: Schedule::Every(Every::Hours(3)),
        grace_h: 2,
        disturbs: false,
    };
    let start = script.at(0, 0);
    script.add(start, 1, Event::OwnDuty(OwnDutyId(1), OwnDutyChange::Added(own)));
    let now = script.at(0, 7);
    (script, now)
}

/// Minutes of each, turns that follow another one included.
fn index(shared: &SharedOut) -> f64 {
    let theirs = minutes(shared);
    let load = |carer| theirs.get(&Some(CarerId(carer))).copied().unwrap_or_default();
    jain((1..=3).map(|carer| (load(carer), 1.0)))
}

fn lids(shared: &SharedOut) -> impl Iterator<Item = &Turn> {
    shared.turns.iter().filter(|turn| turn.expected.duty == LIDS)
}

/// Whose the duty is on the day of its first turn after a moment, and that day.
fn one_day(shared: &SharedOut, after: Timestamp) -> (CarerId, civil::Date) {
    let turn = lids(shared)
        .find(|turn| turn.expected.when.at > after)
        .expect("one");
    (turn.carer.expect("somebody"), turn.expected.when.date)
}

#[test]
fn what_follows_lies_where_the_first_does() {
    let (script, now) = place();
    let shared = script.shared(now);
    let (first, behind): (Vec<&Turn>, Vec<&Turn>) = lids(&shared).partition(|turn| !turn.follows);
    assert!(
        behind.len() > first.len(),
        "{} behind {}",
        behind.len(),
        first.len()
    );
    for turn in behind {
        let of = first.iter().find(|one| one.expected.slot == turn.expected.slot);
        let of = of.expect("the first of them");
        assert_eq!(turn.carer, of.carer);
        assert_eq!(
            turn.expected.when.date, of.expected.when.date,
            "they are of one day"
        );
    }
    assert!(index(&shared) > 0.995, "{}", index(&shared));
}

#[test]
fn its_turns_move_together() {
    let (mut script, now) = place();
    // Everything else is even; the duty lies with the second person alone.
    let shared = script.shared(now);
    let whose = |turn: &Turn| match turn.expected.duty {
        LIDS => Some(CarerId(2)),
        _ => turn.carer,
    };
    let firsts = shared.turns.iter().filter(|turn| !turn.follows);
    let given = firsts.map(|turn| (turn.expected.slot, whose(turn))).collect();
    script.add(now, 0, Event::Shared(given));
    let evened = script.evened(now);
    let moved: Vec<&Turn> = lids(&evened).filter(|turn| turn.moves()).collect();
    assert!(!moved.is_empty() && moved.len() <= 6, "{moved:?}");
    for one in moved {
        assert_eq!(one.was, Some(CarerId(2)));
        let of_slot = lids(&evened).filter(|turn| turn.expected.slot == one.expected.slot);
        let of_slot: Vec<&Turn> = of_slot.collect();
        assert!(of_slot.len() > 1);
        assert!(of_slot.iter().all(|turn| turn.carer == one.carer), "{one:?}");
    }
    assert!(index(&evened) > index(&script.shared(now)) + 0.01);
}

#[test]
fn whoever_is_away_for_a_day_leaves_none_of_its_turns_with_nobody() {
    let (mut script, now) = place();
    let first = script.share(now);
    let (who, date) = one_day(&first, script.at(4, 0));
    let [from, to] = [date, plus_days(date, 1)].map(|date| script.zone.day_start(date));
    script.add(now, who.0, Event::Away(Absence::Span { from, to }));
    let after = script.shared(now);
    let of_day = || lids(&after).filter(|turn| turn.expected.when.date == date);
    assert!(of_day().count() > 2);
    for turn in of_day() {
        assert!(turn.carer.is_some_and(|carer| carer != who), "{turn:?}");
    }
    let other_days = lids(&after).filter(|turn| turn.expected.when.date != date);
    assert!(
        other_days
            .filter(|turn| !turn.follows)
            .all(|turn| turn.carer == turn.was)
    );
}

#[test]
fn whoever_is_away_for_one_round_gives_up_all_of_that_day() {
    let (mut script, now) = place();
    let first = script.share(now);
    let (who, date) = one_day(&first, script.at(4, 0));
    let evening = vec![(RoundId(2), date)];
    script.add(now, who.0, Event::Away(Absence::Rounds(evening)));
    let after = script.share(now);
    let of_day = |shared: &SharedOut| -> Vec<Option<CarerId>> {
        let all = lids(shared).filter(|turn| turn.expected.when.date == date);
        all.map(|turn| turn.carer).collect()
    };
    let whose = of_day(&after);
    assert!(
        whose.len() > 2 && whose[0].is_some_and(|carer| carer != who),
        "{whose:?}"
    );
    assert!(whose.iter().all(|carer| *carer == whose[0]), "{whose:?}");
    // Of a place that knows of the absence when it shares out it is the same.
    let next = script.at(1, 7);
    assert_eq!(of_day(&script.shared(next)), whose);
}
