//! Lines of whose turn it is.

use super::{Kind, Lead, LineSpec, Need, TO, TURN_DAYS, Who, Whose, after, arg, must};

const fn line(name: &'static str, args: &'static [super::ArgSpec]) -> LineSpec {
    LineSpec {
        name,
        aliases: &[],
        who: Who::All,
        alone: false,
        args,
        subs: &[],
    }
}

const SURE: super::ArgSpec = after(&["sure"], Kind::Flag);

/// How somebody says that a turn is not for them, or that work was not done.
pub(super) const NO: &[&str] = &["no", "not for me", "not done"];

/// How somebody says that they cannot do a turn that was called.
pub(in crate::lines) const CANNOT: &[&str] = &["can't", "cannot", "cant", "can not", "couldn't"];

pub(super) const TURNS: LineSpec = LineSpec {
    aliases: &["turn"],
    ..line(
        "turns",
        &[
            arg("carer", Kind::Carer, Lead::Bare, Need::May),
            arg("days", Kind::Choice(TURN_DAYS), Lead::Bare, Need::May),
        ],
    )
};

pub(super) const AWAY: LineSpec = line(
    "away",
    &[
        after(&["from"], Kind::Day),
        after(TO, Kind::Day),
        arg("rounds", Kind::Day, Lead::Bare, Need::May),
        after(&["back"], Kind::Flag),
        after(&["list"], Kind::Flag),
        after(&["by"], Kind::Carer),
        SURE,
    ],
);

pub(super) const OFFER: LineSpec = line(
    "offer",
    &[
        must("turn", Kind::Turn(Whose::Mine)),
        arg("whom", Kind::Carer, Lead::Word(&["to"]), Need::OneOf),
        arg("no", Kind::Flag, Lead::Word(NO), Need::OneOf),
        arg("cannot", Kind::Flag, Lead::Word(CANNOT), Need::OneOf),
    ],
);

pub(super) const TAKE: LineSpec = line("take", &[must("turn", Kind::Turn(Whose::Others)), SURE]);
