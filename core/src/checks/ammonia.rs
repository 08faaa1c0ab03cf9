//! Topics of ammonia, nitrogen and nitrification.

use super::{Claim, Row, named, numbers};
use crate::quantity::{Celsius, MilligramsPerLitre, Salinity};
use crate::water::ammonia::{FilmLimit, pka_fresh, rate_factor, share, unionised};

/// Each of its topics, once.
pub(super) const CLAIMS: &[(&str, Claim)] = &[
    ("nh3_fresh_pct", Claim::By(percent)),
    ("nh3_fresh_pct_273.2", Claim::By(percent_as_printed)),
    ("nh3_sea_pct_bell", Claim::By(percent)),
    ("nh3_sea_pct_table", Claim::By(percent)),
    ("nh3_tan", Claim::By(of_total)),
    ("nitrification_theta", Claim::By(warmth)),
];

/// The share in per cent, from `T`, `pH` and, in sea water, `S`.
fn percent(row: &Row) -> Option<Vec<f64>> {
    let (t, ph) = (named(&row.inputs, "T")?, named(&row.inputs, "pH")?);
    let s = if row.topic.starts_with("nh3_sea") {
        named(&row.inputs, "S")?
    } else {
        0.0
    };
    let found = unionised(Celsius(t), ph, Salinity(s)).ok()?;
    Some(vec![found.share * 100.0])
}

/// The share in per cent with the 0 °C in kelvin that the table printed with the formula agrees with.
fn percent_as_printed(row: &Row) -> Option<Vec<f64>> {
    let (t, ph) = (named(&row.inputs, "T")?, named(&row.inputs, "pH")?);
    Some(vec![share(pka_fresh(t, 273.2), ph) * 100.0])
}

/// Un-ionised ammonia of a total in fresh water: total, temperature, pH.
fn of_total(row: &Row) -> Option<Vec<f64>> {
    let [total, t, ph, ..] = numbers(&row.inputs)[..] else {
        return None;
    };
    let found = unionised(Celsius(t), ph, Salinity(0.0)).ok()?;
    Some(vec![found.of(MilligramsPerLitre(total)).ok()?.0])
}

/// The factor of a rate between two temperatures, or the published rise for a degree.
fn warmth(row: &Row) -> Option<Vec<f64>> {
    if row.inputs.contains("TAN-limited") {
        return Some(vec![FilmLimit::Ammonia.percent_per_degree()]);
    }
    if row.inputs.contains("DO-limited") {
        return Some(vec![FilmLimit::Oxygen.percent_per_degree()]);
    }
    let [theta, from, to] = numbers(&row.inputs)[..] else {
        return None;
    };
    Some(vec![rate_factor(theta, Celsius(from), Celsius(to)).ok()?])
}
