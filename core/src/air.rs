//! The air of an enclosure.
//!
//! In reading order: `moist` is what air holds; `glass` is when it sweats; `evaporation` is what a pool gives; `balance`
//! is what air and pools come to; `fit` is how large a pool the enclosure bears. `hygrometer` checks the instrument,
//! `exposure` sums up readings, `spell` tells a spike from an alarm, `cooling` how long an enclosure stays warm without
//! power.

pub mod balance;
pub mod cooling;
pub mod evaporation;
pub mod exposure;
pub mod fit;
pub mod glass;
pub mod hygrometer;
pub mod moist;
mod spell;

pub use self::spell::*;
