//! Readings in and out of their bands.

use jiff::Timestamp;

use super::ReadingWeek;
use crate::air::{BAND_CELSIUS, BAND_PERCENT};
use crate::journal::Book;
use crate::place::{Place, Target};
use crate::quantity::{Kind, Measured};

/// Readings of a span: humidity and temperature of every enclosure, and of every pool what was read.
pub(super) fn all(book: &Book, place: &Place, from: Timestamp, to: Timestamp) -> Vec<ReadingWeek> {
    let mut all = Vec::new();
    for enclosure in place.walk() {
        let target = Target::Enclosure(enclosure.id);
        all.extend([Kind::Humidity, Kind::Temperature].map(|kind| of_kind(book, target, kind, from, to)));
        for pool in place.pools_of(enclosure.id) {
            let target = Target::Pool(pool.id);
            let kinds = Kind::ALL
                .into_iter()
                .map(|kind| of_kind(book, target, kind, from, to));
            all.extend(kinds.filter(|one| one.all() > 0));
        }
    }
    all
}

fn of_kind(book: &Book, target: Target, kind: Kind, from: Timestamp, to: Timestamp) -> ReadingWeek {
    let band = match kind {
        Kind::Humidity => Some(BAND_PERCENT),
        Kind::Temperature => Some(BAND_CELSIUS),
        _ => None,
    };
    let mut sum = ReadingWeek {
        target,
        kind,
        banded: band.is_some(),
        inside: 0,
        under: 0,
        over: 0,
    };
    for (_, measured) in book.readings(target, kind, from, to) {
        let slot = match (measured, band) {
            (Measured::Humidity(value) | Measured::Temperature(value), Some((low, _))) if value < low => {
                &mut sum.under
            }
            (Measured::Humidity(value) | Measured::Temperature(value), Some((_, high))) if value > high => {
                &mut sum.over
            }
            _ => &mut sum.inside,
        };
        *slot += 1;
    }
    sum
}
