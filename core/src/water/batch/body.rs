//! The water of one pool, and where it came from.

use std::collections::BTreeMap;

use super::BatchId;

/// What is less than this of a batch, in kg, is not followed any further: a femtogram.
const NOTHING: f64 = 1e-18;

/// Where some water came from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(super) enum Origin {
    /// From a batch, before or after it was conditioned once more.
    Batch {
        /// Which.
        batch: BatchId,
        /// Whether it was conditioned in its vessel before this was drawn.
        treated: bool,
    },
    /// From elsewhere.
    Other,
}

impl Origin {
    /// Whether it is a batch, conditioned once more or not.
    pub(super) fn is_of(self, of: BatchId) -> bool {
        matches!(self, Self::Batch { batch, .. } if batch == of)
    }
}

/// What is in a pool of one origin.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Part {
    /// Its water without salt, in kg.
    pub(super) water: f64,
    /// How many kg of it as it was made hold what is dissolved here of it. Vapour does not lessen this.
    pub(super) mark: f64,
}

/// All that is in a pool.
#[derive(Clone, Debug, Default)]
pub(super) struct Body {
    parts: BTreeMap<Origin, Part>,
    /// Its salt in kg.
    salt: f64,
}

impl Body {
    /// Its water without salt, in kg.
    pub(super) fn water(&self) -> f64 {
        self.parts.values().map(|part| part.water).sum()
    }

    /// How much of its water may go as vapour, in kg: all but a millionth of what it came from. A pool with less is dry.
    pub(super) fn vapour(&self) -> f64 {
        let mark: f64 = self.parts.values().map(|part| part.mark).sum();
        self.water() - mark * 1e-6
    }

    /// Its salt in kg.
    pub(super) fn salt(&self) -> f64 {
        self.salt
    }

    /// Water and salt in kg.
    pub(super) fn mass(&self) -> f64 {
        self.water() + self.salt
    }

    /// What is in it, by origin.
    pub(super) fn parts(&self) -> impl Iterator<Item = (Origin, Part)> {
        self.parts.iter().map(|(origin, part)| (*origin, *part))
    }

    /// Its salinity in g/kg; 0 if it is empty.
    pub(super) fn salinity(&self) -> f64 {
        let mass = self.mass();
        if mass > 0.0 {
            self.salt / mass * 1000.0
        } else {
            0.0
        }
    }

    /// Puts in kg of a salinity in g/kg.
    pub(super) fn add(&mut self, origin: Origin, mass: f64, salinity: f64) {
        let salt = mass * salinity / 1000.0;
        self.salt += salt;
        let part = self.parts.entry(origin).or_default();
        part.water += mass - salt;
        part.mark += mass;
    }

    /// Takes out kg of what is in it, well mixed; all of it if more is asked than there is. Gives what came out: mass and
    /// salt in kg.
    pub(super) fn remove(&mut self, mass: f64) -> (f64, f64) {
        let (held, salt) = (self.mass(), self.salt);
        if mass >= held {
            *self = Self::default();
            return (held, salt);
        }
        let stays = 1.0 - mass / held;
        self.salt *= stays;
        for part in self.parts.values_mut() {
            part.water *= stays;
            part.mark *= stays;
        }
        self.parts.retain(|_, part| part.mark > NOTHING);
        if self.parts.is_empty() {
            self.salt = 0.0;
        }
        (mass, salt - self.salt)
    }

    /// Lets kg of its water go as vapour. It must be less than [`Body::vapour`].
    pub(super) fn evaporate(&mut self, mass: f64) {
        let stays = 1.0 - mass / self.water();
        for part in self.parts.values_mut() {
            part.water *= stays;
        }
    }
}
