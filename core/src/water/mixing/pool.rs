//! A pool that stands: raised, lowered, dried and topped up.

use crate::quantity::{Grams, Kilograms, Salinity};
use crate::rests::Rests;

use super::{Problem, ProductFactor, TARGET_MAX, Water, target, temper};

/// Brine that dry salt is dissolved to outside of the pool, in g/kg: thin enough to clear, common practice, no published
/// source. It lies above every target, so that drawn water can always take the salt.
const BRINE: f64 = 100.0;
const _: () = assert!(TARGET_MAX.0 < BRINE);

/// Water out, other water in, as much as came out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swap {
    /// The part of the pool, by mass.
    pub fraction: f64,
    /// What to take out.
    pub out: Kilograms,
    /// What to put in.
    pub new: Water,
    /// The pool afterwards.
    pub after: Water,
    /// What it rests on.
    pub rests: Rests,
}

/// Salt into a pool, dissolved in water that was drawn from it: never dry among the animals.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Raise {
    /// The salt that has to come in.
    pub salt: Grams,
    /// The same as grams of the product.
    pub product: Grams,
    /// How much of the pool's water to draw for it, at least: the brine then has 100 g/kg.
    pub draw: Kilograms,
    /// The pool afterwards, with the drawn water back in it.
    pub after: Water,
    /// What it rests on: the balance is computed, the product's factor learnt or assumed, the strength of the brine
    /// practice.
    pub rests: Rests,
}

/// The part of a pool to swap for water of another salinity to arrive at a target: (S₁ − S₂)/(S₁ − s), for fresh water
/// 1 − S₂/S₁. Lowers with weaker water and raises with stronger, by conservation of salt at a constant mass.
///
/// # Errors
///
/// A target outside 0 to 60 g/kg; new water outside 0 to 260 g/kg; a target that does not lie between the pool and the
/// new water, or is what the pool holds ([`Problem::NotBetween`]).
pub fn swap(pool: Water, wanted: Salinity, new: Salinity) -> Result<Swap, Problem> {
    let (own, wanted) = (pool.salinity().0, target(wanted)?);
    if !(0.0..=super::SALINITY_MAX.0).contains(&new.0) {
        return Err(Problem::Salinity { value: new.0 });
    }
    let between = if own > new.0 {
        new.0 <= wanted && wanted < own
    } else {
        own < wanted && wanted <= new.0
    };
    let fraction = (own - wanted) / (own - new.0);
    let out = pool.mass() * fraction;
    // What is less than a milligram of a pool is no swap: it holds the target.
    if !between || out.0 < super::MASS_MIN {
        return Err(Problem::NotBetween {
            target: wanted,
            pool: own,
            new: new.0,
        });
    }
    Ok(Swap {
        fraction,
        out,
        new: Water::new(out, new)?,
        after: Water::new(pool.mass(), Salinity(wanted))?,
        rests: Rests::Computed,
    })
}

/// The largest part of a pool, by mass, that may be swapped if its salinity is not to move by more than `allowed` g/kg.
///
/// # Errors
///
/// New water outside 0 to 260 g/kg; a permitted difference below 0, or 0 where the two differ.
pub fn largest_swap(pool: Water, new: Salinity, allowed: f64) -> Result<f64, Problem> {
    if !(0.0..=super::SALINITY_MAX.0).contains(&new.0) {
        return Err(Problem::Salinity { value: new.0 });
    }
    temper::largest(pool.salinity().0, new.0, allowed)
}

/// The dry salt that raises a pool: M(S₂ − S₁)/(1000 − S₂), by conservation of salt and of mass.
///
/// # Errors
///
/// A target outside 0 to 60 g/kg ([`Problem::Target`]) or below what the pool holds ([`Problem::TargetBelow`]); more than
/// 1,000,000 kg in the end.
pub fn raise(pool: Water, wanted: Salinity, factor: ProductFactor) -> Result<Raise, Problem> {
    let recipe = super::bucket(pool.mass(), pool.salinity(), wanted, factor)?;
    let salt_kg = recipe.salt.0 / 1000.0;
    // Of d kg drawn at S₁ with the salt in it: 1000(d·S₁/1000 + salt) = BRINE·(d + salt).
    let draw = salt_kg * (1000.0 - BRINE) / (BRINE - pool.salinity().0);
    Ok(Raise {
        salt: recipe.salt,
        product: recipe.product,
        draw: Kilograms(draw),
        after: recipe.finished,
        rests: recipe.rests.and(Rests::Practice),
    })
}

/// A pool after some of its water evaporated: S₂ = S₁M/(M − E), since salt stays.
///
/// # Errors
///
/// Less than nothing, or so much that the rest would hold more than 260 g/kg ([`Problem::Dry`]).
pub fn evaporated(pool: Water, lost: Kilograms) -> Result<Water, Problem> {
    let (mass, own) = (pool.mass().0, pool.salinity().0);
    let rest = mass - lost.0;
    let salinity = own * mass / rest;
    let fine = lost.0 >= 0.0 && rest >= super::MASS_MIN && salinity <= super::SALINITY_MAX.0;
    if !fine {
        return Err(Problem::Dry {
            lost: lost.0,
            mass,
            salinity: own,
            most: mass * (1.0 - own / super::SALINITY_MAX.0),
        });
    }
    Water::new(Kilograms(rest), Salinity(salinity))
}

/// The fresh water that brings a pool down to a salinity without taking anything out: M(S/S₂ − 1). What evaporated comes
/// back in exactly if the salinity before it is asked for.
///
/// # Errors
///
/// A target that is not above 0 and up to 60 g/kg, or above what the pool holds ([`Problem::TargetAbove`]): then
/// salt is missing, not water. More than 1,000,000 kg in the end.
pub fn top_up(pool: Water, wanted: Salinity) -> Result<Kilograms, Problem> {
    let (own, wanted) = (pool.salinity().0, target(wanted)?);
    if wanted <= 0.0 {
        return Err(Problem::Target {
            target: wanted,
            limit: TARGET_MAX.0,
        });
    }
    if wanted > own {
        return Err(Problem::TargetAbove {
            target: wanted,
            holds: own,
        });
    }
    let more = pool.mass().0 * ((own - wanted) / wanted);
    Water::new(pool.mass() + Kilograms(more), Salinity(wanted))?;
    Ok(Kilograms(more))
}

/// The fresh water that restores a pool to a mass: what is missing.
///
/// # Errors
///
/// A mass below the pool's own, or above 1,000,000 kg ([`Problem::Mass`]).
pub fn top_up_mass(pool: Water, full: Kilograms) -> Result<Kilograms, Problem> {
    let more = full - pool.mass();
    if more.0 >= 0.0 && full.0 <= super::MASS_MAX.0 {
        Ok(more)
    } else {
        Err(Problem::Mass { kg: full.0 })
    }
}

/// A pool after fresh water was added to it.
///
/// # Errors
///
/// Less than nothing, or more than 1,000,000 kg in the end ([`Problem::Mass`]).
pub fn top_up_effect(pool: Water, fresh: Kilograms) -> Result<Water, Problem> {
    if !(0.0..=super::MASS_MAX.0).contains(&fresh.0) {
        return Err(Problem::Mass { kg: fresh.0 });
    }
    let mass = pool.mass() + fresh;
    Water::new(mass, Salinity(pool.salinity().0 * (pool.mass() / mass)))
}
