//! Topics of sea water and its instruments.

use super::Claim;

/// Each of its topics, once.
pub(super) const CLAIMS: &[(&str, Claim)] = &[];
