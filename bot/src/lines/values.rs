//! Arguments of a line as values.

use jiff::{SignedDuration, Timestamp, civil};
use wrackline_core::civil::plus_days;
use wrackline_core::place::{CarerId, QuietHours};
use wrackline_core::quantity::{Problem, fraction, length_cm, volume};

use super::claim::best;
use super::problem::problem;
use super::split::Args;
use super::table::Kind;
use super::token::{Token, join};
use super::{Context, Refusal, choice, people, refuse, schedule, when};
use crate::msg;

/// The argument `at`: a moment that lies in the past.
pub(super) fn past(args: &Args, ctx: &Context<'_>) -> Result<Option<Timestamp>, Refusal> {
    at(args, ctx)?.map(|moment| when::past(moment, ctx)).transpose()
}

/// The argument `at`: a moment.
pub(super) fn at(args: &Args, ctx: &Context<'_>) -> Result<Option<Timestamp>, Refusal> {
    let Some(words) = args.get("at") else {
        return Ok(None);
    };
    when::timed(said(words, ctx)?, &join(words)).map(Some)
}

/// The argument `at`: a moment, or a day that is meant up to its end, or up to now.
pub(super) fn at_or_end_of_day(args: &Args, ctx: &Context<'_>) -> Result<Option<Timestamp>, Refusal> {
    let Some(words) = args.get("at") else {
        return Ok(None);
    };
    match said(words, ctx)? {
        when::Said::Moment(moment) => Ok(Some(moment)),
        when::Said::Day(date) => {
            let next = ctx.place.zone.day_start(plus_days(date, 1));
            let last = next.checked_sub(SignedDuration::from_secs(1)).unwrap_or(next);
            Ok(Some(if ctx.place.zone.date(ctx.now) == date {
                ctx.now
            } else {
                last
            }))
        }
    }
}

/// The argument `from`: a moment, or a day that is meant from its start.
pub(super) fn from(args: &Args, ctx: &Context<'_>) -> Result<Option<Timestamp>, Refusal> {
    let Some(words) = args.get("from") else {
        return Ok(None);
    };
    said(words, ctx).map(|said| Some(when::starting(said, ctx)))
}

/// The argument `to`: a moment, or a day that is meant up to its end; today is meant up to now.
pub(super) fn to_end_of_day(args: &Args, ctx: &Context<'_>) -> Result<Option<Timestamp>, Refusal> {
    let Some(words) = args.get("to") else {
        return Ok(None);
    };
    Ok(Some(match said(words, ctx)? {
        when::Said::Moment(moment) => moment,
        when::Said::Day(date) if ctx.place.zone.date(ctx.now) == date => ctx.now,
        when::Said::Day(date) => ctx.place.zone.day_start(plus_days(date, 1)),
    }))
}

fn said(words: &[Token], ctx: &Context<'_>) -> Result<when::Said, Refusal> {
    match when::read(words, ctx) {
        Some(found) => found.map(|(said, _)| said),
        None => Err(refuse(msg!("no-time-unknown", text = join(words)))),
    }
}

/// A time of day.
pub(super) fn clock(words: &[Token]) -> Result<civil::Time, Refusal> {
    match when::clock(words) {
        Some((time, used)) if used == words.len() => time,
        _ => Err(refuse(msg!("no-time-no-clock", text = join(words)))),
    }
}

/// Two times of day: "22:00 to 07:00".
pub(super) fn clock_span(words: &[Token]) -> Result<Option<QuietHours>, Refusal> {
    if people::is_nobody(words) {
        return Ok(None);
    }
    let wrong = || refuse(msg!("no-time-no-span", text = join(words)));
    let spread = super::token::tokens(&join(words).replace(['-', '–'], " to "));
    let (from, to) = match spread.iter().position(|token| token.is("to")) {
        Some(between) => (clock(&spread[..between])?, clock(&spread[between + 1..])?),
        None => match spread.as_slice() {
            [from, to] => (
                clock(std::slice::from_ref(from)).map_err(|_| wrong())?,
                clock(std::slice::from_ref(to)).map_err(|_| wrong())?,
            ),
            _ => return Err(wrong()),
        },
    };
    if from == to {
        Err(wrong())
    } else {
        Ok(Some(QuietHours { from, to }))
    }
}

/// A carer.
pub(super) fn carer(args: &Args, name: &str, ctx: &Context<'_>) -> Result<Option<CarerId>, Refusal> {
    args.get(name).map(|words| people::carer(words, ctx)).transpose()
}

/// Who did something: a carer, or a sitter whose span is over.
pub(super) fn doer(args: &Args, name: &str, ctx: &Context<'_>) -> Result<Option<CarerId>, Refusal> {
    args.get(name)
        .map(|words| people::carer_or_ended(words, ctx))
        .transpose()
}

/// A carer or nobody.
pub(super) fn carer_or_nobody(
    args: &Args,
    name: &str,
    ctx: &Context<'_>,
) -> Result<Option<Option<CarerId>>, Refusal> {
    let one = |words: &[Token]| {
        if people::is_nobody(words) {
            Ok(None)
        } else {
            people::carer(words, ctx).map(Some)
        }
    };
    args.get(name).map(one).transpose()
}

/// Litres.
pub(super) fn litres(args: &Args, name: &str, ctx: &Context<'_>) -> Result<Option<f64>, Refusal> {
    let units = ctx.place.units;
    let read = |words: &[Token]| volume(&join(words), units).map_err(|p| Refusal(problem(&p, units)));
    args.get(name).map(read).transpose()
}

/// Centimetres.
pub(super) fn centimetres(args: &Args, name: &str, ctx: &Context<'_>) -> Result<Option<f64>, Refusal> {
    let units = ctx.place.units;
    let read = |words: &[Token]| length_cm(&join(words), units).map_err(|p| Refusal(problem(&p, units)));
    args.get(name).map(read).transpose()
}

/// A part of a whole.
pub(super) fn part(args: &Args, ctx: &Context<'_>) -> Result<Option<f64>, Refusal> {
    fraction_of(args, "part", ctx)
}

/// A part of a whole, by the argument's name.
pub(super) fn fraction_of(args: &Args, name: &str, ctx: &Context<'_>) -> Result<Option<f64>, Refusal> {
    let units = ctx.place.units;
    let read = |words: &[Token]| fraction(&join(words)).map_err(|p| Refusal(problem(&p, units)));
    args.get(name).map(read).transpose()
}

/// Whole hours.
pub(super) fn hours(args: &Args, name: &str, ctx: &Context<'_>) -> Result<Option<u32>, Refusal> {
    args.get(name)
        .map(|words| schedule::hours(words, ctx))
        .transpose()
}

/// A whole number up to a limit.
pub(super) fn number(args: &Args, name: &str, most: u32) -> Result<Option<u32>, Refusal> {
    let read = |words: &[Token]| {
        let text = join(words);
        let number = text.parse::<u32>().ok().filter(|number| *number <= most);
        number.ok_or_else(|| refuse(msg!("no-number-unreadable", text = text, most = most)))
    };
    args.get(name).map(read).transpose()
}

/// Yes or no.
pub(super) fn switch(args: &Args, name: &str) -> Result<Option<bool>, Refusal> {
    args.get(name).map(choice::switch).transpose()
}

/// A text.
pub(super) fn text(args: &Args, name: &str) -> Option<String> {
    args.get(name).map(join)
}

/// Takes the last quantity of a kind out of the bare words, for an argument that is clear without its small word.
pub(super) fn take_quantity(args: &mut Args, name: &'static str, kind: Kind, ctx: &Context<'_>) {
    let units = ctx.place.units;
    let end = |from: usize| {
        let run = &args.bare[from..];
        let used = match kind {
            Kind::Fraction => best(run, &|text| fraction(text))
                .ok()
                .filter(|used| is_part(&run[..*used])),
            _ => best(run, &|text| volume(text, units)).ok(),
        };
        used.map(|used| from + used)
    };
    let Some((last, to)) = (0..args.bare.len())
        .rev()
        .find_map(|from| end(from).map(|to| (from, to)))
    else {
        return;
    };
    // "1 1/2 gal" ends like "1/2 gal" and starts before it.
    let from = (0..last).find(|from| end(*from) == Some(to)).unwrap_or(last);
    args.take(name, from, to);
}

/// Whether a fraction is one at sight: a bare "1" may belong to a name.
fn is_part(words: &[Token]) -> bool {
    words
        .iter()
        .any(|word| word.key.contains('%') || matches!(word.key.as_str(), "percent" | "half"))
}

/// Whether words hold a volume.
pub(super) fn holds_volume(words: &[Token], ctx: &Context<'_>) -> bool {
    let units = ctx.place.units;
    (0..words.len()).any(|from| best(&words[from..], &|text| volume(text, units)).is_ok())
}

/// What is wrong with the figures among the bare words, where a volume is missing: "400", "-4 L", "40 kg".
pub(super) fn no_volume(args: &Args, ctx: &Context<'_>) -> Option<Refusal> {
    let units = ctx.place.units;
    let figure = |word: &Token| !word.quoted && word.key.contains(|c: char| c.is_ascii_digit());
    let from = args.bare.iter().rposition(figure)?;
    match best(&args.bare[from..], &|text| volume(text, units)) {
        Err(Problem::NotANumber { .. } | Problem::Unknown { .. }) | Ok(_) => None,
        Err(found) => Some(Refusal(problem(&found, units))),
    }
}
