//! Readings out of free text, where pool names and small words stand around them.

use super::draft::{Draft, fits, kind_of, temperature};
use super::look::{FoundUnit, Look, Value};
use super::name::{self, Name, counted_as, is_filler};
use super::number::{Dash, number};
use super::unit::Dim;
use super::word::Words;
use super::{GravityConvention, Kind, Measured, Problem, What};

#[cfg(test)]
mod problem_tests;
#[cfg(test)]
mod tests;

/// Words behind a number that cannot be its unit.
const JOINING: [&str; 8] = ["and", "in", "for", "with", "on", "but", "then", "as"];

/// Reads all readings in a text, and gives back the words that are part of none, joined by single spaces. `gravity`
/// is the convention of the place's instrument, used where the text gives none.
///
/// A whole number directly behind a word ("tank 2") belongs to that word, and spans and times of day ("2 h",
/// "18:30") are words too. Every other number has to be a reading.
///
/// # Errors
///
/// Any [`Problem`]; the first one in the order of the text.
pub fn readings(text: &str, gravity: Option<GravityConvention>) -> Result<(Vec<Measured>, String), Problem> {
    let words = Words::new(text);
    let mut reader = Reader {
        look: Look { words: &words },
        gravity,
        found: Vec::new(),
        left: Vec::new(),
        word: None,
    };
    let mut at = 0;
    while at < words.len() {
        at = reader.step(at)?;
    }
    Ok((reader.found, words.join(&reader.left)))
}

struct Reader<'a> {
    look: Look<'a>,
    gravity: Option<GravityConvention>,
    found: Vec<Measured>,
    /// The words that are part of no reading.
    left: Vec<usize>,
    /// The last of them that is not a number.
    word: Option<usize>,
}

impl Reader<'_> {
    /// Deals with what starts at a word; gives the word behind it.
    fn step(&mut self, at: usize) -> Result<usize, Problem> {
        if let Some((name, next)) = name::find(self.look.words, at)
            && let Some(value) = self.look.value_after(next, name.kind)?
        {
            return self.named(name, value);
        }
        if let Some((number, to)) = number(self.look.words, at, Dash::Separator)? {
            return self.unnamed(Value {
                number,
                from: at,
                to,
                convention: None,
            });
        }
        if self.look.words.key(at) != "-" {
            self.left.push(at);
            self.word = Some(at);
        }
        Ok(at + 1)
    }

    /// A number with a name before it.
    fn named(&mut self, name: Name, value: Value) -> Result<usize, Problem> {
        let unit = self.look.unit(value.to, Some(name.kind));
        if unit.is_none() && self.look.words.glued(value.to) {
            return Err(Problem::Unknown {
                text: self.look.words.slice(value.from, value.to + 1),
            });
        }
        // "Salinity 1.024 sg" is a gravity all the same.
        if name.kind == Kind::Salinity
            && unit.is_none()
            && let Some((behind, next)) = self
                .look
                .name_behind(value.to)
                .filter(|(n, _)| n.kind == Kind::Gravity)
        {
            return self.finish(behind, value, None, next);
        }
        let end = unit.map_or(value.to, |(_, end)| end);
        self.finish(name, value, unit, end)
    }

    /// A number without a name before it.
    fn unnamed(&mut self, value: Value) -> Result<usize, Problem> {
        let Some((unit, end)) = self.look.unit(value.to, None) else {
            return self.bare(value);
        };
        let text = self.look.words.slice(value.from, end);
        match unit.dim {
            Dim::Time | Dim::Clock => {
                self.left.extend(value.from..end);
                self.word = Some(end - 1);
                Ok(end)
            }
            Dim::Volume | Dim::Mass => Err(Problem::WrongUnit {
                text,
                what: What::AnyReading,
            }),
            dim => {
                if let Some(kind) = kind_of(dim) {
                    return self.finish(Name { kind, counted: None }, value, Some((unit, end)), end);
                }
                let from = end + usize::from(self.look.words.key(end) == "of");
                match name::find(self.look.words, from).filter(|(name, _)| fits(name.kind, dim)) {
                    Some((name, next)) => self.finish(name, value, Some((unit, end)), next),
                    None => Err(Problem::Unknown { text }),
                }
            }
        }
    }

    /// A number with neither a name before it nor a unit behind it.
    fn bare(&mut self, value: Value) -> Result<usize, Problem> {
        let Value {
            number: n, from, to, ..
        } = value;
        let before = from.checked_sub(1).filter(|b| self.word == Some(*b));
        let of_word = n.whole && n.value >= 0.0 && before.is_some() && !self.look.words.parted(from);
        if self.look.words.glued(to) {
            // "Tank 2b" is a name, "82x" is not.
            if of_word && self.look.words.key(to).chars().count() == 1 {
                self.left.extend(from..=to);
                return Ok(to + 1);
            }
            return Err(Problem::Unknown {
                text: self.look.words.slice(from, to + 1),
            });
        }
        if let Some((name, next)) = name::find(self.look.words, to)
            && (!of_word || self.look.is_list_by_number(from))
        {
            return self.finish(name, value, None, next);
        }
        if let Some((convention, next)) = self.look.convention(to) {
            let name = Name {
                kind: Kind::Gravity,
                counted: None,
            };
            let value = Value {
                convention: Some(convention),
                ..value
            };
            return self.finish(name, value, None, next);
        }
        // "One", "two" and "half" are words as often as numbers.
        if of_word || (n.spelled && n.value <= 10.0 && (n.whole || n.value < 1.0)) {
            self.left.extend(from..to);
            return Ok(to);
        }
        Err(self.stray(&value))
    }

    /// What is wrong with a number that belongs to nothing.
    fn stray(&self, value: &Value) -> Problem {
        let Value {
            number: n, from, to, ..
        } = *value;
        let next = self.look.words.key(to);
        let alone = next.is_empty()
            || next == "at"
            || is_filler(next)
            || JOINING.contains(&next)
            || name::find(self.look.words, to).is_some()
            || self.look.is_number(to);
        if !alone {
            return Problem::Unknown {
                text: self.look.words.slice(from, to + 1),
            };
        }
        let (low, high) = Kind::Gravity.limits();
        let is_gravity = !n.whole && (low..=high).contains(&n.value);
        let what = if is_gravity {
            What::Reading(Kind::Gravity)
        } else {
            What::AnyReading
        };
        Problem::NoUnit {
            text: self.look.words.slice(from, to),
            what,
        }
    }

    /// Gathers what is said behind a reading, and keeps it if it can be true.
    fn finish(&mut self, name: Name, value: Value, unit: FoundUnit, end: usize) -> Result<usize, Problem> {
        let kind = name.kind;
        let text = self
            .look
            .words
            .slice(value.from, unit.map_or(value.to, |(_, end)| end));
        let mut draft = Draft {
            kind,
            number: value.number,
            unit: unit.map(|(unit, _)| unit),
            text,
            counted: name.counted,
            at_c: None,
            convention: value.convention,
        };
        let mut end = self.remarks(&mut draft, end)?;
        if let Some((behind, next)) = self
            .look
            .name_behind(end)
            .filter(|(behind, _)| behind.kind == kind)
        {
            draft.counted = behind.counted.or(draft.counted);
            end = self.remarks(&mut draft, next)?;
        }
        self.found.push(draft.settle(self.gravity)?);
        Ok(end)
    }

    /// Reads "20/20" behind a gravity, "as N" behind a nitrogen compound, "at 25 °C" behind a conductivity.
    fn remarks(&self, draft: &mut Draft, at: usize) -> Result<usize, Problem> {
        match draft.kind {
            Kind::Gravity => {
                if let Some((convention, next)) = self.look.convention(at) {
                    draft.convention = Some(convention);
                    return Ok(next);
                }
            }
            Kind::Ammonia | Kind::Nitrite | Kind::Nitrate => {
                if let Some((counted, next)) = counted_as(self.look.words, at, draft.kind) {
                    draft.counted = Some(counted);
                    return Ok(next);
                }
            }
            Kind::Conductivity if self.look.words.key(at) == "at" => {
                if let Some((n, to)) = number(self.look.words, at + 1, Dash::Separator)?
                    && let Some((unit, next)) = self
                        .look
                        .unit(to, None)
                        .filter(|(u, _)| u.dim == Dim::Temperature)
                {
                    let text = self.look.words.slice(at + 1, next);
                    draft.at_c = Some(temperature(n, unit, text)?);
                    return Ok(next);
                }
            }
            _ => {}
        }
        Ok(at)
    }
}
