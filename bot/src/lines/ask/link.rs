//! What is linked to the one who asks.

/// `/link`
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LinkAsk {
    /// `/link list`
    List,
    /// `/link calendar [alarm 30 min|none]`
    Calendar {
        /// How many minutes before a turn an alarm rings; `None`: none does.
        alarm_min: Option<u32>,
    },
    /// `/link calendar off`
    CalendarOff,
}
