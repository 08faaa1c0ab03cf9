//! What an enclosure and its pools are to the air, from what was told and what is usual.

use super::{EnclosureMade, Filled, Lid};
use crate::air::balance::{AirFrom, Bubbles};
use crate::air::evaporation::{Spread, Stirring, activity};
use crate::air::fit::{AIR_SHARE, FitPool, SUBSTRATE_WETNESS, Setting, Substrate};
use crate::air::glass::Pane;
use crate::air::moist::AirError;
use crate::place::{Enclosure, Fitted, Pool, Water};
use crate::quantity::{Celsius, Litres, LitresPerMinute, Salinity, SquareCentimetres};
use crate::rests::Rests;

/// The temperature of an enclosure for which none was told: the middle of 24–29 °C, the default of the fact sheet, on
/// which public pages do not agree. Common practice.
pub const HEATED: Celsius = Celsius(26.5);

/// Sea water for a salt pool's activity, g/kg: the upper end of the usual target. A g/kg changes the activity by 0.0005.
const SEA: Salinity = Salinity(35.0);

/// How much larger the stated volume may be than that of the size before it means something stands on top of it.
const AGREES: f64 = 0.02;

/// Something that was assumed since the place has not told it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Assumed {
    /// The inside length, width and height: the damp substrate's surface is left out.
    Size,
    /// The depth of the substrate: [`AIR_SHARE`] of the volume is taken for air.
    Substrate,
    /// The lid: one with gaps.
    Lid,
    /// The temperature: [`HEATED`].
    Heated,
    /// The panes: 6 mm of glass.
    Glazing,
}

/// The volumes of an enclosure.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Volumes {
    /// In all, substrate included: the larger of what was stated and what the size gives.
    pub gross: Litres,
    /// Its air: what is not substrate. Pools are taken to stand in the substrate.
    pub air: Litres,
    /// The floor, where the size is known.
    pub floor: Option<SquareCentimetres>,
    /// What the size gives, where it differs from the stated volume by more than 2 %.
    pub differs: Option<Litres>,
}

/// The volumes of an enclosure of so many litres.
#[must_use]
pub fn volumes(litres: f64, made: &EnclosureMade) -> Volumes {
    let of_size = made.size.map(|size| size.litres());
    let gross = of_size.map_or(litres, |size| size.max(litres));
    let air = match (made.substrate_cm, made.size) {
        (Some(cm), _) if cm <= 0.0 => gross,
        (Some(cm), Some(size)) => (gross - size.floor() * cm / 1000.0).max(0.0),
        _ => gross * AIR_SHARE,
    };
    Volumes {
        gross: Litres(gross),
        air: Litres(air),
        floor: made.size.map(|size| SquareCentimetres(size.floor())),
        differs: of_size
            .filter(|size| (size - litres).abs() > AGREES * litres)
            .map(Litres),
    }
}

/// An enclosure and its pools, ready for [`fit`](crate::air::fit::fit).
#[derive(Clone, Debug, PartialEq)]
pub struct BoxOfAir {
    /// The enclosure.
    pub setting: Setting,
    /// Those pools whose surface is known, in the order in which they were given.
    pub pools: Vec<FitPool>,
    /// Its volumes.
    pub volumes: Volumes,
    /// What was assumed.
    pub assumed: Vec<Assumed>,
}

impl BoxOfAir {
    /// An enclosure with the pools in it, each with its water and with the temperature that was read in it, where there
    /// are any.
    ///
    /// # Errors
    /// None that a place can cause: the salinity that is taken for a salt pool lies in the range of its formula.
    pub fn of(
        enclosure: &Enclosure,
        pools: &[(&Pool, Option<Filled>, Option<Celsius>)],
    ) -> Result<Self, AirError> {
        let made = &enclosure.made;
        let volumes = volumes(enclosure.litres, made);
        let temperature = made.heated_c.map_or(HEATED, Celsius);
        let lid = made.lid.unwrap_or(Lid::Gaps);
        let taken: f64 = pools
            .iter()
            .filter_map(|(_, filled, _)| filled.map(|one| one.surface.0))
            .sum();
        let is_damp = made.substrate_cm.is_none_or(|cm| cm > 0.0);
        let substrate = volumes.floor.filter(|_| is_damp).map(|floor| Substrate {
            surface: SquareCentimetres((floor.0 - taken).max(0.0)),
            wetness: SUBSTRATE_WETNESS,
            temperature,
        });
        let assumed = [
            (Assumed::Size, made.size.is_none()),
            (Assumed::Substrate, made.substrate_cm.is_none()),
            (Assumed::Lid, made.lid.is_none()),
            (Assumed::Heated, made.heated_c.is_none()),
            (Assumed::Glazing, made.glazing.is_none()),
        ];
        let assumed: Vec<Assumed> = assumed
            .into_iter()
            .filter_map(|(what, is)| is.then_some(what))
            .collect();
        let rests = if assumed.is_empty() && substrate.is_none() {
            lid.rests()
        } else {
            Rests::Practice
        };
        let setting = Setting {
            gross: volumes.gross,
            air: volumes.air,
            temperature,
            exchange: lid.exchange(),
            substrate,
            pane: made.glazing.map_or_else(Pane::default, |glazing| glazing.pane()),
            rests,
        };
        let known = pools
            .iter()
            .filter_map(|(pool, filled, read)| filled.map(|filled| (*pool, filled, *read)));
        let pools = known
            .map(|(pool, filled, read)| fit_pool(pool, filled, read, temperature))
            .collect::<Result<_, _>>()?;
        Ok(Self {
            setting,
            pools,
            volumes,
            assumed,
        })
    }
}

fn fit_pool(pool: &Pool, filled: Filled, read: Option<Celsius>, air: Celsius) -> Result<FitPool, AirError> {
    let runs = |fitted: Option<Fitted>| fitted.is_some_and(|fitted| fitted.stopped.is_none());
    let stirring = match (runs(pool.filter), runs(pool.air)) {
        (true, _) => Stirring::FallingWater,
        (false, true) => Stirring::AirStone,
        (false, false) => Stirring::Still,
    };
    let mut one = FitPool::stirred(filled.surface, air, stirring);
    if let Some(read) = read {
        one.water = Spread::known(read);
    }
    if pool.water == Water::Salt {
        one.activity = activity(SEA)?;
    }
    if runs(pool.air) {
        one.bubbles = pool.made.air.flow.map(|flow| Bubbles {
            flow: LitresPerMinute(flow),
            draws: AirFrom::Room,
        });
    }
    Ok(one)
}
