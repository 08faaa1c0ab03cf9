//! The order of work at the bucket: common practice, no published source.

use crate::rests::Rests;

/// A step. What is said of it stands elsewhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Step {
    /// Fill in source water, warmed or left to stand.
    Fill,
    /// Conditioner in, before any salt.
    Condition,
    /// Stir and let it act.
    Act,
    /// Salt in portions, into the water and never the other way round, while it is stirred.
    Salt,
    /// Measure, once all of it is dissolved and the water is clear.
    Measure,
    /// Let it stand with air.
    Aerate,
    /// Bring it to the pool's temperature.
    Match,
    /// Change the pool's water.
    Change,
}

/// The steps in order, and what their order rests on: without the salt's where the water stays fresh, without the
/// conditioner's where it needs none.
#[must_use]
pub fn steps(salted: bool, conditioned: bool) -> (Vec<Step>, Rests) {
    let all = [
        (Step::Fill, true),
        (Step::Condition, conditioned),
        (Step::Act, conditioned),
        (Step::Salt, salted),
        (Step::Measure, salted),
        (Step::Aerate, true),
        (Step::Match, true),
        (Step::Change, true),
    ];
    let wanted = all.into_iter().filter(|(_, wanted)| *wanted);
    (wanted.map(|(step, _)| step).collect(), Rests::Practice)
}
