//! Topics of vessels, tubes and filters.

use super::Claim;

/// Each of its topics, once.
pub(super) const CLAIMS: &[(&str, Claim)] = &[];
