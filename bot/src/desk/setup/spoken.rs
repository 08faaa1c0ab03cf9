//! How intervals, schedules and the parts of a pool are told.

use wrackline_core::care::{Duty, Every, Grace, Rule, Schedule};
use wrackline_core::place::{Gear, Life};

use crate::desk::Desk;
use crate::desk::tell::clock;
use crate::msg;

/// An interval, as `every 2 days`.
pub(in crate::desk) fn every(desk: &Desk<'_>, every: Every) -> String {
    desk.say(&match every {
        Every::Days(days) => msg!("setup-every-days", count = days),
        Every::Hours(hours) => msg!("setup-every-hours", count = hours),
    })
}

/// A span of hours; whole days from two days on, so that no hour is lost.
pub(in crate::desk) fn hours(desk: &Desk<'_>, hours: u32) -> String {
    desk.say(&match hours {
        48.. if hours.is_multiple_of(24) => msg!("setup-days", count = hours / 24),
        _ => msg!("setup-hours", count = hours),
    })
}

/// A span of grace.
pub(super) fn grace(desk: &Desk<'_>, grace: Grace) -> String {
    match grace {
        Grace::Hours(span) => hours(desk, span),
        Grace::NextRound => desk.tell.word("setup-grace-round"),
    }
}

/// A schedule of a place's own duty.
pub(in crate::desk) fn schedule(desk: &Desk<'_>, schedule: &Schedule) -> String {
    match schedule {
        Schedule::Every(interval) => every(desk, *interval),
        Schedule::Weekdays { days, at } => {
            let names: Vec<String> = days
                .iter()
                .map(|day| desk.tell.word(format!("weekday-{day}")))
                .collect();
            let days = desk.tell.list(&names);
            desk.say(&match at {
                Some(at) => msg!("setup-on-days-at", days = days, time = clock(*at)),
                None => msg!("setup-on-days", days = days),
            })
        }
        // It is kept with seconds in front, which nobody typed.
        Schedule::Cron(full) => desk.say(&msg!(
            "setup-by-cron",
            cron = full.strip_prefix("0 ").unwrap_or(full)
        )),
    }
}

/// The word for a point of a pool's life.
pub(super) fn life(desk: &Desk<'_>, life: Life) -> String {
    desk.tell.word(match life {
        Life::Planned => "life-planned",
        Life::LeakTest => "life-leak-test",
        Life::Cycling => "life-cycling",
        Life::InUse => "life-in-use",
        Life::OutOfUse => "life-out-of-use",
    })
}

/// The word for a piece of gear.
pub(super) fn gear(desk: &Desk<'_>, gear: Gear) -> String {
    desk.tell.word(match gear {
        Gear::Air => "gear-air",
        Gear::Filter => "gear-filter",
    })
}

/// What a row of the catalogue is about.
pub(in crate::desk) fn rule(desk: &Desk<'_>, rule: Rule) -> String {
    desk.tell.word(format!("rule-{}", rule.code()))
}

/// The names of duties, each once, as `a, b and c`.
pub(super) fn duties(desk: &Desk<'_>, duties: &[Duty]) -> String {
    desk.tell.list(&duty_names(desk, duties))
}

/// The names of duties, each once.
pub(super) fn duty_names(desk: &Desk<'_>, duties: &[Duty]) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for duty in duties {
        let name = desk.tell.duty(*duty);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}
