//! A line taken apart into words.

/// A word, or a text in quotation marks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Token {
    /// As it was written, without quotation marks.
    pub(super) text: String,
    /// The form by which it is compared: lower case, without a stop behind it.
    pub(super) key: String,
    /// Whether it stood in quotation marks, so that it is no small word.
    pub(super) quoted: bool,
    /// Its first byte in the line.
    pub(super) start: usize,
    /// The byte after its last.
    pub(super) end: usize,
}

impl Token {
    /// Whether it keeps the parts of a list apart.
    pub(super) fn joins(&self) -> bool {
        !self.quoted && matches!(self.key.as_str(), "and" | "," | "+" | "&")
    }

    /// Whether it is this word, and not quoted.
    pub(super) fn is(&self, word: &str) -> bool {
        !self.quoted && self.key == word
    }
}

/// Whether a sign opens and closes a text in quotation marks.
pub(super) fn is_quote(c: char) -> bool {
    matches!(c, '"' | '“' | '”' | '„')
}

/// Takes a line apart. Commas, plus and ampersand between words are words of their own; inside numbers and units
/// ("1,5", "NH4+") they stay where they are.
pub(super) fn tokens(line: &str) -> Vec<Token> {
    let mut found = Vec::new();
    let mut start = 0;
    while let Some(c) = line[start..].chars().next() {
        if c.is_whitespace() {
            start += c.len_utf8();
        } else if is_quote(c) {
            let from = start + c.len_utf8();
            let close = line[from..].char_indices().find(|(_, c)| is_quote(*c));
            let (end, next) = close.map_or((line.len(), line.len()), |(at, c)| {
                (from + at, from + at + c.len_utf8())
            });
            push(&mut found, line, from, end, true);
            start = next;
        } else {
            let end = line[start..]
                .find(char::is_whitespace)
                .map_or(line.len(), |at| start + at);
            pieces(&mut found, line, start, end);
            start = end;
        }
    }
    found
}

/// Takes one run without spaces apart at its joining signs.
fn pieces(found: &mut Vec<Token>, line: &str, start: usize, end: usize) {
    let mut from = start;
    let mut before: Option<char> = None;
    let mut rest = line[start..end].char_indices().peekable();
    while let Some((at, c)) = rest.next() {
        let after = rest.peek().map(|(_, c)| *c);
        let digits = before.is_some_and(|c| c.is_ascii_digit()) && after.is_some_and(|c| c.is_ascii_digit());
        let letters = before.is_none_or(char::is_alphabetic) && after.is_none_or(char::is_alphabetic);
        // A sign at the end of a word is part of it ("NH4+"); one that stands alone or between words is not.
        let alone = before.is_none() == after.is_none();
        if (c == ',' && !digits) || (matches!(c, '+' | '&') && letters && alone) {
            push(found, line, from, start + at, false);
            push(found, line, start + at, start + at + 1, false);
            from = start + at + 1;
        }
        before = Some(c);
    }
    push(found, line, from, end, false);
}

fn push(found: &mut Vec<Token>, line: &str, start: usize, end: usize, quoted: bool) {
    let text = &line[start..end];
    let text = if quoted { text.trim() } else { text };
    let key = key(text);
    if !key.is_empty() || (quoted && !text.is_empty()) {
        found.push(Token {
            text: text.to_owned(),
            key,
            quoted,
            start,
            end,
        });
    }
}

/// The form by which words are compared.
pub(super) fn key(text: &str) -> String {
    let low = text.replace('’', "'").to_lowercase();
    low.trim_end_matches(['.', '!', '?', ';', ':']).to_owned()
}

/// The words of a name, in the form by which they are compared.
pub(super) fn keys(name: &str) -> Vec<String> {
    tokens(name).into_iter().map(|token| token.key).collect()
}

/// Words as they were written, with single spaces, and none before a comma.
pub(super) fn join(tokens: &[Token]) -> String {
    let mut text = String::new();
    for token in tokens {
        if !text.is_empty() && token.text != "," {
            text.push(' ');
        }
        text.push_str(&token.text);
    }
    text
}

/// Words in the form by which they are compared, with single spaces; hyphens count as spaces.
pub(super) fn phrase(tokens: &[Token]) -> String {
    tokens
        .iter()
        .map(|token| token.key.as_str())
        .collect::<Vec<_>>()
        .join(" ")
        .replace('-', " ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_words() {
        for (line, expected) in [
            ("did Change  north", &["did", "Change", "north"][..]),
            ("north,dune", &["north", ",", "dune"]),
            ("1,5 L 26,5C", &["1,5", "L", "26,5C"]),
            ("a+b + c NH4+ 0.5", &["a", "+", "b", "+", "c", "NH4+", "0.5"]),
            (
                "note \"by the lid\" at 8:00",
                &["note", "by the lid", "at", "8:00"],
            ),
            ("largest 3\"", &["largest", "3\""]),
            ("“never closed", &["never closed"]),
            ("... ! ,", &[","]),
        ] {
            let found: Vec<_> = tokens(line).into_iter().map(|token| token.text).collect();
            assert_eq!(found, expected, "{line}");
        }
        assert_eq!(key("Maren’s."), "maren's");
    }
}
