//! The names of readings, as people write them.

use super::nitrogen::AMMONIUM_PER_NITROGEN;
use super::word::Words;
use super::{Basis, Kind};

/// What a name says about the number beside it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Name {
    /// What is read.
    pub(super) kind: Kind,
    /// What it is counted as, if the name says so.
    pub(super) counted: Option<Counted>,
}

/// What the milligrams of a nitrogen compound are milligrams of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Counted {
    /// Of one of the two bases.
    As(Basis),
    /// Of ammonium, which is neither of them.
    Ammonium,
}

impl Counted {
    /// A concentration counted this way, on a basis that can be kept.
    pub(super) fn settle(self, mg_l: f64) -> (f64, Basis) {
        match self {
            Self::As(basis) => (mg_l, basis),
            Self::Ammonium => (mg_l / AMMONIUM_PER_NITROGEN, Basis::Nitrogen),
        }
    }
}

const ION: Option<Counted> = Some(Counted::As(Basis::Ion));
const NITROGEN: Option<Counted> = Some(Counted::As(Basis::Nitrogen));

static NAMES: &[(&str, Kind, Option<Counted>)] = &[
    ("humidity", Kind::Humidity, None),
    ("relative humidity", Kind::Humidity, None),
    ("rh", Kind::Humidity, None),
    ("hum", Kind::Humidity, None),
    ("temperature", Kind::Temperature, None),
    ("temp", Kind::Temperature, None),
    ("sg", Kind::Gravity, None),
    ("s.g", Kind::Gravity, None),
    ("s g", Kind::Gravity, None),
    ("gravity", Kind::Gravity, None),
    ("specific gravity", Kind::Gravity, None),
    ("salinity", Kind::Salinity, None),
    ("conductivity", Kind::Conductivity, None),
    ("ec", Kind::Conductivity, None),
    ("ph", Kind::Ph, None),
    ("p h", Kind::Ph, None),
    ("ammonia", Kind::Ammonia, None),
    ("nh3", Kind::Ammonia, ION),
    ("nh3-n", Kind::Ammonia, NITROGEN),
    ("nh4", Kind::Ammonia, Some(Counted::Ammonium)),
    ("nh4+", Kind::Ammonia, Some(Counted::Ammonium)),
    ("ammonium", Kind::Ammonia, Some(Counted::Ammonium)),
    ("nh4-n", Kind::Ammonia, NITROGEN),
    ("ammonia-n", Kind::Ammonia, NITROGEN),
    ("ammonia nitrogen", Kind::Ammonia, NITROGEN),
    ("nitrite", Kind::Nitrite, None),
    ("nitrites", Kind::Nitrite, None),
    ("no2", Kind::Nitrite, ION),
    ("no2-", Kind::Nitrite, ION),
    ("no2-n", Kind::Nitrite, NITROGEN),
    ("nitrite-n", Kind::Nitrite, NITROGEN),
    ("nitrite nitrogen", Kind::Nitrite, NITROGEN),
    ("nitrate", Kind::Nitrate, None),
    ("nitrates", Kind::Nitrate, None),
    ("no3", Kind::Nitrate, ION),
    ("no3-", Kind::Nitrate, ION),
    ("no3-n", Kind::Nitrate, NITROGEN),
    ("nitrate-n", Kind::Nitrate, NITROGEN),
    ("nitrate nitrogen", Kind::Nitrate, NITROGEN),
    ("chlorine", Kind::Chlorine, None),
    ("cl2", Kind::Chlorine, None),
    ("level", Kind::Level, None),
    ("depth", Kind::Level, None),
    ("water level", Kind::Level, None),
    ("water depth", Kind::Level, None),
];

/// Finds the name that starts at a word, the longest first; also gives the word behind it.
pub(super) fn find(words: &Words<'_>, at: usize) -> Option<(Name, usize)> {
    let two = format!("{} {}", words.key(at), words.key(at + 1));
    let exact = |text: &str| {
        NAMES
            .iter()
            .find(|(n, ..)| *n == text)
            .map(|&(_, kind, counted)| Name { kind, counted })
    };
    exact(&two)
        .map(|name| (name, at + 2))
        .or_else(|| exact(words.key(at)).map(|name| (name, at + 1)))
}

/// Reads "as N", "as nitrogen", "as NO3", "as ion" behind a nitrogen compound; also gives the word behind it.
pub(super) fn counted_as(words: &Words<'_>, at: usize, kind: Kind) -> Option<(Counted, usize)> {
    if words.key(at) != "as" {
        return None;
    }
    match words.key(at + 1) {
        "n" | "nitrogen" => Some((Counted::As(Basis::Nitrogen), at + 2)),
        "ion" => Some((Counted::As(Basis::Ion), at + 2)),
        _ => {
            let (name, end) = find(words, at + 1).filter(|(name, _)| name.kind == kind)?;
            Some((name.counted.unwrap_or(Counted::As(Basis::Ion)), end))
        }
    }
}

/// Whether a word may stand between a name and its number and mean nothing: "humidity is 82 %".
pub(super) fn is_filler(word: &str) -> bool {
    matches!(
        word,
        "is" | "was" | "at" | "of" | "reads" | "now" | "about" | "around" | "roughly" | "-"
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_names() {
        for (text, want) in [
            ("Humidity 82", Some((Kind::Humidity, None, 1))),
            ("specific gravity 1.02", Some((Kind::Gravity, None, 2))),
            ("pH", Some((Kind::Ph, None, 1))),
            ("NO₃-N", Some((Kind::Nitrate, NITROGEN, 1))),
            ("NO3\u{207b}", Some((Kind::Nitrate, ION, 1))),
            ("water level", Some((Kind::Level, None, 2))),
            ("water", None),
            ("no 2", None),
            ("", None),
        ] {
            let got = find(&Words::new(text), 0).map(|(name, end)| (name.kind, name.counted, end));
            assert_eq!(got, want, "{text:?}");
        }
        for kind in Kind::ALL {
            assert!(NAMES.iter().any(|(_, k, _)| *k == kind), "{kind:?} has no name");
        }
    }

    #[test]
    fn check_bases() {
        for (text, want) in [
            ("as N", Some((Counted::As(Basis::Nitrogen), 2))),
            ("as nitrogen", Some((Counted::As(Basis::Nitrogen), 2))),
            ("as NO3", Some((Counted::As(Basis::Ion), 2))),
            ("as nitrate", Some((Counted::As(Basis::Ion), 2))),
            ("as NO3-N", Some((Counted::As(Basis::Nitrogen), 2))),
            ("as NO2", None),
            ("as usual", None),
            ("N", None),
        ] {
            assert_eq!(counted_as(&Words::new(text), 0, Kind::Nitrate), want, "{text:?}");
        }
        let (mg_l, basis) = Counted::Ammonium.settle(1.287_86);
        assert!((mg_l - 1.0).abs() < 1e-5 && basis == Basis::Nitrogen, "{mg_l}");
    }
}
