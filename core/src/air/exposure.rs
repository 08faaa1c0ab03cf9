//! How long and how far readings lay above a limit.

use super::moist::{AirError, What};
use crate::quantity::{Hours, Span};

/// Gaps of more than so many sensor intervals are not bridged. Common practice, no published source.
pub const GAP_INTERVALS: f64 = 3.0;

/// What readings came to above a limit.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Exposure {
    /// The hours above it.
    pub above: Hours,
    /// Per cent above it times hours.
    pub percent_hours: f64,
    /// The hours of which something is known.
    pub known: Hours,
    /// The hours in gaps, of which nothing is known.
    pub unknown: Hours,
}

/// Hours above a limit, and percent times hours above it, of readings (hour, %) in order of time. Between two readings
/// the humidity is taken to run straight, and where it crosses the limit the time is cut. Across a gap longer than
/// [`GAP_INTERVALS`] times the sensor's interval nothing is assumed.
///
/// # Errors
/// [`AirError::Outside`] for a reading or a limit outside 0 to 110 %, an hour outside ±10 million or an interval outside
/// 0 to 10,000 hours; [`AirError::OutOfOrder`] for readings that go back in time.
pub fn exposure(readings: &[(Hours, f64)], limit: f64, interval: Hours) -> Result<Exposure, AirError> {
    let percents = Span::new(0.0, 110.0);
    let limit = AirError::unless(What::Reading, limit, percents)?;
    let gap = GAP_INTERVALS * AirError::unless(What::Time, interval.0, Span::new(0.0, 1e4))?;
    for (hour, percent) in readings {
        AirError::unless(What::Time, hour.0, Span::new(-1e7, 1e7))?;
        AirError::unless(What::Reading, *percent, percents)?;
    }
    let mut sum = Exposure::default();
    for pair in readings.windows(2) {
        let ((start, from), (end, to)) = (pair[0], pair[1]);
        let hours = (end - start).0;
        if hours < 0.0 {
            return Err(AirError::OutOfOrder(start.0, end.0));
        }
        if hours > gap {
            sum.unknown = sum.unknown + Hours(hours);
            continue;
        }
        sum.known = sum.known + Hours(hours);
        let (low, high) = ((from - limit).min(to - limit), (from - limit).max(to - limit));
        // The share of the time above the limit, and the mean height there.
        let (share, mean) = if low >= 0.0 {
            (if high > 0.0 { 1.0 } else { 0.0 }, f64::midpoint(low, high))
        } else if high <= 0.0 {
            (0.0, 0.0)
        } else {
            (high / (high - low), high / 2.0)
        };
        sum.above = sum.above + Hours(hours * share);
        sum.percent_hours += hours * share * mean;
    }
    Ok(sum)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn of(points: &[(f64, f64)], interval: f64) -> Result<Exposure, AirError> {
        let points: Vec<_> = points
            .iter()
            .map(|(hour, percent)| (Hours(*hour), *percent))
            .collect();
        exposure(&points, 85.0, Hours(interval))
    }

    #[test]
    fn a_gap_is_not_bridged() {
        let points = [(0.0, 90.0), (1.0, 90.0), (5.0, 90.0), (6.0, 90.0)];
        let got = of(&points, 1.0).expect("a sum");
        assert_eq!(
            (got.above, got.percent_hours, got.unknown),
            (Hours(2.0), 10.0, Hours(4.0))
        );
        let got = of(&points, 2.0).expect("a sum");
        assert_eq!(
            (got.above, got.percent_hours, got.unknown),
            (Hours(6.0), 30.0, Hours(0.0))
        );
    }

    #[test]
    fn three_intervals_are_still_bridged() {
        let got = of(&[(0.0, 90.0), (3.0, 90.0)], 1.0).expect("a sum");
        assert_eq!((got.above, got.unknown), (Hours(3.0), Hours(0.0)));
    }

    #[test]
    fn readings_in_disorder_are_refused() {
        assert_eq!(
            of(&[(2.0, 80.0), (1.0, 90.0)], 6.0),
            Err(AirError::OutOfOrder(2.0, 1.0))
        );
        assert!(of(&[(0.0, 120.0)], 6.0).is_err());
        assert_eq!(of(&[(0.0, 90.0)], 6.0), Ok(Exposure::default()));
    }

    proptest! {
        #[test]
        fn more_humid_is_never_less(
            points in prop::collection::vec((0.0..9.0_f64, 60.0..99.0_f64), 0..20),
            more in 0.0..1.0_f64,
        ) {
            let mut hour = 0.0;
            let mut low = Vec::new();
            for (step, percent) in points {
                hour += step;
                low.push((hour, percent));
            }
            let high: Vec<_> = low.iter().map(|(hour, percent)| (*hour, percent + more)).collect();
            let (low, high) = (of(&low, 2.0).unwrap(), of(&high, 2.0).unwrap());
            prop_assert!(high.above.0 >= low.above.0 - 1e-9 && high.percent_hours >= low.percent_hours - 1e-9);
            prop_assert!(low.above.0 <= low.known.0 + 1e-9);
        }

        #[test]
        fn no_number_breaks_it(
            points in prop::collection::vec((any::<f64>(), any::<f64>()), 0..4),
            limit in any::<f64>(),
            interval in any::<f64>(),
        ) {
            let points: Vec<_> = points.into_iter().map(|(hour, percent)| (Hours(hour), percent)).collect();
            let sum = exposure(&points, limit, Hours(interval));
            prop_assert!(sum.map_or(true, |sum| sum.above.0.is_finite() && sum.percent_hours.is_finite()));
        }
    }
}
