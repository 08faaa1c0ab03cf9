//! `/emergency`: cards for what goes wrong. First what protects people, then the animals, then the rest, then what to log;
//! what is known of this place stands between.

mod here;
mod warmth;

use wrackline_core::place::Role;
use wrackline_core::quantity::{Units, plain};
use wrackline_core::water::conditioner::{LIMITS, Mains};
use wrackline_core::water::cycle::Rules;

use super::Desk;
use super::water::STEP;
use crate::chat::blocks::{Answer, Block};
use crate::lines::ask::Card;
use crate::lines::table::EMERGENCIES;
use crate::msg;
use crate::words::Message;

/// `/emergency [KIND]`: a card, or which ones there are.
#[must_use]
pub fn card(desk: &Desk<'_>, card: Option<Card>) -> Answer {
    let Some(card) = card else {
        return list(desk);
    };
    let code = card.code();
    let mut answer = desk.done_text(desk.tell.word(format!("emergency-first-{code}")));
    answer.blocks.push(Block::Caution {
        text: desk.tell.word(format!("emergency-people-{code}")),
    });
    let animals = desk.tell.word(format!("emergency-animals-{code}"));
    answer.blocks.push(Block::Text { text: animals });
    let facts = match card {
        Card::Flood | Card::Leak => here::at_stake(desk),
        Card::PowerCut => [warmth::cools(desk), here::gear(desk)].concat(),
        Card::Untreated => here::to_treat(desk),
        Card::Salt => here::salty(desk),
        Card::Humid => here::spells(desk),
    };
    if !facts.is_empty() {
        let items = facts.into_iter().map(|text| desk.item(text)).collect();
        answer.blocks.push(Block::Items { items });
    }
    let told = [
        Some(rest(desk, card)),
        Some(log(desk, card)),
        whose_to_log(desk, card),
    ];
    for message in told.into_iter().flatten() {
        let text = desk.say(&message);
        answer.blocks.push(Block::Text { text });
    }
    answer
}

/// Which cards there are.
fn list(desk: &Desk<'_>) -> Answer {
    let names: Vec<String> = EMERGENCIES.iter().map(|name| (*name).to_owned()).collect();
    let mut answer = desk.done(&msg!("emergency-list", cards = names.join(", ")));
    answer.blocks.push(Block::Caution {
        text: desk.tell.word("emergency-list-first"),
    });
    let items = Card::ALL.into_iter().zip(names).map(|(card, name)| {
        let what = desk.tell.word(format!("emergency-first-{}", card.code()));
        let text = msg!("emergency-item", card = name, what = what);
        desk.item(desk.say(&text))
    });
    answer.blocks.push(Block::Items {
        items: items.collect(),
    });
    answer
}

/// Each card in short: its first line, and the first sentences for people and for animals.
pub(super) fn in_short(desk: &Desk<'_>) -> Vec<String> {
    let word = |part: &str, code: &str| desk.tell.word(format!("emergency-{part}-{code}"));
    let short = |card: Card| {
        let code = card.code();
        let (people, animals) = (word("people", code), word("animals", code));
        [
            word("first", code).as_str(),
            first_sentence(&people),
            first_sentence(&animals),
        ]
        .join(" ")
    };
    Card::ALL.into_iter().map(short).collect()
}

/// A text up to its first full stop.
fn first_sentence(text: &str) -> &str {
    text.find(". ").map_or(text, |end| &text[..=end])
}

fn rest(desk: &Desk<'_>, card: Card) -> Message {
    let rules = Rules::default();
    let (rinse, stood) = (plain(rules.rinse.0), plain(rules.stood.0));
    match card {
        Card::Flood => msg!("emergency-rest-flood", rinse = rinse, stood = stood),
        Card::PowerCut => msg!("emergency-rest-power-cut", rinse = rinse, stood = stood),
        Card::Untreated => msg!("emergency-rest-untreated-water", limits = limits(desk)),
        Card::Salt => msg!("emergency-rest-too-much-salt", step = plain(STEP)),
        Card::Humid => msg!("emergency-rest-humid-spell"),
        Card::Leak => msg!("emergency-rest-leak", rinse = rinse, stood = stood),
    }
}

/// Who logs what is set up, told to those who do not.
fn whose_to_log(desk: &Desk<'_>, card: Card) -> Option<Message> {
    let sets_up = matches!(card, Card::Flood | Card::PowerCut | Card::Leak);
    (sets_up && desk.role != Role::Keeper).then(|| msg!("emergency-keepers-log", keepers = desk.keepers()))
}

fn log(desk: &Desk<'_>, card: Card) -> Message {
    let sample = match desk.place().units {
        Units::Us => "82% 79F",
        Units::Metric | Units::Imperial => "82% 26C",
    };
    match card {
        Card::Flood => msg!("emergency-log-flood"),
        Card::PowerCut => msg!("emergency-log-power-cut", sample = sample),
        Card::Untreated => msg!("emergency-log-untreated-water"),
        Card::Salt => msg!("emergency-log-too-much-salt"),
        Card::Humid => msg!("emergency-log-humid-spell", sample = sample),
        Card::Leak => msg!("emergency-log-leak"),
    }
}

/// What drinking water may hold of its disinfectants.
fn limits(desk: &Desk<'_>) -> String {
    let one = |limit: &wrackline_core::water::conditioner::Limit| {
        let what = desk.tell.word(match limit.mains {
            Mains::Chlorine => "emergency-chlorine",
            Mains::Chloramine => "emergency-chloramine",
        });
        let who = desk.tell.word(super::water::authority(limit));
        desk.say(&msg!(
            "emergency-limit",
            most = plain(limit.most.0),
            what = what,
            who = who
        ))
    };
    let all: Vec<String> = LIMITS.iter().map(one).collect();
    desk.tell.list(&all)
}
