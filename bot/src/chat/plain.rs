//! Blocks as plain text, for the shell and for transcripts.

use super::blocks::{Block, Item, Press};

/// Blocks as plain text, one line or more a block. The shell has nothing to press: of what can be pressed it shows
/// what is typed for it, where that is said.
#[must_use]
pub fn text(blocks: &[Block]) -> String {
    let texts = blocks.iter().filter_map(block).collect::<Vec<_>>();
    texts.join("\n")
}

fn block(block: &Block) -> Option<String> {
    match block {
        Block::Title { text } | Block::Text { text } => Some(text.clone()),
        Block::Caution { text } => Some(format!("! {text}")),
        Block::Items { items } => Some(items.iter().map(item).collect::<Vec<_>>().join("\n")),
        Block::Table { head, rows } => Some(table(head, rows)),
        Block::Photo { seq } => Some(format!("[photo {seq}]")),
        Block::Answers { answers } => typed(answers),
        Block::For { .. } => None,
    }
}

/// What is typed for answers, one a line: "Nod: /nod top-up North fresh".
fn typed(answers: &[Press]) -> Option<String> {
    let line = |press: &Press| Some(format!("{}: {}", press.label, press.typed.as_ref()?));
    let lines: Vec<String> = answers.iter().filter_map(line).collect();
    (!lines.is_empty()).then(|| lines.join("\n"))
}

fn item(item: &Item) -> String {
    let text = match (item.mark, item.settled) {
        (_, true) => format!("✓ {}", item.text),
        (Some(mark), false) => format!("{} {} {}", mark.glyph(), mark.word(), item.text),
        (None, false) => item.text.clone(),
    };
    let typed = typed(&item.answers).map(|lines| lines.replace('\n', "\n  "));
    typed.map_or_else(|| text.clone(), |lines| format!("{text}\n  {lines}"))
}

/// A table with its columns aligned: the first to the left, the others to the right.
fn table(head: &[String], rows: &[Vec<String>]) -> String {
    let width = |column: usize| {
        let cells = rows
            .iter()
            .filter_map(|row| row.get(column))
            .chain(head.get(column));
        cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
    };
    let widths: Vec<usize> = (0..head.len()).map(width).collect();
    let line = |cells: &[String]| {
        let padded = cells
            .iter()
            .zip(&widths)
            .enumerate()
            .map(|(column, (cell, width))| {
                let space = " ".repeat(width.saturating_sub(cell.chars().count()));
                if column == 0 {
                    format!("{cell}{space}")
                } else {
                    format!("{space}{cell}")
                }
            });
        padded.collect::<Vec<_>>().join("  ").trim_end().to_owned()
    };
    std::iter::once(line(head))
        .chain(rows.iter().map(|row| line(row)))
        .collect::<Vec<_>>()
        .join("\n")
}
