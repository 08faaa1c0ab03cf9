//! What is wrong with words that are no one thing.

use wrackline_core::place::Enclosure;

use super::found::{Found, call_pool};
use super::is_filler;
use super::single::{core, leftover};
use crate::lines::nearest::{LIKE, OFFERED, likeness, list};
use crate::lines::token::{Token, join, tokens as tokens_of};
use crate::lines::{Context, Refusal, refuse};
use crate::msg;

/// That words may be several things.
pub(super) fn ambiguous(tokens: &[Token], several: &[Found], ctx: &Context<'_>) -> Refusal {
    let names: Vec<String> = several.iter().map(|one| quoted_if_water(one, ctx)).collect();
    refuse(msg!(
        "no-spot-ambiguous",
        text = join(tokens),
        names = list(&names)
    ))
}

/// An enclosure that is called like a water has to be quoted to be told from it.
fn quoted_if_water(one: &Found, ctx: &Context<'_>) -> String {
    let call = one.call(ctx);
    let is_water = one.water.is_none() && leftover(&tokens_of(&call)).flatten().is_some();
    if is_water { format!("\"{call}\"") } else { call }
}

/// That words are nothing here, with what they are perhaps meant to be.
pub(super) fn unknown(tokens: &[Token], ctx: &Context<'_>) -> Refusal {
    let (asked, water) = core(tokens);
    if ctx.place.enclosures.is_empty() {
        return refuse(msg!("no-spot-no-enclosures"));
    }
    if asked.is_empty() {
        return refuse(msg!("no-spot-none-said"));
    }
    let asked = asked.join(" ");
    let like = |enclosure: &Enclosure| {
        let words = enclosure
            .name
            .split_whitespace()
            .map(|word| likeness(&asked, word));
        words
            .chain([likeness(&asked, &enclosure.name)])
            .fold(0.0, f64::max)
    };
    let mut near: Vec<(f64, &Enclosure)> = ctx
        .place
        .walk()
        .into_iter()
        .map(|enclosure| (like(enclosure), enclosure))
        .collect();
    near.retain(|(like, _)| *like >= LIKE);
    near.sort_by(|one, other| other.0.total_cmp(&one.0));
    let text = join(
        &tokens
            .iter()
            .filter(|token| !is_filler(token))
            .cloned()
            .collect::<Vec<_>>(),
    );
    if near.is_empty() {
        let names: Vec<String> = ctx
            .place
            .walk()
            .iter()
            .map(|enclosure| enclosure.name.clone())
            .take(8)
            .collect();
        return refuse(msg!("no-spot-unknown", text = text, names = list(&names)));
    }
    let mut names = Vec::new();
    for (_, enclosure) in near {
        let pools = ctx.place.pools_of(enclosure.id);
        let wanted: Vec<_> = pools
            .iter()
            .filter(|pool| water.is_none_or(|water| water == pool.water))
            .collect();
        names.extend(wanted.iter().map(|pool| call_pool(pool, ctx)));
        if wanted.is_empty() {
            names.push(enclosure.name.clone());
        }
    }
    names.truncate(OFFERED);
    refuse(msg!("no-spot-nearest", text = text, names = list(&names)))
}
