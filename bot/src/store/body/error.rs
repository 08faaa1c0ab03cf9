//! Errors of the driver, with what was being done; what they mean stands in each database's `meaning`.

use super::meaning::meaning;
use crate::store::{Result, StoreError};

/// Names what was being done when the driver failed.
pub(super) trait Doing<T> {
    /// Turns the driver's error into the store's.
    fn doing(self, doing: &'static str) -> Result<T>;

    /// The same, with a meaning for a row that exists already.
    fn doing_unless_taken(self, doing: &'static str, taken: StoreError) -> Result<T>;
}

impl<T> Doing<T> for std::result::Result<T, sqlx::Error> {
    fn doing(self, doing: &'static str) -> Result<T> {
        self.map_err(|error| meaning(error, doing))
    }

    fn doing_unless_taken(self, doing: &'static str, taken: StoreError) -> Result<T> {
        self.map_err(|error| match &error {
            sqlx::Error::Database(told) if told.is_unique_violation() => taken,
            _ => meaning(error, doing),
        })
    }
}

/// An error that is none of the driver's.
pub(super) fn other(
    doing: &'static str,
    source: impl Into<Box<dyn std::error::Error + Send + Sync>>,
) -> StoreError {
    StoreError::Other {
        doing,
        source: source.into(),
    }
}
