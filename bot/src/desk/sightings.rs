//! Logging what was seen.

use jiff::Timestamp;
use wrackline_core::journal::{Event, Matter, Seq, Sighting};
use wrackline_core::matter::{is_private, is_urgent, may_know};
use wrackline_core::place::Target;

use super::tell::{Tell, capital};
use super::{Desk, Draft, Outcome, Refused, looks};
use crate::chat::blocks::Block;
use crate::lines::ask::{Grain, Spot};
use crate::msg;

/// `/saw`: logs a sighting. A danger opens a matter that is posted at once.
///
/// # Errors
/// A refusal when it is not clear where.
pub fn saw(
    desk: &Desk<'_>,
    sighting: Sighting,
    spot: &Spot,
    at: Option<Timestamp>,
    note: Option<String>,
) -> Result<Outcome, Refused> {
    let target = match (spot.grain, spot.pools.as_slice(), spot.enclosures.as_slice()) {
        (Grain::Pool, [pool], _) => Target::Pool(*pool),
        (_, _, [enclosure]) => Target::Enclosure(*enclosure),
        _ => return Err(msg!("refuse-saw-where")),
    };
    let event = Event::Saw(target, sighting);
    let at = at.unwrap_or(desk.now());
    let drafts = vec![Draft {
        at,
        by: desk.me,
        event,
        note,
    }];
    Ok(Outcome::write(drafts, move |desk, numbers| {
        let seq = numbers.first().copied().unwrap_or(0);
        let what = desk.tell.word(sighting_word(sighting));
        let title = desk.say(&msg!(
            "saw-receipt",
            what = capital(&what),
            target = desk.tell.target(target),
            at = desk.tell.near(at)
        ));
        let mut answer = desk.done_text(title);
        answer.blocks.extend(before(desk, seq));
        answer.blocks.extend(first(&desk.tell, target, sighting));
        if is_private(sighting) {
            answer.private = true;
            let text = desk.say(&msg!("saw-private", keepers = desk.keepers()));
            answer.blocks.push(Block::Text { text });
        }
        let answers = vec![
            desk.press(&msg!("press-take-back"), format!("undo.{seq}")),
            desk.press(&msg!("press-close"), format!("close.{seq}")),
        ];
        answer.blocks.push(Block::Answers { answers });
        answer
    }))
}

/// What is said where the same was open at the spot already: it is that matter seen again, or perhaps another crab.
fn before(desk: &Desk<'_>, seq: Seq) -> Option<Block> {
    let now = desk.now();
    let matter = desk.book().matter(seq, now)?;
    // Told later, it may have been over since.
    if matter.closed.is_some() {
        return None;
    }
    let open =
        |one: &Matter| (one.target, one.sighting, one.closed) == (matter.target, matter.sighting, None);
    let text = if matter.seq == seq {
        let mut others = desk.book().matters(now).filter(open);
        let other = others.find(|one| one.seq != seq && may_know(desk.place(), one, desk.me))?;
        desk.say(&msg!("saw-another", at = desk.tell.near(other.at)))
    } else {
        let next = looks::next(&desk.tell, seq).map_or_else(String::new, |next| {
            desk.say(&msg!("saw-again-next", at = desk.tell.near(next)))
        });
        let (at, who) = (desk.tell.near(matter.at), desk.tell.carer(matter.by));
        desk.say(&msg!("saw-again", at = at, who = who, next = next))
    };
    Some(Block::Text { text })
}

/// `/saw … over`: closes what is open of a sighting at a spot.
///
/// # Errors
/// A refusal when nothing of it is open there.
pub fn over(desk: &Desk<'_>, sighting: Sighting, spot: &Spot) -> Result<Outcome, Refused> {
    let known = |matter: &Matter| may_know(desk.place(), matter, desk.me);
    let open =
        desk.book().matters(desk.now()).filter(known).filter(|matter| {
            matter.closed.is_none() && matter.sighting == sighting && spot.holds(matter.target)
        });
    let open: Vec<Matter> = open.collect();
    let drafts: Vec<Draft> = open.iter().flat_map(|matter| close(desk, matter.seq)).collect();
    let what = desk.tell.word(sighting_word(sighting));
    if drafts.is_empty() {
        return Err(msg!("refuse-not-open", what = what));
    }
    let count = open.len();
    Ok(Outcome::write(drafts, move |desk, numbers| {
        let who = desk.tell.carer(desk.me);
        let title = msg!("over-receipt", what = capital(&what), count = count, who = who);
        let mut answer = desk.done(&title);
        answer.private = is_private(sighting);
        let first = numbers.first().copied().unwrap_or(0);
        let answers = vec![desk.press(&msg!("press-take-back"), format!("undo.{first}"))];
        answer.blocks.push(Block::Answers { answers });
        answer
    }))
}

/// Closes a matter or an alarm: each sighting of it, so that none is open again when another one is taken back.
#[must_use]
pub fn close(desk: &Desk<'_>, of: Seq) -> Vec<Draft> {
    let mut all = desk.book().sightings_of(of, desk.now());
    if all.is_empty() {
        all.push(of);
    }
    all.into_iter()
        .map(|seq| desk.draft(Event::Closed(seq)))
        .collect()
}

/// What to do first about something seen, and its caution; where hands meet mains, the caution comes before.
#[must_use]
pub fn first(tell: &Tell<'_>, target: Target, sighting: Sighting) -> Vec<Block> {
    let id = if is_urgent(tell.place, target, sighting, tell.now) {
        "first-wet-substrate-quiet".to_owned()
    } else {
        format!("first-{}", sighting_code(sighting))
    };
    let first = Block::Text { text: tell.word(id) };
    let Some((caution, before)) = caution_of(sighting) else {
        return vec![first];
    };
    let caution = Block::Caution {
        text: tell.word(caution),
    };
    if before {
        vec![caution, first]
    } else {
        vec![first, caution]
    }
}

/// The caution that goes with a sighting, and whether it is said before all else.
fn caution_of(sighting: Sighting) -> Option<(&'static str, bool)> {
    match sighting {
        Sighting::Leak | Sighting::TippedFilter => Some(("caution-mains", true)),
        Sighting::WetSubstrate | Sighting::Splashing => Some(("caution-mains", false)),
        Sighting::Trouble => Some(("caution-vet", false)),
        Sighting::Mould | Sighting::Condensation | Sighting::Escape => None,
    }
}

/// The id of a sighting's word.
#[must_use]
pub fn sighting_word(sighting: Sighting) -> String {
    format!("sighting-{}", sighting_code(sighting))
}

/// A sighting's short name.
#[must_use]
pub fn sighting_code(sighting: Sighting) -> &'static str {
    match sighting {
        Sighting::Leak => "leak",
        Sighting::WetSubstrate => "wet-substrate",
        Sighting::Mould => "mould",
        Sighting::Condensation => "condensation",
        Sighting::Splashing => "splashing",
        Sighting::TippedFilter => "tipped-filter",
        Sighting::Escape => "escape",
        Sighting::Trouble => "trouble",
    }
}
