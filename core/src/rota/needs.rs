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
        self.beyond(skills) == Self::default()
    }

    /// What of it someone with these skills lacks; nothing where they can do it.
    #[must_use]
    pub fn beyond(&self, skills: &Skills) -> Self {
        let may_lift = skills.lift_kg.is_none_or(|most| self.lift_kg <= most);
        Self {
            siphon: self.siphon && !skills.siphon,
            salt: self.salt && !skills.salt,
            lift_kg: if may_lift { 0.0 } else { self.lift_kg },
        }
    }

    /// What each of the two asks for.
    #[must_use]
    pub fn common(self, other: Self) -> Self {
        Self {
            siphon: self.siphon && other.siphon,
            salt: self.salt && other.salt,
            lift_kg: self.lift_kg.min(other.lift_kg),
        }
    }

    /// What one of the two or both ask for.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        Self {
            siphon: self.siphon || other.siphon,
            salt: self.salt || other.salt,
            lift_kg: self.lift_kg.max(other.lift_kg),
        }
    }
}
