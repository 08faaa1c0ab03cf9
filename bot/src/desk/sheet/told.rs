//! The sheet as a message: the days with their turns, and where the rest of it stands.

use wrackline_core::care::Duty;
use wrackline_core::people::Span;
use wrackline_core::place::{CarerId, Target};

use super::turns::Row;
use super::{Sheet, around};
use crate::chat::blocks::{Answer, Block};
use crate::desk::Desk;
use crate::desk::due::quiet_zones;
use crate::desk::tell::capital;
use crate::msg;

/// The message.
pub(super) fn answer(desk: &Desk<'_>, sheet: &Sheet) -> Answer {
    let mut answer = desk.done_text(title(desk, sheet));
    let mut text = |text: String| answer.blocks.push(Block::Text { text });
    text(desk.say(&msg!("sheet-address", path = path(sheet))));
    later(desk, sheet).into_iter().for_each(&mut text);
    none(desk, sheet).into_iter().for_each(&mut text);
    around::water_of_all(desk, sheet).into_iter().for_each(&mut text);
    let items = sheet.turns.daily.iter().chain(&sheet.turns.rows);
    let items: Vec<_> = items.map(|row| desk.item(line(desk, row))).collect();
    if !items.is_empty() {
        answer.blocks.push(Block::Items { items });
    }
    answer.blocks.extend(quiet_zones(desk));
    let names = around::call_order(desk, sheet);
    if !names.is_empty() {
        let text = desk.say(&msg!("sheet-call", names = names.join(", ")));
        answer.blocks.push(Block::Text { text });
    }
    let text = desk.tell.word("sheet-more");
    answer.blocks.push(Block::Text { text });
    answer
}

/// The first line: whose it is, for which days, and how much there is to do.
pub(super) fn title(desk: &Desk<'_>, sheet: &Sheet) -> String {
    let days = u32::try_from(sheet.days_left(desk)).unwrap_or(1).max(1);
    desk.say(&msg!(
        "sheet-title",
        who = desk.tell.carer(sheet.who),
        from = desk.tell.date(sheet.span.from),
        to = desk.tell.date(sheet.span.to),
        count = sheet.turns.count,
        minutes = (sheet.turns.minutes / f64::from(days)).ceil()
    ))
}

/// Where the page stands.
fn path(sheet: &Sheet) -> String {
    let Span { from, to } = sheet.span;
    format!("/sheet/{}?from={from}&to={to}", sheet.who.0)
}

/// What is still to be shared out.
pub(super) fn later(desk: &Desk<'_>, sheet: &Sheet) -> Option<String> {
    let (count, from) = sheet.turns.later;
    let from = desk.tell.date(from?);
    Some(desk.say(&msg!("sheet-later", count = count, from = from)))
}

/// How turns come to somebody who has none.
pub(super) fn none(desk: &Desk<'_>, sheet: &Sheet) -> Option<String> {
    let Span { from, to } = sheet.span;
    (sheet.turns.count == 0).then(|| {
        desk.say(&msg!(
            "sheet-none",
            who = desk.tell.carer(sheet.who),
            from = from.to_string(),
            to = to.to_string()
        ))
    })
}

/// The turns of a person in a span, a line for each round.
pub(in crate::desk) fn rows(desk: &Desk<'_>, who: CarerId, span: Span) -> Vec<String> {
    let sheet = Sheet::of_span(desk, who, span);
    let rows = sheet.turns.daily.iter().chain(&sheet.turns.rows);
    rows.map(|row| line(desk, row)).collect()
}

/// When a row's turns are done.
pub(super) fn when(desk: &Desk<'_>, row: &Row) -> String {
    let round = desk.tell.round(row.round);
    desk.say(&match row.date {
        Some(date) => msg!("sheet-when", date = desk.tell.date(date), round = round),
        None => msg!("sheet-when-daily", round = round),
    })
}

/// A row's turns, those of one target together.
fn by_target(row: &Row) -> Vec<(Target, Vec<Duty>)> {
    let mut all: Vec<(Target, Vec<Duty>)> = Vec::new();
    for (duty, target) in &row.turns {
        match all.last_mut().filter(|(of, _)| of == target) {
            Some((_, duties)) => duties.push(*duty),
            None => all.push((*target, vec![*duty])),
        }
    }
    all
}

fn line(desk: &Desk<'_>, row: &Row) -> String {
    let told = by_target(row).into_iter().map(|(target, duties)| {
        let duties: Vec<String> = duties.into_iter().map(|duty| desk.tell.duty(duty)).collect();
        let target = desk.tell.target_on_the_way(target);
        desk.say(&msg!("sheet-turns-of", target = target, what = duties.join(", ")))
    });
    let turns: Vec<String> = told.collect();
    let when = capital(&when(desk, row));
    desk.say(&msg!("sheet-row", when = when, turns = turns.join(" · ")))
}

/// The same with the numbers of the works.
pub(super) fn numbered(desk: &Desk<'_>, sheet: &Sheet, row: &Row) -> String {
    let works = &sheet.turns.works;
    let told = by_target(row).into_iter().map(|(target, duties)| {
        let number = |duty: Duty| {
            let (name, number) = (desk.tell.duty(duty), works.number(duty, target));
            desk.say(&msg!("sheet-numbered", duty = name, number = number))
        };
        let numbers: Vec<String> = duties.into_iter().map(number).collect();
        let target = desk.tell.target(target);
        desk.say(&msg!(
            "sheet-turns-of",
            target = target,
            what = numbers.join(", ")
        ))
    });
    told.collect::<Vec<_>>().join(" · ")
}
