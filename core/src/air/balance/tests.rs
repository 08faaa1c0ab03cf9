use super::*;
use crate::air::evaporation::STILL;
use crate::air::glass::Pane;
use crate::quantity::{Celsius, LitresPerMinute};

/// The worked box: 100 L of air at 27 °C, a room of 21 °C and 45 %, water at 26 °C, half an exchange an hour.
pub(super) fn worked() -> Enclosure {
    Enclosure {
        gross: Litres(100.0),
        air: Litres(100.0),
        temperature: Celsius(27.0),
        exchange: Exchange(0.5),
        substrate: None,
        pane: Pane::default(),
        glass_surface: None,
    }
}

fn room() -> Air {
    Air::new(Celsius(21.0), Humidity(0.45)).expect("air")
}

pub(super) fn pool(surface: f64) -> Pool {
    Pool {
        surface: SquareCentimetres(surface),
        transfer: STILL.likely,
        temperature: Celsius(26.0),
        activity: 1.0,
        bubbles: None,
    }
}

fn of(enclosure: &Enclosure, pools: &[Pool]) -> Balance {
    Balance::new(enclosure, pools, &room()).expect("a balance")
}

fn percent(balance: &Balance) -> f64 {
    balance.steady().humidity.0 * 100.0
}

/// What the fact sheet computes of the worked box beyond the table of check values (closed form, checked there by
/// integration).
#[test]
fn check_worked_box() {
    let empty = of(&worked(), &[]);
    let surface = |humidity| {
        empty
            .surface_for(Humidity(humidity), &[pool(1.0)])
            .expect("an answer")
            .amount()
    };
    for (humidity, cm2) in [
        (0.75, 163.4),
        (0.80, 245.8),
        (0.85, 417.3),
        (empty.glass_limit().0, 371.6),
    ] {
        let got = surface(humidity).expect("a surface").0;
        assert!((got - cm2).abs() < 0.3, "{humidity}: {got} for {cm2}");
    }
    assert!((empty.glass_limit().0 - 0.8405).abs() < 1e-4);
    let (fresh, mut salt, mut aired) = (pool(150.0), pool(150.0), pool(150.0));
    salt.activity = 0.9813;
    aired.bubbles = Some(Bubbles {
        flow: LitresPerMinute(1.0),
        draws: AirFrom::Room,
    });
    assert!((percent(&of(&worked(), &[fresh, fresh])) - 82.08).abs() < 0.02);
    assert!((percent(&of(&worked(), &[fresh, salt])) - 81.37).abs() < 0.02);
    assert!((percent(&of(&worked(), &[aired, salt])) - 83.80).abs() < 0.02);
    // 600 cm²: 87.5 %, or 1.220 exchanges an hour for 80 %.
    let large = of(&worked(), &[pool(600.0)]);
    assert!((percent(&large) - 87.5).abs() < 0.05 && large.steady().sweats);
    let exchange = large
        .exchange_for(Humidity(0.8))
        .expect("an answer")
        .amount()
        .expect("an exchange");
    assert!((exchange.0 - 1.220).abs() < 0.002, "{exchange:?}");
    for (hours, want) in [(0.25, 62.70), (0.5, 70.03), (1.0, 76.69)] {
        let got = of(&worked(), &[pool(245.8)])
            .after(Humidity(0.5), Hours(hours))
            .expect("air")
            .humidity
            .0;
        assert!((got * 100.0 - want).abs() < 0.03, "{hours}: {got}");
    }
}

/// Where the pump draws its air changes the pool's loss and not the humidity.
#[test]
fn room_air_in_bubbles_costs_more_water() {
    let with = |draws| {
        let bubbles = Some(Bubbles {
            flow: LitresPerMinute(1.0),
            draws,
        });
        of(
            &worked(),
            &[Pool {
                bubbles,
                ..pool(300.0)
            }],
        )
    };
    let (room, own) = (with(AirFrom::Room), with(AirFrom::Enclosure));
    assert_eq!(room.steady(), own.steady());
    let extra = room.losses()[0].per_day.0 - own.losses()[0].per_day.0;
    // (q/RvT)(p − p_room) more, over a day.
    let vapour = room.steady().vapour.0;
    let want = 4.331e-7 * (vapour - 1119.6) * 24.0 * 1000.0;
    assert!((extra / want - 1.0).abs() < 1e-3, "{extra} for {want}");
}

/// Water is conserved: what the pools lose is what the exchange carries off and what condenses.
#[test]
fn what_evaporates_leaves_or_condenses() {
    let mut enclosure = worked();
    let carried =
        |balance: &Balance, vapour: Pascals| balance.conductance().0 * (vapour - balance.room).0 * 24_000.0;
    let dry = of(&enclosure, &[pool(300.0), pool(200.0)]);
    assert!((dry.total_loss().per_day.0 / carried(&dry, dry.steady().vapour) - 1.0).abs() < 1e-12);
    enclosure.glass_surface = Some(SquareCentimetres(5000.0));
    let wet = of(&enclosure, &[pool(600.0)]);
    let (condensate, air) = wet.condensation().expect("the glass is known");
    assert!(condensate.per_day.0 > 1.0 && air.humidity < wet.steady().humidity && air.sweats);
    let given = wet.pools[0].conducts() * (wet.pools[0].at - air.vapour.0) * 24_000.0;
    assert!((given - carried(&wet, air.vapour) - condensate.per_day.0).abs() < 1e-9);
    assert_eq!(
        of(&enclosure, &[pool(100.0)]).condensation().expect("known").0,
        Loss::of(0.0)
    );
}

#[test]
fn damp_substrate_counts_as_a_wet_surface() {
    let mut enclosure = worked();
    let damp = DampSurface {
        surface: SquareCentimetres(2000.0),
        transfer: STILL.likely,
        wetness: 0.05,
        temperature: Celsius(26.0),
    };
    enclosure.substrate = Some(damp);
    // As much as 100 cm² of pool.
    assert!((percent(&of(&enclosure, &[pool(145.8)])) - 80.0).abs() < 0.02);
    enclosure.substrate = Some(DampSurface { wetness: 1.0, ..damp });
    let need = of(&enclosure, &[]).surface_for(Humidity(0.8), &[pool(1.0)]);
    assert_eq!(need, Ok(Need::Nothing));
}

#[test]
fn what_no_surface_reaches_is_said() {
    let cold = Pool {
        temperature: Celsius(20.0),
        ..pool(1.0)
    };
    assert_eq!(
        of(&worked(), &[]).surface_for(Humidity(0.8), &[cold]),
        Ok(Need::OutOfReach)
    );
    let wet_room = Air::new(Celsius(27.0), Humidity(0.95)).expect("air");
    let balance = Balance::new(&worked(), &[pool(500.0)], &wet_room).expect("a balance");
    assert_eq!(balance.exchange_for(Humidity(0.8)), Ok(Need::OutOfReach));
    assert_eq!(
        of(&worked(), &[cold]).exchange_for(Humidity(0.8)),
        Ok(Need::Nothing)
    );
    let more_air = Enclosure {
        air: Litres(101.0),
        ..worked()
    };
    assert!(matches!(
        Balance::new(&more_air, &[], &room()),
        Err(AirError::Outside {
            what: What::Volume,
            ..
        })
    ));
}

#[test]
fn the_exchange_is_measured_with_covered_pools() {
    let covered = of(&worked(), &[]);
    let at = |hours: f64| {
        (
            Hours(hours),
            covered.after(Humidity(0.8), Hours(hours)).expect("air").vapour,
        )
    };
    let readings: Vec<_> = (0..8).map(|quarter| at(f64::from(quarter) / 4.0)).collect();
    let got = exchange_from_decay(&readings, room().vapour_pressure()).expect("an exchange");
    assert!(
        (got.exchange.0 - 0.5).abs() < 1e-9 && got.error.is_some_and(|error| error < 1e-9),
        "{got:?}"
    );
    let rising: Vec<_> = readings
        .iter()
        .rev()
        .map(|(hour, p)| (Hours(-hour.0), *p))
        .collect();
    assert_eq!(
        exchange_from_decay(&rising, room().vapour_pressure()),
        Err(AirError::NoDecay)
    );
    assert!(exchange_from_decay(&readings[..1], Pascals(0.0)).is_err());
}
