//! What was dosed lately: a second dose inside the time that the first one holds is called out with the sum of both.

use crate::quantity::{Hours, Litres, Millilitres};

use super::{Label, Mains, Problem, volume};

/// A dose that was given to an amount of water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Given {
    /// When, in hours on any clock that all of them share.
    pub at: Hours,
    /// How much of the bottle: 0 to 1,000,000 mL.
    pub amount: Millilitres,
    /// To how much water.
    pub water: Litres,
}

/// What was dosed within a time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Total {
    /// How many doses.
    pub doses: usize,
    /// All of them together.
    pub amount: Millilitres,
    /// How often that is the label's dose, each dose counted against the water that it went into.
    pub times_label: f64,
    /// When the last of them leaves the guard time, on the same clock. `None` without a dose.
    pub until: Option<Hours>,
}

/// What was dosed within a time, where the place has no label to compare it with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Doses {
    /// How many doses.
    pub doses: usize,
    /// All of them together.
    pub amount: Millilitres,
    /// When the last of them leaves the guard time, on the same clock. `None` without a dose.
    pub until: Option<Hours>,
}

/// Counts and adds up the doses that are not older than the guard time, as [`total_within`] does, without a label.
///
/// # Errors
///
/// A guard time that is not above 0 and at most 1000 h; a time that cannot be counted with; a dose or a volume out of
/// range.
pub fn doses_within(given: &[Given], now: Hours, guard: Hours) -> Result<Doses, Problem> {
    let now = time(now)?;
    if !(guard.0 > 0.0 && guard.0 <= 1000.0) {
        return Err(Problem::Hold { value: guard.0 });
    }
    let mut all = Doses {
        doses: 0,
        amount: Millilitres(0.0),
        until: None,
    };
    for dose in given {
        if !counts(dose, now, guard)? {
            continue;
        }
        all.doses += 1;
        all.amount = all.amount + dose.amount;
        let until = dose.at.0 + guard.0;
        all.until = Some(Hours(all.until.map_or(until, |last| last.0.max(until))));
    }
    Ok(all)
}

/// A time that can be counted with: hours of ten thousand years, which are still exact enough.
fn time(at: Hours) -> Result<f64, Problem> {
    (at.0.abs() <= 1e8)
        .then_some(at.0)
        .ok_or(Problem::Time { value: at.0 })
}

/// Whether a dose lies within the guard time.
fn counts(dose: &Given, now: f64, guard: Hours) -> Result<bool, Problem> {
    let at = time(dose.at)?;
    volume(dose.water)?;
    if !(0.0..=1e6).contains(&dose.amount.0) {
        return Err(Problem::Dosed { value: dose.amount.0 });
    }
    Ok((0.0..guard.0).contains(&(now - at)))
}

/// Adds up the doses that are not older than the guard time. One as old as that has had its time, and one from the
/// future was not given yet; a dose that is about to be given may be counted in with `now` as its time.
///
/// # Errors
///
/// A label whose figures cannot be true; a guard time that is not above 0 and at most 1000 h; a time that cannot be
/// counted with; a dose or a volume out of range.
pub fn total_within(
    label: &Label,
    mains: Mains,
    given: &[Given],
    now: Hours,
    guard: Hours,
) -> Result<Total, Problem> {
    label.valid()?;
    let all = doses_within(given, now, guard)?;
    let now = time(now)?;
    let mut times_label = 0.0;
    for dose in given {
        if counts(dose, now, guard)? {
            times_label += dose.amount / label.dose_for(dose.water, mains)?.amount;
        }
    }
    Ok(Total {
        doses: all.doses,
        amount: all.amount,
        times_label,
        until: all.until,
    })
}
