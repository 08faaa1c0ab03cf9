//! What a pool weighs, and where its water goes when it tips.

use super::{DepthError, Given, Pool, Span, within};
use crate::quantity::{Centimetres, Density, Kilograms, Litres, SquareCentimetres};
use crate::rests::Rests;

/// What a tipped pool spreads over.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Substrate {
    /// The floor under it: 1–1e6 cm².
    pub floor: SquareCentimetres,
    /// How deep it lies: 0–200 cm.
    pub depth: Centimetres,
    /// The share of it that water can still fill, 0.05–0.95: its porosity, less the water that it holds already.
    pub open: f64,
}

/// What a tipped pool does to the substrate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spill {
    /// What runs out.
    pub litres: Litres,
    /// How deep the substrate stands in water then, if it spreads evenly and sinks to the floor.
    pub depth: Centimetres,
    /// What stands above the substrate because it cannot take all.
    pub standing: Litres,
    /// What this rests on.
    pub rests: Rests,
}

/// What a tipped pool puts into the substrate: all its water, and the depth that it fills, V / (A φ).
///
/// Source: what runs out fills what is open. It spreads slowly, so near the pool it stands deeper at first.
///
/// # Errors
/// A pool or a substrate that cannot be.
pub fn spill(pool: Pool<'_>, under: Substrate) -> Result<Spill, DepthError> {
    within(Given::Floor, under.floor.0, Span::new(1.0, 1e6))?;
    within(Given::Substrate, under.depth.0, Span::new(0.0, 200.0))?;
    within(Given::Open, under.open, Span::new(0.05, 0.95))?;
    let water = pool.water()?;
    let litres = water.likely;
    // 1000 cm³ a litre.
    let takes = Litres(under.floor.0 * under.depth.0 * under.open / 1000.0);
    let standing = Litres((litres - takes).0.max(0.0));
    let filled = 1000.0 * litres.0.min(takes.0) / (under.floor.0 * under.open);
    Ok(Spill {
        litres,
        depth: Centimetres(filled.min(under.depth.0)),
        standing,
        rests: water.rests.and(Rests::Place),
    })
}

/// What a pool weighs as it stands, for whoever lifts it.
///
/// Source: volumes times densities. Gravel and everything else that lies in it count as quartz, 2.65 kg/L (facts, section
/// 6, as the particle density of the porosity example); so a filter or a ramp is taken for heavier than it is. Water at a
/// density of 900–1300 kg/m³, the empty vessel 0–1000 kg.
///
/// # Errors
/// A pool, a density or an empty vessel that cannot be.
pub fn weight(pool: Pool<'_>, density: Density, empty: Kilograms) -> Result<(Kilograms, Rests), DepthError> {
    const QUARTZ: f64 = 2.65;
    within(Given::Density, density.0, Span::new(900.0, 1300.0))?;
    within(Given::Empty, empty.0, Span::new(0.0, 1000.0))?;
    let water = pool.water()?;
    let layer = pool.contents.gravel_below(pool.shape, pool.contents.bed())?;
    let solid = layer * (1.0 - pool.contents.band().likely) + pool.contents.others();
    let kilograms = water.likely.0 * density.0 / 1000.0 + solid.0 * QUARTZ + empty.0;
    Ok((Kilograms(kilograms), water.rests.and(Rests::Computed)))
}
