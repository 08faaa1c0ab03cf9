//! How much of a pool's ammonia is un-ionised now, and whether that is a danger.

use jiff::Timestamp;
use wrackline_core::civil::seconds_between;
use wrackline_core::place::{Life, PoolId, Target, Water};
use wrackline_core::quantity::{
    Basis, Beyond, Celsius, Input, Kind, Measured, MilligramsPerLitre, Salinity, Units, celsius, plain, show,
};
use wrackline_core::water::ammonia::{FISH_LIMIT, unionised};
use wrackline_core::water::instruments::salinity_of;

use crate::chat::blocks::Block;
use crate::desk::how::means;
use crate::desk::tell::Tell;
use crate::msg;

/// How long a reading is taken to hold, in days: common practice, no published source.
const HOLDS_DAYS: i64 = 7;

/// What of the last ammonia that was read is un-ionised; nothing where none was read lately, or none found.
pub(super) fn blocks(tell: &Tell<'_>, id: PoolId) -> Vec<Block> {
    let Some((at, ammonia)) = lately(tell, id, Kind::Ammonia) else {
        return Vec::new();
    };
    let total = ammonia.mg_l(Basis::Ion).unwrap_or(0.0);
    if total <= 0.0 {
        return Vec::new();
    }
    let reading = show(&ammonia, tell.place.units);
    let spot = tell.pool(id).to_lowercase();
    let (Some(ph), Some(warm)) = (ph(tell, id), warmth(tell, id)) else {
        let sample = match tell.place.units {
            Units::Us => "pH 8.1 79F",
            Units::Metric | Units::Imperial => "pH 8.1 26C",
        };
        let text = tell.say(&msg!(
            "ammonia-unknown",
            reading = reading,
            spot = spot,
            sample = sample
        ));
        return vec![Block::Text { text }];
    };
    let (salinity, assumed) = salinity(tell, id);
    let Ok(found) = unionised(warm, ph, salinity) else {
        return Vec::new();
    };
    let free = found.of(MilligramsPerLitre(total)).map_or(0.0, |free| free.0);
    let salt = if assumed {
        tell.say(&msg!("ammonia-assumed", salinity = grams(salinity)))
    } else {
        grams(salinity)
    };
    let conditions = [
        format!("pH {}", plain(ph)),
        celsius(warm.0, tell.place.units),
        salt,
    ];
    let mut text = tell.say(&msg!(
        "ammonia-now",
        free = plain(free),
        share = plain(found.share * 100.0),
        reading = reading,
        at = tell.near(at),
        conditions = conditions.join(", ")
    ));
    if let Some(beyond) = found.beyond.first() {
        text += " ";
        text += &outside(tell, beyond);
    }
    let limit = plain(FISH_LIMIT.0);
    text += " ";
    let cycles = tell
        .place
        .pools
        .get(&id)
        .is_some_and(|pool| pool.life == Life::Cycling);
    if free > FISH_LIMIT.0 && cycles {
        text += &tell.say(&msg!("ammonia-closed", limit = limit));
        vec![Block::Caution { text }]
    } else if free > FISH_LIMIT.0 {
        text += &tell.say(&msg!("ammonia-danger", limit = limit, spot = spot));
        vec![Block::Caution { text }]
    } else {
        text += &tell.say(&msg!("ammonia-calm", limit = limit));
        vec![Block::Text { text }]
    }
}

fn grams(salinity: Salinity) -> String {
    format!("{} g/kg", plain(salinity.0))
}

/// The last reading of a kind, if it is not too old to hold.
fn lately(tell: &Tell<'_>, id: PoolId, kind: Kind) -> Option<(Timestamp, Measured)> {
    let (at, _, measured) = tell.book.last_reading(Target::Pool(id), kind, tell.now)?;
    (seconds_between(at, tell.now) <= HOLDS_DAYS * 86_400).then_some((at, measured))
}

fn ph(tell: &Tell<'_>, id: PoolId) -> Option<f64> {
    match lately(tell, id, Kind::Ph)? {
        (_, Measured::Ph(ph)) => Some(ph),
        _ => None,
    }
}

/// How warm a pool's water was read lately.
pub(in crate::desk) fn warmth(tell: &Tell<'_>, id: PoolId) -> Option<Celsius> {
    match lately(tell, id, Kind::Temperature)? {
        (_, Measured::Temperature(celsius)) => Some(Celsius(celsius)),
        _ => None,
    }
}

/// When a salt pool's salinity was last read, and what it was.
pub(in crate::desk) fn last_salinity(tell: &Tell<'_>, id: PoolId) -> Option<(Timestamp, Salinity)> {
    let kinds = [Kind::Gravity, Kind::Salinity, Kind::Conductivity];
    let all = kinds
        .into_iter()
        .filter_map(|kind| tell.book.last_reading(Target::Pool(id), kind, tell.now));
    let (at, _, measured) = all.max_by_key(|(at, seq, _)| (*at, *seq))?;
    Some((at, salinity_of(&measured).ok()?.salinity))
}

/// A pool's salinity, and whether it is only assumed.
fn salinity(tell: &Tell<'_>, id: PoolId) -> (Salinity, bool) {
    let fresh = tell
        .place
        .pools
        .get(&id)
        .is_none_or(|pool| pool.water == Water::Fresh);
    match last_salinity(tell, id) {
        Some((at, found)) if seconds_between(at, tell.now) <= HOLDS_DAYS * 86_400 => (found, false),
        _ if fresh => (Salinity(0.0), false),
        _ => (means(tell.place).target, true),
    }
}

/// That an input lies outside a formula's published range, with the range.
fn outside(tell: &Tell<'_>, beyond: &Beyond) -> String {
    let is_celsius = beyond.input == Input::Temperature;
    tell.say(&msg!(
        "ammonia-beyond",
        unit = if is_celsius { " °C" } else { "" },
        value = plain(beyond.value),
        low = plain(beyond.range.low),
        high = plain(beyond.range.high)
    ))
}
