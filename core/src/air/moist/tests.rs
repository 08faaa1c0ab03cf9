use super::comparison::{hyland_wexler, magnus};
use super::*;

/// The rows of a reference grid: numbers behind a comment line and a header.
fn grid(text: &str) -> impl Iterator<Item = Vec<f64>> + '_ {
    text.lines()
        .filter(|line| !line.starts_with('#'))
        .skip(1)
        .map(|line| {
            line.split(',')
                .map(|cell| cell.parse().expect("a number"))
                .collect()
        })
}

fn air(t: f64, rh: f64) -> Air {
    Air::new(Celsius(t), Humidity(rh)).expect("air")
}

/// Against IAPWS-95 as computed by CoolProp 8.0.0.
#[test]
fn check_saturation_and_heat_against_iapws() {
    let mut rows = 0;
    for row in grid(include_str!("../../../../tests/data/reference/saturation.csv")) {
        let [t, pressure, latent] = row[..] else {
            panic!("{row:?}")
        };
        let got = saturation(Celsius(t)).expect("a pressure").0;
        let allowed = if t <= 50.0 { 1e-4 } else { 2e-4 };
        assert!(
            (got / pressure - 1.0).abs() < allowed,
            "{t} C: {got} for {pressure}"
        );
        let heat = latent_heat_kj_kg(Celsius(t)).expect("a heat");
        assert!((heat - latent).abs() < 0.021, "{t} C: {heat} for {latent}");
        rows += 1;
    }
    assert!(rows > 100);
}

/// Against psychrolib 2.5.0, whose saturation pressure lies 0.02 % lower.
#[test]
fn check_dew_point_and_ratio_against_ashrae() {
    let mut rows = 0;
    for row in grid(include_str!("../../../../tests/data/reference/psychrometry.csv")) {
        let [t, percent, dew, ratio] = row[..] else {
            panic!("{row:?}")
        };
        let air = air(t, percent / 100.0);
        let got = air.dew_point().expect("a dew point").0;
        // psychrolib's own iteration ends within 0.001 K.
        assert!((got - dew).abs() < 0.005, "{t} C {percent} %: {got} for {dew}");
        let got = air.humidity_ratio(STANDARD_ATMOSPHERE).expect("a ratio");
        assert!(
            (got / ratio - 1.0).abs() < 5e-4,
            "{t} C {percent} %: {got} for {ratio}"
        );
        rows += 1;
    }
    assert!(rows > 150);
}

/// Hours of a measured year in which air and dew point lie above freezing (below it the file goes over to ice): the
/// humidity and the dew point that follow from the other two columns agree within what the file rounds away, 0.05 °C
/// and 0.5 %. What disagrees stands at the ends of months, where the file blends years into each other.
#[test]
fn a_measured_year_agrees_with_itself() {
    let (mut hours, mut agree) = (0.0, 0.0);
    for row in grid(include_str!("../../../../tests/data/reference/tmy3.csv")) {
        let [t, dew, percent] = row[..] else {
            panic!("{row:?}")
        };
        if t <= 0.0 || dew <= 0.0 {
            continue;
        }
        hours += 1.0;
        let humidity = |t, dew| {
            100.0 * saturation(Celsius(dew)).expect("pressure").0
                / saturation(Celsius(t)).expect("pressure").0
        };
        let damp = (
            humidity(t + 0.05, dew - 0.05) - 0.5,
            humidity(t - 0.05, dew + 0.05) + 0.5,
        );
        let dew_of = |t, percent: f64| {
            air(t, (percent / 100.0).min(1.0))
                .dew_point()
                .expect("dew point")
                .0
        };
        let dewy = (
            dew_of(t - 0.05, percent - 0.5) - 0.05,
            dew_of(t + 0.05, percent + 0.5) + 0.05,
        );
        let both = damp.0 <= percent && percent <= damp.1 && dewy.0 <= dew && dew <= dewy.1;
        agree += f64::from(u8::from(both));
    }
    assert!(hours > 4000.0, "{hours} hours");
    let share = agree / hours;
    assert!(share >= 0.985, "{share} of {hours} hours");
}

/// How far the formulas lie apart: Hyland and Wexler 0.02 % below, Magnus 0.24 to 0.27 % below.
#[test]
fn check_other_formulas_lie_near() {
    for t in [18.0, 20.0, 25.0, 27.0, 30.0] {
        let here = saturation(Celsius(t)).expect("a pressure").0;
        let (other, third) = (hyland_wexler(Celsius(t)).0 / here, magnus(Celsius(t)).0 / here);
        assert!((0.9997..0.9999).contains(&other), "{t}: {other}");
        assert!((0.9972..0.9977).contains(&third), "{t}: {third}");
    }
}

#[test]
fn check_ranges_are_named() {
    assert!(saturation_beyond(Celsius(-1.0)).is_some() && saturation(Celsius(-1.0)).is_ok());
    assert_eq!(saturation_beyond(Celsius(27.0)), None);
    assert!(latent_heat_beyond(Celsius(70.0)).is_some());
    for t in [-41.0, 101.0, 1e300, f64::NAN] {
        assert!(
            matches!(
                saturation(Celsius(t)),
                Err(AirError::Outside {
                    what: What::Temperature,
                    ..
                })
            ),
            "{t}"
        );
    }
    assert!(matches!(
        air(20.0, 0.0).dew_point(),
        Err(AirError::Outside {
            what: What::VapourPressure,
            ..
        })
    ));
    assert!(matches!(
        air(99.99, 1.0).humidity_ratio(STANDARD_ATMOSPHERE),
        Err(AirError::Outside {
            what: What::TotalPressure,
            ..
        })
    ));
}
