//! A refractometer and the salt solution to check it with.

use super::InstrumentError;
use crate::quantity::{Grams, Salinity, Span};
use crate::rests::Rests;
use crate::water::seawater::{SALINITY, SeawaterError, SeawaterInput};

/// The salinity that the standard stands for.
pub const STANDARD_SALINITY: Salinity = Salinity(35.0);

/// The share of plain salt (sodium chloride) in the standard, by mass.
const SHARE: f64 = 0.0365;

/// How far a refractometer may be off at its standard: common practice, no published source. What is further off is
/// broken, dry, or shows another scale.
const OFF_MAX: f64 = 10.0;

/// A solution of plain salt that a refractometer for sea water shows as 35.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standard {
    /// Pure sodium chloride, dry.
    pub salt: Grams,
    /// Distilled or deionised water.
    pub water: Grams,
    /// The recipe was seen on a page for keepers, not in a standard or in a paper.
    pub rests: Rests,
}

/// The standard: 3.65 % of sodium chloride by mass stands for sea water of salinity 35.
///
/// Source: a recipe on a public page for keepers.
///
/// # Errors
///
/// A mass that is not positive, or more than 1e6 g.
pub fn standard(makes: Grams) -> Result<Standard, InstrumentError> {
    let range = Span::new(0.0, 1e6);
    if !range.has(makes.0) || makes.0 == 0.0 {
        return Err(SeawaterError::Outside {
            input: SeawaterInput::Mass,
            value: makes.0,
            range,
        }
        .into());
    }
    Ok(Standard {
        salt: makes * SHARE,
        water: makes * (1.0 - SHARE),
        rests: Rests::Seen,
    })
}

/// How a refractometer's readings are put right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Correction {
    /// This many g/kg are added to each: for an instrument whose scale has slipped.
    Offset(f64),
    /// Each is multiplied by this: for one that shows fresh water right and is off at the standard.
    Factor(f64),
}

impl Correction {
    /// The offset that puts a reading of the standard right.
    ///
    /// # Errors
    ///
    /// A reading more than 10 g/kg from the standard.
    pub fn offset(shown: Salinity) -> Result<Self, InstrumentError> {
        near_standard(shown)?;
        Ok(Self::Offset(STANDARD_SALINITY.0 - shown.0))
    }

    /// The factor that puts a reading of the standard right.
    ///
    /// # Errors
    ///
    /// A reading more than 10 g/kg from the standard.
    pub fn factor(shown: Salinity) -> Result<Self, InstrumentError> {
        near_standard(shown)?;
        Ok(Self::Factor(STANDARD_SALINITY.0 / shown.0))
    }

    /// A reading put right. What falls below fresh water by it is fresh water.
    ///
    /// # Errors
    ///
    /// A reading outside 0 to 60, or one that is put there.
    pub fn right(self, shown: Salinity) -> Result<Salinity, InstrumentError> {
        let put = |value: f64| {
            SALINITY
                .has(value)
                .then_some(value)
                .ok_or(SeawaterError::Outside {
                    input: SeawaterInput::Salinity,
                    value,
                    range: SALINITY,
                })
        };
        let shown = put(shown.0)?;
        let right = match self {
            Self::Offset(offset) => shown + offset,
            Self::Factor(factor) => shown * factor,
        };
        Ok(Salinity(put(if right < 0.0 { 0.0 } else { right })?))
    }
}

/// Whether a reading of the standard can be put right at all.
fn near_standard(shown: Salinity) -> Result<(), InstrumentError> {
    let (low, high) = (STANDARD_SALINITY.0 - OFF_MAX, STANDARD_SALINITY.0 + OFF_MAX);
    if low <= shown.0 && shown.0 <= high {
        return Ok(());
    }
    Err(InstrumentError::Standard {
        standard: STANDARD_SALINITY,
        shown,
        low: Salinity(low),
        high: Salinity(high),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_the_standard() {
        let made = standard(Grams(1000.0)).unwrap();
        assert!((made.salt.0 - 36.5).abs() < 1e-12 && (made.salt.0 + made.water.0 - 1000.0).abs() < 1e-12);
        for refused in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e300] {
            assert!(standard(Grams(refused)).is_err(), "{refused}");
        }
    }

    #[test]
    fn the_standard_itself_is_put_right() {
        for shown in [25.0, 33.0, 35.0, 36.5, 45.0] {
            for correction in [Correction::offset, Correction::factor] {
                let right = correction(Salinity(shown))
                    .unwrap()
                    .right(Salinity(shown))
                    .unwrap();
                assert!((right.0 - 35.0).abs() < 1e-12, "{shown}");
            }
        }
        // The two differ away from it: a factor leaves fresh water alone, an offset does not.
        let (offset, factor) = (
            Correction::offset(Salinity(33.0)).unwrap(),
            Correction::factor(Salinity(33.0)).unwrap(),
        );
        assert_eq!(offset.right(Salinity(0.0)), Ok(Salinity(2.0)));
        assert_eq!(factor.right(Salinity(0.0)), Ok(Salinity(0.0)));
        let high = Correction::offset(Salinity(37.0)).unwrap();
        assert_eq!(high.right(Salinity(1.0)), Ok(Salinity(0.0)));
    }

    #[test]
    fn what_cannot_be_put_right_is_refused() {
        for shown in [0.0, 24.9, 45.1, -35.0, f64::NAN, 1e300] {
            let refused = Correction::factor(Salinity(shown));
            assert!(
                matches!(refused, Err(InstrumentError::Standard { .. })),
                "{shown}"
            );
            assert!(Correction::offset(Salinity(shown)).is_err(), "{shown}");
        }
        assert!(Correction::Factor(1.4).right(Salinity(50.0)).is_err());
    }
}
