//! `/duty`, `/carer` and `/rounds`.

use wrackline_core::care::{Numbers, Schedule};
use wrackline_core::place::Role;

use super::ask::{Ask, HushAsk, SetUp, Spot};
use super::duty::is_of_catalogue;
use super::parse::Call;
use super::schedule::{Often, cron, often, weekdays};
use super::spot::Width;
use super::table::Kind;
use super::token::{Token, join};
use super::{Context, Refusal, choice, mention, names, people, refuse, spot, values, when};
use crate::msg;

/// Hours of grace of a duty of the place's own for which none was said: common practice.
const GRACE_H: u32 = 12;

/// Reads a `/duty` line.
pub(super) fn duty(mut call: Call<'_>, sub: &str) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    match sub {
        "add" => duty_add(call),
        "set" => {
            let rule = choice::rule(&call.bare("rule")?)?;
            let every = match call
                .args
                .get("every")
                .map(|words| often(words, ctx))
                .transpose()?
            {
                Some(Often::Weekdays(_)) => return Err(refuse(msg!("no-rule-no-weekdays"))),
                Some(Often::Every(every)) => Some(every),
                None => None,
            };
            let (grace_h, hazard_h) = (
                values::hours(&call.args, "grace", ctx)?,
                values::hours(&call.args, "hazard", ctx)?,
            );
            Ok(Ask::SetUp(SetUp::DutySet {
                rule,
                numbers: Numbers {
                    every,
                    grace_h,
                    hazard_h,
                },
            }))
        }
        "retire" => {
            let duty = people::own_duty(&call.bare("duty")?, ctx)?;
            Ok(Ask::SetUp(SetUp::DutyRetire { duty }))
        }
        _ => call.done(Ask::SetUp(SetUp::DutyList)),
    }
}

fn duty_add(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let words = call.new_name()?;
    let (name, spot) = name_and_spot(&words, ctx)?;
    if is_of_catalogue(&name) {
        return Err(refuse(msg!("no-own-of-catalogue", name = name)));
    }
    let time = call.args.get("time").map(values::clock).transpose()?;
    let mut schedule = if let Some(words) = call.args.get("every") {
        match often(words, ctx)? {
            Often::Every(every) => Schedule::Every(every),
            Often::Weekdays(days) => Schedule::Weekdays { days, at: None },
        }
    } else if let Some(words) = call.args.get("on") {
        Schedule::Weekdays {
            days: weekdays(words).unwrap_or_default(),
            at: None,
        }
    } else {
        cron(call.args.get("cron").unwrap_or_default())?
    };
    match (&mut schedule, time) {
        (Schedule::Weekdays { at, .. }, time) => *at = time,
        (_, Some(_)) => return Err(refuse(msg!("no-own-time-needs-days"))),
        (_, None) => {}
    }
    let grace_h = values::hours(&call.args, "grace", ctx)?.unwrap_or(GRACE_H);
    let disturbs = call.args.has("digs");
    Ok(Ask::SetUp(SetUp::DutyAdd {
        name,
        spot,
        schedule,
        grace_h,
        disturbs,
    }))
}

/// The name, and the longest words behind it that are a SPOT. A name in quotation marks ends where they do.
fn name_and_spot(words: &[Token], ctx: &Context<'_>) -> Result<(String, Option<Spot>), Refusal> {
    let taken = || ctx.place.duties.values().map(|(duty, _)| duty.name.as_str());
    if words[0].quoted {
        let name = names::new(&words[..1], taken())?;
        let spot = (words.len() > 1)
            .then(|| spot::read(&words[1..], ctx))
            .transpose()?;
        return Ok((name, spot));
    }
    for cut in 1..words.len() {
        // Free text stands before it, so parts of names and joining words would be too easily found in it.
        if words[cut].joins() || spot::is_filler(&words[cut]) && cut + 1 == words.len() {
            continue;
        }
        if let Ok(spot) = spot::read_as(&words[cut..], Width::Names, ctx) {
            return Ok((
                names::new(&without_preposition(&words[..cut]), taken())?,
                Some(spot),
            ));
        }
    }
    Ok((names::new(words, taken())?, None))
}

/// "Rake the sand in North": the word before the SPOT is no part of the name.
fn without_preposition(words: &[Token]) -> Vec<Token> {
    match words {
        [head @ .., last]
            if !head.is_empty() && ["in", "of", "for", "at"].iter().any(|word| last.is(word)) =>
        {
            head.to_vec()
        }
        words => words.to_vec(),
    }
}

/// Reads a `/carer` line.
pub(super) fn carer(mut call: Call<'_>, sub: &str) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    match sub {
        "add" => carer_add(call),
        "set" => {
            let account = mention::take(&mut call, "member", Kind::Member);
            let carer = people::carer(&call.bare("carer")?, ctx)?;
            let role = call.args.get("role").map(choice::role).transpose()?;
            let stand_in = values::carer_or_nobody(&call.args, "stand-in", ctx)?;
            if stand_in == Some(Some(carer)) {
                return Err(refuse(msg!("no-carer-own-stand-in", name = ctx.book.name(carer))));
            }
            Ok(Ask::SetUp(SetUp::CarerSet {
                carer,
                role,
                stand_in,
                account,
            }))
        }
        "retire" => {
            let carer = people::carer(&call.bare("carer")?, ctx)?;
            Ok(Ask::SetUp(SetUp::CarerRetire { carer }))
        }
        _ => call.done(Ask::SetUp(SetUp::CarerList)),
    }
}

fn carer_add(mut call: Call<'_>) -> Result<Ask, Refusal> {
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
    let taken = people::carers(ctx);
    let name = names::new(&words, taken.iter().map(|(_, name)| *name))?;
    Ok(Ask::SetUp(SetUp::CarerAdd { name, role, account }))
}

/// Reads a `/rounds` line.
pub(super) fn rounds(mut call: Call<'_>, sub: &str) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    match sub {
        "add" => {
            let (words, time) = words_and_time(&mut call, "name")?;
            let taken = people::rounds(ctx);
            let name = names::new(&words, taken.iter().map(|(_, name)| *name))?;
            Ok(Ask::SetUp(SetUp::RoundAdd { name, time }))
        }
        "set" => {
            let (words, time) = words_and_time(&mut call, "round")?;
            Ok(Ask::SetUp(SetUp::RoundSet {
                round: people::round(&words, ctx)?,
                time,
            }))
        }
        "retire" => {
            let round = people::round(&call.bare("round")?, ctx)?;
            Ok(Ask::SetUp(SetUp::RoundRetire { round }))
        }
        "hush" if call.args.has("off") => call.done(Ask::SetUp(SetUp::RoundHush(HushAsk::Off))),
        "hush" => {
            let until = values::until(&call.args, ctx)?;
            call.done(Ask::SetUp(SetUp::RoundHush(HushAsk::Until(until))))
        }
        _ => call.done(Ask::SetUp(SetUp::RoundList)),
    }
}

/// A name and a time of day, which is clear without its small word.
fn words_and_time(call: &mut Call<'_>, name: &str) -> Result<(Vec<Token>, jiff::civil::Time), Refusal> {
    let mut words = call.bare(name)?;
    if let Some(time) = call.args.get("time") {
        return Ok((words, values::clock(time)?));
    }
    let found = (0..words.len())
        .rev()
        .find_map(|from| when::clock(&words[from..]).map(|found| (from, found)));
    let (from, (time, used)) = found.ok_or_else(|| call.missing("time"))?;
    words.drain(from..from + used);
    if words.is_empty() {
        Err(call.missing(name))
    } else {
        Ok((words, time?))
    }
}
