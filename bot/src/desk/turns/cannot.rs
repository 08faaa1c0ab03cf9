//! `Can't`: who is asked instead, and when.

use wrackline_core::care::Standing;
use wrackline_core::moment::{Step, steps};
use wrackline_core::place::CarerId;
use wrackline_core::rota::{self, Hand};

use crate::desk::tell::Tell;
use crate::msg;

/// Who is asked for a turn in a step.
#[must_use]
pub fn asked(tell: &Tell<'_>, standing: &Standing, hand: &Hand, step: Step) -> Vec<CarerId> {
    let freed = hand.freed.map(|freed| freed.by);
    let all = || rota::all_who_can(tell.book, tell.place, standing, freed, tell.now);
    let stand_in = |of| rota::stand_in(tell.book, tell.place, standing, of, tell.now);
    match (step, hand.carer) {
        (Step::Carer, Some(carer)) => vec![carer],
        (Step::Carer, None) => stand_in(freed).into_iter().collect(),
        (Step::StandIn, Some(carer)) => stand_in(Some(carer)).into_iter().collect(),
        (Step::StandIn, None) => all(),
        (Step::Keeper, _) => tell.place.keepers().collect(),
        (Step::Hazard, carer) => tell.place.keepers().chain(carer).collect(),
    }
}

/// What follows when somebody cannot: who is asked when, and from when it is at risk.
#[must_use]
pub fn follows(tell: &Tell<'_>, standing: &Standing) -> String {
    let hand = rota::hand(tell.book, tell.place, standing, tell.now);
    let mut lines = Vec::new();
    for (step, at) in steps(tell.place, standing, &hand) {
        if step == Step::Hazard {
            lines.push(tell.say(&msg!("cannot-hazard", at = tell.near(at))));
            continue;
        }
        let names: Vec<String> = asked(tell, standing, &hand, step)
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
