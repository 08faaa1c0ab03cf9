//! How long a cycle may still take.

use jiff::Timestamp;

use super::answer::Left;
use super::run::Run;
use super::{History, hours};
use crate::quantity::{Celsius, Days};
use crate::rests::Rests;
use crate::water::ammonia::{Growth, rate_factor};

/// What a cycle typically takes, from the first ammonia to the proof: 3 to 6 weeks (seen, in threads of keepers of fish).
const TYPICAL: (f64, f64) = (21.0, 42.0);

/// The temperature that those weeks are taken for. The threads do not say: common practice, no published source.
const TYPICAL_AT: Celsius = Celsius(25.0);

/// How long it may still take, counted from now. The typical weeks are longer in colder water and shorter in warmer, by
/// the factor for films on media; the time since ammonia first went in is taken off, without that in which the filter
/// stood. It is never less than what the proof takes.
pub(super) fn left(history: &History<'_>, run: &Run, now: Timestamp) -> Left {
    // Both were checked, so the rate is a number over 0.
    let rate = history
        .temperature
        .and_then(|at| rate_factor(Growth::FixedFilm.theta(), TYPICAL_AT, at).ok())
        .unwrap_or(1.0);
    let apart = history.rules.apart.0;
    // At the least: both tests of a proof, or what is left of the wait for the second.
    let proof = run
        .first_zero
        .map_or(apart, |first| (apart - hours(first, now)).max(0.0))
        / 24.0;
    let gone = run.first_fed.map_or(0.0, |from| {
        (hours(from, now) - run.stood_since(from)).max(0.0) / 24.0
    });
    let typical_high = TYPICAL.1 / rate - gone;
    let second_decides = run.first_zero.is_some() && run.nitrate_above.is_some();
    let (low, high) = match (run.first_zero, second_decides) {
        // The second test decides.
        (_, true) => (proof, proof),
        (Some(_), false) => (proof, typical_high.max(proof)),
        // A filter that had come far before may be fast again.
        (None, _) if run.lapse.is_some() => (proof, typical_high.max(proof)),
        (None, _) => ((TYPICAL.0 / rate - gone).max(proof), typical_high.max(proof)),
    };
    let rests = match history.temperature {
        Some(_) => Rests::Practice,
        None => Rests::Seen,
    };
    Left {
        low: Days(low),
        high: Days(high),
        from_feed: run.first_fed.is_none(),
        overdue: !second_decides && typical_high < 0.0,
        at: history.temperature,
        rests,
    }
}
