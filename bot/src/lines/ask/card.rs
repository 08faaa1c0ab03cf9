//! The cards for emergencies.

/// A card for an emergency.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Card {
    /// Water where none should be, much of it.
    Flood,
    /// No power.
    PowerCut,
    /// Water that was not treated went in.
    Untreated,
    /// A salt pool that is too salty.
    Salt,
    /// The air has been too humid for long.
    Humid,
    /// A container leaks.
    Leak,
}

impl Card {
    /// All of them, in the order in which they are listed.
    pub const ALL: [Self; 6] = [
        Self::Flood,
        Self::PowerCut,
        Self::Untreated,
        Self::Salt,
        Self::Humid,
        Self::Leak,
    ];

    /// Its code.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Flood => "flood",
            Self::PowerCut => "power-cut",
            Self::Untreated => "untreated-water",
            Self::Salt => "too-much-salt",
            Self::Humid => "humid-spell",
            Self::Leak => "leak",
        }
    }
}
