//! A value with its doubt.

/// A value as it may be: at the low end, likely, and at the high end.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Spread<T> {
    /// The low end.
    pub low: T,
    /// The likely value.
    pub likely: T,
    /// The high end.
    pub high: T,
}

impl<T: Copy> Spread<T> {
    /// A value between two ends.
    #[must_use]
    pub const fn new(low: T, likely: T, high: T) -> Self {
        Self { low, likely, high }
    }

    /// A value that is known: all three are the same.
    #[must_use]
    pub const fn known(value: T) -> Self {
        Self::new(value, value, value)
    }

    /// Each of the three changed alike.
    #[must_use]
    pub fn map<U>(self, change: impl Fn(T) -> U) -> Spread<U> {
        Spread {
            low: change(self.low),
            likely: change(self.likely),
            high: change(self.high),
        }
    }

    /// Two joined, low with low and high with high.
    #[must_use]
    pub fn with<U: Copy, V>(self, other: Spread<U>, join: impl Fn(T, U) -> V) -> Spread<V> {
        Spread {
            low: join(self.low, other.low),
            likely: join(self.likely, other.likely),
            high: join(self.high, other.high),
        }
    }
}
