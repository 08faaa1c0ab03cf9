//! The words that people have for duties and for what they see.

use wrackline_core::care::Duty;
use wrackline_core::journal::Sighting;

/// What people say for the duties of the catalogue; the first of each is its own name.
pub(super) const DUTIES: [(Duty, &[&str]); 12] = [
    (
        Duty::Change,
        &[
            "change",
            "changed",
            "changes",
            "changing",
            "water change",
            "water changed",
            "changed water",
            "changed the water",
            "full change",
            "full water change",
        ],
    ),
    (
        Duty::PartChange,
        &[
            "part change",
            "part",
            "partial",
            "partial change",
            "part changed",
            "partly changed",
            "partial water change",
            "part water change",
        ],
    ),
    (
        Duty::Condition,
        &[
            "condition",
            "conditioner",
            "conditioned",
            "conditioning",
            "dechlorinate",
            "dechlorinated",
            "dechlorinator",
        ],
    ),
    (
        Duty::TopUp,
        &["top up", "topup", "topped up", "topping up", "topped off"],
    ),
    (
        Duty::Test,
        &[
            "test",
            "water test",
            "tested",
            "testing",
            "tests",
            "tested water",
            "tested the water",
        ],
    ),
    (
        Duty::Rinse,
        &[
            "rinse",
            "media rinse",
            "rinsed",
            "rinsing",
            "rinse media",
            "rinsed media",
            "rinsed the media",
            "filter rinse",
            "rinse filter",
            "rinsed the filter",
        ],
    ),
    (
        Duty::AirCheck,
        &[
            "air check",
            "stone check",
            "pump check",
            "stone and pump check",
            "air stone check",
            "check air",
            "checked air",
            "checked the air",
            "checked the stone",
            "checked the pump",
        ],
    ),
    (Duty::Look, &["look", "morning look", "looked"]),
    (Duty::Reading, &["reading", "readings"]),
    (
        Duty::LeakCheck,
        &[
            "leak check",
            "leak checked",
            "checked for leaks",
            "check for leaks",
        ],
    ),
    (Duty::Scrub, &["scrub", "scrubbed", "scrubbing"]),
    (
        Duty::Hygrometer,
        &[
            "hygrometer",
            "hygrometer check",
            "hygrometer checked",
            "check hygrometer",
            "checked the hygrometer",
        ],
    ),
];

/// What people say for what they see; the first of each is its own name.
pub(super) const SIGHTINGS: [(Sighting, &[&str]); 8] = [
    (
        Sighting::Leak,
        &[
            "leak",
            "leaks",
            "leaking",
            "leaked",
            "leakage",
            "flood",
            "flooding",
            "flooded",
            "puddle",
            "water on the floor",
            "wet floor",
        ],
    ),
    (
        Sighting::WetSubstrate,
        &[
            "wet substrate",
            "substrate wet",
            "substrate is wet",
            "wet sand",
            "soaked substrate",
            "damp substrate",
            "sand is wet",
            "sand wet",
        ],
    ),
    (Sighting::Mould, &["mould", "mold", "mouldy", "moldy"]),
    (
        Sighting::Condensation,
        &["condensation", "condensed water", "wet glass"],
    ),
    (Sighting::Splashing, &["splashing", "splash", "splashes"]),
    (
        Sighting::TippedFilter,
        &[
            "tipped filter",
            "filter tipped",
            "filter tipped over",
            "filter is tipped",
            "tipped over filter",
        ],
    ),
    (
        Sighting::Escape,
        &[
            "escape",
            "escaped",
            "escaped crab",
            "crab escaped",
            "crab missing",
            "missing crab",
            "crab out",
            "crab is out",
        ],
    ),
    (
        Sighting::Trouble,
        &[
            "trouble",
            "crab in trouble",
            "crab trouble",
            "sick crab",
            "poorly crab",
            "crab poorly",
            "limp crab",
            "injured crab",
            "crab sick",
            "crab is sick",
            "crabs in trouble",
        ],
    ),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_duty_and_sighting_has_its_words() {
        for duty in Duty::ALL {
            assert!(DUTIES.iter().any(|(one, _)| *one == duty), "{duty:?}");
        }
        for sighting in Sighting::ALL {
            assert!(SIGHTINGS.iter().any(|(one, _)| *one == sighting), "{sighting:?}");
        }
    }

    #[test]
    fn no_word_means_two_duties() {
        let mut all: Vec<&str> = DUTIES
            .iter()
            .flat_map(|(_, names)| names.iter().copied())
            .collect();
        let count = all.len();
        all.sort_unstable();
        all.dedup();
        assert_eq!(all.len(), count);
    }
}
