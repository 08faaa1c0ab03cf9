//! One quantity in one text: a volume, a length, a mass, a part of a whole, a span of time.

use super::number::{Dash, Number, number};
use super::unit::{self, Dim};
use super::word::Words;
use super::{Problem, Units, What};

#[cfg(test)]
mod tests;

/// What is wanted, and above zero how much at most in the canonical unit.
struct Wanted {
    what: What,
    dim: Dim,
    most: f64,
}

/// Reads a volume of water, in litres: over 0 and at most 100 000 L. Gallons, quarts, pints and fluid ounces
/// without a country are imperial where `units` is imperial, and US elsewhere.
///
/// # Errors
///
/// Any [`Problem`] but [`Problem::NoConvention`].
pub fn volume(text: &str, units: Units) -> Result<f64, Problem> {
    amount(
        text,
        units,
        &Wanted {
            what: What::Volume,
            dim: Dim::Volume,
            most: 100_000.0,
        },
    )
}

/// Reads a length, in centimetres: over 0 and at most 1000 cm.
///
/// # Errors
///
/// Any [`Problem`] but [`Problem::NoConvention`].
pub fn length_cm(text: &str, units: Units) -> Result<f64, Problem> {
    amount(
        text,
        units,
        &Wanted {
            what: What::Length,
            dim: Dim::Length,
            most: 1000.0,
        },
    )
}

/// Reads a mass, in grams: over 0 and at most 1 000 000 g.
///
/// # Errors
///
/// Any [`Problem`] but [`Problem::NoConvention`].
pub fn mass_g(text: &str, units: Units) -> Result<f64, Problem> {
    amount(
        text,
        units,
        &Wanted {
            what: What::Mass,
            dim: Dim::Mass,
            most: 1e6,
        },
    )
}

/// Reads a span of time, in minutes: over 0 and at most 366 days.
///
/// # Errors
///
/// Any [`Problem`] but [`Problem::NoConvention`].
pub fn duration_min(text: &str) -> Result<f64, Problem> {
    let most = 366.0 * 1440.0;
    amount(
        text,
        Units::Metric,
        &Wanted {
            what: What::Duration,
            dim: Dim::Time,
            most,
        },
    )
}

/// Reads a part of a whole: over 0 and at most 1. "50 %", "half", "1/3" and "0.5" are parts; a whole number over
/// 1 without a unit is not, since "50" may be meant either way.
///
/// # Errors
///
/// Any [`Problem`] but [`Problem::NoConvention`].
pub fn fraction(text: &str) -> Result<f64, Problem> {
    let what = What::Fraction;
    let words = Words::new(text);
    let (n, next) = leading(&words)?;
    let (value, unit, high) = match unit::find(&words, next, Units::Metric) {
        Some((unit, end)) if end == words.len() => {
            if unit.dim != Dim::Percent {
                return Err(Problem::WrongUnit {
                    text: words.whole(),
                    what,
                });
            }
            (n.value, unit.symbol, 100.0)
        }
        None if next == words.len() && n.whole && n.value > 1.0 => {
            return Err(Problem::NoUnit {
                text: words.whole(),
                what,
            });
        }
        None if next == words.len() => (n.value, "", 1.0),
        _ => return Err(Problem::Unknown { text: words.whole() }),
    };
    if value < 0.0 {
        return Err(Problem::Negative {
            text: words.whole(),
            what,
        });
    }
    if value == 0.0 || value > high {
        return Err(Problem::OutOfRange {
            kind: what,
            value,
            unit,
            low: 0.0,
            high,
        });
    }
    // A value so small that dividing it leaves nothing is no part either.
    let part = value / high;
    if part > 0.0 {
        Ok(part)
    } else {
        Err(Problem::OutOfRange {
            kind: what,
            value,
            unit,
            low: 0.0,
            high,
        })
    }
}

/// The number that a text starts with.
fn leading(words: &Words<'_>) -> Result<(Number, usize), Problem> {
    number(words, 0, Dash::Minus)?.ok_or_else(|| Problem::NotANumber { text: words.whole() })
}

fn amount(text: &str, units: Units, wanted: &Wanted) -> Result<f64, Problem> {
    let what = wanted.what;
    let words = Words::new(text);
    let (n, next) = match article(&words, units) {
        Some(found) => found,
        None => leading(&words)?,
    };
    let next = if n.whole { next } else { skip_of(&words, next) };
    let Some((unit, end)) = unit::find(&words, next, units) else {
        let text = words.whole();
        return Err(if next == words.len() {
            Problem::NoUnit { text, what }
        } else {
            Problem::Unknown { text }
        });
    };
    if end != words.len() {
        return Err(Problem::Unknown { text: words.whole() });
    }
    if unit.dim != wanted.dim {
        return Err(Problem::WrongUnit {
            text: words.whole(),
            what,
        });
    }
    if n.value < 0.0 {
        return Err(Problem::Negative {
            text: words.whole(),
            what,
        });
    }
    let high = unit.of_base(wanted.most);
    let base = unit.to_base(n.value);
    if base > 0.0 && n.value <= high {
        return Ok(base);
    }
    Err(Problem::OutOfRange {
        kind: what,
        value: n.value,
        unit: unit.symbol,
        low: 0.0,
        high,
    })
}

/// "A gallon" is one gallon.
fn article(words: &Words<'_>, units: Units) -> Option<(Number, usize)> {
    let one = Number {
        value: 1.0,
        decimal: None,
        whole: true,
        spelled: true,
    };
    let counts = matches!(words.key(0), "a" | "an") && unit::find(words, 1, units).is_some();
    counts.then_some((one, 1))
}

/// Steps over "of", "a", "of a" behind a part: "half a gallon", "three quarters of a litre".
fn skip_of(words: &Words<'_>, at: usize) -> usize {
    let at = at + usize::from(words.key(at) == "of");
    at + usize::from(matches!(words.key(at), "a" | "an"))
}
