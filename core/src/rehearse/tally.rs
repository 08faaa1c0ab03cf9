//! Minutes and water of the turns that were done.

use std::iter::Sum;

use jiff::Timestamp;

use super::Plan;
use super::moments::renewed;
use crate::care::{Duty, anchor};
use crate::journal::{Book, Done, DoneKind, Part};
use crate::place::{CarerId, Place, Target, Water as Kind};
use crate::quantity::{Celsius, Litres};
use crate::rota::{Work, work};
use crate::water::mixing::{ProductFactor, finished, mass_of, with_margin};
use crate::water::seawater::density;

/// The temperature at which volumes are measured: room-warm, common practice, no published source. It moves volumes by a
/// part in a thousand.
const ROOM: Celsius = Celsius(25.0);

/// What turns took of water and of what goes into it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Water {
    /// Litres that went out, and in again.
    pub litres: f64,
    /// Grams of the salt product, the spill margin included.
    pub salt_g: f64,
    /// Millilitres of conditioner, the spill margin included; `None` where the place entered no label to dose by.
    pub conditioner_ml: Option<f64>,
}

impl Water {
    /// No water.
    pub const NONE: Self = Self {
        litres: 0.0,
        salt_g: 0.0,
        conditioner_ml: Some(0.0),
    };
}

impl Sum for Water {
    fn sum<I: Iterator<Item = Self>>(all: I) -> Self {
        all.fold(Self::NONE, |sum, one| Self {
            litres: sum.litres + one.litres,
            salt_g: sum.salt_g + one.salt_g,
            conditioner_ml: sum.conditioner_ml.zip(one.conditioner_ml).map(|(a, b)| a + b),
        })
    }
}

/// A turn that was done, whole or in part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// What was done.
    pub duty: Duty,
    /// Where.
    pub target: Target,
    /// When.
    pub at: Timestamp,
    /// By whom.
    pub by: CarerId,
    /// How long it takes, in minutes from 0; a part takes its share.
    pub minutes: f64,
    /// What it took of water. Top-ups take none: they make up what evaporates under either keeping.
    pub water: Water,
}

/// The turns of a span, in order of time.
pub(super) fn turns(book: &Book, plan: &Plan, lanes: &[(Duty, Target)]) -> Vec<Turn> {
    let mut all: Vec<(u64, Turn)> = Vec::new();
    for lane in lanes {
        let mut last = None;
        let own = renewed(book, plan, *lane)
            .filter(|done| done.duty.family() == lane.0 && !matches!(done.kind, DoneKind::NotNeeded { .. }));
        for done in own {
            // Readings of one moment are one turn.
            if done.kind == DoneKind::Read && last.replace(done.at) == Some(done.at) {
                continue;
            }
            all.push((done.seq, turn(book, lane.1, done)));
        }
    }
    all.sort_by_key(|(seq, turn)| (turn.at, *seq));
    all.into_iter().map(|(_, turn)| turn).collect()
}

fn turn(book: &Book, target: Target, done: &Done) -> Turn {
    let place = book.place_at(done.at);
    let work = work(&place, done.duty, target);
    let share = anchor::share(book, done.duty, target, done).clamp(0.0, 1.0);
    Turn {
        duty: done.duty,
        target,
        at: done.at,
        by: done.by,
        minutes: work.minutes * share,
        water: water(book, &place, target, done, &work),
    }
}

fn water(book: &Book, place: &Place, target: Target, done: &Done, work: &Work) -> Water {
    let Target::Pool(id) = target else {
        return Water::NONE;
    };
    let Some(pool) = place.pools.get(&id) else {
        return Water::NONE;
    };
    match done.duty {
        Duty::Change | Duty::PartChange => {
            let of_part = match done.kind {
                DoneKind::Did(Part::Whole) => work.litres,
                DoneKind::Did(Part::Fraction(fraction)) => pool.litres * fraction,
                // Steps say nothing of water.
                _ => 0.0,
            };
            let litres = book.amount(done.seq).unwrap_or(of_part);
            prepared(place, pool.water, litres)
        }
        Duty::Condition => Water {
            conditioner_ml: book
                .dosed_ml(done.seq)
                .or_else(|| dose(place, Litres(pool.litres))),
            ..Water::NONE
        },
        _ => Water::NONE,
    }
}

/// Litres of new water, with the salt and the conditioner of what is prepared for them by the place's supplies.
fn prepared(place: &Place, water: Kind, litres: f64) -> Water {
    let supplies = &place.supplies;
    let (wanted, factor) = match water {
        Kind::Fresh => (supplies.tap(), ProductFactor::DRY),
        Kind::Salt => (supplies.wanted(), supplies.factor()),
    };
    let found = || {
        let of_tap = density(supplies.tap(), ROOM).ok()?;
        let mass = mass_of(
            with_margin(Litres(litres), supplies.spill()).ok()?,
            density(wanted, ROOM).ok()?,
        )
        .ok()?;
        let recipe = finished(mass, supplies.tap(), wanted, factor).ok()?;
        Some((recipe.product.0, recipe.source_volume(of_tap).ok()?))
    };
    // An amount that no water has took nothing.
    found().filter(|_| litres > 0.0).map_or(
        Water {
            litres,
            ..Water::NONE
        },
        |(salt_g, source)| Water {
            litres,
            salt_g,
            conditioner_ml: dose(place, source),
        },
    )
}

/// The conditioner for an amount of tap water, by the label; `None` where none was entered.
fn dose(place: &Place, water: Litres) -> Option<f64> {
    let supplies = &place.supplies;
    let label = supplies.conditioner.as_ref()?.label();
    label
        .dose_for(water, supplies.mains())
        .ok()
        .map(|dose| dose.amount.0)
}
