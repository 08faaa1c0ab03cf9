//! The line that links what is one's own.

use super::{Kind, LineSpec, SubSpec, Who, after};

const fn sub(name: &'static str, args: &'static [super::ArgSpec]) -> SubSpec {
    SubSpec {
        name,
        who: Who::All,
        args,
    }
}

pub(super) const LINK: LineSpec = LineSpec {
    name: "link",
    aliases: &[],
    who: Who::All,
    alone: true,
    args: &[],
    subs: &[
        sub(
            "calendar",
            &[after(&["alarm"], Kind::Text), after(&["off"], Kind::Flag)],
        ),
        sub("list", &[]),
    ],
};
