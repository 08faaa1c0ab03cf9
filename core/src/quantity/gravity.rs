//! Which two temperatures a specific gravity compares.

use serde::{Deserialize, Serialize};

/// The temperatures of sample and reference water that a specific-gravity instrument is made for. The same water
/// reads up to 0.003 differently under two of them, so a gravity without one says little.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum GravityConvention {
    /// Sample and water at 25 °C.
    #[serde(rename = "25/25")]
    T25T25,
    /// Sample and water at 20 °C.
    #[serde(rename = "20/20")]
    T20T20,
    /// Sample and water at 60 °F (15.56 °C).
    #[serde(rename = "60F/60F")]
    F60F60,
    /// Sample at 25 °C, water at 4 °C.
    #[serde(rename = "25/4")]
    T25T4,
}

impl GravityConvention {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::T25T25, Self::T20T20, Self::F60F60, Self::T25T4];

    /// Reads a convention as instruments print it: "25/25", "20/20 °C", "60F/60F", "25/4". Degree signs, spaces
    /// and the letter of the scale may be left out; `None` for anything else.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let bare: String = text
            .to_lowercase()
            .chars()
            .filter(|c| !c.is_whitespace() && !matches!(c, '°' | 'º'))
            .collect();
        match bare.as_str() {
            "25/25" | "25c/25c" | "25/25c" => Some(Self::T25T25),
            "20/20" | "20c/20c" | "20/20c" => Some(Self::T20T20),
            "60/60" | "60f/60f" | "60/60f" => Some(Self::F60F60),
            "25/4" | "25c/4c" | "25/4c" => Some(Self::T25T4),
            _ => None,
        }
    }

    /// The written form that [`GravityConvention::parse`] reads.
    #[must_use]
    pub fn as_str(self) -> &'static str {
        match self {
            Self::T25T25 => "25/25",
            Self::T20T20 => "20/20",
            Self::F60F60 => "60F/60F",
            Self::T25T4 => "25/4",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_written_forms() {
        for convention in GravityConvention::ALL {
            assert_eq!(GravityConvention::parse(convention.as_str()), Some(convention));
        }
        for (text, want) in [
            ("25 °C / 25 °C", Some(GravityConvention::T25T25)),
            ("60/60 °F", Some(GravityConvention::F60F60)),
            ("20C/20C", Some(GravityConvention::T20T20)),
            ("25", None),
            ("4/25", None),
            ("60C/60C", None),
        ] {
            assert_eq!(GravityConvention::parse(text), want, "{text:?}");
        }
    }
}
