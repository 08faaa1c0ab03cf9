//! Paging: what does not fit a transport's limit is cut into pages, never silently dropped.

use super::blocks::{Block, Item};
use super::plain;

/// Cuts blocks into pages whose plain text has at most `chars_max` characters each. Cuts lie between blocks, between
/// the lines of a list or a table, and only as a last resort inside a text, between its words. Every page holds at
/// least one block.
///
/// # Panics
/// When `chars_max` is under 80: nothing sensible fits there.
#[must_use]
pub fn pages(blocks: &[Block], chars_max: usize) -> Vec<Vec<Block>> {
    assert!(chars_max >= 80, "a page of {chars_max} characters holds nothing");
    let mut all: Vec<Vec<Block>> = vec![Vec::new()];
    for piece in blocks.iter().flat_map(|block| pieces(block, chars_max)) {
        let page = all.last_mut().expect("there is always a page");
        let mut joined = page.clone();
        push(&mut joined, piece.clone());
        if page.is_empty() || size(&joined) <= chars_max {
            *page = joined;
        } else {
            all.push(vec![piece]);
        }
    }
    all.retain(|page| !page.is_empty());
    all
}

fn size(blocks: &[Block]) -> usize {
    plain::text(blocks).chars().count()
}

/// Adds a piece, joining it to the list or table that it was cut from.
fn push(page: &mut Vec<Block>, piece: Block) {
    match (page.last_mut(), piece) {
        (Some(Block::Items { items }), Block::Items { items: more }) => items.extend(more),
        (
            Some(Block::Table { head, rows }),
            Block::Table {
                head: same,
                rows: more,
            },
        ) if *head == same => {
            rows.extend(more);
        }
        (_, piece) => page.push(piece),
    }
}

/// A block in the smallest pieces that may stand on pages of their own.
fn pieces(block: &Block, chars_max: usize) -> Vec<Block> {
    match block {
        Block::Items { items } => items
            .iter()
            .flat_map(|item| item_pieces(item, chars_max))
            .map(|item| Block::Items { items: vec![item] })
            .collect(),
        Block::Table { head, rows } if size(std::slice::from_ref(block)) > chars_max => rows
            .iter()
            .map(|row| Block::Table {
                head: head.clone(),
                rows: vec![row.clone()],
            })
            .collect(),
        Block::Text { text } => text_pieces(text, chars_max)
            .into_iter()
            .map(|text| Block::Text { text })
            .collect(),
        Block::Caution { text } => text_pieces(text, chars_max - 2)
            .into_iter()
            .map(|text| Block::Caution { text })
            .collect(),
        Block::Title { text } => {
            let mut parts = text_pieces(text, chars_max).into_iter();
            let first = parts.next().map(|text| Block::Title { text });
            first
                .into_iter()
                .chain(parts.map(|text| Block::Text { text }))
                .collect()
        }
        other => vec![other.clone()],
    }
}

fn item_pieces(item: &Item, chars_max: usize) -> Vec<Item> {
    // The mark and its word stand before the text.
    let mut parts = text_pieces(&item.text, chars_max - 12);
    let rest = parts.split_off(1.min(parts.len()));
    let first = parts.pop().map(|text| Item { text, ..item.clone() });
    let rest = rest.into_iter().map(|text| Item {
        text,
        mark: None,
        settled: false,
        answers: Vec::new(),
    });
    first.into_iter().chain(rest).collect()
}

fn text_pieces(text: &str, chars_max: usize) -> Vec<String> {
    let mut all = Vec::new();
    let mut rest: Vec<char> = text.chars().collect();
    while rest.len() > chars_max {
        let gap = |letter: &char| letter.is_whitespace();
        let cut = rest[..=chars_max].iter().rposition(gap).filter(|cut| *cut > 0);
        let end = cut.unwrap_or(chars_max);
        all.push(rest[..end].iter().collect());
        rest = rest.split_off(end + usize::from(cut.is_some()));
    }
    all.push(rest.into_iter().collect());
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(text: &str) -> Vec<String> {
        text.split_whitespace().map(str::to_owned).collect()
    }

    #[test]
    fn nothing_is_lost_and_every_page_fits() {
        let items = (0..60).map(|n| Item {
            text: format!("turn {n} of the enclosure by the window"),
            mark: None,
            settled: false,
            answers: Vec::new(),
        });
        let blocks = vec![
            Block::Title {
                text: "Morning round".to_owned(),
            },
            Block::Items {
                items: items.collect(),
            },
            Block::Text {
                text: "long ".repeat(300),
            },
            Block::Caution {
                text: "x".repeat(500),
            },
        ];
        let pages = pages(&blocks, 200);
        assert!(pages.len() > 10, "{} pages", pages.len());
        for page in &pages {
            assert!(size(page) <= 200, "{} characters: {page:?}", size(page));
        }
        let joined: Vec<String> = pages.iter().flat_map(|page| words(&plain::text(page))).collect();
        let letters = |words: Vec<String>| words.concat().replace('!', "");
        assert_eq!(letters(joined), letters(words(&plain::text(&blocks))));
    }

    #[test]
    fn what_fits_stays_together() {
        let blocks = vec![
            Block::Title { text: "a".to_owned() },
            Block::Text { text: "b".to_owned() },
        ];
        assert_eq!(pages(&blocks, 80), vec![blocks]);
    }
}
