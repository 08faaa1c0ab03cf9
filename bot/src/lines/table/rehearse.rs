//! The line that replays the place's own past under another way of keeping.

use super::{ArgSpec, Kind, Lead, LineSpec, Need, RULES, Who, after, arg};

/// Gear that a pool is rehearsed with or without, as it is said.
pub const GEAR_SETS: &[&str] = &["air", "filter", "air and filter"];

const fn gear(name: &'static str, words: &'static [&'static str]) -> ArgSpec {
    arg(name, Kind::Choice(GEAR_SETS), Lead::Word(words), Need::May)
}

pub(super) const REHEARSE: LineSpec = LineSpec {
    name: "rehearse",
    aliases: &["rehearsal"],
    who: Who::Keeper,
    alone: false,
    args: &[
        arg("spot", Kind::Spot, Lead::Bare, Need::May),
        gear("with-gear", &["with"]),
        gear("without-gear", &["without"]),
        after(&["proven"], Kind::Flag),
        after(&["every"], Kind::Every),
        after(&["grace"], Kind::Span),
        after(&["hazard"], Kind::Span),
        after(&["rule"], Kind::Choice(RULES)),
        after(&["volume"], Kind::Volume),
        after(&["from"], Kind::Time),
        after(&["to", "until"], Kind::Time),
    ],
    subs: &[],
};
