//! `/away`: when somebody is away, or there again.

use jiff::Timestamp;
use wrackline_core::civil::plus_days;
use wrackline_core::journal::Absence;
use wrackline_core::place::RoundId;

use super::ask::{Ask, AwayAsk};
use super::coming::{self, Coming};
use super::parse::Call;
use super::token::{Token, join};
use super::{Context, Refusal, refuse, values};
use crate::msg;

/// Reads an `/away` line.
pub(super) fn away(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let by = values::carer(&call.args, "by", ctx)?;
    if call.args.has("back") {
        return call.done(Ask::Away(AwayAsk::Back { by }));
    }
    if call.args.has("list") {
        return call.done(Ask::Away(AwayAsk::List));
    }
    let said = |name: &str| {
        let words = call.args.get(name);
        words.map(|words| coming::whole(words, ctx)).transpose()
    };
    let (from, to) = (said("from")?, said("to")?);
    let words = std::mem::take(&mut call.args.bare);
    let absence = match (from, to, words.as_slice()) {
        (None, None, []) => return Ok(Ask::Away(AwayAsk::List)),
        (from, Some(to), []) => Absence::Span {
            from: from.map_or(ctx.now, |from| start(&from, ctx)),
            to: end(&to, ctx),
        },
        (None, None, words) => Absence::Rounds(rounds(words, ctx)?),
        (_, None, []) => return Err(call.missing("to")),
        (_, _, words) => {
            return Err(refuse(msg!(
                "no-line-leftover",
                text = join(words),
                usage = call.usage()
            )));
        }
    };
    let sure = call.args.has("sure");
    Ok(Ask::Away(AwayAsk::Set { absence, by, sure }))
}

/// The moment from which someone is away: today means now.
fn start(day: &Coming, ctx: &Context<'_>) -> Timestamp {
    let today = ctx.place.zone.date(ctx.now);
    match moment(day, ctx) {
        Some(moment) => moment,
        None if day.date == today => ctx.now,
        None => ctx.place.zone.day_start(day.date),
    }
}

/// The moment from which someone is there again: a day alone is away to its end.
fn end(day: &Coming, ctx: &Context<'_>) -> Timestamp {
    moment(day, ctx).unwrap_or_else(|| ctx.place.zone.day_start(plus_days(day.date, 1)))
}

/// The moment of a day with its time of day or its round.
fn moment(day: &Coming, ctx: &Context<'_>) -> Option<Timestamp> {
    let of_round = |id: RoundId| {
        let round = ctx.place.rounds.iter().find(|round| round.id == id)?;
        Some(wrackline_core::civil::hold(&ctx.place.zone, round, day.date).at)
    };
    match day.time {
        Some(time) => Some(ctx.place.zone.instant(day.date.to_datetime(time))),
        None => day.round.and_then(of_round),
    }
}

/// Single rounds: "friday evening and saturday"; a day without a round is all of its rounds.
fn rounds(words: &[Token], ctx: &Context<'_>) -> Result<Vec<(RoundId, jiff::civil::Date)>, Refusal> {
    let mut all = Vec::new();
    for part in words.split(Token::joins).filter(|part| !part.is_empty()) {
        let day = coming::whole(part, ctx)?;
        if day.time.is_some() {
            return Err(refuse(msg!("no-day-with-time", text = join(part))));
        }
        match day.round {
            Some(round) => all.push((round, day.date)),
            None => all.extend(ctx.place.rounds.iter().map(|round| (round.id, day.date))),
        }
    }
    all.sort_by_key(|(round, date)| (*date, *round));
    all.dedup();
    Ok(all)
}
