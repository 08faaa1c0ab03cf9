//! Checking a hygrometer over saturated salt solutions: in a closed jar the air above such a slurry has a humidity
//! that is known.

use super::moist::{AirError, What};
use crate::quantity::{Beyond, Celsius, Formula, Input, Span};
use crate::rests::Rests;

/// Readings that an instrument can show, in %.
const READINGS: Span = Span::new(0.0, 110.0);

/// A salt whose saturated solution is used. Table salt brackets the band of an enclosure together with potassium
/// chloride.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Salt {
    /// Sodium chloride, table salt: about 75 %.
    SodiumChloride,
    /// Magnesium chloride: about 33 %.
    MagnesiumChloride,
    /// Potassium chloride: about 84 %.
    PotassiumChloride,
    /// Potassium sulfate: about 97 %.
    PotassiumSulfate,
}

impl Salt {
    /// Relative humidity in % over its saturated solution: Greenspan 1977 (J. Res. NBS 81A:89), polynomials in °C.
    /// [`Salt::rests`] tells which coefficients were seen in print and which are remembered.
    ///
    /// # Errors
    /// [`AirError::Outside`] for a temperature outside 0 to 60 °C.
    pub fn humidity_percent(self, temperature: Celsius) -> Result<f64, AirError> {
        let t = AirError::unless(What::Temperature, temperature.0, Span::new(0.0, 60.0))?;
        let [a, b, c, d] = match self {
            Self::SodiumChloride => [75.5164, 0.039_832_1, -0.002_654_59, 2.848e-5],
            Self::MagnesiumChloride => [33.6686, -0.007_973_97, -0.001_089_88, 0.0],
            Self::PotassiumChloride => [88.6190, -0.193_340, 8.997_06e-4, 0.0],
            Self::PotassiumSulfate => [98.7792, -0.059_050_2, 0.0, 0.0],
        };
        Ok(a + t * (b + t * (c + t * d)))
    }

    /// What its coefficients rest on.
    #[must_use]
    pub fn rests(self) -> Rests {
        match self {
            Self::PotassiumSulfate => Rests::Memory,
            _ => Rests::Seen,
        }
    }

    /// What is to be said of a temperature: the polynomials were fitted from 0 to 80 °C for sodium chloride, and not
    /// above 50 °C for potassium sulfate (from memory).
    #[must_use]
    pub fn beyond(self, temperature: Celsius) -> Option<Beyond> {
        let high = if self == Self::PotassiumSulfate {
            50.0
        } else {
            80.0
        };
        Beyond::of(
            Formula::SaltSolutions,
            Input::Temperature,
            temperature.0,
            Span::new(0.0, high),
        )
    }
}

/// How an instrument's readings are corrected: true = slope·reading + offset, in %.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Correction {
    /// What a reading is multiplied with.
    pub slope: f64,
    /// What is added then, in %.
    pub offset: f64,
}

/// An instrument's reading and what it should have been, both in %.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reference {
    /// What the instrument showed.
    pub reading: f64,
    /// What was true.
    pub truth: f64,
}

impl Reference {
    fn checked(self) -> Result<Self, AirError> {
        AirError::unless(What::Reading, self.reading, READINGS)?;
        AirError::unless(What::Reading, self.truth, Span::new(0.0, 100.0))?;
        Ok(self)
    }
}

impl Correction {
    /// From one reference: an offset only, good near that humidity.
    ///
    /// # Errors
    /// [`AirError::Outside`] for readings outside 0 to 110 %, or a truth outside 0 to 100 %.
    pub fn one_point(reference: Reference) -> Result<Self, AirError> {
        let Reference { reading, truth } = reference.checked()?;
        Ok(Self {
            slope: 1.0,
            offset: truth - reading,
        })
    }

    /// From two references: true = T1 + (raw − R1)(T2 − T1)/(R2 − R1).
    ///
    /// # Errors
    /// [`AirError::Outside`] as for one; [`AirError::SameReading`] if the instrument reads within 1 % of the same over
    /// both, or falls where the truth rises: then it measures nothing.
    pub fn two_point(one: Reference, two: Reference) -> Result<Self, AirError> {
        let (one, two) = (one.checked()?, two.checked()?);
        let (reading, truth) = (two.reading - one.reading, two.truth - one.truth);
        if reading.abs() < 1.0 || reading * truth <= 0.0 {
            return Err(AirError::SameReading(one.reading));
        }
        let slope = truth / reading;
        Ok(Self {
            slope,
            offset: one.truth - slope * one.reading,
        })
    }

    /// The corrected reading in %, from 0 to 100.
    ///
    /// # Errors
    /// [`AirError::Outside`] for a reading outside 0 to 110 %.
    pub fn apply(&self, reading: f64) -> Result<f64, AirError> {
        let reading = AirError::unless(What::Reading, reading, READINGS)?;
        Ok((self.slope * reading + self.offset).clamp(0.0, 100.0))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    const SALTS: [Salt; 4] = [
        Salt::SodiumChloride,
        Salt::MagnesiumChloride,
        Salt::PotassiumChloride,
        Salt::PotassiumSulfate,
    ];

    /// The printed table cuts off after two places (from memory): 75.47, 75.29, 75.09.
    #[test]
    fn check_table_salt_as_printed() {
        for (t, printed) in [(20.0, 75.47), (25.0, 75.29), (30.0, 75.09)] {
            let got = Salt::SodiumChloride
                .humidity_percent(Celsius(t))
                .expect("a humidity");
            assert_eq!((got * 100.0).floor() / 100.0, printed);
        }
    }

    #[test]
    fn an_instrument_that_does_not_answer_is_refused() {
        let at = |reading, truth| Reference { reading, truth };
        assert_eq!(
            Correction::two_point(at(50.0, 33.0), at(50.0, 75.0)),
            Err(AirError::SameReading(50.0))
        );
        assert_eq!(
            Correction::two_point(at(50.0, 33.0), at(40.0, 75.0)),
            Err(AirError::SameReading(50.0))
        );
        assert!(Correction::one_point(at(120.0, 75.0)).is_err());
        assert!(Salt::PotassiumSulfate.beyond(Celsius(55.0)).is_some());
    }

    proptest! {
        #[test]
        fn references_come_back(low in 20.0..40.0_f64, high in 70.0..90.0_f64) {
            let one = Reference { reading: low, truth: 32.79 };
            let two = Reference { reading: high, truth: 75.3 };
            let correction = Correction::two_point(one, two).unwrap();
            prop_assert!((correction.apply(low).unwrap() - 32.79).abs() < 1e-9);
            prop_assert!((correction.apply(high).unwrap() - 75.3).abs() < 1e-9);
        }

        #[test]
        fn no_number_breaks_it(a in any::<f64>(), b in any::<f64>(), c in -10.0..120.0_f64, d in -10.0..120.0_f64) {
            for (a, b) in [(a, b), (c, d), (d, c)] {
                for salt in SALTS {
                    prop_assert!(salt.humidity_percent(Celsius(a)).map_or(true, |rh| (0.0..=100.0).contains(&rh)));
                }
                let one = Reference { reading: a, truth: b };
                let two = Reference { reading: b, truth: a };
                let corrections = [Correction::one_point(one), Correction::two_point(one, two)];
                for correction in corrections.into_iter().flatten() {
                    prop_assert!(correction.apply(c).map_or(true, |rh| (0.0..=100.0).contains(&rh)));
                }
            }
        }
    }
}
