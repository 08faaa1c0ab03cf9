//! Turns that go to someone whose day is full, since others can take what fills it.

use super::*;

const CHANGES: [Duty; 2] = [Duty::Change, Duty::PartChange];

/// A place whose second person has time for one change of water a day and little else, and whose third person cannot change
/// water.
fn few_can() -> (Script, Timestamp) {
    let mut script = Script::place();
    let start = script.at(0, 0);
    let now = script.at(0, 7);
    let longest = script
        .shared(now)
        .turns
        .iter()
        .filter(|turn| CHANGES.contains(&turn.expected.duty))
        .map(|turn| turn.expected.work.minutes)
        .fold(0.0, f64::max);
    assert!(longest > 5.0, "{longest}");
    let most = CarerChange::MinutesMax(Some(longest.ceil() as u16));
    script.add(start, 1, Event::Carer(CarerId(2), most));
    let none = Skills {
        siphon: false,
        salt: false,
        lift_kg: None,
    };
    script.add(start, 1, Event::Carer(CarerId(3), CarerChange::Skills(none)));
    (script, now)
}

/// The minutes of someone's day, without the turns that follow another one.
fn on_day(shared: &SharedOut, carer: u32, date: civil::Date) -> f64 {
    let theirs = shared
        .turns
        .iter()
        .filter(|turn| turn.carer == Some(CarerId(carer)));
    let of_day = theirs.filter(|turn| turn.expected.when.date == date && !turn.follows);
    of_day.map(|turn| turn.expected.work.minutes).sum()
}

fn limit(script: &Script, now: Timestamp) -> f64 {
    let most = script.book().place_at(now).carers[&CarerId(2)].minutes_max;
    f64::from(most.expect("a limit"))
}

#[test]
fn what_few_can_do_goes_to_whoever_has_their_day_filled_with_what_all_can() {
    let (script, now) = few_can();
    let shared = script.shared(now);
    let is_change = |turn: &&Turn| CHANGES.contains(&turn.expected.duty);
    let changes = shared.turns.iter().filter(is_change);
    let of = |carer| {
        let theirs = changes.clone().filter(|turn| turn.carer == Some(CarerId(carer)));
        theirs.map(|turn| turn.expected.work.minutes).sum::<f64>()
    };
    assert_eq!(of(3), 0.0);
    assert!(of(2) > 0.0, "the second person changes water too");
    // The first has far more than the others for all that, so that no day is left on which the second could take a change.
    let theirs = minutes(&shared);
    assert!(
        theirs[&Some(CarerId(1))] > theirs[&Some(CarerId(2))] * 1.2,
        "{theirs:?}"
    );
    for change in changes.clone().filter(|turn| turn.carer == Some(CarerId(1))) {
        let date = change.expected.when.date;
        let mut second = changes.clone().filter(|turn| turn.carer == Some(CarerId(2)));
        assert!(second.any(|turn| turn.expected.when.date == date), "{date}");
    }
    for turn in &shared.turns {
        let date = turn.expected.when.date;
        assert!(on_day(&shared, 2, date) <= limit(&script, now) + 1e-6, "{date}");
    }
}

#[test]
fn published_turns_make_room_for_what_few_can_do() {
    let (mut script, now) = few_can();
    let first = script.shared(now);
    // All that few can do is with the first person; the second one's days are filled with what all can do.
    let most = limit(&script, now);
    let mut filled: BTreeMap<civil::Date, f64> = BTreeMap::new();
    let mut given = Vec::new();
    for turn in first.turns.iter().filter(|turn| !turn.follows) {
        let used = filled.entry(turn.expected.when.date).or_default();
        let minutes = turn.expected.work.minutes;
        let is_small = !CHANGES.contains(&turn.expected.duty) && *used + minutes <= most;
        if is_small {
            *used += minutes;
        }
        given.push((turn.expected.slot, Some(CarerId(if is_small { 2 } else { 1 }))));
    }
    script.add(now, 0, Event::Shared(given));
    let before = script.shared(now);
    assert_eq!(before.changes(), Vec::new());
    let evened = script.evened(now);
    let moved: Vec<&Turn> = evened.turns.iter().filter(|turn| turn.moves()).collect();
    let made_room = moved.iter().filter(|turn| {
        let minutes = turn.expected.work.minutes;
        let date = turn.expected.when.date;
        turn.carer == Some(CarerId(2)) && on_day(&before, 2, date) + minutes > most
    });
    assert!(made_room.count() > 0, "{moved:?}");
    assert!(moved.len() <= 6, "{moved:?}");
    for turn in &moved {
        assert!(
            on_day(&evened, 2, turn.expected.when.date) <= most + 1e-6,
            "{turn:?}"
        );
    }
}
