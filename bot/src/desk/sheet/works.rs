//! How each kind of work is done: told once where it is the same at several spots, under a number that the days name.

use std::collections::BTreeMap;

use wrackline_core::care::Duty;
use wrackline_core::place::Target;

use crate::desk::Desk;
use crate::desk::how::{Telling, card};
use crate::desk::setup;
use crate::desk::tell::capital;
use crate::msg;

/// One kind of work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Work {
    /// The duty, as people call it.
    pub(super) duty: Duty,
    /// Where it is done in this way.
    pub(super) targets: Vec<Target>,
    /// Its exact quantities.
    pub(super) amounts: Vec<String>,
    /// Its steps.
    pub(super) steps: Vec<String>,
}

/// All kinds of work of a sheet, numbered from 1.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Works {
    /// In the order of their numbers.
    pub(super) all: Vec<Work>,
    numbers: BTreeMap<(Duty, Target), usize>,
}

impl Works {
    /// How some duties are done at their targets.
    pub(super) fn of(desk: &Desk<'_>, kinds: &[(Duty, Target)]) -> Self {
        let mut works = Self::default();
        for (duty, target) in kinds {
            let (amounts, steps) = told(desk, *duty, *target);
            let same = |work: &Work| work.duty == *duty && work.amounts == amounts && work.steps == steps;
            let index = works.all.iter().position(same).unwrap_or_else(|| {
                works.all.push(Work {
                    duty: *duty,
                    targets: Vec::new(),
                    amounts,
                    steps,
                });
                works.all.len() - 1
            });
            works.all[index].targets.push(*target);
            works.numbers.insert((*duty, *target), index + 1);
        }
        works
    }

    /// The number of a duty at a target; 0 where it is none of these.
    pub(super) fn number(&self, duty: Duty, target: Target) -> usize {
        self.numbers.get(&(duty, target)).copied().unwrap_or(0)
    }
}

/// The quantities and the steps of a duty.
fn told(desk: &Desk<'_>, duty: Duty, target: Target) -> (Vec<String>, Vec<String>) {
    let Duty::Own(id) = duty else {
        let card = card(desk, duty, target, Telling::EachTime);
        return (card.today, card.steps);
    };
    let own = desk.place().duties.get(&id).map(|(own, _)| {
        desk.say(&msg!(
            "sheet-own",
            duty = capital(&own.name),
            schedule = setup::schedule(desk, &own.schedule),
            keepers = desk.keepers()
        ))
    });
    // A place tells no steps of its own duties.
    (own.into_iter().collect(), Vec::new())
}
