//! Who answers for which topic.

use super::Claim;
use Claim::{Elsewhere, Not};

const SHARES: &str =
    "whose turn it is goes in rotation for now: nothing here computes shares, credits or their fairness";
const TRENDS: &str = "no trend of readings is computed here yet";

/// Each topic that is not computed from here, once.
pub(super) const CLAIMS: &[(&str, Claim)] = &[
    // Local time, weeks, recurrences: against two libraries.
    ("timezone", Elsewhere("tests/time/examples.rs")),
    ("iso_week", Elsewhere("tests/time/examples.rs")),
    ("rrule", Elsewhere("tests/time/recurrences.rs")),
    (
        "ics_fold",
        Not("no calendar is written yet, so no line of one is folded"),
    ),
    // Care.
    ("husbandry", Elsewhere("tests/weeks/husbandry.rs")),
    // Units.
    ("units", Elsewhere("core/src/quantity/factor.rs")),
    ("nitrogen_units", Elsewhere("core/src/quantity/nitrogen.rs")),
    // Whose turn.
    ("jain_index", Not(SHARES)),
    ("largest_remainder", Not(SHARES)),
    ("drr", Not(SHARES)),
    ("min_normalised_load", Not(SHARES)),
    ("smooth_wrr", Not(SHARES)),
    // Trends.
    ("ewma", Not(TRENDS)),
    ("holt", Not(TRENDS)),
    ("theil_sen", Not(TRENDS)),
];
