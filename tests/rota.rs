//! Turns shared out in random places: what has to hold at every step, how even it is, and how near to the best there is.

use wrackline_tests::rota::{EVEN, Manner, Outcome, Report, live_all};

/// Places that live through their eight weeks here; the program `rota` has a thousand of them.
const PLACES: u64 = 12;

#[test]
fn random_places_break_no_law_and_share_as_evenly_as_they_can() {
    // None of those on which the constants were chosen.
    let first = 300_001;
    let report = Report {
        all: live_all(first..first + PLACES, Manner::AsTheyCome),
    };
    for one in &report.all {
        assert!(one.broken.is_empty(), "{one}");
        assert!(one.jain <= one.bound.most + 1e-9, "{one}");
        assert!(one.bound.found <= one.bound.most + 1e-9, "{one}");
        let (ahead, known) = one.ahead;
        assert!(
            ahead <= known.most + 1e-9 && known.found <= known.most + 1e-9,
            "{one}"
        );
    }
    // With few whole turns to their name nobody can be given just what is theirs; the bound knows fractions of turns.
    let owe_enough = |one: &&Outcome| one.loads.iter().all(|(_, owed)| *owed == 0.0 || *owed >= 60.0);
    let could: Vec<_> = report.with_bound(0.98).filter(owe_enough).collect();
    assert!(could.len() > 4, "{report}");
    // Who goes away for a fortnight without a word leaves what nobody could prepare for: the bound knew of it all the time.
    let misses = could.iter().filter(|one| one.jain < EVEN).count();
    assert!(misses <= 1, "{report}");
    assert!(could.iter().all(|one| one.jain >= 0.9), "{report}");
    let all = report.with_bound(EVEN).count();
    let even = all - report.all.iter().filter(|one| one.misses()).count();
    assert!(all > 7 && even * 100 >= all * 90, "{report}");
    let moved: usize = report.all.iter().map(|one| one.moved).sum();
    let turns: usize = report.all.iter().map(|one| one.turns).sum();
    assert!(moved > 0 && moved * 3 < turns, "{report}");
    assert!(report.gaps().count() > 0, "{report}");
    assert!(report.gaps().all(|over| (-1e-6..2.0).contains(&over)), "{report}");
    let gaps = report.all.iter().flat_map(|one| &one.gaps);
    for gap in gaps {
        assert!(gap.left >= gap.left_best, "{gap:?}");
    }
}

#[test]
fn places_whose_people_do_what_is_theirs_are_even_wherever_that_was_possible() {
    let first = 300_201;
    let report = Report {
        all: live_all(first..first + PLACES, Manner::AsPlanned),
    };
    for one in &report.all {
        assert!(one.broken.is_empty(), "{one}");
        let known = one.ahead.1;
        // That no assignment is evener is all but what one was found to be.
        assert!((0.0..0.005).contains(&(known.most - known.found)), "{one}");
        assert!(!one.misses_since(), "{one}");
    }
    let could = report.all.iter().filter(|one| one.ahead.1.most >= EVEN).count();
    assert!(could > 7, "{report}");
}

#[test]
fn what_people_took_or_offered_is_left_where_it_lies() {
    let (mut said, mut moved) = (0, 0);
    for one in live_all(300_101..300_107, Manner::Talking) {
        assert!(one.broken.is_empty(), "{one}");
        said += one.said;
        moved += one.moved;
    }
    assert!(said > 100 && moved > 0, "{said} said, {moved} moved");
}
