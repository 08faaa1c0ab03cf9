//! `/link`.

use wrackline_core::quantity::duration_min;

use super::ask::{Alarm, Ask, LinkAsk};
use super::parse::Call;
use super::people::is_nobody;
use super::token::{Token, join};
use super::{Refusal, refuse};
use crate::msg;

/// The earliest alarm, in minutes before a turn: a day.
const ALARM_MIN_MAX: u32 = 24 * 60;

/// Reads a `/link` line.
pub(super) fn link(call: Call<'_>, sub: &str) -> Result<Ask, Refusal> {
    if sub != "calendar" {
        return call.done(Ask::Link(LinkAsk::List));
    }
    let alarm = call.args.get("alarm").map(alarm).transpose()?;
    let ask = match (call.args.has("off"), alarm) {
        (true, Some(_)) => return Err(refuse(msg!("no-link-off-alarm"))),
        (true, None) => LinkAsk::CalendarOff,
        (false, alarm) => LinkAsk::Calendar {
            alarm: alarm.unwrap_or(Alarm::AsBefore),
        },
    };
    call.done(Ask::Link(ask))
}

/// How long before a turn an alarm rings, in whole minutes, or that none does.
fn alarm(words: &[Token]) -> Result<Alarm, Refusal> {
    if is_nobody(words) {
        return Ok(Alarm::Off);
    }
    let text = join(words);
    let whole = |minutes: f64| (1..=ALARM_MIN_MAX).find(|whole| f64::from(*whole) == minutes);
    match duration_min(&text).ok().and_then(whole) {
        Some(minutes) => Ok(Alarm::Before(minutes)),
        None => Err(refuse(msg!("no-link-alarm", text = text))),
    }
}
