//! How much of gravel is gaps.

use super::ContentsError;
use crate::quantity::Span;
use crate::rests::Rests;

/// Anything that lies loose has gaps, and anything that lies at all has not only gaps.
const SHARES: Span = Span::new(0.05, 0.95);

/// The share of a layer that is not solid: lowest, likely, highest. 0.05 to 0.95.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(from = "[f64; 3]", into = "[f64; 3]")]
pub struct Porosity {
    /// It may be as low as this.
    pub low: f64,
    /// It is most likely this.
    pub likely: f64,
    /// It may be as high as this.
    pub high: f64,
    /// What it rests on.
    pub rests: Rests,
}

/// What was stored was told by the place.
impl From<[f64; 3]> for Porosity {
    fn from([low, likely, high]: [f64; 3]) -> Self {
        [Self::GRAVEL, Self::CLEAN_EVEN_GRAVEL, Self::SAND]
            .into_iter()
            .find(|known| [known.low, known.likely, known.high] == [low, likely, high])
            .unwrap_or(Self {
                low,
                likely,
                high,
                rests: Rests::Place,
            })
    }
}

impl From<Porosity> for [f64; 3] {
    fn from(porosity: Porosity) -> Self {
        [porosity.low, porosity.likely, porosity.high]
    }
}

impl Porosity {
    /// Gravel as it comes: 0.30–0.40. Measured clean gravel 0.36, with fines 0.27 (seen in a published table); Freeze &
    /// Cherry give 0.25–0.40 (from memory). The middle is common practice, no published source.
    pub const GRAVEL: Self = Self {
        low: 0.30,
        likely: 0.35,
        high: 0.40,
        rests: Rests::Memory,
    };

    /// Gravel that was washed and sieved to one size: 0.35–0.45; common practice, no published source.
    pub const CLEAN_EVEN_GRAVEL: Self = Self {
        low: 0.35,
        likely: 0.40,
        high: 0.45,
        rests: Rests::Practice,
    };

    /// Sand: 0.25–0.50, Freeze & Cherry (from memory); a measured one 0.337 (seen in a published table).
    pub const SAND: Self = Self {
        low: 0.25,
        likely: 0.35,
        high: 0.50,
        rests: Rests::Memory,
    };

    /// One that was measured: no band.
    #[must_use]
    pub const fn measured(share: f64) -> Self {
        Self {
            low: share,
            likely: share,
            high: share,
            rests: Rests::Place,
        }
    }

    /// Looks whether it can be.
    pub(in crate::pool) fn check(self) -> Result<(), ContentsError> {
        let Self {
            low, likely, high, ..
        } = self;
        let fine = SHARES.has(low) && SHARES.has(high) && low <= likely && likely <= high;
        if fine {
            Ok(())
        } else {
            Err(ContentsError::Porosity { low, likely, high })
        }
    }
}

/// The porosity of a dry layer: 1 − bulk density / density of the particles, both in kg/L.
///
/// Source: the definition (seen in public pages of soil science). Quartz and most stone: about 2.65 kg/L.
///
/// # Errors
/// Densities that give a share outside 0.05–0.95, or particles of more than 25 kg/L: nothing that is dug up.
pub fn porosity(bulk: f64, particle: f64) -> Result<f64, ContentsError> {
    let share = 1.0 - bulk / particle;
    if bulk > 0.0 && particle <= 25.0 && SHARES.has(share) {
        Ok(share)
    } else {
        Err(ContentsError::Densities { bulk, particle })
    }
}
