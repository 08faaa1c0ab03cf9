//! Dangers that were seen or measured, and their end.

use jiff::Timestamp;
use jiff::civil::Date;
use wrackline_core::air::{HIGH_LIMIT_H, LOW_LIMIT_H, Side, Spell};
use wrackline_core::civil::plus_minutes;
use wrackline_core::journal::{Entry, Event, FollowUp, Seq};
use wrackline_core::matter::{is_private, is_urgent};
use wrackline_core::place::{EnclosureId, Target};
use wrackline_core::quantity::Kind;

use super::batches;
use super::posts::{press, text};
use super::sightings::{first, sighting_word};
use super::tell::{Tell, capital};
use crate::chat::blocks::Block;
use crate::msg;

fn follow_up_lines(tell: &Tell<'_>, follow: &FollowUp, day: Date) -> Vec<Block> {
    let mut lines = Vec::new();
    if let Some((at, who)) = follow.closed {
        lines.push(text(
            tell,
            &msg!("alarm-closed", who = tell.carer(who), at = tell.stamp(day, at)),
        ));
        return lines;
    }
    if let Some((at, who)) = follow.looked {
        lines.push(text(
            tell,
            &msg!("alarm-looked", who = tell.carer(who), at = tell.stamp(day, at)),
        ));
    }
    if let Some(who) = follow.going {
        lines.push(text(tell, &msg!("alarm-going", who = tell.carer(who))));
    } else if let Some(who) = follow.noted {
        lines.push(text(tell, &msg!("alarm-noted", who = tell.carer(who))));
    }
    lines
}

fn alarm_answers(tell: &Tell<'_>, of: Seq, follow: &FollowUp) -> Option<Block> {
    let open = follow.closed.is_none();
    open.then(|| Block::Answers {
        answers: vec![
            press(tell, "press-noted", format!("noted.{of}")),
            press(tell, "press-going", format!("going.{of}")),
            press(tell, "press-wrong", format!("wrong.{of}")),
            press(tell, "press-close", format!("close.{of}")),
        ],
    })
}

pub(super) fn seen(tell: &Tell<'_>, seq: Seq, day: Date) -> Vec<Block> {
    let Some(entry) = tell.book.entry(seq) else {
        return Vec::new();
    };
    let Event::Saw(target, sighting) = entry.event else {
        return untreated(tell, entry, day);
    };
    let what = capital(&tell.word(sighting_word(sighting)));
    let urgent = is_urgent(tell.place, target, sighting, tell.now);
    let title = msg!(
        if urgent { "alarm-seen-urgent" } else { "alarm-seen" },
        target = tell.target_on_the_way(target),
        what = what,
        who = tell.carer(entry.by),
        at = tell.stamp(day, entry.at)
    );
    let mut blocks = vec![Block::Title {
        text: tell.say(&title),
    }];
    if tell.book.is_void(seq) {
        blocks.push(text(tell, &msg!("alarm-taken-back")));
        return blocks;
    }
    if let Some(note) = tell.book.notes.get(&seq) {
        blocks.push(text(tell, &msg!("alarm-note", note = note.as_str())));
    }
    let follow = tell.book.follow_up(seq, tell.now);
    blocks.extend(again(tell, seq, day));
    blocks.extend(first(tell, target, sighting));
    if is_private(sighting) {
        blocks.push(Block::Text {
            text: tell.word("alarm-private"),
        });
    }
    blocks.extend(follow_up_lines(tell, &follow, day));
    blocks.extend(alarm_answers(tell, seq, &follow));
    blocks
}

/// When and by whom it was seen again last, with the note of it.
fn again(tell: &Tell<'_>, seq: Seq, day: Date) -> Vec<Block> {
    let last = tell
        .book
        .sightings_of(seq, tell.now)
        .pop()
        .filter(|last| *last != seq);
    let Some(entry) = last.and_then(|last| tell.book.entry(last)) else {
        return Vec::new();
    };
    let (at, who) = (tell.stamp(day, entry.at), tell.carer(entry.by));
    let again = text(tell, &msg!("alarm-again", at = at, who = who));
    let note = tell.book.notes.get(&entry.seq);
    let note = note.map(|note| text(tell, &msg!("alarm-note", note = note.as_str())));
    std::iter::once(again).chain(note).collect()
}

/// Untreated water that reached pools in use: what to do first, at which pools.
fn untreated(tell: &Tell<'_>, entry: &Entry, day: Date) -> Vec<Block> {
    let found = wrackline_core::moment::untreated(tell.book, tell.place, entry.seq, tell.now);
    let pools: Vec<String> = found
        .iter()
        .map(|(pool, litres)| batches::to_condition(tell, *pool, *litres))
        .collect();
    let title = msg!(
        "alarm-untreated",
        who = tell.carer(entry.by),
        at = tell.stamp(day, entry.at)
    );
    let mut blocks = vec![Block::Title {
        text: tell.say(&title),
    }];
    if tell.book.is_void(entry.seq) {
        blocks.push(text(tell, &msg!("alarm-taken-back")));
        return blocks;
    }
    if pools.is_empty() {
        blocks.push(text(tell, &msg!("alarm-untreated-over")));
        return blocks;
    }
    let first = msg!("alarm-untreated-first", pools = tell.list(&pools));
    blocks.push(text(tell, &first));
    blocks.push(Block::Caution {
        text: tell.word("caution-vet"),
    });
    let follow = tell.book.follow_up(entry.seq, tell.now);
    blocks.extend(follow_up_lines(tell, &follow, day));
    let of = entry.seq;
    let answers = vec![
        press(tell, "press-noted", format!("noted.{of}")),
        press(tell, "press-going", format!("going.{of}")),
    ];
    blocks.push(Block::Answers { answers });
    blocks
}

pub(super) fn seen_settled(tell: &Tell<'_>, seq: Seq, day: Date) -> Vec<Block> {
    let Some(Event::Saw(target, sighting)) = tell.book.entry(seq).map(|entry| &entry.event) else {
        return Vec::new();
    };
    let closed = tell.book.follow_up(seq, tell.now).closed;
    let (at, who) = closed.map_or((tell.now, None), |(at, who)| (at, Some(who)));
    let message = msg!(
        "settled-seen",
        target = tell.target(*target),
        what = tell.word(sighting_word(*sighting)),
        who = tell.carer_or_anyone(who),
        at = tell.stamp(day, at)
    );
    vec![Block::Title {
        text: tell.say(&message),
    }]
}

fn spell_of(tell: &Tell<'_>, enclosure: EnclosureId, from: Timestamp) -> Option<Spell> {
    let readings = tell
        .book
        .readings(Target::Enclosure(enclosure), Kind::Humidity, from, tell.now)
        .filter_map(|(at, measured)| match measured {
            wrackline_core::quantity::Measured::Humidity(percent) => Some((at, percent)),
            _ => None,
        });
    wrackline_core::air::spells(readings)
        .into_iter()
        .find(|spell| spell.from == from)
}

pub(super) fn spell_alarm(
    tell: &Tell<'_>,
    id: EnclosureId,
    (high, from): (bool, Timestamp),
    day: Date,
) -> Vec<Block> {
    let side = if high { Side::High } else { Side::Low };
    let limit = if high { HIGH_LIMIT_H } else { LOW_LIMIT_H };
    let Some(spell) = spell_of(tell, id, from).filter(|spell| spell.side == side) else {
        let message = msg!("alarm-spell-gone", enclosure = tell.enclosure(id));
        return vec![Block::Title {
            text: tell.say(&message),
        }];
    };
    let title = msg!(
        if high { "alarm-high" } else { "alarm-low" },
        enclosure = tell.enclosure(id),
        hours = spell.hours().floor(),
        latest = format!("{} %", wrackline_core::quantity::plain(spell.latest)),
        limit = limit
    );
    let mut blocks = vec![Block::Title {
        text: tell.say(&title),
    }];
    if high {
        blocks.extend(air_lately(tell, id, from));
    }
    blocks.push(Block::Text {
        text: tell.word(if high { "first-high" } else { "first-low" }),
    });
    let target = Target::Enclosure(id);
    if let Some((_, seq, _)) = tell.book.last_reading(target, Kind::Humidity, spell.to) {
        let follow = tell.book.follow_up(seq, tell.now);
        blocks.extend(follow_up_lines(tell, &follow, day));
        if spell.ended.is_none() {
            blocks.extend(alarm_answers(tell, seq, &follow));
        }
    }
    blocks
}

/// Air that was fitted or started within three days before a humid spell began is its likeliest cause.
fn air_lately(tell: &Tell<'_>, id: EnclosureId, from: Timestamp) -> Option<Block> {
    let lately = plus_minutes(from, -3 * 24 * 60);
    tell.place.pools_of(id).into_iter().find_map(|pool| {
        let air = pool
            .air
            .filter(|air| air.stopped.is_none() && lately <= air.since)?;
        let message = msg!(
            "likely-air",
            pool = tell.pool(pool.id),
            at = tell.moment(air.since)
        );
        Some(text(tell, &message))
    })
}

pub(super) fn spell_settled(tell: &Tell<'_>, id: EnclosureId, from: Timestamp, day: Date) -> Vec<Block> {
    let latest = tell
        .book
        .last_reading(Target::Enclosure(id), Kind::Humidity, tell.now);
    let shown = latest.map_or(String::new(), |(_, _, measured)| {
        wrackline_core::quantity::show(&measured, tell.place.units)
    });
    let message = msg!(
        "settled-spell",
        enclosure = tell.enclosure(id),
        latest = shown,
        since = tell.stamp(day, from)
    );
    vec![Block::Title {
        text: tell.say(&message),
    }]
}
