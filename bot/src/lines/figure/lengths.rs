//! Several lengths in a row: "90x45x45 cm", "36 by 18 by 18 in", "25x15 to 30x20 x 12 cm".

use wrackline_core::quantity::{Problem, Units, length_cm};

use crate::lines::Refusal;
use crate::lines::problem::problem;

/// The most lengths that anything here has.
const LENGTHS_MAX: usize = 8;

/// Reads lengths, in cm. One without a unit takes that of the next one behind it that has one.
pub(super) fn lengths(text: &str, units: Units) -> Result<Vec<f64>, Refusal> {
    // A comma between digits is that of a decimal.
    let text = text.replace(['×', '*'], "x").replace(", ", " x ");
    let spread: String = text
        .split_whitespace()
        .map(|word| if matches!(word, "by" | "to") { "x" } else { word })
        .collect::<Vec<_>>()
        .join(" ");
    let pieces: Vec<&str> = spread
        .split('x')
        .map(str::trim)
        .filter(|piece| !piece.is_empty())
        .take(LENGTHS_MAX)
        .collect();
    let mut found = Vec::new();
    let mut unit = "";
    for piece in pieces.into_iter().rev() {
        let own = unit_of(piece);
        if !own.is_empty() {
            unit = own;
        }
        let whole = if own.is_empty() {
            format!("{piece} {unit}")
        } else {
            piece.to_owned()
        };
        found.push(length_cm(&whole, units).map_err(|found| wrong(&found, units))?);
    }
    found.reverse();
    Ok(found)
}

fn wrong(found: &Problem, units: Units) -> Refusal {
    Refusal(problem(found, units))
}

/// What stands behind the figures of a piece.
fn unit_of(piece: &str) -> &str {
    let is_figure = |c: char| c.is_ascii_digit() || c.is_whitespace() || ".,/-½¼¾".contains(c);
    piece.trim_start_matches(is_figure).trim()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_lengths() {
        let of = |text, units| lengths(text, units).ok();
        for (text, units, expected) in [
            ("90x45x45 cm", Units::Metric, &[90.0, 45.0, 45.0][..]),
            ("90 × 45 × 45cm", Units::Metric, &[90.0, 45.0, 45.0]),
            ("36 by 18 by 18 in", Units::Us, &[91.44, 45.72, 45.72]),
            ("11 1/2 x 8 in", Units::Us, &[29.21, 20.32]),
            ("30 cm x 200 mm", Units::Metric, &[30.0, 20.0]),
            ("30,5x20, 12 cm", Units::Metric, &[30.5, 20.0, 12.0]),
            (
                "25x15 to 30x20 x 12 cm",
                Units::Metric,
                &[25.0, 15.0, 30.0, 20.0, 12.0],
            ),
        ] {
            let got = of(text, units).unwrap_or_default();
            assert_eq!(got.len(), expected.len(), "{text}: {got:?}");
            let near = |(one, other): (&f64, &f64)| (one - other).abs() < 1e-9;
            assert!(got.iter().zip(expected).all(near), "{text}: {got:?}");
        }
        assert_eq!(of("30x20", Units::Metric), None);
    }
}
