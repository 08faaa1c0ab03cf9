//! An airline as it was measured.

use super::AirMade;
use crate::pool::airline::Route;
use crate::quantity::Centimetres;

/// A measure of an airline that was not told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum TubeGap {
    /// How deep the stone lies.
    Stone,
    /// From above the stone to the rim.
    Across,
    /// How high the rim is.
    Rim,
    /// From the rim down to the valve.
    Valve,
    /// From the valve to the pump.
    Run,
    /// Where the pump stands.
    Pump,
}

/// Where a pump is taken to stand whose place was not told, in cm above the water line: on a shelf below, so that the line is
/// cut long enough and has its check valve. Common practice, no published source.
pub const PUMP_UNTOLD: Centimetres = Centimetres(-30.0);

/// [`route`], with a pump whose place alone was not told taken to stand low, behind a check valve; whether it was so taken.
///
/// # Errors
/// The measures that are missing beside it.
pub fn safe_route(air: &AirMade, depth: Option<Centimetres>) -> Result<(Route, bool), Vec<TubeGap>> {
    match route(air, depth) {
        Err(gaps) if gaps == [TubeGap::Pump] => {
            let low = AirMade {
                pump_cm: Some(PUMP_UNTOLD.0),
                check_valve: Some(true),
                ..*air
            };
            route(&low, depth).map(|way| (way, true))
        }
        way => way.map(|way| (way, false)),
    }
}

/// The way of an airline. `depth`: the water above the bed, where the stone lies if nothing else was told. A check valve
/// is taken to be in the line unless the place says that there is none: common practice.
///
/// # Errors
/// The measures that are missing, in the order in which they are taken.
pub fn route(air: &AirMade, depth: Option<Centimetres>) -> Result<Route, Vec<TubeGap>> {
    let stone = air.stone_cm.or(depth.map(|depth| depth.0));
    let measures = [
        (TubeGap::Stone, stone),
        (TubeGap::Across, air.across_cm),
        (TubeGap::Rim, air.rim_cm),
        (TubeGap::Valve, air.valve_cm),
        (TubeGap::Run, air.run_cm),
        (TubeGap::Pump, air.pump_cm),
    ];
    let [
        Some(stone),
        Some(across),
        Some(rim),
        Some(valve),
        Some(run),
        Some(pump),
    ] = measures.map(|(_, told)| told)
    else {
        let gaps = measures.into_iter().filter(|(_, told)| told.is_none());
        return Err(gaps.map(|(gap, _)| gap).collect());
    };
    Ok(Route {
        stone_depth: Centimetres(stone),
        across: Centimetres(across),
        rim: Centimetres(rim),
        valve_below_rim: Centimetres(valve),
        to_pump: Centimetres(run),
        pump: Centimetres(pump),
        check_valve: air.check_valve.unwrap_or(true),
    })
}
