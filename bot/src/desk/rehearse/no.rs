//! What cannot be rehearsed, one sentence each.

use jiff::Timestamp;
use wrackline_core::civil::{plus_days, seconds_between};
use wrackline_core::rehearse::{DAYS_MAX, DAYS_MIN, Plan, Problem};

use super::told::{with, without};
use crate::desk::setup::spoken;
use crate::desk::{Desk, Refused};
use crate::msg;

/// Why a plan cannot be rehearsed.
pub(super) fn problem(desk: &Desk<'_>, plan: &Plan, problem: &Problem) -> Refused {
    let tell = &desk.tell;
    let day = |at: Timestamp| tell.date(tell.place.zone.date(at));
    // A day that was said to the end: the span goes up to the midnight behind it.
    let zone = &tell.place.zone;
    let last = plus_days(zone.date(plan.to), -1);
    let whole = plan.to == zone.day_start(zone.date(plan.to));
    let days = seconds_between(plan.from, plan.to) / 86_400;
    match *problem {
        Problem::ToCome => msg!("rehearse-no-to-come", from = day(plan.from)),
        Problem::EndToCome if whole => msg!("rehearse-no-last-to-come", to = tell.date(last)),
        Problem::EndToCome => msg!("rehearse-no-end-to-come", to = tell.moment(plan.to)),
        Problem::Backwards if whole => msg!(
            "rehearse-no-backwards-days",
            to = tell.date(last),
            from = tell.moment(plan.from)
        ),
        Problem::Backwards => msg!(
            "rehearse-no-backwards",
            from = tell.moment(plan.from),
            to = tell.moment(plan.to)
        ),
        Problem::Short => msg!("rehearse-no-short", days = days, least = DAYS_MIN),
        Problem::Long => msg!("rehearse-no-long", days = days, most = DAYS_MAX),
        Problem::NoPool(_) => msg!("setup-pool-gone"),
        Problem::PoolLater { pool, since } => msg!(
            "rehearse-no-pool-yet",
            pool = tell.pool(pool),
            since = tell.moment(since),
            from = day(plan.from)
        ),
        Problem::RunsAlready { pool, gear, since } => msg!(
            "rehearse-no-runs-already",
            pool = tell.pool(pool),
            with = with(desk, gear, false),
            since = day(since),
            other = without(desk, gear)
        ),
        Problem::NeverThere { pool, gear } => msg!(
            "rehearse-no-never-there",
            pool = tell.pool(pool),
            without = without(desk, gear),
            other = with(desk, gear, false)
        ),
        Problem::SameLitres(pool) => msg!("rehearse-no-same-litres", pool = tell.pool(pool)),
        Problem::SameNumbers(rule) => msg!("rehearse-no-same-numbers", rule = spoken::rule(desk, rule)),
    }
}
