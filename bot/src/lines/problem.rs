//! What is wrong with a quantity, as a message.

use wrackline_core::quantity::{Kind, Problem, Units, What};

use crate::msg;
use crate::words::Message;

/// The sentence for a [`Problem`], in the units of a place.
#[must_use]
pub fn problem(problem: &Problem, units: Units) -> Message {
    match problem {
        Problem::OutOfRange {
            kind,
            value,
            unit,
            low,
            high,
        } => {
            let id = match kind {
                What::Reading(_) | What::AnyReading => "quantity-range-reading",
                _ => "quantity-range-amount",
            };
            let is_reading = id == "quantity-range-reading";
            let high = if is_reading {
                number(*high)
            } else {
                with_unit(*high, unit)
            };
            msg!(
                id,
                value = with_unit(*value, unit),
                what = what(*kind),
                low = number(*low),
                high = high
            )
        }
        Problem::WrongUnit { text, what: wanted } => {
            let unit = unit(*wanted, units);
            msg!(
                "quantity-wrong-unit",
                text = text.clone(),
                what = what(*wanted),
                unit = unit
            )
        }
        Problem::NoUnit { text, what: wanted } => {
            msg!(
                "quantity-no-unit",
                text = text.clone(),
                unit = unit(*wanted, units)
            )
        }
        Problem::NotANumber { text } if text.is_empty() => msg!("quantity-none"),
        Problem::NotANumber { text } => msg!("quantity-no-number", text = text.clone()),
        Problem::NoConvention { value } => msg!("quantity-no-convention", value = number(*value)),
        Problem::NotFinite => msg!("quantity-not-finite"),
        Problem::Negative { text, what: wanted } => {
            msg!("quantity-negative", text = text.clone(), what = what(*wanted))
        }
        Problem::Unknown { text } => msg!("quantity-unknown", text = text.clone()),
    }
}

fn code(what: What) -> &'static str {
    match what {
        What::Volume => "volume",
        What::Length => "length",
        What::Mass => "mass",
        What::Fraction => "fraction",
        What::AnyReading => "any",
        What::Duration => "duration",
        What::Reading(kind) => match kind {
            Kind::Humidity => "humidity",
            Kind::Temperature => "temperature",
            Kind::Gravity => "gravity",
            Kind::Salinity => "salinity",
            Kind::Conductivity => "conductivity",
            Kind::Ph => "ph",
            Kind::Ammonia => "ammonia",
            Kind::Nitrite => "nitrite",
            Kind::Nitrate => "nitrate",
            Kind::Chlorine => "chlorine",
            Kind::Level => "level",
        },
    }
}

fn what(what: What) -> Message {
    msg!(format!("what-{}", code(what)))
}

/// Units to say it in, those of the place first.
fn unit(what: What, units: Units) -> Message {
    msg!(format!("units-of-{}", code(what)), units = units.as_str())
}

fn with_unit(value: f64, unit: &str) -> String {
    match unit {
        "" => number(value),
        // These stand before their number.
        "sg" | "pH" => format!("{unit} {}", number(value)),
        _ => format!("{} {unit}", number(value)),
    }
}

/// A number as exact as it has to be to show why it cannot be: gravities differ in the fourth place.
fn number(value: f64) -> String {
    let places = if value.abs() < 10.0 { 4 } else { 1 };
    let text = format!("{value:.places$}");
    let text = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        &text
    };
    text.strip_prefix('-')
        .map_or_else(|| text.to_owned(), |digits| format!("−{digits}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_numbers() {
        for (value, expected) in [
            (140.0, "140"),
            (1.0705, "1.0705"),
            (-3.5, "−3.5"),
            (100_000.0, "100000"),
            (26_417.205, "26417.2"),
        ] {
            assert_eq!(number(value), expected);
        }
        assert_eq!(with_unit(15.0, "pH"), "pH 15");
        assert_eq!(with_unit(140.0, "%"), "140 %");
    }
}
