//! How a mark came about: the rule, the entries used, the sum, the rounding, the mark, and what each number rests
//! on.

use jiff::Timestamp;
use wrackline_core::care::{
    Basis, Because, Cadence, DueBy, Duty, Every, Grace, Pace, Rule, Schedule, Standing, standing,
};
use wrackline_core::civil::belongs;
use wrackline_core::journal::{Done, DoneKind};
use wrackline_core::place::Target;
use wrackline_core::rota::Hand;

use super::care::percent;
use super::due::when;
use super::tell::{Tell, capital};
use super::turns::Lies;
use super::{Desk, Refused, cycle, json, looks};
use crate::chat::blocks::{Answer, Block};
use crate::lines::ask::Spot;
use crate::msg;
use crate::words::Message;

/// `/why`: how the marks at a spot came about, now or at an earlier moment.
///
/// # Errors
/// A refusal when there is no such duty there.
pub fn why(
    desk: &Desk<'_>,
    spot: &Spot,
    duty: Option<Duty>,
    at: Option<Timestamp>,
) -> Result<Answer, Refused> {
    let at = at.unwrap_or(desk.now());
    let mut place = desk.book().place_at(at);
    // Told in the units of whoever asks.
    place.units = desk.place().units;
    let tell = Tell {
        place: &place,
        now: at,
        ..desk.tell
    };
    let standings = match duty {
        Some(duty) => {
            let pools = spot.pools.iter().map(|id| Target::Pool(*id));
            let enclosures = spot.enclosures.iter().map(|id| Target::Enclosure(*id));
            let targets: Vec<Target> = match duty {
                Duty::Own(id) => place
                    .duties
                    .get(&id)
                    .map(|(own, _)| own.target)
                    .into_iter()
                    .collect(),
                duty if duty.is_of_pool() => pools.collect(),
                _ => enclosures.collect(),
            };
            let all = targets
                .into_iter()
                .filter_map(|target| standing(tell.book, &place, duty, target, at));
            all.collect()
        }
        None => all_there(&tell, spot, at),
    };
    if standings.is_empty() {
        return Err(match duty {
            Some(duty) => msg!("refuse-no-duty-there", duty = tell.duty(duty)),
            None => msg!("refuse-nothing-there"),
        });
    }
    let mut answer = answer(&tell, &standings);
    if let (Some(_), [standing]) = (duty, standings.as_slice()) {
        answer.blocks.push(whose(&tell, standing));
    }
    if matches!(duty, None | Some(Duty::Test)) {
        let pools = spot.pools.iter().copied();
        answer
            .blocks
            .extend(pools.flat_map(|id| cycle::blocks(&tell, id)));
    }
    if duty.is_none() {
        let (looks, private) = looks::why(desk, &tell, |target| spot.holds(target));
        answer.blocks.extend(looks);
        answer.private = private;
    }
    Ok(answer)
}

/// Every duty at a spot: of a pool only its own, of an enclosure its pools' too.
fn all_there(tell: &Tell<'_>, spot: &Spot, at: Timestamp) -> Vec<Standing> {
    use crate::lines::ask::Grain;
    let mut board = wrackline_core::care::board(tell.book, tell.place, at);
    board.retain(|standing| match standing.turn.target {
        Target::Pool(id) => spot.pools.contains(&id),
        Target::Enclosure(id) => spot.grain != Grain::Pool && spot.enclosures.contains(&id),
        Target::Place => false,
    });
    board
}

/// `Why` on a receipt.
///
/// # Errors
/// A refusal when the target has the duty no longer.
pub fn why_turn(desk: &Desk<'_>, duty: Duty, target: Target) -> Result<Answer, Refused> {
    let standing = standing(desk.book(), desk.place(), duty, target, desk.now());
    let standing = standing.ok_or_else(|| {
        msg!(
            "refuse-no-such-duty",
            target = desk.tell.target(target),
            duty = desk.tell.duty(duty)
        )
    })?;
    let mut answer = answer(&desk.tell, std::slice::from_ref(&standing));
    answer.blocks.push(whose(&desk.tell, &standing));
    Ok(answer)
}

/// Why the turn lies where it does.
fn whose(tell: &Tell<'_>, standing: &Standing) -> Block {
    Block::Text {
        text: super::turns::whose::text(tell, standing),
    }
}

fn answer(tell: &Tell<'_>, standings: &[Standing]) -> Answer {
    let mut blocks = Vec::new();
    let mut turns = Vec::new();
    let lies = Lies::new(tell);
    for standing in standings {
        let hand = lies.hand(standing);
        turns.push(json::turn(tell, standing, &hand));
        blocks.push(Block::Title {
            text: title(tell, standing, &hand),
        });
        blocks.push(Block::Text {
            text: lines(tell, standing).join("\n"),
        });
    }
    Answer {
        ok: true,
        blocks,
        private: false,
        turns,
    }
}

fn title(tell: &Tell<'_>, standing: &Standing, hand: &Hand) -> String {
    tell.say(&msg!(
        "why-title",
        target = tell.target(standing.turn.target),
        duty = tell.duty(standing.duty()),
        mark = tell.mark(standing.mark),
        when = when(tell, standing),
        who = tell.carer_or_anyone(hand.carer)
    ))
}

fn lines(tell: &Tell<'_>, standing: &Standing) -> Vec<String> {
    let mut lines = vec![last(tell, standing)];
    lines.extend(parts(tell, standing));
    lines.push(rule(tell, &standing.cadence));
    lines.extend(
        standing
            .cadence
            .because
            .iter()
            .skip(1)
            .map(|because| reason(tell, *because)),
    );
    lines.push(due(tell, standing));
    lines.push(late(tell, standing));
    lines
}

fn duty_done(tell: &Tell<'_>, done: &Done) -> String {
    match done.kind {
        DoneKind::Read => tell.word("why-by-reading"),
        _ => tell.duty(done.duty),
    }
}

/// The entry that it counts from, and the round that this entry belongs to.
fn last(tell: &Tell<'_>, standing: &Standing) -> String {
    let anchor = &standing.anchor;
    let begun = tell.moment(standing.cadence.begun);
    let text = match &anchor.last {
        None => tell.say(&msg!("why-never", at = begun)),
        Some(done) => tell.say(&msg!(
            "why-last",
            at = tell.moment(done.at),
            who = tell.carer(done.by),
            duty = duty_done(tell, done),
            entry = done.seq.to_string()
        )),
    };
    let text = match &anchor.not_needed {
        None => text,
        Some(done) => {
            let said = tell.say(&msg!(
                "why-not-needed",
                at = tell.moment(done.at),
                who = tell.carer(done.by),
                entry = done.seq.to_string()
            ));
            format!("{text} {said}")
        }
    };
    let near = belongs(&tell.place.zone, &tell.place.rounds, anchor.from);
    match standing.due_by {
        DueBy::DayRound { .. } if anchor.last.is_some() || anchor.not_needed.is_some() => {
            let id = if anchor.parts.is_empty() {
                "why-belongs"
            } else {
                "why-belongs-part"
            };
            let said = tell.say(&msg!(
                id,
                round = tell.round(near.round.id),
                date = tell.date(near.date)
            ));
            format!("{text} {said}")
        }
        _ => text,
    }
}

/// How parts moved what it counts from.
fn parts(tell: &Tell<'_>, standing: &Standing) -> Vec<String> {
    let step = |step: &wrackline_core::care::PartStep| {
        tell.say(&msg!(
            "why-part",
            percent = percent(step.share),
            at = tell.moment(step.done.at),
            before = tell.moment(step.before),
            after = tell.moment(step.after),
            entry = step.done.seq.to_string()
        ))
    };
    standing.anchor.parts.iter().map(step).collect()
}

fn rule(tell: &Tell<'_>, cadence: &Cadence) -> String {
    let pace = match &cadence.pace {
        Pace::Interval { every, .. } => every_words(tell, *every),
        Pace::Calendar(Schedule::Weekdays { days, .. }) => {
            let days: Vec<String> = days
                .iter()
                .map(|day| tell.word(format!("weekday-{day}")))
                .collect();
            tell.say(&msg!("pace-weekdays", days = tell.list(&days)))
        }
        Pace::Calendar(Schedule::Cron(text)) => {
            tell.say(&msg!("pace-cron", text = text.strip_prefix("0 ").unwrap_or(text)))
        }
        Pace::Calendar(Schedule::Every(every)) => every_words(tell, *every),
    };
    let name = match cadence.rule {
        Some(rule) => msg!(format!("rule-{}", rule.code())),
        None => msg!("rule-own"),
    };
    let basis = tell.word(match cadence.basis {
        Basis::CommonPractice => "basis-common-practice",
        Basis::Label => "basis-label",
        Basis::Place => "basis-place",
    });
    let name = capital(&tell.say(&name));
    let mut text = tell.say(&msg!("why-rule", rule = name, pace = pace, basis = basis));
    if cadence.rule == Some(Rule::PartChange) {
        text += " ";
        text += &tell.say(&msg!("why-fraction", percent = percent(cadence.fraction)));
    }
    if let Some(first) = cadence.because.first() {
        let said = reason(tell, *first);
        if !said.is_empty() {
            text += " ";
            text += &said;
        }
    }
    text
}

fn every_words(tell: &Tell<'_>, every: Every) -> String {
    tell.say(&match every {
        Every::Days(days) => msg!("pace-days", count = days),
        Every::Hours(hours) => msg!("pace-hours", count = hours),
    })
}

fn reason(tell: &Tell<'_>, because: Because) -> String {
    let at = |id: &'static str, at: Timestamp| -> Message { msg!(id, at = tell.moment(at)) };
    tell.say(&match because {
        Because::Still => msg!("because-still"),
        Because::Aerated(since) => at("because-aerated", since),
        Because::Filtered(since) => at("because-filtered", since),
        Because::AirWaits(since) => at("because-air-waits", since),
        Because::FilterWaits(since) => at("because-filter-waits", since),
        Because::FilterUnproven(since) => at("because-filter-unproven", since),
        Because::FilterLapsed(since) => at("because-filter-lapsed", since),
        Because::AirStopped(since) => at("because-air-stopped", since),
        Because::FilterStopped(since) => at("because-filter-stopped", since),
        Because::Cycling(since) => at("because-cycling", since),
        Because::SetByPlace(since) => at("because-set-by-place", since),
    })
}

/// The sum, with its rounding; where something overrode it, the sum first and then what did.
fn due(tell: &Tell<'_>, standing: &Standing) -> String {
    if standing.due == Timestamp::MAX {
        return tell.word("why-due-never");
    }
    let due = tell.moment(standing.due);
    let over = match standing.due_by {
        DueBy::InForce { at } => msg!("why-due-in-force", at = tell.moment(at), due = due),
        DueBy::Held => {
            let zone = tell
                .place
                .enclosure_of(standing.turn.target)
                .and_then(|one| one.quiet.as_ref());
            msg!(
                "why-due-held",
                spot = zone.map_or("", |zone| zone.spot.as_str()),
                due = due
            )
        }
        _ if standing.by_rule.0 != standing.due => {
            let sum = sum(tell, standing, standing.due, standing.due_by);
            msg!("why-due-before", sum = sum)
        }
        by => return sum(tell, standing, standing.due, by),
    };
    let (ruled, by) = standing.by_rule;
    format!("{} {}", sum(tell, standing, ruled, by), tell.say(&over))
}

fn sum(tell: &Tell<'_>, standing: &Standing, due: Timestamp, by: DueBy) -> String {
    let told = tell.moment(due);
    match by {
        DueBy::DayRound { round, date, days } => tell.say(&msg!(
            "why-due-days",
            date = tell.date(date),
            count = days,
            round = tell.round(round),
            due = told
        )),
        DueBy::FirstRound { date, days } => tell.say(&msg!(
            "why-due-first",
            date = tell.date(date),
            count = days,
            due = told
        )),
        DueBy::HourRound { counted_from, limit } => {
            let from = counted(tell, standing, counted_from);
            tell.say(&msg!(
                "why-due-hours",
                from = from,
                limit = tell.moment(limit),
                due = told
            ))
        }
        DueBy::HourLimit { counted_from } => {
            let from = counted(tell, standing, counted_from);
            tell.say(&msg!("why-due-limit", from = from, due = told))
        }
        DueBy::Calendar => {
            let text = tell.say(&msg!("why-due-calendar", due = told));
            let skipped = standing.turn.on.filter(|on| tell.place.zone.civil(due) != *on);
            match skipped {
                Some(on) => {
                    let time = super::tell::clock(on.time());
                    format!("{text} {}", tell.say(&msg!("why-due-gap", time = time)))
                }
                None => text,
            }
        }
        DueBy::InForce { .. } | DueBy::Held => String::new(),
    }
}

/// Whence hours count: the entry's own time, or the round that it counts as.
fn counted(tell: &Tell<'_>, standing: &Standing, from: Timestamp) -> String {
    let moment = tell.moment(from);
    if from == standing.anchor.from {
        return moment;
    }
    let near = belongs(&tell.place.zone, &tell.place.rounds, from);
    tell.say(&msg!(
        "why-counted-as",
        moment = moment,
        round = tell.round(near.round.id)
    ))
}

fn late(tell: &Tell<'_>, standing: &Standing) -> String {
    if standing.due == Timestamp::MAX {
        return String::new();
    }
    let overdue = tell.moment(standing.overdue);
    let grace = match standing.cadence.grace {
        Grace::Hours(hours) => tell.say(&msg!("grace-hours", span = tell.span(i64::from(hours) * 60))),
        Grace::NextRound => tell.word("grace-next-round"),
    };
    let text = tell.say(&msg!("why-overdue", at = overdue, grace = grace));
    let hazard = match (standing.hazard, standing.cadence.hazard_h) {
        (Some(at), Some(hours)) => tell.say(&msg!(
            "why-hazard",
            at = tell.moment(at),
            span = tell.span(i64::from(hours) * 60),
            from = tell.moment(standing.anchor.hazard_from)
        )),
        _ => tell.word("why-hazard-never"),
    };
    format!("{text} {hazard}")
}
