//! How many places fared how.

use std::fmt;

use wrackline_core::rota::Gap;

use super::Outcome;

/// Even enough: what Jain's index is to reach.
pub const EVEN: f64 = 0.95;

/// Whoever owes less than this in eight weeks, in minutes, owes few whole turns.
const LITTLE_MIN: f64 = 60.0;

/// A miss that is nearer to the bound than this is near it.
const NEAR: f64 = 0.02;

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

    /// By how much sharings-out were worse than the best ones, in minutes of the measure, without those that left more turns
    /// with nobody.
    pub fn gaps(&self) -> impl Iterator<Item = f64> {
        let all = self.all.iter().flat_map(|one| &one.gaps);
        all.filter_map(Gap::over)
    }

    /// Places whose bound is at least this.
    pub fn with_bound(&self, least: f64) -> impl Iterator<Item = &Outcome> {
        self.all.iter().filter(move |one| one.bound.most >= least)
    }
}

impl Report {
    /// What misses have in common.
    fn misses(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let all: Vec<&Outcome> = self.all.iter().filter(|one| one.misses()).collect();
        let little = |one: &&&Outcome| one.jain_over(LITTLE_MIN) >= EVEN;
        let near = |one: &&&Outcome| !little(one) && one.bound.most - one.jain < NEAR;
        writeln!(
            f,
            "misses: {}; with what was known a day ahead: {}, of them still within reach after every piece of news: {}; \
             of all, even without those who owed under {LITTLE_MIN} min: {}; of the others, within {NEAR} of the bound: {}",
            all.len(),
            self.all.iter().filter(|one| one.misses_ahead()).count(),
            self.all.iter().filter(|one| one.misses_since()).count(),
            all.iter().filter(little).count(),
            all.iter().filter(near).count()
        )
    }
}

fn spread(f: &mut fmt::Formatter<'_>, what: &str, least: f64, mut all: Vec<f64>) -> fmt::Result {
    all.sort_by(f64::total_cmp);
    let even = all.iter().filter(|jain| **jain >= EVEN).count();
    let at = |place: usize| all.get(place).copied().unwrap_or(1.0);
    writeln!(
        f,
        "{what} {least} or more: {even} of {}, lowest {:.3}, a hundredth {:.3}, median {:.3}",
        all.len(),
        at(0),
        at(all.len() / 100),
        at(all.len() / 2)
    )
}

impl fmt::Display for Report {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let count = |ok: &dyn Fn(&Outcome) -> bool| self.all.iter().filter(|one| ok(one)).count();
        let sum = |of: &dyn Fn(&Outcome) -> usize| self.all.iter().map(of).sum::<usize>();
        writeln!(f, "places: {}", self.all.len())?;
        writeln!(f, "turns: {}", sum(&|one| one.turns))?;
        writeln!(f, "of them changed hands later: {}", sum(&|one| one.moved))?;
        writeln!(f, "broken laws: {}", sum(&|one| one.broken.len()))?;
        let hands: f64 = self.all.iter().map(|one| one.hands).sum();
        let hands = hands / self.all.len() as f64;
        writeln!(f, "hands to a round of an enclosure: {hands:.2}")?;
        writeln!(
            f,
            "Jain's index of {EVEN} or more: {}",
            count(&|one| one.jain >= EVEN)
        )?;
        writeln!(
            f,
            "not to be had, by the bound: {}",
            count(&|one| one.bound.most < EVEN)
        )?;
        for least in [0.95, 0.96, 0.97, 0.98, 0.99] {
            let all = self.with_bound(least).map(|one| one.jain);
            spread(f, "bound", least, all.collect())?;
        }
        let ahead = |one: &&Outcome| one.ahead.1.most >= EVEN;
        let all = self.all.iter().filter(ahead).map(|one| one.ahead.0);
        spread(f, "with what was known a day ahead, bound", EVEN, all.collect())?;
        let last = |one: &&Outcome| one.last.1.most >= EVEN;
        let all = self.all.iter().filter(last).map(|one| one.last.0);
        spread(f, "last four weeks alone, bound", EVEN, all.collect())?;
        self.misses(f)?;
        let open = self.all.iter().map(|one| one.bound.most - one.bound.found);
        writeln!(
            f,
            "bound over what was found: at most {:.4}",
            open.fold(0.0, f64::max)
        )?;
        let gaps: Vec<f64> = self.gaps().collect();
        let worse = gaps.iter().filter(|gap| **gap > 1e-6).count();
        let mean = gaps.iter().sum::<f64>() / gaps.len().max(1) as f64;
        let most = gaps.iter().copied().fold(0.0, f64::max);
        let of = gaps.len();
        let left = sum(&|one| one.gaps.iter().filter(|gap| gap.over().is_none()).count());
        writeln!(
            f,
            "beside the best: {of}, worse in {worse}, by {mean:.4} min on average, {most:.3} at most; \
             with more turns left to nobody than need be: {left}"
        )
    }
}
