//! To whom it is posted that a sitter's span begins and ends: to all, and to each keeper alone.

use wrackline_core::journal::{CarerChange, Event};
use wrackline_core::moment::{Destination, Subject};
use wrackline_core::people::Span;
use wrackline_core::place::{CarerId, Role};

use super::{posts, script};

const ADA: CarerId = CarerId(1);
const BEA: CarerId = CarerId(2);
const SVEN: CarerId = CarerId(3);

/// What is posted of Sven's span, 3 to 5 March: when, whether it begins, and to whom.
fn told(roles: [Role; 2]) -> Vec<(String, bool, Destination)> {
    let mut script = script("08:00", false, "");
    let start = "2026-01-01 00:00";
    script.add(start, Event::Carer(BEA, CarerChange::Added(roles[1])));
    script.add(start, Event::Carer(ADA, CarerChange::Role(roles[0])));
    script.add(start, Event::Carer(SVEN, CarerChange::Added(Role::Sitter)));
    let [from, to] = [3, 5].map(|day| jiff::civil::date(2026, 3, day));
    script.add(
        start,
        Event::Carer(SVEN, CarerChange::Span(Some(Span { from, to }))),
    );
    let all = posts(&script, "03-02 12:00", "03-08 12:00");
    let spans = all.into_iter().filter_map(|(at, post)| match post.subject {
        Subject::Handover { carer, begins, .. } => {
            assert_eq!(carer, SVEN);
            Some((script.local(at), begins, post.to))
        }
        _ => None,
    });
    spans.collect()
}

fn check(roles: [Role; 2], keepers: &[CarerId]) {
    let begun = ("03-03 08:00".to_owned(), true, Destination::Chat);
    let ended = keepers
        .iter()
        .map(|keeper| ("03-06 08:00".to_owned(), false, Destination::Carer(*keeper)));
    let expected: Vec<_> = std::iter::once(begun).chain(ended).collect();
    assert_eq!(told(roles), expected, "{roles:?}");
}

#[test]
fn its_beginning_goes_to_all_and_its_end_to_each_keeper_alone() {
    check([Role::Keeper, Role::Keeper], &[ADA, BEA]);
    check([Role::Regular, Role::Keeper], &[BEA]);
    check([Role::Regular, Role::Regular], &[]);
}
