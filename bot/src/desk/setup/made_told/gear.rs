//! How the particulars of gear are told.

use wrackline_core::particulars::{AirMade, FilterMade, GearFact};
use wrackline_core::place::{Fitted, Gear, Pool};
use wrackline_core::quantity::{Units, litres_per_minute, pascals, plain};

use super::length;
use crate::desk::Desk;
use crate::msg;
use crate::words::Message;

/// What is known of a piece of gear, a piece each.
fn gear(desk: &Desk<'_>, pool: &Pool, gear: Gear) -> Vec<String> {
    facts(pool, gear).into_iter().map(|one| fact(desk, one)).collect()
}

fn facts(pool: &Pool, gear: Gear) -> Vec<GearFact> {
    match gear {
        Gear::Air => facts_of_air(&pool.made.air),
        Gear::Filter => facts_of_filter(&pool.made.filter),
    }
}

fn facts_of_air(air: &AirMade) -> Vec<GearFact> {
    let all = [
        air.pressure_pa.map(GearFact::Pressure),
        air.flow.map(GearFact::Flow),
        air.pump_cm.map(GearFact::Pump),
        air.check_valve.map(GearFact::CheckValve),
        air.stone_cm.map(GearFact::Stone),
        air.across_cm.map(GearFact::Across),
        air.rim_cm.map(GearFact::Rim),
        air.valve_cm.map(GearFact::Valve),
        air.run_cm.map(GearFact::Run),
        air.weighted.map(GearFact::Weighted),
        air.displaces.map(GearFact::Displaces),
    ];
    all.into_iter().flatten().collect()
}

fn facts_of_filter(filter: &FilterMade) -> Vec<GearFact> {
    let all = [
        filter.rated.map(|(from, to)| GearFact::Rated { from, to }),
        filter.fill_line_cm.map(GearFact::FillLine),
        filter.flow.map(GearFact::Flow),
        filter.displaces.map(GearFact::Displaces),
    ];
    all.into_iter().flatten().collect()
}

/// One fact of gear in a few words.
pub(in crate::desk) fn fact(desk: &Desk<'_>, fact: GearFact) -> String {
    let units = desk.place().units;
    let of = |id: &'static str, cm: f64| desk.say(&Message::new(id).with("length", length(desk, cm)));
    match fact {
        GearFact::Flow(flow) => desk.say(&msg!("made-flow", flow = litres_per_minute(flow, units))),
        GearFact::Displaces(litres) => desk.say(&msg!("made-displaces", litres = desk.tell.litres(litres))),
        GearFact::Rated { from, to } => desk.say(&msg!("made-rated", range = range(desk, from, to))),
        GearFact::FillLine(cm) => of("made-line", cm),
        GearFact::Pressure(pa) => desk.say(&msg!("made-pressure", pressure = pascals(pa, units))),
        GearFact::Pump(cm) if cm < 0.0 => of("made-pump-below", -cm),
        GearFact::Pump(cm) if cm > 0.0 => of("made-pump-above", cm),
        GearFact::Pump(_) => desk.tell.word("made-pump-level"),
        GearFact::CheckValve(true) => desk.tell.word("made-check-valve"),
        GearFact::CheckValve(false) => desk.tell.word("made-check-valve-none"),
        GearFact::Stone(cm) => of("made-stone", cm),
        GearFact::Across(cm) => of("made-across", cm),
        GearFact::Rim(cm) => of("made-rim", cm),
        GearFact::Valve(cm) => of("made-valve", cm),
        GearFact::Run(cm) => of("made-run", cm),
        GearFact::Weighted(true) => desk.tell.word("made-weighted"),
        GearFact::Weighted(false) => desk.tell.word("made-weighted-not"),
    }
}

/// A range of volumes, the unit once, as boxes print it: `5–10 US gal`; with the place's own unit where that is another.
pub(in crate::desk) fn range(desk: &Desk<'_>, from: f64, to: f64) -> String {
    /// A US gallon in litres, by definition.
    const GALLON: f64 = 3.785_411_784;
    let printed = format!("{}–{} US gal", plain(from / GALLON), plain(to / GALLON));
    if desk.place().units == Units::Us {
        return printed;
    }
    desk.say(&msg!(
        "made-range",
        printed = printed,
        from = desk.tell.litres(from),
        to = desk.tell.litres(to)
    ))
}

/// How a piece of gear stands, with what is known of it.
pub(in crate::desk::setup) fn state(desk: &Desk<'_>, pool: &Pool, gear_of: Gear, fitted: Fitted) -> String {
    let first = crate::desk::setup::gear::state(desk, gear_of, fitted);
    let all: Vec<String> = std::iter::once(first).chain(gear(desk, pool, gear_of)).collect();
    all.join(", ")
}
