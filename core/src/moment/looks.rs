//! Looks at open matters: when they call for a post, and which a call lists.

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use super::{Item, What};
use crate::civil::waking;
use crate::journal::{Book, Seq};
use crate::matter::{FollowUpTurn, follow_ups};
use crate::place::Place;

/// A look at an open matter, in a call.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Look {
    /// The entry that opened the matter.
    pub matter: Seq,
    /// When it was to be looked at.
    pub due: Timestamp,
    /// Whether that was late, so that it is passed on to the keepers.
    pub late: bool,
    /// Whether this post calls people by name for it; an earlier one may have.
    #[serde(default)]
    pub names: bool,
}

/// When a look calls for a post: as it falls due, and when it is late.
fn moments(place: &Place, turn: &FollowUpTurn) -> [(bool, Timestamp); 2] {
    [(false, turn.due), (true, turn.overdue)].map(|(late, at)| (late, waking(&place.zone, place.quiet, at)))
}

/// The looks that call for a post at a moment.
pub(super) fn items(book: &Book, place: &Place, now: Timestamp, all: &mut Vec<Item>) {
    for turn in follow_ups(book, place, now) {
        for (late, at) in moments(place, &turn).into_iter().filter(|(_, at)| *at <= now) {
            let (matter, due) = (turn.matter.seq, turn.due);
            let step = if late { ".late" } else { "" };
            all.push(Item {
                key: format!("look.{matter}.{}{step}", due.as_second()),
                at,
                what: What::Look { matter, due, late },
            });
        }
    }
}

/// The moments at which looks call for a post, past ones included.
pub(super) fn all_moments(book: &Book, place: &Place, now: Timestamp) -> Vec<Timestamp> {
    let all = follow_ups(book, place, now);
    let moments = all.iter().flat_map(|turn| moments(place, turn));
    moments.map(|(_, at)| at).collect()
}

/// The looks that a call lists: at a round all that are due, else those that new items are about.
pub(super) fn called(book: &Book, place: &Place, items: &[Item], round: bool, now: Timestamp) -> Vec<Look> {
    let due = follow_ups(book, place, now)
        .into_iter()
        .filter(|turn| turn.due <= now);
    let look = |turn: FollowUpTurn| Look {
        matter: turn.matter.seq,
        due: turn.due,
        late: turn.overdue <= now,
        names: items.iter().any(|item| is_about(item, turn.matter.seq)),
    };
    due.map(look).filter(|look| round || look.names).collect()
}

/// Whether an item is about a look at this matter.
pub(super) fn is_about(item: &Item, seq: Seq) -> bool {
    matches!(item.what, What::Look { matter, .. } if matter == seq)
}
