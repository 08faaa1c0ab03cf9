//! What is posted when a sitter's span begins, and to the keepers when it has ended: what was done, seen and used up.

use wrackline_core::people::Span;
use wrackline_core::place::{CarerId, Role, Water};
use wrackline_core::week::{DutyWeek, ReadingWeek, SpanSummary, span as sum_up};

use super::sightings::sighting_word;
use super::tell::{Tell, capital};
use super::water::{self, used};
use super::week::kind_word;
use super::{Desk, sheet};
use crate::chat::blocks::{Block, Item};
use crate::msg;
use crate::words::Message;

/// The post of a span that begins: the turns of its first day, and where the sheet is. It calls whoever sits by name.
pub(super) fn begins(tell: &Tell<'_>, carer: CarerId, span: Span) -> Vec<Block> {
    let desk = Desk {
        tell: *tell,
        me: carer,
        role: Role::Sitter,
    };
    // The post may be late by days.
    let today = tell.place.zone.date(tell.now).clamp(span.from, span.to);
    let day = Span {
        from: today,
        to: today,
    };
    let rows = sheet::rows(&desk, carer, day);
    let mut blocks = vec![
        Block::Title {
            text: title(tell, "handover-begins", carer, span),
        },
        Block::For {
            carers: vec![carer.0],
        },
        text(tell, &msg!("handover-today", count = rows.len())),
    ];
    if !rows.is_empty() {
        blocks.push(items(rows));
    }
    blocks.push(text(tell, &msg!("handover-sheet", who = tell.carer(carer))));
    blocks
}

/// The post of a span that has ended. It calls the keepers by name.
pub(super) fn ended(tell: &Tell<'_>, carer: CarerId, span: Span) -> Vec<Block> {
    let keepers = tell.place.keepers().map(|id| id.0).collect();
    let (text, rest) = summed_up(tell, carer, span);
    let mut blocks = vec![Block::Title { text }, Block::For { carers: keepers }];
    blocks.extend(rest);
    blocks
}

/// A span that is over: that it is, and what was done, seen and used up in it.
pub(super) fn summed_up(tell: &Tell<'_>, carer: CarerId, span: Span) -> (String, Vec<Block>) {
    let sum = sum_up(tell.book, carer, span, tell.now);
    let mut blocks = vec![text(tell, &did(tell, carer, &sum))];
    let duties = sum.own.iter().map(|(duty, own)| {
        tell.say(&msg!(
            "handover-duty",
            duty = capital(&tell.duty(*duty)),
            count = own.count,
            minutes = own.minutes.round()
        ))
    });
    let duties: Vec<String> = duties.collect();
    if !duties.is_empty() {
        blocks.push(items(duties));
    }
    let told = [left(tell, &sum), seen(tell, &sum), read(tell, &sum)];
    let told = told.into_iter().flatten().chain([used_up(tell, &sum)]);
    blocks.extend(told.map(|message| text(tell, &message)));
    (title(tell, "handover-ended", carer, span), blocks)
}

fn title(tell: &Tell<'_>, id: &'static str, carer: CarerId, span: Span) -> String {
    tell.say(&msg!(
        id,
        who = tell.carer(carer),
        from = tell.date(span.from),
        to = tell.date(span.to)
    ))
}

fn text(tell: &Tell<'_>, message: &Message) -> Block {
    Block::Text {
        text: tell.say(message),
    }
}

fn items(texts: Vec<String>) -> Block {
    let item = |text| Item {
        text,
        mark: None,
        settled: false,
        answers: Vec::new(),
    };
    Block::Items {
        items: texts.into_iter().map(item).collect(),
    }
}

fn did(tell: &Tell<'_>, carer: CarerId, sum: &SpanSummary) -> Message {
    let count: u32 = sum.own.values().map(|own| own.count).sum();
    let minutes: f64 = sum.own.values().map(|own| own.minutes).sum();
    msg!(
        "handover-did",
        who = tell.carer(carer),
        count = count,
        minutes = minutes.round()
    )
}

/// What was late, what was never done, and what is late still; whoever's turn it was.
fn left(tell: &Tell<'_>, sum: &SpanSummary) -> Vec<Message> {
    let turn = |one: &DutyWeek| format!("{} {}", tell.target(one.target), tell.duty(one.duty));
    let counted = |count: fn(&DutyWeek) -> u32| {
        let some = sum.duties.iter().filter(|one| count(one) > 0);
        let told = some.map(|one| tell.say(&msg!("handover-times", turn = turn(one), count = count(one))));
        told.collect::<Vec<_>>()
    };
    let open = sum.duties.iter().filter(|one| one.is_late());
    let open: Vec<String> = open.map(turn).collect();
    let all = [
        ("handover-late", counted(|one| one.late)),
        ("handover-missed", counted(|one| one.missed)),
        ("handover-open", open),
    ];
    let told = all
        .into_iter()
        .filter(|(_, turns)| !turns.is_empty())
        .map(|(id, turns)| msg!(id, what = turns.join(", ")));
    let told: Vec<Message> = told.collect();
    if told.is_empty() {
        vec![msg!("handover-all-done")]
    } else {
        told
    }
}

/// What was seen.
fn seen(tell: &Tell<'_>, sum: &SpanSummary) -> Vec<Message> {
    let told = sum.matters.iter().map(|matter| {
        msg!(
            "handover-seen",
            what = tell.word(sighting_word(matter.sighting)),
            target = tell.target(matter.target),
            at = tell.moment(matter.at),
            closed = if matter.closed.is_some() { "yes" } else { "no" }
        )
    });
    let told: Vec<Message> = told.collect();
    if told.is_empty() {
        vec![msg!("handover-unseen")]
    } else {
        told
    }
}

/// Readings out of their bands.
fn read(tell: &Tell<'_>, sum: &SpanSummary) -> Vec<Message> {
    if sum.readings.iter().all(|one| one.all() == 0) {
        return vec![msg!("handover-unread")];
    }
    let out = |one: &&ReadingWeek| one.under + one.over > 0;
    let told = sum.readings.iter().filter(out).map(|one| {
        msg!(
            "handover-out",
            target = tell.target(one.target),
            kind = tell.word(kind_word(one.kind)),
            out = one.under + one.over,
            all = one.all()
        )
    });
    let told: Vec<Message> = told.collect();
    if told.is_empty() {
        vec![msg!("handover-in")]
    } else {
        told
    }
}

/// The water, the salt and the conditioner that the changes took.
fn used_up(tell: &Tell<'_>, sum: &SpanSummary) -> Message {
    let used = used(tell.place, &sum.changed);
    let waters = [(Water::Fresh, "handover-fresh"), (Water::Salt, "handover-salt")];
    let litres = waters.into_iter().filter_map(|(water, id)| {
        let litres = used.litres.get(&water)?;
        Some(tell.say(&msg!(id, litres = tell.litres(*litres))))
    });
    let mut all: Vec<String> = litres.collect();
    if all.is_empty() {
        return msg!("handover-unused");
    }
    if used.salt_g > 0.0 {
        let grams = water::said_salt(tell.place, used.salt_g);
        all.push(tell.say(&msg!("handover-grams", grams = grams)));
    }
    all.push(match used.dose_ml {
        Some(dose) => tell.say(&msg!("handover-dose", dose = water::said_dose(dose))),
        None => tell.word("handover-dose-unknown"),
    });
    msg!("handover-used", what = all.join(", "))
}
