//! `Can't`: who is asked instead, and when.

use wrackline_core::care::Standing;
use wrackline_core::moment::{Step, call_times, called_at};
use wrackline_core::rota;

use crate::desk::tell::Tell;
use crate::msg;

/// What follows when somebody cannot: who is asked when, and from when it is at risk.
#[must_use]
pub fn follows(tell: &Tell<'_>, standing: &Standing) -> String {
    let hand = rota::hand(tell.book, tell.place, standing, tell.now);
    let mut lines = Vec::new();
    for (step, at) in call_times(tell.book, tell.place, standing, &hand, tell.now) {
        if step == Step::Hazard {
            lines.push(tell.say(&msg!("cannot-hazard", at = tell.near(at))));
            continue;
        }
        let names: Vec<String> = called_at(tell.book, tell.place, standing, &hand, step, tell.now)
            .into_iter()
            .map(|carer| tell.carer(carer))
            .collect();
        if names.is_empty() {
            continue;
        }
        let at = if at <= tell.now {
            tell.word("just-now")
        } else {
            tell.near(at)
        };
        lines.push(tell.say(&msg!("cannot-asked", who = tell.list(&names), at = at)));
    }
    lines.join("\n")
}
