//! Numbers in words, as people dictate them: "eighty-two", "one and a half", "one point zero two three".

use super::word::Words;

/// What spelled words are worth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Spelled {
    /// Never negative.
    pub(super) value: f64,
    /// Whether it is a whole number.
    pub(super) whole: bool,
}

const SMALL: [&str; 20] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
const TENS: [&str; 8] = [
    "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety",
];

fn small(word: &str) -> Option<u32> {
    SMALL
        .iter()
        .position(|w| *w == word)
        .and_then(|n| u32::try_from(n).ok())
}

fn tens(word: &str) -> Option<u32> {
    TENS.iter()
        .position(|w| *w == word)
        .and_then(|n| u32::try_from(10 * (n + 2)).ok())
}

/// The denominator that a word names, and whether the word says that there are several.
fn denominator(word: &str) -> Option<(f64, bool)> {
    Some(match word {
        "half" => (2.0, false),
        "halves" => (2.0, true),
        "third" => (3.0, false),
        "thirds" => (3.0, true),
        "quarter" => (4.0, false),
        "quarters" => (4.0, true),
        "fifth" => (5.0, false),
        "fifths" => (5.0, true),
        "sixth" => (6.0, false),
        "sixths" => (6.0, true),
        "eighth" => (8.0, false),
        "eighths" => (8.0, true),
        "tenth" => (10.0, false),
        "tenths" => (10.0, true),
        _ => return None,
    })
}

/// Whether a word with hyphens is nothing but a number: "twenty-one", "one-and-a-half", but not "one-eyed".
pub(super) fn is_hyphenated(key: &str) -> bool {
    let number = |w: &str| small(w).or_else(|| tens(w)).is_some() || denominator(w).is_some();
    let mut parts = key.split('-');
    parts.next().is_some_and(number)
        && parts.all(|w| number(w) || matches!(w, "and" | "a" | "hundred" | "thousand" | "point"))
}

/// Reads the number in words that starts at a word; also gives the word behind it.
pub(super) fn parse(words: &Words<'_>, at: usize) -> Option<(Spelled, usize)> {
    if let Some(found) = part(words, at) {
        return Some(found);
    }
    let (whole, next) = below_million(words, at)?;
    let value = f64::from(whole);
    if words.key(next) == "point"
        && let Some((digits, end)) = decimals(words, next + 1)
    {
        let value = format!("{whole}.{digits}").parse().ok()?;
        return Some((Spelled { value, whole: false }, end));
    }
    if let Some((part, end)) = and_part(words, next) {
        return Some((
            Spelled {
                value: value + part,
                whole: false,
            },
            end,
        ));
    }
    Some((Spelled { value, whole: true }, next))
}

/// Reads "and a half", "and three quarters".
pub(super) fn and_part(words: &Words<'_>, at: usize) -> Option<(f64, usize)> {
    if words.key(at) != "and" {
        return None;
    }
    part(words, at + 1).map(|(found, end)| (found.value, end))
}

/// The denominator that several parts have: "quarters".
pub(super) fn parts(word: &str) -> Option<f64> {
    denominator(word).filter(|(_, several)| *several).map(|(n, _)| n)
}

/// Reads "half", "a quarter", "two thirds".
fn part(words: &Words<'_>, at: usize) -> Option<(Spelled, usize)> {
    if let Some((below, _)) = denominator(words.key(at)) {
        return Some((
            Spelled {
                value: 1.0 / below,
                whole: false,
            },
            at + 1,
        ));
    }
    let above = match words.key(at) {
        "a" | "an" => 1,
        word => small(word).filter(|n| *n > 0)?,
    };
    let (below, several) = denominator(words.key(at + 1))?;
    (several || above == 1).then(|| {
        (
            Spelled {
                value: f64::from(above) / below,
                whole: false,
            },
            at + 2,
        )
    })
}

fn below_hundred(words: &Words<'_>, at: usize) -> Option<(u32, usize)> {
    if let Some(n) = small(words.key(at)) {
        return Some((n, at + 1));
    }
    let n = tens(words.key(at))?;
    match small(words.key(at + 1)).filter(|unit| (1..10).contains(unit)) {
        Some(unit) => Some((n + unit, at + 2)),
        None => Some((n, at + 1)),
    }
}

fn below_thousand(words: &Words<'_>, at: usize) -> Option<(u32, usize)> {
    let (first, next) = match words.key(at) {
        "a" => (1, at + 1),
        _ => below_hundred(words, at)?,
    };
    if words.key(next) != "hundred" || !(1..10).contains(&first) {
        return (words.key(at) != "a").then_some((first, next));
    }
    let skip = usize::from(words.key(next + 1) == "and");
    match below_hundred(words, next + 1 + skip) {
        Some((rest, end)) => Some((100 * first + rest, end)),
        None => Some((100 * first, next + 1)),
    }
}

fn below_million(words: &Words<'_>, at: usize) -> Option<(u32, usize)> {
    let (first, next) = match words.key(at) {
        "a" if words.key(at + 1) == "thousand" => (1, at + 1),
        _ => below_thousand(words, at)?,
    };
    if words.key(next) != "thousand" || first == 0 {
        return Some((first, next));
    }
    let skip = usize::from(words.key(next + 1) == "and");
    match below_thousand(words, next + 1 + skip) {
        Some((rest, end)) => Some((1000 * first + rest, end)),
        None => Some((1000 * first, next + 1)),
    }
}

/// Reads what follows "point": digits one by one, or one number below a hundred. Digits and tens are not mixed,
/// because "eight point one eighty-two percent" is two readings.
fn decimals(words: &Words<'_>, at: usize) -> Option<(String, usize)> {
    let digit = |word: &str| match word {
        "oh" | "o" => Some(0),
        _ => small(word).filter(|n| *n < 10),
    };
    let mut out = String::new();
    let mut next = at;
    while let Some(n) = digit(words.key(next)) {
        out.push_str(&n.to_string());
        next += 1;
    }
    if !out.is_empty() {
        return Some((out, next));
    }
    below_hundred(words, at).map(|(n, end)| (n.to_string(), end))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_worth() {
        for (text, want) in [
            ("eighty-two", Some((82.0, 2))),
            ("eighty two percent", Some((82.0, 2))),
            ("nineteen", Some((19.0, 1))),
            ("one hundred and five", Some((105.0, 4))),
            ("a hundred", Some((100.0, 2))),
            ("one hundred and north", Some((100.0, 2))),
            ("two thousand three hundred", Some((2300.0, 4))),
            ("one and a half", Some((1.5, 4))),
            ("two and three quarters", Some((2.75, 4))),
            ("half", Some((0.5, 1))),
            ("a quarter", Some((0.25, 2))),
            ("one third", Some((1.0 / 3.0, 2))),
            ("two thirds", Some((2.0 / 3.0, 2))),
            ("one point zero two three", Some((1.023, 5))),
            ("one point oh two five", Some((1.025, 5))),
            ("twenty-six point five", Some((26.5, 4))),
            ("eight point fifteen", Some((8.15, 3))),
            ("eight point one eighty-two", Some((8.1, 3))),
            ("two eighty-two", Some((2.0, 1))),
            ("a gallon", None),
            ("north", None),
            ("", None),
        ] {
            let got = parse(&Words::new(text), 0).map(|(n, end)| (n.value, end));
            assert_eq!(got, want, "{text:?}");
        }
    }

    #[test]
    fn check_hyphens() {
        for (text, want) in [
            ("twenty-one", true),
            ("one-and-a-half", true),
            ("one-eyed", false),
            ("-", false),
        ] {
            assert_eq!(is_hyphenated(text), want, "{text:?}");
        }
    }
}
