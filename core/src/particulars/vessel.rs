//! A pool's inside as it was told: how high the water stands, how much of it there is, and how large its surface is.

use crate::place::Pool;
use crate::pool::contents::{Contents, ContentsError, Displaced, Pool as Inside, Thing, Water};
use crate::pool::shape::Shape;
use crate::pool::siphon::{Drawn, Liquid, SiphonError, Tube, falling_head};
use crate::quantity::{Centimetres, Litres, SquareCentimetres};

/// A container with all that is in it, and its water line.
#[derive(Clone, Debug, PartialEq)]
pub struct Vessel {
    shape: Shape,
    contents: Contents,
    level: Centimetres,
}

/// The water in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Filled {
    /// Where it stands above the floor.
    pub level: Centimetres,
    /// How much of it there is.
    pub water: Water,
    /// Its surface.
    pub surface: SquareCentimetres,
    /// What was stated, where it differs from what was computed by more than a twentieth.
    pub stated: Option<Litres>,
}

impl Vessel {
    /// The vessel of a pool: with the water line that was told, else the one that its litres reach. `None` where no
    /// shape was told.
    ///
    /// # Errors
    /// What cannot be: a water line above the rim, litres that the container does not hold, contents without room.
    pub fn of(pool: &Pool) -> Result<Option<Self>, ContentsError> {
        let Some(shape) = pool.made.shape.clone() else {
            return Ok(None);
        };
        let contents = contents(pool);
        let level = match pool.made.depth_cm {
            Some(cm) => Centimetres(cm),
            None => contents.level_for(&shape, Litres(pool.litres))?,
        };
        let vessel = Self {
            shape,
            contents,
            level,
        };
        vessel.inside().water()?;
        Ok(Some(vessel))
    }

    /// The pool as the computation of depth, filter and siphon takes it.
    #[must_use]
    pub fn inside(&self) -> Inside<'_> {
        Inside {
            shape: &self.shape,
            contents: &self.contents,
            level: self.level,
        }
    }

    /// The container.
    #[must_use]
    pub fn shape(&self) -> &Shape {
        &self.shape
    }

    /// The water in it. `stated`: the litres that the place told.
    ///
    /// # Errors
    /// Those of [`Vessel::of`].
    pub fn filled(&self, stated: f64) -> Result<Filled, ContentsError> {
        const DIFFERS: f64 = 0.05;
        let water = self.inside().water()?;
        let differs = (water.likely.0 - stated).abs() > DIFFERS * stated;
        Ok(Filled {
            level: self.level,
            water,
            surface: self.shape.surface_at(self.level)?,
            stated: differs.then_some(Litres(stated)),
        })
    }

    /// Draws litres through a tube while the level falls; never more than there are.
    ///
    /// # Errors
    /// Those of [`falling_head`].
    pub fn draw(
        &self,
        litres: Litres,
        tube: Tube,
        head: Centimetres,
        liquid: Liquid,
    ) -> Result<Drawn, SiphonError> {
        let there = self.inside().water()?.likely;
        falling_head(self.inside(), Litres(litres.0.min(there.0)), tube, head, liquid)
    }
}

fn contents(pool: &Pool) -> Contents {
    let things = [
        (Thing::Stones, pool.made.stones),
        (Thing::AirStone, pool.made.air.displaces),
        (Thing::Filter, pool.made.filter.displaces),
    ];
    let displaced = things.into_iter().filter_map(|(thing, litres)| {
        litres.filter(|litres| *litres > 0.0).map(|litres| Displaced {
            thing,
            litres: Litres(litres),
        })
    });
    Contents {
        gravel: pool.made.gravel,
        displaced: displaced.collect(),
    }
}

/// A filter's minimum fill line against the water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FillLine {
    /// So far under the water.
    Under(Centimetres),
    /// So far above it: this filter is wrong for this pool.
    Above(Centimetres),
}

/// How a fill line stands to a water line, both above the pool's floor, where the shape is not known.
#[must_use]
pub fn fill_line(line: Centimetres, level: Centimetres) -> FillLine {
    if line > level {
        FillLine::Above(line - level)
    } else {
        FillLine::Under(level - line)
    }
}
