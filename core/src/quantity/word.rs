//! Text taken apart into words and numbers, each with its place in the text.

use super::{GravityConvention, literal, spelled};

/// One word, number or symbol.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Word {
    /// The form it is compared by: lower case, with one sign for each of the signs that look alike.
    pub(super) key: String,
    /// Its first byte in the text.
    pub(super) start: usize,
    /// The byte after its last.
    pub(super) end: usize,
    /// Whether it follows the word before it without a gap, like the unit in "82%".
    pub(super) glued: bool,
}

/// A text and its words.
pub(super) struct Words<'a> {
    text: &'a str,
    list: Vec<Word>,
}

impl<'a> Words<'a> {
    /// Takes a text apart.
    pub(super) fn new(text: &'a str) -> Self {
        let mut words = Self {
            text,
            list: Vec::new(),
        };
        let mut start = 0;
        while start < text.len() {
            let end = chunk_end(text, start);
            words.chunk(start, end);
            // What ended the chunk is one character of no meaning, except an "@" before a number.
            let skipped = text[end..].chars().next();
            if skipped == Some('@') {
                words.push("at".to_owned(), end, end + 1);
            }
            start = end + skipped.map_or(0, char::len_utf8);
        }
        words
    }

    /// How many there are.
    pub(super) fn len(&self) -> usize {
        self.list.len()
    }

    /// The form by which a word is compared; empty behind the end.
    pub(super) fn key(&self, at: usize) -> &str {
        self.list.get(at).map_or("", |word| &word.key)
    }

    /// Whether a word stands directly behind the one before it.
    pub(super) fn glued(&self, at: usize) -> bool {
        self.list.get(at).is_some_and(|word| word.glued)
    }

    /// Whether a comma or the like stands between a word and the one before it.
    pub(super) fn parted(&self, at: usize) -> bool {
        let pair = at
            .checked_sub(1)
            .and_then(|b| self.list.get(b))
            .zip(self.list.get(at));
        pair.is_some_and(|(before, word)| !self.text[before.end..word.start].trim().is_empty())
    }

    /// What was written from one word up to, but without, another.
    pub(super) fn slice(&self, from: usize, to: usize) -> String {
        match (
            self.list.get(from),
            to.checked_sub(1).and_then(|last| self.list.get(last)),
        ) {
            (Some(first), Some(last)) if first.start < last.end => {
                self.text[first.start..last.end].to_owned()
            }
            _ => String::new(),
        }
    }

    /// The whole text without the space around it.
    pub(super) fn whole(&self) -> String {
        self.text.trim().to_owned()
    }

    /// Some of the words as they were written, in order, with single spaces; what stood together still does.
    pub(super) fn join(&self, picked: &[usize]) -> String {
        let mut out = String::new();
        let mut before: Option<usize> = None;
        for &at in picked {
            let word = &self.list[at];
            let gap = before
                .filter(|&b| b + 1 == at)
                .map(|b| &self.text[self.list[b].end..word.start]);
            out.push_str(match gap {
                Some(gap @ ("" | "-")) => gap,
                _ if out.is_empty() => "",
                _ => " ",
            });
            out.push_str(&self.text[word.start..word.end]);
            before = Some(at);
        }
        out
    }

    fn push(&mut self, key: String, start: usize, end: usize) {
        let glued = self.list.last().is_some_and(|last| last.end == start);
        self.list.push(Word {
            key,
            start,
            end,
            glued,
        });
    }

    /// Takes one piece without gaps apart.
    fn chunk(&mut self, start: usize, end: usize) {
        let (start, end) = trimmed(self.text, start, end);
        if start >= end {
            return;
        }
        let text = &self.text[start..end];
        if GravityConvention::parse(text).is_some() {
            return self.push(fold(text), start, end);
        }
        let number = literal::length(text);
        if number > 0 && !is_name_or_time(text, number) {
            self.push(fold(&text[..number]), start, start + number);
            if start + number < end {
                let rest = fold(&self.text[start + number..end]);
                self.push(rest, start + number, end);
            }
            return;
        }
        // Short names are often written into one with their number: "pH8.1".
        if let (Some(head), Some(tail)) = (text.get(..2), text.get(2..))
            && matches!(fold(head).as_str(), "ph" | "sg" | "rh")
            && tail.starts_with(|c: char| c.is_ascii_digit())
        {
            self.push(fold(head), start, start + 2);
            return self.chunk(start + 2, end);
        }
        let key = fold(text);
        if key.contains('-') && spelled::is_hyphenated(&key) {
            let mut from = start;
            for part in text.split('-') {
                self.push(fold(part), from, from + part.len());
                from += part.len() + 1;
            }
            return;
        }
        self.push(key, start, end);
    }
}

/// Where the piece that starts at `start` ends: at a space, at most punctuation, and between two readings that
/// are written into one ("82%/26C", "pH:8.1").
fn chunk_end(text: &str, start: usize) -> usize {
    let hard = |c: char| c.is_whitespace() || matches!(c, ';' | '|' | '(' | ')' | '[' | ']' | '~' | '≈');
    let run = text[start..]
        .find(|c: char| hard(c) || c == ',')
        .map_or(text.len(), |n| start + n);
    if GravityConvention::parse(text[start..run].trim_end_matches(['.', ':', '!', '?'])).is_some() {
        return run;
    }
    let mut before: Option<char> = None;
    let mut rest = text[start..].char_indices().peekable();
    while let Some((at, c)) = rest.next() {
        let digit_before = before.is_some_and(|b| b.is_ascii_digit());
        let digit_after = rest.peek().is_some_and(|(_, n)| n.is_ascii_digit());
        let ends = match c {
            ',' | ':' => !(digit_before && digit_after),
            '/' => before.is_some() && !digit_before && digit_after,
            '@' => digit_after,
            '=' => true,
            c => hard(c),
        };
        if ends {
            return start + at;
        }
        before = Some(c);
    }
    text.len()
}

/// Without the quotation marks around it and the stop behind it.
fn trimmed(text: &str, start: usize, end: usize) -> (usize, usize) {
    let chunk = &text[start..end];
    let inner = chunk.trim_start_matches(['"', '\'', '“', '‘']);
    let quoted = inner.len() < chunk.len();
    let from = end - inner.len();
    let kept = inner.trim_end_matches(|c| {
        matches!(c, '.' | '!' | '?' | ':') || (quoted && matches!(c, '"' | '\'' | '”' | '’'))
    });
    (from, from + kept.len())
}

/// Whether a piece that starts with digits is no quantity at all: "2nd", "18:30", "7am", "2026-03-01".
fn is_name_or_time(text: &str, number: usize) -> bool {
    let rest = text[number..].to_lowercase();
    matches!(rest.as_str(), "st" | "nd" | "rd" | "th" | "am" | "pm")
        || rest.starts_with(':')
        || (number == 4 && rest.starts_with('-') && rest[1..].starts_with(|c: char| c.is_ascii_digit()))
}

/// Lower case, with one sign for each of those that look alike.
fn fold(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            'µ' | 'μ' => out.push('u'),
            'º' | '˚' => out.push('°'),
            '℃' => out.push_str("°c"),
            '℉' => out.push_str("°f"),
            '₂' => out.push('2'),
            '₃' => out.push('3'),
            '₄' => out.push('4'),
            '⁺' => out.push('+'),
            '⁻' | '\u{2212}' | '\u{2010}' | '\u{2011}' | '\u{2013}' | '\u{2014}' => out.push('-'),
            '’' => out.push('\''),
            c => out.extend(c.to_lowercase()),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn keys(text: &str) -> Vec<String> {
        Words::new(text).list.into_iter().map(|word| word.key).collect()
    }

    #[test]
    fn check_splitting() {
        for (text, want) in [
            ("82% 26,5C", &["82", "%", "26,5", "c"][..]),
            ("82%,26C", &["82", "%", "26", "c"]),
            ("26C/82%.", &["26", "c", "82", "%"]),
            ("pH:8.1 SG1.02", &["ph", "8.1", "sg", "1.02"]),
            ("NO₃-N=5", &["no3-n", "5"]),
            ("sg 1.02 (60F/60F)", &["sg", "1.02", "60f/60f"]),
            (
                "eighty-two 53 µS/cm@25℃",
                &["eighty", "two", "53", "us/cm", "at", "25", "°c"],
            ),
            (
                "2nd pool 18:30 7am 2026-03-01",
                &["2nd", "pool", "18:30", "7am", "2026-03-01"],
            ),
            ("\"Old-North\" \u{2212}3 L", &["old-north", "-3", "l"]),
            (" , ; ", &[]),
        ] {
            assert_eq!(keys(text), want, "{text:?}");
        }
    }

    #[test]
    fn check_joining() {
        let words = Words::new("Tank  twenty-one, Bay 2b: 82%");
        assert_eq!(words.join(&[0, 1, 2, 3, 4, 5]), "Tank twenty-one Bay 2b");
        assert_eq!(words.join(&[]), "");
        assert_eq!(words.slice(6, 8), "82%");
        assert_eq!(words.slice(8, 8), "");
        assert!(words.glued(7) && !words.glued(6) && !words.glued(99));
        assert!(words.parted(6) && !words.parted(1) && !words.parted(0) && !words.parted(99));
    }
}
