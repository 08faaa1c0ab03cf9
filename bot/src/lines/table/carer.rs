//! `/carer`: the people who share the work. What of it each sets for themselves, the desk knows.

use super::set_up::{line, some, sub};
use super::{ArgSpec, Kind, Lead, LineSpec, Need, OWN_UNITS, ROLES, SubSpec, Who, arg, must};
use crate::lines::Figure;

pub(super) const FROM: ArgSpec = arg("starts", Kind::Date, Lead::Word(&["from"]), Need::May);
pub(super) const TO: ArgSpec = arg("ends", Kind::Date, Lead::Word(super::TO), Need::May);

const fn figure(words: &'static [&'static str], figure: Figure) -> ArgSpec {
    some(words, Kind::Figure(figure))
}

pub(super) const CARER: LineSpec = line(
    "carer",
    &[
        sub(
            "add",
            &[
                // On the platform the name may be left out: it is then the member's.
                arg("name", Kind::Name, Lead::Bare, Need::SomeOf),
                arg("role", Kind::Choice(ROLES), Lead::Either(&["role"]), Need::May),
                arg("member", Kind::Member, Lead::Either(&["member"]), Need::SomeOf),
                FROM,
                TO,
            ],
        ),
        SubSpec {
            who: Who::All,
            ..sub(
                "set",
                &[
                    must("carer", Kind::Carer),
                    some(&["role"], Kind::Choice(ROLES)),
                    some(&["stand-in", "stand in", "standin"], Kind::Carer),
                    some(&["member"], Kind::Member),
                    ArgSpec {
                        need: Need::SomeOf,
                        ..FROM
                    },
                    ArgSpec {
                        need: Need::SomeOf,
                        ..TO
                    },
                    some(&["always"], Kind::Flag),
                    some(&["zone"], Kind::Zone),
                    some(&["units"], Kind::Choice(OWN_UNITS)),
                    figure(&["language"], Figure::Language),
                    figure(&["free"], Figure::Free),
                    some(&["quiet"], Kind::ClockSpan),
                    figure(&["skill", "skills"], Figure::Skill),
                    figure(&["lifts"], Figure::Lifts),
                    figure(&["share"], Figure::Share),
                    figure(&["minutes"], Figure::Minutes),
                    some(&["private"], Kind::Switch),
                ],
            )
        },
        SubSpec {
            who: Who::All,
            ..sub("list", &[arg("carer", Kind::Carer, Lead::Bare, Need::May)])
        },
        sub("retire", &[must("carer", Kind::Carer)]),
    ],
);
