//! `/duty` and `/rounds`.

use jiff::Timestamp;
use wrackline_core::care::{Duty, Numbers, Schedule};

use super::ask::{Ask, HushAsk, SetUp, Spot};
use super::duty::is_of_catalogue;
use super::parse::Call;
use super::schedule::{Often, cron, often, weekdays};
use super::span::{self, Edge};
use super::spot::Width;
use super::token::{Token, join};
use super::{Context, Refusal, choice, names, people, refuse, spot, values, when};
use crate::msg;

/// Hours of grace of a duty of the place's own for which none was said: common practice.
const GRACE_H: u32 = 12;

/// Reads a `/duty` line.
pub(super) fn duty(mut call: Call<'_>, sub: &str) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    match sub {
        "add" => duty_add(call),
        "set" => duty_set(call),
        "retire" => {
            let duty = people::own_duty(&call.bare("duty")?, ctx)?;
            Ok(Ask::SetUp(SetUp::DutyRetire { duty }))
        }
        _ => call.done(Ask::SetUp(SetUp::DutyList)),
    }
}

fn duty_set(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let words = call.bare("rule")?;
    let nod = values::switch(&call.args, "nod")?;
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
    let numbers = Numbers {
        every,
        grace_h: values::hours(&call.args, "grace", ctx)?,
        hazard_h: values::hours(&call.args, "hazard", ctx)?,
    };
    let rule = choice::rule(&words);
    // A duty of the place's own has its numbers from when it was added; whether it waits for a nod is set like any.
    if let (Err(_), Some(nod), true) = (&rule, nod, numbers == Numbers::default())
        && let Ok(own) = people::own_duty(&words, ctx)
    {
        return Ok(Ask::SetUp(SetUp::DutyNod {
            duty: Duty::Own(own),
            nod,
        }));
    }
    Ok(Ask::SetUp(SetUp::DutySet {
        rule: rule?,
        numbers,
        nod,
    }))
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
            let until = hush(&mut call)?;
            call.done(Ask::SetUp(SetUp::RoundHush(HushAsk::Until(until))))
        }
        _ => call.done(Ask::SetUp(SetUp::RoundList)),
    }
}

/// Until when nobody is called: behind "until", or at the end of a span that begins now.
fn hush(call: &mut Call<'_>) -> Result<Option<Timestamp>, Refusal> {
    let ctx = call.ctx;
    if let Some(words) = call.args.get("until") {
        return Ok(Some(span::until(words, Edge::Now, ctx)?.end(ctx)));
    }
    let words = &call.args.bare;
    let Some(span) = span::alone(words, ctx).filter(|_| !words.is_empty()) else {
        return Ok(None);
    };
    let span = span?;
    let begins = span.from.start(ctx);
    if ctx.place.zone.date(begins) > ctx.place.zone.date(ctx.now) {
        return Err(refuse(msg!("no-hush-later", text = join(words))));
    }
    call.args.bare.clear();
    Ok(Some(span.to.end(ctx)))
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
