//! Just enough of reading Rust: code without comments and without what stands in strings, and the strings.

/// A source, parted.
pub(super) struct Source {
    /// Its code: comments are left out, strings stand as `""`.
    pub(super) code: String,
    /// Its strings, each with the place in `code` of its opening mark.
    pub(super) strings: Vec<(usize, String)>,
}

impl Source {
    pub(super) fn read(text: &str) -> Self {
        let letters: Vec<char> = text.chars().collect();
        let mut source = Self {
            code: String::new(),
            strings: Vec::new(),
        };
        let mut at = 0;
        while at < letters.len() {
            at = source.step(&letters, at);
        }
        source
    }

    /// Takes up what stands at a place; the place behind it.
    fn step(&mut self, letters: &[char], at: usize) -> usize {
        let next = letters.get(at + 1).copied().unwrap_or(' ');
        match letters[at] {
            '/' if next == '/' => end_of(letters, at, |letter| letter == '\n'),
            '"' => self.string(letters, at + 1, 0),
            'r' if !self.in_word() && (next == '"' || next == '#') => {
                let hashes = letters[at + 1..]
                    .iter()
                    .take_while(|letter| **letter == '#')
                    .count();
                if letters.get(at + 1 + hashes) == Some(&'"') {
                    return self.string(letters, at + 2 + hashes, hashes + 1);
                }
                self.code.push('r');
                at + 1
            }
            '\'' if next == '\\' => end_of(letters, at + 3, |letter| letter == '\'') + 1,
            '\'' if letters.get(at + 2) == Some(&'\'') => at + 3,
            letter => {
                self.code.push(letter);
                at + 1
            }
        }
    }

    fn in_word(&self) -> bool {
        self.code
            .ends_with(|letter: char| letter.is_alphanumeric() || letter == '_')
    }

    /// A string from behind its opening mark; `raw` is 0 for one with escapes, else one more than its hashes.
    fn string(&mut self, letters: &[char], from: usize, raw: usize) -> usize {
        let mut text = String::new();
        let mut at = from;
        while at < letters.len() {
            let closed = letters[at] == '"'
                && letters[at + 1..]
                    .iter()
                    .take_while(|letter| **letter == '#')
                    .count()
                    + 1
                    >= raw;
            match letters[at] {
                '"' if raw == 0 || closed => break,
                '\\' if raw == 0 => {
                    text.push('\\');
                    text.extend(letters.get(at + 1));
                    at += 2;
                }
                letter => {
                    text.push(letter);
                    at += 1;
                }
            }
        }
        self.strings.push((self.code.len(), text));
        self.code.push_str("\"\"");
        at + 1 + raw.saturating_sub(1)
    }

    /// The strings whose opening mark lies within a part of the code.
    pub(super) fn strings_in(&self, from: usize, to: usize) -> impl Iterator<Item = &str> {
        self.strings
            .iter()
            .filter(move |(at, _)| (from..to).contains(at))
            .map(|(_, text)| text.as_str())
    }
}

fn end_of(letters: &[char], from: usize, end: impl Fn(char) -> bool) -> usize {
    (from..letters.len())
        .find(|at| end(letters[*at]))
        .unwrap_or(letters.len())
}

/// The place behind the bracket that closes the one just before `from`.
pub(super) fn closing(code: &str, from: usize) -> usize {
    let mut depth = 1;
    for (at, letter) in code[from..].char_indices() {
        match letter {
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return from + at + 1;
        }
    }
    code.len()
}

/// The parts of a text between commas that stand in no brackets, each with its place.
pub(super) fn parts(code: &str, from: usize, to: usize) -> Vec<(usize, usize)> {
    let (mut depth, mut start, mut all) = (0, from, Vec::new());
    for (at, letter) in code[from..to].char_indices() {
        match letter {
            '(' | '[' | '{' => depth += 1,
            ')' | ']' | '}' => depth -= 1,
            ',' if depth == 0 => {
                all.push((start, from + at));
                start = from + at + 1;
            }
            _ => {}
        }
    }
    all.push((start, to));
    all.retain(|(start, end)| !code[*start..*end].trim().is_empty());
    all
}

#[test]
fn sources_are_parted_into_code_and_strings() {
    let text = "let a = \"b // c\"; // \"d\"\nlet e = r#\"f \"g\" h\"#; let i = '\"'; let k = b'\\''; &'l str(\"m\\\"n\")";
    let source = Source::read(text);
    let strings: Vec<&str> = source.strings_in(0, usize::MAX).collect();
    assert_eq!(strings, ["b // c", "f \"g\" h", "m\\\"n"]);
    assert_eq!(
        source.code,
        "let a = \"\"; \nlet e = \"\"; let i = ; let k = b; &'l str(\"\")"
    );
    let code = "f(a, g(b, c), [d, e])";
    let end = closing(code, 2);
    assert_eq!(end, code.len());
    let found: Vec<&str> = parts(code, 2, end - 1)
        .iter()
        .map(|(from, to)| code[*from..*to].trim())
        .collect();
    assert_eq!(found, ["a", "g(b, c)", "[d, e]"]);
}
