//! Single quantities, written and dictated.

use super::*;

fn close(text: &str, got: Result<f64, Problem>, want: f64) {
    let got = got.unwrap_or_else(|problem| panic!("{text:?}: {problem:?}"));
    assert!((got - want).abs() < 1e-9, "{text:?}: {got} is not {want}");
}

#[test]
fn check_volumes() {
    for (text, units, want) in [
        ("1.5 gal", Units::Us, 5.678_117_676),
        ("1.5 gal", Units::Metric, 5.678_117_676),
        ("1.5 gal", Units::Imperial, 6.819_135),
        ("3 imp gal", Units::Us, 13.638_27),
        ("3 US gal", Units::Imperial, 11.356_235_352),
        ("6 L", Units::Metric, 6.0),
        ("6l", Units::Metric, 6.0),
        ("6 litres", Units::Metric, 6.0),
        ("six liters", Units::Us, 6.0),
        ("500 ml", Units::Metric, 0.5),
        ("2 cups", Units::Us, 0.473_176_473),
        ("1 1/2 gal", Units::Us, 5.678_117_676),
        ("1½ gal.", Units::Us, 5.678_117_676),
        ("half a gallon", Units::Us, 1.892_705_892),
        ("three quarters of a litre", Units::Metric, 0.75),
        ("a gallon", Units::Imperial, 4.546_09),
        ("one and a half gallons", Units::Us, 5.678_117_676),
        ("two and a half litres", Units::Metric, 2.5),
        ("5 qt", Units::Us, 4.731_764_73),
        ("8 fl oz", Units::Us, 0.236_588_236_5),
        ("1,5 L", Units::Metric, 1.5),
        ("1,000 L", Units::Metric, 1000.0),
        (" 100000 L ", Units::Metric, 100_000.0),
    ] {
        close(text, volume(text, units), want);
    }
}

#[test]
fn check_refused_volumes() {
    let what = What::Volume;
    let refused = |text: &str| volume(text, Units::Metric).unwrap_err();
    for text in ["5 kg", "30 %", "26 °C"] {
        assert_eq!(
            refused(text),
            Problem::WrongUnit {
                text: text.to_owned(),
                what
            }
        );
    }
    for text in ["\u{2212}3 L", "-3 L", "- 3 L", "minus three litres"] {
        assert_eq!(
            refused(text),
            Problem::Negative {
                text: text.to_owned(),
                what
            }
        );
    }
    for text in ["3 bananas", "3 L north", "1e5 L", "1-2 L"] {
        assert_eq!(
            refused(text),
            Problem::Unknown {
                text: text.to_owned()
            }
        );
    }
    for text in ["NaN L", "inf L", "", "some water"] {
        assert_eq!(
            refused(text),
            Problem::NotANumber {
                text: text.to_owned()
            }
        );
    }
    assert_eq!(
        refused("6"),
        Problem::NoUnit {
            text: "6".to_owned(),
            what
        }
    );
    assert_eq!(
        refused("1.2.3 L"),
        Problem::NotANumber {
            text: "1.2.3".to_owned()
        }
    );
    assert_eq!(refused(&format!("{} L", "9".repeat(400))), Problem::NotFinite);
}

#[test]
fn check_impossible_volumes() {
    for (text, units, number, symbol, most) in [
        ("0 L", Units::Metric, 0.0, "L", 100_000.0),
        ("100001 L", Units::Metric, 100_001.0, "L", 100_000.0),
        ("30000 gal", Units::Us, 30_000.0, "US gal", 26_417.205_235_8),
        (
            "30000 gal",
            Units::Imperial,
            30_000.0,
            "imp gal",
            21_996.924_829_9,
        ),
    ] {
        let Err(Problem::OutOfRange {
            kind,
            value,
            unit,
            low,
            high,
        }) = volume(text, units)
        else {
            panic!("{text:?} was read");
        };
        assert_eq!(
            (kind, value, unit, low),
            (What::Volume, number, symbol, 0.0),
            "{text:?}"
        );
        assert!((high - most).abs() < 1e-6, "{text:?}: {high} is not {most}");
    }
}

#[test]
fn check_lengths_masses_and_durations() {
    for (text, want) in [
        ("7 cm", 7.0),
        ("3 in", 7.62),
        ("3\"", 7.62),
        ("12mm", 1.2),
        ("half a metre", 50.0),
    ] {
        close(text, length_cm(text, Units::Metric), want);
    }
    for (text, want) in [
        ("35 g", 35.0),
        ("1.5kg", 1500.0),
        ("2 oz", 56.699_046_25),
        ("a pound", 453.592_37),
    ] {
        close(text, mass_g(text, Units::Us), want);
    }
    for (text, want) in [
        ("9d", 12_960.0),
        ("36 h", 2160.0),
        ("2h", 120.0),
        ("90 min", 90.0),
        ("a week", 10_080.0),
    ] {
        close(text, duration_min(text), want);
    }
    let wrong = Problem::WrongUnit {
        text: "7 cm".to_owned(),
        what: What::Mass,
    };
    assert_eq!(mass_g("7 cm", Units::Metric), Err(wrong));
    let wrong = Problem::WrongUnit {
        text: "7 g".to_owned(),
        what: What::Length,
    };
    assert_eq!(length_cm("7 g", Units::Metric), Err(wrong));
    let wrong = Problem::NoUnit {
        text: "7".to_owned(),
        what: What::Duration,
    };
    assert_eq!(duration_min("7"), Err(wrong));
}

#[test]
fn check_fractions() {
    for (text, want) in [
        ("50%", 0.5),
        ("50 percent", 0.5),
        ("fifty percent", 0.5),
        ("half", 0.5),
        ("a quarter", 0.25),
        ("two thirds", 2.0 / 3.0),
        ("0.5", 0.5),
        ("0,5", 0.5),
        ("1/3", 1.0 / 3.0),
        ("½", 0.5),
        ("1", 1.0),
        ("100 %", 1.0),
    ] {
        close(text, fraction(text), want);
    }
    let what = What::Fraction;
    let text = str::to_owned;
    let range = |value, unit, high| Problem::OutOfRange {
        kind: what,
        value,
        unit,
        low: 0.0,
        high,
    };
    for (wrong, want) in [
        ("150%", range(150.0, "%", 100.0)),
        ("0%", range(0.0, "%", 100.0)),
        ("0", range(0.0, "", 1.0)),
        ("3/2", range(1.5, "", 1.0)),
        (
            "50",
            Problem::NoUnit {
                text: text("50"),
                what,
            },
        ),
        (
            "-50%",
            Problem::Negative {
                text: text("-50%"),
                what,
            },
        ),
        (
            "5 L",
            Problem::WrongUnit {
                text: text("5 L"),
                what,
            },
        ),
        (
            "half bananas",
            Problem::Unknown {
                text: text("half bananas"),
            },
        ),
        ("most", Problem::NotANumber { text: text("most") }),
    ] {
        assert_eq!(fraction(wrong), Err(want), "{wrong:?}");
    }
}
