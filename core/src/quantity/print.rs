//! Quantities as they are printed: always with their unit, never with more digits than anybody measures.

use super::factor::{
    IMPERIAL_GALLON_L, INCH_CM, OUNCE_G, POUND_G, PSI_PA, US_GALLON_L, celsius_to_fahrenheit,
};
use super::{Basis, Measured, Units};

/// A number without trailing zeros and with at most `digits` digits behind the point.
fn fixed(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    let text = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        &text
    };
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

/// A number with at most `digits` digits behind the point, but below 1 with two digits that count, so that a small
/// amount is never printed as none.
fn sensible(value: f64, digits: usize) -> String {
    let size = value.abs();
    if size >= 1.0 || size == 0.0 || !size.is_finite() {
        return fixed(value, digits);
    }
    let mut digits = digits.max(2);
    let mut scaled = size;
    // 0.1 has its first digit in the first place, 0.01 in the second. Nobody measures past the twelfth.
    while scaled < 0.1 && digits < 12 {
        scaled *= 10.0;
        digits += 1;
    }
    fixed(value, digits)
}

/// A number for people: no trailing zeros, at most one digit behind the point from 10 up and two below, and two
/// digits that count below 1.
#[must_use]
pub fn plain(value: f64) -> String {
    sensible(value, if value.abs() >= 10.0 { 1 } else { 2 })
}

/// A volume in litres, printed in the place's units: L, or mL below one litre; US gal; imp gal.
#[must_use]
pub fn litres(value: f64, units: Units) -> String {
    match units {
        // What would be rounded up to 1000 mL is a litre.
        Units::Metric if value.abs() < 0.999_95 => with(&sensible(value * 1000.0, 1), "mL"),
        Units::Metric => with(&sensible(value, 1), "L"),
        Units::Us => with(&sensible(value / US_GALLON_L, 1), "US gal"),
        Units::Imperial => with(&sensible(value / IMPERIAL_GALLON_L, 1), "imp gal"),
    }
}

/// A temperature in °C, printed in the place's units to a tenth: °C, or °F for US units.
#[must_use]
pub fn celsius(value: f64, units: Units) -> String {
    match units {
        Units::Metric | Units::Imperial => with(&fixed(value, 1), "°C"),
        Units::Us => with(&fixed(celsius_to_fahrenheit(value), 1), "°F"),
    }
}

/// A length in centimetres, printed in the place's units: cm, or in for US units.
#[must_use]
pub fn centimetres(value: f64, units: Units) -> String {
    match units {
        Units::Metric | Units::Imperial => with(&sensible(value, 1), "cm"),
        Units::Us => with(&sensible(value / INCH_CM, 1), "in"),
    }
}

/// A surface in cm², printed in the place's units: cm², or in² for US units. From 100 on without anything behind the point.
#[must_use]
pub fn square_centimetres(value: f64, units: Units) -> String {
    let (value, unit) = match units {
        Units::Metric | Units::Imperial => (value, "cm²"),
        Units::Us => (value / (INCH_CM * INCH_CM), "in²"),
    };
    with(&sensible(value, usize::from(value.abs() < 99.95)), unit)
}

/// A flow in litres a minute, printed in the place's units: L/min; US gal/min; imp gal/min.
#[must_use]
pub fn litres_per_minute(value: f64, units: Units) -> String {
    match units {
        Units::Metric => with(&sensible(value, 1), "L/min"),
        Units::Us => with(&sensible(value / US_GALLON_L, 1), "US gal/min"),
        Units::Imperial => with(&sensible(value / IMPERIAL_GALLON_L, 1), "imp gal/min"),
    }
}

/// A pressure in Pa, printed in the place's units: kPa, or psi for US units.
#[must_use]
pub fn pascals(value: f64, units: Units) -> String {
    match units {
        Units::Metric | Units::Imperial => with(&sensible(value / 1000.0, 1), "kPa"),
        Units::Us => with(&sensible(value / PSI_PA, 1), "psi"),
    }
}

/// A mass in grams, printed in the place's units: g and from 1000 g kg; for US units oz and from a pound lb.
#[must_use]
pub fn grams(value: f64, units: Units) -> String {
    match units {
        Units::Metric | Units::Imperial if value.abs() < 999.95 => with(&sensible(value, 1), "g"),
        Units::Metric | Units::Imperial => with(&sensible(value / 1000.0, 2), "kg"),
        Units::Us if value.abs() < POUND_G - 0.05 * OUNCE_G => with(&sensible(value / OUNCE_G, 1), "oz"),
        Units::Us => with(&sensible(value / POUND_G, 2), "lb"),
    }
}

fn with(number: &str, unit: &str) -> String {
    format!("{number} {unit}")
}

/// A reading, printed in the place's units, with the name of what was read where the unit does not tell.
#[must_use]
pub fn show(reading: &Measured, units: Units) -> String {
    match *reading {
        Measured::Humidity(percent) => with(&fixed(percent, 1), "%"),
        Measured::Temperature(c) => celsius(c, units),
        Measured::Gravity { value, convention } => {
            format!("sg {} ({})", gravity(value), convention.as_str())
        }
        Measured::Salinity(g_kg) => with(&fixed(g_kg, 1), "g/kg"),
        Measured::Conductivity { ms_cm, at_c } => {
            format!(
                "{} at {}",
                with(&sensible(ms_cm, 1), "mS/cm"),
                celsius(at_c, units)
            )
        }
        Measured::Ph(value) => format!("pH {}", fixed(value, 2)),
        Measured::Ammonia { mg_l, basis } => compound("ammonia", mg_l, basis),
        Measured::Nitrite { mg_l, basis } => compound("nitrite", mg_l, basis),
        Measured::Nitrate { mg_l, basis } => compound("nitrate", mg_l, basis),
        Measured::Chlorine(mg_l) => compound("chlorine", mg_l, Basis::Ion),
        Measured::Level(cm) => format!("level {}", centimetres(cm, units)),
    }
}

/// Instruments read to the third digit behind the point, and people between the lines to the fourth.
fn gravity(value: f64) -> String {
    let text = format!("{value:.4}");
    text.strip_suffix('0').map_or_else(|| text.clone(), str::to_owned)
}

fn compound(name: &str, mg_l: f64, basis: Basis) -> String {
    let counted = match basis {
        Basis::Ion => "",
        Basis::Nitrogen => " as N",
    };
    format!("{name} {}{counted}", with(&sensible(mg_l, 2), "mg/L"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::GravityConvention;

    #[test]
    fn check_amounts() {
        for (got, want) in [
            (litres(7.8, Units::Metric), "7.8 L"),
            (litres(7.8, Units::Us), "2.1 US gal"),
            (litres(7.8, Units::Imperial), "1.7 imp gal"),
            (square_centimetres(245.8, Units::Metric), "246 cm²"),
            (square_centimetres(371.6, Units::Us), "57.6 in²"),
            (square_centimetres(99.96, Units::Imperial), "100 cm²"),
            (litres_per_minute(5.224, Units::Metric), "5.2 L/min"),
            (litres_per_minute(5.224, Units::Us), "1.4 US gal/min"),
            (litres_per_minute(0.5, Units::Imperial), "0.11 imp gal/min"),
            (pascals(12_000.0, Units::Metric), "12 kPa"),
            // One psi is 6.894757 kPa (from memory).
            (pascals(6_894.757, Units::Us), "1 psi"),
            (litres(6.0, Units::Metric), "6 L"),
            (litres(113.56, Units::Metric), "113.6 L"),
            (litres(0.5, Units::Metric), "500 mL"),
            (litres(0.999_99, Units::Metric), "1 L"),
            (litres(0.000_2, Units::Metric), "0.2 mL"),
            (litres(0.5, Units::Us), "0.13 US gal"),
            (litres(0.05, Units::Us), "0.013 US gal"),
            (litres(0.0, Units::Us), "0 US gal"),
            (celsius(26.5, Units::Metric), "26.5 °C"),
            (celsius(26.5, Units::Us), "79.7 °F"),
            (celsius(26.5, Units::Imperial), "26.5 °C"),
            (celsius(-0.01, Units::Metric), "0 °C"),
            (celsius(-5.0, Units::Metric), "-5 °C"),
            (centimetres(7.0, Units::Metric), "7 cm"),
            (centimetres(7.62, Units::Us), "3 in"),
            (centimetres(0.3, Units::Imperial), "0.3 cm"),
            (grams(35.26, Units::Metric), "35.3 g"),
            (grams(999.99, Units::Metric), "1 kg"),
            (grams(1250.0, Units::Imperial), "1.25 kg"),
            (grams(56.699, Units::Us), "2 oz"),
            (grams(453.59, Units::Us), "1 lb"),
            (plain(26_417.205), "26417.2"),
            (plain(78.74), "78.7"),
            (plain(1.5), "1.5"),
        ] {
            assert_eq!(got, want);
        }
    }

    #[test]
    fn check_readings() {
        let (ion, nitrogen) = (Basis::Ion, Basis::Nitrogen);
        let convention = GravityConvention::T25T25;
        for (reading, units, want) in [
            (Measured::Humidity(82.0), Units::Metric, "82 %"),
            (Measured::Temperature(26.11), Units::Metric, "26.1 °C"),
            (
                Measured::Gravity {
                    value: 1.0245,
                    convention,
                },
                Units::Us,
                "sg 1.0245 (25/25)",
            ),
            (
                Measured::Gravity {
                    value: 1.02,
                    convention,
                },
                Units::Us,
                "sg 1.020 (25/25)",
            ),
            (Measured::Salinity(35.0), Units::Us, "35 g/kg"),
            (
                Measured::Conductivity {
                    ms_cm: 53.0,
                    at_c: 25.0,
                },
                Units::Metric,
                "53 mS/cm at 25 °C",
            ),
            (
                Measured::Conductivity {
                    ms_cm: 53.0,
                    at_c: 25.0,
                },
                Units::Us,
                "53 mS/cm at 77 °F",
            ),
            (Measured::Ph(8.1), Units::Metric, "pH 8.1"),
            (
                Measured::Ammonia {
                    mg_l: 0.25,
                    basis: ion,
                },
                Units::Metric,
                "ammonia 0.25 mg/L",
            ),
            (
                Measured::Nitrite {
                    mg_l: 0.0,
                    basis: ion,
                },
                Units::Metric,
                "nitrite 0 mg/L",
            ),
            (
                Measured::Nitrate {
                    mg_l: 5.0,
                    basis: nitrogen,
                },
                Units::Us,
                "nitrate 5 mg/L as N",
            ),
            (Measured::Chlorine(0.1), Units::Metric, "chlorine 0.1 mg/L"),
            (Measured::Level(7.0), Units::Metric, "level 7 cm"),
            (Measured::Level(7.62), Units::Us, "level 3 in"),
        ] {
            assert_eq!(show(&reading, units), want);
        }
    }
}
