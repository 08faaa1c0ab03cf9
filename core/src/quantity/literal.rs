//! Numbers in digits: which part of a piece of text is one, and what it is worth.

/// What digits are worth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Literal {
    /// Without its sign.
    pub(super) value: f64,
    /// The other way to read a comma before three digits: "1,023" is a thousand and twenty-three litres, but a
    /// specific gravity of 1.023.
    pub(super) decimal: Option<f64>,
    /// Whether it was written as a whole number.
    pub(super) whole: bool,
    /// Whether it carries a minus sign.
    pub(super) negative: bool,
}

/// The minus sign, the hyphen that stands for it, and the dash that keyboards make of it.
fn is_minus(c: char) -> bool {
    matches!(c, '-' | '\u{2212}' | '\u{2013}')
}

/// What a ready-made fraction sign is worth.
fn vulgar(c: char) -> Option<f64> {
    Some(match c {
        '½' => 0.5,
        '¼' => 0.25,
        '¾' => 0.75,
        '⅓' => 1.0 / 3.0,
        '⅔' => 2.0 / 3.0,
        '⅕' => 0.2,
        '⅛' => 0.125,
        '⅜' => 0.375,
        '⅝' => 0.625,
        '⅞' => 0.875,
        '⅒' => 0.1,
        _ => return None,
    })
}

/// How many bytes at the start of `text` are a number in digits; 0 if it does not start with one.
pub(super) fn length(text: &str) -> usize {
    let sign = text
        .chars()
        .next()
        .filter(|&c| is_minus(c) || c == '+')
        .map_or(0, char::len_utf8);
    let body = &text[sign..];
    let digits = run(body);
    let rest = &body[digits..];
    let after = rest.chars().next();
    let end = if let Some(c) = after.filter(|&c| vulgar(c).is_some()) {
        digits + c.len_utf8()
    } else if digits > 0 && after == Some('/') && body[..digits].bytes().all(|b| b.is_ascii_digit()) {
        let below = rest[1..].bytes().take_while(u8::is_ascii_digit).count();
        if below > 0 { digits + 1 + below } else { digits }
    } else {
        digits
    };
    if end == 0 { 0 } else { sign + end }
}

/// How many bytes at the start are digits with the separators between or before them.
fn run(text: &str) -> usize {
    let bytes = text.as_bytes();
    let digit = |i: usize| bytes.get(i).is_some_and(u8::is_ascii_digit);
    let mut end = 0;
    while digit(end) || (matches!(bytes.get(end), Some(b'.' | b',')) && digit(end + 1)) {
        end += 1;
    }
    end
}

/// Reads a text that is a number in digits from end to end; `None` if it is none, or a mangled one ("1.2.3").
pub(super) fn parse(text: &str) -> Option<Literal> {
    if text.is_empty() || length(text) != text.len() {
        return None;
    }
    let first = text.chars().next()?;
    let negative = is_minus(first);
    let body = if negative || first == '+' {
        &text[first.len_utf8()..]
    } else {
        text
    };
    let last = body.chars().next_back()?;
    if let Some(part) = vulgar(last) {
        let before = &body[..body.len() - last.len_utf8()];
        let whole = if before.is_empty() {
            0.0
        } else {
            before.parse::<u32>().ok()?.into()
        };
        return Some(Literal {
            value: whole + part,
            decimal: None,
            whole: false,
            negative,
        });
    }
    if let Some((above, below)) = body.split_once('/') {
        let (above, below): (f64, f64) = (above.parse().ok()?, below.parse().ok()?);
        let value = above / below;
        return (below > 0.0).then_some(Literal {
            value,
            decimal: None,
            whole: false,
            negative,
        });
    }
    let (value, decimal) = separated(body)?;
    let whole = !body.contains(['.', ',']) || (decimal.is_some() && value.fract() == 0.0);
    Some(Literal {
        value,
        decimal,
        whole,
        negative,
    })
}

/// Reads digits with separators. A point is decimal; a comma is decimal too unless exactly three digits follow
/// it; where both stand, the last one is decimal.
fn separated(body: &str) -> Option<(f64, Option<f64>)> {
    let points = body.matches('.').count();
    let commas = body.matches(',').count();
    let plain = |text: &str| text.parse::<f64>().ok();
    match (points, commas) {
        (0 | 1, 0) => Some((plain(body)?, None)),
        (0, 1) => {
            let decimal = plain(&body.replace(',', "."))?;
            match grouped(body, ',') {
                Some(thousands) => Some((plain(&thousands)?, Some(decimal))),
                None => Some((decimal, None)),
            }
        }
        (_, 0) => Some((plain(&grouped(body, '.')?)?, None)),
        (0, _) => Some((plain(&grouped(body, ',')?)?, None)),
        _ => {
            let (mark, group) = if body.rfind('.') > body.rfind(',') {
                ('.', ',')
            } else {
                (',', '.')
            };
            let (whole, part) = body.rsplit_once(mark)?;
            let whole = grouped(whole, group)?;
            Some((plain(&format!("{whole}.{part}"))?, None))
        }
    }
}

/// The digits of a number whose thousands are set apart by `mark`; `None` unless the groups are right.
fn grouped(text: &str, mark: char) -> Option<String> {
    let mut groups = text.split(mark);
    let first = groups.next()?;
    let fits = (1..=3).contains(&first.len()) && !first.starts_with('0');
    (fits && groups.all(|g| g.len() == 3 && g.bytes().all(|b| b.is_ascii_digit())))
        .then(|| text.replace(mark, ""))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_worth() {
        for (text, want) in [
            ("6", Some(6.0)),
            ("6.25", Some(6.25)),
            (".5", Some(0.5)),
            ("1,5", Some(1.5)),
            ("1,000", Some(1000.0)),
            ("0,500", Some(0.5)),
            ("1,000,000", Some(1e6)),
            ("1.000.000", Some(1e6)),
            ("1,234.5", Some(1234.5)),
            ("1.234,5", Some(1234.5)),
            ("1.023", Some(1.023)),
            ("1/2", Some(0.5)),
            ("½", Some(0.5)),
            ("1½", Some(1.5)),
            ("+3", Some(3.0)),
            ("1.2.3", None),
            ("1,2,3", None),
            ("1/0", None),
            ("1.5/2", None),
            ("", None),
            ("-", None),
            ("nan", None),
            ("inf", None),
            ("1e5", None),
            ("0x10", None),
        ] {
            assert_eq!(parse(text).map(|l| l.value), want, "{text:?}");
        }
    }

    #[test]
    fn check_signs_and_forms() {
        for (text, negative, whole, decimal) in [
            ("-3", true, true, None),
            ("\u{2212}3.5", true, false, None),
            ("\u{2013}3", true, true, None),
            ("1,023", false, true, Some(1.023)),
            ("1/3", false, false, None),
            ("2.0", false, false, None),
        ] {
            let got = parse(text).unwrap();
            assert_eq!(
                (got.negative, got.whole, got.decimal),
                (negative, whole, decimal),
                "{text:?}"
            );
            assert!(got.value >= 0.0);
        }
    }

    #[test]
    fn check_length() {
        for (text, want) in [
            ("82%", 2),
            ("26.5C", 4),
            ("1/2gal", 3),
            ("3.", 1),
            ("g/kg", 0),
            ("-x", 0),
            ("-5C", 2),
            ("5-6", 1),
        ] {
            assert_eq!(length(text), want, "{text:?}");
        }
    }
}
