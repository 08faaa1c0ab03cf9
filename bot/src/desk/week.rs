//! The week summed up.

use jiff::Timestamp;
use wrackline_core::care::Mark;
use wrackline_core::civil::{Week, plus_days};
use wrackline_core::journal::Matter;
use wrackline_core::matter::is_private;
use wrackline_core::quantity::Kind;
use wrackline_core::rota;
use wrackline_core::week::{DutyWeek, ReadingWeek, WeekSummary, week as sum_up};

use super::Desk;
use super::sightings::sighting_word;
use super::tell::Tell;
use crate::chat::blocks::{Answer, Block};
use crate::msg;

/// `/week`: this week so far, or the last one; `full`: the whole table.
#[must_use]
pub fn week(desk: &Desk<'_>, last: bool, full: bool) -> Answer {
    let this = Week::of(desk.place().zone.date(desk.now()));
    let week = if last { this.previous() } else { this };
    Answer {
        ok: true,
        blocks: summary(&desk.tell, week, full),
        private: false,
        turns: Vec::new(),
    }
}

/// A week's summary as blocks: short enough for one message, or with the whole table.
#[must_use]
pub fn summary(tell: &Tell<'_>, week: Week, full: bool) -> Vec<Block> {
    let sum = sum_up(tell.book, week, tell.now);
    let last_day = plus_days(week.monday, 6);
    let title = tell.say(&msg!(
        "week-title",
        week = week.name(),
        from = tell.date(week.monday),
        to = tell.date(last_day)
    ));
    let mut blocks = vec![Block::Title { text: title }];
    blocks.push(Block::Text {
        text: totals(tell, &sum),
    });
    if full {
        blocks.push(table(tell, &sum));
    } else if let Some(block) = notable(tell, &sum) {
        blocks.push(block);
    }
    blocks.push(Block::Text {
        text: readings(tell, &sum),
    });
    blocks.push(Block::Text {
        text: matters(tell, &sum),
    });
    blocks.push(Block::Text {
        text: people(tell, &sum),
    });
    blocks.extend(even(tell, &sum).map(|text| Block::Text { text }));
    blocks.push(Block::Text {
        text: coming(tell, &sum),
    });
    if let Some(text) = unknown(tell, &sum) {
        blocks.push(Block::Text { text });
    }
    if !full {
        blocks.push(Block::Text {
            text: tell.word("week-full-hint"),
        });
    }
    blocks
}

fn totals(tell: &Tell<'_>, sum: &WeekSummary) -> String {
    let total = |value: fn(&DutyWeek) -> u32| -> u32 { sum.duties.iter().map(value).sum() };
    let minutes: Vec<i64> = sum
        .duties
        .iter()
        .filter_map(|duty| duty.minutes_to_done)
        .collect();
    let text = tell.say(&msg!(
        "week-totals",
        done = total(|duty| duty.done),
        late = total(|duty| duty.late),
        missed = total(|duty| duty.missed),
        notneeded = total(|duty| duty.not_needed)
    ));
    match i64::try_from(minutes.len()) {
        Ok(count) if count > 0 => {
            let mean = minutes.iter().sum::<i64>() / count;
            format!(
                "{text} {}",
                tell.say(&msg!("week-minutes", span = tell.span(mean)))
            )
        }
        _ => text,
    }
}

/// Duties of the week that were late, missed or not needed, or are open: the ones worth a line, per pool.
fn notable(tell: &Tell<'_>, sum: &WeekSummary) -> Option<Block> {
    let lines: Vec<_> = sum
        .duties
        .iter()
        .filter(|duty| duty.late + duty.missed + duty.not_needed > 0 || duty.is_late())
        .map(|duty| {
            let text = tell.say(&msg!(
                "week-line",
                target = tell.target(duty.target),
                duty = tell.duty(duty.duty),
                done = duty.done,
                late = duty.late,
                missed = duty.missed,
                notneeded = duty.not_needed
            ));
            let mark = (duty.mark > Mark::Calm).then_some(duty.mark);
            crate::chat::blocks::Item {
                text,
                mark,
                settled: false,
                answers: Vec::new(),
            }
        })
        .collect();
    (!lines.is_empty()).then_some(Block::Items { items: lines })
}

fn table(tell: &Tell<'_>, sum: &WeekSummary) -> Block {
    let head = [
        "duty",
        "done",
        "late",
        "missed",
        "notneeded",
        "parts",
        "minutes",
        "mark",
    ];
    let head = head
        .map(|column| tell.word(format!("week-column-{column}")))
        .to_vec();
    let row = |duty: &DutyWeek| {
        let minutes = duty
            .minutes_to_done
            .map_or_else(|| "–".to_owned(), |minutes| tell.span(minutes));
        vec![
            format!("{}: {}", tell.target(duty.target), tell.duty(duty.duty)),
            duty.done.to_string(),
            duty.late.to_string(),
            duty.missed.to_string(),
            duty.not_needed.to_string(),
            duty.parts.to_string(),
            minutes,
            tell.mark(duty.mark),
        ]
    };
    Block::Table {
        head,
        rows: sum.duties.iter().map(row).collect(),
    }
}

fn readings(tell: &Tell<'_>, sum: &WeekSummary) -> String {
    let line = |one: &ReadingWeek| {
        let id = if one.banded {
            "week-readings"
        } else {
            "week-readings-unbanded"
        };
        let message = msg!(
            id,
            target = tell.target(one.target),
            kind = tell.word(kind_word(one.kind)),
            all = one.all(),
            inside = one.inside,
            under = one.under,
            over = one.over
        );
        (one.all() > 0).then(|| tell.say(&message))
    };
    let lines: Vec<String> = sum.readings.iter().filter_map(line).collect();
    if lines.is_empty() {
        tell.word("week-no-readings")
    } else {
        lines.join("\n")
    }
}

fn matters(tell: &Tell<'_>, sum: &WeekSummary) -> String {
    let (private, public): (Vec<&Matter>, Vec<&Matter>) =
        sum.matters.iter().partition(|matter| is_private(matter.sighting));
    let mut lines: Vec<String> = public
        .iter()
        .map(|matter| {
            let id = if matter.closed.is_some() {
                "week-matter-closed"
            } else {
                "week-matter-open"
            };
            tell.say(&msg!(
                id,
                target = tell.target(matter.target),
                what = tell.word(sighting_word(matter.sighting)),
                at = tell.moment(matter.at)
            ))
        })
        .collect();
    // The summary stands before everyone: what is the keepers' alone is counted, not named.
    if !private.is_empty() {
        lines.push(tell.say(&msg!("week-matters-private", count = private.len())));
    }
    if lines.is_empty() {
        tell.word("week-no-matters")
    } else {
        lines.join("\n")
    }
}

fn people(tell: &Tell<'_>, sum: &WeekSummary) -> String {
    let mut all: Vec<_> = sum.people.iter().collect();
    all.sort_by_key(|(id, count)| (std::cmp::Reverse(**count), **id));
    let names: Vec<String> = all
        .iter()
        .map(|(id, count)| format!("{} {count}", tell.carer(**id)))
        .collect();
    if names.is_empty() {
        tell.word("week-nobody")
    } else {
        tell.say(&msg!("week-people", names = tell.list(&names)))
    }
}

/// The days over which it is told how evenly work was shared.
const EVEN_DAYS: i64 = 28;

/// The minutes of everyone in the week, and how evenly work was shared over four weeks.
fn even(tell: &Tell<'_>, sum: &WeekSummary) -> Option<String> {
    let place = tell.book.place_at(sum.until);
    let since = |days: i64| place.zone.day_start(plus_days(sum.week.monday, days));
    let credits = |from: Timestamp| rota::credits(tell.book, &place, from, sum.until);
    let mut names: Vec<_> = credits(since(0)).into_iter().collect();
    names.retain(|(_, credit)| credit.did >= 0.5);
    names.sort_by(|(_, a), (_, b)| b.did.total_cmp(&a.did));
    let names: Vec<String> = names
        .iter()
        .map(|(id, credit)| format!("{} {}", tell.carer(*id), super::turns::minutes(credit.did)))
        .collect();
    if names.is_empty() {
        return None;
    }
    let loads: Vec<(f64, f64)> = credits(since(7 - EVEN_DAYS))
        .values()
        .map(|credit| (credit.did, credit.owed))
        .collect();
    let minutes = tell.say(&msg!("week-work", names = tell.list(&names)));
    if loads.len() < 2 {
        return Some(minutes);
    }
    let index = format!("{:.2}", rota::jain(loads));
    Some(format!(
        "{minutes} {}",
        tell.say(&msg!("week-even", index = index))
    ))
}

/// What falls due in the days after, per day.
fn coming(tell: &Tell<'_>, sum: &WeekSummary) -> String {
    let mut days: std::collections::BTreeMap<jiff::civil::Date, usize> = std::collections::BTreeMap::new();
    for one in &sum.coming {
        let day = tell.place.zone.date(one.due);
        *days.entry(day).or_default() += 1;
    }
    if days.is_empty() {
        return tell.word("week-nothing-coming");
    }
    let days = days
        .iter()
        .map(|(day, count)| tell.say(&msg!("week-day", day = tell.date(*day), count = *count)));
    let days: Vec<String> = days.collect();
    tell.say(&msg!("week-coming", days = days.join(", ")))
}

/// What the journal cannot know.
fn unknown(tell: &Tell<'_>, sum: &WeekSummary) -> Option<String> {
    let never = sum.duties.iter().filter(|duty| duty.never);
    let mut names: Vec<String> = never
        .map(|duty| format!("{} {}", tell.target(duty.target), tell.duty(duty.duty)))
        .collect();
    let silent = sum.readings.iter().filter(|one| one.all() == 0);
    names.extend(silent.map(|one| format!("{} {}", tell.target(one.target), tell.word(kind_word(one.kind)))));
    const NAMED_MAX: usize = 6;
    let more = names.len().saturating_sub(NAMED_MAX);
    names.truncate(NAMED_MAX);
    if more > 0 {
        names.push(tell.say(&msg!("week-unknown-more", count = more)));
    }
    (!names.is_empty()).then(|| tell.say(&msg!("week-unknown", names = tell.list(&names))))
}

/// The id of a kind's word.
pub(super) fn kind_word(kind: Kind) -> &'static str {
    match kind {
        Kind::Humidity => "kind-humidity",
        Kind::Temperature => "kind-temperature",
        Kind::Gravity => "kind-gravity",
        Kind::Salinity => "kind-salinity",
        Kind::Conductivity => "kind-conductivity",
        Kind::Ph => "kind-ph",
        Kind::Ammonia => "kind-ammonia",
        Kind::Nitrite => "kind-nitrite",
        Kind::Nitrate => "kind-nitrate",
        Kind::Chlorine => "kind-chlorine",
        Kind::Level => "kind-level",
    }
}
