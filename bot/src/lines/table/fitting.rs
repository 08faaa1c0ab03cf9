//! Lines that ask how things fit: a pool its enclosure, gear its pool.

use super::{Kind, Lead, LineSpec, Need, Who, after, arg, must};
use crate::lines::Figure;

const fn line(name: &'static str, args: &'static [super::ArgSpec]) -> LineSpec {
    LineSpec {
        name,
        aliases: &[],
        who: Who::Keeper,
        alone: false,
        args,
        subs: &[],
    }
}

pub(super) const FIT: LineSpec = line(
    "fit",
    &[
        must("spot", Kind::Spot),
        after(&["winter"], Kind::Figure(Figure::RoomAir)),
        after(&["summer"], Kind::Figure(Figure::RoomAir)),
    ],
);

pub(super) const PLUMB: LineSpec = line(
    "plumb",
    &[
        must("spot", Kind::Spot),
        arg(
            "head",
            Kind::Figure(Figure::Head),
            Lead::Word(&["head"]),
            Need::May,
        ),
        after(&["tube"], Kind::Length),
        after(&["bore"], Kind::Length),
        after(&["bucket"], Kind::Volume),
    ],
);
