//! Turns in machine-readable form, for `--json`.

use jiff::Timestamp;
use serde_json::{Value, json};
use wrackline_core::care::Standing;
use wrackline_core::place::{Target, Water};
use wrackline_core::rota;

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
pub fn turn(tell: &Tell<'_>, standing: &Standing) -> Value {
    let zone = &tell.place.zone;
    let instant = |at: Timestamp| zone.rfc3339(at);
    let (enclosure, pool) = spot(tell, standing.turn.target);
    let hand = rota::hand(tell.book, tell.place, standing, tell.now);
    json!({
        "enclosure": enclosure,
        "pool": pool,
        "duty": standing.duty().catalogue_name().map_or_else(|| tell.duty(standing.duty()), str::to_owned),
        "last": standing.anchor.last.map(|done| instant(done.at)),
        "due": instant(standing.due),
        "overdue": instant(standing.overdue),
        "hazard": standing.hazard.map(instant),
        "mark": standing.mark.word(),
        "carer": hand.carer.map(|carer| tell.carer(carer)),
    })
}
