//! What is told of a person: when they are there, what they can, how much they take on.

use wrackline_core::people::{Free, Weekdays};
use wrackline_core::quantity::{duration_min, mass_g};

use super::{Figure, plain, wrong};
use crate::lines::ask::SkillSaid;
use crate::lines::problem::problem;
use crate::lines::token::{Token, join};
use crate::lines::{Context, Refusal, people, refuse, schedule};
use crate::msg;

/// The languages that have words for answers, by code and by name.
const LANGUAGES: [(&str, &str); 1] = [("en", "english")];

/// The most that anybody lifts, in kilograms; more is a slip of the pen.
const LIFT_KG_MAX: f64 = 100.0;

/// The largest share of the work that is taken on, an even one being 1.
const SHARE_MAX: f64 = 10.0;

/// "en", "English": the code.
pub(in crate::lines) fn language(words: &[Token]) -> Result<String, Refusal> {
    let asked = plain(words);
    let found = LANGUAGES
        .iter()
        .find(|(code, name)| *code == asked || *name == asked);
    let none = || refuse(msg!("no-language-words", text = join(words)));
    found.map(|(code, _)| (*code).to_owned()).ok_or_else(none)
}

/// "Mon Wed evening, Sat Sun": weekdays, each lot with a round or for all of them; `None` for "any".
pub(in crate::lines) fn free(words: &[Token], ctx: &Context<'_>) -> Result<Option<Vec<Free>>, Refusal> {
    if matches!(words, [one] if one.is("any") || one.is("always")) {
        return Ok(None);
    }
    let mut all = Vec::new();
    let mut at = 0;
    while at < words.len() {
        let (days, used) = days(&words[at..]);
        if used == 0 {
            return Err(wrong(Figure::Free, words));
        }
        at += used;
        let ends = |at: &usize| words[*at].joins() || day(&words[*at]).is_some();
        let end = (at..words.len()).find(ends).unwrap_or(words.len());
        let round = (end > at)
            .then(|| people::round(&words[at..end], ctx))
            .transpose()?;
        all.push(Free { days, round });
        at = (end..words.len())
            .find(|at| !words[*at].joins())
            .unwrap_or(words.len());
    }
    Ok(Some(all))
}

/// The weekdays that stand at the start, and how many words they are. A comma ends them, "and" does not.
fn days(words: &[Token]) -> (Weekdays, usize) {
    let (mut found, mut used) = (0, 0);
    for (at, word) in words.iter().enumerate() {
        match day(word) {
            Some(days) => (found, used) = (found | days.0, at + 1),
            None if at > 0 && word.joins() && !word.is(",") => {}
            None => break,
        }
    }
    (Weekdays(found), used)
}

/// "Mon", "Mondays", "Mon-Fri", "weekdays", "weekends".
fn day(word: &Token) -> Option<Weekdays> {
    let one = |text: &str| {
        let token = Token {
            key: text.to_owned(),
            ..word.clone()
        };
        schedule::weekdays(&[token])?.first().copied()
    };
    match word.key.as_str() {
        _ if word.quoted => None,
        "weekdays" => Some(Weekdays::of_numbers(&[1, 2, 3, 4, 5])),
        "weekend" | "weekends" => Some(Weekdays::of_numbers(&[6, 7])),
        key => match key.split_once(['-', '–']) {
            Some((from, to)) => {
                let (from, to) = (one(from)?, one(to)?);
                let length = (to - from).rem_euclid(7);
                let days: Vec<i8> = (0..=length).map(|more| (from - 1 + more) % 7 + 1).collect();
                Some(Weekdays::of_numbers(&days))
            }
            None => one(key).map(|day| Weekdays::of_numbers(&[day])),
        },
    }
}

/// "siphon", "siphon and salt", "all", "none".
pub(in crate::lines) fn skill(words: &[Token]) -> Result<SkillSaid, Refusal> {
    let mut said = SkillSaid::default();
    let all: Vec<&Token> = words.iter().filter(|word| !word.joins()).collect();
    match all.as_slice() {
        [one] if one.is("all") => {
            return Ok(SkillSaid {
                siphon: true,
                salt: true,
            });
        }
        [one] if one.is("none") => return Ok(said),
        [] => return Err(wrong(Figure::Skill, words)),
        _ => {}
    }
    for word in all {
        match word.key.as_str() {
            "siphon" => said.siphon = true,
            "salt" => said.salt = true,
            _ => return Err(wrong(Figure::Skill, words)),
        }
    }
    Ok(said)
}

/// "10 kg", "anything": kilograms.
pub(in crate::lines) fn lifts(words: &[Token], ctx: &Context<'_>) -> Result<Option<f64>, Refusal> {
    if matches!(words, [one] if one.is("anything")) {
        return Ok(None);
    }
    let units = ctx.place.units;
    let grams = mass_g(&join(words), units).map_err(|found| Refusal(problem(&found, units)))?;
    let kg = grams / 1000.0;
    if kg <= LIFT_KG_MAX {
        Ok(Some(kg))
    } else {
        Err(wrong(Figure::Lifts, words))
    }
}

/// "0.5", "none".
pub(in crate::lines) fn share(words: &[Token]) -> Result<f64, Refusal> {
    if people::is_nobody(words) {
        return Ok(0.0);
    }
    let number = plain(words).replace(',', ".").parse::<f64>().ok();
    number
        .filter(|share| (0.0..=SHARE_MAX).contains(share))
        .ok_or_else(|| wrong(Figure::Share, words))
}

/// "30", "30 min", "any": minutes on one day.
pub(in crate::lines) fn minutes(words: &[Token]) -> Result<Option<u16>, Refusal> {
    if matches!(words, [one] if one.is("any")) {
        return Ok(None);
    }
    let text = plain(words);
    let bare = text.bytes().all(|byte| byte.is_ascii_digit());
    let text = if bare { format!("{text} min") } else { text };
    let minutes = duration_min(&text)
        .ok()
        .filter(|minutes| (1.0..=1440.0).contains(minutes));
    // At most a day: far inside what the type holds.
    minutes
        .map(|minutes| Some(minutes.round() as u16))
        .ok_or_else(|| wrong(Figure::Minutes, words))
}
