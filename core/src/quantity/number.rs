//! One number, in digits or in words or in both.

use super::Problem;
use super::literal;
use super::spelled;
use super::word::Words;

/// A number that somebody wrote.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Number {
    /// Finite.
    pub(super) value: f64,
    /// The other way to read its comma, if there is one.
    pub(super) decimal: Option<f64>,
    /// Whether it was written as a whole number.
    pub(super) whole: bool,
    /// Whether it was written in words.
    pub(super) spelled: bool,
}

/// What a dash means that stands by itself before a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Dash {
    /// A minus sign.
    Minus,
    /// Nothing: it keeps a name and its reading apart, as in "north - 26 °C".
    Separator,
}

/// Reads the number that starts at a word; also gives the word behind it. `None` if there is none.
///
/// # Errors
///
/// [`Problem::NotANumber`] for mangled digits, [`Problem::NotFinite`] for too many of them.
pub(super) fn number(words: &Words<'_>, at: usize, dash: Dash) -> Result<Option<(Number, usize)>, Problem> {
    let minus = is_minus(words, at, dash);
    let start = at + usize::from(minus);
    if is_bound(words.key(start)) {
        return Err(Problem::NotANumber {
            text: words.slice(start, start + 1),
        });
    }
    let (mut found, end) = if literal::length(&words.slice(start, start + 1)) > 0 {
        match in_digits(words, start)? {
            Some(found) => found,
            None => return Ok(None),
        }
    } else {
        match spelled::parse(words, start) {
            Some((n, end)) => (
                Number {
                    value: n.value,
                    decimal: None,
                    whole: n.whole,
                    spelled: true,
                },
                end,
            ),
            None => return Ok(None),
        }
    };
    if minus {
        found.value = -found.value.abs();
        found.decimal = found.decimal.map(|n| -n.abs());
    }
    if !found.value.is_finite() {
        return Err(Problem::NotFinite);
    }
    Ok(Some((found, end)))
}

fn is_minus(words: &Words<'_>, at: usize, dash: Dash) -> bool {
    match words.key(at) {
        "minus" | "negative" => true,
        // The true minus sign is never a separator.
        "-" => dash == Dash::Minus || words.slice(at, at + 1) == "\u{2212}",
        _ => false,
    }
}

/// Whether a word is a bound, "<0.25", which says less than a number. It must not pass for a word.
fn is_bound(word: &str) -> bool {
    word.strip_prefix(['<', '>', '≤', '≥'])
        .is_some_and(|rest| literal::length(rest) > 0)
}

/// Reads digits, and what may follow them: "1 1/2", "1 ½", "1 and a half", "3 quarters", "26 point 5".
fn in_digits(words: &Words<'_>, at: usize) -> Result<Option<(Number, usize)>, Problem> {
    let text = words.slice(at, at + 1);
    if literal::length(&text) != text.len() {
        // A name or a time that only starts with digits.
        return Ok(None);
    }
    let Some(first) = literal::parse(&text) else {
        return Err(Problem::NotANumber { text });
    };
    let (mut value, mut whole, mut decimal, mut end) = (first.value, first.whole, first.decimal, at + 1);
    if whole {
        let next = words.slice(end, end + 1);
        let proper = literal::parse(&next).filter(|n| !n.negative && !next.contains(['.', ',']));
        if let Some(part) = proper.filter(|n| !n.whole && n.value < 1.0) {
            (value, whole, end) = (value + part.value, false, end + 1);
        } else if let Some((part, behind)) = spelled::and_part(words, end) {
            (value, whole, end) = (value + part, false, behind);
        } else if let Some(below) = spelled::parts(words.key(end)) {
            (value, whole, end) = (value / below, false, end + 1);
        } else if let Some(tail) = point_digits(words, end) {
            (value, whole, end) = (value + tail, false, end + 2);
        }
        if !whole {
            decimal = None;
        }
    }
    let sign = if first.negative { -1.0 } else { 1.0 };
    // Adding zero turns a negative zero into a plain one.
    let signed = |n: f64| sign * n + 0.0;
    let found = Number {
        value: signed(value),
        decimal: decimal.map(signed),
        whole,
        spelled: false,
    };
    Ok(Some((found, end)))
}

/// Reads "point 5" as the part behind the decimal point.
fn point_digits(words: &Words<'_>, at: usize) -> Option<f64> {
    let tail = words.key(at + 1);
    let digits = !tail.is_empty() && tail.bytes().all(|b| b.is_ascii_digit());
    (words.key(at) == "point" && digits).then(|| format!("0.{tail}").parse().ok())?
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_worth() {
        for (text, want) in [
            ("6 L", Some((6.0, 1))),
            ("6l", Some((6.0, 1))),
            ("1 1/2 gal", Some((1.5, 2))),
            ("1 ½", Some((1.5, 2))),
            ("1 and a half", Some((1.5, 4))),
            ("3 quarters", Some((0.75, 2))),
            ("26 point 5", Some((26.5, 3))),
            ("1,000 point 25", Some((1000.25, 3))),
            ("minus three", Some((-3.0, 2))),
            ("negative 3", Some((-3.0, 2))),
            ("-1 1/2", Some((-1.5, 2))),
            ("- 3", Some((-3.0, 2))),
            ("2 82%", Some((2.0, 1))),
            ("2 1/0", Some((2.0, 1))),
            ("-0", Some((0.0, 1))),
            ("2nd", None),
            ("minus", None),
            ("NaN", None),
            ("infinity", None),
        ] {
            let got = number(&Words::new(text), 0, Dash::Minus).unwrap();
            assert_eq!(got.map(|(n, end)| (n.value, end)), want, "{text:?}");
        }
    }

    #[test]
    fn check_dashes() {
        let read = |text| {
            number(&Words::new(text), 0, Dash::Separator)
                .unwrap()
                .map(|(n, _)| n.value)
        };
        assert_eq!(read("- 3"), None);
        assert_eq!(read("\u{2013} 3"), None);
        assert_eq!(read("\u{2212} 3"), Some(-3.0));
        assert_eq!(read("-3"), Some(-3.0));
    }

    #[test]
    fn check_problems() {
        let read = |text: &str| number(&Words::new(text), 0, Dash::Minus);
        assert_eq!(
            read("1.2.3 L"),
            Err(Problem::NotANumber {
                text: "1.2.3".to_owned()
            })
        );
        assert_eq!(
            read("<0.25"),
            Err(Problem::NotANumber {
                text: "<0.25".to_owned()
            })
        );
        assert_eq!(read("<b"), Ok(None));
        assert_eq!(read(&"9".repeat(400)), Err(Problem::NotFinite));
    }
}
