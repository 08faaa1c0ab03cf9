//! Whether a nitrogen compound is counted as the whole molecule or as its nitrogen alone.

use serde::{Deserialize, Serialize};

use super::Kind;

/// What the milligrams of an ammonia, nitrite or nitrate reading are milligrams of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// Of the whole molecule or ion: NH₃, NO₂⁻, NO₃⁻.
    Ion,
    /// Of the nitrogen in it: NH₃-N, NO₂-N, NO₃-N.
    Nitrogen,
}

/// IUPAC abridged atomic weights.
const N: f64 = 14.007;
const O: f64 = 15.999;
const H: f64 = 1.008;

/// NH₄⁺ per nitrogen by mass, 1.28786. Some kits count ammonia as ammonium; it is brought to nitrogen at once.
pub(super) const AMMONIUM_PER_NITROGEN: f64 = (N + 4.0 * H) / N;

/// The mass of the whole molecule per mass of its nitrogen, from the IUPAC abridged atomic weights: 1.21589 for
/// ammonia (NH₃), 3.28443 for nitrite, 4.42664 for nitrate. `None` for a kind that holds no nitrogen.
#[must_use]
pub fn ion_per_nitrogen(kind: Kind) -> Option<f64> {
    match kind {
        Kind::Ammonia => Some((N + 3.0 * H) / N),
        Kind::Nitrite => Some((N + 2.0 * O) / N),
        Kind::Nitrate => Some((N + 3.0 * O) / N),
        _ => None,
    }
}

/// A concentration in mg/L, counted on one basis, counted on another. `None` for a kind that holds no nitrogen.
#[must_use]
pub fn rebase(kind: Kind, mg_l: f64, from: Basis, to: Basis) -> Option<f64> {
    let factor = ion_per_nitrogen(kind)?;
    Some(match (from, to) {
        (Basis::Ion, Basis::Nitrogen) => mg_l / factor,
        (Basis::Nitrogen, Basis::Ion) => mg_l * factor,
        (Basis::Ion, Basis::Ion) | (Basis::Nitrogen, Basis::Nitrogen) => mg_l,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::factor::tests::rows;

    /// IUPAC abridged atomic weights that only the check needs.
    const CA: f64 = 40.078;
    const C: f64 = 12.011;

    #[test]
    fn check_against_the_table() {
        let rows = rows("nitrogen_units");
        assert_eq!(rows.len(), 5);
        for (what, want) in rows {
            let got = match what.as_str() {
                "NO3/NO3-N" => ion_per_nitrogen(Kind::Nitrate).unwrap(),
                "NO2/NO2-N" => ion_per_nitrogen(Kind::Nitrite).unwrap(),
                "NH4/NH4-N" => AMMONIUM_PER_NITROGEN,
                // The last two rest on the same weights: NH3 + 2 O2, and one CaCO3 per nitrogen.
                "O2 used per mg N nitrified" => 4.0 * O / N,
                "alkalinity as CaCO3 used per mg N nitrified" => (CA + C + 3.0 * O) / N,
                other => panic!("no check for {other}"),
            };
            assert!((got - want).abs() < 1e-4, "{what}: {got} is not {want}");
        }
    }

    #[test]
    fn check_bases() {
        // Molar masses by hand: 17.031, 46.005 and 62.004 over 14.007.
        for (kind, want) in [
            (Kind::Ammonia, 1.215_89),
            (Kind::Nitrite, 3.284_43),
            (Kind::Nitrate, 4.426_64),
        ] {
            let up = rebase(kind, 1.0, Basis::Nitrogen, Basis::Ion).unwrap();
            assert!((up - want).abs() < 1e-5, "{kind:?}: {up}");
            let back = rebase(kind, up, Basis::Ion, Basis::Nitrogen).unwrap();
            assert!((back - 1.0).abs() < 1e-12, "{kind:?}: {back}");
            assert_eq!(rebase(kind, 0.3, Basis::Ion, Basis::Ion), Some(0.3));
            assert_eq!(rebase(kind, 0.3, Basis::Nitrogen, Basis::Nitrogen), Some(0.3));
        }
        assert_eq!(rebase(Kind::Ph, 8.0, Basis::Ion, Basis::Nitrogen), None);
    }
}
