//! Turns exchanged because work done late re-dated them.

use super::*;

const LOOKS: (Duty, Target) = (Duty::Look, Target::Enclosure(EnclosureId(1)));

/// A place whose second person is there every other weekday; its turns were shared out, and the first look at an enclosure
/// is done a day late. The sharing-out before that, and the moment after it.
fn slipped(more: &[(u32, CarerChange)]) -> (Script, SharedOut, Timestamp) {
    let mut script = Script::place();
    let start = script.at(0, 0);
    let free = Free {
        days: Weekdays(0b101_0101),
        round: None,
    };
    let some_days = (2, CarerChange::Free(Some(vec![free])));
    for (carer, change) in more.iter().chain([&some_days]) {
        script.add(start, 1, Event::Carer(CarerId(*carer), change.clone()));
    }
    let before = script.share(script.at(0, 7));
    for day in 1..=2 {
        let at = script.at(day, 9);
        for pool in 1..=4 {
            let topped = Event::Did(Duty::TopUp, Target::Pool(PoolId(pool)), Part::Whole);
            script.add(at, 1, topped);
        }
        if day == 2 {
            script.add(at, 1, Event::Did(LOOKS.0, LOOKS.1, Part::Whole));
        }
    }
    let now = script.at(2, 10);
    (script, before, now)
}

/// Turns of a duty that were published with an owner.
fn looks(shared: &SharedOut) -> impl Iterator<Item = &Turn> {
    let of = |turn: &&Turn| (turn.expected.slot.duty, turn.expected.slot.target) == LOOKS && !turn.follows;
    shared.turns.iter().filter(of)
}

fn is_there(script: &Script, turn: &Turn, carer: CarerId, now: Timestamp) -> bool {
    let book = script.book();
    let carer = &book.place_at(now).carers[&carer];
    able(&book, carer, &turn.expected.work.needs, &turn.expected.when, now) == Able::Yes
}

#[test]
fn whoever_is_not_there_on_the_new_day_keeps_their_days_for_as_many_turns() {
    let (script, before, now) = slipped(&[]);
    let after = script.shared(now);
    let moved: Vec<&Turn> = looks(&after).filter(|turn| turn.moves()).collect();
    let lost = |turn: &&&Turn| turn.was.is_some_and(|was| !is_there(&script, turn, was, now));
    let lost = moved.iter().filter(lost).count();
    assert!(lost > 1, "several lie on other days now: {lost}");
    assert_eq!(moved.len(), 2 * lost, "one is given for each: {moved:?}");
    for turn in looks(&after) {
        let carer = turn.carer.expect("somebody");
        assert!(is_there(&script, turn, carer, now), "{turn:?}");
    }
    let published: Vec<Slot> = looks(&after)
        .filter(|turn| turn.was.is_some())
        .map(|turn| turn.expected.slot)
        .collect();
    for carer in 1..=3 {
        let theirs = |shared: &SharedOut| {
            let all = looks(shared).filter(|turn| published.contains(&turn.expected.slot));
            all.filter(|turn| turn.carer == Some(CarerId(carer))).count()
        };
        assert_eq!(theirs(&before), theirs(&after), "as many as before for {carer}");
    }
}

#[test]
fn an_exchanged_turn_tells_with_whom() {
    let (mut script, _, now) = slipped(&[]);
    let after = script.share(now);
    let (mut told, book) = (0, script.book());
    for turn in looks(&after).filter(|turn| turn.moves()) {
        let why = reasons(&book, &turn.expected.slot, None, now).expect("it was published");
        assert_eq!(why.carer, turn.carer);
        assert_eq!(Some(why.decided), turn.was.map(Decided::Exchanged));
        told += 1;
    }
    assert!(told > 1, "{told}");
}

#[test]
fn nothing_is_exchanged_with_whoever_said_that_they_do_a_turn() {
    let (mut script, before, now) = slipped(&[]);
    let others: Vec<(Slot, u32)> = looks(&before)
        .filter_map(|turn| Some((turn.expected.slot, turn.carer?.0)))
        .filter(|(_, carer)| *carer != 2)
        .collect();
    for (slot, carer) in &others {
        let taken = Event::Coming(*slot, Say::Taken);
        script.add(script.at(1, 12), *carer, taken);
    }
    let after = script.shared(now);
    let is_theirs = |turn: &&Turn| others.iter().any(|(slot, _)| *slot == turn.expected.slot);
    let kept: Vec<&Turn> = looks(&after).filter(is_theirs).collect();
    assert!(kept.len() > 3);
    for turn in kept {
        assert!(!turn.moves(), "{turn:?}");
    }
}

#[test]
fn an_exchange_leaves_everyone_the_minutes_of_their_day() {
    // As many as a look at each of the two enclosures takes.
    let most = 2.0 * duty_minutes(Duty::Look);
    let limits = [1, 3].map(|carer| (carer, CarerChange::MinutesMax(Some(most as u16))));
    let (script, _, now) = slipped(&limits);
    let after = script.shared(now);
    let mut days: BTreeMap<(CarerId, civil::Date), f64> = BTreeMap::new();
    // What comes soon stays, however full its day has become.
    let later = now + jiff::SignedDuration::from_hours(24);
    for turn in after.turns.iter().filter(|turn| turn.expected.when.at > later) {
        if let Some(carer) = turn.carer {
            *days.entry((carer, turn.expected.when.date)).or_default() += turn.expected.work.minutes;
        }
    }
    assert!(looks(&after).any(Turn::moves));
    for ((carer, date), minutes) in days {
        assert!(
            carer == CarerId(2) || minutes <= most,
            "{carer:?} {date}: {minutes}"
        );
    }
}
