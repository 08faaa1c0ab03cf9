//! What holds for every fit.

use proptest::prelude::*;

use super::*;
use crate::air::balance::Exchange;
use crate::air::evaporation::Transfer;
use crate::quantity::{Celsius, Litres};

proptest! {
    #[test]
    fn ends_lie_around_what_is_likely(
        (gross, floor, surface) in (20.0..3000.0_f64, 0.0..20_000.0_f64, 1.0..5000.0_f64),
        winter in (10.0..24.0_f64, 0.1..0.9_f64),
        summer in (18.0..32.0_f64, 0.1..=1.0_f64),
    ) {
        let t = Celsius(27.0);
        let setting = Setting::usual(Litres(gross), SquareCentimetres(floor), t);
        let pools = [FitPool::still(SquareCentimetres(surface), t)];
        let air = |(t, rh)| Air::new(Celsius(t), Humidity(rh)).unwrap();
        let got = fit(&setting, &pools, &air(winter), &air(summer), BAND).unwrap();
        for room in [got.winter, got.summer] {
            let steady = room.steady;
            prop_assert!(steady.low.0 <= steady.likely.0 + 1e-12 && steady.likely.0 <= steady.high.0 + 1e-12, "{steady:?}");
            for band in room.band.iter().chain([&room.ceiling]) {
                let surface = band.surface;
                prop_assert!(surface.low <= surface.likely && surface.likely <= surface.high, "{band:?}");
            }
            // The surface that is named for a humidity and the humidity that is named for the surface agree.
            if let Some(top) = room.band[2].surface.likely.amount() {
                prop_assert_eq!(surface <= top.0, steady.likely.0 <= 0.85 + 1e-12);
            }
        }
        prop_assert!(got.narrow.windows(2).all(|pair| pair[0].moves >= pair[1].moves));
        prop_assert!(!got.advice.is_empty());
    }

    #[test]
    fn no_number_breaks_it(a in any::<f64>(), b in any::<f64>(), c in any::<f64>(), which in 0..7_usize) {
        let t = Celsius(27.0);
        let mut setting = Setting::usual(Litres(100.0), SquareCentimetres(2000.0), t);
        let mut pool = FitPool::still(SquareCentimetres(300.0), t);
        match which {
            0 => setting = Setting::usual(Litres(a), SquareCentimetres(b), Celsius(c)),
            1 => pool = FitPool::still(SquareCentimetres(a), Celsius(b)),
            2 => setting.exchange = Spread::new(Exchange(a), Exchange(b), Exchange(c)),
            3 => pool.transfer = Spread::new(Transfer(a), Transfer(b), Transfer(c)),
            4 => pool.water = Spread::new(Celsius(a), Celsius(b), Celsius(c)),
            5 => setting.pane.thickness.0 = a,
            _ => pool.activity = a,
        }
        let room = Air::new(Celsius(21.0), Humidity(0.45)).unwrap();
        for pools in [vec![], vec![pool], vec![pool, pool]] {
            if let Ok(got) = fit(&setting, &pools, &room, &room, BAND) {
                prop_assert!(got.winter.steady.likely.0.is_finite());
                prop_assert!(got.narrow.iter().all(|narrow| narrow.moves.is_finite()));
            }
        }
    }
}
