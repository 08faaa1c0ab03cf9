//! Lines of everyday care but `/did`.

use wrackline_core::journal::{Input, Sighting};
use wrackline_core::quantity::readings;

use super::ask::Ask;
use super::did::duty_and_spot;
use super::duty::{duties, no_sighting, sightings};
use super::nearest::list;
use super::parse::Call;
use super::problem::problem;
use super::table::{LINES, spec};
use super::token::{Token, join, tokens};
use super::{Refusal, choice, refuse, seen, spot, values};
use crate::msg;

/// Reads a line of everyday care.
pub(super) fn care(call: Call<'_>) -> Result<Ask, Refusal> {
    match call.line.name {
        "due" => due(call),
        "read" => read(call),
        "saw" => saw(call),
        "undo" => undo(call),
        "why" => why(call),
        "how" => how(call),
        "week" => call.done(Ask::Week {
            last: call.args.has("last"),
            full: call.args.has("full"),
        }),
        "emergency" => emergency(call),
        _ => help(call),
    }
}

/// Everyone's, unless the asker says "mine": nobody's overdue turn is hidden by a short question.
fn due(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let is = |call: &Call<'_>, words: &[&str]| matches!(call.args.bare.as_slice(), [one] if words.iter().any(|word| one.is(word)));
    let (mine, all) = (
        is(&call, &["mine", "my", "me"]),
        is(&call, &["all", "everyone", "everything"]),
    );
    if mine || all {
        call.args.bare.clear();
    }
    call.done(Ask::Due { everyone: !mine })
}

fn read(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let words = call.bare("readings")?;
    let text = words
        .iter()
        .enumerate()
        .map(stand_in)
        .collect::<Vec<_>>()
        .join(" ");
    let found = readings(&text, ctx.place.gravity);
    let (readings, left) = found.map_err(|found| Refusal(problem(&found, ctx.place.units)))?;
    let dosed = call.args.has("dosed");
    if readings.is_empty() && !dosed {
        return Err(call.missing("readings"));
    }
    let quoted: Vec<(usize, &Token)> = words.iter().enumerate().filter(|(_, word)| word.quoted).collect();
    let original = |token: Token| {
        let stands = quoted
            .iter()
            .find(|(at, word)| token.text == stand_in((*at, word)));
        stands.map_or(token, |(_, word)| (*word).clone())
    };
    let left: Vec<Token> = tokens(&left).into_iter().map(original).collect();
    if left.iter().all(spot::is_filler) {
        return Err(call.missing("spot"));
    }
    let spot = spot::read(&left, ctx)?;
    let (at, by) = (
        values::past(&call.args, ctx)?,
        values::doer(&call.args, "by", ctx)?,
    );
    let note = values::text(&call.args, "note");
    if dosed || call.args.has("tap") {
        let put_in = |one| {
            if dosed {
                Input::Fed(Some(one))
            } else {
                Input::Tap(one)
            }
        };
        let mut inputs: Vec<Input> = readings.into_iter().map(put_in).collect();
        if inputs.is_empty() {
            inputs.push(Input::Fed(None));
        }
        return Ok(Ask::PutIn {
            spot,
            inputs,
            at,
            by,
            note,
        });
    }
    Ok(Ask::Read {
        spot,
        readings,
        at,
        by,
        note,
    })
}

/// A word as the readings are sought in it. A name in quotation marks is hidden behind a sign that nobody types,
/// so that nothing in it is taken for a reading.
fn stand_in((at, token): (usize, &Token)) -> String {
    if token.quoted {
        "\u{e000}".repeat(at + 1)
    } else {
        token.text.clone()
    }
}

fn saw(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let words = call.bare("sighting")?;
    let mut first: Option<Refusal> = None;
    for hit in sightings(&words) {
        let rest: Vec<Token> = hit
            .rest(&words)
            .into_iter()
            .filter(|word| !is_telling(word))
            .collect();
        if rest.iter().all(spot::is_filler) {
            first = first.or_else(|| Some(call.missing("spot")));
            continue;
        }
        match spot::read(&rest, ctx) {
            Ok(spot) if call.args.has("closed") => {
                return Ok(Ask::SawOver {
                    sighting: hit.what,
                    spot,
                });
            }
            Ok(spot) => {
                let (at, note) = (values::past(&call.args, ctx)?, values::text(&call.args, "note"));
                return Ok(Ask::Saw {
                    sighting: hit.what,
                    spot,
                    at,
                    note,
                });
            }
            Err(refusal) => first = first.or(Some(refusal)),
        }
        if let Some(found) = told_further(&call, hit.what, &rest)? {
            return Ok(found);
        }
    }
    Err(first.unwrap_or_else(|| without_sighting(&words, &call)))
}

/// A sighting whose place is clear and that tells on behind it: "leak north salt and turned off the pump". What is
/// told on becomes the note.
fn told_further(call: &Call<'_>, sighting: Sighting, rest: &[Token]) -> Result<Option<Ask>, Refusal> {
    let goes_on = |token: &Token| {
        ["and", "but", "so", "with", "because", "since", ","]
            .iter()
            .any(|word| token.is(word))
    };
    let cuts = (1..rest.len()).filter(|cut| goes_on(&rest[*cut])).rev();
    for cut in cuts {
        let Ok(spot) = spot::read(&rest[..cut], call.ctx) else {
            continue;
        };
        let told = join(&rest[cut + 1..]);
        let note = values::text(&call.args, "note").map_or(told.clone(), |note| format!("{told}; {note}"));
        let at = values::past(&call.args, call.ctx)?;
        return Ok(Some(Ask::Saw {
            sighting,
            spot,
            at,
            note: Some(note),
        }));
    }
    Ok(None)
}

/// Words of telling that say nothing about what or where.
fn is_telling(token: &Token) -> bool {
    ["is", "was", "some", "there", "that", "got", "has"]
        .iter()
        .any(|word| token.is(word))
}

fn without_sighting(words: &[Token], call: &Call<'_>) -> Refusal {
    if spot::read(words, call.ctx).is_ok() {
        return call.missing("sighting");
    }
    let cut = (1..words.len()).find(|cut| spot::read(&words[*cut..], call.ctx).is_ok());
    no_sighting(&join(&words[..cut.unwrap_or(words.len())]))
}

fn undo(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let words = std::mem::take(&mut call.args.bare);
    let words: Vec<Token> = words.into_iter().filter(|word| !is_last(word)).collect();
    match words.as_slice() {
        [] => Ok(Ask::Undo { seq: None }),
        [one] => match one.key.trim_start_matches('#').parse::<u64>() {
            Ok(seq) if seq > 0 => Ok(Ask::Undo { seq: Some(seq) }),
            _ => Err(refuse(msg!("no-undo-no-number", text = one.text.clone()))),
        },
        several => Err(refuse(msg!("no-undo-no-number", text = join(several)))),
    }
}

/// "Undo last", "undo the last one".
fn is_last(token: &Token) -> bool {
    ["last", "that", "it", "one", "entry", "the"]
        .iter()
        .any(|word| token.is(word))
}

fn why(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let words = call.bare("spot")?;
    let at = values::at_or_end_of_day(&call.args, ctx)?;
    // A name may hold a word that is a duty's too: the whole is tried as a SPOT first.
    let whole = match spot::read(&words, ctx) {
        Ok(spot) => return Ok(Ask::Why { spot, duty: None, at }),
        Err(refusal) => refusal,
    };
    match duty_and_spot(&words, &call) {
        Ok((duty, spot)) => Ok(Ask::Why {
            spot,
            duty: Some(duty),
            at,
        }),
        // Without any duty among the words it is the SPOT that is wrong.
        Err(refusal) => Err(if duties(&words, ctx).is_empty() {
            whole
        } else {
            refusal
        }),
    }
}

fn how(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let words = call.bare("duty")?;
    let (duty, spot) = duty_and_spot(&words, &call)?;
    Ok(Ask::How { duty, spot })
}

fn emergency(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let words = std::mem::take(&mut call.args.bare);
    Ok(Ask::Emergency {
        card: choice::card(&words)?,
    })
}

fn help(call: Call<'_>) -> Result<Ask, Refusal> {
    let words = &call.args.bare;
    let Some(first) = words.first() else {
        return Ok(Ask::Help { line: None });
    };
    match spec(first.key.trim_start_matches('/')) {
        Some(line) => Ok(Ask::Help {
            line: Some(line.name),
        }),
        // Whoever cries for help says what they see.
        None => Err(seen::seen(words, call.ctx).unwrap_or_else(|| {
            let names: Vec<String> = LINES.iter().map(|line| format!("/{}", line.name)).collect();
            refuse(msg!(
                "no-help-unknown",
                text = first.text.clone(),
                names = list(&names)
            ))
        })),
    }
}
