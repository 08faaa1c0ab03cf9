//! How far a filter has come.
//!
//! A new filter holds no bacteria that turn ammonia to nitrite and nitrite to nitrate. They come by themselves where ammonia
//! is: ammonia rises, then nitrite while ammonia falls, then nitrate while nitrite falls. Three zeros of a water that got
//! no ammonia prove nothing.
//!
//! In reading order: this file is what is asked, `answer` what is answered; `tidy` and `run` go through what happened,
//! `stage` and `left` judge it.
//!
//! The rule of proof is common practice, no published source: two tests at least 24 hours apart after a known ammonia
//! input, in both ammonia and nitrite 0 within what the kit can tell, nitrate above that of the water put in.

mod answer;
mod left;
mod run;
mod stage;
mod tidy;

#[cfg(test)]
mod properties;
#[cfg(test)]
mod tests;

use jiff::Timestamp;

use crate::quantity::{Basis, Celsius, Days, Hours, MilligramsPerLitre, Span};

pub use self::answer::{Lapse, Left, Missing, Note, Reason, Stage, State};
pub use self::stage::judge;

/// Concentrations in mg/L that a test can show.
const READINGS: Span = Span::new(0.0, 10_000.0);
/// Steps of a kit in mg/L.
const STEPS: Span = Span::new(0.001, 1000.0);
/// Temperatures in °C at which the wait can be told.
const TEMPERATURES: Span = Span::new(5.0, 40.0);

/// What one test of one compound showed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shown {
    /// What it showed, 0 to 10,000 mg/L.
    pub value: MilligramsPerLitre,
    /// Whether as the ion or as nitrogen.
    pub basis: Basis,
    /// The least that the kit can tell from 0, 0.001 to 1000 mg/L, counted as the value is. What is less counts as 0.
    pub step: MilligramsPerLitre,
}

/// A test of a pool's water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Test {
    /// When the water was taken.
    pub at: Timestamp,
    /// Total ammonia, where it was tested. A conditioner that binds ammonia can disturb this.
    pub ammonia: Option<Shown>,
    /// Nitrite, where it was tested.
    pub nitrite: Option<Shown>,
    /// Nitrate, where it was tested.
    pub nitrate: Option<Shown>,
}

/// Ammonia that is known to have gone in: a dose, food, or what the crabs of a pool in use leave.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fed {
    /// When.
    pub at: Timestamp,
    /// By how many mg/L it raised ammonia, above 0 and up to 10,000, on which basis; `None` if nobody knows.
    pub dose: Option<(MilligramsPerLitre, Basis)>,
}

/// A time in which the filter stood still.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stop {
    /// From when.
    pub from: Timestamp,
    /// Until when; `None` if it still stands.
    pub to: Option<Timestamp>,
}

/// What holds for every filter of a place. All of it is common practice, no published source, and a place can set it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rules {
    /// The two tests of a proof lie at least so far apart.
    pub apart: Hours,
    /// A filter that stood for longer is rinsed before it runs.
    pub rinse: Hours,
    /// A filter that stood for longer must prove itself again.
    pub stood: Hours,
    /// A filter that got no ammonia for longer must prove itself again: the bacteria starve.
    pub quiet: Days,
}

impl Default for Rules {
    fn default() -> Self {
        Self {
            apart: Hours(24.0),
            rinse: Hours(4.0),
            stood: Hours(24.0),
            quiet: Days(14.0),
        }
    }
}

/// All that is known of a filter. The lists may be in any order.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct History<'a> {
    /// When the filter first ran.
    pub started: Timestamp,
    /// The tests of its pool's water.
    pub tests: &'a [Test],
    /// The ammonia that is known to have gone in.
    pub fed: &'a [Fed],
    /// When it stood still.
    pub stops: &'a [Stop],
    /// Nitrate of the water that is put in. Without it, the last nitrate test before the first ammonia stands for it.
    pub source: Option<Shown>,
    /// When a keeper gave their word that its cycle is proven, as for a filter that comes from elsewhere.
    pub word: Option<Timestamp>,
    /// How warm its water is, 5 to 40 °C.
    pub temperature: Option<Celsius>,
    /// What holds for the place.
    pub rules: Rules,
}

/// What is impossible about a filter's history.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Problem {
    /// A reading that no kit shows.
    #[error("a reading of {value} mg/L: it must be 0 to 10000")]
    Reading {
        /// What was given, in mg/L.
        value: f64,
    },
    /// A step that no kit has.
    #[error("a kit that tells {value} mg/L from 0: it must be 0.001 to 1000")]
    Step {
        /// What was given, in mg/L.
        value: f64,
    },
    /// A dose that is none.
    #[error("a dose of {value} mg/L: it must be more than 0 and at most 10000")]
    Dose {
        /// What was given, in mg/L.
        value: f64,
    },
    /// A stop that ends before it begins.
    #[error("a stop from {from} that ends at {to}: it must end later")]
    Stop {
        /// When it begins.
        from: Timestamp,
        /// When it ends.
        to: Timestamp,
    },
    /// A temperature at which nothing can be said.
    #[error("a temperature of {value} °C: it must be 5 to 40")]
    Temperature {
        /// What was given, in °C.
        value: f64,
    },
    /// A rule of time that is none.
    #[error("a rule of {value} hours: it must be more than 0 and at most 100000")]
    Rule {
        /// What was given, in hours.
        value: f64,
    },
    /// A filter that has not run yet.
    #[error("a filter that first runs at {started}, asked of at {now}")]
    Future {
        /// When it first runs.
        started: Timestamp,
        /// When it was asked.
        now: Timestamp,
    },
}

impl Shown {
    /// Whether it is 0 within what the kit can tell. A kit whose first step is 0.25 mg/L and that shows 0.25 does not
    /// show 0.
    #[must_use]
    pub fn is_zero(&self) -> bool {
        self.value.0 < self.step.0
    }

    /// Whether kit and value can be.
    fn check(&self) -> Result<(), Problem> {
        if !READINGS.has(self.value.0) {
            return Err(Problem::Reading { value: self.value.0 });
        }
        if !STEPS.has(self.step.0) {
            return Err(Problem::Step { value: self.step.0 });
        }
        Ok(())
    }
}

impl History<'_> {
    /// Whether all its numbers can be.
    fn check(&self, now: Timestamp) -> Result<(), Problem> {
        if now < self.started {
            let started = self.started;
            return Err(Problem::Future { started, now });
        }
        for test in self.tests {
            for shown in [test.ammonia, test.nitrite, test.nitrate].into_iter().flatten() {
                shown.check()?;
            }
        }
        if let Some(source) = &self.source {
            source.check()?;
        }
        for (dose, _) in self.fed.iter().filter_map(|fed| fed.dose) {
            if !(dose.0 > 0.0 && READINGS.has(dose.0)) {
                return Err(Problem::Dose { value: dose.0 });
            }
        }
        for stop in self.stops {
            if let Some(to) = stop.to.filter(|to| *to < stop.from) {
                return Err(Problem::Stop { from: stop.from, to });
            }
        }
        if let Some(at) = self.temperature.filter(|at| !TEMPERATURES.has(at.0)) {
            return Err(Problem::Temperature { value: at.0 });
        }
        let rules = &self.rules;
        for hours in [rules.apart.0, rules.rinse.0, rules.stood.0, rules.quiet.0 * 24.0] {
            if !(hours > 0.0 && hours <= 100_000.0) {
                return Err(Problem::Rule { value: hours });
            }
        }
        Ok(())
    }
}

/// Hours from one time to another.
fn hours(from: Timestamp, to: Timestamp) -> f64 {
    to.duration_since(from).as_secs_f64() / 3600.0
}
