//! Topics of moist air and its balance.

use super::Claim;

/// Each of its topics, once.
pub(super) const CLAIMS: &[(&str, Claim)] = &[];
