//! Figures of water: salinities, temperatures, concentrations, plain numbers.

use wrackline_core::quantity::{
    Basis, Gravity, GravityConvention, Kind, Measured, Problem, mass_g, readings,
};
use wrackline_core::water::instruments::salinity_from_gravity;

use super::super::problem::problem;
use super::super::split::Args;
use super::super::token::{Token, join};
use super::super::{Context, Refusal, refuse};
use crate::msg;

/// Between these a bare number is a specific gravity: no pool holds so little salt, and no gravity is higher.
const GRAVITIES: std::ops::RangeInclusive<f64> = 1.001..=1.08;

/// The units in which a concentration is said.
const UNITS: [&str; 6] = ["mg/l", "ppm", "mg/liter", "mg/litre", "mg per l", "mg per litre"];

/// Whether a word begins with a figure.
pub(in crate::lines) fn begins(token: &Token) -> bool {
    let sign = |c| matches!(c, '-' | '−' | '+' | '.');
    !token.quoted
        && token
            .key
            .trim_start_matches(sign)
            .starts_with(|c: char| c.is_ascii_digit())
}

/// A salinity by any of the three ways in which it is read: "35", "35 ppt", "sg 1.025 25/25", "53 mS/cm at 25 C".
pub(in crate::lines) fn salinity(words: &[Token], ctx: &Context<'_>) -> Result<Measured, Refusal> {
    let text = join(words);
    let first = words.first();
    let number = first.and_then(|word| plain_number(&word.text));
    let text = match first {
        Some(_) if number.is_some_and(|value| GRAVITIES.contains(&value)) => format!("sg {text}"),
        // A lone figure is in g/kg, however small it is.
        Some(_) if words.len() == 1 && number.is_some_and(|value| value >= 0.0) => {
            format!("salinity {text} g/kg")
        }
        Some(word) if begins(word) && !text.to_lowercase().contains("ms") => format!("salinity {text}"),
        Some(word) if !word.quoted && spelled(&text).is_some() => {
            format!("salinity {} g/kg", spelled(&text).unwrap_or_default())
        }
        _ => text,
    };
    let unreadable = || refuse(msg!("no-salinity-unreadable", text = join(words)));
    match readings(&text, ctx.place.gravity) {
        Ok((found, left)) => match found.as_slice() {
            [one] if left.trim().is_empty() && is_of_salt(one) => Ok(*one),
            _ => Err(unreadable()),
        },
        Err(Problem::NoConvention { value }) => Err(no_convention(value)),
        Err(Problem::Unknown { .. } | Problem::NotANumber { .. }) => Err(unreadable()),
        Err(found) => Err(Refusal(problem(&found, ctx.place.units))),
    }
}

fn is_of_salt(measured: &Measured) -> bool {
    matches!(
        measured.kind(),
        Kind::Salinity | Kind::Gravity | Kind::Conductivity
    )
}

/// What a specific gravity would be in each convention, since nobody said in which it was read.
fn no_convention(value: f64) -> Refusal {
    let each: Vec<String> = GravityConvention::ALL
        .iter()
        .filter_map(|convention| {
            let found = salinity_from_gravity(Gravity(value), *convention).ok()?;
            Some(format!("{:.2} g/kg ({})", found.0, convention.as_str()))
        })
        .collect();
    if each.is_empty() {
        return refuse(msg!("quantity-no-convention", value = value.to_string()));
    }
    refuse(msg!(
        "no-salinity-convention",
        value = value.to_string(),
        each = each.join(", ")
    ))
}

/// A temperature in °C.
pub(in crate::lines) fn celsius(words: &[Token], ctx: &Context<'_>) -> Result<f64, Refusal> {
    let text = join(words);
    let unreadable = || refuse(msg!("no-temperature-unreadable", text = text.clone()));
    match readings(&format!("temperature {text}"), None) {
        Ok((found, left)) => match found.as_slice() {
            [Measured::Temperature(celsius)] if left.trim().is_empty() => Ok(*celsius),
            _ => Err(unreadable()),
        },
        Err(Problem::Unknown { .. } | Problem::NotANumber { .. }) => Err(unreadable()),
        Err(found) => Err(Refusal(problem(&found, ctx.place.units))),
    }
}

/// How a concentration may say that it is counted as the ion; what is counted as nitrogen ends in one of the others.
const AS_ION: [&str; 6] = [
    " as ion",
    " as no3",
    " as no2",
    " as nh4",
    " as nh3",
    " as the ion",
];
const AS_NITROGEN: [&str; 3] = [" as n", " as nitrogen", "-n"];

/// A concentration in mg/L, or so much of one a day, with what it is counted as where that is said.
pub(in crate::lines) fn concentration(words: &[Token]) -> Result<(f64, Option<Basis>), Refusal> {
    let text = join(words).to_lowercase();
    let without = |text: &str, ends: &[&str]| {
        ends.iter()
            .find_map(|end| text.strip_suffix(end).map(str::to_owned))
    };
    let per_day = [" a day", " per day", "/day", " daily", "/d"];
    let text = without(&text, &per_day).unwrap_or(text);
    let (text, basis) = match (without(&text, &AS_NITROGEN), without(&text, &AS_ION)) {
        (Some(bare), _) => (bare, Some(Basis::Nitrogen)),
        (None, Some(bare)) => (bare, Some(Basis::Ion)),
        (None, None) => (text, None),
    };
    let bare = text.trim();
    let bare = [" a day", " per day", "/day", " daily", "/d"]
        .iter()
        .find_map(|end| bare.strip_suffix(end))
        .unwrap_or(bare);
    let bare = UNITS
        .iter()
        .find_map(|unit| bare.strip_suffix(unit))
        .unwrap_or(bare);
    plain_number(bare.trim())
        .or_else(|| spelled(bare.trim()))
        .filter(|value| *value >= 0.0)
        .map(|value| (value, basis))
        .ok_or_else(|| refuse(msg!("no-concentration-unreadable", text = join(words))))
}

/// A number with digits behind the point.
pub(in crate::lines) fn decimal(words: &[Token]) -> Result<f64, Refusal> {
    let text = join(words);
    plain_number(&text).ok_or_else(|| refuse(msg!("quantity-no-number", text = text)))
}

/// A number in words, as readings take them: "thirty-five", "one and a half".
fn spelled(text: &str) -> Option<f64> {
    let is_word = text.chars().any(char::is_alphabetic) && !text.chars().any(char::is_numeric);
    let text = format!("nitrate {text} mg/L");
    match readings(&text, None).ok().filter(|_| is_word)? {
        (found, left) if left.trim().is_empty() => match found.as_slice() {
            [Measured::Nitrate { mg_l, .. }] => Some(*mg_l),
            _ => None,
        },
        _ => None,
    }
}

/// A number in figures; a comma may stand for the point.
fn plain_number(text: &str) -> Option<f64> {
    let text = text.replace(',', ".").replace('−', "-");
    let figures = |c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '+');
    let value = text.parse::<f64>().ok().filter(|_| text.chars().all(figures))?;
    value.is_finite().then_some(value)
}

/// An argument that is a salinity.
pub(in crate::lines) fn salinity_of(
    args: &Args,
    name: &str,
    ctx: &Context<'_>,
) -> Result<Option<Measured>, Refusal> {
    let at = args.get("temperature").map(join);
    let read = |words: &[Token]| {
        // "53 mS/cm at 25 C": the temperature was taken for that of the water, which it is.
        let text = join(words);
        let tells = text.to_lowercase().contains("ms") && !text.to_lowercase().contains(" at ");
        match (&at, tells) {
            (Some(at), true) => salinity(&super::super::token::tokens(&format!("{text} at {at}")), ctx),
            _ => salinity(words, ctx),
        }
    };
    args.get(name).map(read).transpose()
}

/// The argument `at`, a temperature.
pub(in crate::lines) fn celsius_of(args: &Args, ctx: &Context<'_>) -> Result<Option<f64>, Refusal> {
    let read = |words: &[Token]| celsius(words, ctx);
    args.get("temperature").map(read).transpose()
}

/// Some arguments that are concentrations, and what all of them are counted as, where it was said.
///
/// # Errors
/// One that is none, or one that is counted otherwise than the others: nitrogen and ion are never guessed.
pub(in crate::lines) fn concentrations_of<const N: usize>(
    args: &Args,
    names: [&str; N],
) -> Result<([Option<f64>; N], Option<Basis>), Refusal> {
    let mut values = [None; N];
    let mut first: Option<(String, Option<Basis>)> = None;
    for (value, name) in values.iter_mut().zip(names) {
        let Some(words) = args.get(name) else {
            continue;
        };
        let (found, basis) = concentration(words)?;
        *value = Some(found);
        // Nothing is nothing, however it is counted.
        if found == 0.0 {
            continue;
        }
        match &first {
            None => first = Some((join(words), basis)),
            Some((one, said)) if *said != basis => {
                return Err(refuse(msg!(
                    "no-concentration-mixed",
                    one = one.as_str(),
                    other = join(words)
                )));
            }
            Some(_) => {}
        }
    }
    Ok((values, first.and_then(|(_, basis)| basis)))
}

/// An argument that is a mass in grams.
pub(in crate::lines) fn grams_of(args: &Args, name: &str, ctx: &Context<'_>) -> Result<Option<f64>, Refusal> {
    let units = ctx.place.units;
    let read = |words: &[Token]| mass_g(&join(words), units).map_err(|p| Refusal(problem(&p, units)));
    args.get(name).map(read).transpose()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::lines::token::tokens;

    #[test]
    fn check_concentrations() {
        for (text, expected) in [
            ("80", Some((80.0, None))),
            ("80 mg/L", Some((80.0, None))),
            ("80mg/l", Some((80.0, None))),
            ("0,25 ppm", Some((0.25, None))),
            ("2 mg/L a day", Some((2.0, None))),
            ("2 per day", Some((2.0, None))),
            ("2 mg/L as N a day", Some((2.0, Some(Basis::Nitrogen)))),
            ("18 mg/L-N", Some((18.0, Some(Basis::Nitrogen)))),
            ("80 mg/L as NO3", Some((80.0, Some(Basis::Ion)))),
            ("eighty mg/L", Some((80.0, None))),
            ("one and a half", Some((1.5, None))),
            ("-2", None),
            ("2 kg", None),
            ("inf", None),
            ("mg/L", None),
        ] {
            assert_eq!(concentration(&tokens(text)).ok(), expected, "{text}");
        }
    }

    #[test]
    fn check_numbers() {
        assert_eq!(plain_number("1,03"), Some(1.03));
        assert_eq!(plain_number("1e3"), None);
        assert_eq!(plain_number("nan"), None);
    }
}
