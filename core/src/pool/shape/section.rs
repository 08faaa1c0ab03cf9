//! A vessel whose horizontal section is a factor times two sides, each varying evenly from floor to rim.

use crate::quantity::Centimetres;

/// Area at a height z: `factor` · a(z) · b(z), in cm.
pub(super) struct Section {
    factor: f64,
    floor: [f64; 2],
    rise: [f64; 2],
    pub(super) height: f64,
}

impl Section {
    /// Two sides, each at the floor and at the rim.
    pub(super) fn new(factor: f64, a: [Centimetres; 2], b: [Centimetres; 2], height: Centimetres) -> Self {
        Self {
            factor,
            floor: [a[0].0, b[0].0],
            rise: [a[1].0 - a[0].0, b[1].0 - b[0].0],
            height: height.0,
        }
    }

    /// Two sides that stay the same.
    pub(super) fn upright(factor: f64, a: Centimetres, b: Centimetres, height: Centimetres) -> Self {
        Self::new(factor, [a, a], [b, b], height)
    }

    /// cm² at a height.
    pub(super) fn area(&self, z: f64) -> f64 {
        let share = z / self.height;
        self.factor * (self.floor[0] + self.rise[0] * share) * (self.floor[1] + self.rise[1] * share)
    }

    /// cm³ below a height: the integral of the area.
    pub(super) fn volume(&self, z: f64) -> f64 {
        let ([a, b], [da, db], share) = (self.floor, self.rise, z / self.height);
        let mean = a * b + (a * db + b * da) * share / 2.0 + da * db * share * share / 3.0;
        self.factor * mean * z
    }

    /// The height below which there are so many cm³: Newton's steps, kept between two bounds.
    pub(super) fn level(&self, volume: f64) -> f64 {
        let (mut low, mut high) = (0.0, self.height);
        let mut z = self.height * (volume / self.volume(self.height)).clamp(0.0, 1.0);
        for _ in 0..100 {
            let over = self.volume(z) - volume;
            if over > 0.0 {
                high = z;
            } else {
                low = z;
            }
            let step = z - over / self.area(z);
            let next = if low < step && step < high {
                step
            } else {
                f64::midpoint(low, high)
            };
            if (next - z).abs() <= self.height * 1e-14 {
                return next;
            }
            z = next;
        }
        z
    }
}
