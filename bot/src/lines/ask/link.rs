//! What is linked to the one who asks.

/// `/link`
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LinkAsk {
    /// `/link list`
    List,
    /// `/link calendar [alarm 30 min|none]`
    Calendar {
        /// Whether an alarm rings.
        alarm: Alarm,
    },
    /// `/link calendar off`
    CalendarOff,
}

/// The alarm of a calendar, as it is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Alarm {
    /// Nothing was said: as the address before had it, else none.
    AsBefore,
    /// None.
    Off,
    /// So many minutes before a turn.
    Before(u32),
}
