//! Blocks as the platform's text: everything a person typed is shown as typed, never as markup.

use crate::chat::blocks::{Block, Item};

/// Letters that mean markup wherever they stand.
const MARKUP: &[char] = &['\\', '*', '_', '~', '`', '|', '<', '[', ']'];

/// Letters that mean markup where a line begins: headings, quotes, lists, small print.
const MARKUP_AT_START: &[char] = &['#', '>', '-', '+'];

/// A text that is shown as it is: each letter that would mean markup is told apart by a backslash before it.
#[must_use]
pub fn plain(text: &str) -> String {
    text.split('\n').map(plain_line).collect::<Vec<_>>().join("\n")
}

fn plain_line(line: &str) -> String {
    let mut shown = String::with_capacity(line.len());
    let mut at_start = true;
    let letters: Vec<char> = line.chars().collect();
    for (at, letter) in letters.iter().enumerate() {
        // "1." at the start of a line begins a numbered list, and "://" makes a link of an address.
        let ends_number = *letter == '.' && at > 0 && letters[..at].iter().all(char::is_ascii_digit);
        let is_address = *letter == ':' && letters[at + 1..].starts_with(&['/', '/']);
        let starts = at_start && MARKUP_AT_START.contains(letter);
        if MARKUP.contains(letter) || starts || ends_number || is_address {
            shown.push('\\');
        }
        shown.push(*letter);
        at_start &= letter.is_whitespace();
    }
    shown
}

/// A block as text; `None` for one that shows none.
#[must_use]
pub fn block(block: &Block, photo: impl Fn(u64) -> String) -> Option<String> {
    match block {
        Block::Title { text } => Some(format!("**{}**", plain(text))),
        Block::Text { text } => Some(plain(text)),
        Block::Caution { text } => Some(format!("⚠ {}", plain(text))),
        Block::Items { items } => Some(items.iter().map(item).collect::<Vec<_>>().join("\n")),
        Block::Table { head, rows } => Some(table(head, rows)),
        Block::Photo { seq } => Some(plain(&photo(*seq))),
        Block::Answers { .. } | Block::For { .. } => None,
    }
}

fn item(item: &Item) -> String {
    let text = plain(&item.text);
    match (item.mark, item.settled) {
        (_, true) => format!("✓ {text}"),
        (Some(mark), false) => format!("{} {} {text}", mark.glyph(), mark.word()),
        (None, false) => text,
    }
}

/// A table in letters of one width. Nothing inside is read as markup there but the mark that would end it.
fn table(head: &[String], rows: &[Vec<String>]) -> String {
    let block = Block::Table {
        head: head.to_vec(),
        rows: rows.to_vec(),
    };
    let text = crate::chat::plain::text(std::slice::from_ref(&block));
    format!("```\n{}\n```", text.replace('`', "'"))
}

/// The first letters of a text, at most so many, with an ellipsis where something was cut off.
#[must_use]
pub fn cut(text: &str, chars_max: usize) -> String {
    if text.chars().count() <= chars_max {
        return text.to_owned();
    }
    let mut kept: String = text.chars().take(chars_max.saturating_sub(1)).collect();
    kept.truncate(kept.trim_end().len());
    kept.push('…');
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_typed_is_shown_as_typed() {
        let check = |typed: &str, shown: &str| assert_eq!(plain(typed), shown);
        check("sg 1.025 at 25/25", "sg 1.025 at 25/25");
        check(
            "**bold** _it_ ~~no~~ `x` ||s||",
            r"\*\*bold\*\* \_it\_ \~\~no\~\~ \`x\` \|\|s\|\|",
        );
        check("<@123> <#4> </did:5> <t:6>", r"\<@123> \<#4> \</did:5> \<t:6>");
        check(
            "# a\n > b\n-# c\n- d\n1. e",
            "\\# a\n \\> b\n\\-# c\n\\- d\n1\\. e",
        );
        check("see https://example.org/x", r"see https\://example.org/x");
        check("[name](https://example.org)", r"\[name\](https\://example.org)");
        check("a - b # c > d", "a - b # c > d");
    }

    #[test]
    fn a_table_cannot_be_left() {
        let block = Block::Table {
            head: vec!["pool".to_owned(), "turns".to_owned()],
            rows: vec![vec!["```@everyone".to_owned(), "3".to_owned()]],
        };
        let text = super::block(&block, |_| String::new()).expect("a table");
        assert_eq!(text.matches("```").count(), 2, "{text}");
    }

    #[test]
    fn cut_texts_say_so() {
        assert_eq!(cut("abcdef", 6), "abcdef");
        assert_eq!(cut("abc def", 5), "abc…");
    }
}
