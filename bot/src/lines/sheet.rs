//! `/sheet`.

use wrackline_core::place::CarerId;

use super::ask::{Ask, SheetAsk};
use super::carer::dates;
use super::parse::Call;
use super::span::{self, Said, Span};
use super::token::Token;
use super::{Context, Refusal, coming, people};

/// Reads a `/sheet` line.
pub(super) fn sheet(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let words = std::mem::take(&mut call.args.bare);
    let (first, last) = (call.args.get("starts"), call.args.get("ends"));
    if let Some((carer, span)) = with_span(&words, (first, last), ctx)? {
        let (from, to) = span.dates(ctx);
        let (from, to) = (Some(from), Some(to));
        return Ok(Ask::Sheet(SheetAsk { carer, from, to }));
    }
    let carer = match words.as_slice() {
        [] => None,
        words => {
            let found = people::carer_or_ended(words, ctx);
            Some(found.map_err(|refusal| coming::misspelt(words).unwrap_or(refusal))?)
        }
    };
    let (from, to) = dates(first, last, ctx)?;
    Ok(Ask::Sheet(SheetAsk { carer, from, to }))
}

/// A person and a span behind their name, or the span alone: "Tim this weekend". `None` where the words hold no part of a
/// span.
fn with_span(
    words: &[Token],
    (from, to): (Option<&[Token]>, Option<&[Token]>),
    ctx: &Context<'_>,
) -> Result<Option<(Option<CarerId>, Span)>, Refusal> {
    if people::called(words, ctx).is_some() {
        return Ok(None);
    }
    for at in 0..words.len() {
        let (name, bare) = words.split_at(at);
        let Some(span) = span::read(&Said { from, to, bare }, ctx) else {
            continue;
        };
        let carer = match name {
            [] => None,
            name => Some(people::carer_or_ended(name, ctx)?),
        };
        return Ok(Some((carer, span?)));
    }
    Ok(None)
}
