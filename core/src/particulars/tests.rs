use jiff::Timestamp;

use super::*;
use crate::air::fit::{BAND, balances, fit};
use crate::air::moist::Air;
use crate::place::{Enclosure, EnclosureId, Life, Pool, PoolId, Water};
use crate::pool::contents::Porosity;
use crate::pool::siphon::SiphonError;
use crate::quantity::Litres;

const BOX: Size = Size {
    length: 50.0,
    width: 50.0,
    height: 40.0,
};

fn enclosure(litres: f64, made: EnclosureMade) -> Enclosure {
    Enclosure {
        id: EnclosureId(1),
        name: "Box".to_owned(),
        litres,
        room: String::new(),
        order: 1,
        crabs: 0,
        smallest_cm: None,
        largest_cm: None,
        carer: None,
        quarantine: false,
        sensor: false,
        quiet: None,
        made,
        since: Timestamp::UNIX_EPOCH,
    }
}

fn pool(litres: f64, made: PoolMade) -> Pool {
    Pool {
        id: PoolId(1),
        enclosure: EnclosureId(1),
        water: Water::Fresh,
        litres,
        removable: true,
        nested: false,
        life: Life::InUse,
        since: Timestamp::UNIX_EPOCH,
        returned: false,
        air: None,
        filter: None,
        bared: None,
        made,
    }
}

fn tray(length: f64, width: f64, height: f64) -> Shape {
    Shape::Box {
        length: Centimetres(length),
        width: Centimetres(width),
        height: Centimetres(height),
    }
}

fn worked() -> EnclosureMade {
    EnclosureMade {
        size: Some(BOX),
        substrate_cm: Some(0.0),
        glazing: Some(Glazing {
            material: Material::Glass,
            thickness: 0.6,
        }),
        lid: Some(Lid::Changes(0.5)),
        heated_c: Some(27.0),
    }
}

/// The worked box of the fact sheet (section 2): 100 L at 27 °C, room 21 °C and 45 %, water 26 °C, half an exchange an hour:
/// 246 cm² for 80 %, the glass sweats from 84.05 % and 372 cm²; 0.454 h at 80 %, 15.02 g a day.
#[test]
fn check_worked_box() {
    let made = PoolMade {
        shape: Some(tray(24.58, 10.0, 12.0)),
        ..PoolMade::default()
    };
    let pool = pool(2.0, made);
    let vessel = Vessel::of(&pool).expect("a vessel").expect("a shape");
    let filled = vessel.filled(pool.litres).expect("water");
    let told = enclosure(100.0, worked());
    let got = BoxOfAir::of(&told, &[(&pool, Some(filled), Some(Celsius(26.0)))]).expect("a box");
    assert_eq!((got.assumed.len(), got.volumes.air), (0, Litres(100.0)));
    assert_eq!(got.setting.rests, Rests::Place);
    let room = Air::new(Celsius(21.0), Humidity(0.45)).expect("a room");
    let answer = fit(&got.setting, &got.pools, &room, &room, BAND).expect("a fit");
    let likely = |surface: crate::air::fit::BandSurface| surface.surface.likely.amount().expect("one").0;
    assert!((likely(answer.winter.band[1]) - 245.8).abs() < 0.3);
    assert!((likely(answer.winter.glass) - 371.6).abs() < 0.3);
    let balance = balances(&got.setting, &got.pools, &room)
        .expect("balances")
        .likely;
    assert!((balance.time_constant().0 - 0.454).abs() < 0.001);
    assert!((balance.total_loss().per_day.0 - 15.02).abs() < 0.01);
}

#[test]
fn check_volumes() {
    let of = |litres, size, substrate_cm| {
        let made = EnclosureMade {
            size,
            substrate_cm,
            ..EnclosureMade::default()
        };
        let got = volumes(litres, &made);
        (got.gross.0, got.air.0, got.differs.map(|size| size.0))
    };
    // Half of 40 cm is substrate: half of the air is left.
    assert_eq!(of(100.0, Some(BOX), Some(20.0)), (100.0, 50.0, None));
    // A topper of 30 L is air.
    assert_eq!(of(130.0, Some(BOX), Some(20.0)), (130.0, 80.0, Some(100.0)));
    // A stated volume below what the size gives cannot be all.
    assert_eq!(of(80.0, Some(BOX), Some(0.0)), (100.0, 100.0, Some(100.0)));
    assert_eq!(of(100.0, None, Some(15.0)), (100.0, 60.0, None));
    assert_eq!(of(100.0, Some(BOX), None), (100.0, 60.0, None));
}

/// 30 × 20 cm, 10 cm deep, 3 cm of gravel of 40 % gaps, 0.4 L of rock: 4.52 L (fact sheet, section 6).
#[test]
fn check_net_water() {
    let made = PoolMade {
        shape: Some(tray(30.0, 20.0, 12.0)),
        depth_cm: Some(10.0),
        gravel: Some(Gravel {
            depth: Centimetres(3.0),
            porosity: Porosity::measured(0.40),
        }),
        stones: Some(0.4),
        ..PoolMade::default()
    };
    let told = pool(6.0, made.clone());
    let vessel = Vessel::of(&told).expect("a vessel").expect("a shape");
    let filled = vessel.filled(told.litres).expect("water");
    assert!((filled.water.likely.0 - 4.52).abs() < 1e-9);
    assert_eq!(filled.stated, Some(Litres(6.0)));
    assert_eq!(filled.surface.0, 600.0);
    // Without a water line it is where the litres reach.
    let told = pool(
        4.52,
        PoolMade {
            depth_cm: None,
            ..made.clone()
        },
    );
    let vessel = Vessel::of(&told).expect("a vessel").expect("a shape");
    assert!((vessel.filled(4.52).expect("water").level.0 - 10.0).abs() < 1e-6);
    // Deeper than the container, or more than it holds, is no pool.
    let deep = PoolMade {
        depth_cm: Some(12.5),
        ..made.clone()
    };
    assert!(Vessel::of(&pool(6.0, deep)).is_err());
    let bare = PoolMade {
        depth_cm: None,
        ..made
    };
    assert!(Vessel::of(&pool(7.3, bare)).is_err());
    assert_eq!(Vessel::of(&pool(6.0, PoolMade::default())), Ok(None));
}

#[test]
fn check_fill_lines() {
    let of = |line, level| fill_line(Centimetres(line), Centimetres(level));
    assert_eq!(of(12.0, 10.0), FillLine::Above(Centimetres(2.0)));
    assert_eq!(of(10.0, 10.0), FillLine::Under(Centimetres(0.0)));
    assert_eq!(of(7.5, 10.0), FillLine::Under(Centimetres(2.5)));
}

#[test]
fn an_airline_is_known_when_all_of_it_was_told() {
    let mut air = AirMade::default();
    let all = [
        TubeGap::Stone,
        TubeGap::Across,
        TubeGap::Rim,
        TubeGap::Valve,
        TubeGap::Run,
        TubeGap::Pump,
    ];
    assert_eq!(route(&air, None), Err(all.to_vec()));
    for fact in [
        GearFact::Across(20.0),
        GearFact::Rim(15.0),
        GearFact::Valve(40.0),
        GearFact::Run(60.0),
    ] {
        air.take(fact);
    }
    assert_eq!(route(&air, Some(Centimetres(8.0))), Err(vec![TubeGap::Pump]));
    let (way, assumed) = safe_route(&air, Some(Centimetres(8.0))).expect("a route");
    assert_eq!((way.pump, way.check_valve, assumed), (PUMP_UNTOLD, true, true));
    assert_eq!(safe_route(&air, None), route(&air, None).map(|way| (way, false)));
    air.take(GearFact::Pump(-30.0));
    let got = route(&air, Some(Centimetres(8.0))).expect("a route");
    assert_eq!(
        (got.stone_depth.0, got.pump.0, got.check_valve),
        (8.0, -30.0, true)
    );
    air.take(GearFact::CheckValve(false));
    assert!(!route(&air, Some(Centimetres(8.0))).expect("a route").check_valve);
}

/// 9 mm of bore, 1.5 m long, 0.6 m of head: 5.224 L/min of fresh water at 25 °C, and 115 s for 10 L (the fluids library, fact
/// sheet section 5).
#[test]
fn check_emptying() {
    let siphon = Siphon {
        bore: Some(Centimetres(0.9)),
        head: Centimetres(60.0),
        ..Siphon::USUAL
    };
    let got = emptying(&pool(10.0, PoolMade::default()), Litres(10.0), siphon).expect("it flows");
    assert!((got.flow.rate.0 / 5.224 - 1.0).abs() < 0.02, "{got:?}");
    assert!((got.drawing.0 * 60.0 / 115.0 - 1.0).abs() < 0.02, "{got:?}");
    // A bucket of 10 L is filled to 8 L: two of them, two minutes each.
    assert_eq!((got.buckets.count, got.buckets.each.0), (2, 8.0));
    assert!((got.buckets.minutes.0 - got.drawing.0 - 4.0).abs() < 1e-9);
    // With a shape the head falls and it takes longer.
    let made = PoolMade {
        shape: Some(tray(40.0, 25.0, 12.0)),
        ..PoolMade::default()
    };
    let falls = emptying(&pool(10.0, made), Litres(10.0), siphon).expect("it flows");
    assert!(falls.drawing > got.drawing);
    // A larger tube for a larger pool where none was told.
    let bores = [2.0, 10.0, 40.0, 200.0].map(|litres| {
        emptying(&pool(litres, PoolMade::default()), Litres(1.0), Siphon::USUAL)
            .expect("it flows")
            .bore
            .inner
            .0
    });
    assert_eq!(bores, [0.6, 0.9, 1.2, 1.6]);
    let flat = Siphon {
        head: Centimetres(0.0),
        ..Siphon::USUAL
    };
    let refused = emptying(&pool(10.0, PoolMade::default()), Litres(1.0), flat);
    assert!(matches!(refused, Err(SiphonError::NoHead { .. })), "{refused:?}");
}
