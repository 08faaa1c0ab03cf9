//! A zone's clock over a span, as `VTIMEZONE` tells it: each change by itself, without a rule, since rules of zones do
//! not last and the span is a few weeks.

use calcard::icalendar::{ICalendarComponentType, ICalendarProperty as P};
use jiff::tz::Offset;
use jiff::{SignedDuration, Timestamp};
use wrackline_core::civil::{Step, Zone, plus_minutes};

use super::{Part, local};

/// How much of the clock is told before and after the span, in minutes: a day, so that every length of a turn and every
/// alarm lies within.
const BESIDE_MIN: i64 = 24 * 60;

/// The zone's clock from a day before one moment to a day after another.
pub(super) fn zone(zone: &Zone, from: Timestamp, until: Timestamp) -> Part {
    let mut whole = Part::new(ICalendarComponentType::VTimezone);
    whole.put(P::Tzid, zone.name());
    let steps = zone.steps(plus_minutes(from, -BESIDE_MIN), plus_minutes(until, BESIDE_MIN));
    whole.parts = steps.iter().map(observance).collect();
    whole
}

/// The time from one change of the clock on.
fn observance(step: &Step) -> Part {
    let mut part = Part::new(match step.is_summer {
        true => ICalendarComponentType::Daylight,
        false => ICalendarComponentType::Standard,
    });
    // The change is told by the clock that it ends.
    let seconds = SignedDuration::from_secs(i64::from(step.before_s));
    let shown = step.at.saturating_add(seconds).unwrap_or(step.at);
    part.put(P::Dtstart, local(Offset::UTC.to_datetime(shown)));
    part.put(P::Tzoffsetfrom, offset(step.before_s));
    part.put(P::Tzoffsetto, offset(step.after_s));
    part.put(P::Tzname, &step.name);
    part
}

/// An offset as RFC 5545 writes it; seconds only where there are some.
fn offset(seconds: i32) -> String {
    let (sign, all) = (if seconds < 0 { '-' } else { '+' }, seconds.unsigned_abs());
    let (hours, minutes, rest) = (all / 3600, all / 60 % 60, all % 60);
    match rest {
        0 => format!("{sign}{hours:02}{minutes:02}"),
        _ => format!("{sign}{hours:02}{minutes:02}{rest:02}"),
    }
}

#[cfg(test)]
mod tests {
    use super::offset;

    #[test]
    fn check_offset() {
        for (seconds, told) in [
            (0, "+0000"),
            (3600, "+0100"),
            (-12_600, "-0330"),
            (20_700, "+0545"),
            (-1_521, "-002521"),
        ] {
            assert_eq!(offset(seconds), told);
        }
    }
}
