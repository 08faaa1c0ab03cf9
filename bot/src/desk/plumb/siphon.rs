//! The siphon and its buckets.

use wrackline_core::particulars::emptying;
use wrackline_core::pool::siphon::{Given, SiphonError};
use wrackline_core::quantity::{Units, litres_per_minute, plain};

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
    let assumed = assumed(desk, seen, ask);
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

/// What of the siphon was not said.
fn assumed(desk: &Desk<'_>, seen: &Seen<'_>, ask: &Plumb) -> Option<String> {
    let siphon = ask.siphon;
    let mut all = Vec::new();
    if siphon.bore.is_none() {
        all.push(desk.tell.word("plumb-assumed-bore"));
    }
    if !ask.head_said {
        all.push(desk.say(&msg!("plumb-assumed-head", head = length(desk, siphon.head.0))));
    }
    if !ask.tube_said {
        all.push(desk.say(&msg!("plumb-assumed-tube", tube = length(desk, siphon.length.0))));
    }
    if !ask.bucket_said {
        let bucket = desk.tell.litres(siphon.bucket.0);
        all.push(desk.say(&msg!("plumb-assumed-bucket", bucket = bucket)));
    }
    let sample = match desk.place().units {
        Units::Us => "head 24 in tube 80 in bore 3/8 in bucket 3 gal",
        Units::Metric | Units::Imperial => "head 60 cm tube 2 m bore 9 mm bucket 12 L",
    };
    (!all.is_empty()).then(|| {
        desk.say(&msg!(
            "plumb-assumed",
            list = desk.tell.list(&all),
            pool = desk.tell.pool(seen.pool.id).to_lowercase(),
            sample = sample
        ))
    })
}

/// Minutes as people time them: to a tenth below ten, whole above.
pub(in crate::desk) fn minutes(minutes: f64) -> String {
    if minutes < 10.0 {
        plain((minutes * 10.0).round() / 10.0)
    } else {
        plain(minutes.round())
    }
}

fn refuse(desk: &Desk<'_>, seen: &Seen<'_>, ask: &Plumb, error: &SiphonError) -> Refused {
    match error {
        SiphonError::NoHead { .. } => {
            let sample = match desk.place().units {
                Units::Us => "head 20 in",
                Units::Metric | Units::Imperial => "head 50 cm",
            };
            msg!(
                "plumb-no-head",
                pool = desk.tell.pool(seen.pool.id),
                sample = sample
            )
        }
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
        SiphonError::Range { what, value, range } => {
            let (what, told): (_, &dyn Fn(f64) -> String) = match what {
                Given::Bore => ("plumb-what-bore", &|cm| length(desk, cm)),
                Given::Length => ("plumb-what-tube", &|cm| length(desk, cm)),
                Given::Bucket => ("plumb-what-bucket", &|litres| desk.tell.litres(litres)),
                Given::Draw => ("plumb-what-draw", &|litres| desk.tell.litres(litres)),
                _ => ("fit-what-siphon", &plain),
            };
            msg!(
                "fit-outside",
                what = desk.tell.word(what),
                value = told(*value),
                low = told(range.low),
                high = told(range.high)
            )
        }
        SiphonError::Contents(error) => made::contents(desk, seen.pool, error),
    }
}
