//! Chance from a seed.

use rand_chacha::ChaCha8Rng;
use rand_core::{Rng, SeedableRng};

/// What chance decides, from a seed.
#[derive(Clone, Debug)]
pub struct Dice(ChaCha8Rng);

impl Dice {
    /// Dice of a seed.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    /// A whole number from one to another, both included.
    pub fn between(&mut self, low: u32, high: u32) -> u32 {
        let count = u64::from(high - low) + 1;
        low + u32::try_from(self.0.next_u64() % count).expect("within a u32")
    }

    /// Whether something of this likelihood happens.
    pub fn happens(&mut self, share: f64) -> bool {
        f64::from(self.between(0, 999_999)) < share * 1e6
    }

    /// One of these.
    ///
    /// # Panics
    /// When there are none.
    pub fn one_of<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        let last = u32::try_from(all.len()).expect("few") - 1;
        &all[self.between(0, last) as usize]
    }
}
