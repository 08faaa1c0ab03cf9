//! How turns are given out where skills, time and absences are in the way, and why one lies where it does.

use super::*;
use crate::care::{Every, OwnDuty, Schedule, TurnKey};
use crate::journal::OwnDutyChange;
use crate::place::OwnDutyId;

fn share_of(script: &mut Script, carer: u32, change: CarerChange) {
    let start = script.at(0, 0);
    script.add(start, 1, Event::Carer(CarerId(carer), change));
}

#[test]
fn whoever_lacks_a_skill_gets_the_rest_of_a_round() {
    let mut script = Script::place();
    for carer in 2..=3 {
        let skills = Skills {
            siphon: false,
            salt: false,
            lift_kg: Some(5.0),
        };
        share_of(&mut script, carer, CarerChange::Skills(skills));
    }
    let shared = script.shared(script.at(0, 7));
    let of_keeper = shared.turns.iter().filter(|turn| turn.carer == Some(CarerId(1)));
    let easy = of_keeper.filter(|turn| turn.expected.work.needs == Needs::default());
    assert_eq!(
        easy.count(),
        0,
        "the keeper alone can change water, and does no more"
    );
    assert!(shared.turns.iter().all(|turn| turn.carer.is_some()));
}

#[test]
fn a_round_that_nobody_has_time_for_as_a_whole_is_split() {
    let mut script = Script::place();
    for carer in 1..=3 {
        share_of(&mut script, carer, CarerChange::MinutesMax(Some(30)));
    }
    let shared = script.shared(script.at(0, 7));
    let mut days: BTreeMap<(CarerId, civil::Date), f64> = BTreeMap::new();
    for turn in &shared.turns {
        let Some(carer) = turn.carer else { continue };
        *days.entry((carer, turn.expected.when.date)).or_default() += turn.expected.work.minutes;
    }
    assert!(days.values().all(|minutes| *minutes <= 30.0), "{days:?}");
    // Whatever takes no more than half an hour has someone, as long as there is time for it.
    let left = shared.turns.iter().filter(|turn| turn.carer.is_none());
    for turn in left {
        let (date, minutes) = (turn.expected.when.date, turn.expected.work.minutes);
        let has_time = |carer: u32| days.get(&(CarerId(carer), date)).unwrap_or(&0.0) + minutes <= 30.0;
        assert!(!(1..=3).any(has_time), "{turn:?}");
    }
}

#[test]
fn a_day_that_became_too_full_gives_up_as_little_as_will_do() {
    let mut script = Script::place();
    let before = script.share(script.at(0, 7));
    let now = script.at(0, 9);
    let of_day = |turn: &&Turn| {
        turn.carer == Some(CarerId(2)) && turn.expected.when.at > now + jiff::SignedDuration::from_hours(24)
    };
    let mut days: BTreeMap<civil::Date, f64> = BTreeMap::new();
    for turn in before.turns.iter().filter(of_day) {
        *days.entry(turn.expected.when.date).or_default() += turn.expected.work.minutes;
    }
    let most = days.values().copied().fold(0.0, f64::max);
    script.add(
        now,
        1,
        Event::Carer(CarerId(2), CarerChange::MinutesMax(Some(most as u16 - 1))),
    );
    let after = script.shared(now);
    let full: Vec<&civil::Date> = days
        .iter()
        .filter(|(_, minutes)| **minutes > most - 1.0)
        .map(|(date, _)| date)
        .collect();
    let moved: Vec<&Turn> = after.turns.iter().filter(|turn| turn.moves()).collect();
    // One small turn of each day that is too full.
    assert_eq!(moved.len(), full.len());
    for turn in moved {
        assert!(turn.was == Some(CarerId(2)) && full.contains(&&turn.expected.when.date));
    }
}

#[test]
fn who_wants_no_share_keeps_what_they_took_but_not_while_they_are_away() {
    let check = |away: bool, keeps: bool| {
        let mut script = Script::place();
        let shared = script.share(script.at(0, 7));
        let later = |turn: &&Turn| turn.expected.when.at > script.at(4, 0);
        let slot = shared.turns.iter().find(later).expect("a turn").expected.slot;
        let now = script.at(0, 9);
        script.add(now, 3, Event::Coming(slot, Say::Taken));
        script.add(now, 3, Event::Carer(CarerId(3), CarerChange::Share(0.0)));
        if away {
            let (from, to) = (script.at(2, 0), script.at(20, 0));
            script.add(now, 3, Event::Away(Absence::Span { from, to }));
        }
        let after = script.shared(now);
        let mut far = after
            .turns
            .iter()
            .filter(|turn| turn.expected.when.at > script.at(2, 0));
        let theirs: Vec<Slot> = far
            .by_ref()
            .filter(|turn| turn.carer == Some(CarerId(3)))
            .map(|turn| turn.expected.slot)
            .collect();
        assert_eq!(theirs, if keeps { vec![slot] } else { Vec::new() });
    };
    check(false, true);
    check(true, false);
}

#[test]
fn a_duty_of_several_times_a_day_is_written_down_once_a_slot() {
    let mut script = Script::place();
    let own = OwnDuty {
        name: "mist".to_owned(),
        target: Target::Enclosure(EnclosureId(1)),
        schedule: Schedule::Every(Every::Hours(6)),
        grace_h: 2,
        disturbs: false,
    };
    let start = script.at(0, 0);
    script.add(start, 1, Event::OwnDuty(OwnDutyId(1), OwnDutyChange::Added(own)));
    let now = script.at(0, 7);
    let changes = script.share(now).changes();
    let mut slots: Vec<Slot> = changes.iter().map(|(slot, _)| *slot).collect();
    slots.sort();
    slots.dedup();
    assert_eq!(slots.len(), changes.len());
    assert_eq!(script.shared(now).changes(), Vec::new());
}

#[test]
fn small_places_are_dealt_as_well_as_can_be() {
    // How far from the best the measure was seen to lie, in minutes squared: further where a day has little room.
    let check = |change: Option<CarerChange>, off: f64| {
        let mut script = Script::place();
        if let Some(change) = change.clone() {
            share_of(&mut script, 2, change);
        }
        let (book, now) = (script.book(), script.at(2, 8));
        let place = book.place_at(now);
        let gap = gap(&book, &place, &board(&book, &place, now), now, 1, 100_000).expect("few turns");
        assert!(gap.turns > 5 && gap.tried > 100, "{gap:?}");
        assert!(
            gap.best <= gap.dealt + 1e-9 && gap.dealt - gap.best < off,
            "{change:?}: {gap:?}"
        );
    };
    check(None, 1.0);
    check(Some(CarerChange::Share(0.5)), 1.0);
    check(Some(CarerChange::MinutesMax(Some(20))), 4.5);
}

#[test]
fn what_was_given_up_before_it_is_due_is_not_dealt_to_the_same_person_again() {
    let mut given_up = 0;
    for carer in 1..=3 {
        let mut script = Script::place();
        let shared = script.share(script.at(0, 7));
        let now = script.at(0, 8);
        let is_theirs = |turn: &&Turn| turn.carer == Some(CarerId(carer)) && turn.expected.due > now;
        let theirs: Vec<&Turn> = shared.turns.iter().filter(is_theirs).collect();
        let keys: Vec<TurnKey> = theirs.iter().filter_map(|turn| turn.expected.turn).collect();
        for turn in &keys {
            script.add(now, carer, Event::Cannot { turn: *turn });
        }
        given_up += keys.len();
        // Nothing else is there to do, so that all that is even speaks for them.
        for other in (1..=3).filter(|other| *other != carer) {
            share_of(&mut script, other, CarerChange::Share(0.1));
        }
        for hour in [9, 19] {
            let again = script.share(script.at(0, hour));
            let of_keys = |turn: &&Turn| turn.expected.turn.is_some_and(|key| keys.contains(&key));
            assert!(
                again
                    .turns
                    .iter()
                    .filter(of_keys)
                    .all(|turn| turn.carer != Some(CarerId(carer)))
            );
            assert!(
                again
                    .turns
                    .iter()
                    .filter(of_keys)
                    .any(|turn| turn.carer.is_some())
            );
        }
    }
    assert!(given_up > 3, "{given_up}");
}

#[test]
fn a_turn_tells_why_it_lies_where_it_does() {
    let mut script = Script::place();
    let skills = Skills {
        siphon: false,
        salt: false,
        lift_kg: None,
    };
    share_of(&mut script, 2, CarerChange::Skills(skills));
    share_of(&mut script, 3, CarerChange::Skills(skills));
    let shared = script.share(script.at(0, 7));
    let now = script.at(1, 7);
    let told =
        |script: &Script, slot: &Slot| reasons(&script.book(), slot, None, now).expect("it was published");
    let change = shared
        .turns
        .iter()
        .find(|turn| turn.expected.duty == Duty::Change)
        .expect("a change");
    let why = told(&script, &change.expected.slot);
    assert_eq!((why.carer, why.decided), (Some(CarerId(1)), Decided::Only));
    assert_eq!(why.at, script.at(0, 7));
    let able = |carer: u32| {
        why.all
            .iter()
            .find(|one| one.carer == CarerId(carer))
            .map(|one| one.able)
    };
    assert_eq!((able(1), able(2)), (Some(Able::Yes), Some(Able::Unskilled)));
    // What comes later changes nothing of why it was shared out so.
    script.add(
        script.at(0, 12),
        2,
        Event::Carer(CarerId(2), CarerChange::Skills(Skills::ALL)),
    );
    assert_eq!(told(&script, &change.expected.slot), why);
    for turn in &shared.turns {
        let why = told(&script, &turn.expected.slot);
        assert_eq!(why.carer, turn.carer);
        let laid = laid(&script.book(), &turn.expected.slot, None, now).expect("it was published");
        assert_eq!((laid.at, laid.carer, laid.said), (why.at, why.carer, None));
        let owed: f64 = why.all.iter().map(|one| one.credit.balance()).sum();
        // All balances together are this turn, which is left out.
        assert!((owed + turn.expected.work.minutes).abs() < 1e-6, "{why:?}");
    }
    let slot = change.expected.slot;
    script.add(script.at(0, 13), 1, Event::Coming(slot, Say::Offered(CarerId(2))));
    script.add(script.at(0, 14), 2, Event::Coming(slot, Say::Taken));
    let offered_by = Some(CarerId(1));
    assert_eq!(told(&script, &slot).decided, Decided::Took { offered_by });
    script.add(script.at(0, 15), 2, Event::Coming(slot, Say::Freed));
    assert_eq!(told(&script, &slot).decided, Decided::GaveUp(CarerId(2)));
    let laid = laid(&script.book(), &slot, None, now).expect("it was given up");
    assert_eq!((laid.carer, laid.said), (None, Some(Decided::GaveUp(CarerId(2)))));
}

#[test]
fn the_best_may_leave_a_turn_with_nobody_where_every_day_may_be_full() {
    let check = |minutes: u16| {
        let mut script = Script::place();
        for (carer, most) in [(1, minutes), (2, 1), (3, 1)] {
            share_of(&mut script, carer, CarerChange::MinutesMax(Some(most)));
        }
        let (book, now) = (script.book(), script.at(2, 8));
        let place = book.place_at(now);
        let gap = gap(&book, &place, &board(&book, &place, now), now, 1, 100_000).expect("few turns");
        assert_eq!(gap.tried, 4_u64.pow(8));
        (gap.left, gap.left_best, gap.over())
    };
    // The longest first takes the time of shorter ones, of which more have room.
    let (left, least, over) = check(22);
    assert!(left > least && over.is_none(), "{left}, {least}");
    let (left, least, over) = check(10);
    assert!(left == least && over.is_some_and(|over| (-1e-6..1e-6).contains(&over)));
}
