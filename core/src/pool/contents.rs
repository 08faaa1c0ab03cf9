//! How much water a pool holds between its stones.
//!
//! The water line is read with everything in its place. What lies under it takes room: gravel by what is solid of it,
//! anything else by its own volume.

mod porosity;

#[cfg(test)]
mod tests;

use super::shape::{Shape, ShapeError};
use crate::quantity::{Centimetres, Litres, Span};
use crate::rests::Rests;
pub use porosity::{Porosity, porosity};

/// What lies or stands in a pool.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Thing {
    /// Stones, shells, coral: solid.
    Stones,
    /// The stone that air bubbles from, with what weighs it down.
    AirStone,
    /// A filter.
    Filter,
    /// A ramp or steps.
    Ramp,
    /// Anything else.
    Other,
}

/// A thing and the room that it takes under water.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Displaced {
    /// Which thing.
    pub thing: Thing,
    /// Its own volume, counted as wholly under water.
    pub litres: Litres,
}

/// A layer of gravel on the floor.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Gravel {
    /// From the floor to its top, levelled.
    pub depth: Centimetres,
    /// The share of it that is not solid.
    pub porosity: Porosity,
}

/// What is in a pool beside water.
#[derive(Clone, Debug, Default, PartialEq, serde::Serialize, serde::Deserialize)]
#[serde(default)]
pub struct Contents {
    /// Gravel, if there is any.
    pub gravel: Option<Gravel>,
    /// All other things.
    pub displaced: Vec<Displaced>,
}

/// The water in a pool, with what is not known of the gravel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Water {
    /// What the vessel would hold to this level without anything in it.
    pub gross: Litres,
    /// Water, if the gravel is as dense as may be.
    pub low: Litres,
    /// Water, most likely.
    pub likely: Litres,
    /// Water, if the gravel is as loose as may be.
    pub high: Litres,
    /// What this rests on.
    pub rests: Rests,
}

/// Why there is no amount of water.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ContentsError {
    /// The vessel or a level in it.
    #[error(transparent)]
    Shape(#[from] ShapeError),
    /// The gravel stands above the rim, or has no depth.
    #[error("gravel of {depth:?} in a vessel of {rim:?}")]
    GravelDepth {
        /// What was given.
        depth: Centimetres,
        /// The vessel's height.
        rim: Centimetres,
    },
    /// A porosity is a share of the volume, and three of them rise.
    #[error("a porosity of {low}, {likely}, {high}")]
    Porosity {
        /// The lowest.
        low: f64,
        /// The likely one.
        likely: f64,
        /// The highest.
        high: f64,
    },
    /// Bulk density lies between nothing and the particles' own density.
    #[error("a bulk density of {bulk} against particles of {particle}")]
    Densities {
        /// Mass of a volume of gravel with its gaps, kg/L.
        bulk: f64,
        /// Mass of a volume of the stone itself, kg/L.
        particle: f64,
    },
    /// A thing takes some room, and less than the vessel has.
    #[error("{thing:?} of {litres:?} in a vessel of {full:?}")]
    Displaced {
        /// Which thing.
        thing: Thing,
        /// Its volume.
        litres: Litres,
        /// What the vessel holds when empty.
        full: Litres,
    },
    /// What is in the pool takes all the room up to this level: either it stands above the water, or a measure is wrong.
    #[error("{solid:?} of solids in {gross:?} to the water line")]
    NoRoom {
        /// What is solid up to the level.
        solid: Litres,
        /// What the vessel holds to the level.
        gross: Litres,
    },
    /// More water than there is room for beside what is in the pool.
    #[error("{water:?} of water with {solid:?} of solids in a vessel of {full:?}")]
    TooMuch {
        /// The water that was asked for.
        water: Litres,
        /// What is solid in the vessel.
        solid: Litres,
        /// What the vessel holds when empty.
        full: Litres,
    },
}

/// A pool as it stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pool<'a> {
    /// The vessel.
    pub shape: &'a Shape,
    /// What is in it beside water.
    pub contents: &'a Contents,
    /// The water line above the floor, read with everything in its place.
    pub level: Centimetres,
}

impl<'a> Pool<'a> {
    /// A pool into which so much water was poured after everything else.
    ///
    /// # Errors
    /// Those of [`Contents::level_for`].
    pub fn filled_with(
        shape: &'a Shape,
        contents: &'a Contents,
        water: Litres,
    ) -> Result<Self, ContentsError> {
        Ok(Self {
            shape,
            contents,
            level: contents.level_for(shape, water)?,
        })
    }

    /// The same pool with its water line elsewhere.
    #[must_use]
    pub const fn at(self, level: Centimetres) -> Self {
        Self { level, ..self }
    }

    /// The water in it.
    ///
    /// # Errors
    /// Those of [`Contents::water_to`].
    pub fn water(self) -> Result<Water, ContentsError> {
        self.contents.water_to(self.shape, self.level)
    }

    /// The water line that so much water would reach in it.
    ///
    /// # Errors
    /// Those of [`Contents::level_for`].
    pub fn level_for(self, water: Litres) -> Result<Centimetres, ContentsError> {
        self.contents.level_for(self.shape, water)
    }
}

impl Contents {
    /// Water up to a level: V(level) − (1 − φ) V(gravel under the level) − everything else.
    ///
    /// Source: what is solid displaces its own volume. It rests on [`Rests::Computed`] without gravel, else on what the
    /// porosity rests on.
    ///
    /// # Errors
    /// A shape or a level that cannot be; contents that do not fit in; no room left for water up to this level.
    pub fn water_to(&self, shape: &Shape, level: Centimetres) -> Result<Water, ContentsError> {
        self.check(shape)?;
        let gross = shape.volume_to(level)?;
        let gravel = self.gravel_below(shape, level)?;
        let others = self.others();
        let band = self.band();
        let [low, likely, high] = [band.low, band.likely, band.high]
            .map(|open| gross - gravel * (1.0 - open) - others)
            .map(|water| Litres(water.0.min(gross.0)));
        if low.0 < 0.0 {
            return Err(ContentsError::NoRoom {
                solid: gross - low,
                gross,
            });
        }
        Ok(Water {
            gross,
            low,
            likely,
            high,
            rests: self.gravel.map_or(Rests::Computed, |_| band.rests),
        })
    }

    /// The level that so much water reaches, with everything in its place and the likely porosity: the inverse of
    /// [`Contents::water_to`].
    ///
    /// # Errors
    /// A shape that cannot be; contents that do not fit in; more water than there is room for, or less than nothing.
    pub fn level_for(&self, shape: &Shape, water: Litres) -> Result<Centimetres, ContentsError> {
        self.check(shape)?;
        let full = shape.full()?;
        if !Span::new(0.0, full.0).has(water.0) {
            return Err(ShapeError::Volume { volume: water, full }.into());
        }
        let open = self.band().likely;
        let bed = self.gravel_below(shape, shape.height()?)?;
        // Up to the top of the gravel only its gaps fill.
        let wanted = water + self.others();
        let gross = if wanted.0 <= bed.0 * open {
            wanted * open.recip()
        } else {
            wanted + bed * (1.0 - open)
        };
        if gross.0 > full.0 * (1.0 + 1e-12) {
            return Err(ContentsError::TooMuch {
                water,
                solid: gross - water,
                full,
            });
        }
        Ok(shape.level_for(Litres(gross.0.min(full.0)))?)
    }

    /// The top of the gravel, or the floor.
    #[must_use]
    pub fn bed(&self) -> Centimetres {
        self.gravel.map_or(Centimetres(0.0), |gravel| gravel.depth)
    }

    /// Everything but gravel.
    #[must_use]
    pub fn others(&self) -> Litres {
        self.displaced.iter().map(|one| one.litres).sum()
    }

    /// The gravel up to a level, gaps and all.
    pub(super) fn gravel_below(&self, shape: &Shape, level: Centimetres) -> Result<Litres, ContentsError> {
        Ok(match self.gravel {
            Some(gravel) => shape.volume_to(Centimetres(gravel.depth.0.min(level.0)))?,
            None => Litres(0.0),
        })
    }

    /// What its porosity is, with that of nothing for no gravel.
    pub(super) fn band(&self) -> Porosity {
        self.gravel.map_or(Porosity::GRAVEL, |gravel| gravel.porosity)
    }

    /// Looks whether all of it fits into a shape.
    pub(super) fn check(&self, shape: &Shape) -> Result<(), ContentsError> {
        let (rim, full) = (shape.height()?, shape.full()?);
        if let Some(gravel) = self.gravel {
            gravel.porosity.check()?;
            if !(gravel.depth.0 > 0.0 && gravel.depth.0 <= rim.0) {
                return Err(ContentsError::GravelDepth {
                    depth: gravel.depth,
                    rim,
                });
            }
        }
        for &Displaced { thing, litres } in &self.displaced {
            if !Span::new(0.0, full.0).has(litres.0) {
                return Err(ContentsError::Displaced { thing, litres, full });
            }
        }
        Ok(())
    }
}
