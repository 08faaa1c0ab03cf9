//! `/duty list`, `/duty set`: the catalogue as this place keeps it.

use wrackline_core::care::{Basis, CATALOGUE, Every, Grace, Numbers, Rule};
use wrackline_core::journal::Event;

use super::{own, receipt, spoken};
use crate::chat::blocks::{Answer, Block};
use crate::desk::tell::capital;
use crate::desk::{Desk, Outcome, Refused, nods};
use crate::msg;

/// A row of the catalogue with numbers of the place's own in it.
struct InForce {
    every: Every,
    grace: Grace,
    hazard_h: Option<u32>,
}

impl InForce {
    fn of(rule: Rule, numbers: Numbers) -> Self {
        let row = rule.row();
        Self {
            every: numbers.every.unwrap_or(row.every),
            grace: numbers.grace_h.map_or(row.grace, Grace::Hours),
            hazard_h: numbers.hazard_h.or(row.hazard_h),
        }
    }

    fn hazard(&self, desk: &Desk<'_>) -> String {
        self.hazard_h.map_or_else(
            || desk.tell.word("setup-never"),
            |hours| spoken::hours(desk, hours),
        )
    }

    /// The three numbers in one phrase.
    fn told(&self, desk: &Desk<'_>) -> String {
        let (every, grace) = (spoken::every(desk, self.every), spoken::grace(desk, self.grace));
        desk.say(&match self.hazard_h {
            Some(_) => msg!(
                "setup-numbers",
                every = every,
                grace = grace,
                hazard = self.hazard(desk)
            ),
            None => msg!("setup-numbers-no-hazard", every = every, grace = grace),
        })
    }
}

/// Whether the numbers agree with each other.
fn agree(desk: &Desk<'_>, numbers: &InForce) -> Result<(), Refused> {
    if numbers.every.minutes() == 0 {
        return Err(msg!("setup-every-none"));
    }
    let Some(hazard_h) = numbers.hazard_h else {
        return Ok(());
    };
    let hazard = spoken::hours(desk, hazard_h);
    if i64::from(hazard_h) * 60 < numbers.every.minutes() {
        let every = spoken::every(desk, numbers.every);
        return Err(msg!("setup-hazard-short", hazard = hazard, every = every));
    }
    match numbers.grace {
        Grace::Hours(grace_h) if grace_h > hazard_h => Err(msg!(
            "setup-grace-long",
            grace = spoken::hours(desk, grace_h),
            hazard = hazard
        )),
        _ => Ok(()),
    }
}

/// Numbers that were said, and for what was not said those from before.
///
/// # Errors
/// One sentence where they do not agree with each other.
pub(in crate::desk) fn joined(
    desk: &Desk<'_>,
    rule: Rule,
    said: Numbers,
    before: Numbers,
) -> Result<Numbers, Refused> {
    let numbers = Numbers {
        every: said.every.or(before.every),
        grace_h: said.grace_h.or(before.grace_h),
        hazard_h: said.hazard_h.or(before.hazard_h),
    };
    agree(desk, &InForce::of(rule, numbers))?;
    Ok(numbers)
}

/// `/duty set RULE [every 3 days] [grace 12 h] [hazard 4 days]`. What is not said keeps its number.
pub(super) fn set(desk: &Desk<'_>, rule: Rule, said: Numbers, nod: Option<bool>) -> Result<Outcome, Refused> {
    let duty = rule.row().duty;
    match nod {
        Some(nod) if said == Numbers::default() => return nods::mark(desk, duty, nod),
        None if said == Numbers::default() => return Err(msg!("setup-nothing")),
        _ => {}
    }
    let before = desk
        .place()
        .numbers
        .get(&rule)
        .map_or_else(Numbers::default, |(numbers, _)| *numbers);
    let numbers = joined(desk, rule, said, before)?;
    let marked = nod.map(|nod| desk.draft(Event::AsksNod(duty.family(), nod)));
    let numbered = desk.draft(Event::Numbers(rule, numbers));
    let drafts = std::iter::once(numbered).chain(marked).collect();
    Ok(Outcome::write(drafts, move |desk, _| {
        let mut answer = told(desk, rule, numbers);
        let marked = nod.map(|nod| nods::marked(desk, duty.family(), nod));
        answer.blocks.extend(marked.map(|text| Block::Text { text }));
        answer
    }))
}

fn told(desk: &Desk<'_>, rule: Rule, numbers: Numbers) -> Answer {
    let title = msg!(
        "setup-duty-set",
        rule = capital(&spoken::rule(desk, rule)),
        numbers = InForce::of(rule, numbers).told(desk)
    );
    let catalogue = InForce::of(rule, Numbers::default()).told(desk);
    let catalogue = desk.say(&msg!("setup-duty-catalogue", numbers = catalogue));
    let mut all = desk.board();
    all.retain(|standing| standing.cadence.rule == Some(rule));
    let mut answer = receipt::answer(desk, desk.say(&title), [catalogue]);
    if all.is_empty() {
        answer.blocks.push(Block::Text {
            text: desk.tell.word("setup-duty-nowhere"),
        });
        return answer;
    }
    let items = all.iter().map(|standing| {
        let target = desk.tell.target(standing.turn.target);
        let (duty, due) = (desk.tell.duty(standing.duty()), receipt::due(desk, standing.due));
        desk.item(desk.say(&msg!("setup-duty-due", target = target, duty = duty, due = due)))
    });
    answer.blocks.push(Block::Items {
        items: items.collect(),
    });
    answer
}

/// `/duty list`
pub(super) fn list(desk: &Desk<'_>) -> Answer {
    let place = desk.place();
    let head = [
        "setup-head-duty",
        "setup-head-every",
        "setup-head-grace",
        "setup-head-hazard",
        "setup-head-basis",
    ];
    let mut rows: Vec<Vec<String>> = CATALOGUE
        .iter()
        .map(|row| {
            let set = place.numbers.get(&row.rule).map(|(numbers, _)| *numbers);
            let numbers = InForce::of(row.rule, set.unwrap_or_default());
            let basis = if set.is_some() { Basis::Place } else { row.basis };
            vec![
                spoken::rule(desk, row.rule),
                spoken::every(desk, numbers.every),
                spoken::grace(desk, numbers.grace),
                numbers.hazard(desk),
                desk.tell.word(match basis {
                    Basis::CommonPractice => "setup-basis-practice",
                    Basis::Label => "setup-basis-label",
                    Basis::Place => "setup-basis-place",
                }),
            ]
        })
        .collect();
    rows.extend(place.duties.values().map(|(duty, _)| own::row(desk, duty)));
    let own = place.duties.len();
    let mut answer = desk.done(&msg!("setup-duties-title", count = CATALOGUE.len(), own = own));
    let head = head.map(|id| desk.tell.word(id)).to_vec();
    answer.blocks.push(Block::Table { head, rows });
    let marked: Vec<String> = place.nods.iter().map(|duty| desk.tell.duty(*duty)).collect();
    if !marked.is_empty() {
        let text = desk.say(&msg!("nod-duties", duties = desk.tell.list(&marked)));
        answer.blocks.push(Block::Text { text });
    }
    answer
}
