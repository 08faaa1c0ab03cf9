//! `/alone`: what fails first with nobody there, what to do before leaving, and the fewest visits.
//!
//! `alone/before` is what is seen to before leaving, `alone/visits` the visits with their portions.

mod before;
mod visits;

use jiff::Timestamp;
use wrackline_core::alone::{Alone, Bared, Cause, Limit, Span, Turn, Undone, alone as reckon};
use wrackline_core::care::Duty;
use wrackline_core::civil::plus_minutes;
use wrackline_core::place::{Life, Target};

use super::sightings::sighting_word;
use super::tell::capital;
use super::{Desk, Refused};
use crate::chat::blocks::{Answer, Block};
use crate::lines::ask::LeftAlone;
use crate::msg;

/// Nobody plans visits for longer than this, in days: what is true of a place by then is told again.
const DAYS_MAX: i64 = 60;

/// More failures than this are not listed.
const FAILURES_MAX: usize = 12;

/// `/alone`
///
/// # Errors
/// One sentence about a time that cannot be, or a place without water to look after.
pub(super) fn alone(desk: &Desk<'_>, ask: &LeftAlone) -> Result<Answer, Refused> {
    let LeftAlone { leave, back } = *ask;
    let has_water = |life| matches!(life, Life::InUse | Life::Cycling);
    if !desk.place().pools.values().any(|pool| has_water(pool.life)) {
        return Err(msg!("alone-no-pools"));
    }
    if leave < desk.now() {
        return Err(msg!("alone-past", leave = desk.tell.moment(leave)));
    }
    if back <= leave {
        let (leave, back) = (desk.tell.moment(leave), desk.tell.moment(back));
        return Err(msg!("alone-ends-first", leave = leave, back = back));
    }
    if back > plus_minutes(leave, DAYS_MAX * 24 * 60 + 60) {
        return Err(msg!("alone-long", days = DAYS_MAX));
    }
    let found = reckon(desk.book(), desk.now(), Span { leave, back });
    let mut answer = desk.done_text(title(desk, &found));
    let blocks = &mut answer.blocks;
    blocks.push(Block::Caution {
        text: desk.tell.word("alone-caution"),
    });
    blocks.extend(open(desk));
    blocks.extend(gaps(desk, &found));
    blocks.extend(before::blocks(desk, &found));
    blocks.extend(failing(desk, &found));
    blocks.extend(visits::blocks(desk, &found)?);
    Ok(answer)
}

/// The first failure, and the visits that prevent it.
fn title(desk: &Desk<'_>, found: &Alone) -> String {
    let visits = visits::summary(desk, found);
    let back = desk.tell.moment(found.span.back);
    desk.say(&match found.failures.first() {
        Some(first) if first.at <= found.span.back => msg!(
            "alone-title",
            what = limit(desk, first),
            when = desk.tell.moment(first.at),
            hour = hour(found, first.at),
            visits = visits
        ),
        Some(first) => msg!(
            "alone-title-later",
            back = back,
            what = limit(desk, first),
            when = desk.tell.moment(first.at),
            visits = visits
        ),
        None => msg!("alone-title-never", back = back),
    })
}

/// What was seen and is not closed yet: whoever leaves meanwhile leaves it to itself.
fn open(desk: &Desk<'_>) -> Option<Block> {
    let open = desk.book().matters(desk.now()).filter(|one| one.closed.is_none());
    let named = open.map(|one| {
        let what = desk.tell.word(sighting_word(one.sighting));
        format!("{}: {what}", desk.tell.target(one.target))
    });
    let named: Vec<String> = named.collect();
    (!named.is_empty()).then(|| Block::Caution {
        text: desk.say(&msg!("alone-open", what = named.join(", "))),
    })
}

/// The whole hours from leaving to a moment.
fn hour(found: &Alone, at: Timestamp) -> i64 {
    (at.as_second() - found.span.leave.as_second()) / 3600
}

/// A limit in a phrase: where, what, and why where that is not the time alone.
fn limit(desk: &Desk<'_>, limit: &Limit) -> String {
    let turn = turn(desk, limit.duty, limit.target);
    let why = match limit.cause {
        Cause::Cadence => return turn,
        Cause::Level(Bared::FillLine) => "alone-bares-fill-line",
        Cause::Level(Bared::Shell) => "alone-bares-shell",
        Cause::Level(Bared::Stone) => "alone-bares-stone",
    };
    let why = desk.tell.word(why);
    desk.say(&msg!("alone-limit-why", turn = turn, why = why))
}

fn turn(desk: &Desk<'_>, duty: Duty, target: Target) -> String {
    format!("{}, {}", desk.tell.target(target), desk.tell.duty(duty))
}

/// Turns by where they are, in walking order: a line each, with what stands behind it.
fn walk(desk: &Desk<'_>, turns: &[Turn], behind: impl Fn(Target, &[Turn]) -> Option<String>) -> Block {
    let at_one_spot = turns.chunk_by(|one, other| one.target == other.target);
    let line = |turns: &[Turn]| {
        let duties: Vec<String> = turns.iter().map(|turn| said(desk, turn)).collect();
        let spot = capital(&desk.tell.target_on_the_way(turns[0].target));
        let line = format!("{spot}: {}", duties.join(", "));
        match behind(turns[0].target, turns) {
            Some(more) => format!("{line}. {more}"),
            None => line,
        }
    };
    let items = at_one_spot.map(|turns| desk.item(line(turns))).collect();
    Block::Items { items }
}

/// A duty, with the water that it takes.
fn said(desk: &Desk<'_>, turn: &Turn) -> String {
    let duty = desk.tell.duty(turn.duty);
    match turn.litres {
        Some(litres) => desk.say(&msg!(
            "alone-takes",
            duty = duty,
            litres = desk.tell.litres(litres)
        )),
        None => duty,
    }
}

/// Limits that no visit can keep.
fn gaps(desk: &Desk<'_>, found: &Alone) -> Vec<Block> {
    let gap = |gap: &wrackline_core::alone::Gap| {
        let what = limit(desk, &gap.limit);
        let when = desk.tell.moment(gap.limit.at);
        desk.say(&match gap.limit.held {
            Some(_) => msg!("alone-gap-held", what = what, when = when),
            None => msg!("alone-gap", what = what, when = when),
        })
    };
    let all = found.visits.gaps.iter();
    all.map(|one| Block::Caution { text: gap(one) }).collect()
}

/// What fails with nobody there, and what is only overdue.
fn failing(desk: &Desk<'_>, found: &Alone) -> Vec<Block> {
    let mut blocks = Vec::new();
    let failing: Vec<&Limit> = found
        .failures
        .iter()
        .filter(|limit| limit.at <= found.span.back)
        .collect();
    if !failing.is_empty() {
        blocks.push(Block::Text {
            text: desk.tell.word("alone-failures"),
        });
        let line = |one: &&Limit| {
            desk.item(desk.say(&msg!(
                "alone-failure",
                what = limit(desk, one),
                when = desk.tell.moment(one.at),
                hour = hour(found, one.at)
            )))
        };
        let more = failing.len().saturating_sub(FAILURES_MAX);
        let more = (more > 0).then(|| desk.item(desk.say(&msg!("alone-failures-more", count = more))));
        let items = failing.iter().take(FAILURES_MAX).map(line).chain(more).collect();
        blocks.push(Block::Items { items });
    }
    let undone: Vec<String> = by_duty(&found.undone)
        .into_iter()
        .map(|all| {
            let spots: Vec<String> = all.iter().map(|one| desk.tell.target(one.target)).collect();
            let since = all.iter().map(|one| one.since).min().unwrap_or(found.span.back);
            desk.say(&msg!(
                "alone-undone-one",
                duty = desk.tell.duty(all[0].duty),
                spots = desk.tell.list(&spots),
                since = desk.tell.moment(since)
            ))
        })
        .collect();
    if !undone.is_empty() {
        let text = desk.say(&msg!("alone-undone", all = undone.join("; ")));
        blocks.push(Block::Text { text });
    }
    blocks
}

/// The same duty at several spots, together, in the order in which each comes first.
fn by_duty(all: &[Undone]) -> Vec<Vec<Undone>> {
    let mut groups: Vec<Vec<Undone>> = Vec::new();
    for one in all {
        match groups.iter_mut().find(|group| group[0].duty == one.duty) {
            Some(group) => group.push(*one),
            None => groups.push(vec![*one]),
        }
    }
    groups
}
