//! The evenest assignment, and that none is evener.
//!
//! Loads `x`, each divided by what was owed, are the evener the greater Jain's index is, `(Σx)² / (n Σx²)`. Every assignment
//! is a mix of such as are cheapest for some price of everyone's minutes. The mix is made evener by putting the assignment
//! that is cheapest where a minute costs what it makes the index worse in place of the dearest of the mix (pairwise steps:
//! Frank & Wolfe 1956, "An Algorithm for Quadratic Programming"; Lacoste-Julien & Jaggi 2015, "On the Global Linear
//! Convergence of Frank-Wolfe Optimization Variants"). The index is at most `θ` where `Σx ≤ √(θn)·‖x‖`. For any vector `u` of
//! length one `‖x‖ ≥ u·x`, so that `θ` is certified once the least of `Σ(√(θn)·uᵢ − 1)·xᵢ` over all assignments is no less
//! than zero.

use super::Lots;

/// How many cheapest assignments are asked for at most, and how many steps are taken among those of the mix for each.
const ROUNDS: usize = 100;
const STEPS: usize = 100;

/// Two assignments whose costs are nearer than this are as even.
const NEAR: f64 = 1e-5;

/// Loads beside what was owed, by person.
type Loads = Vec<f64>;

/// Assignments with the part that each has.
type Mix = Vec<(f64, Loads)>;

pub(super) fn index(x: &[f64]) -> f64 {
    crate::rota::jain(x.iter().map(|x| (*x, 1.0)))
}

fn mixed(mix: &Mix) -> Loads {
    let mut all = vec![0.0; mix[0].1.len()];
    for (part, x) in mix {
        for (sum, x) in all.iter_mut().zip(x) {
            *sum += part * x;
        }
    }
    all
}

impl Lots {
    /// The loads of the evenest assignment, as nearly as so many steps come to it.
    pub(super) fn evenest(&self) -> Loads {
        let mut mix = vec![(1.0, self.cheapest(&vec![0.0; self.owed.len()]))];
        for _ in 0..ROUNDS {
            let x = mixed(&mix);
            let costs = self.costs(&x, index(&x));
            let to = self.cheapest(&costs);
            if self.cost(&costs, &to) > self.cost(&costs, &x) - NEAR {
                break;
            }
            self.step(&mut mix, Some(to));
            for _ in 0..STEPS {
                if !self.step(&mut mix, None) {
                    break;
                }
            }
        }
        mixed(&mix)
    }

    fn x(&self, loads: &[f64]) -> Loads {
        let each = loads.iter().zip(&self.owed);
        each.map(|(load, owed)| load / owed).collect()
    }

    /// The assignment that is cheapest where a minute of each costs so much, as loads beside what is owed.
    fn cheapest(&self, costs: &[f64]) -> Loads {
        let mut order: Vec<usize> = (0..costs.len()).collect();
        order.sort_by(|a, b| costs[*a].total_cmp(&costs[*b]));
        let mut rank = vec![0; order.len()];
        for (place, who) in order.into_iter().enumerate() {
            rank[who] = place;
        }
        let mut loads = vec![0.0; costs.len()];
        for day in &self.days {
            day.give(&rank, &mut loads);
        }
        self.x(&loads)
    }

    /// Where the index of loads `x` would be `theta`, what a minute of each makes it worse by.
    fn costs(&self, x: &[f64], theta: f64) -> Vec<f64> {
        let length = x.iter().map(|x| x * x).sum::<f64>().sqrt();
        let root = (theta * x.len() as f64).sqrt();
        let cost = |(x, owed): (&f64, &f64)| (root * x / length - 1.0) / owed;
        x.iter().zip(&self.owed).map(cost).collect()
    }

    /// Puts a new assignment, or the cheapest one of the mix, in place of the dearest one, as far as that makes loads evener;
    /// whether it did.
    fn step(&self, mix: &mut Mix, new: Option<Loads>) -> bool {
        let x = mixed(mix);
        let costs = self.costs(&x, index(&x));
        let cost = |x: &[f64]| self.cost(&costs, x);
        let cheapest = mix.iter().min_by(|a, b| cost(&a.1).total_cmp(&cost(&b.1)));
        let to = new.unwrap_or_else(|| cheapest.expect("one").1.clone());
        let dearest = mix
            .iter()
            .enumerate()
            .max_by(|a, b| cost(&a.1.1).total_cmp(&cost(&b.1.1)));
        let Some((from, (weight, away))) = dearest.filter(|_| cost(&to) < cost(&x) - NEAR) else {
            return false;
        };
        let towards: Loads = to.iter().zip(away).map(|(to, away)| to - away).collect();
        let part = self.how_far(&x, &towards, *weight);
        mix[from].0 -= part;
        match mix.iter_mut().find(|(_, x)| *x == to) {
            Some((weight, _)) => *weight += part,
            None => mix.push((part, to)),
        }
        mix.retain(|(weight, _)| *weight > 0.0);
        true
    }

    /// How far loads are to go in a direction to be evenest, to so much of it at most.
    fn how_far(&self, x: &[f64], towards: &[f64], most: f64) -> f64 {
        let goes_on = |part: f64| {
            let at: Loads = x.iter().zip(towards).map(|(x, to)| x + part * to).collect();
            self.cost(&self.costs(&at, index(&at)), towards) < 0.0
        };
        if goes_on(most) {
            return most;
        }
        border(0.0, most, goes_on).0
    }

    fn cost(&self, costs: &[f64], x: &[f64]) -> f64 {
        let each = x.iter().zip(costs).zip(&self.owed);
        each.map(|((x, cost), owed)| x * cost * owed).sum()
    }

    /// The least index that is certified not to be exceeded, by the direction of these loads.
    pub(super) fn certified(&self, x: &[f64], found: f64) -> f64 {
        border(found.min(1.0), 1.0, |theta| {
            let costs = self.costs(x, theta);
            self.cost(&costs, &self.cheapest(&costs)) < 0.0
        })
        .1
    }
}

/// Between which two numbers, as near as rounding has it, something that is so at the lower one ends to be so.
fn border(mut low: f64, mut high: f64, is_so: impl Fn(f64) -> bool) -> (f64, f64) {
    for _ in 0..50 {
        let middle = f64::midpoint(low, high);
        if is_so(middle) {
            low = middle
        } else {
            high = middle
        }
    }
    (low, high)
}
