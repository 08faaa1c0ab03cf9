//! Topics of ammonia, nitrogen and nitrification.

use super::Claim;

/// Each of its topics, once.
pub(super) const CLAIMS: &[(&str, Claim)] = &[];
