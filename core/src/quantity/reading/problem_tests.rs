//! Free text that is refused, and why.

use super::*;

const HOUSE: Option<GravityConvention> = Some(GravityConvention::T25T25);

#[test]
fn check_wrong_units() {
    for (text, number, what) in [
        ("5 kg", "5 kg", What::AnyReading),
        ("north 6 L", "6 L", What::AnyReading),
        ("temp 30 %", "30 %", What::Reading(Kind::Temperature)),
        ("chlorine 0.1 mg/L-N", "0.1 mg/L-N", What::Reading(Kind::Chlorine)),
        ("sg 1.023 g/kg", "1.023 g/kg", What::Reading(Kind::Gravity)),
    ] {
        let want = Problem::WrongUnit {
            text: number.to_owned(),
            what,
        };
        assert_eq!(readings(text, HOUSE), Err(want), "{text:?}");
    }
}

#[test]
fn check_missing_units() {
    for (text, number, what) in [
        ("26.5", "26.5", What::AnyReading),
        ("north 26.5", "26.5", What::AnyReading),
        ("north: 82, 26C", "82", What::AnyReading),
        ("82% 26", "26", What::AnyReading),
        ("82 and 26C", "82", What::AnyReading),
        ("eighty-two", "eighty-two", What::AnyReading),
        ("north 1.0245", "1.0245", What::Reading(Kind::Gravity)),
        ("temp 26", "26", What::Reading(Kind::Temperature)),
        ("26.5 degrees", "26.5 degrees", What::Reading(Kind::Temperature)),
        ("level 7", "7", What::Reading(Kind::Level)),
        ("level 7 in north", "7", What::Reading(Kind::Level)),
        ("salinity 1.024", "1.024", What::Reading(Kind::Salinity)),
    ] {
        let want = Problem::NoUnit {
            text: number.to_owned(),
            what,
        };
        assert_eq!(readings(text, HOUSE), Err(want), "{text:?}");
    }
}

#[test]
fn check_what_is_no_number_and_no_unit() {
    for (text, part) in [
        ("3 bananas", "3 bananas"),
        ("3.5 bananas", "3.5 bananas"),
        ("north 82bananas", "82bananas"),
        ("ph 8.1x", "8.1x"),
        ("0.25 ppm", "0.25 ppm"),
        ("82-84%", "82-84%"),
    ] {
        let want = Problem::Unknown {
            text: part.to_owned(),
        };
        assert_eq!(readings(text, HOUSE), Err(want), "{text:?}");
    }
    for (text, part) in [
        ("1.2.3 %", "1.2.3"),
        ("ammonia <0.25", "<0.25"),
        ("north >90%", ">90%"),
    ] {
        let want = Problem::NotANumber {
            text: part.to_owned(),
        };
        assert_eq!(readings(text, HOUSE), Err(want), "{text:?}");
    }
}

#[test]
fn check_problems_of_values() {
    let text = str::to_owned;
    let range = |kind, value, unit, low, high| Problem::OutOfRange {
        kind: What::Reading(kind),
        value,
        unit,
        low,
        high,
    };
    for (wrong, want) in [
        ("101%", range(Kind::Humidity, 101.0, "%", 0.0, 100.0)),
        ("61 C", range(Kind::Temperature, 61.0, "°C", -20.0, 60.0)),
        ("-21 C", range(Kind::Temperature, -21.0, "°C", -20.0, 60.0)),
        ("200F", range(Kind::Temperature, 200.0, "°F", -4.0, 140.0)),
        ("sg 1.9", range(Kind::Gravity, 1.9, "sg", 0.98, 1.06)),
        ("35000 ppt", range(Kind::Salinity, 35_000.0, "g/kg", 0.0, 60.0)),
        ("101 mS/cm", range(Kind::Conductivity, 101.0, "mS/cm", 0.0, 100.0)),
        (
            "53 mS/cm at 99 C",
            range(Kind::Temperature, 99.0, "°C", -20.0, 60.0),
        ),
        ("ph 81", range(Kind::Ph, 81.0, "pH", 0.0, 14.0)),
        ("ammonia 101", range(Kind::Ammonia, 101.0, "mg/L", 0.0, 100.0)),
        ("nitrite 101 ppm", range(Kind::Nitrite, 101.0, "mg/L", 0.0, 100.0)),
        ("nitrate 1001", range(Kind::Nitrate, 1001.0, "mg/L", 0.0, 1000.0)),
        ("chlorine 21", range(Kind::Chlorine, 21.0, "mg/L", 0.0, 20.0)),
        ("level 201 cm", range(Kind::Level, 201.0, "cm", 0.0, 200.0)),
        (
            "-5%",
            Problem::Negative {
                text: text("-5%"),
                what: What::Reading(Kind::Humidity),
            },
        ),
        (
            "ammonia minus 1",
            Problem::Negative {
                text: text("minus 1"),
                what: What::Reading(Kind::Ammonia),
            },
        ),
    ] {
        assert_eq!(readings(wrong, HOUSE), Err(want), "{wrong:?}");
    }
    assert_eq!(
        readings("sg 1.023", None),
        Err(Problem::NoConvention { value: 1.023 })
    );
    assert_eq!(
        readings(&format!("{}%", "9".repeat(400)), HOUSE),
        Err(Problem::NotFinite)
    );
}
