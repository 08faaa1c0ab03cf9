//! Logging what was seen.

use jiff::Timestamp;
use wrackline_core::journal::{Event, Sighting};
use wrackline_core::place::Target;

use super::tell::capital;
use super::{Desk, Draft, Outcome, Refused};
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
        let first = desk.tell.word(format!("first-{}", sighting_code(sighting)));
        answer.blocks.push(Block::Text { text: first });
        let answers = vec![
            desk.press(&msg!("press-take-back"), format!("undo.{seq}")),
            desk.press(&msg!("press-close"), format!("close.{seq}")),
        ];
        answer.blocks.push(Block::Answers { answers });
        answer
    }))
}

/// `/saw … over`: closes what is open of a sighting at a spot.
///
/// # Errors
/// A refusal when nothing of it is open there.
pub fn over(desk: &Desk<'_>, sighting: Sighting, spot: &Spot) -> Result<Outcome, Refused> {
    let there = |target: Target| match target {
        Target::Pool(id) => spot.pools.contains(&id),
        Target::Enclosure(id) => spot.enclosures.contains(&id),
        Target::Place => false,
    };
    let open = desk
        .book()
        .matters(desk.now())
        .filter(|matter| matter.closed.is_none() && matter.sighting == sighting && there(matter.target));
    let drafts: Vec<Draft> = open.map(|matter| desk.draft(Event::Closed(matter.seq))).collect();
    let what = desk.tell.word(sighting_word(sighting));
    if drafts.is_empty() {
        return Err(msg!("refuse-not-open", what = what));
    }
    Ok(Outcome::write(drafts, move |desk, numbers| {
        let who = desk.tell.carer(desk.me);
        let title = msg!(
            "over-receipt",
            what = capital(&what),
            count = numbers.len(),
            who = who
        );
        let mut answer = desk.done(&title);
        let first = numbers.first().copied().unwrap_or(0);
        let answers = vec![desk.press(&msg!("press-take-back"), format!("undo.{first}"))];
        answer.blocks.push(Block::Answers { answers });
        answer
    }))
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
