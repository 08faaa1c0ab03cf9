//! Names for new things.

use super::table::LINES;
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

/// Every small word of every line.
fn small_words() -> impl Iterator<Item = &'static str> {
    let args = LINES
        .iter()
        .flat_map(|line| line.args.iter().chain(line.subs.iter().flat_map(|sub| sub.args)));
    args.flat_map(|arg| arg.words().iter().copied())
}

/// The names of the enclosures.
pub(super) fn enclosures<'a>(ctx: &Context<'a>) -> impl Iterator<Item = &'a str> {
    ctx.place
        .enclosures
        .values()
        .map(|enclosure| enclosure.name.as_str())
}
