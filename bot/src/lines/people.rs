//! Carers, rounds, own duties and vessels by any unambiguous part of their names.

use jiff::Timestamp;
use wrackline_core::place::{CarerId, OwnDutyId, RoundId};
use wrackline_core::water::batch::BatchId;

use super::nearest::{list, nearest};
use super::token::{Token, join, keys};
use super::{Context, Refusal, refuse};
use crate::msg;

/// What a word is looked up among, for the ids of the refusals.
struct Among {
    unknown: &'static str,
    nearest: &'static str,
    ambiguous: &'static str,
}

/// Whether the words of a name fit those that were said.
type Fits<'f> = &'f dyn Fn(&[String]) -> bool;

/// The one whose name the words are, or are a part of.
fn one<T: Copy>(tokens: &[Token], all: &[(T, &str)], among: &Among) -> Result<T, Refusal> {
    let asked: Vec<String> = tokens.iter().flat_map(|token| keys(&token.text)).collect();
    let text = join(tokens);
    let named: Vec<(T, &str, Vec<String>)> = all.iter().map(|(id, name)| (*id, *name, keys(name))).collect();
    let whole = |name: &[String]| name == asked;
    let start = |name: &[String]| {
        let fits = |window: &[String]| {
            window
                .iter()
                .zip(&asked)
                .all(|(word, part)| word.starts_with(part))
        };
        !asked.is_empty() && name.windows(asked.len()).any(fits)
    };
    let inside = |name: &[String]| {
        let part = asked.join(" ");
        part.chars().count() >= 3 && name.join(" ").contains(&part)
    };
    let ways: [Fits<'_>; 3] = [&whole, &start, &inside];
    for fits in ways {
        let found: Vec<_> = named.iter().filter(|(_, _, keys)| fits(keys)).collect();
        match found.as_slice() {
            [] => {}
            [(id, ..)] => return Ok(*id),
            several => {
                let names: Vec<&str> = several.iter().map(|(_, name, _)| *name).collect();
                return Err(refuse(msg!(among.ambiguous, text = text, names = list(&names))));
            }
        }
    }
    let names: Vec<&str> = all.iter().map(|(_, name)| *name).collect();
    let near = nearest(&text, names.iter().copied());
    let (id, names) = if near.is_empty() {
        (among.unknown, names)
    } else {
        (among.nearest, near)
    };
    Err(refuse(msg!(id, text = text, names = list(&names))))
}

/// A person who shares the work now.
pub(super) fn carer(tokens: &[Token], ctx: &Context<'_>) -> Result<CarerId, Refusal> {
    if let [token] = tokens
        && (token.is("me") || token.is("myself"))
    {
        return Ok(ctx.me);
    }
    let among = Among {
        unknown: "no-carer-unknown",
        nearest: "no-carer-nearest",
        ambiguous: "no-carer-ambiguous",
    };
    one(tokens, &carers(ctx), &among)
}

/// A person who shares the work now, whose whole name the words are.
pub(super) fn called(tokens: &[Token], ctx: &Context<'_>) -> Option<CarerId> {
    let asked: Vec<String> = tokens.iter().flat_map(|token| keys(&token.text)).collect();
    let all = carers(ctx);
    let found = all.iter().find(|(_, name)| keys(name) == asked);
    found.map(|(carer, _)| *carer)
}

/// A person who shares the work now, or a sitter whose span is over.
pub(super) fn carer_or_ended(tokens: &[Token], ctx: &Context<'_>) -> Result<CarerId, Refusal> {
    carer(tokens, ctx).or_else(|refusal| {
        let among = Among {
            unknown: "no-carer-unknown",
            nearest: "no-carer-nearest",
            ambiguous: "no-carer-ambiguous",
        };
        one(tokens, &ended(ctx), &among).map_err(|_| refusal)
    })
}

/// Sitters whose span is over, with their names.
fn ended<'a>(ctx: &Context<'a>) -> Vec<(CarerId, &'a str)> {
    let name = |id: &CarerId| ctx.book.names.get(id).map(|name| (*id, name.as_str()));
    ctx.place.ended.keys().filter_map(name).collect()
}

/// Those who share the work now and sitters whose span is over, with their names: all names that are taken.
pub(super) fn with_ended<'a>(ctx: &Context<'a>) -> Vec<(CarerId, &'a str)> {
    carers(ctx).into_iter().chain(ended(ctx)).collect()
}

/// Those who share the work now, with their names; erased persons have none.
pub(super) fn carers<'a>(ctx: &Context<'a>) -> Vec<(CarerId, &'a str)> {
    let name = |id: &CarerId| ctx.book.names.get(id).map(|name| (*id, name.as_str()));
    ctx.place.carers.keys().filter_map(name).collect()
}

/// Whether words say that nobody is meant.
pub(super) fn is_nobody(tokens: &[Token]) -> bool {
    matches!(tokens, [token] if token.is("none") || token.is("nobody"))
}

/// A round that has a name.
pub(super) fn round(tokens: &[Token], ctx: &Context<'_>) -> Result<RoundId, Refusal> {
    let among = Among {
        unknown: "no-round-unknown",
        nearest: "no-round-nearest",
        ambiguous: "no-round-ambiguous",
    };
    let all = rounds(ctx);
    if all.is_empty() {
        return Err(refuse(msg!("no-round-none")));
    }
    one(tokens, &all, &among)
}

/// The rounds that have a name.
pub(super) fn rounds<'a>(ctx: &Context<'a>) -> Vec<(RoundId, &'a str)> {
    let named = ctx.place.rounds.iter().filter(|round| !round.name.is_empty());
    named.map(|round| (round.id, round.name.as_str())).collect()
}

/// A duty of the place's own.
pub(super) fn own_duty(tokens: &[Token], ctx: &Context<'_>) -> Result<OwnDutyId, Refusal> {
    let among = Among {
        unknown: "no-own-unknown",
        nearest: "no-own-nearest",
        ambiguous: "no-own-ambiguous",
    };
    let all: Vec<_> = ctx
        .place
        .duties
        .iter()
        .map(|(id, (duty, _))| (*id, duty.name.as_str()))
        .collect();
    if all.is_empty() {
        return Err(refuse(msg!("no-own-none")));
    }
    one(tokens, &all, &among)
}

/// Which vessels are meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Vessels {
    /// Those with a batch that was not poured away.
    InUse,
    /// All that had one until then.
    Until(Timestamp),
}

/// The batch in a vessel: the last one that was made in it.
pub(super) fn vessel(tokens: &[Token], which: Vessels, ctx: &Context<'_>) -> Result<BatchId, Refusal> {
    let among = Among {
        unknown: "no-batch-unknown",
        nearest: "no-batch-nearest",
        ambiguous: "no-batch-ambiguous",
    };
    let all = vessels(which, ctx);
    if all.is_empty() {
        return Err(refuse(msg!("no-batch-none")));
    }
    match named(tokens, &all) {
        Some(batch) => Ok(batch),
        None => one(without_article(tokens), &all, &among),
    }
}

/// Whether words are the whole name of a vessel.
pub(super) fn is_vessel(tokens: &[Token], which: Vessels, ctx: &Context<'_>) -> bool {
    named(tokens, &vessels(which, ctx)).is_some()
}

/// The one whose whole name the words are, with or without an article before it.
fn named(tokens: &[Token], all: &[(BatchId, &str)]) -> Option<BatchId> {
    [tokens, without_article(tokens)].into_iter().find_map(|words| {
        let asked: Vec<String> = words.iter().flat_map(|token| keys(&token.text)).collect();
        let found = all.iter().find(|(_, name)| keys(name) == asked);
        found.map(|(batch, _)| *batch)
    })
}

/// "The blue can" is Blue can.
fn without_article(tokens: &[Token]) -> &[Token] {
    match tokens {
        [first, rest @ ..] if !rest.is_empty() && ["the", "my", "our"].iter().any(|word| first.is(word)) => {
            rest
        }
        _ => tokens,
    }
}

/// Vessels with the last batch in each.
pub(super) fn vessels<'a>(which: Vessels, ctx: &Context<'a>) -> Vec<(BatchId, &'a str)> {
    let meant = |batch: &&wrackline_core::place::Prepared| match which {
        Vessels::InUse => true,
        Vessels::Until(until) => batch.made_at <= until,
    };
    let mut made: Vec<_> = ctx.place.batches.values().filter(meant).collect();
    made.sort_by_key(|batch| std::cmp::Reverse((batch.made_at, batch.id)));
    let mut seen: Vec<Vec<String>> = Vec::new();
    made.retain(|batch| {
        let name = keys(&batch.vessel);
        let first = !seen.contains(&name);
        seen.push(name);
        first && (which != Vessels::InUse || batch.retired.is_none())
    });
    made.iter()
        .map(|batch| (batch.id, batch.vessel.as_str()))
        .collect()
}
