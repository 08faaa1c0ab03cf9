//! `/alone`: a span from now on, or from one moment to another. Days without a time of day are taken at their longest:
//! from the first round of the day of leaving to the last round of the day of return.

use jiff::Timestamp;
use jiff::civil::Date;
use wrackline_core::civil::{hold, plus_days};

use super::ask::{Ask, LeftAlone};
use super::parse::Call;
use super::token::{Token, join};
use super::when::{self, Said};
use super::{Context, Refusal, refuse, schedule, values};
use crate::msg;

/// Reads an `/alone` line.
pub(super) fn alone(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let bare = std::mem::take(&mut call.args.bare);
    let span = match (call.args.get("span"), bare.as_slice()) {
        (Some(words), []) => Some(schedule::hours(words, ctx)?),
        (None, []) => None,
        (None, words) => Some(schedule::hours(words, ctx)?),
        (Some(_), words) => {
            let (text, usage) = (join(words), call.usage());
            return Err(refuse(msg!("no-line-leftover", text = text, usage = usage)));
        }
    };
    let today = ctx.place.zone.date(ctx.now);
    let leave = match call.args.get("leave") {
        Some(words) => leaving(coming(words, today, ctx)?, ctx),
        None => ctx.now,
    };
    let back = match (span, call.args.get("back")) {
        (Some(hours), None) => schedule::later(leave, hours, ctx),
        (None, Some(words)) => {
            let tomorrow = plus_days(ctx.place.zone.date(leave), 1);
            returning(coming(words, tomorrow, ctx)?, ctx)
        }
        (None, None) => return Err(call.missing("span")),
        (Some(_), Some(_)) => return Err(refuse(msg!("no-alone-both", usage = call.usage()))),
    };
    Ok(Ask::Alone(LeftAlone { leave, back }))
}

/// A moment or a day as it is said of what is to come: a weekday is the first one of that name from `earliest` on.
fn coming(words: &[Token], earliest: Date, ctx: &Context<'_>) -> Result<Said, Refusal> {
    let named = words.iter().position(|word| when::weekday(&word.key).is_some());
    let Some(at) = named else {
        let unknown = || refuse(msg!("no-time-unknown", text = join(words)));
        return when::read(words, ctx)
            .unwrap_or_else(|| Err(unknown()))
            .map(|(said, _)| said);
    };
    let weekday = when::weekday(&words[at].key).unwrap_or_default();
    let ahead = i64::from(weekday - earliest.weekday().to_monday_one_offset()).rem_euclid(7);
    let date = plus_days(earliest, ahead);
    let rest: Vec<Token> = words
        .iter()
        .enumerate()
        .filter(|(other, word)| *other != at && !word.is("on") && !word.is("at"))
        .map(|(_, word)| word.clone())
        .collect();
    if rest.is_empty() {
        return Ok(Said::Day(date));
    }
    let time = values::clock(&rest)?;
    Ok(Said::Moment(ctx.place.zone.instant(date.to_datetime(time))))
}

fn leaving(said: Said, ctx: &Context<'_>) -> Timestamp {
    let (zone, rounds) = (&ctx.place.zone, &ctx.place.rounds);
    match said {
        Said::Moment(moment) => moment,
        // Today's first round may be over.
        Said::Day(date) if date == zone.date(ctx.now) => hold(zone, &rounds[0], date).at.max(ctx.now),
        Said::Day(date) => hold(zone, &rounds[0], date).at,
    }
}

fn returning(said: Said, ctx: &Context<'_>) -> Timestamp {
    match said {
        Said::Moment(moment) => moment,
        Said::Day(date) => {
            let held = ctx
                .place
                .rounds
                .iter()
                .map(|round| hold(&ctx.place.zone, round, date).at);
            held.max().unwrap_or_else(|| ctx.place.zone.day_start(date))
        }
    }
}
