//! The balance turned round: what gives a humidity.

use super::{Balance, EXCHANGES, Exchange, Pool, SURFACES, Wet};
use crate::air::moist::{AirError, What};
use crate::quantity::{Humidity, Span, SquareCentimetres};

/// What is needed for a humidity.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub enum Need<T> {
    /// Nothing: without any of it the air is beyond that humidity already.
    Nothing,
    /// This much.
    Of(T),
    /// No amount would do.
    OutOfReach,
}

impl<T> Need<T> {
    /// The amount, if there is one.
    pub fn amount(self) -> Option<T> {
        match self {
            Self::Of(amount) => Some(amount),
            Self::Nothing | Self::OutOfReach => None,
        }
    }
}

impl Balance {
    fn target(&self, humidity: Humidity) -> Result<f64, AirError> {
        let humidity = AirError::unless(What::Humidity, humidity.0, Span::new(0.0, 1.0))?;
        Ok(humidity * self.saturation.0)
    }

    /// What all wet surfaces of the balance give at a pressure of vapour, kg/h.
    fn given(&self, vapour: f64) -> f64 {
        self.wet().map(|wet| wet.conducts() * (wet.at - vapour)).sum()
    }

    /// Whether the room holds more vapour than the wet surfaces would bring the air to: then exchange makes it damper.
    pub(crate) fn has_damper_room(&self) -> bool {
        self.given(self.room.0) < 0.0
    }

    /// How much water surface in all, beside what is in the balance, holds a humidity: A = (G(p − p_room) −
    /// ΣK_i(p_i − p))/(k(a·p_w − p)). Of several pools all grow or shrink alike. Their bubbles are not counted here:
    /// bubbles do not grow with a surface.
    ///
    /// # Errors
    /// [`AirError::Outside`] for a humidity outside 0 to 1, or pools without any surface.
    pub fn surface_for(
        &self,
        humidity: Humidity,
        like: &[Pool],
    ) -> Result<Need<SquareCentimetres>, AirError> {
        let vapour = self.target(humidity)?;
        let (mut surface, mut giving) = (0.0, 0.0);
        for pool in like {
            let wet = Wet::of_pool(pool, &self.enclosure)?;
            surface += pool.surface.0;
            giving += wet.surface * (wet.at - vapour);
        }
        AirError::unless(What::Surface, surface, Span::new(1e-3, SURFACES.high))?;
        let lacking = self.conductance().0 * (vapour - self.room.0) - self.given(vapour);
        if lacking <= 0.0 {
            return Ok(Need::Nothing);
        }
        let needed = lacking / giving * surface;
        Ok(if giving > 0.0 && needed <= SURFACES.high {
            Need::Of(SquareCentimetres(needed))
        } else {
            Need::OutOfReach
        })
    }

    /// The exchange at which the air settles at a humidity: n = ΣK_i(p_i − p)·Rv·T/(V(p − p_room)). Nothing is needed
    /// if the wet surfaces do not bring the air there; it is out of reach if the room is more humid itself.
    ///
    /// # Errors
    /// [`AirError::Outside`] for a humidity outside 0 to 1.
    pub fn exchange_for(&self, humidity: Humidity) -> Result<Need<Exchange>, AirError> {
        let vapour = self.target(humidity)?;
        let (given, drier) = (self.given(vapour), vapour - self.room.0);
        if given <= 0.0 {
            return Ok(Need::Nothing);
        }
        let needed = given / (drier * self.per_exchange);
        Ok(if drier > 0.0 && needed <= EXCHANGES.high {
            Need::Of(Exchange(needed))
        } else {
            Need::OutOfReach
        })
    }
}
