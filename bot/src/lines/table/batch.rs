//! Lines of prepared water.

use super::{ArgSpec, Kind, Lead, LineSpec, Need, SubSpec, WATERS, Who, after, arg, must};

const fn sub(name: &'static str, args: &'static [ArgSpec]) -> SubSpec {
    SubSpec {
        name,
        who: Who::All,
        args,
    }
}

const VESSEL: ArgSpec = must("vessel", Kind::Vessel);

const fn readings(need: Need) -> ArgSpec {
    arg("readings", Kind::Readings, Lead::Bare, need)
}

const fn some(name: &'static str, words: &'static [&'static str], kind: Kind) -> ArgSpec {
    arg(name, kind, Lead::Word(words), Need::SomeOf)
}

pub(super) const BATCH: LineSpec = LineSpec {
    name: "batch",
    aliases: &["batches"],
    who: Who::All,
    alone: true,
    args: &[],
    subs: &[
        sub(
            "add",
            &[
                must("vessel", Kind::Name),
                arg("volume", Kind::Volume, Lead::Either(&["volume"]), Need::Must),
                must("water", Kind::Choice(WATERS)),
                readings(Need::May),
                after(&["conditioned"], Kind::Flag),
                after(&["from"], Kind::Time),
            ],
        ),
        sub(
            "set",
            &[
                VESSEL,
                readings(Need::SomeOf),
                some("conditioned", &["conditioned"], Kind::Flag),
                some("use-by", &["by", "use by"], Kind::Date),
            ],
        ),
        sub("list", &[]),
        sub("retire", &[VESSEL]),
    ],
};

pub(super) const TRAIL: LineSpec = LineSpec {
    name: "trail",
    aliases: &[],
    who: Who::All,
    alone: false,
    args: &[
        VESSEL,
        after(&["unconditioned", "untreated", "not conditioned"], Kind::Flag),
        readings(Need::May),
        arg("at", Kind::Time, Lead::Either(&["at"]), Need::May),
    ],
    subs: &[],
};
