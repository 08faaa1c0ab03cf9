//! Lines that set a place up and change it.

use super::{
    ArgSpec, GEAR as GEARS, Kind, LIVES, Lead, LineSpec, Need, RULES, SubSpec, UNITS, UNTIL, WATERS, Who,
    after, arg, must,
};
use crate::lines::Figure;

pub(super) const fn line(name: &'static str, subs: &'static [SubSpec]) -> LineSpec {
    LineSpec {
        name,
        aliases: &[],
        who: Who::Keeper,
        alone: true,
        args: &[],
        subs,
    }
}

pub(super) const fn sub(name: &'static str, args: &'static [ArgSpec]) -> SubSpec {
    SubSpec {
        name,
        who: Who::Keeper,
        args,
    }
}

const LIST: SubSpec = SubSpec {
    name: "list",
    who: Who::All,
    args: &[],
};

pub(super) const fn some(words: &'static [&'static str], kind: Kind) -> ArgSpec {
    arg(words[0], kind, Lead::Word(words), Need::SomeOf)
}

const FROM: ArgSpec = after(&["from"], Kind::Time);
const SPOT: ArgSpec = must("spot", Kind::Spot);
const NAME: ArgSpec = must("name", Kind::Name);
const VOLUME: ArgSpec = arg("volume", Kind::Volume, Lead::Either(&["volume"]), Need::Must);

pub(super) const PLACE: LineSpec = line(
    "place",
    &[
        sub(
            "set",
            &[
                some(&["name"], Kind::Name),
                some(&["zone"], Kind::Zone),
                some(&["quiet"], Kind::ClockSpan),
                some(&["units"], Kind::Choice(UNITS)),
                some(&["sg"], Kind::Gravity),
                some(&["winter"], Kind::Figure(Figure::RoomAir)),
                some(&["summer"], Kind::Figure(Figure::RoomAir)),
            ],
        ),
        // Whoever manages a server may link it: the transport knows who does, and the desk asks for a keeper itself.
        SubSpec {
            who: Who::All,
            ..sub(
                "link",
                &[
                    arg("channel", Kind::Channel, Lead::Either(&["channel"]), Need::May),
                    after(&["zone"], Kind::Zone),
                    after(&["code"], Kind::Text),
                ],
            )
        },
        LIST,
    ],
);

pub(super) const ENCLOSURE: LineSpec = line(
    "enclosure",
    &[
        sub(
            "add",
            &[
                NAME,
                VOLUME,
                after(&["room"], Kind::Text),
                after(&["crabs"], Kind::Number),
                after(&["smallest"], Kind::Length),
                after(&["largest"], Kind::Length),
                after(&["size"], Kind::Figure(Figure::Size)),
                after(&["substrate"], Kind::Figure(Figure::Layer)),
                after(&["glass"], Kind::Figure(Figure::Glazing)),
                after(&["lid"], Kind::Figure(Figure::Lid)),
                after(&["heated"], Kind::Figure(Figure::Heat)),
                FROM,
            ],
        ),
        sub(
            "set",
            &[
                SPOT,
                some(&["name"], Kind::Name),
                some(&["volume"], Kind::Volume),
                some(&["room"], Kind::Text),
                some(&["order"], Kind::Number),
                some(&["crabs"], Kind::Number),
                some(&["smallest"], Kind::Length),
                some(&["largest"], Kind::Length),
                some(&["carer"], Kind::Carer),
                some(&["quarantine"], Kind::Switch),
                some(&["sensor"], Kind::Switch),
                some(&["quiet"], Kind::Text),
                after(&["until"], Kind::Date),
                some(&["size"], Kind::Figure(Figure::Size)),
                some(&["substrate"], Kind::Figure(Figure::Layer)),
                some(&["glass"], Kind::Figure(Figure::Glazing)),
                some(&["lid"], Kind::Figure(Figure::Lid)),
                some(&["heated"], Kind::Figure(Figure::Heat)),
                FROM,
            ],
        ),
        LIST,
        sub("retire", &[SPOT]),
    ],
);

pub(super) const POOL: LineSpec = line(
    "pool",
    &[
        sub(
            "add",
            &[
                must("enclosure", Kind::Spot),
                must("water", Kind::Choice(WATERS)),
                VOLUME,
                after(&["nested"], Kind::Flag),
                after(&["stationary"], Kind::Flag),
                arg("life", Kind::Choice(LIVES), Lead::Either(&["life"]), Need::May),
                arg(
                    "shape",
                    Kind::Figure(Figure::Shape),
                    Lead::Either(&["shape"]),
                    Need::May,
                ),
                after(&["depth"], Kind::Length),
                FROM,
            ],
        ),
        sub(
            "set",
            &[
                SPOT,
                some(&["volume"], Kind::Volume),
                some(&["nested"], Kind::Switch),
                some(&["stationary"], Kind::Flag),
                some(&["removable"], Kind::Flag),
                some(&["life"], Kind::Choice(LIVES)),
                some(&["shape"], Kind::Figure(Figure::Shape)),
                some(&["depth"], Kind::Length),
                some(&["gravel"], Kind::Figure(Figure::Gravel)),
                some(&["stones"], Kind::Volume),
                arg(
                    "way-out",
                    Kind::Figure(Figure::WayOut),
                    Lead::Word(&["way-out", "way out"]),
                    Need::SomeOf,
                ),
                FROM,
            ],
        ),
        LIST,
        sub("retire", &[SPOT]),
    ],
);

const PIECE: ArgSpec = must("gear", Kind::Choice(GEARS));

pub(super) const GEAR: LineSpec = line(
    "gear",
    &[
        sub("add", &[SPOT, PIECE, after(&["proven"], Kind::Flag), FROM]),
        sub(
            "set",
            &[
                SPOT,
                PIECE,
                some(&["proven"], Kind::Flag),
                some(&["rated"], Kind::Figure(Figure::Rated)),
                some(&["fill-line", "fill line", "fill"], Kind::Length),
                some(&["flow"], Kind::Figure(Figure::Flow)),
                some(&["displaces"], Kind::Volume),
                some(&["pressure"], Kind::Figure(Figure::Pressure)),
                some(&["pump"], Kind::Figure(Figure::Pump)),
                some(&["check-valve", "check valve"], Kind::Switch),
                some(&["stone"], Kind::Length),
                some(&["across"], Kind::Length),
                some(&["rim"], Kind::Length),
                some(&["valve"], Kind::Length),
                some(&["run"], Kind::Length),
                some(&["weighted"], Kind::Switch),
                FROM,
            ],
        ),
        sub("stop", &[SPOT, PIECE, FROM]),
        sub("start", &[SPOT, PIECE, FROM]),
        LIST,
        sub("retire", &[SPOT, PIECE, FROM]),
    ],
);

pub(super) const DUTY: LineSpec = line(
    "duty",
    &[
        sub(
            "add",
            &[
                NAME,
                arg("spot", Kind::Spot, Lead::Bare, Need::May),
                arg("every", Kind::Every, Lead::Word(&["every"]), Need::OneOf),
                arg("on", Kind::Weekdays, Lead::Word(&["on"]), Need::OneOf),
                arg("cron", Kind::Cron, Lead::Word(&["cron"]), Need::OneOf),
                after(&["time", "at"], Kind::Clock),
                after(&["grace"], Kind::Span),
                after(&["digs"], Kind::Flag),
            ],
        ),
        sub(
            "set",
            &[
                must("rule", Kind::Choice(RULES)),
                some(&["every"], Kind::Every),
                some(&["grace"], Kind::Span),
                some(&["hazard"], Kind::Span),
                some(&["nod"], Kind::Switch),
            ],
        ),
        LIST,
        sub("retire", &[must("duty", Kind::OwnDuty)]),
    ],
);

const ROUND: ArgSpec = must("round", Kind::Round);
const TIME: ArgSpec = arg("time", Kind::Clock, Lead::Either(&["time", "at"]), Need::Must);

pub(super) const ROUNDS: LineSpec = LineSpec {
    aliases: &["round"],
    ..line(
        "rounds",
        &[
            sub("add", &[NAME, TIME]),
            sub("set", &[ROUND, TIME]),
            LIST,
            sub("retire", &[ROUND]),
            // Whoever shares the work may say that all are there; the desk asks who does.
            SubSpec {
                who: Who::All,
                ..sub(
                    "hush",
                    &[
                        ArgSpec {
                            name: "until",
                            ..after(UNTIL, Kind::Day)
                        },
                        after(&["off"], Kind::Flag),
                    ],
                )
            },
        ],
    )
};
