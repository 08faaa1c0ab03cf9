//! Free text, and what is read out of it.

use super::*;
use crate::quantity::Basis;

const HOUSE: Option<GravityConvention> = Some(GravityConvention::T25T25);

fn humidity(value: f64) -> Measured {
    Measured::Humidity(value)
}
fn celsius(value: f64) -> Measured {
    Measured::Temperature(value)
}
fn gravity(value: f64, convention: GravityConvention) -> Measured {
    Measured::Gravity { value, convention }
}
fn ms_cm(ms_cm: f64, at_c: f64) -> Measured {
    Measured::Conductivity { ms_cm, at_c }
}
fn ammonia(mg_l: f64, basis: Basis) -> Measured {
    Measured::Ammonia { mg_l, basis }
}
fn nitrite(mg_l: f64, basis: Basis) -> Measured {
    Measured::Nitrite { mg_l, basis }
}
fn nitrate(mg_l: f64, basis: Basis) -> Measured {
    Measured::Nitrate { mg_l, basis }
}

/// The numbers of a reading that conversions may touch.
fn numbers(m: &Measured) -> [f64; 2] {
    match *m {
        Measured::Humidity(v)
        | Measured::Temperature(v)
        | Measured::Salinity(v)
        | Measured::Ph(v)
        | Measured::Chlorine(v)
        | Measured::Level(v)
        | Measured::Gravity { value: v, .. }
        | Measured::Ammonia { mg_l: v, .. }
        | Measured::Nitrite { mg_l: v, .. }
        | Measured::Nitrate { mg_l: v, .. } => [v, 0.0],
        Measured::Conductivity { ms_cm, at_c } => [ms_cm, at_c],
    }
}

/// What a reading says beside its numbers.
fn said(m: &Measured) -> (Kind, Option<GravityConvention>, Option<Basis>) {
    match *m {
        Measured::Gravity { convention, .. } => (m.kind(), Some(convention), None),
        Measured::Ammonia { basis, .. }
        | Measured::Nitrite { basis, .. }
        | Measured::Nitrate { basis, .. } => (m.kind(), None, Some(basis)),
        _ => (m.kind(), None, None),
    }
}

fn read(text: &str, want: &[Measured], left: &str) {
    let (got, rest) = readings(text, HOUSE).unwrap_or_else(|problem| panic!("{text:?}: {problem:?}"));
    assert_eq!(rest, left, "{text:?}");
    assert_eq!(got.len(), want.len(), "{text:?}: {got:?}");
    for (got, want) in got.iter().zip(want) {
        assert_eq!(said(got), said(want), "{text:?}");
        for (got, want) in numbers(got).into_iter().zip(numbers(want)) {
            assert!((got - want).abs() < 1e-9, "{text:?}: {got} is not {want}");
        }
    }
}

#[test]
fn check_air_and_water() {
    for text in [
        "82%",
        "82 % rh",
        "82%RH",
        "eighty-two percent",
        "82 per cent",
        "humidity 82",
        "humidity is 82%",
    ] {
        read(text, &[humidity(82.0)], "");
    }
    for text in [
        "82 % humidity",
        "rh 82",
        "RH82",
        "humidity: 82 %",
        "eighty two percent relative humidity",
    ] {
        read(text, &[humidity(82.0)], "");
    }
    for text in [
        "78F",
        "78 °F",
        "78 ℉",
        "seventy-eight degrees fahrenheit",
        "temp 78 F",
        "78 deg F temp",
    ] {
        read(text, &[celsius(46.0 / 1.8)], "");
    }
    for text in [
        "25.5 °C",
        "25,5 C",
        "25.5 degrees celsius",
        "25.5 ° C",
        "temperature was 25.5c",
    ] {
        read(text, &[celsius(25.5)], "");
    }
    read("twenty-five point five celsius", &[celsius(25.5)], "");
    read("-5 C", &[celsius(-5.0)], "");
    read("minus five celsius", &[celsius(-5.0)], "");
    read("level 7 cm", &[Measured::Level(7.0)], "");
    read("7cm deep", &[Measured::Level(7.0)], "deep");
    read("level 3 in", &[Measured::Level(7.62)], "");
    read("water level is 3 inches", &[Measured::Level(7.62)], "");
}

#[test]
fn check_salt() {
    for text in [
        "sg 1.023",
        "1.023 sg",
        "one point zero two three sg",
        "SG1.023",
        "sg 1,023",
        "gravity 1.023",
    ] {
        read(text, &[gravity(1.023, GravityConvention::T25T25)], "");
    }
    for text in [
        "sg 1.0245 20/20",
        "sg 20/20 1.0245",
        "1.0245 sg (20/20)",
        "sg 1.0245 at 20/20",
        "1.0245 20/20",
    ] {
        read(text, &[gravity(1.0245, GravityConvention::T20T20)], "");
    }
    read(
        "sg 1.02 60F/60F north",
        &[gravity(1.02, GravityConvention::F60F60)],
        "north",
    );
    read(
        "salinity 1.024 sg",
        &[gravity(1.024, GravityConvention::T25T25)],
        "",
    );
    for text in [
        "35 g/kg",
        "35 ppt",
        "35psu",
        "35 ‰",
        "salinity 35",
        "35 ppt salinity",
        "35 parts per thousand",
    ] {
        read(text, &[Measured::Salinity(35.0)], "");
    }
    for text in [
        "53 mS/cm",
        "53 mS/cm at 25C",
        "53 mS/cm @25 °C",
        "53,000 µS/cm",
        "conductivity 53 ms at 77 F",
    ] {
        read(text, &[ms_cm(53.0, 25.0)], "");
    }
    read("50 mS/cm at 20C 82%", &[ms_cm(50.0, 20.0), humidity(82.0)], "");
}

#[test]
fn check_tests() {
    let (ion, nitrogen) = (Basis::Ion, Basis::Nitrogen);
    for text in [
        "pH 8.1",
        "ph: 8.1",
        "pH8.1",
        "ph=8.1",
        "8.1 pH",
        "pH eight point one",
    ] {
        read(text, &[Measured::Ph(8.1)], "");
    }
    read("ph 8", &[Measured::Ph(8.0)], "");
    for text in [
        "ammonia 0.25",
        "ammonia 0.25 ppm",
        "0.25 mg/L of ammonia",
        "NH₃ 0,25",
        "0.25 ammonia",
    ] {
        read(text, &[ammonia(0.25, ion)], "");
    }
    for text in [
        "ammonia 0.25 mg/L as N",
        "NH3-N 0.25",
        "0.25 mg/L-N ammonia",
        "ammonia 0.25 as nitrogen",
    ] {
        read(text, &[ammonia(0.25, nitrogen)], "");
    }
    read("NH4 0.5", &[ammonia(0.5 * 14.007 / 18.039, nitrogen)], "");
    read("nitrite 0", &[nitrite(0.0, ion)], "");
    read("NO2-N 0.1", &[nitrite(0.1, nitrogen)], "");
    read("nitrate 20", &[nitrate(20.0, ion)], "");
    read("nitrate 5 as N", &[nitrate(5.0, nitrogen)], "");
    read("nitrate 20 as NO3", &[nitrate(20.0, ion)], "");
    read("chlorine 0.1", &[Measured::Chlorine(0.1)], "");
}

#[test]
fn check_whole_messages() {
    let (ion, sg) = (Basis::Ion, gravity(1.0245, GravityConvention::T25T25));
    read(
        "north salt 82% 26.5C sg 1.0245",
        &[humidity(82.0), celsius(26.5), sg],
        "north salt",
    );
    read(
        "North Salt: 82%, 26.5 °C.",
        &[humidity(82.0), celsius(26.5)],
        "North Salt",
    );
    read("North - 82%/26.5C", &[humidity(82.0), celsius(26.5)], "North");
    read("tank 2 82% 26C", &[humidity(82.0), celsius(26.0)], "tank 2");
    read("tank two eighty-two percent", &[humidity(82.0)], "tank two");
    read("Tank 2b 82%", &[humidity(82.0)], "Tank 2b");
    read("tank 2 ph 8.1", &[Measured::Ph(8.1)], "tank 2");
    read("82% in tank 2", &[humidity(82.0)], "in tank 2");
    read(
        "the 2nd pool 26C at 18:30",
        &[celsius(26.0)],
        "the 2nd pool at 18:30",
    );
    read("north 82% 2 h ago", &[humidity(82.0)], "north 2 h ago");
    read(
        "82% and 26C in the south one",
        &[humidity(82.0), celsius(26.0)],
        "and in the south one",
    );
    read("did half", &[], "did half");
    read("Tank, 2 C", &[celsius(2.0)], "Tank");
    read("north salt topped up", &[], "north salt topped up");
    read("check ammonia in north", &[], "check ammonia in north");
    read("NaN% inf C", &[], "NaN% inf C");
    read("", &[], "");
    let kit = [ammonia(0.0, ion), nitrite(0.0, ion), nitrate(20.0, ion)];
    read("north ammonia 0 nitrite 0 nitrate 20", &kit, "north");
    read("north 0 ammonia 0 nitrite 20 nitrate", &kit, "north");
    read("0 ppm ammonia, 0 ppm nitrite, 20 ppm nitrate", &kit, "");
    read(
        "pH eight point one eighty-two percent",
        &[Measured::Ph(8.1), humidity(82.0)],
        "",
    );
}
