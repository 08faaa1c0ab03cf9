//! What a smooth tube does to the water in it.
//!
//! Source: Darcy–Weisbach; laminar f = 64/Re; turbulent the implicit formula of Colebrook (1939) with a roughness of
//! nothing, 1/√f = −2 lg(2.51 / (Re √f)). Not Hazen–Williams: that one does not hold in small tubes.

use super::{GRAVITY, Regime, Span};

/// Up to this Reynolds number water flows in layers: 2040, as the library that the reference was made with has it
/// (after Avila et al. 2011, Science 333:192; from memory).
pub(super) const LAMINAR_MAX: f64 = 2040.0;

/// Where the turbulent formula is published for (from memory). Between layers and here friction is anyone's guess.
pub(super) const TURBULENT: Span = Span::new(4e3, 1e8);

/// The inside of a tube in SI units.
pub(super) struct Inner {
    /// m.
    pub(super) diameter: f64,
    /// m.
    pub(super) length: f64,
    /// Heads of the speed, without the one that leaves with the water.
    pub(super) losses: f64,
    /// Kinematic viscosity, m²/s.
    pub(super) nu: f64,
}

/// Darcy's friction factor of turbulent flow in a smooth tube, for Reynolds numbers from 2040 up.
pub(super) fn turbulent(reynolds: f64) -> f64 {
    // x = 1/√f by Newton's steps; the start is Haaland's explicit form, two digits right already.
    let mut x = 1.8 * (reynolds / 6.9).log10();
    for _ in 0..3 {
        let off = x + 2.0 * (2.51 * x / reynolds).log10();
        x -= off / (1.0 + 2.0 / (x * std::f64::consts::LN_10));
    }
    (x * x).recip()
}

impl Inner {
    /// m/s under a head in m.
    pub(super) fn speed(&self, head: f64) -> (f64, Regime) {
        let laminar = self.laminar(head);
        let border = LAMINAR_MAX * self.nu / self.diameter;
        if laminar <= border {
            return (laminar, Regime::Laminar);
        }
        if self.turbulent(head, border) <= border {
            return (border, Regime::Border);
        }
        // Friction changes slowly with the speed: each step leaves about an eighth of the error.
        let mut speed = laminar;
        for _ in 0..24 {
            let next = self.turbulent(head, speed.max(border));
            let settled = (next - speed).abs() <= 1e-13 * next;
            speed = next;
            if settled {
                break;
            }
        }
        (speed, Regime::Turbulent)
    }

    /// The speed at which layers use up the head: (1 + K) v² / 2g + 32 ν L v / (g D²) = h.
    fn laminar(&self, head: f64) -> f64 {
        let square = (1.0 + self.losses) / (2.0 * GRAVITY);
        let linear = 32.0 * self.nu * self.length / (GRAVITY * self.diameter * self.diameter);
        2.0 * head / (linear + (linear * linear + 4.0 * square * head).sqrt())
    }

    /// The speed under a head if friction were that of another speed.
    fn turbulent(&self, head: f64, speed: f64) -> f64 {
        let f = turbulent(speed * self.diameter / self.nu);
        (2.0 * GRAVITY * head / (1.0 + self.losses + f * self.length / self.diameter)).sqrt()
    }
}
