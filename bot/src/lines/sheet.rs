//! `/sheet`.

use jiff::civil;
use wrackline_core::civil::plus_days;

use super::ask::{Ask, SheetAsk};
use super::parse::Call;
use super::token::{Token, join};
use super::{Refusal, people, refuse, when};
use crate::msg;

/// Reads a `/sheet` line.
pub(super) fn sheet(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let words = std::mem::take(&mut call.args.bare);
    let carer = match words.as_slice() {
        [] => None,
        words => Some(people::carer(words, ctx)?),
    };
    let today = ctx.place.zone.date(ctx.now);
    let from = call.args.get("from").map(|words| day(words, today, today));
    let from = from.transpose()?;
    let to = call.args.get("to");
    let to = to
        .map(|words| day(words, today, from.unwrap_or(today)))
        .transpose()?;
    Ok(Ask::Sheet(SheetAsk { carer, from, to }))
}

/// A day as people name one that is to come: a date, "tomorrow", or a weekday, which is the first from a day on.
fn day(words: &[Token], today: civil::Date, from: civil::Date) -> Result<civil::Date, Refusal> {
    let unreadable = || refuse(msg!("no-date-unreadable", text = join(words)));
    let [word] = words else { return Err(unreadable()) };
    if let Some(weekday) = when::weekday(&word.key) {
        let days = i64::from(weekday - from.weekday().to_monday_one_offset()).rem_euclid(7);
        return Ok(plus_days(from, days));
    }
    match word.key.as_str() {
        "today" => Ok(today),
        "tomorrow" => Ok(plus_days(today, 1)),
        key => when::date(key).ok_or_else(unreadable),
    }
}
