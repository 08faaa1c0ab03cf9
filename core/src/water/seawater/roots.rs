//! Polynomials, and where a rising curve meets a value.

/// A polynomial, its coefficients from the constant on.
#[inline]
pub(super) fn polynomial<const N: usize>(coefficients: &[f64; N], x: f64) -> f64 {
    let (last, others) = coefficients.split_last().expect("a coefficient");
    others.iter().rev().fold(*last, |sum, one| sum * x + one)
}

/// The slope of the same polynomial.
#[inline]
pub(super) fn slope<const N: usize>(coefficients: &[f64; N], x: f64) -> f64 {
    let (mut sum, mut power) = (0.0, N);
    for one in coefficients[1..].iter().rev() {
        power -= 1;
        sum = sum * x + power as f64 * one;
    }
    sum
}

/// More steps than halving alone needs for every digit.
const STEPS_MAX: usize = 120;

/// A step of Newton's that moves by a smaller part than this ends at the root: what is left is of its square.
const SURE: f64 = 1e-8;

/// Where a curve that is at most 0 at `low` and at least 0 at `high` meets 0: Newton's steps from `start`, and a
/// halving instead wherever a step would leave what is known to hold the root. The curve gives value and slope.
pub(super) fn root(mut low: f64, mut high: f64, start: f64, curve: impl Fn(f64) -> (f64, f64)) -> f64 {
    let mut x = if low < start && start < high {
        start
    } else {
        f64::midpoint(low, high)
    };
    for _ in 0..STEPS_MAX {
        let (value, slope) = curve(x);
        if value < 0.0 {
            low = x;
        } else if value > 0.0 {
            high = x;
        } else {
            return x;
        }
        let step = x - value / slope;
        let within = low <= step && step <= high;
        let next = if within { step } else { f64::midpoint(low, high) };
        let sure = if within { SURE } else { f64::EPSILON };
        if (next - x).abs() <= sure * next.abs() {
            return next;
        }
        x = next;
    }
    x
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn check_polynomials() {
        let one = [2.0, -3.0, 0.5, 4.0];
        assert_eq!(polynomial(&one, 2.0), 2.0 - 6.0 + 2.0 + 32.0);
        assert_eq!(slope(&one, 2.0), -3.0 + 2.0 + 48.0);
    }

    #[test]
    fn a_root_is_found_where_newton_alone_would_stray() {
        for (start, want) in [(1.0, 8.0_f64), (-900.0, 0.001), (500.0, -27.0)] {
            let found = root(-1000.0, 1000.0, start, |x| {
                let cube = x.cbrt();
                (cube - want.cbrt(), 1.0 / (3.0 * cube * cube))
            });
            assert!((found - want).abs() < 1e-9, "{found} {want}");
        }
        // A slope of nothing, or none at all.
        assert!((root(0.0, 3.0, 1.0, |x| (x - 2.0, 0.0)) - 2.0).abs() < 1e-12);
        assert!((root(0.0, 3.0, 1.0, |x| (x - 2.0, f64::NAN)) - 2.0).abs() < 1e-12);
    }
}
