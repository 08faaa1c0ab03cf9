//! How large a unit is. All of them are exact by definition.

/// US gallon in litres: 231 cubic inches.
pub(super) const US_GALLON_L: f64 = 3.785_411_784;
/// US quart in litres: a quarter of the gallon.
pub(super) const US_QUART_L: f64 = US_GALLON_L / 4.0;
/// US pint in litres: an eighth of the gallon.
pub(super) const US_PINT_L: f64 = US_GALLON_L / 8.0;
/// US cup in litres: a sixteenth of the gallon.
pub(super) const US_CUP_L: f64 = US_GALLON_L / 16.0;
/// US fluid ounce in litres: the 128th part of the gallon.
pub(super) const US_FLUID_OUNCE_L: f64 = US_GALLON_L / 128.0;
/// Imperial gallon in litres, as the British weights and measures law defines it.
pub(super) const IMPERIAL_GALLON_L: f64 = 4.546_09;
/// Imperial quart in litres: a quarter of the gallon.
pub(super) const IMPERIAL_QUART_L: f64 = IMPERIAL_GALLON_L / 4.0;
/// Imperial pint in litres: an eighth of the gallon.
pub(super) const IMPERIAL_PINT_L: f64 = IMPERIAL_GALLON_L / 8.0;
/// Imperial fluid ounce in litres: the 160th part of the gallon.
pub(super) const IMPERIAL_FLUID_OUNCE_L: f64 = IMPERIAL_GALLON_L / 160.0;
/// Inch in centimetres, by the international yard and pound agreement.
pub(super) const INCH_CM: f64 = 2.54;
/// Foot in centimetres: twelve inches.
pub(super) const FOOT_CM: f64 = 12.0 * INCH_CM;
/// Pound in grams, by the international yard and pound agreement.
pub(super) const POUND_G: f64 = 453.592_37;
/// Pound-force per square inch in pascals: the pound times standard gravity on the square inch.
pub(super) const PSI_PA: f64 = POUND_G * 1e-3 * 9.806_65 / (INCH_CM * INCH_CM * 1e-4);
/// Ounce in grams: a sixteenth of the pound.
pub(super) const OUNCE_G: f64 = POUND_G / 16.0;

/// A temperature in °F in °C. The Fahrenheit scale is defined by 32 °F = 0 °C and 180 °F = 100 °C.
pub(super) fn fahrenheit_to_celsius(f: f64) -> f64 {
    (f - 32.0) / 1.8
}

/// A temperature in °C in °F.
pub(super) fn celsius_to_fahrenheit(c: f64) -> f64 {
    c * 1.8 + 32.0
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;

    /// The rows of one topic of the table of checked units: what, and its value.
    pub(in crate::quantity) fn rows(topic: &str) -> Vec<(String, f64)> {
        include_str!("../../../tests/data/units.csv")
            .lines()
            .filter_map(|line| {
                let mut cells = line.split(',');
                (cells.next() == Some(topic)).then(|| {
                    let what = cells.next().unwrap().to_owned();
                    (what, cells.next().unwrap().parse().unwrap())
                })
            })
            .collect()
    }

    #[test]
    fn check_against_the_table() {
        let rows = rows("units");
        assert_eq!(rows.len(), 3);
        for (what, want) in rows {
            let got = match what.as_str() {
                "US gal -> L (or mL)" => US_GALLON_L,
                "imp gal -> L (or mL)" => IMPERIAL_GALLON_L,
                "US fl oz mL -> L (or mL)" => 1000.0 * US_FLUID_OUNCE_L,
                other => panic!("no check for {other}"),
            };
            assert!((got - want).abs() < 1e-12, "{what}: {got} is not {want}");
        }
    }

    #[test]
    fn check_parts() {
        for (got, want) in [
            (1000.0 * US_CUP_L, 236.588_236_5),
            (1000.0 * US_QUART_L, 946.352_946),
            (1000.0 * IMPERIAL_FLUID_OUNCE_L, 28.413_062_5),
            (US_PINT_L, 0.473_176_473),
            (IMPERIAL_PINT_L, 0.568_261_25),
            (OUNCE_G, 28.349_523_125),
            (FOOT_CM, 30.48),
            (fahrenheit_to_celsius(78.0), 25.555_555_555_6),
            (fahrenheit_to_celsius(-40.0), -40.0),
            (celsius_to_fahrenheit(26.5), 79.7),
        ] {
            assert!((got - want).abs() < 1e-9, "{got} is not {want}");
        }
    }
}
