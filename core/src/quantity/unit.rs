//! The units that people write, and how to find one in a text.

use self::table::UNITS;
use super::Units;
use super::factor::{celsius_to_fahrenheit, fahrenheit_to_celsius};
use super::word::Words;

mod table;

/// What a unit measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Dim {
    /// Canonical: litres.
    Volume,
    /// Canonical: centimetres.
    Length,
    /// Canonical: grams.
    Mass,
    /// Canonical: minutes.
    Time,
    /// The half of the day behind an hour; no quantity.
    Clock,
    /// Percent of anything.
    Percent,
    /// Percent that can only be relative humidity.
    Moisture,
    /// Canonical: °C.
    Temperature,
    /// Degrees of a scale that was not named.
    Degrees,
    /// Canonical: g/kg.
    Salinity,
    /// Canonical: mS/cm.
    Conductivity,
    /// Canonical: mg/L.
    Dissolved,
    /// Canonical: mg/L, counted as nitrogen.
    DissolvedNitrogen,
}

/// How a unit relates to the canonical one.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Scale {
    /// So many canonical units make one.
    Times(f64),
    /// Degrees Fahrenheit.
    Fahrenheit,
}

/// A unit.
#[derive(Debug, PartialEq)]
pub(super) struct Unit {
    /// The symbol it is printed with.
    pub(super) symbol: &'static str,
    /// What it measures.
    pub(super) dim: Dim,
    scale: Scale,
    /// Names that mean this unit alone.
    names: &'static [&'static str],
    /// Names that the US and the imperial unit share.
    shared: &'static [&'static str],
    imperial: bool,
}

impl Unit {
    /// A value in this unit, in the canonical one.
    pub(super) fn to_base(&self, value: f64) -> f64 {
        match self.scale {
            Scale::Times(factor) => value * factor,
            Scale::Fahrenheit => fahrenheit_to_celsius(value),
        }
    }

    /// A value in the canonical unit, in this one.
    pub(super) fn of_base(&self, value: f64) -> f64 {
        match self.scale {
            Scale::Times(factor) => value / factor,
            Scale::Fahrenheit => celsius_to_fahrenheit(value),
        }
    }
}

/// The most words that the name of a unit has.
const LONGEST: usize = 4;

/// Finds the unit whose name starts at a word, the longest name first; also gives the word behind it. A shared
/// name ("gal") means the imperial unit where `units` is imperial, and the US one elsewhere.
pub(super) fn find(words: &Words<'_>, at: usize, units: Units) -> Option<(&'static Unit, usize)> {
    let most = LONGEST.min(words.len().saturating_sub(at));
    (1..=most).rev().find_map(|n| {
        let name = (at..at + n)
            .map(|i| words.key(i))
            .collect::<Vec<_>>()
            .join(" ")
            .replace(" / ", "/");
        named(&name, units).map(|unit| (unit, at + n))
    })
}

fn named(name: &str, units: Units) -> Option<&'static Unit> {
    let system = |prefixes: &[&str]| prefixes.iter().find_map(|p| name.strip_prefix(p));
    let (shared, imperial) = if let Some(rest) = system(&["us ", "u.s ", "u.s. ", "american "]) {
        (rest, false)
    } else if let Some(rest) = system(&["imp ", "imp. ", "imperial ", "uk ", "british "]) {
        (rest, true)
    } else {
        (name, units == Units::Imperial)
    };
    let scale = ["degrees ", "degree ", "deg ", "deg. ", "° ", "°"]
        .iter()
        .find_map(|p| name.strip_prefix(p));
    UNITS.iter().find(|unit| {
        unit.names.contains(&name)
            || (unit.imperial == imperial && unit.shared.contains(&shared))
            || (unit.dim == Dim::Temperature && scale.is_some_and(|scale| unit.names.contains(&scale)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_finding() {
        for (text, units, want) in [
            ("gal", Units::Metric, Some(("US gal", 1))),
            ("gallons", Units::Imperial, Some(("imp gal", 1))),
            ("U.S. gal", Units::Imperial, Some(("US gal", 2))),
            ("imperial gallons", Units::Us, Some(("imp gal", 2))),
            ("fl oz", Units::Us, Some(("US fl oz", 2))),
            ("Cups", Units::Imperial, Some(("US cup", 1))),
            ("° C", Units::Metric, Some(("°C", 2))),
            ("degrees fahrenheit", Units::Metric, Some(("°F", 2))),
            ("degrees north", Units::Metric, Some(("°", 1))),
            ("mg / L", Units::Metric, Some(("mg/L", 3))),
            ("% RH", Units::Metric, Some(("%", 2))),
            ("% 26 C", Units::Metric, Some(("%", 1))),
            ("parts per thousand", Units::Metric, Some(("g/kg", 3))),
            ("US", Units::Us, None),
            ("bananas", Units::Metric, None),
            ("", Units::Metric, None),
        ] {
            let got = find(&Words::new(text), 0, units).map(|(unit, end)| (unit.symbol, end));
            assert_eq!(got, want, "{text:?}");
        }
    }

    #[test]
    fn check_names_are_unique() {
        let mut names: Vec<_> = UNITS.iter().flat_map(|unit| unit.names).collect();
        names.sort_unstable();
        let all = names.len();
        names.dedup();
        assert_eq!(names.len(), all);
    }

    #[test]
    fn check_both_ways() {
        for unit in UNITS {
            for value in [0.0, 0.3, 7.0, 78.0, 5000.0] {
                let back = unit.of_base(unit.to_base(value));
                assert!(
                    (back - value).abs() < 1e-9,
                    "{} {value} came back as {back}",
                    unit.symbol
                );
            }
        }
    }
}
