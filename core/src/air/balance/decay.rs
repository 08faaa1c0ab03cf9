//! Measuring the exchange: cover the pools and watch the humidity fall towards the room's.

use super::Exchange;
use crate::air::moist::{AirError, What};
use crate::quantity::{Hours, Pascals, Span};

/// An exchange that was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Decay {
    /// The exchange. Damp substrate goes on giving vapour, so with damp substrate the true one is higher.
    pub exchange: Exchange,
    /// Its standard error; none from two readings.
    pub error: Option<f64>,
}

/// The exchange from readings of vapour pressure with all pools covered: ln(p − p_room) falls with the slope −n (least
/// squares).
///
/// # Errors
/// [`AirError::Outside`] for less than two readings, a pressure outside 0 to 100,000 Pa or a time outside ±100,000 h;
/// [`AirError::OutOfOrder`] for readings that do not go on in time; [`AirError::NoDecay`] if a reading is not 1 Pa above
/// the room's, or if they do not fall.
pub fn exchange_from_decay(readings: &[(Hours, Pascals)], room: Pascals) -> Result<Decay, AirError> {
    let pressures = Span::new(0.0, 1e5);
    let room = AirError::unless(What::VapourPressure, room.0, pressures)?;
    AirError::unless(What::Count, readings.len() as f64, Span::new(2.0, 1e6))?;
    let mut points = Vec::with_capacity(readings.len());
    for (hour, vapour) in readings {
        let hour = AirError::unless(What::Time, hour.0, Span::new(-1e5, 1e5))?;
        let above = AirError::unless(What::VapourPressure, vapour.0, pressures)? - room;
        if above < 1.0 {
            return Err(AirError::NoDecay);
        }
        points.push((hour, above.ln()));
    }
    if let Some(pair) = points.windows(2).find(|pair| pair[1].0 - pair[0].0 < 1e-3) {
        return Err(AirError::OutOfOrder(pair[0].0, pair[1].0));
    }
    let count = points.len() as f64;
    let (hours, logs) = points
        .iter()
        .fold((0.0, 0.0), |sum, point| (sum.0 + point.0, sum.1 + point.1));
    let (hours, logs) = (hours / count, logs / count);
    let (mut square, mut product) = (0.0, 0.0);
    for (hour, log) in &points {
        square += (hour - hours).powi(2);
        product += (hour - hours) * (log - logs);
    }
    let slope = product / square;
    if slope >= 0.0 {
        return Err(AirError::NoDecay);
    }
    let misses: f64 = points
        .iter()
        .map(|(hour, log)| (log - logs - slope * (hour - hours)).powi(2))
        .sum();
    Ok(Decay {
        exchange: Exchange(-slope),
        error: (points.len() > 2).then(|| (misses / (count - 2.0) / square).sqrt()),
    })
}
