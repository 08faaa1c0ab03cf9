//! `/away`: when somebody is away, or there again.

mod words;

use jiff::Timestamp;
use wrackline_core::civil::plus_days;
use wrackline_core::journal::Absence;
use wrackline_core::place::{CarerId, RoundId};

use super::ask::{Ask, AwayAsk};
use super::coming::{self, Coming};
use super::parse::Call;
use super::token::{Token, join};
use super::{Context, Refusal, people, refuse, schedule, values, when};
use crate::msg;

/// Days from one weekday to the next of its name.
const DAYS_OF_WEEK: i64 = 7;

/// The most words that a name has.
const NAME_WORDS_MAX: usize = 4;

/// Reads an `/away` line.
pub(super) fn away(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let by = match values::carer(&call.args, "by", ctx)? {
        None => name(&mut call.args.bare, ctx),
        by => by,
    };
    let is_said = |name: &&str| call.args.has(name);
    let among = |names: &[&str]| names.iter().filter(|name| is_said(name)).count();
    let (alone, others) = (among(&["back", "list"]), among(&["from", "to"]));
    let is_of_one = call.args.has("list") && by.is_some();
    if alone > 1 || alone == 1 && others > 0 || is_of_one {
        return Err(refuse(msg!("no-line-needs-only-one", usage = call.usage())));
    }
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
    let to = to.map(|to| after(to, call.args.get("to").unwrap_or_default(), from.as_ref(), ctx));
    let words = std::mem::take(&mut call.args.bare);
    let lasting = words::lasting(&words, ctx).transpose()?;
    let absence = match (from, to, words.as_slice()) {
        (None, None, []) if by.is_none() => return Ok(Ask::Away(AwayAsk::List)),
        (None, None, []) => return Err(call.missing("to")),
        (from, Some(to), []) => Absence::Span {
            from: from.map_or(ctx.now, |from| start(&from, ctx)),
            to: end(&to, ctx),
        },
        (Some(from), None, words) if !words.is_empty() && lasting.is_some() => {
            let from = start(&from, ctx);
            let to = schedule::later(from, lasting.unwrap_or_default(), ctx);
            Absence::Span { from, to }
        }
        (None, None, words) => single(words, ctx)?,
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

/// A name before all else, taken out of the words: "Mia this weekend".
fn name(words: &mut Vec<Token>, ctx: &Context<'_>) -> Option<CarerId> {
    let is_time = |words: &[Token]| {
        coming::read(words, ctx).is_some()
            || (1..=words.len()).any(|to| words::span(&words[..to], ctx).is_some())
    };
    if is_time(words) {
        return None;
    }
    let most = words.len().min(NAME_WORDS_MAX);
    let found = (1..=most).rev().find_map(|to| {
        let carer = people::carer(&words[..to], ctx).ok()?;
        Some((to, carer))
    });
    let (to, carer) = found?;
    words.drain(..to);
    Some(carer)
}

/// The last day of an absence. A weekday is the first of its name after the day on which the absence begins, so that
/// "until Sunday" said on a Sunday is a week; "today", and "this", say the day itself.
fn after(to: Coming, words: &[Token], from: Option<&Coming>, ctx: &Context<'_>) -> Coming {
    let is_weekday = |word: &Token| !word.quoted && when::weekday(&word.key).is_some();
    if !words.iter().any(is_weekday) || words.iter().any(|word| word.is("this")) {
        return to;
    }
    let (first, begins) = match from {
        Some(from) => (from.date, start(from, ctx)),
        None => (ctx.place.zone.date(ctx.now), ctx.now),
    };
    let is_day = to.time.is_none() && to.round.is_none();
    let ahead = i64::from(first.weekday().until(to.date.weekday()));
    let nearest = Coming {
        date: to.date.max(plus_days(first, ahead)),
        ..to
    };
    let is_before = end(&nearest, ctx) <= begins || (is_day && nearest.date <= first);
    let weeks = i64::from(is_before);
    Coming {
        date: plus_days(nearest.date, weeks * DAYS_OF_WEEK),
        ..nearest
    }
}

/// An absence without a first and a last day: a span as people say it, or single rounds.
fn single(words: &[Token], ctx: &Context<'_>) -> Result<Absence, Refusal> {
    let words = match words {
        [first, rest @ ..] if first.is("for") && !rest.is_empty() => rest,
        words => words,
    };
    // A round that is called "Evening" is meant by its name.
    if coming::whole(words, ctx).is_err()
        && let Some((from, to)) = words::span(words, ctx)
    {
        return Ok(Absence::Span { from, to });
    }
    Ok(Absence::Rounds(rounds(words, ctx)?))
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
