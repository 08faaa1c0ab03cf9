//! The siphon and its buckets.

use wrackline_core::particulars::emptying;
use wrackline_core::pool::siphon::SiphonError;
use wrackline_core::quantity::{litres_per_minute, plain};

use super::{Piece, density, drawn, mass};
use crate::desk::fit::Seen;
use crate::desk::setup::made;
use crate::desk::setup::made_told::length;
use crate::desk::{Desk, Refused};
use crate::lines::ask::Plumb;
use crate::msg;

/// What there is to say of emptying a pool.
pub(super) fn piece(desk: &Desk<'_>, seen: &Seen<'_>, ask: &Plumb) -> Result<Piece, Refused> {
    let siphon = ask.siphon;
    let found =
        emptying(seen.pool, drawn(seen.pool), siphon).map_err(|error| refuse(desk, seen, ask, &error))?;
    let litres = desk.tell.litres(found.litres.0);
    let units = desk.place().units;
    let bore = length(desk, found.bore.inner.0);
    let flow = desk.say(&msg!(
        "plumb-siphon",
        bore = bore.as_str(),
        tube = length(desk, siphon.length.0),
        head = length(desk, siphon.head.0),
        flow = litres_per_minute(found.flow.rate.0, units),
        litres = litres.as_str(),
        drawing = minutes(found.drawing.0)
    ));
    let full = found.buckets.each.0.min(found.litres.0) * density(seen.pool).0 / 1000.0;
    let buckets = desk.say(&msg!(
        "plumb-buckets",
        bucket = desk.tell.litres(siphon.bucket.0),
        each = desk.tell.litres(found.buckets.each.0),
        count = found.buckets.count,
        minutes = minutes(found.buckets.minutes.0),
        mass = mass(desk, full)
    ));
    let usual = [
        (ask.siphon.bore.is_some(), "plumb-assumed-bore"),
        (ask.head_said, "plumb-assumed-head"),
        (ask.tube_said, "plumb-assumed-tube"),
        (ask.bucket_said, "plumb-assumed-bucket"),
    ];
    let assumed: Vec<String> = usual
        .into_iter()
        .filter(|(said, _)| !said)
        .map(|(_, id)| desk.tell.word(id))
        .collect();
    let assumed = (!assumed.is_empty()).then(|| {
        desk.say(&msg!(
            "plumb-assumed",
            list = desk.tell.list(&assumed),
            pool = desk.tell.pool(seen.pool.id).to_lowercase()
        ))
    });
    Ok(Piece {
        title: Some(desk.say(&msg!(
            "plumb-title-siphon",
            bore = bore,
            litres = litres,
            count = found.buckets.count,
            minutes = minutes(found.buckets.minutes.0)
        ))),
        lines: [flow, buckets].into_iter().chain(assumed).collect(),
    })
}

/// Minutes as people time them: to a tenth below ten, whole above.
fn minutes(minutes: f64) -> String {
    if minutes < 10.0 {
        plain((minutes * 10.0).round() / 10.0)
    } else {
        plain(minutes.round())
    }
}

fn refuse(desk: &Desk<'_>, seen: &Seen<'_>, ask: &Plumb, error: &SiphonError) -> Refused {
    match error {
        SiphonError::NoHead { .. } => msg!("plumb-no-head", pool = desk.tell.pool(seen.pool.id)),
        SiphonError::TooShort { length: tube, head } => msg!(
            "plumb-tube-short",
            tube = length(desk, tube.0),
            head = length(desk, head.0)
        ),
        SiphonError::HeadRunsOut { asked, reachable } => msg!(
            "plumb-head-runs-out",
            head = length(desk, ask.siphon.head.0),
            reachable = desk.tell.litres(reachable.0),
            asked = desk.tell.litres(asked.0)
        ),
        SiphonError::MoreThanThere { asked, there } => msg!(
            "plumb-more-than-there",
            asked = desk.tell.litres(asked.0),
            there = desk.tell.litres(there.0)
        ),
        SiphonError::Range { value, range, .. } => msg!(
            "fit-outside",
            what = desk.tell.word("fit-what-siphon"),
            value = plain(*value),
            low = plain(range.low),
            high = plain(range.high)
        ),
        SiphonError::Contents(error) => made::contents(desk, seen.pool, error),
    }
}
