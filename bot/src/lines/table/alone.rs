//! The line that asks how long a place can be left.

use super::{ArgSpec, Kind, Lead, LineSpec, Need, UNTIL, Who, after, arg};

pub(super) const ALONE: LineSpec = LineSpec {
    name: "alone",
    aliases: &[],
    who: Who::Keeper,
    alone: false,
    args: &[
        arg("span", Kind::Span, Lead::Either(&["for"]), Need::SomeOf),
        arg("leave", Kind::Day, Lead::Word(&["from"]), Need::May),
        ArgSpec {
            name: "back",
            ..after(UNTIL, Kind::Day)
        },
    ],
    subs: &[],
};
