//! What cannot be rehearsed, one sentence each.

use jiff::Timestamp;
use wrackline_core::civil::seconds_between;
use wrackline_core::rehearse::{DAYS_MAX, DAYS_MIN, Plan, Problem};

use super::told::{with, without};
use crate::desk::setup::spoken;
use crate::desk::{Desk, Refused};
use crate::msg;

/// Why a plan cannot be rehearsed.
pub(super) fn problem(desk: &Desk<'_>, plan: &Plan, problem: &Problem) -> Refused {
    let tell = &desk.tell;
    let day = |at: Timestamp| tell.date(tell.place.zone.date(at));
    let days = seconds_between(plan.from, plan.to) / 86_400;
    match *problem {
        Problem::ToCome => msg!("rehearse-no-to-come", from = day(plan.from)),
        Problem::EndToCome => msg!("rehearse-no-end-to-come", to = tell.moment(plan.to)),
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
