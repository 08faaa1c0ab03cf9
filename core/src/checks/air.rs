//! Topics of moist air and its balance.

use super::{Claim, Row, named, numbers, rows};
use crate::air::balance::{Balance, Enclosure, Exchange, Pool};
use crate::air::evaporation::{Transfer, ashrae, ashrae_simplified, shah, shah_no_buoyancy, smith_quiet};
use crate::air::exposure::exposure;
use crate::air::glass::Pane;
use crate::air::hygrometer::{Correction, Reference, Salt};
use crate::air::moist::comparison::{hyland_wexler, magnus};
use crate::air::moist::{Air, STANDARD_ATMOSPHERE, humidity_ratio, latent_heat_kj_kg, saturation};
use crate::quantity::{Celsius, Centimetres, Hours, Humidity, Litres, Pascals, SquareCentimetres};
use Claim::{By, Judged};

/// Each of its topics, once.
pub(super) const CLAIMS: &[(&str, Claim)] = &[
    ("sat_vapour_pressure_table", Judged(saturation_table)),
    (
        "sat_vapour_pressure_HW",
        By(|row| Some(vec![hyland_wexler(first(row)?).0])),
    ),
    ("sat_vapour_pressure_IAPWS95", Judged(near_iapws)),
    (
        "sat_vapour_pressure_magnusAE96",
        By(|row| Some(vec![magnus(first(row)?).0])),
    ),
    (
        "sat_vapour_pressure_sonntag",
        By(|row| Some(vec![saturation(first(row)?).ok()?.0])),
    ),
    ("sat_humidity_ratio_table", Judged(saturated_ratio)),
    ("humidity_ratio", By(ratio_of_hyland_wexler)),
    ("dew_point", By(|row| Some(vec![air(row)?.dew_point().ok()?.0]))),
    (
        "absolute_humidity",
        By(|row| Some(vec![air(row)?.absolute_humidity_g_m3()])),
    ),
    (
        "latent_heat",
        By(|row| Some(vec![latent_heat_kj_kg(first(row)?).ok()?])),
    ),
    ("glass_sweat", By(glass)),
    ("evap_dp", By(|row| Some(vec![difference(row)?.0]))),
    ("evap_ashrae", By(ashrae_full)),
    ("evap_ashrae_simplified", By(ashrae_simple)),
    ("evap_shah_forced", By(shah_forced)),
    ("evap_smith_quiet", By(smith)),
    ("shah_unoccupied_table", By(shah_table)),
    ("box_model", By(box_model)),
    ("saturated_salt_rh", By(salt)),
    ("hygrometer_one_point", By(one_point)),
    ("hygrometer_two_point", By(two_point)),
    ("exposure", By(exposed)),
];

fn first(row: &Row) -> Option<Celsius> {
    Some(Celsius(named(&row.inputs, "T")?))
}

fn air(row: &Row) -> Option<Air> {
    Air::new(first(row)?, Humidity(named(&row.inputs, "RH")?)).ok()
}

/// The first number behind a word.
fn after(text: &str, word: &str) -> Option<f64> {
    let start = text.find(word)? + word.len();
    numbers(&text[start..]).first().copied()
}

/// The printed table is ASHRAE's; its rows say how far, relative to the value.
fn saturation_table(row: &Row) -> bool {
    let judge = || {
        let got = saturation(first(row)?).ok()?.0;
        let (want, tolerance) = (numbers(&row.expected)[0], numbers(&row.tolerance)[0]);
        Some(row.tolerance.contains("relative") && (got / want - 1.0).abs() <= tolerance)
    };
    judge().unwrap_or(false)
}

/// IAPWS-95, which the rows print to 0.05 Pa. What is promised of Sonntag's formula is 0.01 %, and that is judged.
fn near_iapws(row: &Row) -> bool {
    let judge = || {
        let got = saturation(first(row)?).ok()?.0;
        Some((got / numbers(&row.expected).first()? - 1.0).abs() <= 1e-4)
    };
    judge().unwrap_or(false)
}

/// These rows were computed with Hyland and Wexler's saturation pressure, 0.02 % below Sonntag's, to 2e-6.
fn ratio_of_hyland_wexler(row: &Row) -> Option<Vec<f64>> {
    let vapour = hyland_wexler(first(row)?) * named(&row.inputs, "RH")?;
    Some(vec![humidity_ratio(vapour, STANDARD_ATMOSPHERE).ok()?])
}

/// The printed table is of real gases: the row allows up to its second figure, in percent.
fn saturated_ratio(row: &Row) -> bool {
    let judge = || {
        let saturated = Air::new(first(row)?, Humidity(1.0)).ok()?;
        let got = saturated.humidity_ratio(STANDARD_ATMOSPHERE).ok()?;
        let (want, percent) = (numbers(&row.expected)[0], *numbers(&row.tolerance).get(1)?);
        Some(row.tolerance.contains('%') && (got / want - 1.0).abs() <= percent / 100.0)
    };
    judge().unwrap_or(false)
}

/// `enclosure 27 C; room 24 C; 6 mm glass k=1.0; h=8.29 both sides -> inner face C`, or `same glass -> RH`.
fn glass(row: &Row) -> Option<Vec<f64>> {
    let (inside, room) = (after(&row.inputs, "enclosure ")?, after(&row.inputs, "room ")?);
    let (inside, room) = (Celsius(inside), Celsius(room));
    if row.inputs.contains("same glass") {
        return Some(vec![Pane::default().limit(inside, room).ok()?.0 * 100.0]);
    }
    let film = named(&row.inputs, "h")?;
    let pane = Pane {
        thickness: Centimetres(numbers(&row.inputs).get(2)? / 10.0),
        conductivity: named(&row.inputs, "k")?,
        inner_film: film,
        outer_film: film,
    };
    Some(vec![pane.inner_face(inside, room).ok()?.0])
}

/// `water 26 C; air 27 C; RH 0.75; …`, the humidity in % where it says so.
fn water_and_air(row: &Row) -> Option<(Celsius, Air)> {
    let humidity = after(&row.inputs, "RH ")?;
    let humidity = if humidity > 1.0 {
        humidity / 100.0
    } else {
        humidity
    };
    let air = Air::new(Celsius(after(&row.inputs, "air ")?), Humidity(humidity)).ok()?;
    Some((Celsius(after(&row.inputs, "water ")?), air))
}

/// The rows of evaporation were computed with Hyland and Wexler's pressures, which lie 0.02 % below Sonntag's, and are
/// printed more closely than that.
fn difference(row: &Row) -> Option<Pascals> {
    let (water, air) = water_and_air(row)?;
    Some(hyland_wexler(water) - hyland_wexler(air.temperature()) * air.humidity().0)
}

fn ashrae_full(row: &Row) -> Option<Vec<f64>> {
    let (water, _) = water_and_air(row)?;
    let full = ashrae(water, difference(row)?, named(&row.inputs, "V")?).ok()?;
    Some(vec![full * named(&row.inputs, "Fa")?])
}

fn ashrae_simple(row: &Row) -> Option<Vec<f64>> {
    Some(vec![
        ashrae_simplified(difference(row)?, named(&row.inputs, "Fa")?).ok()?,
    ])
}

fn smith(row: &Row) -> Option<Vec<f64>> {
    let (water, _) = water_and_air(row)?;
    Some(vec![
        smith_quiet(water, difference(row)?, named(&row.inputs, "V")?).ok()?,
    ])
}

fn shah_forced(row: &Row) -> Option<Vec<f64>> {
    Some(vec![shah_no_buoyancy(difference(row)?).ok()?])
}

fn shah_table(row: &Row) -> Option<Vec<f64>> {
    let (water, air) = water_and_air(row)?;
    let shah = shah(water, &air).ok()?;
    let heavier = row.inputs.contains("rho_room-rho_water");
    Some(vec![if heavier { shah.heavier.0 } else { shah.evaporation }])
}

/// The humidity whose surface the nearest row above this one asks for: what a row calls "that surface".
fn asked_before(row: &Row) -> Option<f64> {
    let mut humidity = None;
    for above in rows() {
        if above.inputs == row.inputs && above.expected == row.expected {
            return humidity;
        }
        humidity = after(&above.inputs, "surface for steady RH ").or(humidity);
    }
    None
}

/// The worked box and what the row asks of it.
fn box_model(row: &Row) -> Option<Vec<f64>> {
    let text = row.inputs.as_str();
    let litres = Litres(named(text, "V_air")? * 1000.0);
    let (_, rest) = text.split_once("; ")?;
    let given = numbers(rest);
    let (inside, room, percent) = (given[0], given[1], given[2]);
    let enclosure = Enclosure {
        gross: litres,
        air: litres,
        temperature: Celsius(inside),
        exchange: Exchange(named(text, "n")?),
        substrate: None,
        pane: Pane::default(),
        glass_surface: None,
    };
    let room = Air::new(Celsius(room), Humidity(percent / 100.0)).ok()?;
    let pool = |cm2: f64, activity| Pool {
        surface: SquareCentimetres(cm2),
        transfer: Transfer(named(text, "k").unwrap_or(0.0)),
        temperature: Celsius(after(text, "water ").unwrap_or(f64::NAN)),
        activity,
        bubbles: None,
    };
    let with = |pools: &[Pool]| Balance::new(&enclosure, pools, &room).ok();
    let surface_for = |humidity: f64| {
        let need = with(&[])?
            .surface_for(Humidity(humidity), &[pool(1.0, 1.0)])
            .ok()?;
        need.amount().map(|surface| surface.0)
    };
    let that = || with(&[pool(surface_for(asked_before(row)?)?, 1.0)]);
    let (_, asked) = text.split_once("-> ")?;
    let answer = if asked.starts_with("conductance") {
        with(&[])?.conductance().0
    } else if let Some(humidity) = after(asked, "surface for steady RH ") {
        surface_for(humidity)?
    } else if asked.starts_with("time constant") {
        that()?.time_constant().0
    } else if asked.starts_with("evaporation") {
        that()?.total_loss().per_day.0
    } else if let Some(hours) = after(asked, "RH after ") {
        let pools = [pool(named(text, "A")?, 1.0)];
        let start = Humidity(after(text, "start RH ")?);
        with(&pools)?.after(start, Hours(hours)).ok()?.humidity.0
    } else if let Some(metres) = named(text, "A") {
        with(&[pool(metres * 1e4, 1.0)])?.steady().humidity.0
    } else {
        // `150 cm2 fresh + 150 cm2 salt (a_w 0.9813)`
        let salt = pool(after(text, "fresh + ")?, after(text, "a_w ")?);
        let fresh = pool(after(text, "n=0.5; ")?, 1.0);
        with(&[fresh, salt])?.steady().humidity.0
    };
    Some(vec![answer])
}

fn salt_of(text: &str) -> Option<Salt> {
    let (name, _) = text.split_once([';', ' '])?;
    match name {
        "NaCl" => Some(Salt::SodiumChloride),
        "MgCl2" => Some(Salt::MagnesiumChloride),
        "KCl" => Some(Salt::PotassiumChloride),
        "K2SO4" => Some(Salt::PotassiumSulfate),
        _ => None,
    }
}

/// `NaCl; 20 C -> %RH`
fn salt(row: &Row) -> Option<Vec<f64>> {
    let (_, rest) = row.inputs.split_once("; ")?;
    let at = Celsius(*numbers(rest).first()?);
    Some(vec![salt_of(&row.inputs)?.humidity_percent(at).ok()?])
}

/// `NaCl jar 25 C; reads 72.0 -> offset to add`
fn one_point(row: &Row) -> Option<Vec<f64>> {
    let truth = salt_of(&row.inputs)?
        .humidity_percent(Celsius(after(&row.inputs, "jar ")?))
        .ok()?;
    let reading = after(&row.inputs, "reads ")?;
    Some(vec![
        Correction::one_point(Reference { reading, truth }).ok()?.offset,
    ])
}

/// `raw 36.0 ->32.79; raw 73.0 ->75.30; reading 80.0 -> corrected`, and `same; slope` of the same.
fn two_point(row: &Row) -> Option<Vec<f64>> {
    const FIRST: &str = "raw 36.0 ->32.79; raw 73.0 ->75.30; reading 80.0";
    let slope = row.inputs.starts_with("same");
    let [r1, t1, r2, t2, reading] = numbers(if slope { FIRST } else { &row.inputs })[..] else {
        return None;
    };
    let reference = |reading, truth| Reference { reading, truth };
    let correction = Correction::two_point(reference(r1, t1), reference(r2, t2)).ok()?;
    Some(vec![if slope {
        correction.slope
    } else {
        correction.apply(reading).ok()?
    }])
}

/// `RH 80,88,92,86,80 at 0,6,12,18,24 h; threshold 85 -> …`
fn exposed(row: &Row) -> Option<Vec<f64>> {
    let (humidities, rest) = row.inputs.split_once(" at ")?;
    let (hours, limit) = rest.split_once(';')?;
    let readings: Vec<_> = numbers(hours)
        .into_iter()
        .map(Hours)
        .zip(numbers(humidities))
        .collect();
    let sum = exposure(&readings, *numbers(limit).first()?, Hours(6.0)).ok()?;
    Some(vec![sum.above.0, sum.percent_hours])
}
