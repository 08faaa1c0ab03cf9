//! `/mix` and `/dilute`.

pub(super) mod figures;

use wrackline_core::place::{PoolId, Water};
use wrackline_core::quantity::Kind as Reading;

use super::ask::{Ask, Dilute, Mix, MixAmount, MixStands, Spot};
use super::parse::Call;
use super::schedule::{Often, often};
use super::table::{Kind, LineSpec, SUBSTANCES, spec};
use super::token::{Token, join, tokens};
use super::{Context, Refusal, choice, names, refuse, spot, values};
use crate::msg;

/// Words that say what is done to a pool and name nothing.
const VERBS: [&str; 8] = [
    "raise", "lower", "bring", "get", "dilute", "prepare", "make", "dry",
];

/// The words of a line about water in which some are not what they are elsewhere; `None` where the line is another one.
pub(super) fn plain(line: &LineSpec, rest: &[Token]) -> Option<Vec<Token>> {
    match line.name {
        "mix" => Some(with_salinity(rest)),
        // Behind "mains", "chloramine" is a value and no small word.
        "supplies" => {
            let mut words = rest.to_vec();
            for at in 1..words.len() {
                words[at].quoted |= words[at - 1].is("mains");
            }
            Some(words)
        }
        _ => None,
    }
}

/// "Salt 35" and "sg 1.025" are read as the salinity that they are: "salt" before a figure is no water.
fn with_salinity(rest: &[Token]) -> Vec<Token> {
    let is_gravity = |token: &Token| token.is("sg") || token.is("gravity");
    let mut words: Vec<Token> = Vec::with_capacity(rest.len() + 1);
    for (at, token) in rest.iter().enumerate() {
        let next = rest.get(at + 1);
        let salinity = Token {
            text: "salinity".to_owned(),
            key: "salinity".to_owned(),
            ..token.clone()
        };
        let leads = next.is_some_and(|next| figures::begins(next) || is_gravity(next));
        let led = words.last().is_some_and(|last| {
            ["from", "to", "with", "salinity"]
                .iter()
                .any(|word| last.is(word))
        });
        if token.is("salt") && leads && !next.is_some_and(|_| is_volume(&rest[at + 1..])) {
            words.push(salinity);
        } else if is_gravity(token) && !led {
            words.extend([salinity, token.clone()]);
        } else {
            words.push(token.clone());
        }
    }
    words
}

/// "North salt 6 L": the figure behind "salt" is a volume. Units of a place do not matter to whether it is one.
fn is_volume(words: &[Token]) -> bool {
    let read = |words: &[Token]| {
        wrackline_core::quantity::volume(&join(words), wrackline_core::quantity::Units::Metric).is_ok()
    };
    (1..=words.len().min(3)).any(|end| read(&words[..end]))
}

/// Whether a line is a question that is answered without any place: `/dilute`, and `/mix` of an amount.
#[must_use]
pub fn needs_no_place(line: &str) -> bool {
    let words = tokens(line.trim_start().trim_start_matches('/'));
    let Some((first, rest)) = words.split_first() else {
        return false;
    };
    match spec(&first.key).map(|line| line.name) {
        Some("dilute") => true,
        Some("mix") => {
            rest.first().is_some_and(figures::begins) || (0..rest.len()).any(|from| is_volume(&rest[from..]))
        }
        _ => false,
    }
}

/// Reads a `/mix` line.
pub(super) fn mix(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    if !call.args.has("volume") {
        values::take_quantity(&mut call.args, "volume", Kind::Volume, ctx);
    }
    let litres = values::litres(&call.args, "volume", ctx)?;
    let salinity = figures::salinity_of(&call.args, "salinity", ctx)?;
    let at_c = figures::celsius_of(&call.args, ctx)?;
    let start = figures::salinity_of(&call.args, "start", ctx)?;
    let target = figures::salinity_of(&call.args, "target", ctx)?;
    let with = figures::salinity_of(&call.args, "with", ctx)?;
    let words = call.args.bare.clone();
    let into = call.args.get("vessel").map(names::text).transpose()?;
    let conditioned = call.args.has("conditioned");
    if litres.is_none() && (into.is_some() || conditioned) {
        return Err(refuse(msg!("no-mix-into")));
    }
    let (spot, water) = where_to(&words, litres, &call)?;
    if start.is_some() || target.is_some() {
        let Some(target) = target else {
            return Err(call.missing("target"));
        };
        if into.is_some() || conditioned {
            return Err(refuse(msg!("no-mix-into")));
        }
        let pool = spot.map(|spot| one_salt_pool(&spot, &words, ctx)).transpose()?;
        if pool.is_none() && litres.is_none() {
            return Err(call.missing("spot"));
        }
        return Ok(Ask::Mix(Mix::Stands(MixStands {
            pool,
            litres,
            start,
            target,
            with,
            at_c,
        })));
    }
    if with.is_some() {
        return Err(refuse(msg!("no-mix-with")));
    }
    let Some(litres) = litres else {
        return Ok(Ask::Mix(Mix::Changes { spot, salinity, at_c }));
    };
    let pools = spot.map_or_else(Vec::new, |spot| spot.pools);
    let pool = match pools.as_slice() {
        [one] => Some(*one),
        _ => None,
    };
    let of_pool = pool
        .and_then(|id| ctx.place.pools.get(&id))
        .map(|pool| pool.water);
    Ok(Ask::Mix(Mix::Amount(MixAmount {
        litres,
        finished: call.args.has("finished"),
        water: water.or(of_pool),
        salinity,
        at_c,
        pool,
        into,
        conditioned,
    })))
}

/// The SPOT among the bare words; beside a volume, words that name a water alone are no place.
fn where_to(
    words: &[Token],
    litres: Option<f64>,
    call: &Call<'_>,
) -> Result<(Option<Spot>, Option<Water>), Refusal> {
    let is_verb = |word: &Token| VERBS.iter().any(|verb| word.is(verb));
    let rest: Vec<Token> = words
        .iter()
        .filter(|word| !spot::is_filler(word) && !is_verb(word))
        .cloned()
        .collect();
    if rest.is_empty() {
        return Ok((None, None));
    }
    if litres.is_some()
        && let Some((water, used)) = spot::water(&rest)
        && used == rest.len()
    {
        return Ok((None, Some(water)));
    }
    // A verb may be part of a name: "Lower shelf".
    match spot::read(words, call.ctx).or_else(|refusal| spot::read(&rest, call.ctx).map_err(|_| refusal)) {
        Ok(found) => Ok((Some(found), None)),
        Err(refusal) if litres.is_none() => Err(values::no_volume(&call.args, call.ctx).unwrap_or(refusal)),
        Err(refusal) => Err(refusal),
    }
}

fn one_salt_pool(spot: &Spot, words: &[Token], ctx: &Context<'_>) -> Result<PoolId, Refusal> {
    let is_salt = |id: &&PoolId| {
        ctx.place
            .pools
            .get(id)
            .is_some_and(|pool| pool.water == Water::Salt)
    };
    let salt: Vec<PoolId> = spot.pools.iter().filter(is_salt).copied().collect();
    match (salt.as_slice(), spot.pools.as_slice()) {
        ([one], _) | ([], [one]) => Ok(*one),
        _ => Err(refuse(msg!("no-spot-one-pool", text = join(words)))),
    }
}

/// Reads a `/dilute` line.
pub(super) fn dilute(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let words: Vec<Token> = std::mem::take(&mut call.args.bare)
        .into_iter()
        .filter(|word| !spot::is_filler(word))
        .collect();
    let substance = if words.is_empty() {
        None
    } else {
        let said = choice::of(&words, SUBSTANCES)?;
        let kinds = [Reading::Ammonia, Reading::Nitrite, Reading::Nitrate];
        SUBSTANCES.iter().position(|one| *one == said).map(|at| kinds[at])
    };
    let names = ["start", "target", "source", "adds"];
    let ([start, target, source, adds], basis) = figures::concentrations_of(&call.args, names)?;
    let (Some(start), Some(target)) = (start, target) else {
        return Err(call.missing(if start.is_none() { "start" } else { "target" }));
    };
    Ok(Ask::Dilute(Dilute {
        substance,
        start,
        target,
        source,
        change: values::fraction_of(&call.args, "change", call.ctx)?,
        every: every(&call)?,
        adds,
        basis,
        removes: values::fraction_of(&call.args, "removes", call.ctx)?,
    }))
}

/// The days between two changes.
fn every(call: &Call<'_>) -> Result<Option<f64>, Refusal> {
    use wrackline_core::care::Every;
    let Some(words) = call.args.get("every") else {
        return Ok(None);
    };
    match often(words, call.ctx)? {
        Often::Every(Every::Days(days)) => Ok(Some(f64::from(days))),
        Often::Every(Every::Hours(hours)) => Ok(Some(f64::from(hours) / 24.0)),
        Often::Weekdays(_) => Err(refuse(msg!("no-dilute-weekdays"))),
    }
}
