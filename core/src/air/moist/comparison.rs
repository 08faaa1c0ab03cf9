//! Two other formulas of saturation pressure over water, which tests compare with: what the table of check values
//! gives from them, and how far the formulas lie apart.

use crate::quantity::{Celsius, Pascals};

/// Hyland and Wexler 1983, as printed in ASHRAE Fundamentals (coefficients as in psychrolib), 0 to 200 °C.
pub(crate) fn hyland_wexler(temperature: Celsius) -> Pascals {
    let t = temperature.kelvin();
    let ln = -5.800_220_6e3 / t + 1.391_499_3 - 4.864_023_9e-2 * t + 4.176_476_8e-5 * t * t
        - 1.445_209_3e-8 * t * t * t
        + 6.545_967_3 * t.ln();
    Pascals(ln.exp())
}

/// Magnus' form with the coefficients of Alduchov and Eskridge 1996, −40 to 50 °C.
pub(crate) fn magnus(temperature: Celsius) -> Pascals {
    let t = temperature.0;
    Pascals(610.94 * (17.625 * t / (t + 243.04)).exp())
}
