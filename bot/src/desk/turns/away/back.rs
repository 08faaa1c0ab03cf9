//! `/away back`: the absence that holds now is over; those that begin later stay.

use wrackline_core::journal::{Absence, Event, Seq};
use wrackline_core::place::CarerId;

use super::{dated, of, when};
use crate::chat::blocks::Block;
use crate::desk::{Desk, Draft, Outcome, Refused};
use crate::msg;

/// Somebody is there again. A return ends whatever was said before it, so what begins later is said again behind it.
pub(super) fn back(desk: &Desk<'_>, who: CarerId) -> Result<Outcome, Refused> {
    let said = all(desk, who);
    if said.is_empty() {
        return Err(msg!("refuse-away-not", who = desk.tell.carer(who)));
    }
    let later: Vec<Absence> = said.iter().filter_map(|(_, one)| stays(desk, one)).collect();
    if later.iter().eq(said.iter().map(|(_, one)| one)) {
        let (all, count) = (listed(desk, &said), said.len());
        return Err(msg!(
            "refuse-away-later",
            who = desk.tell.carer(who),
            all = all,
            entry = said[0].0.to_string(),
            count = count
        ));
    }
    let events: Vec<Event> = std::iter::once(Event::Back)
        .chain(later.into_iter().map(Event::Away))
        .collect();
    let moves = of(desk, who, &events);
    let by_them = |event| Draft {
        by: who,
        ..desk.draft(event)
    };
    let drafts = events.into_iter().map(by_them).collect();
    Ok(Outcome::write(drafts, move |desk, numbers| {
        let title = msg!(
            "away-back",
            who = desk.tell.carer(who),
            count = moves.covered.len()
        );
        let mut answer = desk.done(&title);
        if !moves.covered.is_empty() {
            answer.blocks.push(Block::Items {
                items: dated(&desk.tell, &moves.covered),
            });
        }
        answer.blocks.extend(still(desk, who));
        crate::desk::presses::with_take_back(desk, answer, numbers)
    }))
}

/// What of an absence stays when somebody is there again now: one that begins later, and rounds of later days.
#[must_use]
pub fn stays(desk: &Desk<'_>, absence: &Absence) -> Option<Absence> {
    let today = desk.place().zone.date(desk.now());
    match absence {
        Absence::Span { from, .. } => (*from > desk.now()).then(|| absence.clone()),
        Absence::Rounds(rounds) => {
            let later = rounds.iter().filter(|(_, date)| *date > today);
            let later: Vec<_> = later.copied().collect();
            (!later.is_empty()).then_some(Absence::Rounds(later))
        }
    }
}

/// What someone said of being away, as far as it is not over.
fn all(desk: &Desk<'_>, who: CarerId) -> Vec<(Seq, Absence)> {
    let today = desk.place().zone.date(desk.now());
    let said = desk.book().absences(who, desk.now(), today);
    said.into_iter().map(|(seq, one)| (seq, one.clone())).collect()
}

fn listed(desk: &Desk<'_>, said: &[(Seq, Absence)]) -> String {
    let one = |(seq, absence): &(Seq, Absence)| {
        let (when, entry) = (when(&desk.tell, absence), seq.to_string());
        desk.say(&msg!("away-later", when = when, entry = entry))
    };
    desk.tell.list(&said.iter().map(one).collect::<Vec<_>>())
}

/// Which absences stay, and how one is taken back; nothing where there is none.
fn still(desk: &Desk<'_>, who: CarerId) -> Option<Block> {
    let said = all(desk, who);
    let (entry, _) = said.first()?;
    let text = desk.say(&msg!(
        "away-still",
        all = listed(desk, &said),
        entry = entry.to_string(),
        count = said.len()
    ));
    Some(Block::Text { text })
}
