//! What a turn asks of whoever does it.

use crate::people::Skills;

/// What a turn asks for.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Needs {
    /// Water is drawn with a siphon.
    pub siphon: bool,
    /// Marine salt water is mixed.
    pub salt: bool,
    /// The heaviest that is lifted, in kilograms; 0 for nothing worth a word.
    pub lift_kg: f64,
}

impl Needs {
    /// Whether someone with these skills can do it.
    #[must_use]
    pub fn met_by(&self, skills: &Skills) -> bool {
        (!self.siphon || skills.siphon)
            && (!self.salt || skills.salt)
            && skills.lift_kg.is_none_or(|most| self.lift_kg <= most)
    }

    /// What both ask for.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self {
            siphon: self.siphon || other.siphon,
            salt: self.salt || other.salt,
            lift_kg: self.lift_kg.max(other.lift_kg),
        }
    }
}
