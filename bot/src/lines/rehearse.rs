//! `/rehearse`.

use wrackline_core::care::Numbers;
use wrackline_core::place::Gear;

use super::ask::{Ask, Rehearse};
use super::parse::Call;
use super::schedule::{Often, often};
use super::token::{Token, join};
use super::{Refusal, choice, refuse, spot, values};
use crate::msg;

/// Reads a `/rehearse` line.
pub(super) fn rehearse(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let (mut with, mut without) = (
        gear(call.args.get("with-gear"))?,
        gear(call.args.get("without-gear"))?,
    );
    let mut words = std::mem::take(&mut call.args.bare);
    if let Some(more) = one_more(&call, &words) {
        words.truncate(words.len() - 2);
        let said = if with.is_empty() { &mut without } else { &mut with };
        if !said.contains(&more) {
            said.push(more);
        }
    }
    let pools = if words.is_empty() {
        Vec::new()
    } else {
        let found = spot::read(&words, ctx)?;
        if found.pools.is_empty() {
            return Err(refuse(msg!("no-rehearse-without-pools", text = join(&words))));
        }
        found.pools
    };
    let args = &call.args;
    let proven = args.has("proven");
    if proven && !with.contains(&Gear::Filter) {
        return Err(refuse(msg!("no-rehearse-proven")));
    }
    let litres = values::litres(args, "volume", ctx)?;
    let is_of_pools = !with.is_empty() || !without.is_empty() || litres.is_some();
    if is_of_pools && pools.is_empty() {
        return Err(call.missing("spot"));
    }
    if litres.is_some() && pools.len() > 1 {
        return Err(refuse(msg!("no-spot-one-pool", text = join(&words))));
    }
    let every = match args.get("every").map(|words| often(words, ctx)).transpose()? {
        Some(Often::Weekdays(_)) => return Err(refuse(msg!("no-rule-no-weekdays"))),
        Some(Often::Every(every)) => Some(every),
        None => None,
    };
    let numbers = Numbers {
        every,
        grace_h: values::hours(args, "grace", ctx)?,
        hazard_h: values::hours(args, "hazard", ctx)?,
    };
    let rule = args.get("rule").map(choice::rule).transpose()?;
    if rule.is_some() && numbers == Numbers::default() {
        return Err(refuse(msg!("no-rehearse-no-numbers")));
    }
    if numbers != Numbers::default() && rule.is_none() && pools.is_empty() {
        return Err(refuse(msg!("no-rehearse-no-rule")));
    }
    Ok(Ask::Rehearse(Rehearse {
        pools,
        with,
        without,
        proven,
        numbers,
        rule,
        litres,
        from: values::from(args, ctx)?,
        to: values::to_end_of_day(args, ctx)?,
    }))
}

/// A second piece of gear behind the first: "with filter proven and air". Not where both ways are said: it may belong to either.
fn one_more(call: &Call<'_>, words: &[Token]) -> Option<Gear> {
    let (with, without) = (call.args.get("with-gear"), call.args.get("without-gear"));
    let first = with.xor(without)?.first()?;
    let [.., and, more] = words else { return None };
    let is_behind = and.joins() && and.start > first.start;
    choice::gear(std::slice::from_ref(more))
        .ok()
        .filter(|_| is_behind)
}

/// Pieces of gear, one or both.
fn gear(words: Option<&[Token]>) -> Result<Vec<Gear>, Refusal> {
    let Some(words) = words else {
        return Ok(Vec::new());
    };
    Ok(match choice::of(words, super::table::GEAR_SETS)? {
        "air" => vec![Gear::Air],
        "filter" => vec![Gear::Filter],
        _ => vec![Gear::Air, Gear::Filter],
    })
}
