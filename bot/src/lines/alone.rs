//! `/alone`: a span from now on, or from one moment to another. Days without a time of day are taken at their longest:
//! from the first round of the day of leaving to the last round of the day of return.

use jiff::Timestamp;
use wrackline_core::civil::hold;

use super::ask::{Ask, LeftAlone};
use super::parse::Call;
use super::span::{self, Edge, Said, Span};
use super::token::join;
use super::{Context, Refusal, refuse, schedule};
use crate::msg;

/// Reads an `/alone` line.
pub(super) fn alone(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let mut bare = std::mem::take(&mut call.args.bare);
    if let Some(span) = call.args.get("span") {
        bare.splice(0..0, span.iter().cloned());
    }
    let said = Said {
        from: call.args.get("leave"),
        to: call.args.get("back"),
        bare: &bare,
    };
    if said.to.is_some() && span::length(&bare, ctx).is_some() {
        return Err(refuse(msg!("no-alone-both", usage = call.usage())));
    }
    if said.to.is_none() && bare.is_empty() {
        return Err(call.missing("span"));
    }
    let leftover = || {
        // Of what begins with a figure that is told what is wrong.
        let is_figure = bare
            .first()
            .is_some_and(|word| word.key.starts_with(|c: char| c.is_ascii_digit() || c == '-'));
        let wrong = schedule::length(&bare, ctx)
            .err()
            .filter(|_| is_figure && said.to.is_none());
        wrong.unwrap_or_else(|| refuse(msg!("no-line-leftover", text = join(&bare), usage = call.usage())))
    };
    let Span { from, to, lasting } = span::read(&said, ctx).unwrap_or_else(|| Err(leftover()))?;
    let leave = leaving(from, ctx);
    let back = match lasting {
        Some(length) => length.behind(leave, ctx),
        None => returning(to, ctx),
    };
    Ok(Ask::Alone(LeftAlone { leave, back }))
}

fn leaving(from: Edge, ctx: &Context<'_>) -> Timestamp {
    let (zone, rounds) = (&ctx.place.zone, &ctx.place.rounds);
    match from {
        // Today's first round may be over.
        Edge::Day(date) if date == zone.date(ctx.now) => hold(zone, &rounds[0], date).at.max(ctx.now),
        Edge::Day(date) => hold(zone, &rounds[0], date).at,
        edge => edge.start(ctx),
    }
}

/// With a round somebody is back at that.
fn returning(to: Edge, ctx: &Context<'_>) -> Timestamp {
    let Edge::Day(date) = to else {
        return to.moment(ctx).unwrap_or(ctx.now);
    };
    let held = ctx
        .place
        .rounds
        .iter()
        .map(|round| hold(&ctx.place.zone, round, date).at);
    held.max().unwrap_or_else(|| to.end(ctx))
}
