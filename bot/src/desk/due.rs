//! What wants doing, and whose turn it is.

use jiff::Timestamp;
use wrackline_core::care::board::is_folded;
use wrackline_core::care::{Mark, Standing};
use wrackline_core::civil::plus_minutes;
use wrackline_core::matter::FollowUpTurn;
use wrackline_core::place::CarerId;
use wrackline_core::rota::Hand;

use super::batches::offer;
use super::tell::Tell;
use super::turns::Lies;
use super::{Desk, cycle, json, looks, nods, setup};
use crate::chat::blocks::{Answer, Block, Item};
use crate::msg;

/// How far ahead `/due` looks, in minutes.
const AHEAD_MIN: i64 = 24 * 60;

/// Since when or until when a turn stands as it does, in a few words.
#[must_use]
pub fn when(tell: &Tell<'_>, standing: &Standing) -> String {
    tell.say(&match standing.mark {
        Mark::Calm if standing.due == Timestamp::MAX => msg!("turn-due-never"),
        Mark::Calm => msg!("turn-due-at", at = tell.near(standing.due)),
        Mark::Due => msg!("turn-due-since", at = tell.near(standing.due)),
        Mark::Overdue => msg!("turn-overdue-since", at = tell.near(standing.overdue)),
        Mark::Hazard => {
            msg!(
                "turn-hazard-since",
                at = tell.near(standing.hazard.unwrap_or(standing.overdue))
            )
        }
    })
}

/// A line of a list for one turn.
#[must_use]
pub fn turn_item(desk: &Desk<'_>, standing: &Standing, hand: Hand) -> Item {
    let tell = &desk.tell;
    let target = tell.target_on_the_way(standing.turn.target);
    let mut text = desk.say(&msg!(
        "turn-line",
        target = target,
        duty = tell.duty(standing.duty()),
        who = tell.carer_or_anyone(hand.carer),
        when = when(tell, standing)
    ));
    if let Some(zone) = &standing.held {
        text += &desk.say(&msg!(
            "turn-held",
            until = tell.date(zone.until),
            spot = zone.spot.as_str()
        ));
    } else if let Some(until) = hand.later {
        text += &desk.say(&msg!("turn-later", until = tell.near(until)));
    }
    text += &super::turns::offered(tell, &hand);
    Item {
        text,
        mark: Some(standing.mark),
        settled: false,
        answers: Vec::new(),
    }
}

fn hands(desk: &Desk<'_>, board: Vec<Standing>) -> Vec<(Standing, Hand)> {
    let lies = Lies::new(&desk.tell);
    board
        .into_iter()
        .map(|standing| (lies.hand(&standing), standing))
        .map(|(hand, one)| (one, hand))
        .collect()
}

/// Turns that are due now or within the next day: everyone's, or those of one person and those free for anyone.
fn near_turns(desk: &Desk<'_>, mine: Option<CarerId>) -> Vec<(Standing, Hand)> {
    let until = plus_minutes(desk.now(), AHEAD_MIN);
    let board = desk.board();
    // What a turn renews that comes no later is done with it: called beside it, it would be done twice.
    let is_renewed = |standing: &Standing| {
        standing.mark == Mark::Calm
            && board.iter().any(|other| {
                other.turn.target == standing.turn.target
                    && other.due <= standing.due
                    && other.held.is_none()
                    && other.duty().renews().contains(&standing.turn.duty)
            })
    };
    let is_near = |standing: &&Standing| standing.due <= until && standing.held.is_none();
    let apart = |standing: &&Standing| !is_folded(&board, standing) && !is_renewed(standing);
    let near = board.iter().filter(is_near).filter(apart);
    let mut all = hands(desk, near.cloned().collect());
    all.retain(|(_, hand)| mine.is_none_or(|me| hand.carer.is_none() || hand.carer == Some(me)));
    all
}

/// `/due`: what wants doing now and in the next day.
#[must_use]
pub fn due(desk: &Desk<'_>, everyone: bool) -> Answer {
    let all = near_turns(desk, (!everyone).then_some(desk.me));
    let (now, soon): (Vec<_>, Vec<_>) = all.iter().partition(|(standing, _)| standing.mark > Mark::Calm);
    let looks = looks::of(desk, (!everyone).then_some(desk.me));
    let (looks_now, looks_soon): (Vec<_>, Vec<_>) = looks.iter().partition(|turn| turn.due <= desk.now());
    let (count, later) = (now.len() + looks_now.len(), soon.len() + looks_soon.len());
    let title = desk.say(&if everyone {
        msg!("due-title", now = count, soon = later)
    } else {
        let free = now.iter().filter(|(_, hand)| hand.carer.is_none()).count();
        msg!("due-title-mine", now = count - free, free = free, soon = later)
    });
    let mut blocks = vec![Block::Title { text: title }];
    blocks.extend(setup::hush::told(desk));
    let list = |looks: &[&FollowUpTurn], turns: &[&(Standing, Hand)]| {
        let looks = looks.iter().map(|turn| looks::item(&desk.tell, turn));
        let items = turns.iter().map(|(standing, hand)| {
            let mut item = turn_item(desk, standing, *hand);
            item.answers = vec![super::posts::did_press(&desk.tell, standing)];
            item
        });
        Block::Items {
            items: looks.chain(items).collect(),
        }
    };
    if count > 0 {
        blocks.push(list(&looks_now, &now));
    }
    if later > 0 {
        blocks.push(Block::Text {
            text: desk.tell.word("due-soon"),
        });
        blocks.push(list(&looks_soon, &soon));
    }
    blocks.extend(nods::list(desk));
    blocks.extend(offer::for_turns(
        &desk.tell,
        all.iter().map(|(standing, _)| standing),
    ));
    blocks.extend(cycle::closed(&desk.tell, desk.place().pools.keys().copied()));
    blocks.extend(quiet_zones(desk));
    let turns = all
        .iter()
        .map(|(standing, hand)| json::turn(&desk.tell, standing, hand));
    let looks_json = looks.iter().map(|turn| looks::json(&desk.tell, turn));
    let turns = turns.chain(looks_json).collect();
    Answer {
        ok: true,
        blocks,
        // What is the keepers' alone is not shown to whoever else reads the chat.
        private: looks::are_private(&looks),
        turns,
    }
}

/// Bare `/did`: one's own turns to press, those of the next day included.
#[must_use]
pub fn did_bare(desk: &Desk<'_>) -> Answer {
    let all = near_turns(desk, Some(desk.me));
    if all.is_empty() {
        return desk.done(&msg!("did-bare-none"));
    }
    let items = all.iter().map(|(standing, hand)| {
        let mut item = turn_item(desk, standing, *hand);
        item.answers = vec![super::posts::did_press(&desk.tell, standing)];
        item
    });
    let title = Block::Title {
        text: desk.say(&msg!("did-bare-title", count = all.len())),
    };
    let turns = all
        .iter()
        .map(|(standing, hand)| json::turn(&desk.tell, standing, hand))
        .collect();
    let blocks = vec![
        title,
        Block::Items {
            items: items.collect(),
        },
    ];
    Answer {
        ok: true,
        blocks,
        private: true,
        turns,
    }
}

/// The quiet zones of the place: nothing is dug, lifted or scrubbed there.
#[must_use]
pub fn quiet_zones(desk: &Desk<'_>) -> Vec<Block> {
    super::posts::quiet_zones(&desk.tell)
}
