//! Turns in machine-readable form, for `--json`.

use jiff::Timestamp;
use serde_json::{Value, json};
use wrackline_core::care::{Duty, Standing};
use wrackline_core::place::{Target, Water};
use wrackline_core::rota::{Hand, Turn};

use super::tell::Tell;

/// The enclosure and the pool of a target.
pub(super) fn spot<'a>(tell: &Tell<'a>, target: Target) -> (Option<&'a str>, Option<&'static str>) {
    let pool = match target {
        Target::Pool(id) => tell.place.pools.get(&id).map(|pool| match pool.water {
            Water::Fresh => "fresh",
            Water::Salt => "salt",
        }),
        _ => None,
    };
    let enclosure = tell.place.enclosure_of(target).map(|one| one.name.as_str());
    (enclosure, pool)
}

/// A turn as `--json` prints it: instants with the place's offset.
#[must_use]
pub fn turn(tell: &Tell<'_>, standing: &Standing, hand: &Hand) -> Value {
    let zone = &tell.place.zone;
    let instant = |at: Timestamp| zone.rfc3339(at);
    let (enclosure, pool) = spot(tell, standing.turn.target);
    json!({
        "enclosure": enclosure,
        "pool": pool,
        "duty": duty(tell, standing.duty()),
        "last": standing.anchor.last.map(|done| instant(done.at)),
        "due": instant(standing.due),
        "overdue": instant(standing.overdue),
        "hazard": standing.hazard.map(instant),
        "mark": standing.mark.word(),
        "carer": hand.carer.map(|carer| tell.carer(carer)),
    })
}

/// A coming turn as `--json` prints it.
#[must_use]
pub fn coming(tell: &Tell<'_>, turn: &Turn) -> Value {
    let expected = &turn.expected;
    let zone = &tell.place.zone;
    let (enclosure, pool) = spot(tell, expected.target);
    let offer = super::turns::hand(tell, expected).offered;
    json!({
        "enclosure": enclosure,
        "pool": pool,
        "duty": duty(tell, expected.duty),
        "due": zone.rfc3339(expected.due),
        "day": expected.when.date.to_string(),
        "round": tell.round(expected.when.round),
        "minutes": super::turns::minutes(expected.work.minutes),
        "carer": turn.carer.map(|carer| tell.carer(carer)),
        "offered": offer.map(|offer| tell.carer(offer.to)),
    })
}

fn duty(tell: &Tell<'_>, duty: Duty) -> String {
    duty.catalogue_name()
        .map_or_else(|| tell.duty(duty), str::to_owned)
}
