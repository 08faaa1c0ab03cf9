//! Lines of everyday care.

use super::{Kind, Lead, LineSpec, Need, Who, after, arg, must};

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

const AT: super::ArgSpec = arg("at", Kind::Time, Lead::Either(&["at"]), Need::May);
const BY: super::ArgSpec = after(&["by"], Kind::Carer);
const NOTE: super::ArgSpec = after(&["note"], Kind::Rest);
const DUTY: super::ArgSpec = must("duty", Kind::Duty);
const SPOT: super::ArgSpec = must("spot", Kind::Spot);

pub(super) const DUE: LineSpec = line(
    "due",
    &[arg(
        "whose",
        Kind::Choice(&["mine", "all"]),
        Lead::Bare,
        Need::May,
    )],
);

pub(super) const DID: LineSpec = LineSpec {
    aliases: &["done"],
    alone: true,
    ..line(
        "did",
        &[
            DUTY,
            SPOT,
            AT,
            BY,
            arg("together", Kind::Carer, Lead::Word(&["with"]), Need::May),
            arg("part", Kind::Fraction, Lead::Either(&["part"]), Need::May),
            after(&["steps", "step"], Kind::Steps),
            arg("amount", Kind::Volume, Lead::Either(&["amount"]), Need::May),
            arg("batch", Kind::Vessel, Lead::Word(&["from"]), Need::May),
            after(&["again"], Kind::Flag),
            NOTE,
        ],
    )
};

pub(super) const READ: LineSpec = line(
    "read",
    &[
        SPOT,
        must("readings", Kind::Readings),
        after(&["dosed", "fed"], Kind::Flag),
        after(&["tap"], Kind::Flag),
        AT,
        BY,
        NOTE,
    ],
);

pub(super) const SAW: LineSpec = LineSpec {
    aliases: &["seen"],
    ..line(
        "saw",
        &[
            must("sighting", Kind::Sighting),
            SPOT,
            AT,
            after(&["closed"], Kind::Flag),
            NOTE,
        ],
    )
};

pub(super) const UNDO: LineSpec = line("undo", &[arg("entry", Kind::Number, Lead::Bare, Need::May)]);

pub(super) const WHY: LineSpec = line("why", &[SPOT, arg("duty", Kind::Duty, Lead::Bare, Need::May), AT]);

pub(super) const HOW: LineSpec = line("how", &[DUTY, SPOT]);

pub(super) const WEEK: LineSpec = line(
    "week",
    &[after(&["last"], Kind::Flag), after(&["full"], Kind::Flag)],
);

pub(super) const EMERGENCY: LineSpec = LineSpec {
    aliases: &["emergencies"],
    ..line(
        "emergency",
        &[arg(
            "card",
            Kind::Choice(super::EMERGENCIES),
            Lead::Bare,
            Need::May,
        )],
    )
};

pub(super) const HELP: LineSpec = line("help", &[arg("line", Kind::Line, Lead::Bare, Need::May)]);
