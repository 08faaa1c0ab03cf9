//! Which pools and enclosures a SPOT means.

mod found;
mod single;
mod wrong;

use wrackline_core::place::Water;

pub(super) use self::found::call_pool;
use self::found::{Found, Named};
use self::single::single;
use super::ask::Spot;
use super::nearest::list;
use super::token::{Token, join};
use super::{Context, Refusal, refuse};
use crate::msg;

/// How widely words may be taken for names.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Width {
    /// Any unambiguous part of a name.
    Parts,
    /// Whole names alone, where free text stands beside the SPOT.
    Names,
}

/// Reads words as a SPOT.
///
/// # Errors
/// One sentence that names what is there instead, or what is ambiguous.
pub(super) fn read(tokens: &[Token], ctx: &Context<'_>) -> Result<Spot, Refusal> {
    read_as(tokens, Width::Parts, ctx)
}

/// The same, with a say in how widely words are taken for names.
pub(super) fn read_as(tokens: &[Token], width: Width, ctx: &Context<'_>) -> Result<Spot, Refusal> {
    let mut segments = Vec::new();
    let mut start = 0;
    while start < tokens.len() {
        if tokens[start].joins() {
            start += 1;
            continue;
        }
        let (found, next) = segment(tokens, start, width, ctx)?;
        segments.push(found);
        start = next;
    }
    if segments.is_empty() {
        segments.push(single(&[], width, ctx)?);
    }
    share_waters(&mut segments, ctx);
    if let Some(refusal) = loose_water(tokens, &segments, ctx) {
        return Err(refusal);
    }
    found::settle(segments, ctx)
}

/// "North, salt" may be North's salt pool or North and all salt pools: too far apart to guess.
fn loose_water(tokens: &[Token], segments: &[Found], ctx: &Context<'_>) -> Option<Refusal> {
    let loose = segments.iter().find(|one| one.named == Named::Nothing)?;
    let whole = |one: &&Found| matches!(one.named, Named::Enclosure | Named::Room) && one.water.is_none();
    let beside = segments.iter().find(whole)?;
    let names = [beside.with(loose.water).call(ctx), loose.call(ctx)];
    Some(refuse(msg!(
        "no-spot-ambiguous",
        text = join(tokens),
        names = list(&names)
    )))
}

/// The longest run of words from `start` that is one thing; it ends at a joining word or at the end. "Hall, Dune
/// salt" is one, as the posts write it, and so is a name that holds "and".
fn segment(
    tokens: &[Token],
    start: usize,
    width: Width,
    ctx: &Context<'_>,
) -> Result<(Found, usize), Refusal> {
    let ends = || (start + 1..=tokens.len()).filter(|end| tokens.get(*end).is_none_or(Token::joins));
    for end in ends().collect::<Vec<_>>().into_iter().rev() {
        match single(&tokens[start..end], width, ctx) {
            Ok(found) => return Ok((found, end)),
            // The shortest run says best what is wrong with it.
            Err(refusal) if Some(end) == ends().next() => return Err(refusal),
            Err(_) => {}
        }
    }
    // There is always at least one end: that of the line.
    single(&tokens[start..], width, ctx).map(|found| (found, tokens.len()))
}

/// In "north salt and fresh" the fresh pool is North's too, and in "north and dune salt" both are salt pools: the
/// smaller claim of the two that the words allow.
fn share_waters(segments: &mut [Found], ctx: &Context<'_>) {
    for at in 1..segments.len() {
        if segments[at].named == Named::Nothing && segments[at - 1].has_both() {
            let water = segments[at].water;
            segments[at] = Found {
                water,
                ..segments[at - 1].clone()
            };
        }
    }
    for at in (0..segments.len().saturating_sub(1)).rev() {
        let (here, next) = (segments[at].clone(), segments[at + 1].clone());
        if !next.has_both() {
            continue;
        }
        if here.named == Named::Nothing {
            segments[at] = Found {
                water: here.water,
                ..next
            };
        } else if here.water.is_none() && here.with(next.water).has_pools(ctx) {
            segments[at] = here.with(next.water);
        }
    }
}

/// The water of a word or of two, and how many words they are.
pub(super) fn water(tokens: &[Token]) -> Option<(Water, usize)> {
    let key = |at: usize| {
        tokens
            .get(at)
            .filter(|token| !token.quoted)
            .map_or("", |token| &token.key)
    };
    let two = match (key(0), key(1)) {
        ("fresh", "water" | "waters") => Some(Water::Fresh),
        ("salt" | "sea" | "marine", "water" | "waters") => Some(Water::Salt),
        _ => None,
    };
    let one = || match key(0) {
        "fresh" | "freshwater" | "fresh-water" => Some(Water::Fresh),
        "salt" | "saltwater" | "salt-water" | "sea" | "seawater" | "sea-water" | "marine" => {
            Some(Water::Salt)
        }
        _ => None,
    };
    two.map(|water| (water, 2))
        .or_else(|| one().map(|water| (water, 1)))
}

/// Whether a word says nothing about where, unless it is part of a name.
pub(super) fn is_filler(token: &Token) -> bool {
    const FILLERS: [&str; 24] = [
        "the",
        "of",
        "in",
        "for",
        "pool",
        "pools",
        "tank",
        "tanks",
        "please",
        "my",
        "our",
        "a",
        "an",
        "on",
        "at",
        "to",
        "from",
        "with",
        "water",
        "enclosure",
        "room",
        "i",
        "we",
        "just",
    ];
    !token.quoted && FILLERS.contains(&token.key.as_str())
}
