//! Where a pool settles when something is made in it every day and part of its water is changed at an interval.
//!
//! Between two changes dC/dt = p − rC: p is made a day, and a share r of what is there is taken up (plants, a filter).
//! At a change the value goes a fraction f of the way to the source. Both conserve the substance; the rest follows.

use crate::quantity::{Days, MilligramsPerLitre};

use super::{Problem, concentration, part};

/// What is made and taken up between changes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Made {
    /// How much is made a day, as mg/L of the pool's water: 0 to 1,000,000.
    pub per_day: MilligramsPerLitre,
    /// The share of what is there that is taken up, per day: 0 to 100. Without anything that takes it up, 0.
    pub removal: f64,
}

/// A pool that is kept by equal changes at a fixed interval.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Keeping {
    source: f64,
    fraction: f64,
    every: f64,
    made: Made,
}

/// Where it settles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Steady {
    /// Just before a change.
    pub peak: MilligramsPerLitre,
    /// Just after it.
    pub trough: MilligramsPerLitre,
}

/// What happens on the way there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Transient {
    /// Just before the first change, one interval from now.
    pub first_peak: MilligramsPerLitre,
    /// The highest value from now on, whenever it is reached.
    pub highest: MilligramsPerLitre,
    /// Whether a limit is passed on the way or at the end.
    pub over: bool,
}

/// The longest interval that keeps a steady pool at or under a limit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Longest {
    /// The limit is never reached, however long one waits.
    Any,
    /// So many days.
    Days {
        /// The interval itself.
        exact: Days,
        /// Whole days of it; 0 if not even every day is often enough.
        whole: u32,
    },
}

pub(super) fn interval(days: Days) -> Result<f64, Problem> {
    if (0.01..=3650.0).contains(&days.0) {
        Ok(days.0)
    } else {
        Err(Problem::Interval { days: days.0 })
    }
}

impl Made {
    fn valid(self) -> Result<Self, Problem> {
        if !(0.0..=1e6).contains(&self.per_day.0) {
            return Err(Problem::Made {
                value: self.per_day.0,
            });
        }
        if !(0.0..=100.0).contains(&self.removal) {
            return Err(Problem::Removed { value: self.removal });
        }
        Ok(self)
    }

    /// What is left of the old, and what is new, after some days.
    fn days(self, days: f64) -> (f64, f64) {
        let decay = self.removal * days;
        // (1 − e^(−x))/x, which is 1 where nothing is taken up.
        let mean = if decay > 0.0 {
            -(-decay).exp_m1() / decay
        } else {
            1.0
        };
        ((-decay).exp(), self.per_day.0 * days * mean)
    }

    /// Where a pool that is never changed ends: p/r. `None` where nothing is taken up and it grows for ever.
    fn end(self) -> Option<f64> {
        let end = self.per_day.0 / self.removal;
        (self.removal > 0.0 && end.is_finite()).then_some(end)
    }
}

impl Keeping {
    /// A pool that is kept by changes of a fraction at an interval, with water from a source.
    ///
    /// # Errors
    ///
    /// A concentration outside 0 to 1,000,000 mg/L, a fraction outside 0.001 to 1, an interval outside 0.01 to 3650
    /// days, a production or a removal outside the range of [`Made`].
    pub fn new(source: MilligramsPerLitre, fraction: f64, every: Days, made: Made) -> Result<Self, Problem> {
        Ok(Self {
            source: concentration(source)?,
            fraction: part(fraction)?,
            every: interval(every)?,
            made: made.valid()?,
        })
    }

    fn change(&self, value: f64) -> f64 {
        (1.0 - self.fraction) * value + self.fraction * self.source
    }

    fn wait(&self, value: f64) -> f64 {
        let (kept, new) = self.made.days(self.every);
        value * kept + new
    }

    /// Where the pool settles. Without removal the peak is s + pk/f and the trough s + pk(1 − f)/f; with it the trough
    /// is [(1 − f)(p/r)(1 − e^(−rk)) + fs]/[1 − (1 − f)e^(−rk)].
    #[must_use]
    pub fn steady(&self) -> Steady {
        let (kept, new) = self.made.days(self.every);
        let stays = 1.0 - self.fraction;
        let trough = (stays * new + self.fraction * self.source) / (1.0 - stays * kept);
        Steady {
            peak: MilligramsPerLitre(self.wait(trough)),
            trough: MilligramsPerLitre(trough),
        }
    }

    /// The values just before the first `n` changes, the first of them one interval after the start.
    ///
    /// # Errors
    ///
    /// A start outside 0 to 1,000,000 mg/L; no change at all, or more than [`super::CHANGES_MAX`].
    pub fn peaks(&self, start: MilligramsPerLitre, n: u32) -> Result<Vec<MilligramsPerLitre>, Problem> {
        let first = self.wait(concentration(start)?);
        let peaks = std::iter::successors(Some(first), |peak| Some(self.wait(self.change(*peak))));
        Ok(peaks
            .take(super::count(n)? as usize)
            .map(MilligramsPerLitre)
            .collect())
    }

    /// Whether the way from a start to the steady state passes a limit. The peaks go from the first to the steady one
    /// without turning, so the higher of the two counts; a start or a trough above both counts as well.
    ///
    /// # Errors
    ///
    /// A start or a limit outside 0 to 1,000,000 mg/L.
    pub fn transient(
        &self,
        start: MilligramsPerLitre,
        limit: MilligramsPerLitre,
    ) -> Result<Transient, Problem> {
        let (start, limit) = (concentration(start)?, concentration(limit)?);
        let first = self.wait(start);
        let steady = self.steady();
        let ends = [start, first, self.change(first), steady.peak.0, steady.trough.0];
        let highest = ends.into_iter().fold(0.0, f64::max);
        Ok(Transient {
            first_peak: MilligramsPerLitre(first),
            highest: MilligramsPerLitre(highest),
            over: highest > limit * (1.0 + super::SAME),
        })
    }
}

/// The longest interval between changes of a fraction that keeps the steady peak at or under a limit; without removal
/// (L − s)f/p. The way there is another question: [`Keeping::transient`] and [`days_until`] answer it.
///
/// # Errors
///
/// What [`Keeping::new`] refuses, a limit outside 0 to 1,000,000 mg/L, and a source at or above the limit.
pub fn longest_interval(
    limit: MilligramsPerLitre,
    source: MilligramsPerLitre,
    fraction: f64,
    made: Made,
) -> Result<Longest, Problem> {
    let (limit, source_mg_l) = (concentration(limit)?, concentration(source)?);
    let (fraction, made) = (part(fraction)?, made.valid()?);
    if source_mg_l >= limit {
        return Err(Problem::SourceAbove {
            source_mg_l,
            target: limit,
        });
    }
    if made.per_day.0 <= 0.0 || made.end().is_some_and(|end| end <= limit) {
        return Ok(Longest::Any);
    }
    // With y = e^(−rk) and e = p/r, peak = L gives 1 − y = (L − s)f/[f(e − s) + (1 − f)(e − L)]; the distance e − L is
    // positive here. Without removal it becomes (L − s)f/p.
    let room = (limit - source_mg_l) * fraction;
    let exact = match made.end() {
        Some(end) => {
            let gone = room / (fraction * (end - source_mg_l) + (1.0 - fraction) * (end - limit));
            -(-gone).ln_1p() / made.removal
        }
        None => room / made.per_day.0,
    };
    if exact > 3650.0 {
        return Ok(Longest::Any);
    }
    let whole = (exact * (1.0 + super::SAME)).floor() as u32;
    Ok(Longest::Days {
        exact: Days(exact),
        whole,
    })
}

/// How long until a limit is reached from a start without any change: (L − C₀)/p without removal. 0 if it is passed
/// already; `None` if it never is, or not within ten years.
///
/// # Errors
///
/// A concentration outside 0 to 1,000,000 mg/L, a production or a removal outside the range of [`Made`].
pub fn days_until(
    start: MilligramsPerLitre,
    limit: MilligramsPerLitre,
    made: Made,
) -> Result<Option<Days>, Problem> {
    let (start, limit, made) = (concentration(start)?, concentration(limit)?, made.valid()?);
    if start >= limit {
        return Ok(Some(Days(0.0)));
    }
    if made.per_day.0 <= 0.0 || made.end().is_some_and(|end| end <= limit) {
        return Ok(None);
    }
    let days = match made.end() {
        // 1 − e^(−rt) = (L − C₀)/(e − C₀).
        Some(end) => -(-(limit - start) / (end - start)).ln_1p() / made.removal,
        None => (limit - start) / made.per_day.0,
    };
    Ok((days <= 3650.0).then_some(Days(days)))
}
