//! The units a place reads in.

use serde::{Deserialize, Serialize};

/// The units a place reads in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Units {
    /// Litres, °C, centimetres, grams.
    #[default]
    Metric,
    /// US gallons, °F, inches, ounces and pounds.
    Us,
    /// Imperial gallons, °C, centimetres, grams.
    Imperial,
}

impl Units {
    /// Reads the name of a system of units in any case; `None` for anything else.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        match text.trim().to_lowercase().as_str() {
            "metric" | "si" => Some(Self::Metric),
            "us" | "u.s." | "american" => Some(Self::Us),
            "imperial" | "imp" | "uk" | "british" => Some(Self::Imperial),
            _ => None,
        }
    }

    /// The name that [`Units::parse`] reads.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Metric => "metric",
            Self::Us => "us",
            Self::Imperial => "imperial",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_names() {
        for units in [Units::Metric, Units::Us, Units::Imperial] {
            assert_eq!(Units::parse(units.as_str()), Some(units));
        }
        for (text, want) in [
            (" US ", Some(Units::Us)),
            ("Imperial", Some(Units::Imperial)),
            ("METRIC", Some(Units::Metric)),
            ("", None),
            ("furlongs", None),
        ] {
            assert_eq!(Units::parse(text), want, "{text:?}");
        }
        assert_eq!(Units::default(), Units::Metric);
    }
}
