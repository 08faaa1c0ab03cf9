//! Published turns that move because loads are far from even.

use super::*;

/// A place whose coming turns all lie with one person.
fn one_sided() -> (Script, Timestamp) {
    let mut script = Script::place();
    let now = script.at(0, 7);
    let all = script.shared(now).changes();
    let theirs = all
        .into_iter()
        .map(|(slot, _)| (slot, Some(CarerId(1))))
        .collect();
    script.add(now, 0, Event::Shared(theirs));
    (script, now)
}

/// Jain's index of what lies with each of the three.
fn index(shared: &SharedOut) -> f64 {
    let theirs = minutes(shared);
    jain((1..=3).map(|carer| (theirs.get(&Some(CarerId(carer))).copied().unwrap_or(0.0), 1.0)))
}

#[test]
fn a_few_far_turns_move_at_a_round_and_none_between_rounds() {
    let (script, now) = one_sided();
    let (still, evened) = (script.shared(now), script.evened(now));
    assert!(index(&still) < 0.5, "{}", index(&still));
    assert_eq!(still.turns.iter().filter(|turn| turn.moves()).count(), 0);
    let moved: Vec<&Turn> = evened.turns.iter().filter(|turn| turn.moves()).collect();
    let had = still.turns.iter().filter(|turn| turn.was.is_some()).count();
    assert!(
        !moved.is_empty() && moved.len() <= had.div_ceil(10),
        "{}",
        moved.len()
    );
    for turn in moved {
        assert_eq!(turn.was, Some(CarerId(1)));
        assert!(turn.carer.is_some_and(|carer| carer != CarerId(1)));
        assert!(turn.expected.when.at >= now + jiff::SignedDuration::from_hours(24));
    }
    assert!(index(&evened) > index(&still) + 0.05);
}

#[test]
fn what_is_even_enough_stays_where_it_lies() {
    let mut script = Script::place();
    let now = script.at(0, 7);
    script.share(now);
    assert_eq!(script.evened(now).changes(), Vec::new());
}

#[test]
fn whoever_took_a_turn_keeps_it() {
    let (mut script, now) = one_sided();
    let first = script.evened(now);
    for turn in first.turns.iter().filter(|turn| turn.moves()) {
        script.add(now, 1, Event::Coming(turn.expected.slot, Say::Taken));
    }
    let taken: Vec<Slot> = first
        .turns
        .iter()
        .filter(|turn| turn.moves())
        .map(|turn| turn.expected.slot)
        .collect();
    let second = script.evened(now);
    let kept = second
        .turns
        .iter()
        .filter(|turn| taken.contains(&turn.expected.slot));
    assert!(kept.clone().count() > 0);
    for turn in kept {
        assert_eq!(turn.carer, Some(CarerId(1)));
    }
}

#[test]
fn a_turn_that_moved_tells_why() {
    let (mut script, now) = one_sided();
    let evened = script.evened(now);
    let moved = evened
        .turns
        .iter()
        .find(|turn| turn.moves())
        .expect("one moves")
        .clone();
    script.add(now, 0, Event::Shared(evened.changes()));
    let why = reasons(&script.book(), &moved.expected.slot, None, now).expect("it was published");
    assert_eq!(why.carer, moved.carer);
    assert!(
        matches!(why.decided, Decided::Least | Decided::Evenest),
        "{why:?}"
    );
    let of = |carer: u32| {
        why.all
            .iter()
            .find(|one| one.carer == CarerId(carer))
            .expect("of everyone")
            .credit
    };
    let new = moved.carer.expect("an owner").0;
    assert!(of(new).balance() < of(1).balance(), "{why:?}");
    let all: f64 = why.all.iter().map(|one| one.credit.balance()).sum();
    assert!((all + moved.expected.work.minutes).abs() < 1e-6, "{why:?}");
}

#[test]
fn an_offered_turn_stays_while_the_offer_stands() {
    let (mut script, now) = one_sided();
    let movable = |shared: &SharedOut| -> Vec<Slot> {
        let moved = shared.turns.iter().filter(|turn| turn.moves());
        moved.map(|turn| turn.expected.slot).collect()
    };
    let offered = movable(&script.evened(now));
    assert!(!offered.is_empty());
    for slot in &offered {
        script.add(now, 1, Event::Coming(*slot, Say::Offered(CarerId(2))));
    }
    let others = movable(&script.evened(now));
    assert!(!others.is_empty(), "others move instead");
    assert!(others.iter().all(|slot| !offered.contains(slot)), "{others:?}");
    for slot in &offered {
        script.add(now, 2, Event::Coming(*slot, Say::Declined));
    }
    assert_eq!(movable(&script.evened(now)), offered, "it may move again");
}

#[test]
fn a_turn_that_lies_alone_joins_the_others_of_its_round() {
    let mut script = Script::place();
    let now = script.at(0, 7);
    let shared = script.share(now);
    let far = now + jiff::SignedDuration::from_hours(48);
    let together = |turn: &Turn| (turn.expected.when, turn.expected.enclosure);
    // A look whose owner has other turns of that round there, put into another's hand.
    let has_others = |one: &&Turn| {
        let mut others = shared
            .turns
            .iter()
            .filter(|other| together(other) == together(one));
        let is_whole = others.clone().all(|other| other.carer == one.carer);
        others.nth(1).is_some() && is_whole && one.expected.slot.duty == Duty::Look
    };
    let mut looks = shared.turns.iter().filter(|one| one.expected.when.at > far);
    let look = looks.find(has_others).expect("a round in one hand");
    let other = CarerId(if look.carer == Some(CarerId(1)) { 2 } else { 1 });
    let given = vec![(look.expected.slot, Some(other))];
    script.add(now, 0, Event::Shared(given));
    assert_eq!(script.shared(now).changes(), Vec::new(), "not between rounds");
    let joined = script.evened(now).changes();
    assert_eq!(joined, vec![(look.expected.slot, look.carer)]);
}
