//! Words of what somebody sees, said without a line: "leak!", "power cut", "wet substrate in dune".

use super::parse::WORDS_MAX;
use super::token::{Token, join};
use super::{Context, Refusal, choice, duty, refuse, spot};
use crate::msg;

/// Words that name a card behind `/emergency`, and something else where they stand alone.
const MEAN_OTHERS: [&str; 2] = ["salt", "humidity"];

/// Which lines are meant by words that begin with none, where they tell of something seen.
pub(super) fn seen(words: &[Token], ctx: &Context<'_>) -> Option<Refusal> {
    if words.len() > WORDS_MAX {
        return None;
    }
    let text = join(words);
    let text = text.trim_end_matches(['!', '?', '.']);
    let card = |words: &[Token]| {
        let card = choice::card(words).ok().flatten()?;
        let is_other = matches!(words, [one] if MEAN_OTHERS.iter().any(|word| one.is(word)));
        (!is_other).then(|| format!("/emergency {}", card.code().replace('-', " ")))
    };
    let Some(hit) = duty::sightings(words).into_iter().next() else {
        return Some(refuse(msg!("no-line-danger", text = text, card = card(words)?)));
    };
    let (said, rest) = (&words[hit.from..hit.to], hit.rest(words));
    let is_there = rest.iter().any(|word| !spot::is_filler(word)) && spot::read(&rest, ctx).is_ok();
    let place = if is_there { join(&rest) } else { "SPOT".to_owned() };
    let saw = format!("/saw {} {place}", duty::sighting_name(hit.what));
    Some(refuse(match card(said) {
        Some(card) => msg!("no-line-seen-danger", text = text, card = card, saw = saw),
        None => msg!("no-line-seen", text = text, saw = saw),
    }))
}
