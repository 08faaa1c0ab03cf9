//! `/pool` and `/gear`.

use wrackline_core::place::{Gear, PoolId};

use super::ask::{Ask, GearVerb, PoolField, SetUp};
use super::parse::Call;
use super::place::one_enclosure;
use super::table::{GEAR, Kind, LIVES};
use super::token::{Token, join};
use super::{Context, Refusal, choice, figure, fitting, refuse, spot, values};
use crate::msg;

/// Reads a `/pool` line.
pub(super) fn pool(mut call: Call<'_>, sub: &str) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    match sub {
        "add" => pool_add(call),
        "set" => {
            let pool = one_pool(&call.bare("spot")?, ctx)?;
            let (fields, from) = (pool_fields(&call, true)?, values::from(&call.args, ctx)?);
            Ok(Ask::SetUp(SetUp::PoolSet { pool, fields, from }))
        }
        "retire" => {
            let pool = one_pool(&call.bare("spot")?, ctx)?;
            Ok(Ask::SetUp(SetUp::PoolRetire { pool }))
        }
        _ => call.done(Ask::SetUp(SetUp::PoolList)),
    }
}

fn pool_add(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    if !call.args.has("shape")
        && let Some((from, to)) = figure::shape_in(&call.args.bare, ctx)
    {
        call.args.take("shape", from, to);
    }
    if !call.args.has("volume") {
        values::take_quantity(&mut call.args, "volume", Kind::Volume, ctx);
    }
    if !call.args.has("life") {
        take_choice(&mut call, "life", LIVES);
    }
    let litres = values::litres(&call.args, "volume", ctx)?;
    if litres.is_none()
        && let Some(refusal) = values::no_volume(&call.args, ctx)
    {
        return Err(refusal);
    }
    let words = call.bare("enclosure")?;
    // The last water is the pool's: an enclosure may be called like one.
    let (from, to) = last_water(&words).ok_or_else(|| call.missing("water"))?;
    let water = choice::water(&words[from..to])?;
    let rest = [&words[..from], &words[to..]].concat();
    if rest.iter().all(spot::is_filler) {
        return Err(call.missing("enclosure"));
    }
    let enclosure = one_enclosure(&rest, ctx)?;
    let litres = litres.ok_or_else(|| call.missing("volume"))?;
    let (fields, from) = (pool_fields(&call, false)?, values::from(&call.args, ctx)?);
    Ok(Ask::SetUp(SetUp::PoolAdd {
        enclosure,
        water,
        litres,
        fields,
        from,
    }))
}

fn last_water(words: &[Token]) -> Option<(usize, usize)> {
    (0..words.len())
        .rev()
        .find_map(|from| spot::water(&words[from..]).map(|(_, used)| (from, from + used)))
}

/// Takes the last of some words out of the bare ones, where it is clear without its small word.
fn take_choice(call: &mut Call<'_>, name: &'static str, choices: &[&'static str]) {
    let bare = &call.args.bare;
    let found = (0..bare.len()).rev().find_map(|from| {
        let ends = (from + 1..=bare.len()).rev();
        ends.filter(|to| bare[from..*to].iter().all(|word| !word.quoted))
            .find(|to| choice::of(&bare[from..*to], choices).is_ok())
            .map(|to| (from, to))
    });
    if let Some((from, to)) = found {
        call.args.take(name, from, to);
    }
}

pub(super) fn one_pool(words: &[Token], ctx: &Context<'_>) -> Result<PoolId, Refusal> {
    let found = spot::read(words, ctx)?;
    match found.pools.as_slice() {
        [one] => Ok(*one),
        _ => Err(refuse(msg!("no-spot-one-pool", text = join(words)))),
    }
}

fn pool_fields(call: &Call<'_>, changes: bool) -> Result<Vec<PoolField>, Refusal> {
    let (args, ctx) = (&call.args, call.ctx);
    let mut fields = Vec::new();
    if changes {
        fields.extend(values::litres(args, "volume", ctx)?.map(PoolField::Litres));
    }
    if args.has("stationary") && args.has("removable") {
        return Err(refuse(msg!("no-pool-both-ways")));
    }
    if args.has("stationary") || args.has("removable") {
        fields.push(PoolField::Removable(args.has("removable")));
    }
    fields.extend(values::switch(args, "nested")?.map(PoolField::Nested));
    let life = args.get("life").map(choice::life).transpose()?;
    fields.extend(life.map(PoolField::Life));
    if let Some(words) = args.get("shape") {
        fields.push(PoolField::Shape(figure::shape(words, ctx)?));
    }
    fields.extend(values::centimetres(args, "depth", ctx)?.map(PoolField::Depth));
    if let Some(words) = args.get("gravel") {
        fields.push(PoolField::Gravel(figure::gravel(words, ctx)?));
    }
    fields.extend(values::litres(args, "stones", ctx)?.map(PoolField::Stones));
    if let Some(words) = args.get("way-out") {
        fields.push(PoolField::WayOut(figure::way_out(words, ctx)?));
    }
    Ok(fields)
}

/// Reads a `/gear` line.
pub(super) fn gear(mut call: Call<'_>, sub: &str) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    if sub == "list" {
        return call.done(Ask::SetUp(SetUp::GearList));
    }
    take_choice(&mut call, "gear", GEAR);
    let gear = call
        .args
        .get("gear")
        .map(choice::gear)
        .transpose()?
        .ok_or_else(|| call.missing("gear"))?;
    let proven = call.args.has("proven");
    let words = call.bare("spot")?;
    let spot = spot::read(&words, ctx)?;
    if spot.pools.is_empty() {
        return Err(refuse(msg!("no-spot-without-pools", text = join(&words))));
    }
    if proven && gear == Gear::Air {
        return Err(refuse(msg!("no-gear-air-proven")));
    }
    let facts = fitting::gear_facts(&call.args, ctx)?;
    if !facts.is_empty() {
        let from = values::from(&call.args, ctx)?;
        return Ok(Ask::SetUp(SetUp::GearSet {
            spot,
            gear,
            proven,
            facts,
            from,
        }));
    }
    let verb = match sub {
        "add" => GearVerb::Add { proven },
        "set" if proven => GearVerb::Proven,
        "set" => return Err(call.missing("proven")),
        "stop" => GearVerb::Stop,
        "start" => GearVerb::Start,
        _ => GearVerb::Retire,
    };
    let from = values::from(&call.args, ctx)?;
    Ok(Ask::SetUp(SetUp::Gear {
        spot,
        gear,
        verb,
        from,
    }))
}
