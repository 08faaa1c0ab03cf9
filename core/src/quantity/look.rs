//! Looking ahead in a text full of readings: is there a number, a name, a unit further on?

use super::name::{self, Name, is_filler};
use super::number::{Dash, Number, number};
use super::unit::{self, Unit};
use super::word::Words;
use super::{GravityConvention, Kind, Problem, Units};

/// The most fillers between a name and its number.
const FILLERS: usize = 3;

/// A unit and the word behind it, if there is one.
pub(super) type FoundUnit = Option<(&'static Unit, usize)>;

/// A number, the words it spans, and a gravity convention that stood before it.
#[derive(Clone, Copy)]
pub(super) struct Value {
    /// The number.
    pub(super) number: Number,
    /// Its first word.
    pub(super) from: usize,
    /// The word behind it.
    pub(super) to: usize,
    /// The convention.
    pub(super) convention: Option<GravityConvention>,
}

/// Looks ahead; changes nothing.
#[derive(Clone, Copy)]
pub(super) struct Look<'a> {
    /// The text.
    pub(super) words: &'a Words<'a>,
}

impl Look<'_> {
    /// The number that belongs to a name which ends before `at`.
    pub(super) fn value_after(self, at: usize, kind: Kind) -> Result<Option<Value>, Problem> {
        let mut convention = None;
        let mut from = at;
        for _ in 0..=FILLERS {
            if let Some((found, next)) = self.convention(from).filter(|_| kind == Kind::Gravity) {
                (convention, from) = (Some(found), next);
            }
            if let Some((number, to)) = number(self.words, from, Dash::Separator)? {
                return Ok(Some(Value {
                    number,
                    from,
                    to,
                    convention,
                }));
            }
            if !is_filler(self.words.key(from)) {
                break;
            }
            from += 1;
        }
        Ok(None)
    }

    /// A gravity convention, with or without "at" before it.
    pub(super) fn convention(self, at: usize) -> Option<(GravityConvention, usize)> {
        let start = at + usize::from(self.words.key(at) == "at");
        GravityConvention::parse(self.words.key(start)).map(|found| (found, start + 1))
    }

    /// Whether a number starts at a word.
    pub(super) fn is_number(self, at: usize) -> bool {
        // Mangled digits are a number too, only a bad one.
        !matches!(number(self.words, at, Dash::Separator), Ok(None))
    }

    /// A name behind its number; not one that has a number of its own behind it.
    pub(super) fn name_behind(self, at: usize) -> Option<(Name, usize)> {
        let (name, next) = name::find(self.words, at)?;
        matches!(self.value_after(next, name.kind), Ok(None)).then_some((name, next))
    }

    /// The unit of a number that ends before `at`. A lone "in" is the inch only behind a level, and only if what
    /// follows is no word that something could be in.
    pub(super) fn unit(self, at: usize, kind: Option<Kind>) -> FoundUnit {
        let (unit, next) = unit::find(self.words, at, Units::Metric)?;
        if self.words.key(at) == "in" && !self.words.glued(at) {
            let free = next == self.words.len()
                || self.words.parted(next)
                || self.is_number(next)
                || name::find(self.words, next).is_some()
                || matches!(self.words.key(next), "-" | "and");
            return (kind == Some(Kind::Level) && free).then_some((unit, next));
        }
        Some((unit, next))
    }

    /// Whether from here on every number has its name behind it: "north 0 ammonia 0 nitrite", but not "tank 2
    /// ammonia 0 nitrite 0", where the first number belongs to the tank.
    pub(super) fn is_list_by_number(self, from: usize) -> bool {
        let mut at = from;
        let mut pairs = 0;
        while let Ok(Some((_, to))) = number(self.words, at, Dash::Separator) {
            let to = self.unit(to, None).map_or(to, |(_, end)| end);
            let Some((_, next)) = name::find(self.words, to) else {
                return false;
            };
            pairs += 1;
            at = next + usize::from(self.words.key(next) == "and");
        }
        pairs >= 2
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_values_behind_names() {
        for (text, kind, want) in [
            ("82", Kind::Humidity, Some(82.0)),
            ("is now about 82", Kind::Humidity, Some(82.0)),
            ("20/20 1.0245", Kind::Gravity, Some(1.0245)),
            ("20/20", Kind::Gravity, None),
            ("in north 82", Kind::Humidity, None),
            ("is is is is 82", Kind::Humidity, None),
            ("", Kind::Humidity, None),
        ] {
            let words = Words::new(text);
            let got = Look { words: &words }.value_after(0, kind).unwrap();
            assert_eq!(got.map(|value| value.number.value), want, "{text:?}");
        }
    }

    #[test]
    fn check_lists() {
        for (text, want) in [
            ("0 ammonia 0 nitrite 20 nitrate", true),
            ("0 ammonia and 20 ppm nitrate", true),
            ("2 ammonia 0 nitrite 0", false),
            ("2 ph 8.1", false),
            ("2 ph", false),
            ("2", false),
        ] {
            let words = Words::new(text);
            assert_eq!(Look { words: &words }.is_list_by_number(0), want, "{text:?}");
        }
    }

    #[test]
    fn check_inches() {
        for (text, kind, want) in [
            ("3 in", Some(Kind::Level), true),
            ("3in", None, true),
            ("3 in 82%", Some(Kind::Level), true),
            ("3 in north", Some(Kind::Level), false),
            ("3 in, north", Some(Kind::Level), true),
            ("3 in", None, false),
            ("3 inches", None, true),
        ] {
            let words = Words::new(text);
            assert_eq!(Look { words: &words }.unit(1, kind).is_some(), want, "{text:?}");
        }
    }
}
