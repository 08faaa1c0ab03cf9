//! When glass sweats.

use super::moist::{Air, AirError, What, possible, saturation};
use crate::quantity::{Celsius, Centimetres, Humidity, Span};
use crate::rests::Rests;

/// What heat passes through a square metre of still-air film on a vertical pane, in W/m²/K: ASHRAE Fundamentals (from
/// memory). With 7.7 (from memory, the ISO figure) in both films the face hardly changes; unequal films do matter.
pub const STILL_AIR_FILM: f64 = 8.29;

/// Conductivity of soda-lime glass in W/m/K (from memory).
pub const GLASS_CONDUCTIVITY: f64 = 1.0;

/// Conductivity of acrylic sheet in W/m/K (from memory).
pub const ACRYLIC_CONDUCTIVITY: f64 = 0.19;

/// A usual pane: 6 mm. Common practice, no published source.
pub const USUAL_THICKNESS: Centimetres = Centimetres(0.6);

/// A pane between two airs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pane {
    /// Its thickness, up to 10 cm.
    pub thickness: Centimetres,
    /// How it conducts heat, 0.01 to 500 W/m/K.
    pub conductivity: f64,
    /// The film of air on the inner face, 0.1 to 1000 W/m²/K.
    pub inner_film: f64,
    /// The film of air on the outer face, 0.1 to 1000 W/m²/K.
    pub outer_film: f64,
}

impl Default for Pane {
    fn default() -> Self {
        Self {
            thickness: USUAL_THICKNESS,
            conductivity: GLASS_CONDUCTIVITY,
            inner_film: STILL_AIR_FILM,
            outer_film: STILL_AIR_FILM,
        }
    }
}

/// Whether a pane sweats inside, and by what margin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sweat {
    /// The temperature of the inner face.
    pub face: Celsius,
    /// The dew point of the air inside.
    pub dew_point: Celsius,
    /// The humidity of the air inside from which on it sweats; 1 where the face is as warm as the air.
    pub limit: Humidity,
    /// Whether it sweats now.
    pub sweats: bool,
    /// What the answer rests on: the films are remembered.
    pub rests: Rests,
}

impl Pane {
    /// The temperature of the inner face: Tg = Ti − (U/h_i)(Ti − To), 1/U = 1/h_i + e/k + 1/h_o, resistances in
    /// series.
    ///
    /// # Errors
    /// [`AirError::Outside`] for a temperature or a property of the pane that cannot be.
    pub fn inner_face(&self, inside: Celsius, outside: Celsius) -> Result<Celsius, AirError> {
        let (inside, outside) = (possible(inside)?.0, possible(outside)?.0);
        let film = Span::new(0.1, 1000.0);
        let inner = AirError::unless(What::Film, self.inner_film, film)?;
        let outer = AirError::unless(What::Film, self.outer_film, film)?;
        let thickness = AirError::unless(What::Thickness, self.thickness.0, Span::new(0.0, 10.0))? / 100.0;
        let conductivity =
            AirError::unless(What::HeatConductivity, self.conductivity, Span::new(0.01, 500.0))?;
        let resistance = 1.0 / inner + thickness / conductivity + 1.0 / outer;
        Ok(Celsius(inside - (inside - outside) / (resistance * inner)))
    }

    /// The relative humidity of the air inside from which on the pane sweats. 1 where the face is no colder than the
    /// air.
    ///
    /// # Errors
    /// As [`Pane::inner_face`].
    pub fn limit(&self, inside: Celsius, outside: Celsius) -> Result<Humidity, AirError> {
        let face = self.inner_face(inside, outside)?;
        Ok(Humidity((saturation(face)? / saturation(inside)?).min(1.0)))
    }

    /// Whether the pane sweats with this air inside and a room of this temperature outside.
    ///
    /// # Errors
    /// As [`Pane::inner_face`]; also for air so dry that its dew point lies below −40 °C.
    pub fn sweat(&self, inside: &Air, outside: Celsius) -> Result<Sweat, AirError> {
        let limit = self.limit(inside.temperature(), outside)?;
        Ok(Sweat {
            face: self.inner_face(inside.temperature(), outside)?,
            dew_point: inside.dew_point()?,
            limit,
            sweats: limit.0 < 1.0 && inside.humidity() > limit,
            rests: Rests::Memory,
        })
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// With equal films the face is near the mean of the two airs; unequal films matter: h_i 6, h_o 8.29 at 27/21 °C
    /// gives 23.59 °C and 81.6 % (computed for the fact sheet).
    #[test]
    fn check_films_matter_when_unequal() {
        let pane = |inner, outer| Pane {
            inner_film: inner,
            outer_film: outer,
            ..Pane::default()
        };
        for (inner, outer, face, limit) in [
            (8.29, 8.29, 24.07, 84.05),
            (7.7, 7.7, 24.07, 84.0),
            (6.0, 8.29, 23.59, 81.6),
        ] {
            let got = pane(inner, outer)
                .inner_face(Celsius(27.0), Celsius(21.0))
                .expect("a face");
            assert!((got.0 - face).abs() < 0.01, "{inner}/{outer}: {got:?}");
            let got = pane(inner, outer)
                .limit(Celsius(27.0), Celsius(21.0))
                .expect("a limit");
            assert!((got.0 * 100.0 - limit).abs() < 0.06, "{inner}/{outer}: {got:?}");
        }
    }

    #[test]
    fn will_this_glass_sweat_in_this_room() {
        let inside = |rh| Air::new(Celsius(27.0), Humidity(rh)).expect("air");
        for (rh, room, sweats) in [
            (0.80, 21.0, false),
            (0.85, 21.0, true),
            (0.80, 18.0, true),
            (0.99, 28.0, false),
        ] {
            let got = Pane::default()
                .sweat(&inside(rh), Celsius(room))
                .expect("an answer");
            assert_eq!(got.sweats, sweats, "{rh} in a room of {room}: {got:?}");
            assert_eq!(got.sweats, got.dew_point > got.face, "{got:?}");
        }
    }

    proptest! {
        #[test]
        fn a_colder_room_sweats_sooner(inside in 0.0..60.0_f64, room in -20.0..60.0_f64, colder in 0.01..10.0_f64) {
            let pane = Pane::default();
            let warm = pane.limit(Celsius(inside), Celsius(room)).unwrap();
            prop_assert!(pane.limit(Celsius(inside), Celsius(room - colder)).unwrap() <= warm);
        }

        #[test]
        fn no_number_breaks_it(values in prop::array::uniform6(any::<f64>())) {
            let [thickness, conductivity, inner_film, outer_film, inside, outside] = values;
            let odd = Pane { thickness: Centimetres(thickness), conductivity, inner_film, outer_film };
            for pane in [odd, Pane::default()] {
                let limit = pane.limit(Celsius(inside), Celsius(outside));
                prop_assert!(limit.map_or(true, |limit| (0.0..=1.0).contains(&limit.0)));
            }
        }
    }
}
