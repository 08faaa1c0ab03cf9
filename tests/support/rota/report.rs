//! How many places fared how.

use std::fmt;

use super::Outcome;

/// Even enough: what Jain's index is to reach.
pub const EVEN: f64 = 0.95;

/// What many places had in common.
#[derive(Clone, Debug, Default)]
pub struct Report {
    /// All of them.
    pub all: Vec<Outcome>,
}

impl Report {
    /// Whether no law was broken.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.all.iter().all(|one| one.broken.is_empty())
    }

    /// Places whose bound is at least this.
    pub fn with_bound(&self, least: f64) -> impl Iterator<Item = &Outcome> {
        self.all.iter().filter(move |one| one.bound.most >= least)
    }
}

impl fmt::Display for Report {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let count = |ok: &dyn Fn(&Outcome) -> bool| self.all.iter().filter(|one| ok(one)).count();
        writeln!(
            f,
            "places: {}, turns: {}",
            self.all.len(),
            self.all.iter().map(|one| one.turns).sum::<usize>()
        )?;
        writeln!(
            f,
            "broken laws: {}",
            self.all.iter().map(|one| one.broken.len()).sum::<usize>()
        )?;
        writeln!(f, "even: {}", count(&|one| one.jain >= EVEN))?;
        writeln!(
            f,
            "no way to be even by the bound: {}",
            count(&|one| one.bound.most < EVEN)
        )?;
        writeln!(
            f,
            "hands: {:.3}, moved {}",
            self.all.iter().map(|one| one.hands).sum::<f64>() / self.all.len() as f64,
            self.all.iter().map(|one| one.moved).sum::<usize>()
        )?;
        for least in [0.95, 0.96, 0.97, 0.98, 0.99] {
            let of = self.with_bound(least).count();
            let even = self.with_bound(least).filter(|one| one.jain >= EVEN).count();
            writeln!(f, "bound {least}: {even} of {of}")?;
        }
        let gaps: Vec<f64> = self
            .all
            .iter()
            .flat_map(|one| &one.gaps)
            .map(|gap| gap.dealt - gap.best)
            .collect();
        let of = |least: f64| gaps.iter().filter(|gap| **gap > least).count();
        writeln!(
            f,
            "compared with the best: {}, worse in {}, by over 1: {}, mean {:.4}, most {:.3}",
            gaps.len(),
            of(1e-6),
            of(1.0),
            gaps.iter().sum::<f64>() / gaps.len() as f64,
            gaps.iter().copied().fold(0.0, f64::max)
        )?;
        let mut all: Vec<f64> = self.with_bound(0.97).map(|one| one.jain).collect();
        all.sort_by(f64::total_cmp);
        if let (Some(least), Some(middle)) = (all.first(), all.get(all.len() / 2)) {
            writeln!(f, "bound 0.97: least {least:.4}, median {middle:.4}")?;
        }
        Ok(())
    }
}
