//! What a place mixes with: its conditioner by the label, its salt, its buckets, its tap.
//!
//! What nobody said stands at a default that is common practice with no published source, and is told as such.

use serde::{Deserialize, Serialize};

use crate::quantity::{Hours, Litres, Millilitres, Salinity};
use crate::rests::Rests;
use crate::water::conditioner::{ForChloramine, Label, Mains};
use crate::water::mixing::{self, Learnt, Mixed, ProductFactor};

/// The salinity of a salt pool where none was set, in g/kg: that of the open sea, common practice with no published
/// source for land hermit crabs.
pub const TARGET: Salinity = Salinity(35.0);

/// What goes into a bucket where none was set, with room to carry it: common practice, no published source.
pub const BUCKET: Litres = Litres(10.0);

/// The label of a bottle of conditioner, as the place entered it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Conditioner {
    /// What it is called; empty where nobody said.
    pub name: String,
    /// Its dose in mL, above 0 and up to 10,000 …
    pub dose_ml: f64,
    /// … for so many litres of water.
    pub per_l: f64,
    /// What the label says of chloramine.
    pub chloramine: ForChloramine,
    /// How many hours it holds what it binds, if the label says.
    pub hold_h: Option<f64>,
    /// Whether it binds ammonia, and so may disturb ammonia tests.
    pub binds_ammonia: bool,
}

impl Conditioner {
    /// The label to compute with.
    #[must_use]
    pub fn label(&self) -> Label {
        Label {
            dose: Millilitres(self.dose_ml),
            per: Litres(self.per_l),
            chloramine: self.chloramine,
            hold: self.hold_h.map(Hours),
            binds_ammonia: self.binds_ammonia,
        }
    }
}

/// A change of the supplies.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum SupplyChange {
    /// The conditioner's label, or none.
    Conditioner(Option<Conditioner>),
    /// The salt product's name, or none; what was learnt of the one before it is put aside.
    Salt(Option<String>),
    /// The salt product's factor, by the keeper's word: 0.7 to 1.3.
    Factor(f64),
    /// Water that was mixed and measured.
    Mixed {
        /// The factor that its salt was counted with.
        with: f64,
        /// The salinity that was to be expected, in g/kg.
        expected: f64,
        /// The salinity that was measured, in g/kg.
        measured: f64,
    },
    /// The salinity wanted in salt pools, in g/kg.
    Target(f64),
    /// How much more is prepared than the pools take, as a part of it: 0 to 1.
    Margin(f64),
    /// What goes into a bucket, in litres.
    Bucket(f64),
    /// What the tap water holds of salt, in g/kg.
    Source(f64),
    /// What the tap water is disinfected with.
    Mains(Mains),
}

/// What a place mixes with. What is `None` was never set.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Supplies {
    /// The conditioner by its label.
    pub conditioner: Option<Conditioner>,
    /// The salt product's name.
    pub salt: Option<String>,
    /// The salinity wanted in salt pools, in g/kg.
    pub target: Option<f64>,
    /// How much more is prepared than the pools take, as a part of it.
    pub margin: Option<f64>,
    /// What goes into a bucket, in litres.
    pub bucket: Option<f64>,
    /// What the tap water holds of salt, in g/kg.
    pub source: Option<f64>,
    /// What the tap water is disinfected with.
    pub mains: Option<Mains>,
    /// The salt product's factor by the keeper's word.
    said_factor: Option<f64>,
    /// What was mixed with it and measured.
    mixed: Vec<Mixed>,
}

impl Supplies {
    /// Takes up a change.
    pub fn apply(&mut self, change: &SupplyChange) {
        match change {
            SupplyChange::Conditioner(label) => self.conditioner.clone_from(label),
            SupplyChange::Salt(name) => {
                self.salt.clone_from(name);
                (self.said_factor, self.mixed) = (None, Vec::new());
            }
            SupplyChange::Factor(factor) => {
                (self.said_factor, self.mixed) = (Some(*factor), Vec::new());
            }
            SupplyChange::Mixed {
                with,
                expected,
                measured,
            } => self
                .mixed
                .extend(ProductFactor::new(*with).ok().map(|with| Mixed {
                    with,
                    expected: Salinity(*expected),
                    measured: Salinity(*measured),
                })),
            SupplyChange::Target(salinity) => self.target = Some(*salinity),
            SupplyChange::Margin(margin) => self.margin = Some(*margin),
            SupplyChange::Bucket(litres) => self.bucket = Some(*litres),
            SupplyChange::Source(salinity) => self.source = Some(*salinity),
            SupplyChange::Mains(mains) => self.mains = Some(*mains),
        }
    }

    /// What was learnt of the salt product; `None` without a measurement that a product explains.
    #[must_use]
    pub fn learnt(&self) -> Option<Learnt> {
        mixing::learnt(&self.mixed).ok()
    }

    /// What a gram of the salt product is worth: learnt, else by the keeper's word, else that of dry salt.
    #[must_use]
    pub fn factor(&self) -> ProductFactor {
        let said = || self.said_factor.and_then(|value| ProductFactor::new(value).ok());
        self.learnt()
            .map(|learnt| learnt.factor)
            .or_else(said)
            .unwrap_or(ProductFactor::DRY)
    }

    /// The salinity wanted in salt pools: 35 g/kg where none was set.
    #[must_use]
    pub fn wanted(&self) -> Salinity {
        self.target.map_or(TARGET, Salinity)
    }

    /// How much more is prepared than the pools take: 5 % where nothing was set.
    #[must_use]
    pub fn spill(&self) -> f64 {
        self.margin.unwrap_or(mixing::MARGIN)
    }

    /// What the spill margin rests on.
    #[must_use]
    pub fn spill_rests(&self) -> Rests {
        self.margin.map_or(Rests::Practice, |_| Rests::Place)
    }

    /// What the salinity of the salt pools rests on.
    #[must_use]
    pub fn wanted_rests(&self) -> Rests {
        self.target.map_or(Rests::Practice, |_| Rests::Place)
    }

    /// What goes into a bucket: 10 L where nothing was set.
    #[must_use]
    pub fn bucket(&self) -> Litres {
        self.bucket.map_or(BUCKET, Litres)
    }

    /// What the tap water holds of salt: none where nothing was set.
    #[must_use]
    pub fn tap(&self) -> Salinity {
        Salinity(self.source.unwrap_or(0.0))
    }

    /// What the tap water is disinfected with: chlorine where nothing was said.
    #[must_use]
    pub fn mains(&self) -> Mains {
        self.mains.unwrap_or(Mains::Chlorine)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rests::Rests;

    fn mixed(measured: f64) -> SupplyChange {
        SupplyChange::Mixed {
            with: 1.0,
            expected: 35.0,
            measured,
        }
    }

    fn after(changes: &[SupplyChange]) -> Supplies {
        let mut supplies = Supplies::default();
        changes.iter().for_each(|change| supplies.apply(change));
        supplies
    }

    #[test]
    fn nothing_said_is_practice() {
        let none = Supplies::default();
        assert_eq!(none.wanted(), Salinity(35.0));
        assert_eq!((none.spill(), none.bucket()), (0.05, Litres(10.0)));
        assert_eq!(
            (none.factor(), none.factor().rests()),
            (ProductFactor::DRY, Rests::Practice)
        );
        assert_eq!((none.tap(), none.mains()), (Salinity(0.0), Mains::Chlorine));
    }

    #[test]
    fn the_middle_of_what_was_measured_is_learnt() {
        let supplies = after(&[mixed(33.6), mixed(33.25), mixed(34.3)]);
        assert!((supplies.factor().value() - 0.96).abs() < 1e-12);
        assert_eq!(supplies.factor().rests(), Rests::Place);
        assert_eq!(supplies.learnt().map(|learnt| learnt.used), Some(3));
        // One that no product explains is left out.
        let supplies = after(&[mixed(12.0), mixed(34.3)]);
        assert_eq!(
            supplies.learnt().map(|learnt| (learnt.used, learnt.left_out)),
            Some((1, 1))
        );
    }

    #[test]
    fn another_salt_and_a_word_put_aside_what_was_learnt() {
        let word = after(&[mixed(33.6), SupplyChange::Factor(0.97)]);
        assert_eq!(word.factor().value(), 0.97);
        let other = after(&[mixed(33.6), SupplyChange::Salt(Some("Other".to_owned()))]);
        assert_eq!(other.factor(), ProductFactor::DRY);
    }
}
