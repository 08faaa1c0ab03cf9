//! Lines about water: what is mixed, what changes do to it, and what it is mixed with.

use super::{ArgSpec, Kind, Lead, LineSpec, Need, SubSpec, Who, after, arg};

/// What can be too much in a pool, as it is said.
pub const SUBSTANCES: &[&str] = &["ammonia", "nitrite", "nitrate"];
/// What a label says of chloramine, as it is said.
pub const FOR_CHLORAMINE: &[&str] = &["same", "double"];
/// What tap water is disinfected with, as it is said.
pub const MAINS: &[&str] = &["chlorine", "chloramine"];

const SALINITY: ArgSpec = arg("salinity", Kind::Salinity, Lead::Either(&["salinity"]), Need::May);
const TEMPERATURE: ArgSpec = arg("temperature", Kind::Temperature, Lead::Either(&["at"]), Need::May);

const fn word(name: &'static str, words: &'static [&'static str], kind: Kind, need: Need) -> ArgSpec {
    arg(name, kind, Lead::Word(words), need)
}

const fn some(words: &'static [&'static str], kind: Kind) -> ArgSpec {
    arg(words[0], kind, Lead::Word(words), Need::SomeOf)
}

pub(super) const MIX: LineSpec = LineSpec {
    name: "mix",
    aliases: &[],
    who: Who::All,
    alone: true,
    args: &[
        arg("spot", Kind::Spot, Lead::Bare, Need::May),
        arg("volume", Kind::Volume, Lead::Either(&["volume"]), Need::May),
        SALINITY,
        TEMPERATURE,
        after(&["finished"], Kind::Flag),
        word("start", &["from"], Kind::Salinity, Need::May),
        word("target", &["to"], Kind::Salinity, Need::May),
        after(&["with"], Kind::Salinity),
        word("vessel", &["into"], Kind::Name, Need::May),
        after(&["conditioned"], Kind::Flag),
    ],
    subs: &[],
};

pub(super) const DILUTE: LineSpec = LineSpec {
    name: "dilute",
    aliases: &[],
    who: Who::All,
    alone: false,
    args: &[
        arg("substance", Kind::Choice(SUBSTANCES), Lead::Bare, Need::May),
        word("start", &["from"], Kind::Concentration, Need::Must),
        word("target", &["to", "under"], Kind::Concentration, Need::Must),
        after(&["source"], Kind::Concentration),
        after(&["change"], Kind::Fraction),
        after(&["every"], Kind::Every),
        after(&["adds"], Kind::Concentration),
        after(&["removes"], Kind::Fraction),
    ],
    subs: &[],
};

pub(super) const SUPPLIES: LineSpec = LineSpec {
    name: "supplies",
    aliases: &["supply"],
    who: Who::Keeper,
    alone: true,
    args: &[],
    subs: &[
        SubSpec {
            name: "set",
            who: Who::Keeper,
            args: &[
                some(&["conditioner"], Kind::Text),
                arg("dose", Kind::Volume, Lead::Either(&["dose"]), Need::SomeOf),
                some(&["per"], Kind::Volume),
                after(&["chloramine"], Kind::Choice(FOR_CHLORAMINE)),
                word(
                    "ammonia",
                    &["ammonia tests", "binds ammonia", "ammonia"],
                    Kind::Flag,
                    Need::May,
                ),
                after(&["hold"], Kind::Span),
                arg("salt", Kind::Text, Lead::Either(&["salt"]), Need::SomeOf),
                some(&["factor"], Kind::Decimal),
                some(&["measured"], Kind::Salinity),
                some(&["after"], Kind::Volume),
                arg("mass", Kind::Mass, Lead::Either(&["with"]), Need::SomeOf),
                TEMPERATURE,
                some(&["target"], Kind::Salinity),
                some(&["margin"], Kind::Fraction),
                some(&["bucket"], Kind::Volume),
                some(&["source"], Kind::Salinity),
                some(&["mains"], Kind::Choice(MAINS)),
            ],
        },
        SubSpec {
            name: "list",
            who: Who::All,
            args: &[],
        },
    ],
};
