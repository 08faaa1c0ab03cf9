//! Names for new things. `names/person` has those of people.

mod person;

pub(super) use self::person::person;
use super::table::{ArgSpec, Kind, LINES};
use super::token::{Token, join, keys, tokens};
use super::{Context, Refusal, refuse, spot};
use crate::msg;

/// The longest name, in letters.
const LETTERS_MAX: usize = 40;

/// Signs that lines, chats or screens would take for something else.
const FORBIDDEN: [char; 16] = [
    '"', '“', '”', '„', ',', ';', '+', '&', '<', '>', '@', '#', '`', '*', '|', '\\',
];

/// Checks a name for something new and gives it with single spaces. `taken` are the names of its kind.
pub(super) fn new<'a>(words: &[Token], taken: impl IntoIterator<Item = &'a str>) -> Result<String, Refusal> {
    let name = text(words)?;
    let asked = keys(&name);
    if let Some(other) = taken.into_iter().find(|other| keys(other) == asked) {
        return Err(refuse(msg!("no-name-taken", name = other)));
    }
    Ok(name)
}

/// Checks the form of a name, whether or not another thing has it.
pub(super) fn text(words: &[Token]) -> Result<String, Refusal> {
    let joined = join(words);
    let name = joined.split_whitespace().collect::<Vec<_>>().join(" ");
    let letters = name.chars().count();
    if letters == 0 || letters > LETTERS_MAX {
        return Err(refuse(msg!("no-name-length", most = LETTERS_MAX)));
    }
    if let Some(sign) = name.chars().find(|c| FORBIDDEN.contains(c)) {
        return Err(refuse(msg!("no-name-sign", sign = sign)));
    }
    // Letters without a shape would make two names look like one.
    if name.chars().any(is_unseen) || !name.chars().any(char::is_alphanumeric) {
        return Err(refuse(msg!("no-name-unseen")));
    }
    if tokens(&name).iter().all(is_reserved) {
        return Err(refuse(msg!("no-name-reserved", name = name)));
    }
    Ok(name)
}

/// What a name becomes in which nothing fits a name.
const NAMELESS: &str = "Someone";

/// The name that comes nearest to one from elsewhere, such as a member's on a chat platform: signs that lines read as
/// something else become spaces, it is cut to 40 letters, and it gets a number where it is taken (in any case) or has
/// a meaning in lines. Such a name needs quotation marks in a line, as [`super::write()`] sets them.
#[must_use]
pub fn fitting_name<'a>(raw: &str, taken: impl IntoIterator<Item = &'a str>) -> String {
    let taken: Vec<Vec<String>> = taken.into_iter().map(keys).collect();
    let seen = raw.chars().filter(|c| !is_unseen(*c) || c.is_whitespace());
    let plain: String = seen
        .map(|c| if FORBIDDEN.contains(&c) { ' ' } else { c })
        .collect();
    let plain = plain.split_whitespace().collect::<Vec<_>>().join(" ");
    let base = if plain.chars().any(char::is_alphanumeric) {
        plain.as_str()
    } else {
        NAMELESS
    };
    let fits = |name: &String| is_free_name(name) && !taken.contains(&keys(name));
    let numbered = (2..).map(|number| cut(base, &format!(" {number}")));
    let mut all = std::iter::once(cut(base, "")).chain(numbered);
    // Each number gives another name, so one of them is free.
    all.find(fits).unwrap_or_default()
}

/// Whether a text is a name that somebody may have, as far as that does not depend on the place: of the form of one, and
/// no word that lines read.
#[must_use]
pub fn is_free_name(name: &str) -> bool {
    let words = tokens(&format!("\"{name}\""));
    text(&words).is_ok() && !person::is_read(&tokens(name))
}

/// A name with an ending, together of at most 40 letters.
fn cut(base: &str, ending: &str) -> String {
    let most = LETTERS_MAX - ending.chars().count().min(LETTERS_MAX);
    let kept: String = base.chars().take(most).collect();
    format!("{}{ending}", kept.trim_end())
}

fn is_unseen(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2060}'..='\u{2069}' | '\u{feff}')
}

/// Whether a word has a meaning in lines, so that a name cannot be made of such words alone.
fn is_reserved(token: &Token) -> bool {
    let own = [
        "all",
        "everything",
        "none",
        "nobody",
        "me",
        "myself",
        "and",
        "water",
        "waters",
    ];
    let one = std::slice::from_ref(token);
    own.contains(&token.key.as_str())
        || spot::is_filler(token)
        || spot::water(one).is_some()
        || small_words().any(|word| word == token.key)
}

/// Every small word that a name may stand beside.
fn small_words() -> impl Iterator<Item = &'static str> {
    let holds_names = |args: &&[ArgSpec]| args.iter().any(|arg| is_named(arg.kind));
    let groups = LINES
        .iter()
        .flat_map(|line| line.subs.iter().map(|sub| sub.args).chain([line.args]));
    let args = groups.filter(holds_names).flatten();
    args.flat_map(|arg| arg.words().iter().copied())
}

/// Whether an argument is the name of something that the place has or is to have.
fn is_named(kind: Kind) -> bool {
    use Kind::{Carer, Duty, Name, OwnDuty, Round, Spot};
    matches!(kind, Carer | Duty | Name | OwnDuty | Round | Spot)
}

/// The names of the enclosures.
pub(super) fn enclosures<'a>(ctx: &Context<'a>) -> impl Iterator<Item = &'a str> {
    ctx.place
        .enclosures
        .values()
        .map(|enclosure| enclosure.name.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_fitting_names() {
        let taken = ["Maya", "Ilja", "Ilja 2"];
        for (raw, expected) in [
            ("Maya Example", "Maya Example"),
            ("  Maya \t Example ", "Maya Example"),
            ("maya", "maya 2"),
            ("ILJA", "ILJA 3"),
            ("@Reef, \"Keeper\" <3 | #1", "Reef Keeper 3 1"),
            ("Zoë 🦀 Ñandú", "Zoë 🦀 Ñandú"),
            ("Ma\u{200b}ya\u{202e} O", "Maya O"),
            ("all", "all 2"),
            ("Sunday", "Sunday 2"),
            ("Tonight", "Tonight 2"),
            ("Sun Li", "Sun Li"),
            ("Sitter", "Sitter 2"),
            ("Salt Water", "Salt Water 2"),
            ("***", "Someone"),
            ("", "Someone"),
            (
                "a name that goes on for longer than any name of a person may",
                "a name that goes on for longer than any",
            ),
        ] {
            let name = fitting_name(raw, taken);
            assert_eq!(name, expected, "{raw}");
            // It stands in a line as it is.
            let words = tokens(&format!("\"{name}\""));
            assert_eq!(new(&words, taken), Ok(name), "{raw}");
        }
        let long = "x".repeat(50);
        let first = fitting_name(&long, []);
        let second = fitting_name(&long, [first.as_str()]);
        assert_eq!(first, "x".repeat(40));
        assert_eq!(second, format!("{} 2", "x".repeat(38)));
        assert_eq!(fitting_name("…", ["Someone"]), "Someone 2");
    }
}
