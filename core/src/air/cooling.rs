//! How long an enclosure stays warm when its heat fails.
//!
//! One lump: the water of the pools and the damp substrate give their heat through the panes to the room. Newton's law of
//! cooling: T(t) = room + (T₀ − room)·e^(−t/τ), τ = C/(U·A). What is not known of an enclosure is taken wide, so that the
//! answer is a range; the order of enclosures is surer than the hours. Not checked against a measured enclosure.

use super::moist::{AirError, What};
use crate::quantity::{Celsius, Hours, Litres, Span};
use crate::rests::Rests;

/// Room air where nobody measured it: common practice, no published source.
pub const ROOM_DEFAULT: Celsius = Celsius(20.0);

/// Heat in water, in kJ for a litre and a kelvin: 4.18 (from memory; 4.179 at 25 °C).
const WATER: f64 = 4.18;

/// Heat in damp sand and coir, in kJ for a litre and a kelvin (from memory).
const SUBSTRATE: f64 = 2.0;

/// The share of the gross volume that is substrate: common practice, no published source.
const SHARES: [f64; 3] = [0.15, 0.3, 0.4];

/// Heat through a single pane between still airs, in W for a m² and a kelvin. With 0.13 m²K/W on either side (the
/// inside value of the ISO method, from memory) it is 3.8; a draught makes it more, a background or a corner less.
const PANES: [f64; 3] = [6.0, 4.0, 3.0];

/// Panes of a box twice as long as wide and high, in m² for a volume of 1 m³: 10·(V/2)^(2/3), by geometry.
const AREA: f64 = 10.0;

/// How long until an enclosure is as cold as asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cooling {
    /// With little substrate and much draught.
    pub low: Hours,
    /// As it mostly is.
    pub likely: Hours,
    /// With much substrate and little draught.
    pub high: Hours,
    /// What it rests on.
    pub rests: Rests,
}

/// How long an enclosure of a gross volume with so much pool water takes from one temperature to another in a room;
/// `None` where the room is not colder than that, so that it never gets there. Nothing where it is as cold already.
///
/// # Errors
/// [`AirError::Outside`] for a temperature outside −20 to 60 °C, a volume outside 0.1 to 100,000 L, or more pool water than
/// the volume.
pub fn cooling(
    gross: Litres,
    pools: Litres,
    (from, to): (Celsius, Celsius),
    room: Celsius,
) -> Result<Option<Cooling>, AirError> {
    for celsius in [from, to, room] {
        AirError::unless(What::Temperature, celsius.0, Span::new(-20.0, 60.0))?;
    }
    let gross = AirError::unless(What::Volume, gross.0, Span::new(0.1, 1e5))?;
    let pools = AirError::unless(What::Volume, pools.0, Span::new(0.0, gross))?;
    let area = AREA * (gross / 1000.0 / 2.0).powf(2.0 / 3.0);
    let constants = if from.0 <= to.0 {
        0.0
    } else if room.0 >= to.0 {
        return Ok(None);
    } else {
        ((from.0 - room.0) / (to.0 - room.0)).ln()
    };
    let hours = |at: usize| {
        let heat = pools * WATER + (gross * SHARES[at]).min(gross - pools) * SUBSTRATE;
        Hours(constants * heat * 1000.0 / (PANES[at] * area) / 3600.0)
    };
    Ok(Some(Cooling {
        low: hours(0),
        likely: hours(1),
        high: hours(2),
        rests: Rests::Practice,
    }))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn of(gross: f64, pools: f64, from: f64, room: f64) -> Option<Cooling> {
        let span = (Celsius(from), Celsius(24.0));
        cooling(Litres(gross), Litres(pools), span, Celsius(room)).expect("a range")
    }

    /// By hand: 200 L hold 60 L of substrate and 16 L of water, 186.88 kJ/K; 10 · 0.1^(2/3) = 2.1544 m² lose 8.6177 W/K;
    /// τ = 21,685.6 s = 6.0238 h; ln(7/4) = 0.559 616.
    #[test]
    fn check_a_box_by_hand() {
        let found = of(200.0, 16.0, 27.0, 20.0).expect("it cools");
        assert!((found.likely.0 - 3.371).abs() < 2e-3, "{found:?}");
        assert!(found.low < found.likely && found.likely < found.high);
    }

    #[test]
    fn a_warm_room_keeps_it_warm() {
        assert_eq!(of(200.0, 16.0, 27.0, 24.0), None);
        assert_eq!(of(200.0, 16.0, 23.0, 20.0).map(|one| one.high), Some(Hours(0.0)));
    }

    #[test]
    fn what_cannot_be_is_refused() {
        let span = (Celsius(27.0), Celsius(24.0));
        assert!(cooling(Litres(10.0), Litres(16.0), span, Celsius(20.0)).is_err());
        assert!(cooling(Litres(f64::NAN), Litres(1.0), span, Celsius(20.0)).is_err());
        assert!(cooling(Litres(10.0), Litres(1.0), span, Celsius(90.0)).is_err());
    }

    proptest! {
        #[test]
        fn a_larger_box_cools_later(gross in 20.0..2000.0_f64, more in 1.01..5.0_f64, room in 0.0..23.0_f64) {
            let (small, large) = (of(gross, 0.0, 27.0, room).unwrap(), of(gross * more, 0.0, 27.0, room).unwrap());
            prop_assert!(small.likely < large.likely && small.low < large.low && small.high < large.high);
            let colder = of(gross, 0.0, 27.0, room - 1.0).unwrap();
            prop_assert!(colder.likely < small.likely);
        }
    }
}
