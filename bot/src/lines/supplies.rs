//! `/supplies`.

use wrackline_core::quantity::{Measured, Units, mass_g, volume};
use wrackline_core::water::conditioner::{ForChloramine, Mains};

use super::ask::{Ask, SetUp, SupplyField, SupplyLabel};
use super::parse::Call;
use super::table::{FOR_CHLORAMINE, Kind, MAINS};
use super::token::{Token, join};
use super::water::figures;
use super::{Context, Refusal, choice, names, people, refuse, values};
use crate::msg;

/// The units of a place, as examples choose by them.
fn units(ctx: &Context<'_>) -> &'static str {
    match ctx.place.units {
        Units::Us => "us",
        Units::Metric | Units::Imperial => "other",
    }
}

/// Reads a `/supplies` line.
pub(super) fn supplies(mut call: Call<'_>, sub: &str) -> Result<Ask, Refusal> {
    if sub == "list" {
        return call.done(Ask::SetUp(SetUp::SuppliesList));
    }
    let ctx = call.ctx;
    let mut fields = Vec::new();
    if call.args.has("conditioner") {
        fields.push(SupplyField::Conditioner(label(&mut call)?));
    } else if let Some(loose) = ["dose", "per", "chloramine", "ammonia", "hold"]
        .into_iter()
        .find(|name| call.args.has(name))
    {
        return Err(refuse(msg!(
            "no-supplies-loose",
            word = loose,
            units = units(ctx)
        )));
    }
    if let Some(words) = call.args.get("salt") {
        let name = (!people::is_nobody(words))
            .then(|| names::text(words))
            .transpose()?;
        fields.push(SupplyField::Salt(name));
    }
    let factor = call.args.get("factor").map(figures::decimal).transpose()?;
    fields.extend(factor.map(SupplyField::Factor));
    fields.extend(mixed(&mut call)?);
    let salinity = |name| figures::salinity_of(&call.args, name, ctx);
    fields.extend(salinity("target")?.map(SupplyField::Target));
    fields.extend(margin(&call)?.map(SupplyField::Margin));
    fields.extend(values::litres(&call.args, "bucket", ctx)?.map(SupplyField::Bucket));
    fields.extend(salinity("source")?.map(SupplyField::Source));
    if let Some(words) = call.args.get("mains") {
        let said = choice::of(words, MAINS)?;
        let mains = if said == MAINS[1] {
            Mains::Chloramine
        } else {
            Mains::Chlorine
        };
        fields.push(SupplyField::Mains(mains));
    }
    if fields.is_empty() && call.args.bare.is_empty() {
        return Err(refuse(msg!("no-line-needs-some", usage = call.usage())));
    }
    // "Salt measured 34.1" has the salt's name left out.
    call.args.bare.retain(|word| !word.is("salt") && !word.joins());
    call.done(Ask::SetUp(SetUp::SuppliesSet(fields)))
}

/// The spill margin, which may be nothing at all.
fn margin(call: &Call<'_>) -> Result<Option<f64>, Refusal> {
    match call.args.get("margin") {
        Some(words) if no_margin(words) == Some(words.len()) => Ok(Some(0.0)),
        _ => values::fraction_of(&call.args, "margin", call.ctx),
    }
}

/// How many words at the start say that there is no margin at all: "0 %", "0%", "0", "none".
pub(super) fn no_margin(words: &[Token]) -> Option<usize> {
    let is_none = |words: &[Token]| {
        let text = join(words);
        let number = text.trim_end_matches('%').trim().parse::<f64>();
        people::is_nobody(words) || number.is_ok_and(|value| value == 0.0)
    };
    [2, 1]
        .into_iter()
        .find(|end| words.get(..*end).is_some_and(is_none))
}

/// A conditioner's label; `None` where there is to be none.
fn label(call: &mut Call<'_>) -> Result<Option<SupplyLabel>, Refusal> {
    let ctx = call.ctx;
    let mut words = call.args.get("conditioner").unwrap_or_default().to_vec();
    if people::is_nobody(&words) {
        return Ok(None);
    }
    if !call.args.has("dose") {
        values::take_quantity(&mut call.args, "dose", Kind::Volume, ctx);
    }
    let mut dose = values::litres(&call.args, "dose", ctx)?;
    if dose.is_none() {
        // Without quotation marks the dose stands behind the name: "conditioner Tapsafe 5 mL per 40 L".
        let cut = (1..words.len()).find(|from| {
            let text = join(&words[*from..]);
            volume(&text, ctx.place.units).is_ok()
        });
        if let Some(cut) = cut {
            let text = join(&words.split_off(cut));
            dose = volume(&text, ctx.place.units).ok();
        }
    }
    let per = values::litres(&call.args, "per", ctx)?;
    let (Some(dose_l), Some(per_l)) = (dose, per) else {
        return Err(refuse(msg!("no-supplies-label", units = units(ctx))));
    };
    let chloramine = match call.args.get("chloramine") {
        None => ForChloramine::Unsaid,
        Some(words) if choice::of(words, FOR_CHLORAMINE)? == FOR_CHLORAMINE[1] => ForChloramine::Doubled,
        Some(_) => ForChloramine::Same,
    };
    Ok(Some(SupplyLabel {
        name: names::text(&words)?,
        dose_l,
        per_l,
        chloramine,
        hold_h: values::hours(&call.args, "hold", ctx)?,
        binds_ammonia: call.args.has("ammonia"),
    }))
}

/// What was mixed and measured: the three belong together.
fn mixed(call: &mut Call<'_>) -> Result<Option<SupplyField>, Refusal> {
    let ctx = call.ctx;
    let measured: Option<Measured> = figures::salinity_of(&call.args, "measured", ctx)?;
    if !call.args.has("mass") {
        take_mass(call);
    }
    let litres = values::litres(&call.args, "after", ctx)?;
    let grams = figures::grams_of(&call.args, "mass", ctx)?;
    match (measured, litres, grams) {
        (Some(measured), Some(litres), Some(grams)) => Ok(Some(SupplyField::Mixed {
            measured,
            litres,
            grams,
            at_c: figures::celsius_of(&call.args, ctx)?,
        })),
        (None, None, None) => Ok(None),
        _ => Err(refuse(msg!("no-supplies-measured", units = units(ctx)))),
    }
}

/// "After 10 L 358 g": the mass is clear without its small word.
fn take_mass(call: &mut Call<'_>) {
    let units = call.ctx.place.units;
    let bare = &call.args.bare;
    let read = |from: usize, to: usize| mass_g(&join(&bare[from..to]), units).is_ok();
    let found = (0..bare.len()).find_map(|from| {
        let ends = (from + 1)..=(from + 3).min(bare.len());
        ends.rev().find(|to| read(from, *to)).map(|to| (from, to))
    });
    if let Some((from, to)) = found {
        call.args.take("mass", from, to);
    }
}
