//! `/batch` and `/trail`.

use wrackline_core::civil::plus_days;
use wrackline_core::quantity::{Kind, Measured, Problem, What, readings};
use wrackline_core::water::batch::BatchId;

use super::ask::{Ask, BatchAsk, Suspect};
use super::parse::Call;
use super::people::Vessels;
use super::problem::problem;
use super::table::Kind as Value;
use super::token::{Token, join};
use super::{Context, Refusal, choice, names, people, refuse, spot, values, when};
use crate::msg;

/// How far off a batch's date may lie, in days: prepared water that stands for longer is mixed anew. Common practice, no
/// published source.
const KEEPS_MAX_DAYS: i64 = 56;

/// Reads a `/batch` line.
pub(super) fn batch(mut call: Call<'_>, sub: &str) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let ask = match sub {
        "add" => add(&mut call)?,
        "set" => set(&mut call)?,
        "retire" => BatchAsk::Retire {
            batch: people::vessel(&call.bare("vessel")?, Vessels::InUse, ctx)?,
        },
        _ => BatchAsk::List,
    };
    call.done(Ask::Batch(ask))
}

fn add(call: &mut Call<'_>) -> Result<BatchAsk, Refusal> {
    let ctx = call.ctx;
    if !call.args.has("volume") {
        values::take_quantity(&mut call.args, "volume", Value::Volume, ctx);
    }
    let Some(litres) = values::litres(&call.args, "volume", ctx)? else {
        return Err(no_volume(call));
    };
    let apart = call.args.apart().map(<[Token]>::len);
    let words = call.bare("vessel")?;
    // Behind the volume stands the water; else it is the last word for one, since a vessel may be called like it.
    let behind = apart.map(|apart| words.len() - apart);
    let at_gap = behind.and_then(|from| spot::water(&words[from..]).map(|(_, used)| (from, from + used)));
    let found = at_gap.or_else(|| last_water(&words));
    let (from, to) = found.ok_or_else(|| call.missing("water"))?;
    if from == 0 {
        return Err(call.missing("vessel"));
    }
    let salt = salty(&words[to..], call)?;
    Ok(BatchAsk::Add {
        vessel: names::text(&words[..from])?,
        litres,
        water: choice::water(&words[from..to])?,
        salt,
        conditioned: call.args.has("conditioned"),
        from: values::from(&call.args, ctx)?,
    })
}

/// That the volume is missing, or what is wrong with it. What stands behind the water is its salt.
fn no_volume(call: &Call<'_>) -> Refusal {
    let mut before = call.args.clone();
    let end = last_water(&before.bare).map_or(before.bare.len(), |(from, _)| from);
    before.bare.truncate(end);
    values::no_volume(&before, call.ctx).unwrap_or_else(|| call.missing("volume"))
}

fn last_water(words: &[Token]) -> Option<(usize, usize)> {
    (0..words.len())
        .rev()
        .find_map(|from| spot::water(&words[from..]).map(|(_, used)| (from, from + used)))
}

fn set(call: &mut Call<'_>) -> Result<BatchAsk, Refusal> {
    let ctx = call.ctx;
    let words = call.bare("vessel")?;
    let (batch, rest) = vessel_and_rest(&words, Vessels::InUse, call)?;
    let measured = salty(&rest, call)?;
    let conditioned = call.args.has("conditioned");
    let use_by = call
        .args
        .get("use-by")
        .map(|words| day_to_come(words, ctx))
        .transpose()?;
    if measured.is_none() && !conditioned && use_by.is_none() {
        return Err(refuse(msg!("no-line-needs-some", usage = call.usage())));
    }
    Ok(BatchAsk::Set {
        batch,
        measured,
        conditioned,
        use_by,
    })
}

/// Reads a `/trail` line.
pub(super) fn trail(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let until = values::past(&call.args, ctx)?.unwrap_or(ctx.now);
    let words = call.bare("vessel")?;
    let (batch, rest) = vessel_and_rest(&words, Vessels::Until(until), &call)?;
    let read = read(&rest, &call)?;
    let unconditioned = call.args.has("unconditioned");
    let wrong = match read {
        None => unconditioned.then_some(Suspect::Unconditioned(None)),
        Some(Measured::Chlorine(mg_l)) => Some(Suspect::Unconditioned(Some(mg_l))),
        Some(_) if unconditioned => return Err(refuse(msg!("no-trail-both"))),
        Some(measured) => Some(Suspect::Salinity(measured)),
    };
    call.done(Ask::Batch(BatchAsk::Trail { batch, wrong }))
}

/// The vessel at the start of the words, and what stands behind its name.
fn vessel_and_rest(
    words: &[Token],
    which: Vessels,
    call: &Call<'_>,
) -> Result<(BatchId, Vec<Token>), Refusal> {
    let ctx = call.ctx;
    let ends = || (1..=words.len()).rev();
    let named = ends().find(|end| people::is_vessel(&words[..*end], which, ctx));
    // Part of a name is enough, where what is left can be read.
    let in_part = || {
        ends().find(|end| {
            people::vessel(&words[..*end], which, ctx).is_ok() && read(&words[*end..], call).is_ok()
        })
    };
    let first = |token: &Token| {
        token.is("sg") || token.is("salinity") || token.key.starts_with(|c: char| c.is_ascii_digit())
    };
    let end = named.or_else(in_part).unwrap_or_else(|| {
        words
            .iter()
            .position(first)
            .filter(|at| *at > 0)
            .unwrap_or(words.len())
    });
    let batch = people::vessel(&words[..end], which, ctx)?;
    Ok((batch, words[end..].to_vec()))
}

/// A reading of salt among words that hold nothing else.
fn salty(words: &[Token], call: &Call<'_>) -> Result<Option<Measured>, Refusal> {
    match read(words, call)? {
        Some(Measured::Chlorine(_)) => Err(leftover(words, call)),
        read => Ok(read),
    }
}

/// A reading of salt or chlorine among words that hold nothing else; a temperature beside it is let be. A number
/// alone is a salinity.
fn read(words: &[Token], call: &Call<'_>) -> Result<Option<Measured>, Refusal> {
    if words.is_empty() {
        return Ok(None);
    }
    let ctx = call.ctx;
    let bare = match words {
        [name, rest @ ..] if name.is("salinity") && !rest.is_empty() => rest,
        words => words,
    };
    if let [number] = bare
        && let Ok(value) = number.key.replace(',', ".").parse::<f64>()
    {
        return salinity(value, ctx).map(Some);
    }
    let found = readings(&join(words), ctx.place.gravity);
    let (found, left) = found.map_err(|found| Refusal(problem(&found, ctx.place.units)))?;
    let fits = |read: &&Measured| {
        matches!(
            read.kind(),
            Kind::Gravity | Kind::Salinity | Kind::Conductivity | Kind::Chlorine
        )
    };
    let odd = found
        .iter()
        .any(|read| !fits(&read) && read.kind() != Kind::Temperature);
    match found.iter().find(fits) {
        Some(read) if left.trim().is_empty() && !odd => Ok(Some(*read)),
        _ => Err(leftover(words, call)),
    }
}

fn leftover(words: &[Token], call: &Call<'_>) -> Refusal {
    refuse(msg!("no-line-leftover", text = join(words), usage = call.usage()))
}

fn salinity(value: f64, ctx: &Context<'_>) -> Result<Measured, Refusal> {
    let (low, high) = Kind::Salinity.limits();
    if (low..=high).contains(&value) {
        return Ok(Measured::Salinity(value));
    }
    let kind = What::Reading(Kind::Salinity);
    let found = if value.is_finite() {
        Problem::OutOfRange {
            kind,
            value,
            unit: "g/kg",
            low,
            high,
        }
    } else {
        Problem::NotFinite
    };
    Err(Refusal(problem(&found, ctx.place.units)))
}

fn day_to_come(words: &[Token], ctx: &Context<'_>) -> Result<jiff::civil::Date, Refusal> {
    let text = join(words);
    let date = when::date(&text).ok_or_else(|| refuse(msg!("no-date-unreadable", text = text.clone())))?;
    let today = ctx.place.zone.date(ctx.now);
    if date < today {
        return Err(refuse(msg!("no-batch-date-past", text = text)));
    }
    if date > plus_days(today, KEEPS_MAX_DAYS) {
        return Err(refuse(msg!(
            "no-batch-date-far",
            text = text,
            weeks = KEEPS_MAX_DAYS / 7
        )));
    }
    Ok(date)
}
