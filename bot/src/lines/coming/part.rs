//! Parts of a day, where no round is called so: "saturday afternoon", "tonight".

use jiff::{Timestamp, civil};
use wrackline_core::civil::{hold, plus_days};
use wrackline_core::place::RoundId;

use crate::lines::Context;
use crate::lines::token::Token;

/// When the morning ends and the afternoon begins.
const NOON: civil::Time = civil::time(12, 0, 0, 0);

/// When the afternoon ends, and the evening begins where no round says it.
const EVENING: civil::Time = civil::time(18, 0, 0, 0);

/// A part of a day: from midnight to noon, from there to 18:00, from there to midnight. An evening begins earlier where
/// the day's last round is held earlier in the afternoon, which is then of both.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::lines) enum Part {
    /// Up to noon.
    Morning,
    /// From noon to 18:00.
    Afternoon,
    /// From the last round on, or from 18:00, to midnight.
    Evening,
}

impl Part {
    /// The part that a word means.
    pub(super) fn of(token: &Token) -> Option<Self> {
        if token.quoted {
            return None;
        }
        match token.key.as_str() {
            "morning" => Some(Self::Morning),
            "afternoon" => Some(Self::Afternoon),
            "evening" | "night" | "tonight" => Some(Self::Evening),
            _ => None,
        }
    }

    /// Its first moment on a day, and the moment at which it is over.
    pub(in crate::lines) fn span(self, date: civil::Date, ctx: &Context<'_>) -> (Timestamp, Timestamp) {
        let zone = &ctx.place.zone;
        let at = |time: civil::Time| zone.instant(date.to_datetime(time));
        let midnight = |date| zone.day_start(date);
        match self {
            Self::Morning => (midnight(date), at(NOON)),
            Self::Afternoon => (at(NOON), at(EVENING)),
            Self::Evening => {
                let held = ctx.place.rounds.iter().map(|round| hold(zone, round, date).at);
                let last = held.max().filter(|last| *last >= at(NOON));
                let begins = last.map_or(at(EVENING), |last| last.min(at(EVENING)));
                (begins, midnight(plus_days(date, 1)))
            }
        }
    }

    /// The rounds that are held in it.
    pub(in crate::lines) fn rounds(self, date: civil::Date, ctx: &Context<'_>) -> Vec<RoundId> {
        let (from, to) = self.span(date, ctx);
        let held = ctx.place.rounds.iter().filter(|round| {
            let at = hold(&ctx.place.zone, round, date).at;
            (from..to).contains(&at)
        });
        held.map(|round| round.id).collect()
    }
}
