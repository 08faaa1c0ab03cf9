//! How even loads are.

/// Jain's index of loads that are each divided by what was wanted: from 1/n, all of it with one, to 1, an even share.
/// Those who wanted nothing are left out; 1 where nobody did anything.
///
/// Source: Jain, Chiu & Hawe 1984, "A Quantitative Measure of Fairness and Discrimination for Resource Allocation in
/// Shared Computer Systems", DEC Research Report TR-301: (Σx)² / (n Σx²).
///
/// ```
/// use wrackline_core::rota::jain;
/// assert_eq!(jain([(30.0, 1.0), (30.0, 1.0)]), 1.0);
/// assert_eq!(jain([(60.0, 1.0), (0.0, 1.0)]), 0.5);
/// assert_eq!(jain([(60.0, 2.0), (30.0, 1.0)]), 1.0);
/// ```
#[must_use]
pub fn jain(loads: impl IntoIterator<Item = (f64, f64)>) -> f64 {
    let (mut count, mut sum, mut squares) = (0.0, 0.0, 0.0);
    for (load, share) in loads {
        if share > 0.0 {
            let x = load / share;
            count += 1.0;
            sum += x;
            squares += x * x;
        }
    }
    if squares > 0.0 {
        sum * sum / (count * squares)
    } else {
        1.0
    }
}
