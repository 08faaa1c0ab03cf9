//! `Can't`: the line that says what the press on a call does; who is asked instead, and when.

use wrackline_core::care::{Mark, Standing};
use wrackline_core::moment::{Step, call_times, called_at};
use wrackline_core::place::CarerId;
use wrackline_core::rota;

use super::Lies;
use crate::desk::tell::Tell;
use crate::desk::{Desk, Outcome, Refused, presses};
use crate::lines::as_typed;
use crate::lines::ask::TurnAsk;
use crate::msg;

/// `can't change north salt`: of what is called now one's own, else what the words tell, as a press on its call does.
///
/// # Errors
/// A refusal when nothing of that is called now, or more than one turn is; and those of the press.
pub fn cannot(desk: &Desk<'_>, ask: Option<&TurnAsk>) -> Result<Outcome, Refused> {
    let board = desk.board();
    let lies = Lies::new(&desk.tell);
    let (zone, today) = (&desk.place().zone, desk.place().zone.date(desk.now()));
    let is_called = |standing: &&Standing| standing.mark > Mark::Calm && standing.held.is_none();
    let is_meant = |standing: &&Standing| {
        ask.is_none_or(|ask| {
            let is_then = ask
                .date
                .is_none_or(|date| date == today || date == zone.date(standing.due));
            let is_it = ask.duty.family() == standing.duty().family();
            is_it && is_then && super::offer::is_there(ask, standing.turn.target)
        })
    };
    let called: Vec<&Standing> = board.iter().filter(is_called).filter(is_meant).collect();
    let is_mine = |standing: &&Standing| lies.hand(standing).carer == Some(desk.me);
    let mine: Vec<&Standing> = called.iter().copied().filter(is_mine).collect();
    // Of another's turn somebody says that they are not to be asked: they have to name it.
    let all = if mine.is_empty() && ask.is_some() {
        called
    } else {
        mine
    };
    match all.as_slice() {
        [] if ask.is_some() => Err(msg!("refuse-cannot-not-called")),
        [] => Err(msg!("refuse-cannot-none")),
        [one] => presses::cannot(desk, &one.turn),
        several => {
            let typed = |one: &&Standing| as_typed(one.duty(), one.turn.target, &desk.tell.context());
            let names: Vec<String> = several.iter().map(typed).collect();
            Err(msg!("refuse-cannot-which", names = desk.tell.either(&names)))
        }
    }
}

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
