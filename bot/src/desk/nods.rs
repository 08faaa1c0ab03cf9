//! A helper's work that waits for an adult's nod.

use wrackline_core::care::Duty;
use wrackline_core::journal::{Entry, Event, Seq};
use wrackline_core::place::{CarerId, Role, Target};

use super::tell::{Tell, capital};
use super::{Desk, Outcome, Refused, care};
use crate::chat::blocks::{Answer, Block, Press};
use crate::lines::as_typed;
use crate::lines::ask::NodAsk;
use crate::msg;

/// Whether what someone did waits for a nod: a helper's duty that the place marked.
pub(super) fn waits(desk: &Desk<'_>, duty: Duty, by: CarerId) -> bool {
    let place = desk.place();
    let is_helper = place.carers.get(&by).is_some_and(|one| one.role == Role::Helper);
    is_helper && place.nods.contains(&duty.family())
}

/// That a helper's work at a duty waits already: logged again it would count twice.
pub(super) fn already(desk: &Desk<'_>, duty: Duty, target: Target) -> Option<(Seq, String)> {
    let entry = desk.book().waiting_for(duty, target, desk.now())?;
    let told = msg!(
        "nod-waits-already",
        what = what(&desk.tell, duty, target),
        at = desk.tell.near(entry.at),
        who = desk.tell.carer(entry.by)
    );
    Some((entry.seq, desk.say(&told)))
}

fn what(tell: &Tell<'_>, duty: Duty, target: Target) -> String {
    format!("{}: {}", tell.target(target), tell.duty(duty))
}

/// The press by which an adult nods.
pub(super) fn press(tell: &Tell<'_>, seq: Seq) -> Press {
    let press = super::posts::press(tell, "press-nod", format!("nod.{seq}"));
    match typed(tell, seq) {
        Some(line) => press.typed(format!("/nod {line}")),
        None => press,
    }
}

/// The press by which an adult says that it was not done.
fn press_not_done(tell: &Tell<'_>, seq: Seq) -> Press {
    let press = super::posts::press(tell, "press-not-done", format!("notdone.{seq}"));
    match typed(tell, seq) {
        Some(line) => press.typed(format!("/nod no {line}")),
        None => press,
    }
}

fn typed(tell: &Tell<'_>, seq: Seq) -> Option<String> {
    let (duty, target) = of(tell.book.entry(seq)?)?;
    Some(as_typed(duty, target, &tell.context()))
}

/// What waits: what was done over since counts, whether or not anybody nods at the first.
fn open<'a>(desk: &Desk<'a>) -> impl Iterator<Item = (&'a Entry, Duty, Target)> {
    let (book, now) = (desk.book(), desk.now());
    book.waiting().filter_map(move |seq| {
        let entry = book.entry(seq)?;
        let (duty, target) = of(entry)?;
        let is_open = book.waiting_for(duty, target, now)?.seq == seq;
        is_open.then_some((entry, duty, target))
    })
}

/// What waits, each with its presses; nothing where nothing does.
pub(super) fn list(desk: &Desk<'_>) -> Vec<Block> {
    let item = |(entry, duty, target): (&Entry, Duty, Target)| {
        let mut item = desk.item(desk.say(&msg!(
            "nod-line",
            what = capital(&what(&desk.tell, duty, target)),
            at = desk.tell.near(entry.at),
            who = desk.tell.carer(entry.by)
        )));
        item.answers = vec![
            press(&desk.tell, entry.seq),
            press_not_done(&desk.tell, entry.seq),
        ];
        item
    };
    let items: Vec<_> = open(desk).map(item).collect();
    if items.is_empty() {
        return Vec::new();
    }
    let text = desk.say(&msg!("nod-title", count = items.len()));
    vec![Block::Text { text }, Block::Items { items }]
}

fn of(entry: &Entry) -> Option<(Duty, Target)> {
    match entry.event {
        Event::Waits(duty, target, _) => Some((duty, target)),
        _ => None,
    }
}

/// Hears a `/nod` line.
///
/// # Errors
/// A refusal when nothing of that waits.
pub(super) fn hear(desk: &Desk<'_>, ask: &NodAsk) -> Result<Outcome, Refused> {
    let NodAsk::At { duty, spot, no } = ask else {
        let mut answer = desk.done(&msg!("nod-title", count = open(desk).count()));
        answer.blocks.extend(list(desk).into_iter().skip(1));
        return Ok(Outcome::answer(answer));
    };
    let is_meant = |one: Duty, target: Target| {
        one.family() == duty.family() && (matches!(one, Duty::Own(_)) || spot.holds(target))
    };
    let found: Vec<Seq> = open(desk)
        .filter(|(_, one, target)| is_meant(*one, *target))
        .map(|(entry, ..)| entry.seq)
        .collect();
    match (found.as_slice(), no) {
        ([], _) => Err(msg!("refuse-nod-none", duty = desk.tell.duty(*duty))),
        (found, true) => not_done(desk, found),
        (found, false) => nod(desk, found),
    }
}

/// Holds that a helper's work is there and waits.
fn waiting<'a>(desk: &Desk<'a>, seq: Seq) -> Result<&'a Entry, Refused> {
    let book = desk.book();
    let found = book.entry(seq).filter(|entry| of(entry).is_some());
    let entry = found.ok_or(msg!("refuse-press"))?;
    if book.is_void(seq) {
        return Err(msg!("refuse-undo-twice"));
    }
    if book.is_nodded(seq) {
        return Err(msg!("nod-already", who = desk.tell.carer(nodder(desk, seq))));
    }
    Ok(entry)
}

/// Nods at a helper's work: from then on it counts from when it was done.
pub(super) fn nod(desk: &Desk<'_>, seqs: &[Seq]) -> Result<Outcome, Refused> {
    let mut drafts = Vec::new();
    for seq in seqs {
        drafts.push(desk.draft(Event::Nodded(waiting(desk, *seq)?.seq)));
    }
    let nodded = seqs.to_vec();
    Ok(Outcome::write(drafts, move |desk, numbers| {
        told(desk, &nodded, numbers)
    }))
}

/// Says that a helper's work was not done: it is taken back with what went in with it, and its turn stays open.
pub(super) fn not_done(desk: &Desk<'_>, seqs: &[Seq]) -> Result<Outcome, Refused> {
    let (mut drafts, mut names) = (Vec::new(), Vec::new());
    for seq in seqs {
        let entry = waiting(desk, *seq)?;
        let (duty, target) = of(entry).ok_or(msg!("refuse-press"))?;
        names.push(desk.say(&msg!(
            "nod-line",
            what = capital(&what(&desk.tell, duty, target)),
            at = desk.tell.near(entry.at),
            who = desk.tell.carer(entry.by)
        )));
        let beside = (seq + 1..).take_while(|next| {
            let event = desk.book().entry(*next).map(|entry| &entry.event);
            matches!(
                event,
                Some(Event::Amount(_) | Event::Drew(..) | Event::Dosed(_) | Event::Together(_))
            )
        });
        drafts.extend(
            [*seq]
                .into_iter()
                .chain(beside)
                .map(|seq| desk.draft(Event::Retract(seq))),
        );
    }
    Ok(Outcome::write(drafts, move |desk, _| {
        let who = desk.tell.carer(desk.me);
        desk.done(&msg!("nod-not-done", what = desk.tell.list(&names), who = who))
    }))
}

fn nodder(desk: &Desk<'_>, seq: Seq) -> CarerId {
    let first = desk.book().nods(seq).next();
    let entry = first.and_then(|nod| desk.book().entry(nod));
    entry.map_or(CarerId(0), |entry| entry.by)
}

/// What was nodded at, as it counts from now on.
fn told(desk: &Desk<'_>, nodded: &[Seq], numbers: &[Seq]) -> Answer {
    let mut answer = care::receipt(desk, nodded, &[]);
    let who = desk.tell.carer(desk.me);
    let text = desk.say(&msg!("nod-receipt", who = who));
    answer.blocks.insert(1, Block::Text { text });
    // Taken back is the nod, not what was done.
    if let (Some(Block::Answers { answers }), Some(first)) = (answer.blocks.last_mut(), numbers.first()) {
        answers.retain(|press| !press.code.starts_with("undo."));
        answers.insert(0, desk.press(&msg!("press-take-back"), format!("undo.{first}")));
    }
    answer
}

/// `/duty set DUTY nod yes|no`
pub(super) fn mark(desk: &Desk<'_>, duty: Duty, nod: bool) -> Result<Outcome, Refused> {
    let duty = duty.family();
    if desk.place().nods.contains(&duty) == nod {
        let id = if nod {
            "nod-marked-already"
        } else {
            "nod-unmarked-already"
        };
        return Err(msg!(id, duty = desk.tell.duty(duty)));
    }
    let drafts = vec![desk.draft(Event::AsksNod(duty, nod))];
    Ok(Outcome::write(drafts, move |desk, _| {
        desk.done_text(marked(desk, duty, nod))
    }))
}

/// Whether a duty waits for a nod, in a sentence.
pub(super) fn marked(desk: &Desk<'_>, duty: Duty, nod: bool) -> String {
    let duty = desk.tell.duty(duty);
    desk.say(&match nod {
        true => msg!("nod-marked", duty = duty),
        false => msg!("nod-unmarked", duty = duty),
    })
}
