//! What holds for every box.

use proptest::prelude::*;

use super::tests::{pool, worked};
use super::*;
use crate::quantity::{Celsius, LitresPerMinute};

fn any_box() -> impl Strategy<Value = (Enclosure, Vec<Pool>, Air)> {
    let enclosure = (
        10.0..3000.0_f64,
        0.1..=1.0_f64,
        18.0..32.0_f64,
        0.05..20.0_f64,
        0.0..=1.0_f64,
    );
    let pools = prop::collection::vec(
        (
            1.0..5000.0_f64,
            5e-6..5e-4_f64,
            -4.0..2.0_f64,
            0.97..=1.0_f64,
            0.0..3.0_f64,
        ),
        1..4,
    );
    (enclosure, pools, 5.0..32.0_f64, 0.05..=1.0_f64).prop_map(
        |((gross, share, t, n, wetness), pools, room, rh)| {
            let substrate = DampSurface {
                surface: SquareCentimetres(2000.0),
                transfer: Transfer(5e-5),
                wetness,
                temperature: Celsius(t - 1.0),
            };
            let enclosure = Enclosure {
                gross: Litres(gross),
                air: Litres(gross * share),
                temperature: Celsius(t),
                exchange: Exchange(n),
                substrate: Some(substrate),
                glass_surface: Some(SquareCentimetres(5000.0)),
                ..worked()
            };
            let pools = pools
                .into_iter()
                .map(|(surface, k, warmer, activity, flow)| Pool {
                    transfer: Transfer(k),
                    temperature: Celsius(t + warmer),
                    activity,
                    bubbles: Some(Bubbles {
                        flow: LitresPerMinute(flow),
                        draws: AirFrom::Room,
                    }),
                    ..pool(surface)
                });
            (
                enclosure,
                pools.collect(),
                Air::new(Celsius(room), Humidity(rh)).unwrap(),
            )
        },
    )
}

proptest! {
    #[test]
    fn steady_rises_with_surface_and_falls_with_exchange((enclosure, pools, room) in any_box(), more in 1.01..3.0_f64) {
        let vapour = |enclosure: &Enclosure, pools: &[Pool]| Balance::new(enclosure, pools, &room).unwrap().steady().vapour.0;
        let before = vapour(&enclosure, &pools);
        let mut larger = pools.clone();
        larger[0].surface = larger[0].surface * more;
        let at_surface = pools[0].activity * saturation(pools[0].temperature).unwrap().0;
        // It is drawn towards what is enlarged: up towards wetter water, down towards a drier room.
        prop_assert!((vapour(&enclosure, &larger) - before) * (at_surface - before) >= -1e-9);
        let airier = Enclosure { exchange: Exchange(enclosure.exchange.0 * more), ..enclosure };
        prop_assert!((vapour(&airier, &pools) - before) * (room.vapour_pressure().0 - before) >= -1e-9);
    }

    #[test]
    fn a_step_ends_at_the_steady_state((enclosure, pools, room) in any_box(), start in 0.0..=1.0_f64) {
        let balance = Balance::new(&enclosure, &pools, &room).unwrap();
        let tau = balance.time_constant().0;
        let vapour = |times: f64| balance.after(Humidity(start), Hours(times * tau)).unwrap().vapour.0;
        let end = balance.steady().vapour.0;
        prop_assert!((vapour(40.0) - end).abs() < 1e-9 * end);
        prop_assert!((vapour(2.0) - end).abs() <= (vapour(1.0) - end).abs());
        prop_assert!((vapour(0.0) / balance.saturation.0 - start).abs() < 1e-9);
        let (condensate, air) = balance.condensation().unwrap();
        prop_assert!(condensate.per_day.0 >= 0.0 && air.vapour.0 <= end + 1e-9);
    }

    #[test]
    fn surface_and_exchange_needed_give_the_humidity((enclosure, pools, room) in any_box(), target in 0.4..0.95_f64) {
        let quiet: Vec<_> = pools.iter().map(|pool| Pool { bubbles: None, ..*pool }).collect();
        let empty = Balance::new(&enclosure, &[], &room).unwrap();
        if let Need::Of(surface) = empty.surface_for(Humidity(target), &quiet).unwrap() {
            let times = surface / quiet.iter().map(|pool| pool.surface).sum();
            let sized: Vec<_> = quiet.iter().map(|pool| Pool { surface: pool.surface * times, ..*pool }).collect();
            let got = Balance::new(&enclosure, &sized, &room).unwrap().steady().humidity.0;
            prop_assert!((got - target).abs() < 1e-9, "{got} for {target}");
        }
        let balance = Balance::new(&enclosure, &pools, &room).unwrap();
        if let Need::Of(exchange) = balance.exchange_for(Humidity(target)).unwrap()
            && let Ok(aired) = Balance::new(&Enclosure { exchange, ..enclosure }, &pools, &room)
        {
            prop_assert!((aired.steady().humidity.0 - target).abs() < 1e-9);
        }
    }

    #[test]
    fn no_number_breaks_it(a in any::<f64>(), b in any::<f64>(), c in any::<f64>(), d in any::<f64>(), which in 0..8_usize) {
        let (mut enclosure, mut one) = (worked(), pool(300.0));
        match which {
            0 => (enclosure.gross, enclosure.air) = (Litres(a), Litres(b)),
            1 => (enclosure.temperature, one.temperature) = (Celsius(a), Celsius(b)),
            2 => enclosure.exchange = Exchange(a),
            3 => enclosure.glass_surface = Some(SquareCentimetres(a)),
            4 => (one.surface, one.transfer) = (SquareCentimetres(a), Transfer(b)),
            5 => one.activity = a,
            6 => one.bubbles = Some(Bubbles { flow: LitresPerMinute(a), draws: AirFrom::Enclosure }),
            _ => enclosure.substrate = Some(DampSurface {
                surface: SquareCentimetres(a), transfer: Transfer(b), wetness: c, temperature: Celsius(d),
            }),
        }
        let room = Air::new(Celsius(21.0), Humidity(0.45)).unwrap();
        for pools in [vec![], vec![one], vec![one, pool(0.0)]] {
            let Ok(balance) = Balance::new(&enclosure, &pools, &room) else { continue };
            prop_assert!(balance.steady().vapour.0.is_finite() && balance.time_constant().0.is_finite());
            prop_assert!(balance.total_loss().top_up.0.is_finite());
            prop_assert!(balance.after(Humidity(c), Hours(d)).map_or(true, |air| air.vapour.0.is_finite()));
            prop_assert!(balance.after(Humidity(0.5), Hours(d)).map_or(true, |air| air.vapour.0.is_finite()));
            for target in [0.0, 0.8, 1.0, c] {
                let surface = balance.surface_for(Humidity(target), &pools);
                prop_assert!(surface.map_or(true, |need| need.amount().is_none_or(|cm2| cm2.0.is_finite())));
                let exchange = balance.exchange_for(Humidity(target));
                prop_assert!(exchange.map_or(true, |need| need.amount().is_none_or(|n| n.0.is_finite())));
            }
        }
        let decay = exchange_from_decay(&[(Hours(a), Pascals(b)), (Hours(c), Pascals(d))], Pascals(1000.0));
        prop_assert!(decay.map_or(true, |decay| decay.exchange.0.is_finite()));
    }
}
