//! `/did`: a duty done.

use wrackline_core::care::Duty;
use wrackline_core::journal::Part;
use wrackline_core::place::Target;

use super::ask::{Ask, Did, Grain, Spot};
use super::duty::{duties, no_duty};
use super::parse::Call;
use super::people::Vessels;
use super::table::Kind;
use super::token::{Token, join};
use super::{Context, Refusal, people, refuse, spot, values};
use crate::msg;

/// Reads a `/did` line.
pub(super) fn did(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    if call.args.bare.is_empty() && !has_any(&call) {
        return Ok(Ask::DidBare);
    }
    let words = call.bare("duty")?;
    let (duty, spot) = match duty_and_spot(&words, &call) {
        Ok(found) => found,
        Err(refusal) => {
            // "Half change north salt", "top up north salt 2 L": quantities are clear without their small words.
            call.args.bare = words;
            take_quantities(&mut call);
            duty_and_spot(&call.args.bare, &call).map_err(|_| no_vessel(&call).unwrap_or(refusal))?
        }
    };
    let at = values::past(&call.args, ctx)?;
    let by = values::doer(&call.args, "by", ctx)?;
    let with = values::carer(&call.args, "together", ctx)?;
    let litres = values::litres(&call.args, "amount", ctx)?;
    let named = call.args.get("batch");
    let batch = named
        .map(|words| people::vessel(words, Vessels::InUse, ctx))
        .transpose()?;
    let (again, note) = (call.args.has("again"), values::text(&call.args, "note"));
    let part = part(&call, duty)?;
    Ok(Ask::Did(Did {
        duty,
        spot,
        part,
        litres,
        batch,
        at,
        by,
        with,
        again,
        note,
    }))
}

/// "From" with words behind it that are no vessel, where all before it is clear.
fn no_vessel(call: &Call<'_>) -> Option<Refusal> {
    let words = &call.args.bare;
    let from = words.iter().position(|word| word.is("from"))?;
    duty_and_spot(&words[..from], call).ok()?;
    people::vessel(&words[from + 1..], Vessels::InUse, call.ctx).err()
}

fn has_any(call: &Call<'_>) -> bool {
    call.line.args.iter().any(|arg| call.args.has(arg.name))
}

fn take_quantities(call: &mut Call<'_>) {
    for (name, kind) in [("part", Kind::Fraction), ("amount", Kind::Volume)] {
        if !call.args.has(name) {
            values::take_quantity(&mut call.args, name, kind, call.ctx);
        }
    }
}

/// The duty and the SPOT among the words, in either order.
pub(super) fn duty_and_spot(words: &[Token], call: &Call<'_>) -> Result<(Duty, Spot), Refusal> {
    let ctx = call.ctx;
    let mut first: Option<Refusal> = None;
    for hit in duties(words, ctx) {
        let rest = hit.rest(words);
        let found = if rest.iter().all(spot::is_filler) || is_of_place(hit.what, &rest, ctx) {
            own_spot(hit.what, ctx).ok_or_else(|| call.missing("spot"))
        } else {
            spot::read(&rest, ctx)
        };
        match found {
            Ok(spot) => return Ok((hit.what, spot)),
            Err(refusal) => first = first.or(Some(refusal)),
        }
    }
    Err(first.unwrap_or_else(|| without_duty(words, call)))
}

/// Whether the words are "the place" behind a duty of the place itself, as everything that is told of it calls it.
fn is_of_place(duty: Duty, words: &[Token], ctx: &Context<'_>) -> bool {
    let Duty::Own(id) = duty else { return false };
    let own = ctx.place.duties.get(&id);
    own.is_some_and(|(own, _)| own.target == Target::Place)
        && words.iter().all(|word| word.is("place") || spot::is_filler(word))
}

/// Where a duty of the place's own is done, which need not be said.
fn own_spot(duty: Duty, ctx: &Context<'_>) -> Option<Spot> {
    let Duty::Own(id) = duty else { return None };
    let (own, _) = ctx.place.duties.get(&id)?;
    Some(match own.target {
        Target::Place => Spot::default(),
        Target::Enclosure(id) => {
            let pools = ctx.place.pools_of(id).into_iter().map(|pool| pool.id).collect();
            Spot {
                pools,
                enclosures: vec![id],
                grain: Grain::Enclosure,
            }
        }
        Target::Pool(id) => {
            let enclosures = ctx
                .place
                .pools
                .get(&id)
                .map(|pool| pool.enclosure)
                .into_iter()
                .collect();
            Spot {
                pools: vec![id],
                enclosures,
                grain: Grain::Pool,
            }
        }
    })
}

/// What is wrong with words that hold no duty: it is missing, or misspelt at the start or the end.
fn without_duty(words: &[Token], call: &Call<'_>) -> Refusal {
    let ctx = call.ctx;
    if words.iter().all(spot::is_filler) || spot::read(words, ctx).is_ok() {
        return call.missing("duty");
    }
    for cut in 1..words.len() {
        let (head, tail) = words.split_at(cut);
        if spot::read(tail, ctx).is_ok() {
            return no_duty(&join(&without_fillers(head)), ctx);
        }
    }
    for cut in (1..words.len()).rev() {
        let (head, tail) = words.split_at(cut);
        if spot::read(head, ctx).is_ok() {
            return no_duty(&join(&without_fillers(tail)), ctx);
        }
    }
    no_duty(&join(&without_fillers(words)[..1]), ctx)
}

fn without_fillers(words: &[Token]) -> Vec<Token> {
    let kept: Vec<Token> = words
        .iter()
        .filter(|word| !spot::is_filler(word))
        .cloned()
        .collect();
    if kept.is_empty() { words.to_vec() } else { kept }
}

/// How much of a duty was done.
fn part(call: &Call<'_>, duty: Duty) -> Result<Part, Refusal> {
    let fraction = values::part(&call.args, call.ctx)?;
    let Some(words) = call.args.get("steps") else {
        return Ok(fraction.map_or(Part::Whole, Part::Fraction));
    };
    if fraction.is_some() {
        return Err(refuse(msg!("no-part-twice")));
    }
    let most = duty.steps();
    let mut steps = 0_u32;
    for word in words.iter().filter(|word| !word.joins()) {
        let step = word
            .key
            .parse::<u32>()
            .ok()
            .filter(|step| (1..=most).contains(step));
        let step =
            step.ok_or_else(|| refuse(msg!("no-step-none-such", text = word.text.clone(), most = most)))?;
        steps |= 1 << (step - 1);
    }
    let all = (1_u32 << most) - 1;
    match steps {
        0 => Err(refuse(msg!("no-step-none-said", most = most))),
        steps if steps == all => Ok(Part::Whole),
        steps => Ok(Part::Steps(steps)),
    }
}
