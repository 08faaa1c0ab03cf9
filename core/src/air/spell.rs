//! Spells outside the humidity band. A short spell is a spike and no alarm; a long one is a danger measured.

use jiff::Timestamp;

use crate::civil::{plus_minutes, seconds_between};

/// The band that an enclosure's relative humidity should keep, in percent. Common practice, with a keepers'
/// association's public page for the same figures.
pub const BAND_PERCENT: (f64, f64) = (75.0, 85.0);

/// The temperature band in °C: 75–85 °F of one public page; others differ, so a place judges for itself.
pub const BAND_CELSIUS: (f64, f64) = (24.0, 29.0);

/// Below this many percent the low side counts towards an alarm. Common practice, no published source.
pub const LOW_PERCENT: f64 = 70.0;
/// Above this many percent the high side counts towards an alarm. Common practice, no published source.
pub const HIGH_PERCENT: f64 = 85.0;
/// Hours below [`LOW_PERCENT`] that raise an alarm: gills dry, so the low side is the quicker danger. Common
/// practice, no published source.
pub const LOW_LIMIT_H: i64 = 6;
/// Hours above [`HIGH_PERCENT`] that raise an alarm. Common practice, no published source.
pub const HIGH_LIMIT_H: i64 = 36;

/// Between readings further apart than this nothing is known, and a spell is not carried across.
pub const GAP_MAX_H: i64 = 30;

/// Which side of the band.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// Too dry.
    Low,
    /// Too humid.
    High,
}

/// An unbroken stretch of readings outside the band on one side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spell {
    /// Which side.
    pub side: Side,
    /// Its first reading.
    pub from: Timestamp,
    /// Its last reading.
    pub to: Timestamp,
    /// The value of its last reading, in percent.
    pub latest: f64,
    /// The reading back inside that ended it.
    pub ended: Option<Timestamp>,
    /// The first reading at which it had lasted as long as its limit: from then on it is an alarm.
    pub alarm: Option<Timestamp>,
}

impl Spell {
    /// How long it is known to have lasted, in hours.
    #[must_use]
    pub fn hours(&self) -> f64 {
        seconds_between(self.from, self.to) as f64 / 3600.0
    }

    /// The limit of its side, in hours.
    #[must_use]
    pub fn limit_h(&self) -> i64 {
        if self.side == Side::Low {
            LOW_LIMIT_H
        } else {
            HIGH_LIMIT_H
        }
    }
}

/// The spells among readings (instant, percent) in order of time.
///
/// ```
/// use jiff::{SignedDuration, Timestamp};
/// use wrackline_core::air::spells;
/// let at = |hours| Timestamp::UNIX_EPOCH + SignedDuration::from_hours(hours);
/// // One hour at 92 % raises nothing; two days at 88 % raise an alarm.
/// assert!(spells([(at(0), 80.0), (at(1), 92.0), (at(2), 81.0)])[0].alarm.is_none());
/// assert!(spells([(at(0), 88.0), (at(24), 88.0), (at(48), 88.0)])[0].alarm.is_some());
/// ```
#[must_use]
pub fn spells(readings: impl IntoIterator<Item = (Timestamp, f64)>) -> Vec<Spell> {
    let mut all: Vec<Spell> = Vec::new();
    let mut open = false;
    for (at, percent) in readings {
        let side = if percent < LOW_PERCENT {
            Some(Side::Low)
        } else if percent > HIGH_PERCENT {
            Some(Side::High)
        } else {
            None
        };
        let last = all.last_mut().filter(|_| open);
        let gap = last
            .as_ref()
            .is_some_and(|spell| at > plus_minutes(spell.to, GAP_MAX_H * 60));
        match (side, last) {
            (Some(side), Some(spell)) if spell.side == side && !gap => {
                (spell.to, spell.latest) = (at, percent);
                let long = seconds_between(spell.from, at) >= spell.limit_h() * 3600;
                spell.alarm = spell.alarm.or(long.then_some(at));
            }
            (side, last) => {
                if let Some(spell) = last.filter(|_| !gap) {
                    spell.ended = Some(at);
                }
                open = side.is_some();
                if let Some(side) = side {
                    all.push(Spell {
                        side,
                        from: at,
                        to: at,
                        latest: percent,
                        ended: None,
                        alarm: None,
                    });
                }
            }
        }
    }
    all
}
