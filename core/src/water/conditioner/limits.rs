//! What drinking water may hold of its disinfectants.

use crate::quantity::MilligramsPerLitre;
use crate::rests::Rests;

use super::{Mains, Problem, chlorine};

/// Who set a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Authority {
    /// The World Health Organization's Guidelines for Drinking-water Quality, 2nd edition: a guideline value.
    Who,
    /// The Environmental Protection Agency of the United States: the maximum residual disinfectant level, as a running
    /// annual average, so that a single day may lie above it.
    UsEpa,
}

/// What drinking water may hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limit {
    /// Who says so.
    pub authority: Authority,
    /// Of what.
    pub mains: Mains,
    /// How much, in mg/L: counted as Cl₂ by the US agency; the extract of the WHO's text does not say for chloramine.
    pub most: MilligramsPerLitre,
    /// What the figure rests on.
    pub rests: Rests,
}

const fn limit(authority: Authority, mains: Mains, most: f64) -> Limit {
    Limit {
        authority,
        mains,
        most: MilligramsPerLitre(most),
        rests: Rests::Seen,
    }
}

/// The limits that were seen in public extracts of the two authorities' texts. They are made for people who drink the
/// water; none is published for land hermit crabs, for whom both are to be removed.
pub const LIMITS: [Limit; 4] = [
    limit(Authority::Who, Mains::Chlorine, 5.0),
    limit(Authority::Who, Mains::Chloramine, 3.0),
    limit(Authority::UsEpa, Mains::Chlorine, 4.0),
    limit(Authority::UsEpa, Mains::Chloramine, 4.0),
];

/// The highest limit of a disinfectant that any authority sets, in mg/L: what tap water may hold where nobody measured it.
/// Doses are checked, and what went in untreated is told, by the worst that is allowed anywhere.
#[must_use]
pub fn highest(mains: Mains) -> Limit {
    let of = LIMITS.into_iter().filter(|limit| limit.mains == mains);
    // Both disinfectants stand in the table.
    of.max_by(|a, b| a.most.0.total_cmp(&b.most.0))
        .unwrap_or(LIMITS[0])
}

/// The limits that a measured value lies above. So much chlorine is likelier a misreading than mains water.
///
/// # Errors
///
/// A value outside 0 to 1000 mg/L.
pub fn exceeded(mains: Mains, measured: MilligramsPerLitre) -> Result<Vec<Limit>, Problem> {
    let measured = chlorine(measured)?;
    let above = |limit: &Limit| limit.mains == mains && measured > limit.most.0;
    Ok(LIMITS.into_iter().filter(above).collect())
}
