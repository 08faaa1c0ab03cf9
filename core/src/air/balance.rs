//! What the air of an enclosure comes to: a well-mixed box with its pools.
//!
//! V/(Rv·T)·dp/dt = G(p_room − p) + Σ K_i(p_i − p), with G = n·V/(Rv·T) for the exchange with the room and K_i = k_i·A_i
//! for each wet surface: the general mass balance of indoor air (public pages of EPA-600/8-88-097a). Glass that is
//! colder than the dew point takes vapour out, as one more surface.
//!
//! `balance/parts` is what stands in the box; `balance/decay` measures the exchange; `balance/needed` turns the balance
//! round: what surface or exchange gives a humidity.

mod decay;
mod needed;
mod parts;

#[cfg(test)]
mod properties;
#[cfg(test)]
mod tests;

use super::evaporation::{ACTIVITIES, Conductance, SURFACES, TRANSFERS, Transfer, bubble_conductance};
use super::moist::{Air, AirError, VAPOUR_GAS_CONSTANT, What, saturation};
use crate::quantity::{Grams, Hours, Humidity, Litres, Pascals, Span, SquareCentimetres};

pub use self::decay::{Decay, exchange_from_decay};
pub use self::needed::Need;
pub use self::parts::{AirFrom, Bubbles, DampSurface, Enclosure, Exchange, Pool};

/// How readily cold glass takes vapour up, for a film of 3 W/m²K without radiation (from memory).
pub const GLASS_TRANSFER: Transfer = Transfer(7.3e-5);

/// Grams of fresh water in a litre at 25 °C (the equation of state of 1980).
const GRAMS_IN_A_LITRE: f64 = 997.05;

/// Exchanges that are taken seriously.
pub const EXCHANGES: Span = Span::new(1e-3, 1e3);

/// The air of an enclosure, its pools and its room, ready to be asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Balance {
    enclosure: Enclosure,
    room: Pascals,
    /// Vapour that saturates the enclosure's air.
    saturation: Pascals,
    /// Humidity at which the glass sweats.
    limit: Humidity,
    /// What an exchange of 1 an hour conducts, kg/h/Pa.
    per_exchange: f64,
    pools: Vec<Wet>,
    substrate: Wet,
}

/// A wet surface: what it conducts, and towards which pressure.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Wet {
    /// Of the surface, kg/h/Pa.
    surface: f64,
    /// Of its bubbles, kg/h/Pa.
    bubbles: f64,
    /// Whether the bubbles are room air.
    room_air: bool,
    /// The pressure at its surface, Pa.
    at: f64,
}

impl Wet {
    fn conducts(&self) -> f64 {
        self.surface + self.bubbles
    }

    fn of_pool(pool: &Pool, enclosure: &Enclosure) -> Result<Self, AirError> {
        let area = AirError::unless(What::Surface, pool.surface.0, SURFACES)?;
        let activity = AirError::unless(What::Activity, pool.activity, ACTIVITIES)?;
        let bubbles = pool
            .bubbles
            .map(|bubbles| bubble_conductance(bubbles.flow, enclosure.temperature))
            .transpose()?;
        Ok(Self {
            surface: transfer(pool.transfer)? * area / 1e4,
            bubbles: bubbles.map_or(0.0, |conductance| conductance.0),
            room_air: pool.bubbles.is_some_and(|bubbles| bubbles.draws == AirFrom::Room),
            at: activity * saturation(pool.temperature)?.0,
        })
    }

    fn of_substrate(damp: &DampSurface) -> Result<Self, AirError> {
        let area = AirError::unless(What::Surface, damp.surface.0, SURFACES)?;
        let wetness = AirError::unless(What::Wetness, damp.wetness, Span::new(0.0, 1.0))?;
        Ok(Self {
            surface: transfer(damp.transfer)? * area * wetness / 1e4,
            at: saturation(damp.temperature)?.0,
            ..Self::default()
        })
    }
}

fn transfer(transfer: Transfer) -> Result<f64, AirError> {
    AirError::unless(What::Transfer, transfer.0, TRANSFERS)
}

/// What the air comes to when nothing changes any more.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Steady {
    /// The pressure of vapour that the balance gives.
    pub vapour: Pascals,
    /// The relative humidity, at most 1.
    pub humidity: Humidity,
    /// Whether the balance gives more than the air can hold: then fog and drip.
    pub saturated: bool,
    /// Whether the glass sweats at it.
    pub sweats: bool,
}

/// What a pool loses in a day when nothing changes any more. Negative where it takes vapour up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Loss {
    /// Water a day.
    pub per_day: Grams,
    /// The same as a volume of fresh water, to be topped up.
    pub top_up: Litres,
}

impl Loss {
    fn of(kg_per_hour: f64) -> Self {
        let grams = kg_per_hour * 24.0 * 1000.0;
        Self {
            per_day: Grams(grams),
            top_up: Litres(grams / GRAMS_IN_A_LITRE),
        }
    }
}

impl Balance {
    /// The balance of an enclosure with these pools in this room.
    ///
    /// # Errors
    /// [`AirError::Outside`] for what cannot be: air of no volume or more than the gross one, temperatures outside
    /// −40 to 100 °C, exchanges outside [`EXCHANGES`], surfaces, transfers, activities out of range.
    pub fn new(enclosure: &Enclosure, pools: &[Pool], room: &Air) -> Result<Self, AirError> {
        let gross = AirError::unless(What::Volume, enclosure.gross.0, Span::new(0.1, 1e7))?;
        let air = AirError::unless(What::Volume, enclosure.air.0, Span::new(0.1, gross))?;
        AirError::unless(What::Exchange, enclosure.exchange.0, EXCHANGES)?;
        if let Some(area) = enclosure.glass_surface {
            AirError::unless(What::Surface, area.0, SURFACES)?;
        }
        let saturation = saturation(enclosure.temperature)?;
        let substrate = enclosure.substrate.as_ref().map(Wet::of_substrate).transpose()?;
        Ok(Self {
            enclosure: *enclosure,
            room: room.vapour_pressure(),
            saturation,
            limit: enclosure.pane.limit(enclosure.temperature, room.temperature())?,
            per_exchange: air / 1000.0 / (VAPOUR_GAS_CONSTANT * enclosure.temperature.kelvin()),
            pools: pools
                .iter()
                .map(|pool| Wet::of_pool(pool, enclosure))
                .collect::<Result<_, _>>()?,
            substrate: substrate.unwrap_or_default(),
        })
    }

    fn wet(&self) -> impl Iterator<Item = &Wet> {
        self.pools.iter().chain(std::iter::once(&self.substrate))
    }

    /// What the exchange with the room conducts: G = n·V/(Rv·T).
    #[must_use]
    pub fn conductance(&self) -> Conductance {
        Conductance(self.per_exchange * self.enclosure.exchange.0)
    }

    /// What flows in at zero pressure, kg/h, and what all of it conducts, kg/h/Pa.
    fn sums(&self) -> (f64, f64) {
        let exchange = self.conductance().0;
        self.wet()
            .fold((exchange * self.room.0, exchange), |(flow, all), wet| {
                (flow + wet.conducts() * wet.at, all + wet.conducts())
            })
    }

    /// What the air comes to: p = (G·p_room + ΣK_i·p_i)/(G + ΣK_i), before anything condenses.
    #[must_use]
    pub fn steady(&self) -> Steady {
        let (flow, all) = self.sums();
        self.at(Pascals(flow / all))
    }

    fn at(&self, vapour: Pascals) -> Steady {
        let humidity = vapour / self.saturation;
        Steady {
            vapour,
            humidity: Humidity(humidity.clamp(0.0, 1.0)),
            saturated: humidity > 1.0,
            sweats: self.limit.0 < 1.0 && humidity > self.limit.0,
        }
    }

    /// The humidity from which on the glass sweats; 1 if it is as warm as the air.
    #[must_use]
    pub fn glass_limit(&self) -> Humidity {
        self.limit
    }

    /// How fast the air follows: 63 % of a step after this time, 1/(n + ΣK·Rv·T/V).
    #[must_use]
    pub fn time_constant(&self) -> Hours {
        Hours(self.per_exchange / self.sums().1)
    }

    /// The air some hours after it had this humidity. It goes the way of an exponential to the steady state.
    ///
    /// # Errors
    /// [`AirError::Outside`] for a humidity outside 0 to 1 or a time outside 0 to 100,000 hours.
    pub fn after(&self, start: Humidity, hours: Hours) -> Result<Steady, AirError> {
        let start = AirError::unless(What::Humidity, start.0, Span::new(0.0, 1.0))? * self.saturation.0;
        let hours = AirError::unless(What::Time, hours.0, Span::new(0.0, 1e5))?;
        let end = self.steady().vapour.0;
        let left = (-hours / self.time_constant().0).exp();
        Ok(self.at(Pascals(end + (start - end) * left)))
    }

    /// What each pool loses a day, in their order, at the steady state.
    #[must_use]
    pub fn losses(&self) -> Vec<Loss> {
        let vapour = self.steady().vapour.0.min(self.saturation.0);
        let of = |wet: &Wet| {
            // Bubbles of room air come in dry and leave wet; the enclosure's come in as wet as its air.
            let from = if wet.room_air { self.room.0 } else { vapour };
            Loss::of(wet.surface * (wet.at - vapour) + wet.bubbles * (wet.at - from))
        };
        self.pools.iter().map(of).collect()
    }

    /// What all pools together lose a day.
    #[must_use]
    pub fn total_loss(&self) -> Loss {
        let losses = self.losses();
        Loss {
            per_day: Grams(losses.iter().map(|loss| loss.per_day.0).sum()),
            top_up: losses.iter().map(|loss| loss.top_up).sum(),
        }
    }

    /// What condenses on the glass a day, and what the air comes to then: K_g = 7.3e-5·A_g towards the saturation at
    /// the face (from memory). None if the surface of the glass is not known; no condensate if the glass stays dry.
    #[must_use]
    pub fn condensation(&self) -> Option<(Loss, Steady)> {
        let area: SquareCentimetres = self.enclosure.glass_surface?;
        let dry = self.steady();
        if !dry.sweats {
            return Some((Loss::of(0.0), dry));
        }
        let glass = GLASS_TRANSFER.0 * area.0 / 1e4;
        let face = self.limit.0 * self.saturation.0;
        let (flow, all) = self.sums();
        let vapour = (flow + glass * face) / (all + glass);
        Some((Loss::of(glass * (vapour - face)), self.at(Pascals(vapour))))
    }
}
