//! `/turns`: whose turn, when, by day and round in walking order.

use jiff::civil;
use wrackline_core::care::board;
use wrackline_core::place::CarerId;
use wrackline_core::rota::{self, Able, Expected, HORIZON_DAYS, Turn, able};

use super::{Group, groups, hand, lack, minutes, named, plain, shared, take_press};
use crate::chat::blocks::{Answer, Block, Item};
use crate::desk::tell::Tell;
use crate::desk::{Desk, json};
use crate::msg;

/// Whose turns of some days: first those that nobody has, then what is offered to the asker, then day by day.
#[must_use]
pub fn turns(desk: &Desk<'_>, carer: Option<CarerId>, (from, to): (civil::Date, civil::Date)) -> Answer {
    let tell = &desk.tell;
    let shared = shared(tell);
    let is_asked = |turn: &&Turn| (from..=to).contains(&turn.expected.when.date);
    let all: Vec<&Turn> = shared.turns.iter().filter(is_asked).collect();
    let theirs: Vec<&Turn> = all
        .iter()
        .copied()
        .filter(|turn| turn.carer.is_some() && carer.is_none_or(|carer| turn.carer == Some(carer)))
        .collect();
    let total: f64 = theirs.iter().map(|turn| turn.expected.work.minutes).sum();
    let days = if from == to {
        tell.date(from)
    } else {
        desk.say(&msg!("turns-days", from = tell.date(from), to = tell.date(to)))
    };
    let who = carer.map_or_else(|| tell.word("turns-everyone"), |carer| tell.carer(carer));
    let title = msg!(
        "turns-title",
        who = who,
        count = theirs.len(),
        minutes = minutes(total),
        days = days
    );
    let mut blocks = vec![Block::Title {
        text: desk.say(&title),
    }];
    let open: Vec<Item> = all.iter().filter_map(|turn| open(desk, turn)).collect();
    push(desk, &mut blocks, "turns-open", open);
    let to_me = shared.turns.iter().filter_map(|turn| to_me(desk, turn)).collect();
    push(desk, &mut blocks, "turns-offered", to_me);
    let on_offer = shared.turns.iter().filter_map(|turn| on_offer(desk, turn, carer));
    push(desk, &mut blocks, "turns-offers", on_offer.collect());
    let is_moving = wait_for_late(tell, &theirs);
    by_day(desk, &groups(theirs), carer.is_none(), &mut blocks);
    if is_moving {
        let text = tell.word("turns-behind-late");
        blocks.push(Block::Text { text });
    }
    let turns = all.iter().map(|turn| json::coming(tell, turn)).collect();
    Answer {
        ok: true,
        blocks,
        private: false,
        turns,
    }
}

/// Whether any of these turns comes at another time than was planned, which is what a calendar tells: one before it is late,
/// and it comes the later the longer that waits.
fn wait_for_late(tell: &Tell<'_>, turns: &[&Turn]) -> bool {
    let board = board(tell.book, tell.place, tell.now);
    let planned = rota::planned(tell.book, tell.place, &board, tell.now, HORIZON_DAYS);
    turns.iter().any(|turn| {
        let of_slot = |one: &&Expected| one.slot == turn.expected.slot;
        let mut same = planned.iter().filter(of_slot).peekable();
        same.peek().is_some() && same.all(|one| one.due != turn.expected.due)
    })
}

/// A list under its heading, where there is anything in it.
fn push(desk: &Desk<'_>, blocks: &mut Vec<Block>, heading: &'static str, items: Vec<Item>) {
    if !items.is_empty() {
        blocks.push(Block::Text {
            text: desk.tell.word(heading),
        });
        blocks.push(Block::Items { items });
    }
}

/// A turn that nobody has, and why.
fn open(desk: &Desk<'_>, turn: &Turn) -> Option<Item> {
    let tell = &desk.tell;
    if turn.carer.is_some() {
        return None;
    }
    let why = match hand(tell, &turn.expected).freed {
        Some(freed) => tell.say(&msg!("open-freed", who = tell.carer(freed.by))),
        None => lack(tell, rota::lack(tell.book, tell.place, &turn.expected, tell.now)),
    };
    let text = tell.say(&msg!(
        "turn-uncovered",
        turn = named(tell, &turn.expected),
        why = why
    ));
    let me = desk.place().carers.get(&desk.me)?;
    let needs = &turn.expected.work.needs;
    let can = able(desk.book(), me, needs, &turn.expected.when, desk.now());
    let answers = matches!(can, Able::Yes | Able::NoShare).then(|| take_press(tell, &turn.expected));
    Some(plain(text, answers.into_iter().collect()))
}

/// A turn that is offered to the asker.
fn to_me(desk: &Desk<'_>, turn: &Turn) -> Option<Item> {
    let tell = &desk.tell;
    let offer = hand(tell, &turn.expected)
        .offered
        .filter(|offer| offer.to == desk.me)?;
    let text = tell.say(&msg!(
        "turn-offered-to-you",
        turn = named(tell, &turn.expected),
        by = tell.carer(offer.by),
        until = tell.near(offer.until)
    ));
    Some(plain(text, super::offer::presses(tell, &turn.expected)))
}

/// A turn that somebody offers to another than the asker: of one person what they offer and what they are offered.
fn on_offer(desk: &Desk<'_>, turn: &Turn, carer: Option<CarerId>) -> Option<Item> {
    let tell = &desk.tell;
    let is_of = |offer: &rota::Offer| carer.is_none_or(|carer| [offer.by, offer.to].contains(&carer));
    let offer = hand(tell, &turn.expected).offered.filter(is_of)?;
    if offer.to == desk.me {
        return None;
    }
    let text = tell.say(&msg!(
        "turn-on-offer",
        turn = named(tell, &turn.expected),
        to = tell.carer(offer.to),
        by = tell.carer(offer.by),
        until = tell.near(offer.until)
    ));
    Some(plain(text, Vec::new()))
}

/// Whose the turns are stands beside them where they are `of_all`.
fn by_day(desk: &Desk<'_>, groups: &[Group<'_>], of_all: bool, blocks: &mut Vec<Block>) {
    let tell = &desk.tell;
    for day in groups.chunk_by(|one, next| one.date == next.date) {
        let total: f64 = day.iter().map(Group::minutes).sum();
        blocks.push(Block::Text {
            text: tell.say(&msg!(
                "turns-day",
                date = tell.date(day[0].date),
                minutes = minutes(total)
            )),
        });
        let items = day.iter().map(|group| line(desk, group, of_all)).collect();
        blocks.push(Block::Items { items });
    }
}

fn line(desk: &Desk<'_>, group: &Group<'_>, of_all: bool) -> Item {
    let tell = &desk.tell;
    let text = tell.say(&msg!(
        if of_all { "turns-line" } else { "turns-own-line" },
        round = tell.round(group.round),
        what = group.what(tell),
        who = tell.carer_or_anyone(group.carer),
        minutes = minutes(group.minutes())
    ));
    plain(text, Vec::new())
}
