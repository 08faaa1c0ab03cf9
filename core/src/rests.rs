//! What a number rests on, so that no answer sounds surer than it is.

/// What a number rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rests {
    /// Said by the place's own people, read off a label, or fitted to their journal.
    Place,
    /// A published source that was seen.
    Seen,
    /// Computed from a stated formula; its inputs carry the doubt.
    Computed,
    /// A published source as remembered: not seen again.
    Memory,
    /// Common practice, with no published source.
    Practice,
}

impl Rests {
    /// The weaker of two: an answer rests on the weakest thing in it.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        self.max(other)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_the_weaker_counts() {
        assert_eq!(Rests::Seen.and(Rests::Practice), Rests::Practice);
        assert_eq!(Rests::Memory.and(Rests::Place), Rests::Memory);
    }
}
