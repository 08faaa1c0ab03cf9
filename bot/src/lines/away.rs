//! `/away`: when somebody is away, or there again.

use jiff::civil;
use wrackline_core::journal::Absence;
use wrackline_core::place::{CarerId, RoundId};

use super::ask::{Ask, AwayAsk};
use super::coming::{self, Of};
use super::parse::Call;
use super::span::{self, Said, Span};
use super::token::{Token, join};
use super::{Context, Refusal, people, refuse, values};
use crate::msg;

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
    let words = std::mem::take(&mut call.args.bare);
    let said = Said {
        from: call.args.get("from"),
        to: call.args.get("to"),
        bare: &words,
    };
    let absence = match (said.from, said.to, words.as_slice()) {
        (None, None, []) if by.is_none() => return Ok(Ask::Away(AwayAsk::List)),
        (None, None, words) if !words.is_empty() => single(words, ctx)?,
        (_, None, []) => return Err(call.missing("to")),
        (_, _, words) => {
            let leftover = || refuse(msg!("no-line-leftover", text = join(words), usage = call.usage()));
            of_span(&span::read(&said, ctx).unwrap_or_else(|| Err(leftover()))?, ctx)
        }
    };
    let sure = call.args.has("sure");
    Ok(Ask::Away(AwayAsk::Set { absence, by, sure }))
}

/// A name before all else, taken out of the words: "Mia this weekend".
fn name(words: &mut Vec<Token>, ctx: &Context<'_>) -> Option<CarerId> {
    let most = words.len().min(NAME_WORDS_MAX);
    let find = |read: &dyn Fn(&[Token]) -> Option<CarerId>, least: usize| {
        (least..=most)
            .rev()
            .find_map(|to| Some((to, read(&words[..to])?)))
    };
    // A name of several words may begin with one of a day: "Sun Li".
    let whole = find(&|words| people::called(words, ctx), 2);
    let in_part = || find(&|words| people::carer(words, ctx).ok(), 1);
    let (to, carer) = whole.or_else(|| if is_span(words, ctx) { None } else { in_part() })?;
    words.drain(..to);
    Some(carer)
}

/// Whether words begin with a day or a span.
fn is_span(words: &[Token], ctx: &Context<'_>) -> bool {
    coming::read(words, ctx).is_some()
        || (1..=words.len()).any(|to| matches!(span::alone(&words[..to], ctx), Some(Ok(_))))
}

/// An absence without a first and a last day: single rounds, or a span as people say it.
fn single(words: &[Token], ctx: &Context<'_>) -> Result<Absence, Refusal> {
    let days = match words {
        [first, rest @ ..] if first.is("for") && !rest.is_empty() => rest,
        words => words,
    };
    // A round that is called "Evening" is meant by its name.
    let is_part = |found: &coming::Coming| matches!(found.of, Of::Part(_));
    let is_round = coming::whole(days, ctx).is_ok_and(|found| !is_part(&found));
    match span::alone(words, ctx) {
        Some(span) if !is_round => Ok(of_span(&span?, ctx)),
        _ => Ok(Absence::Rounds(rounds(days, ctx)?)),
    }
}

fn of_span(span: &Span, ctx: &Context<'_>) -> Absence {
    Absence::Span {
        from: span.from.start(ctx),
        to: span.to.end(ctx),
    }
}

/// Single rounds: "friday evening and saturday"; a day without a round is all of its rounds.
fn rounds(words: &[Token], ctx: &Context<'_>) -> Result<Vec<(RoundId, civil::Date)>, Refusal> {
    let mut all = Vec::new();
    for part in words.split(Token::joins).filter(|part| !part.is_empty()) {
        let day = coming::whole(part, ctx)?;
        let on_day = |round| (round, day.date);
        match day.of {
            Of::Time(_) => return Err(refuse(msg!("no-day-with-time", text = join(part)))),
            Of::Round(round) => all.push((round, day.date)),
            Of::Day => all.extend(ctx.place.rounds.iter().map(|round| on_day(round.id))),
            Of::Part(of_day) => {
                let held = of_day.rounds(day.date, ctx);
                if held.is_empty() {
                    return Err(refuse(msg!("no-day-without-round", text = join(part))));
                }
                all.extend(held.into_iter().map(on_day));
            }
        }
    }
    all.sort_by_key(|(round, date)| (*date, *round));
    all.dedup();
    Ok(all)
}
