//! The line by which an adult nods at a helper's work.

use super::turns::NO;
use super::{Kind, Lead, LineSpec, Need, Who, arg, must};

pub(super) const NOD: LineSpec = LineSpec {
    name: "nod",
    aliases: &[],
    who: Who::All,
    alone: true,
    args: &[
        must("duty", Kind::Duty),
        must("spot", Kind::Spot),
        arg("no", Kind::Flag, Lead::Word(NO), Need::May),
    ],
    subs: &[],
};
