//! What holds for every text and every value.

use proptest::prelude::*;

use super::*;

const UNITS: [Units; 3] = [Units::Metric, Units::Us, Units::Imperial];

fn any_units() -> impl Strategy<Value = Units> {
    prop::sample::select(UNITS.to_vec())
}

/// Text that looks like readings more often than not, so that the parsers are led far in.
fn likely_text() -> impl Strategy<Value = String> {
    let pieces = [
        "82",
        "26.5",
        "1,023",
        "1/2",
        "½",
        "-",
        "\u{2212}",
        "%",
        "C",
        "°",
        "F",
        "sg",
        "pH",
        "20/20",
        "60F/60F",
        "at",
        "@",
        "north",
        "tank",
        "2",
        "one",
        "and",
        "a",
        "half",
        "point",
        "hundred",
        "eighty-two",
        "minus",
        "mg/L",
        "ppm",
        "as",
        "N",
        "NO3-N",
        "ammonia",
        "level",
        "in",
        "cm",
        "mS/cm",
        "gal",
        "imp",
        "us",
        "fl",
        "oz",
        "/",
        ":",
        ",",
        "'",
        "\"",
        "(",
        ")",
        "é",
        "💧",
        "₃",
        "0",
        "nan",
        "inf",
        "2b",
        "18:30",
        "thirds",
        "of",
        "L",
    ];
    prop::collection::vec((prop::sample::select(pieces.to_vec()), any::<bool>()), 0..12).prop_map(|parts| {
        parts.into_iter().fold(String::new(), |text, (piece, gap)| {
            text + piece + if gap { " " } else { "" }
        })
    })
}

fn any_reading() -> impl Strategy<Value = Measured> {
    let convention = prop::sample::select(GravityConvention::ALL.to_vec());
    let basis = prop::sample::select(vec![Basis::Ion, Basis::Nitrogen]);
    (
        prop::sample::select(Kind::ALL.to_vec()),
        0.0..=1.0,
        -20.0..=60.0,
        convention,
        basis,
    )
        .prop_map(|(kind, share, at_c, convention, basis)| {
            let (low, high) = kind.limits();
            let value: f64 = low + share * (high - low);
            match kind {
                Kind::Humidity => Measured::Humidity(value),
                Kind::Temperature => Measured::Temperature(value),
                Kind::Gravity => Measured::Gravity { value, convention },
                Kind::Salinity => Measured::Salinity(value),
                Kind::Conductivity => Measured::Conductivity { ms_cm: value, at_c },
                Kind::Ph => Measured::Ph(value),
                Kind::Ammonia => Measured::Ammonia { mg_l: value, basis },
                Kind::Nitrite => Measured::Nitrite { mg_l: value, basis },
                Kind::Nitrate => Measured::Nitrate { mg_l: value, basis },
                Kind::Chlorine => Measured::Chlorine(value),
                Kind::Level => Measured::Level(value),
            }
        })
}

/// Whether a value that was printed and read again is still the same, as far as it was printed.
fn same(before: f64, after: f64) -> bool {
    // Half of the last digit: at most 0.05 of a unit, and the largest unit is a gallon; or two digits that count.
    (before - after).abs() <= (0.05 * 4.6_f64).min(0.051 * before.abs()) + 1e-9
}

proptest! {
    #[test]
    fn no_text_panics(text in any::<String>(), likely in likely_text(), units in any_units()) {
        for text in [text, likely] {
            for value in [
                volume(&text, units),
                length_cm(&text, units),
                mass_g(&text, units),
                fraction(&text),
                duration_min(&text),
            ].into_iter().flatten() {
                prop_assert!(value.is_finite() && value > 0.0, "{text:?} gave {value}");
            }
            if let Ok(part) = fraction(&text) {
                prop_assert!(part <= 1.0);
            }
            for gravity in [None, Some(GravityConvention::T20T20)] {
                if let Ok((found, left)) = readings(&text, gravity) {
                    for reading in found {
                        prop_assert!(!show(&reading, units).contains("NaN"));
                    }
                    prop_assert!(!left.contains("  ") && left.trim() == left, "{left:?}");
                }
            }
        }
    }

    #[test]
    fn leftover_words_stood_in_the_text(text in likely_text()) {
        if let Ok((found, left)) = readings(&text, Some(GravityConvention::T25T4)) {
            let mut rest = text.as_str();
            for word in left.split(' ').filter(|word| !word.is_empty()) {
                let at = rest.find(word);
                prop_assert!(at.is_some(), "{word:?} is not in {text:?}, or not in this order");
                rest = &rest[at.unwrap() + word.len()..];
            }
            prop_assert!(found.is_empty() || left.len() < text.len(), "{text:?} was read, but nothing was taken");
        }
    }

    #[test]
    fn amounts_come_back(value in 0.01..9999.0_f64, units in any_units()) {
        let litres_back = volume(&litres(value, units), units).unwrap();
        prop_assert!(same(value, litres_back), "{value} L came back as {litres_back}");
        let grams_back = mass_g(&grams(value, units), units).unwrap();
        prop_assert!((value - grams_back).abs() <= 0.051 * value.min(100.0), "{value} g came back as {grams_back}");
        let cm = value / 10.0;
        let cm_back = length_cm(&centimetres(cm, units), units).unwrap();
        prop_assert!(same(cm, cm_back), "{cm} cm came back as {cm_back}");
    }

    #[test]
    fn volume_undoes_the_units(value in 0.001..20_000.0_f64, other in any_units()) {
        for (name, litres_in_one) in [
            ("US gal", 3.785_411_784), ("imp gal", 4.546_09), ("L", 1.0), ("mL", 0.001), ("US qt", 0.946_352_946),
        ] {
            let got = volume(&format!("{value} {name}"), other).unwrap();
            prop_assert!((got / litres_in_one / value - 1.0).abs() < 1e-12, "{value} {name} is not {got} L");
        }
    }

    #[test]
    fn readings_come_back(reading in any_reading(), units in any_units()) {
        let text = show(&reading, units);
        let (found, left) = readings(&text, None).unwrap();
        prop_assert_eq!(left, "");
        prop_assert_eq!(found.len(), 1);
        // What was rounded once is printed the same again.
        prop_assert_eq!(found[0].kind(), reading.kind());
        prop_assert_eq!(show(&found[0], units), text);
    }

    #[test]
    fn readings_stand_apart(a in any_reading(), b in any_reading(), units in any_units()) {
        let text = format!("Bay north {}, {}, tank 2", show(&a, units), show(&b, units));
        let (found, left) = readings(&text, None).unwrap();
        prop_assert_eq!(left, "Bay north tank 2");
        let printed: Vec<_> = found.iter().map(|m| show(m, units)).collect();
        prop_assert_eq!(printed, [show(&a, units), show(&b, units)]);
    }

    #[test]
    fn bases_undo_each_other(mg_l in 0.0..1000.0_f64) {
        for kind in [Kind::Ammonia, Kind::Nitrite, Kind::Nitrate] {
            let there = rebase(kind, mg_l, Basis::Ion, Basis::Nitrogen).unwrap();
            let back = rebase(kind, there, Basis::Nitrogen, Basis::Ion).unwrap();
            prop_assert!(there <= mg_l && (back - mg_l).abs() < 1e-9);
        }
    }
}
