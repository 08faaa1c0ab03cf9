//! A sitter's span begins at the first round of its first day, and has ended at the first round of the day after its
//! last.

use jiff::Timestamp;

use super::is_recent;
use super::items::{Item, What, first_call};
use crate::civil::plus_days;
use crate::people::Carer;
use crate::place::{Place, Role};

/// The spans that begin or end after one moment and up to another.
pub(super) fn handovers(place: &Place, seen: Timestamp, now: Timestamp) -> Vec<Item> {
    let sitters = place.carers.values().filter(|one| one.role == Role::Sitter);
    let all = sitters.chain(place.ended.values());
    let edges = all.flat_map(|sitter| [item(place, sitter, true), item(place, sitter, false)]);
    let is_new = |item: &Item| seen < item.at && item.at <= now && is_recent(item.at, now);
    edges.flatten().filter(is_new).collect()
}

fn item(place: &Place, sitter: &Carer, begins: bool) -> Option<Item> {
    let (carer, span) = (sitter.id, sitter.span?);
    let (edge, date, day) = if begins {
        ("begin", span.from, span.from)
    } else {
        ("end", span.to, plus_days(span.to, 1))
    };
    Some(Item {
        key: format!("handover.{}.{edge}.{date}", carer.0),
        at: first_call(place, day),
        what: What::Handover { carer, span, begins },
    })
}
