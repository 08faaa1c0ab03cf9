//! The moments of a span at which marks are looked at.

use std::collections::BTreeSet;

use jiff::Timestamp;

use super::Plan;
use crate::care::Duty;
use crate::civil::next_round;
use crate::journal::{Book, Event};
use crate::place::Target;

/// Every round of the span, in order.
pub(super) fn rounds(book: &Book, plan: &Plan) -> BTreeSet<Timestamp> {
    let mut all = BTreeSet::new();
    let mut at = plan.from;
    while at < plan.to {
        let place = book.place_at(at);
        let next = next_round(&place.zone, &place.rounds, at).at;
        if next <= at {
            break;
        }
        at = next;
        if at <= plan.to {
            all.insert(at);
        }
    }
    all
}

/// The rounds, the ends of the span, and whenever something was set up otherwise within it.
pub(super) fn of_all(book: &Book, plan: &Plan) -> BTreeSet<Timestamp> {
    let mut all = rounds(book, plan);
    all.extend([plan.from, plan.to]);
    let in_span = book
        .entries()
        .filter(|entry| plan.from < entry.at && entry.at <= plan.to);
    all.extend(
        in_span
            .filter(|entry| sets_up(&entry.event))
            .map(|entry| entry.at),
    );
    all
}

/// Whether an event can move a mark without anything being done.
fn sets_up(event: &Event) -> bool {
    matches!(
        event,
        Event::Place(_)
            | Event::Round(..)
            | Event::Enclosure(..)
            | Event::Pool(..)
            | Event::Gear(..)
            | Event::OwnDuty(..)
            | Event::Numbers(..)
            | Event::Input(..)
            | Event::Read(Target::Pool(_), _)
    )
}

/// Whenever a duty was renewed in the span.
pub(super) fn renewed<'a>(
    book: &'a Book,
    plan: &'a Plan,
    (duty, target): (Duty, Target),
) -> impl DoubleEndedIterator<Item = &'a crate::journal::Done> {
    book.done_until(duty, target, plan.to)
        .filter(|done| done.at > plan.from)
}
