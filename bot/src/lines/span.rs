//! Spans of time to come, as people say them wherever a line takes one: "for 3 days", "this weekend", "until 6pm",
//! "monday to wednesday", "saturday afternoon".

mod edge;
mod named;

use jiff::{SignedDuration, Timestamp, civil};
use wrackline_core::civil::{hold, plus_days};
use wrackline_core::place::RoundId;

pub(super) use self::edge::{from, until};
pub(super) use self::named::length;
use super::schedule::Length;
use super::token::{Token, tokens};
use super::{Context, Refusal, coming};

/// Where a span begins or ends. What is named is of the span: a day and a part of it up to its end, a round with its
/// turns. A moment ends it at once.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Edge {
    /// Now.
    Now,
    /// A moment.
    Moment(Timestamp),
    /// A day.
    Day(civil::Date),
    /// A round of a day.
    Round(civil::Date, RoundId),
}

/// A span of time to come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Span {
    /// Its beginning.
    pub(super) from: Edge,
    /// Its end.
    pub(super) to: Edge,
    /// How long it was said to last, where its end was told so.
    pub(super) lasting: Option<Length>,
}

impl Edge {
    /// The moment at which a span begins here; today begins now.
    pub(super) fn start(self, ctx: &Context<'_>) -> Timestamp {
        let zone = &ctx.place.zone;
        match self {
            Self::Now => ctx.now,
            Self::Moment(moment) => moment,
            Self::Day(date) if date == zone.date(ctx.now) => ctx.now,
            Self::Day(date) => zone.day_start(date),
            Self::Round(date, id) => held(date, id, ctx).unwrap_or(ctx.now),
        }
    }

    /// The moment at which a span that ends here is over: behind a round that is the next one of its day, or the day's end.
    pub(super) fn end(self, ctx: &Context<'_>) -> Timestamp {
        let zone = &ctx.place.zone;
        let midnight = |date| zone.day_start(plus_days(date, 1));
        match self {
            Self::Now => ctx.now,
            Self::Moment(moment) => moment,
            Self::Day(date) => midnight(date),
            Self::Round(date, id) => {
                let at = held(date, id, ctx);
                let all = ctx.place.rounds.iter().map(|round| hold(zone, round, date).at);
                let later = all.filter(|next| Some(*next) > at).min();
                later.unwrap_or_else(|| midnight(date))
            }
        }
    }

    /// The day on which a span begins here.
    pub(super) fn first_day(self, ctx: &Context<'_>) -> civil::Date {
        ctx.place.zone.date(self.start(ctx))
    }

    /// The last day of which anything is of a span that ends here.
    pub(super) fn last_day(self, ctx: &Context<'_>) -> civil::Date {
        let end = self.end(ctx);
        let before = end.checked_sub(SignedDuration::from_secs(1)).unwrap_or(end);
        ctx.place.zone.date(before)
    }

    /// The moment itself: of a round the one at which it is held. `None` of a day, which has many.
    pub(super) fn moment(self, ctx: &Context<'_>) -> Option<Timestamp> {
        match self {
            Self::Now => Some(ctx.now),
            Self::Moment(moment) => Some(moment),
            Self::Day(_) => None,
            Self::Round(date, id) => held(date, id, ctx),
        }
    }
}

impl Span {
    /// A span of so much from a beginning on.
    fn lasting(from: Edge, length: Length, ctx: &Context<'_>) -> Self {
        let to = Edge::Moment(length.behind(from.start(ctx), ctx));
        Self {
            from,
            to,
            lasting: Some(length),
        }
    }

    /// Its first and its last day; "for 3 days" are three.
    pub(super) fn dates(&self, ctx: &Context<'_>) -> (civil::Date, civil::Date) {
        let first = self.from.first_day(ctx);
        let to = match self.lasting {
            Some(length @ (Length::Months(_) | Length::Days(_))) => {
                Edge::Moment(length.behind(ctx.place.zone.day_start(first), ctx))
            }
            _ => self.to,
        };
        (first, to.last_day(ctx))
    }
}

fn held(date: civil::Date, id: RoundId, ctx: &Context<'_>) -> Option<Timestamp> {
    let round = ctx.place.rounds.iter().find(|round| round.id == id)?;
    Some(hold(&ctx.place.zone, round, date).at)
}

/// What a line says of a span: behind "from", behind "to", and without either.
#[derive(Clone, Copy, Debug)]
pub(super) struct Said<'t> {
    /// Behind "from".
    pub(super) from: Option<&'t [Token]>,
    /// Behind "to".
    pub(super) to: Option<&'t [Token]>,
    /// Without a small word.
    pub(super) bare: &'t [Token],
}

/// Reads a span. `None` where the words are none, or where it has no end.
pub(super) fn read(said: &Said<'_>, ctx: &Context<'_>) -> Option<Result<Span, Refusal>> {
    let Said { from, to, bare } = *said;
    match (from, to, bare) {
        (from, Some(to), []) => Some(between(from, to, ctx)),
        (None, Some(to), bare) => edge::from(bare, to, ctx)
            .is_some()
            .then(|| between(Some(bare), to, ctx)),
        (Some(from), None, bare) => behind(from, bare, ctx),
        (None, None, bare) => alone(bare, ctx),
        (Some(_), Some(_), _) => None,
    }
}

fn between(from: Option<&[Token]>, to: &[Token], ctx: &Context<'_>) -> Result<Span, Refusal> {
    let from = match from {
        Some(words) => edge::from(words, to, ctx).unwrap_or_else(|| Err(coming::unknown(words)))?,
        None => Edge::Now,
    };
    let to = until(to, from, ctx)?;
    let lasting = None;
    Ok(Span { from, to, lasting })
}

/// A beginning and how long it lasts from there.
fn behind(from: &[Token], lasting: &[Token], ctx: &Context<'_>) -> Option<Result<Span, Refusal>> {
    let length = length(lasting, ctx)?;
    let from = edge::from(from, &[], ctx)?;
    Some(length.and_then(|length| Ok(Span::lasting(from?, length, ctx))))
}

/// A span without "from" and "to".
pub(super) fn alone(words: &[Token], ctx: &Context<'_>) -> Option<Result<Span, Refusal>> {
    if let Some(length) = length(words, ctx) {
        return Some(length.map(|length| Span::lasting(Edge::Now, length, ctx)));
    }
    let words = match words {
        [first, rest @ ..] if first.is("for") => rest,
        words => words,
    };
    if let Ok(coming) = coming::whole(words, ctx) {
        return Some(Ok(edge::both(&coming, ctx)));
    }
    if let Some(span) = named::span(words, ctx) {
        return Some(Ok(span));
    }
    // "Saturday for 2 days".
    if let Some(at) = words.iter().position(|word| word.is("for")).filter(|at| *at > 0) {
        return behind(&words[..at], &words[at..], ctx);
    }
    let spread = spread(words)?;
    let (from, to) = (&spread.0, &spread.1);
    edge::from(from, to, ctx)?.ok()?;
    Some(between(Some(from), to, ctx))
}

/// "Mon-wed", "3 – 5 July", "between monday and wednesday": both ends.
fn spread(words: &[Token]) -> Option<(Vec<Token>, Vec<Token>)> {
    let is_between = words.first()?.is("between");
    let parts: Vec<Token> = words[usize::from(is_between)..]
        .iter()
        .flat_map(undashed)
        .collect();
    let is_middle = |word: &Token| word.is("to") || is_between && word.is("and");
    let at = parts.iter().position(is_middle)?;
    let (from, to) = (&parts[..at], &parts[at + 1..]);
    (!from.is_empty() && !to.is_empty()).then(|| (from.to_vec(), to.to_vec()))
}

/// A word at whose dash two ends meet as both of them; a date keeps its own.
fn undashed(word: &Token) -> Vec<Token> {
    if word.quoted || super::when::date(&word.key).is_some() {
        return vec![word.clone()];
    }
    let text = word.text.replace(['-', '–', '—'], " to ");
    tokens(&text)
}
