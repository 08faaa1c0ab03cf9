//! A helper's work that waits for an adult's nod.

use wrackline_core::care::Duty;
use wrackline_core::journal::{Entry, Event, Seq};
use wrackline_core::place::{CarerId, Role, Target};

use super::tell::{Tell, capital};
use super::{Desk, Outcome, Refused, care};
use crate::chat::blocks::{Answer, Block, Press};
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
    super::posts::press(tell, "press-nod", format!("nod.{seq}"))
}

/// What waits, each with its press; nothing where nothing does.
pub(super) fn list(desk: &Desk<'_>) -> Vec<Block> {
    let waiting = desk.book().waiting().filter_map(|seq| desk.book().entry(seq));
    let items: Vec<_> = waiting
        .filter_map(|entry| {
            let (duty, target) = of(entry)?;
            // What was done over since counts, whether or not anybody nods at this.
            let open = desk.book().waiting_for(duty, target, desk.now())?.seq == entry.seq;
            let mut item = desk.item(desk.say(&msg!(
                "nod-line",
                what = capital(&what(&desk.tell, duty, target)),
                at = desk.tell.near(entry.at),
                who = desk.tell.carer(entry.by)
            )));
            item.answers = vec![press(&desk.tell, entry.seq)];
            open.then_some(item)
        })
        .collect();
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

/// Nods at a helper's work: from then on it counts from when it was done.
pub(super) fn nod(desk: &Desk<'_>, seq: Seq) -> Result<Outcome, Refused> {
    let book = desk.book();
    let waiting = book.entry(seq).filter(|entry| of(entry).is_some());
    let entry = waiting.ok_or(msg!("refuse-press"))?;
    if book.is_void(seq) {
        return Err(msg!("refuse-undo-twice"));
    }
    if book.is_nodded(seq) {
        return Err(msg!("nod-already", who = desk.tell.carer(nodder(desk, seq))));
    }
    let drafts = vec![desk.draft(Event::Nodded(entry.seq))];
    Ok(Outcome::write(drafts, move |desk, numbers| {
        told(desk, &[seq], numbers)
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
