use proptest::prelude::*;

use super::*;
use crate::quantity::{Density, Litres, Pascals};

fn route(pump: f64, check_valve: bool) -> Route {
    Route {
        stone_depth: Centimetres(10.0),
        across: Centimetres(25.0),
        rim: Centimetres(30.0),
        valve_below_rim: Centimetres(15.0),
        to_pump: Centimetres(60.0),
        pump: Centimetres(pump),
        check_valve,
    }
}

#[test]
fn check_two_lengths() {
    for (pump, slack, first, second) in [
        // 10 + 25 + 30 + 15, and 60 with the valve 15 cm above the water line.
        (0.0, (0.0, 0.0), 80.0, 75.0),
        (-40.0, (0.0, 0.0), 80.0, 115.0),
        (20.0, (0.0, 0.0), 80.0, 65.0),
        (-40.0, (0.1, 10.0), 88.0, 136.5),
    ] {
        let slack = Slack {
            share: slack.0,
            drip_loop: Centimetres(slack.1),
        };
        let got = cuts(route(pump, true), slack).unwrap();
        assert!((got.stone_to_valve.0 - first).abs() < 1e-9, "{got:?}");
        assert!((got.valve_to_pump.0 - second).abs() < 1e-9, "{got:?}");
    }
}

#[test]
fn a_pump_below_the_water_needs_a_check_valve() {
    assert_eq!(
        cuts(route(-40.0, false), Slack::USUAL),
        Err(AirlineError::NoCheckValve {
            below: Centimetres(40.0)
        })
    );
    let needs = |pump, has| cuts(route(pump, has), Slack::USUAL).map(|cuts| cuts.check_valve);
    assert_eq!(needs(-0.1, true), Ok(CheckValve::Needed));
    assert_eq!(needs(0.0, false), Ok(CheckValve::Optional));
    assert_eq!(needs(20.0, true), Ok(CheckValve::Optional));
}

#[test]
fn check_a_pump_against_its_stone() {
    // 20 cm of fresh water at 25 °C are 1955 Pa; stone and valve 1.0–4.0 kPa.
    let needed = pressure(Centimetres(20.0), Density(997.05)).unwrap();
    assert_eq!(needed.rests, Rests::Practice);
    for (rated, fit) in [
        (6000.0, Fit::Surely),
        (5000.0, Fit::Likely),
        (3000.0, Fit::Perhaps),
    ] {
        assert_eq!(pump_fits(needed, Pascals(rated)), Ok(fit));
    }
    let Err(AirlineError::Weak { missing, .. }) = pump_fits(needed, Pascals(2000.0)) else {
        panic!("less than water and stone");
    };
    assert!((missing.0 - 2455.5).abs() < 0.1, "{missing:?}");
    // 97.8 Pa for a centimetre of fresh water.
    let less = shallower(missing, Density(997.05)).unwrap();
    assert!((less.0 - 25.11).abs() < 0.01, "{less:?}");
}

#[test]
fn check_air_for_a_pool() {
    let (air, rests) = air_flow(Litres(37.854_117_84)).unwrap();
    assert!((air.0 - 0.33).abs() < 1e-12);
    assert_eq!(rests, Rests::Practice);
}

/// That the tube may be left out: air of 25 °C has 1.84e-5 Pa s (from memory).
#[test]
fn check_what_the_tube_takes() {
    let (length, rate, bore) = (2.0, 1e-3 / 60.0, 4e-3_f64);
    let lost = 128.0 * 1.84e-5 * length * rate / (std::f64::consts::PI * bore.powi(4));
    assert!((lost / 100.0 - 1.0).abs() < 0.05, "{lost}");
    assert!(lost < 0.1 * (STONE.high - STONE.low).0);
}

proptest! {
    #[test]
    fn nothing_panics_or_is_not_a_number(values in prop::array::uniform8(prop::num::f64::ANY), good in 0.0..100.0_f64) {
        let [a, b, c, d, e, f, g, h] = values.map(Centimetres);
        let odd = Route {
            stone_depth: a, across: b, rim: c, valve_below_rim: d, to_pump: e, pump: f, check_valve: true,
        };
        for route in [odd, route(f.0, true), Route { rim: c, ..route(good, false) }] {
            for slack in [Slack::USUAL, Slack { share: g.0, drip_loop: h }] {
                if let Ok(cuts) = cuts(route, slack) {
                    prop_assert!(cuts.stone_to_valve.0.is_finite() && cuts.stone_to_valve.0 >= 0.0);
                    prop_assert!(cuts.valve_to_pump.0.is_finite() && cuts.valve_to_pump.0 >= 0.0);
                }
            }
        }
        for (depth, density) in [(a, b.0), (Centimetres(good), b.0), (a, 1000.0)] {
            if let Ok(needed) = pressure(depth, Density(density)) {
                prop_assert!(needed.high.0.is_finite());
                prop_assert!(pump_fits(needed, Pascals(c.0)).is_err() || c.0 >= needed.low.0);
            }
        }
        if let Ok((air, _)) = air_flow(Litres(a.0)) {
            prop_assert!(air.0.is_finite() && air.0 >= 0.0);
        }
    }
}
