//! Topics of sea water and its instruments.

use super::{Claim, Row, named};
use crate::quantity::{Celsius, Conductivity, Gravity, GravityConvention, Kilograms, Litres, Salinity};
use crate::water::instruments::{gravity_from_salinity, salinity_from_gravity};
use crate::water::seawater::{
    Decibars, after_evaporation, conductivity_from_salinity, conductivity_under, density, density_under,
    prepared_from, reference_salinity, salinity_from_conductivity, salinity_under, salt_per_kilogram,
    salt_to_raise, share_to_swap, water_activity,
};

const EOS80: &str = "the equation of state of 1980 is another fit than TEOS-10: the row itself grants 0.006 kg/m3 up to \
                     salinity 42, and outside its range, at 45, it is 0.0096 off";
const CONVERTED: &str = "in-situ temperature is taken for the potential one, which at 1000 dbar is 0.08 K off, and the \
                         equation of state of 1980 is another fit";

/// Each of its topics, once.
pub(super) const CLAIMS: &[(&str, Claim)] = &[
    ("pss78", Claim::By(pss78)),
    ("pss78_const", Claim::By(|_| conductivity_c(35.0, Celsius(T15)))),
    ("eos80_density", Claim::By(eos80)),
    ("teos10_rho75", Claim::Near(rho75, |_| 0.0095, CONVERTED)),
    ("teos10_SP_from_C", Claim::By(sp_from_c)),
    ("teos10_C_from_SP", Claim::By(c_from_sp)),
    ("teos10_const", Claim::By(reference)),
    ("S_from_sg", Claim::By(s_from_sg)),
    ("sg_from_S", Claim::By(sg_from_s)),
    ("grid_conductivity", Claim::By(grid_conductivity)),
    ("grid_density", Claim::Near(grid_density, granted, EOS80)),
    ("grid_density_eos80", Claim::By(grid_density)),
    ("salinity_from_conductivity", Claim::By(from_conductivity)),
    ("water_activity", Claim::By(activity)),
    ("salt_mass", Claim::By(salt_mass)),
    ("evaporative_concentration", Claim::By(evaporative)),
];

/// 15 °C of the scale of 1968.
const T15: f64 = 15.0 / 1.00024;

fn input(row: &Row, name: &str) -> Option<f64> {
    named(&row.inputs, name)
}

/// A temperature of the scale of 1968 on that of 1990.
fn t68(row: &Row) -> Option<Celsius> {
    Some(Celsius(input(row, "t68")? / 1.00024))
}

fn t90(row: &Row) -> Option<Celsius> {
    input(row, "t90").map(Celsius)
}

fn practical(row: &Row) -> Option<Salinity> {
    input(row, "SP").map(Salinity)
}

fn deep(row: &Row) -> Option<Decibars> {
    Some(Decibars(input(row, " p")?))
}

fn conductivity_c(s: f64, at: Celsius) -> Option<Vec<f64>> {
    Some(vec![conductivity_from_salinity(Salinity(s), at).ok()?.0])
}

fn pss78(row: &Row) -> Option<Vec<f64>> {
    let shown = Conductivity(input(row, "R")? * conductivity_c(35.0, Celsius(T15))?[0]);
    Some(vec![salinity_under(shown, t68(row)?, deep(row)?).ok()?.0])
}

fn eos80(row: &Row) -> Option<Vec<f64>> {
    let (s, at, under) = (Salinity(input(row, "S")?), t68(row)?, deep(row)?);
    let deep = density_under(s, at, under).ok()?.0;
    // Both ways to ask at the surface say the same.
    let same = under.0 > 0.0 || density(s, at).ok()?.0 == deep;
    same.then_some(vec![deep])
}

/// The temperature that water of a conservative temperature has at the surface, by the independent library.
fn potential(absolute: f64, conservative: f64) -> Option<Celsius> {
    let mut t = conservative;
    for _ in 0..50 {
        t += conservative - gsw::conversions::ct_from_pt(absolute, t).ok()?;
    }
    Some(Celsius(t))
}

fn rho75(row: &Row) -> Option<Vec<f64>> {
    let absolute = input(row, "SA")?;
    let at = potential(absolute, input(row, "CT")?)?;
    let s = Salinity(absolute * 35.0 / 35.165_04);
    Some(vec![density_under(s, at, deep(row)?).ok()?.0])
}

fn sp_from_c(row: &Row) -> Option<Vec<f64>> {
    let shown = Conductivity(input(row, "C")?);
    Some(vec![salinity_under(shown, t90(row)?, deep(row)?).ok()?.0])
}

fn c_from_sp(row: &Row) -> Option<Vec<f64>> {
    let found = conductivity_under(practical(row)?, t90(row)?, deep(row)?);
    Some(vec![found.ok()?.0])
}

fn reference(row: &Row) -> Option<Vec<f64>> {
    Some(vec![reference_salinity(practical(row)?).ok()?])
}

/// The convention that a row names as a word of its own.
fn convention(row: &Row) -> Option<GravityConvention> {
    row.inputs.split(' ').find_map(GravityConvention::parse)
}

fn s_from_sg(row: &Row) -> Option<Vec<f64>> {
    let shown = Gravity(input(row, "sg")?);
    Some(vec![salinity_from_gravity(shown, convention(row)?).ok()?.0])
}

fn sg_from_s(row: &Row) -> Option<Vec<f64>> {
    Some(vec![
        gravity_from_salinity(practical(row)?, convention(row)?).ok()?.0,
    ])
}

fn grid_conductivity(row: &Row) -> Option<Vec<f64>> {
    conductivity_c(practical(row)?.0, t90(row)?)
}

fn grid_density(row: &Row) -> Option<Vec<f64>> {
    Some(vec![density(practical(row)?, t90(row)?).ok()?.0])
}

/// How far from TEOS-10 the equation of state of 1980 may be.
fn granted(row: &Row) -> f64 {
    if practical(row).is_some_and(|s| s.0 <= 42.0) {
        0.006
    } else {
        0.0096
    }
}

fn from_conductivity(row: &Row) -> Option<Vec<f64>> {
    let shown = Conductivity(input(row, "C")?);
    Some(vec![salinity_from_conductivity(shown, t90(row)?).ok()?.0])
}

fn activity(row: &Row) -> Option<Vec<f64>> {
    Some(vec![water_activity(practical(row)?).ok()?])
}

fn salt_mass(row: &Row) -> Option<Vec<f64>> {
    let target = Salinity(input(row, "S")?);
    if row.inputs.contains("per kg fresh water") {
        return Some(vec![salt_per_kilogram(target).ok()?.0]);
    }
    let made = prepared_from(Litres(1.0), target, Celsius(input(row, "T")?)).ok()?;
    let asked = row.inputs.rsplit(": ").next()?;
    Some(vec![match asked {
        "g salt per L of fresh water" => made.salt.0,
        "L of seawater made from 1 L fresh water" => made.finished.0,
        "g salt in 1 L of finished seawater" => made.salt_per_litre.0,
        _ => return None,
    }])
}

fn evaporative(row: &Row) -> Option<Vec<f64>> {
    let numbers = super::numbers(&row.inputs);
    Some(vec![if row.inputs.contains("evaporated") {
        // The 1 of S1 is a number as well.
        let lost = numbers.get(2)? / 100.0;
        after_evaporation(Salinity(input(row, "S1")?), lost).ok()?.0
    } else if row.inputs.contains("swapping") {
        let (from, to) = (input(row, "S1")?, *numbers.get(2)?);
        share_to_swap(Salinity(from), Salinity(to), Salinity(0.0)).ok()?
    } else {
        let [mass, from, to] = numbers[..] else {
            return None;
        };
        salt_to_raise(Kilograms(mass), Salinity(from), Salinity(to))
            .ok()?
            .0
    }])
}
