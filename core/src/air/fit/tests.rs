use super::*;
use crate::air::Side;
use crate::air::balance::{Exchange, Need};
use crate::air::evaporation::{STILL, Stirring};
use crate::air::glass::Pane;
use crate::quantity::{Celsius, Litres, LitresPerMinute};

/// Litres in a US gallon.
const GALLON: f64 = 3.785_411_784;
const WARM: Celsius = Celsius(27.0);

/// Floors of tanks of common sizes, in cm²: US gallons and floor. Common practice, no published source.
const TANKS: [(f64, f64); 4] = [
    (90.0, 122.0 * 46.0),
    (75.0, 122.0 * 46.0),
    (40.0, 91.0 * 46.0),
    (20.0, 76.0 * 31.0),
];

fn rooms() -> (Air, Air) {
    (
        usual_room(WINTER_ROOM).expect("winter"),
        usual_room(SUMMER_ROOM).expect("summer"),
    )
}

fn of(setting: &Setting, pools: &[FitPool]) -> Fit {
    let (winter, summer) = rooms();
    fit(setting, pools, &winter, &summer, BAND).expect("an answer")
}

/// A still pool of so many cm² in a tank of so many US gallons.
fn in_tank(gallons: f64, surface: f64) -> Fit {
    let (_, floor) = TANKS
        .into_iter()
        .find(|tank| tank.0 == gallons)
        .expect("a known tank");
    let setting = Setting::usual(Litres(gallons * GALLON), SquareCentimetres(floor), WARM);
    of(&setting, &[FitPool::still(SquareCentimetres(surface), WARM)])
}

/// The worked box of the fact sheet: 163.4, 246 and 417 cm² for 75, 80 and 85 %, and 372 cm² where the glass sweats, so
/// that is the usable ceiling.
#[test]
fn check_worked_box() {
    let setting = Setting {
        gross: Litres(100.0),
        air: Litres(100.0),
        temperature: WARM,
        exchange: Spread::new(Exchange(0.25), Exchange(0.5), Exchange(1.0)),
        substrate: None,
        pane: Pane::default(),
        rests: Rests::Place,
    };
    let mut pool = FitPool::still(SquareCentimetres(245.8), WARM);
    pool.water = Spread::known(Celsius(26.0));
    let room = Air::new(Celsius(21.0), Humidity(0.45)).expect("a room");
    let got = fit(&setting, &[pool], &room, &room, BAND).expect("an answer");
    let winter = got.winter;
    for (band, (humidity, cm2)) in winter
        .band
        .iter()
        .zip([(0.75, 163.4), (0.80, 245.8), (0.85, 417.3)])
    {
        let surface = band.surface.likely.amount().expect("a surface").0;
        assert!(
            (band.humidity.0 - humidity).abs() < 1e-12 && (surface - cm2).abs() < 0.3,
            "{band:?}"
        );
        assert!(band.surface.low < band.surface.likely && band.surface.likely < band.surface.high);
    }
    assert!((winter.glass.humidity.0 * 100.0 - 84.05).abs() < 0.02);
    assert!((winter.glass.surface.likely.amount().expect("a surface").0 - 371.6).abs() < 0.3);
    assert_eq!(winter.ceiling, winter.glass);
    assert!((winter.steady.likely.0 - 0.80).abs() < 1e-4);
    assert_eq!(got.verdict, Verdict::Fits);
    assert_eq!(got.advice, [Advice::SimpleSetUpWorks]);
    // What is known moves nothing: only the exchange and the transfer are left in doubt.
    let doubts: Vec<_> = got.narrow.iter().map(|narrow| narrow.doubt).collect();
    assert_eq!(doubts, [Doubt::Exchange, Doubt::Transfer]);
    // A dish lies below every size that was tested.
    assert!(got.beyond.len() == 1 && got.rests == Rests::Practice);
}

/// Rule of thumb: a 10 US gal pool is never too big for about 700 US gal in all, 500 of them substrate and floor and
/// 200 topper, whatever of it is air.
#[test]
fn ten_gallons_are_never_too_big_for_seven_hundred() {
    let gross = Litres(700.0 * GALLON);
    for air in [200.0, 300.0, 400.0, 500.0] {
        for floor in [8000.0, 14_000.0, 20_000.0] {
            let setting = Setting {
                air: Litres(air * GALLON),
                ..Setting::usual(gross, SquareCentimetres(floor), WARM)
            };
            // 37.9 L stand 15 to 25 cm deep.
            for depth in [15.0, 20.0, 25.0] {
                let surface = SquareCentimetres(10.0 * GALLON * 1000.0 / depth);
                let got = of(&setting, &[FitPool::still(surface, WARM)]);
                assert!(
                    !got.verdict.is_humid(),
                    "{air} gal of air, {floor} cm2, {depth} cm: {:?}",
                    got.verdict
                );
            }
        }
    }
    // Fresh and salt, 10 US gal each, with the topper's air alone: that works.
    let setting = Setting {
        air: Litres(200.0 * GALLON),
        ..Setting::usual(gross, SquareCentimetres(14_000.0), WARM)
    };
    let mut salt = FitPool::still(SquareCentimetres(1890.0), WARM);
    salt.activity = 0.9813;
    let pair = of(&setting, &[FitPool::still(SquareCentimetres(1890.0), WARM), salt]);
    assert_eq!(pair.verdict, Verdict::Fits);
    assert!(pair.advice.contains(&Advice::SimpleSetUpWorks));
}

/// Rule of thumb: a box that serves 75 or 90 US gal is too big for 40: here of 40 by 20 cm, or two of half the surface.
#[test]
fn a_box_that_serves_seventy_five_is_too_big_for_forty() {
    let verdicts = [90.0, 75.0, 40.0].map(|gallons| in_tank(gallons, 800.0).verdict);
    assert_eq!(verdicts, [Verdict::Fits, Verdict::Fits, Verdict::TooBig]);
    for surface in [700.0, 750.0, 900.0, 1000.0] {
        let verdicts = [90.0, 75.0, 40.0].map(|gallons| in_tank(gallons, surface).verdict);
        assert_eq!(
            verdicts,
            [Verdict::Fits, Verdict::Fits, Verdict::TooBig],
            "{surface}"
        );
    }
    assert!(
        in_tank(40.0, 800.0)
            .advice
            .contains(&Advice::ShallowerSmallerSurface)
    );
}

/// Rule of thumb: a smaller box that suits 40 US gal may be somewhat much in 20: here of 20 by 14 cm.
#[test]
fn a_box_that_suits_forty_is_at_the_edge_in_twenty() {
    for surface in [250.0, 280.0, 310.0] {
        assert_eq!(in_tank(40.0, surface).verdict, Verdict::Fits, "{surface}");
        let small = in_tank(20.0, surface);
        assert_eq!(small.verdict, Verdict::AtTheEdge(Side::High), "{surface}");
        assert_eq!(small.advice.first(), Some(&Advice::ShallowerSmallerSurface));
    }
}

/// Rule of thumb: too small a pool, and humidity will not hold; too big, and it will not come down.
#[test]
fn both_directions_are_named() {
    let (small, big) = (in_tank(75.0, 100.0), in_tank(20.0, 900.0));
    assert_eq!((small.verdict, big.verdict), (Verdict::TooSmall, Verdict::TooBig));
    assert!(small.verdict.is_dry() && small.winter.steady.likely < BAND.0);
    assert!(big.verdict.is_humid() && big.summer.steady.likely > BAND.1);
    assert!(small.advice.contains(&Advice::SealGaps) && small.advice.contains(&Advice::WiderSurface));
    assert!(big.advice.contains(&Advice::VentMore) && !big.advice.contains(&Advice::LessAir));
    let exchange = big.summer.exchange.amount().expect("an exchange").0;
    assert!(exchange > 1.0, "{exchange}");
    // The doubt is wider than that, and it is said.
    assert!(small.driest.is_dry() && small.most_humid.is_humid());
    assert!(small.advice.contains(&Advice::MeasureFirst));
}

/// Water that is stirred can be stirred less.
#[test]
fn air_is_turned_down_where_there_is_some() {
    let setting = Setting::usual(Litres(20.0 * GALLON), SquareCentimetres(2356.0), WARM);
    let aired = FitPool::stirred(SquareCentimetres(900.0), WARM, Stirring::AirStone);
    assert!(of(&setting, &[aired]).advice.contains(&Advice::LessAir));
    let mut bubbled = FitPool::still(SquareCentimetres(900.0), WARM);
    bubbled.bubbles = Some(crate::air::balance::Bubbles {
        flow: LitresPerMinute(1.0),
        draws: crate::air::balance::AirFrom::Room,
    });
    let got = of(&setting, &[bubbled]);
    assert!(got.advice.contains(&Advice::LessAir));
    let still = of(&setting, &[FitPool::still(SquareCentimetres(900.0), WARM)]);
    assert!(got.summer.steady.likely > still.summer.steady.likely);
}

/// Rooms so unlike that no one size does: the seasons are named. A cold room makes the glass sweat, and the pool is not
/// to blame.
#[test]
fn seasons_and_cold_glass_are_named() {
    let setting = Setting::usual(Litres(75.0 * GALLON), SquareCentimetres(5612.0), WARM);
    let pool = [FitPool::still(SquareCentimetres(700.0), WARM)];
    let air = |t, rh| Air::new(Celsius(t), Humidity(rh)).expect("air");
    let got = fit(&setting, &pool, &air(18.0, 0.2), &air(28.0, 0.75), BAND).expect("an answer");
    assert_eq!(got.verdict, Verdict::Swings);
    assert!(got.advice.contains(&Advice::VentBySeason));
    let cold = fit(&setting, &pool, &air(17.0, 0.6), &air(21.0, 0.5), BAND).expect("an answer");
    assert!(cold.verdict == Verdict::Fits && cold.winter.sweats, "{cold:?}");
    assert_eq!(cold.advice, [Advice::SimpleSetUpWorks, Advice::ColdGlass]);
}

#[test]
fn check_verdicts_of_humidities() {
    let of = |humidity| Verdict::of(Humidity(humidity), BAND);
    for (humidity, verdict) in [
        (0.70, Verdict::TooSmall),
        (0.74, Verdict::AtTheEdge(Side::Low)),
        (0.75, Verdict::Fits),
        (0.85, Verdict::Fits),
        (0.86, Verdict::AtTheEdge(Side::High)),
        (0.87, Verdict::TooBig),
    ] {
        assert_eq!(of(humidity), verdict, "{humidity}");
        assert_eq!(verdict.and(Verdict::Fits), verdict);
        assert_eq!(Verdict::Fits.and(verdict), verdict);
    }
    assert_eq!(of(0.74).and(of(0.70)), Verdict::TooSmall);
    assert_eq!(of(0.87).and(of(0.86)), Verdict::TooBig);
    assert_eq!(of(0.70).and(of(0.86)), Verdict::Swings);
}

#[test]
fn an_empty_band_is_refused() {
    let setting = Setting::usual(Litres(100.0), SquareCentimetres(2000.0), WARM);
    let (winter, summer) = rooms();
    for band in [
        (0.85, 0.75),
        (0.8, 0.8),
        (0.75, 1.2),
        (-0.1, 0.8),
        (f64::NAN, 0.8),
    ] {
        let band = (Humidity(band.0), Humidity(band.1));
        assert!(fit(&setting, &[], &winter, &summer, band).is_err(), "{band:?}");
    }
    // Without pools the answer is for a usual one.
    let empty = fit(&setting, &[], &winter, &summer, BAND).expect("an answer");
    assert!(matches!(empty.winter.band[1].surface.likely, Need::Of(_)));
    assert_eq!(empty.verdict, Verdict::TooSmall);
    assert!(STILL.low <= STILL.high);
}
