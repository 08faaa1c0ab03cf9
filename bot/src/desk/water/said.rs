//! Figures of water as they are printed.

use wrackline_core::place::Place;
use wrackline_core::quantity::{Litres, Measured, Millilitres, Salinity, Units, grams, litres, plain, show};
use wrackline_core::rests::Rests;
use wrackline_core::water::instruments::Expected;

use crate::desk::tell::Tell;
use crate::msg;
use crate::words::Message;

/// A number with two digits behind the point at most, without trailing zeros; below 1 two digits that count.
pub(super) fn two(value: f64) -> String {
    if value.abs() < 1.0 {
        return plain(value);
    }
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A number with three digits that count: what is computed from a label is known no closer.
pub(super) fn three(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return plain(value);
    }
    let unit = 10_f64.powi(value.abs().log10().floor() as i32 - 2);
    plain((value / unit).round() * unit)
}

/// A salinity.
pub(super) fn salinity(of: Salinity) -> String {
    format!("{} g/kg", two(of.0))
}

/// A part of a whole, in percent.
pub(super) fn percent(part: f64) -> String {
    format!("{} %", plain(part * 100.0))
}

/// A concentration.
pub(super) fn mg_l(value: f64) -> String {
    format!("{} mg/L", two(value))
}

/// A dose out of a bottle: always in mL, as syringes and caps are marked.
pub(in crate::desk) fn dose(of: Millilitres) -> String {
    format!("{} mL", plain(of.0))
}

/// A volume in the place's units.
pub(super) fn volume(place: &Place, of: Litres) -> String {
    litres(of.0, place.units)
}

/// A mass in the place's units, in grams as well where those are others: scales show them.
pub(in crate::desk) fn mass(place: &Place, of: wrackline_core::quantity::Grams) -> String {
    let own = grams(of.0, place.units);
    if own.ends_with(" g") || own.ends_with(" kg") {
        own
    } else {
        format!("{own} ({} g)", plain(of.0))
    }
}

/// The units of a place, as examples choose by them.
pub(in crate::desk) fn units(place: &Place) -> &'static str {
    match place.units {
        Units::Us => "us",
        Units::Metric | Units::Imperial => "other",
    }
}

/// The gravities that instruments will show: that of the place's convention, or all of them.
pub(super) fn gravities(place: &Place, expected: &Expected) -> Vec<String> {
    expected
        .gravities
        .iter()
        .filter(|(convention, _)| place.gravity.is_none_or(|own| own == *convention))
        .map(|(convention, value)| {
            let measured = Measured::Gravity {
                value: value.0,
                convention: *convention,
            };
            show(&measured, place.units)
        })
        .collect()
}

/// The reading to expect: specific gravity and conductivity.
pub(super) fn expectation(tell: &Tell<'_>, expected: &Expected) -> Message {
    let conductivity = Measured::Conductivity {
        ms_cm: expected.conductivity.0,
        at_c: expected.at.0,
    };
    msg!(
        "mix-expect",
        gravities = gravities(tell.place, expected).join(", "),
        conductivity = show(&conductivity, tell.place.units)
    )
}

/// What a number rests on.
pub(super) fn rests(on: Rests) -> Message {
    msg!(match on {
        Rests::Place => "rests-place",
        Rests::Seen => "rests-seen",
        Rests::Computed => "rests-computed",
        Rests::Memory => "rests-memory",
        Rests::Practice => "rests-practice",
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_figures() {
        for (value, expected) in [
            (18.348_4, "18.35"),
            (33.19, "33.19"),
            (32.9, "32.9"),
            (35.0, "35"),
            (0.254, "0.25"),
            (5.0, "5"),
        ] {
            assert_eq!(two(value), expected);
        }
        for (value, expected) in [
            (280.02, "280"),
            (35.003, "35"),
            (28.002, "28"),
            (1234.5, "1230"),
            (0.031_416, "0.031"),
            (0.0, "0"),
        ] {
            assert_eq!(three(value), expected);
        }
        assert_eq!(percent(0.25), "25 %");
        assert_eq!(percent(1.0 - 30.0 / 35.0), "14.3 %");
    }
}
