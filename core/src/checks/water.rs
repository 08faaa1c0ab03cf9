//! Topics of what is mixed, thinned and conditioned.

use super::Claim;

/// Each of its topics, once.
pub(super) const CLAIMS: &[(&str, Claim)] = &[];
