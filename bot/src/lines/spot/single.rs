//! Words that mean one thing: an enclosure, a room, a water, all, or a water of one of these.

use wrackline_core::place::{EnclosureId, Water};

use super::found::{Found, Named};
use super::wrong::{ambiguous, unknown};
use super::{Width, is_filler, water};
use crate::lines::token::{Token, keys};
use crate::lines::{Context, Refusal};

/// A name that may be said, and what it names.
struct Call {
    keys: Vec<String>,
    named: Named,
    enclosures: Vec<EnclosureId>,
}

fn calls(ctx: &Context<'_>) -> Vec<Call> {
    let mut all: Vec<Call> = Vec::new();
    for enclosure in ctx.place.walk() {
        let one = |keys| Call {
            keys,
            named: Named::Enclosure,
            enclosures: vec![enclosure.id],
        };
        all.push(one(keys(&enclosure.name)));
        let room = keys(&enclosure.room);
        if room.is_empty() {
            continue;
        }
        // The posts write the room before the enclosure, with or without a comma; both may be typed back.
        for between in [&[][..], &[",".to_owned()]] {
            all.push(one([&room, between, &keys(&enclosure.name)].concat()));
        }
        match all
            .iter_mut()
            .find(|call| call.named == Named::Room && call.keys == room)
        {
            Some(call) => call.enclosures.push(enclosure.id),
            None => all.push(Call {
                keys: room,
                named: Named::Room,
                enclosures: vec![enclosure.id],
            }),
        }
    }
    all
}

/// Reads words that mean one thing.
pub(super) fn single(tokens: &[Token], width: Width, ctx: &Context<'_>) -> Result<Found, Refusal> {
    let hint = |words: [&str; 2]| tokens.iter().any(|token| words.iter().any(|word| token.is(word)));
    let mut calls = calls(ctx);
    let exact = by_name(tokens, &calls);
    let plain = without_names(tokens, ctx);
    match (&plain, exact.is_empty()) {
        (Some(plain), true) => return Ok(plain.clone()),
        // An enclosure may be called like a water: "tank" and "pools" tell the two apart, and so does "all".
        (Some(plain), false) if !hint(["tank", "enclosure"]) => {
            if plain.named == Named::All || hint(["pool", "pools"]) {
                return Ok(plain.clone());
            }
            let both = [exact, vec![plain.with(plain.water)]].concat();
            return Err(ambiguous(tokens, &both, ctx));
        }
        _ => {}
    }
    if hint(["room", "rooms"]) {
        calls.retain(|call| call.named == Named::Room);
    } else if hint(["tank", "enclosure"]) {
        calls.retain(|call| call.named == Named::Enclosure);
    }
    // A hint is only one if the name itself does not hold that word.
    let hinted = by_name(tokens, &calls);
    let found = if hinted.is_empty() { exact } else { hinted };
    let found = if found.is_empty() && width == Width::Parts {
        by_part(tokens, &calls, ctx)
    } else {
        found
    };
    match found.as_slice() {
        [one] => Ok(one.clone()),
        [] => Err(unknown(tokens, ctx)),
        several => Err(ambiguous(tokens, several, ctx)),
    }
}

/// A water or all, without any name.
fn without_names(tokens: &[Token], ctx: &Context<'_>) -> Option<Found> {
    let is_all = |token: &Token| token.is("all") || token.is("everything");
    let all = tokens.iter().any(is_all);
    let rest: Vec<Token> = tokens.iter().filter(|token| !is_all(token)).cloned().collect();
    let water = leftover(&rest)?;
    if !all && water.is_none() {
        return None;
    }
    let enclosures = ctx
        .place
        .walk()
        .into_iter()
        .map(|enclosure| enclosure.id)
        .collect();
    Some(Found {
        named: if all { Named::All } else { Named::Nothing },
        enclosures,
        water,
    })
}

/// Takes words that are no name for a water and fillers: `None` when there is anything else among them.
pub(super) fn leftover(tokens: &[Token]) -> Option<Option<Water>> {
    let mut found = None;
    let mut at = 0;
    while at < tokens.len() {
        if let Some((water, used)) = water(&tokens[at..]) {
            // A water said twice is one enclosure's name and the water of it.
            if found.replace(water).is_some() {
                return None;
            }
            at += used;
        } else if is_filler(&tokens[at]) || tokens[at].is("all") {
            at += 1;
        } else {
            return None;
        }
    }
    Some(found)
}

/// The longest whole names among the words, where nothing but a water and fillers stands around them.
fn by_name(tokens: &[Token], calls: &[Call]) -> Vec<Found> {
    let mut found: Vec<(usize, Found)> = Vec::new();
    for call in calls {
        for from in 0..tokens.len() {
            let to = from + length(tokens, from, call);
            if to == from {
                continue;
            }
            let rest = [&tokens[..from], &tokens[to..]].concat();
            if let Some(water) = leftover(&rest) {
                let one = Found {
                    named: call.named,
                    enclosures: call.enclosures.clone(),
                    water,
                };
                found.push((call.keys.len(), one));
            }
        }
    }
    let longest = found.iter().map(|(length, _)| *length).max();
    unique(
        found
            .into_iter()
            .filter(|(length, _)| Some(*length) == longest)
            .map(|(_, one)| one),
    )
}

/// How many words from `from` are the whole of a name; a name in quotation marks is one word. 0 if they are not.
fn length(tokens: &[Token], from: usize, call: &Call) -> usize {
    let mut at = from;
    let mut matched = 0;
    while matched < call.keys.len() {
        let Some(token) = tokens.get(at) else { return 0 };
        for key in said(token) {
            let expected = call.keys.get(matched);
            let owned = key
                .strip_suffix("'s")
                .is_some_and(|bare| Some(bare) == expected.map(String::as_str));
            if Some(&key) != expected && !owned {
                return 0;
            }
            matched += 1;
        }
        at += 1;
    }
    at - from
}

fn said(token: &Token) -> Vec<String> {
    if token.quoted {
        keys(&token.text)
    } else {
        vec![token.key.clone()]
    }
}

/// Names that the words are a part of: at the start of words first, else anywhere in them.
fn by_part(tokens: &[Token], calls: &[Call], ctx: &Context<'_>) -> Vec<Found> {
    // "Tal tank" is Tall tank: words without a meaning of their own may be part of the name.
    let (fewer, water) = core(tokens);
    let kept: Vec<Token> = tokens
        .iter()
        .map(|token| Token {
            quoted: token.quoted || token.key == "tank",
            ..token.clone()
        })
        .collect();
    let found = by_words(&core(&kept).0, water, calls, ctx);
    if found.is_empty() {
        by_words(&fewer, water, calls, ctx)
    } else {
        found
    }
}

fn by_words(asked: &[String], water: Option<Water>, calls: &[Call], ctx: &Context<'_>) -> Vec<Found> {
    if asked.is_empty() {
        return Vec::new();
    }
    let matching = |fits: &dyn Fn(&Call) -> bool| {
        let all = calls.iter().filter(|call| fits(call)).map(|call| Found {
            named: call.named,
            enclosures: call.enclosures.clone(),
            water,
        });
        // "Tall salt" is unambiguous if only one Tall has a salt pool.
        let (with, without): (Vec<_>, Vec<_>) = all.partition(|one| water.is_none() || one.has_pools(ctx));
        unique(if with.is_empty() { without } else { with })
    };
    let starts = |call: &Call| {
        let fits = |window: &[String]| {
            window
                .iter()
                .zip(asked)
                .all(|(word, part)| word.starts_with(part))
        };
        call.keys.windows(asked.len()).any(fits)
    };
    let asked_text = asked.join(" ");
    let holds = |call: &Call| asked_text.chars().count() >= 3 && call.keys.join(" ").contains(&asked_text);
    let found = matching(&starts);
    if found.is_empty() { matching(&holds) } else { found }
}

/// The words that ask for a name, without fillers and the water.
pub(super) fn core(tokens: &[Token]) -> (Vec<String>, Option<Water>) {
    let mut found = None;
    let mut asked = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        if let Some((water, used)) =
            water(&tokens[at..]).filter(|(water, _)| found.is_none_or(|one| one == *water))
        {
            found = Some(water);
            at += used;
            continue;
        }
        if !is_filler(&tokens[at]) && !tokens[at].is("all") {
            let own = |key: String| key.strip_suffix("'s").map_or(key.clone(), str::to_owned);
            asked.extend(said(&tokens[at]).into_iter().map(own));
        }
        at += 1;
    }
    (asked, found)
}

/// Each set of enclosures once; one that is named as an enclosure and as a room is an enclosure.
fn unique(found: impl IntoIterator<Item = Found>) -> Vec<Found> {
    let mut all: Vec<Found> = Vec::new();
    for one in found {
        match all
            .iter_mut()
            .find(|other| other.enclosures == one.enclosures && other.water == one.water)
        {
            Some(other) if one.named == Named::Enclosure => *other = one,
            Some(_) => {}
            None => all.push(one),
        }
    }
    all
}
