//! `/carer`: the people who share the work.

use jiff::civil;
use wrackline_core::people::Span;
use wrackline_core::place::Role;
use wrackline_core::quantity::Units;

use super::ask::{Ask, CarerField, DaysSaid, SetUp};
use super::parse::Call;
use super::span::{self, Edge};
use super::table::Kind;
use super::token::{Token, join};
use super::{Context, Refusal, choice, coming, figure, mention, names, people, place, refuse, table, values};
use crate::msg;

/// Reads a `/carer` line.
pub(super) fn carer(mut call: Call<'_>, sub: &str) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    match sub {
        "add" => add(call),
        "set" => set(call),
        "retire" => {
            let carer = people::carer_or_ended(&call.bare("carer")?, ctx)?;
            Ok(Ask::SetUp(SetUp::CarerRetire { carer }))
        }
        _ if call.args.bare.is_empty() => Ok(Ask::SetUp(SetUp::CarerList)),
        _ => {
            let carer = people::carer_or_ended(&call.bare("carer")?, ctx)?;
            Ok(Ask::SetUp(SetUp::CarerShow { carer }))
        }
    }
}

fn add(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let account = mention::take(&mut call, "member", Kind::Member);
    let mut words = call.new_name()?;
    let said = call.args.get("role").map(choice::role).transpose()?;
    let role = match (said, words.as_slice()) {
        (Some(role), _) => role,
        (None, [_, .., last]) if !last.quoted => match choice::role(std::slice::from_ref(last)) {
            Ok(role) => {
                words.pop();
                role
            }
            Err(_) => Role::Regular,
        },
        _ => Role::Regular,
    };
    if let [.., last] = words.as_slice()
        && last.is("as")
    {
        words.pop();
    }
    // A name swallows whatever stands beside it: what cannot be part of one is named instead.
    let odd = |word: &Token| {
        !word.quoted
            && (word.key.chars().any(|c| c.is_ascii_digit())
                || ["until", "from", "to", "as", "by", "role", "and"]
                    .iter()
                    .any(|small| word.is(small))
                || choice::role(std::slice::from_ref(word)).is_ok())
    };
    if let Some(odd) = words.iter().find(|word| odd(word)) {
        return Err(refuse(msg!(
            "no-carer-odd-name",
            word = odd.text.clone(),
            name = join(&words)
        )));
    }
    let taken = people::with_ended(ctx);
    let name = names::person(&words, taken.iter().map(|(_, name)| *name), ctx)?;
    let span = match days(&call)? {
        Some(DaysSaid::Days { from, to: Some(to) }) => {
            let from = from.unwrap_or(ctx.place.zone.date(ctx.now));
            Some(Span { from, to })
        }
        Some(_) => return Err(refuse(msg!("no-span-end"))),
        None => None,
    };
    Ok(Ask::SetUp(SetUp::CarerAdd {
        name,
        role,
        account,
        span,
    }))
}

fn set(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let account = mention::take(&mut call, "member", Kind::Member);
    let words = call.bare("carer")?;
    let carer =
        people::carer_or_ended(&words, ctx).map_err(|refusal| left_over(&call, &words).unwrap_or(refusal))?;
    let mut fields: Vec<CarerField> = account.map(CarerField::Account).into_iter().collect();
    let role = call.args.get("role").map(choice::role).transpose()?;
    fields.extend(role.map(CarerField::Role));
    let stand_in = values::carer_or_nobody(&call.args, "stand-in", ctx)?;
    if stand_in == Some(Some(carer)) {
        return Err(refuse(msg!("no-carer-own-stand-in", name = ctx.book.name(carer))));
    }
    fields.extend(stand_in.map(CarerField::StandIn));
    fields.extend(days(&call)?.map(CarerField::Days));
    fields.extend(call.args.get("zone").map(zone).transpose()?.map(CarerField::Zone));
    fields.extend(
        call.args
            .get("units")
            .map(units)
            .transpose()?
            .map(CarerField::Units),
    );
    fields.extend(read(&call, "language", figure::language)?.map(CarerField::Language));
    fields.extend(read(&call, "free", |words| figure::free(words, ctx))?.map(CarerField::Free));
    fields.extend(read(&call, "quiet", values::clock_span)?.map(CarerField::Quiet));
    fields.extend(read(&call, "skill", figure::skill)?.map(CarerField::Skill));
    fields.extend(read(&call, "lifts", |words| figure::lifts(words, ctx))?.map(CarerField::Lifts));
    fields.extend(read(&call, "share", figure::share)?.map(CarerField::Share));
    fields.extend(read(&call, "minutes", figure::minutes)?.map(CarerField::Minutes));
    fields.extend(values::switch(&call.args, "private")?.map(CarerField::Private));
    Ok(Ask::SetUp(SetUp::CarerSet { carer, fields }))
}

fn read<T>(
    call: &Call<'_>,
    name: &str,
    reader: impl FnOnce(&[Token]) -> Result<T, Refusal>,
) -> Result<Option<T>, Refusal> {
    call.args.get(name).map(reader).transpose()
}

/// What stands behind a name and belongs to nothing: mostly a round that is misspelt behind weekdays.
fn left_over(call: &Call<'_>, words: &[Token]) -> Option<Refusal> {
    let ctx = call.ctx;
    let named = |cut: &usize| people::carer_or_ended(&words[..*cut], ctx).is_ok();
    let cut = (1..words.len()).rev().find(named)?;
    let round = people::round(&words[cut..], ctx)
        .err()
        .filter(|_| call.args.has("free"));
    Some(round.unwrap_or_else(|| {
        refuse(msg!(
            "no-line-leftover",
            text = join(&words[cut..]),
            usage = call.usage()
        ))
    }))
}

/// "Europe/London", "none".
fn zone(words: &[Token]) -> Result<Option<String>, Refusal> {
    if people::is_nobody(words) {
        return Ok(None);
    }
    place::zone_named(&join(words)).map(Some)
}

/// "us", "none".
fn units(words: &[Token]) -> Result<Option<Units>, Refusal> {
    let word = choice::of(words, table::OWN_UNITS)?;
    Ok([Units::Metric, Units::Us, Units::Imperial]
        .into_iter()
        .find(|units| units.as_str() == word))
}

/// The days of a span, as far as they were said.
fn days(call: &Call<'_>) -> Result<Option<DaysSaid>, Refusal> {
    let (first, last) = (call.args.get("starts"), call.args.get("ends"));
    if call.args.has("always") {
        return match first.or(last) {
            Some(_) => Err(refuse(msg!("no-span-and-always"))),
            None => Ok(Some(DaysSaid::Always)),
        };
    }
    if first.is_none() && last.is_none() {
        return Ok(None);
    }
    let (from, to) = dates(first, last, call.ctx)?;
    Ok(Some(DaysSaid::Days { from, to }))
}

/// The first and the last day of a span, each where it is said.
pub(super) fn dates(
    first: Option<&[Token]>,
    last: Option<&[Token]>,
    ctx: &Context<'_>,
) -> Result<(Option<civil::Date>, Option<civil::Date>), Refusal> {
    let begins = |words: &[Token]| {
        let from = span::from(words, last.unwrap_or_default(), ctx);
        from.unwrap_or_else(|| Err(coming::unknown(words)))
    };
    let from = first.map(begins).transpose()?;
    let begins = from.unwrap_or(Edge::Now);
    let to = last.map(|words| span::until(words, begins, ctx)).transpose()?;
    Ok((
        from.map(|from| from.first_day(ctx)),
        to.map(|to| to.last_day(ctx)),
    ))
}
