//! Logging what was done.

use jiff::Timestamp;
use wrackline_core::care::{Duty, Guarded, Rule, cadence, guard, standing};
use wrackline_core::journal::{Event, Part};
use wrackline_core::place::Target;

use super::batches::{draw, offer};
use super::tell::capital;
use super::{Desk, Draft, Outcome, Refused, doses, nods};
use crate::chat::blocks::{Answer, Block, Press};
use crate::lines::ask::{Did, Grain, Spot};
use crate::msg;

/// The targets of a duty at a spot: its pools for a duty of pools, its enclosures for a duty of enclosures. Of a
/// set only those that have the duty now.
///
/// # Errors
/// A refusal when nothing there has this duty.
pub fn targets(desk: &Desk<'_>, duty: Duty, spot: &Spot) -> Result<Vec<Target>, Refused> {
    if let Duty::Own(id) = duty {
        let target = desk
            .place()
            .duties
            .get(&id)
            .map_or(Target::Place, |(own, _)| own.target);
        return Ok(vec![target]);
    }
    let pools = spot.pools.iter().map(|id| Target::Pool(*id));
    let enclosures = spot.enclosures.iter().map(|id| Target::Enclosure(*id));
    let all: Vec<Target> = if duty.is_of_pool() {
        pools.collect()
    } else {
        enclosures.collect()
    };
    let has = |target: &Target| cadence(desk.book(), desk.place(), duty, *target, desk.now()).is_some();
    let having: Vec<Target> = all.iter().copied().filter(has).collect();
    match (having.is_empty(), spot.grain, all.as_slice()) {
        (false, ..) => Ok(having),
        // Said of one pool by name it is logged, whatever the cadence says: the carer was there.
        (true, Grain::Pool, [one]) if can_be_done(desk, duty, *one) => Ok(vec![*one]),
        (true, _, [one]) => Err(msg!(
            "refuse-no-such-duty",
            target = desk.tell.target(*one),
            duty = desk.tell.duty(duty)
        )),
        _ => Err(msg!("refuse-no-duty-there", duty = desk.tell.duty(duty))),
    }
}

/// Whether a duty can be done at a pool at all: it holds water that is cared for, and has the gear.
fn can_be_done(desk: &Desk<'_>, duty: Duty, target: Target) -> bool {
    use wrackline_core::place::Life;
    let Target::Pool(id) = target else { return false };
    desk.place().pools.get(&id).is_some_and(|pool| {
        let kept = matches!(pool.life, Life::InUse | Life::Cycling);
        match duty {
            Duty::Rinse => kept && pool.filter.is_some(),
            Duty::AirCheck => kept && pool.air.is_some(),
            _ => kept,
        }
    })
}

/// `/did`: logs a duty, whole or in part, at one target or several.
///
/// # Errors
/// A refusal when there is no such duty there, a part is missing, or every target has a log within its guard time.
pub fn did(desk: &Desk<'_>, did: Did) -> Result<Outcome, Refused> {
    let targets = targets(desk, did.duty, &did.spot)?;
    let at = did.at.unwrap_or(desk.now());
    let by = did.by.unwrap_or(desk.me);
    if did.with == Some(by) {
        return Err(msg!("refuse-with-self", who = desk.tell.carer(by)));
    }
    let waits = nods::waits(desk, did.duty, by);
    // A press repeats the duty alone, without what was said beside it.
    let bare = did.part == Part::Whole && did.litres.is_none() && did.batch.is_none();
    let repeats = bare && did.at.is_none() && by == desk.me;
    let (mut drafts, mut draws) = (Vec::new(), Vec::new());
    let (mut said, mut presses) = (Vec::new(), Vec::new());
    for target in targets {
        if let Some((seq, already)) = nods::already(desk, did.duty, target).filter(|_| waits && !did.again) {
            said.push(already);
            presses.push(nods::press(&desk.tell, seq));
            continue;
        }
        let part = part_of(desk, &did, target)?;
        let beside = beside(desk, &did, target, part)?;
        let found = guard(desk.book(), desk.place(), did.duty, target, part, at);
        if let Some(earlier) = found.filter(|_| !did.again) {
            said.push(guarded_line(desk, &did, target, &earlier));
            presses.extend(repeats.then(|| again_press(desk, did.duty, target)));
            continue;
        }
        if let (Some(Event::Drew(_, litres)), Target::Pool(pool)) = (&beside, target) {
            draws.push((pool, *litres));
        }
        let event = if waits { Event::Waits } else { Event::Did }(did.duty, target, part);
        let behind = beside.into_iter().chain(did.with.map(Event::Together));
        let note = [did.note.clone()].into_iter().chain(std::iter::repeat(None));
        drafts.extend(
            std::iter::once(event)
                .chain(behind)
                .zip(note)
                .map(|(event, note)| Draft { at, by, event, note }),
        );
    }
    if let Some(batch) = did.batch.filter(|_| !draws.is_empty()) {
        draw::check(desk, batch, &did, at, &draws)?;
    }
    if drafts.is_empty() {
        return Ok(Outcome::answer(refused_with(desk, &said.join("\n"), presses)));
    }
    Ok(Outcome::write(drafts, move |desk, numbers| {
        logged(desk, numbers, &said)
    }))
}

/// The receipt of what was logged, with what harms before it and what could have been used behind it.
fn logged(desk: &Desk<'_>, numbers: &[u64], said: &[String]) -> Answer {
    let besides: Vec<String> = said.iter().cloned().chain(doses::beside(desk, numbers)).collect();
    let mut answer = receipt(desk, numbers, &besides);
    if let Some(text) = doses::overdosed(desk, numbers) {
        answer.put_first(text);
    }
    draw::told_in(desk, numbers, &mut answer);
    let offered = offer::for_logged(&desk.tell, numbers);
    let end = answer.blocks.len() - 1;
    answer.blocks.splice(end..end, offered);
    answer
}

/// That a log within the guard time was not taken; of conditioner with what the pool had in all.
fn guarded_line(desk: &Desk<'_>, did: &Did, target: Target, earlier: &Guarded) -> String {
    let said = desk.say(&msg!(
        "guarded",
        who = desk.tell.carer(earlier.done.by),
        target = desk.tell.target(target),
        duty = desk.tell.duty(earlier.done.duty),
        at = desk.tell.near(earlier.done.at),
        ago = desk.tell.ago(earlier.done.at)
    ));
    match doses::would_be(desk, did, target) {
        Some(total) => format!("{said} {total}"),
        None => said,
    }
}

/// What else a duty brings into the journal: water from a batch, litres, or millilitres of conditioner.
fn beside(desk: &Desk<'_>, did: &Did, target: Target, part: Part) -> Result<Option<Event>, Refused> {
    if let Some(batch) = did.batch {
        return draw::litres_for(desk, did, target, part).map(|litres| Some(Event::Drew(batch, litres)));
    }
    let holds = match target {
        Target::Pool(id) => desk.place().pools.get(&id).map(|pool| pool.litres),
        _ => None,
    };
    match (did.litres, holds) {
        (Some(litres), Some(holds)) if did.duty == Duty::Condition => {
            doses::said(desk, litres, holds).map(|ml| Some(Event::Dosed(ml)))
        }
        (litres, _) => Ok(litres.map(Event::Amount)),
    }
}

fn again_press(desk: &Desk<'_>, duty: Duty, target: Target) -> Press {
    let turn = wrackline_core::care::TurnKey {
        duty,
        target,
        from: 0,
        on: None,
    };
    desk.press(
        &msg!("press-again", target = desk.tell.target(target)),
        format!("again.{turn}"),
    )
}

fn refused_with(desk: &Desk<'_>, text: &str, answers: Vec<Press>) -> Answer {
    let mut answer = desk.done_text(text.to_owned());
    answer.ok = false;
    answer.private = true;
    if !answers.is_empty() {
        answer.blocks.push(Block::Answers { answers });
    }
    answer
}

/// Litres said beyond this share of what a pool holds are a slip: a pool is filled with a little to spare at most.
const AMOUNT_MAX: f64 = 1.5;

/// How much of a duty an ask means at one target: litres are a fraction of the pool's water.
fn part_of(desk: &Desk<'_>, did: &Did, target: Target) -> Result<Part, Refused> {
    let is_change = did.duty.family() == Duty::Change;
    let litres = match target {
        Target::Pool(id) => desk.place().pools.get(&id).map(|pool| pool.litres),
        _ => None,
    };
    if let (Some(amount), Some(all)) = (did.litres, litres)
        && amount > all * AMOUNT_MAX
    {
        return Err(msg!(
            "refuse-more-than-pool",
            target = desk.tell.target(target),
            amount = desk.tell.litres(amount),
            all = desk.tell.litres(all)
        ));
    }
    match (did.part, did.litres.filter(|_| is_change), litres) {
        (Part::Whole, Some(amount), Some(all)) if amount < all => Ok(Part::Fraction(amount / all)),
        (Part::Whole, None, _) if did.duty == Duty::PartChange => {
            let rule = cadence(desk.book(), desk.place(), did.duty, target, desk.now()).and_then(|c| c.rule);
            if rule == Some(Rule::PartChange) {
                Ok(Part::Whole)
            } else {
                Err(msg!("refuse-part-unsaid", target = desk.tell.target(target)))
            }
        }
        (part, ..) => Ok(part),
    }
}

/// What was logged, and what comes next.
pub fn receipt(desk: &Desk<'_>, numbers: &[u64], besides: &[String]) -> Answer {
    let lines: Vec<String> = numbers
        .iter()
        .filter_map(|seq| receipt_line(desk, *seq))
        .collect();
    let mut blocks = Vec::new();
    match lines.as_slice() {
        [one] => blocks.push(Block::Title { text: one.clone() }),
        many => {
            blocks.push(Block::Title {
                text: desk.say(&msg!("logged-several", count = many.len())),
            });
            let items = many.iter().map(|line| desk.item(line.clone())).collect();
            blocks.push(Block::Items { items });
        }
    }
    blocks.extend(besides.iter().map(|text| Block::Text { text: text.clone() }));
    if numbers.iter().any(|seq| disturbed(desk, *seq)) {
        blocks.extend(super::posts::quiet_zones(&desk.tell));
    }
    blocks.push(Block::Answers {
        answers: receipt_answers(desk, numbers),
    });
    Answer {
        ok: true,
        blocks,
        private: false,
        turns: Vec::new(),
    }
}

/// Whether an entry did what a quiet zone holds back.
fn disturbed(desk: &Desk<'_>, seq: u64) -> bool {
    let Some(Event::Did(duty, target, _) | Event::Waits(duty, target, _)) =
        desk.book().entry(seq).map(|entry| &entry.event)
    else {
        return false;
    };
    let today = desk.place().zone.date(desk.now());
    let quiet = desk
        .place()
        .enclosure_of(*target)
        .and_then(|one| one.quiet.as_ref());
    duty.disturbs() && quiet.is_some_and(|zone| today < zone.until)
}

fn receipt_answers(desk: &Desk<'_>, numbers: &[u64]) -> Vec<Press> {
    let Some(first) = numbers.first() else {
        return Vec::new();
    };
    let waiting = numbers
        .iter()
        .filter(|seq| desk.book().waiting().any(|one| one == **seq));
    let mut answers: Vec<Press> = waiting.map(|seq| nods::press(&desk.tell, *seq)).collect();
    answers.push(desk.press(&msg!("press-take-back"), format!("undo.{first}")));
    let event = desk.book().entry(*first).map(|entry| &entry.event);
    if let Some(Event::Did(duty, target, _) | Event::Waits(duty, target, _)) = event {
        let turn = wrackline_core::care::TurnKey {
            duty: duty.family(),
            target: *target,
            from: 0,
            on: None,
        };
        answers.push(desk.press(&msg!("press-why"), format!("why.{turn}")));
    }
    answers
}

fn receipt_line(desk: &Desk<'_>, seq: u64) -> Option<String> {
    let entry = desk.book().entry(seq)?;
    let tell = &desk.tell;
    let (Event::Did(duty, target, part) | Event::Waits(duty, target, part)) = &entry.event else {
        return None;
    };
    let what = match duty {
        Duty::Own(_) if *target == Target::Place => {
            desk.say(&msg!("did-own", target = capital(&tell.duty(*duty))))
        }
        Duty::Own(_) => {
            let named = format!("{}: {}", tell.target(*target), tell.duty(*duty));
            desk.say(&msg!("did-own", target = named))
        }
        duty => desk.say(&msg!(
            format!("did-{}", duty.code()),
            target = tell.target(*target)
        )),
    };
    let how_much = match part {
        Part::Whole => String::new(),
        Part::Fraction(fraction) => desk.say(&msg!("did-fraction", percent = percent(*fraction))),
        Part::Steps(mask) => desk.say(&msg!("did-steps", steps = tell.list(&steps(*mask)))),
    };
    let amount = if *duty == Duty::Condition {
        doses::told_of(desk, seq)
    } else {
        desk.book().amount(seq).map(|litres| tell.litres(litres))
    };
    let how_much = how_much + &amount.map_or_else(String::new, |amount| format!(", {amount}"));
    let mut first = desk.say(&match desk.book().together(seq) {
        Some(with) => msg!(
            "receipt-together",
            what = what,
            part = how_much,
            at = tell.near(entry.at),
            who = tell.carer(entry.by),
            with = tell.carer(with)
        ),
        None => msg!(
            "receipt",
            what = what,
            part = how_much,
            at = tell.near(entry.at),
            who = tell.carer(entry.by)
        ),
    });
    if desk.book().waiting().any(|one| one == seq) {
        first = format!("{first} {}", tell.word("receipt-waits"));
    }
    let next = standing(desk.book(), desk.place(), *duty, *target, desk.now());
    let next = next
        .filter(|standing| standing.due < Timestamp::MAX)
        .map(|standing| {
            let id = if standing.due > desk.now() {
                "receipt-next"
            } else {
                "receipt-still-due"
            };
            desk.say(&msg!(id, next = tell.turn_moment(standing.due)))
        });
    Some(
        [Some(first), next]
            .into_iter()
            .flatten()
            .collect::<Vec<_>>()
            .join(" "),
    )
}

/// A fraction as whole percent.
#[must_use]
pub fn percent(fraction: f64) -> i64 {
    (fraction * 100.0).round() as i64
}

fn steps(mask: u32) -> Vec<String> {
    (0..32)
        .filter(|bit| mask & (1 << bit) != 0)
        .map(|bit| (bit + 1).to_string())
        .collect()
}
