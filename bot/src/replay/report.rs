//! What a replay reports after its days, from its journal.

use jiff::Timestamp;
use wrackline_core::civil::plus_days;
use wrackline_core::place::CarerId;
use wrackline_core::reckoning::{Even, Gaps, Person, Reckoning, reckon};

use crate::chat::blocks::Block;
use crate::desk::tell::Tell;
use crate::msg;

/// A sharing-out is compared with the best where there are at most so many ways to do it. More take too long to try.
const TRIES_MAX: u64 = 4_096;

/// How the work of whole days was shared, from the start of the first to the start of the day after the last.
#[must_use]
pub(super) fn report(tell: &Tell<'_>, from: Timestamp, to: Timestamp) -> Vec<Block> {
    let reckoned = reckon(tell.book, from, to, TRIES_MAX);
    let (first, after) = (tell.place.zone.date(from), tell.place.zone.date(to));
    let days = (after - first).get_days();
    let title = msg!(
        "report-title",
        days = i64::from(days),
        from = tell.date(first),
        to = tell.date(plus_days(after, -1))
    );
    let text = |text: String| Block::Text { text };
    let mut blocks = vec![
        Block::Title {
            text: tell.say(&title),
        },
        table(tell, &reckoned),
        text(tell.word("report-explained")),
        text(even(tell, &reckoned, i64::from(days))),
        text(bounds(tell, &reckoned)),
        text(gaps(tell, &reckoned.gaps)),
    ];
    for (id, count) in [
        ("report-unowned", reckoned.unowned),
        ("report-hazards", reckoned.hazards),
    ] {
        blocks.push(text(tell.say(&msg!(id, count = count))));
    }
    blocks
}

fn table(tell: &Tell<'_>, reckoned: &Reckoning) -> Block {
    let head = ["who", "minutes", "share", "part", "load", "turns", "late"];
    let row = |(carer, person): (&CarerId, &Person)| {
        let share = match person.wants {
            None => tell.word("report-share-left"),
            Some(share) if share > 0.0 => share.to_string(),
            Some(_) => tell.word("report-share-none"),
        };
        let or_none = |text: Option<String>| text.unwrap_or_else(|| "–".to_owned());
        vec![
            tell.carer(*carer),
            format!("{:.0}", person.did),
            share,
            format!("{:.0}", person.owed),
            or_none(person.load().map(|load| format!("{load:.2}"))),
            person.turns.all.to_string(),
            or_none(
                person
                    .turns
                    .late_share()
                    .map(|share| format!("{:.0} %", share * 100.0)),
            ),
        ]
    };
    Block::Table {
        head: head
            .map(|column| tell.word(format!("report-head-{column}")))
            .to_vec(),
        rows: reckoned.people.iter().map(row).collect(),
    }
}

/// An index, to the digits that are compared; cut off, so that what is told was reached.
fn index(value: f64) -> String {
    format!("{:.3}", (value * 1000.0).floor() / 1000.0)
}

fn even(tell: &Tell<'_>, reckoned: &Reckoning, days: i64) -> String {
    let whole = tell.say(&msg!(
        "report-even",
        index = index(reckoned.whole.jain),
        days = days
    ));
    match &reckoned.last {
        None => whole,
        Some(last) => {
            let last = tell.say(&msg!("report-even-last", index = index(last.jain)));
            format!("{whole} {last}")
        }
    }
}

fn bounds(tell: &Tell<'_>, reckoned: &Reckoning) -> String {
    let figures = |even: &Even| {
        let most = (even.bound.most * 1000.0).ceil() / 1000.0;
        let gap = ((even.bound.most - even.jain).max(0.0) * 1000.0).ceil() / 1000.0;
        (format!("{most:.3}"), format!("{gap:.3}"))
    };
    let (most, gap) = figures(&reckoned.whole);
    let whole = tell.say(&msg!("report-bound", most = most, gap = gap));
    match &reckoned.last {
        None => whole,
        Some(last) => {
            let (most, gap) = figures(last);
            format!(
                "{whole} {}",
                tell.say(&msg!("report-bound-last", most = most, gap = gap))
            )
        }
    }
}

fn gaps(tell: &Tell<'_>, gaps: &Gaps) -> String {
    let most = TRIES_MAX.to_string();
    if gaps.tried.is_empty() {
        return tell.say(&msg!("report-gap-none", shared = gaps.shared, most = most));
    }
    let worse = gaps.worse().count();
    let worst = gaps.worse().fold(0.0, f64::max);
    let mean = gaps.worse().sum::<f64>() / worse.max(1) as f64;
    tell.say(&msg!(
        "report-gap",
        shared = gaps.shared,
        tried = gaps.tried.len(),
        most = most,
        best = gaps.best(),
        worse = worse,
        worst = format!("{worst:.2}"),
        mean = format!("{mean:.2}"),
        left = gaps.leaving_more()
    ))
}
