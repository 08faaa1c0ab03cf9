//! `Can't`: who is asked instead, and when.

use wrackline_core::care::Standing;
use wrackline_core::moment::{Step, call_times, called_at};
use wrackline_core::place::CarerId;
use wrackline_core::rota;

use crate::desk::tell::Tell;
use crate::msg;

/// What follows when somebody cannot: who is asked when, and from when it is at risk. Those who are asked again are named
/// once, with all the times.
#[must_use]
pub fn follows(tell: &Tell<'_>, standing: &Standing) -> String {
    let hand = rota::hand(tell.book, tell.place, standing, tell.now);
    let mut asked: Vec<(Vec<CarerId>, Vec<String>)> = Vec::new();
    let mut hazard = None;
    for (step, at) in call_times(tell.book, tell.place, standing, &hand, tell.now) {
        if step == Step::Hazard {
            hazard = Some(tell.say(&msg!("cannot-hazard", at = tell.near(at))));
            continue;
        }
        let carers = called_at(tell.book, tell.place, standing, &hand, step, tell.now);
        let at = if at <= tell.now {
            tell.word("cannot-now")
        } else {
            tell.near(at)
        };
        match asked.last_mut() {
            Some((last, times)) if *last == carers => times.push(at),
            _ if carers.is_empty() => {}
            _ => asked.push((carers, vec![at])),
        }
    }
    let freed = hand.freed.map(|freed| freed.by);
    let line = |(number, (carers, times)): (usize, &(Vec<CarerId>, Vec<String>))| {
        let names: Vec<String> = carers.iter().map(|carer| tell.carer(*carer)).collect();
        let (who, count, at) = (tell.list(&names), names.len(), tell.list(times));
        tell.say(&match number {
            // Who cannot is called only where no other keeper could be.
            _ if freed.is_some_and(|by| carers.contains(&by)) => {
                msg!("cannot-last", who = who, count = count, at = at)
            }
            0 => msg!("cannot-asked", who = who, count = count, at = at),
            _ => msg!("cannot-then", who = who, at = at),
        })
    };
    let lines = asked.iter().enumerate().map(line);
    lines.chain(hazard).collect::<Vec<_>>().join("\n")
}
