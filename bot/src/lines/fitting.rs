//! `/fit` and `/plumb`, and what is told of gear.

use wrackline_core::particulars::{GearFact, Siphon};
use wrackline_core::quantity::{Centimetres, Litres};

use super::ask::{Ask, Fit, Grain, Plumb};
use super::parse::Call;
use super::pool::one_pool;
use super::token::join;
use super::{Context, Refusal, figure, refuse, spot, values};
use crate::lines::split::Args;
use crate::msg;

/// Reads a `/fit` line.
pub(super) fn fit(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let words = call.bare("spot")?;
    let found = spot::read(&words, ctx)?;
    let [enclosure] = found.enclosures.as_slice() else {
        return Err(refuse(msg!("no-spot-one-enclosure", text = join(&words))));
    };
    let pool = match (found.grain, found.pools.as_slice()) {
        (Grain::Pool, [pool]) => Some(*pool),
        _ => None,
    };
    let air = |name: &str| call.args.get(name).map(figure::room_air).transpose();
    Ok(Ask::Fit(Fit {
        enclosure: *enclosure,
        pool,
        winter: air("winter")?,
        summer: air("summer")?,
    }))
}

/// Reads a `/plumb` line.
pub(super) fn plumb(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let pool = one_pool(&call.bare("spot")?, ctx)?;
    let args = &call.args;
    let head = args
        .get("head")
        .map(|words| figure::head(words, ctx))
        .transpose()?;
    let tube = values::centimetres(args, "tube", ctx)?;
    let bore = values::centimetres(args, "bore", ctx)?;
    let bucket = values::litres(args, "bucket", ctx)?;
    let usual = Siphon::USUAL;
    Ok(Ask::Plumb(Plumb {
        pool,
        siphon: Siphon {
            bore: bore.map(Centimetres),
            length: tube.map_or(usual.length, Centimetres),
            head: head.map_or(usual.head, Centimetres),
            bucket: bucket.map_or(usual.bucket, Litres),
        },
        head_said: head.is_some(),
        tube_said: tube.is_some(),
        bucket_said: bucket.is_some(),
    }))
}

/// What is told of a piece of gear.
pub(super) fn gear_facts(args: &Args, ctx: &Context<'_>) -> Result<Vec<GearFact>, Refusal> {
    let length = |name: &str| values::centimetres(args, name, ctx);
    let mut facts = Vec::new();
    if let Some(words) = args.get("rated") {
        let (from, to) = figure::rated(words, ctx)?;
        facts.push(GearFact::Rated { from, to });
    }
    facts.extend(length("fill-line")?.map(GearFact::FillLine));
    if let Some(words) = args.get("flow") {
        facts.push(GearFact::Flow(figure::flow(words, ctx)?));
    }
    facts.extend(values::litres(args, "displaces", ctx)?.map(GearFact::Displaces));
    if let Some(words) = args.get("pressure") {
        facts.push(GearFact::Pressure(figure::pressure(words)?));
    }
    if let Some(words) = args.get("pump") {
        facts.push(GearFact::Pump(figure::pump(words, ctx)?));
    }
    facts.extend(values::switch(args, "check-valve")?.map(GearFact::CheckValve));
    facts.extend(length("stone")?.map(GearFact::Stone));
    facts.extend(length("across")?.map(GearFact::Across));
    facts.extend(length("rim")?.map(GearFact::Rim));
    facts.extend(length("valve")?.map(GearFact::Valve));
    facts.extend(length("run")?.map(GearFact::Run));
    facts.extend(values::switch(args, "weighted")?.map(GearFact::Weighted));
    Ok(facts)
}
