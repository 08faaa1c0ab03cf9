//! The sheet as a page that is printed on both sides of a leaf: on the first the days and whom to call, on the second how
//! it is done.

use super::turns::Row;
use super::works::Work;
use super::{Sheet, around, told};
use crate::chat::blocks::Block;
use crate::chat::paper::{Paper, Room, Section};
use crate::desk::Desk;
use crate::desk::due::quiet_zones;
use crate::desk::emergency;
use crate::desk::tell::capital;
use crate::desk::water::amounts;
use crate::msg;

/// Where a number is written by hand.
const LINE: &str = "________________";

/// The page.
pub(super) fn paper(desk: &Desk<'_>, sheet: &Sheet) -> Paper {
    let lead = [
        Some(made(desk)),
        told::later(desk, sheet),
        told::none(desk, sheet),
    ];
    let quiet = quiet_zones(desk);
    let names = around::call_order(desk, sheet);
    let call = names
        .into_iter()
        .chain([desk.tell.word("sheet-veterinarian")])
        .map(|name| desk.say(&msg!("sheet-call-line", name = name, line = LINE)));
    let all = [
        (Room::Wide, "sheet-head-turns", vec![days(desk, sheet)]),
        (Room::Columns, "sheet-head-call", vec![list(desk, call.collect())]),
        (
            Room::Columns,
            "sheet-head-cards",
            vec![list(desk, emergency::in_short(desk))],
        ),
        (Room::Columns, "sheet-head-cautions", cautions(desk, sheet)),
        (Room::Columns, "sheet-head-quiet", quiet),
        (
            Room::Columns,
            "sheet-head-stands",
            vec![list(desk, around::stands(desk))],
        ),
        (
            Room::Columns,
            "sheet-head-supplies",
            vec![list(desk, around::supplies(desk, sheet))],
        ),
        (
            Room::Columns,
            "sheet-head-normal",
            vec![list(desk, around::normal(desk))],
        ),
        (
            Room::Columns,
            "sheet-head-not-normal",
            vec![list(desk, around::not_normal(desk))],
        ),
        (Room::Columns, "sheet-head-works", works(desk, sheet)),
    ];
    let section = |(room, heading, blocks): (Room, &'static str, Vec<Block>)| Section {
        heading: desk.tell.word(heading),
        room,
        blocks,
    };
    let has_some = |(_, _, blocks): &(Room, &'static str, Vec<Block>)| !blocks.is_empty();
    Paper {
        title: told::title(desk, sheet),
        lead: lead.into_iter().flatten().collect(),
        sections: all.into_iter().filter(has_some).map(section).collect(),
    }
}

/// Of which place it is, and of when.
pub(super) fn made(desk: &Desk<'_>) -> String {
    let place = match desk.place().name.as_str() {
        "" => capital(&desk.tell.word("the-place")),
        name => name.to_owned(),
    };
    let at = desk.tell.moment(desk.now());
    desk.say(&msg!("sheet-made", place = place, at = at))
}

fn list(desk: &Desk<'_>, texts: Vec<String>) -> Block {
    Block::Items {
        items: texts.into_iter().map(|text| desk.item(text)).collect(),
    }
}

/// A row for each round: its turns with the numbers of the works, and the water to prepare.
fn days(desk: &Desk<'_>, sheet: &Sheet) -> Block {
    let head = ["sheet-column-when", "sheet-column-turns", "sheet-column-prepare"];
    let row = |row: &Row| {
        vec![
            capital(&told::when(desk, row)),
            told::numbered(desk, sheet, row),
            amounts(&desk.tell, &row.changes).unwrap_or_default(),
        ]
    };
    let rows = sheet.turns.daily.iter().chain(&sheet.turns.rows);
    Block::Table {
        head: head.map(|id| desk.tell.word(id)).to_vec(),
        rows: rows.map(row).collect(),
    }
}

fn cautions(desk: &Desk<'_>, sheet: &Sheet) -> Vec<Block> {
    let all = around::cautions(desk, sheet).into_iter();
    all.map(|text| Block::Caution { text }).collect()
}

/// Each kind of work under its number: where, how much, and the steps.
fn works(desk: &Desk<'_>, sheet: &Sheet) -> Vec<Block> {
    let told = |(number, work): (usize, &Work)| {
        let targets: Vec<String> = work.targets.iter().map(|one| desk.tell.target(*one)).collect();
        let title = desk.say(&msg!(
            "sheet-work",
            number = number,
            duty = capital(&desk.tell.duty(work.duty)),
            targets = targets.join(", ")
        ));
        let amounts = work.amounts.iter().map(|text| Block::Text { text: text.clone() });
        let steps = (1..).zip(&work.steps);
        let steps =
            steps.map(|(number, text)| desk.say(&msg!("how-step", number = number, text = text.as_str())));
        let steps = (!work.steps.is_empty()).then(|| list(desk, steps.collect()));
        let title = std::iter::once(Block::Title { text: title });
        title.chain(amounts).chain(steps).collect::<Vec<_>>()
    };
    (1..).zip(&sheet.turns.works.all).flat_map(told).collect()
}
