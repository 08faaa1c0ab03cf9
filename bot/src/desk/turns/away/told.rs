//! An absence in words: when, what moves, what is left with nobody.

use jiff::{Timestamp, civil};
use wrackline_core::civil::{hold, plus_days};
use wrackline_core::journal::Absence;
use wrackline_core::place::{CarerId, RoundId};
use wrackline_core::rota::{HORIZON_DAYS, Lack, Moves, Turn};

use super::super::{dated, lack, named, plain, round_of};
use super::last_day;
use crate::chat::blocks::{Answer, Block, Item};
use crate::desk::Desk;
use crate::desk::tell::{Tell, capital};
use crate::msg;

/// How many single rounds are named.
const ROUNDS_NAMED_MAX: usize = 6;

/// How many turns that are left with nobody have a line each; more of them are told together.
const LINES_MAX: usize = 6;

/// How many turns move and how many are left with nobody, in the words of a message.
pub(super) fn counted(tell: &Tell<'_>, id: &'static str, moves: &Moves) -> String {
    tell.say(&msg!(
        id,
        moved = moves.moved.len(),
        uncovered = moves.uncovered.len()
    ))
}

/// What moves and what is left uncovered.
pub(super) fn told(desk: &Desk<'_>, title: String, who: CarerId, absence: &Absence, moves: &Moves) -> Answer {
    let tell = &desk.tell;
    let mut blocks = vec![Block::Title { text: title }];
    if !moves.moved.is_empty() {
        blocks.push(Block::Items {
            items: dated(tell, &moves.moved),
        });
    }
    if !moves.uncovered.is_empty() {
        blocks.push(Block::Text {
            text: tell.say(&msg!("away-uncovered", keepers = desk.keepers())),
        });
        blocks.push(Block::Items {
            items: uncovered(tell, &moves.uncovered),
        });
    }
    let others = msg!("away-others", moved = moves.of_others(who), all = moves.others);
    let mut notes: Vec<String> = there_again(tell, absence).into_iter().collect();
    notes.push(tell.say(&others));
    let horizon = plus_days(tell.place.zone.date(tell.now), HORIZON_DAYS - 1);
    if reaches(desk, absence) > horizon {
        notes.push(tell.say(&msg!("away-horizon", date = tell.date(horizon))));
    }
    blocks.push(Block::Text {
        text: notes.join(" "),
    });
    Answer {
        ok: true,
        blocks,
        private: false,
        turns: Vec::new(),
    }
}

/// The last day of an absence.
fn reaches(desk: &Desk<'_>, absence: &Absence) -> civil::Date {
    match absence {
        Absence::Span { to, .. } => last_day(desk, *to),
        Absence::Rounds(rounds) => {
            let last = rounds.iter().map(|(_, date)| *date).max();
            last.unwrap_or(civil::Date::MIN)
        }
    }
}

/// The first round at which somebody is there again, so that nobody has to guess whether a last day or round is of the span.
fn there_again(tell: &Tell<'_>, absence: &Absence) -> Option<String> {
    let Absence::Span { to, .. } = absence else {
        return None;
    };
    let zone = &tell.place.zone;
    let date = zone.date(*to);
    let days = [date, plus_days(date, 1)];
    let all = days.iter().flat_map(|date| {
        let of_day = tell.place.rounds.iter();
        of_day.map(|round| (hold(zone, round, *date).at, *date, round.id))
    });
    let (_, date, round) = all.filter(|(at, ..)| at >= to).min()?;
    Some(tell.say(&msg!("away-there-again", round = round_of(tell, date, round))))
}

/// Turns that nobody has then: a line each, or where they are many the fewer lines of those by round and those by duty.
fn uncovered(tell: &Tell<'_>, all: &[(Turn, Lack)]) -> Vec<Item> {
    if all.len() <= LINES_MAX {
        let line = |(turn, why): &(Turn, Lack)| {
            let turn = named(tell, &turn.expected);
            item(tell, turn, *why)
        };
        return all.iter().map(line).collect();
    }
    let (by_round, by_duty) = (by_round(tell, all), by_duty(tell, all));
    if by_round.len() <= by_duty.len() {
        by_round
    } else {
        by_duty
    }
}

fn item(tell: &Tell<'_>, turn: String, why: Lack) -> Item {
    let text = msg!("turn-uncovered", turn = turn, why = lack(tell, why));
    plain(tell.say(&text), Vec::new())
}

/// Turns that are told together, by what they have in common.
fn gathered<K: PartialEq>(all: &[(Turn, Lack)], of: impl Fn(&Turn) -> K) -> Vec<(K, Lack, Vec<&Turn>)> {
    let mut found: Vec<(K, Lack, Vec<&Turn>)> = Vec::new();
    for (turn, why) in all {
        let key = of(turn);
        match found.iter_mut().find(|(one, lack, _)| *one == key && lack == why) {
            Some((.., turns)) => turns.push(turn),
            None => found.push((key, *why, vec![turn])),
        }
    }
    found
}

/// "Saturday 7 March, morning: Dune: look, fresh change; North: look · nobody is there then".
fn by_round(tell: &Tell<'_>, all: &[(Turn, Lack)]) -> Vec<Item> {
    let line = |((date, round), why, turns): ((civil::Date, RoundId), Lack, Vec<&Turn>)| {
        let what: Vec<String> = super::super::groups(turns)
            .iter()
            .map(|group| group.what(tell))
            .collect();
        let text = msg!(
            "away-open-round",
            when = round_of(tell, date, round),
            what = what.join("; ")
        );
        item(tell, tell.say(&text), why)
    };
    let when = |turn: &Turn| (turn.expected.when.date, turn.expected.when.round);
    gathered(all, when).into_iter().map(line).collect()
}

/// "Look of Dune and North: 14 turns, Saturday 7 March to Friday 13 March · nobody is there then".
fn by_duty(tell: &Tell<'_>, all: &[(Turn, Lack)]) -> Vec<Item> {
    let line = |(duty, why, turns): (wrackline_core::care::Duty, Lack, Vec<&Turn>)| {
        let mut places: Vec<String> = Vec::new();
        for turn in &turns {
            let place = tell.target(turn.expected.target);
            if !places.contains(&place) {
                places.push(place);
            }
        }
        let dates = || turns.iter().map(|turn| turn.expected.when.date);
        let first = dates().min().unwrap_or_default();
        let text = msg!(
            "away-open-duty",
            duty = capital(&tell.duty(duty)),
            places = tell.list(&places),
            count = turns.len(),
            first = tell.date(first),
            last = tell.date(dates().max().unwrap_or(first))
        );
        item(tell, tell.say(&text), why)
    };
    let all = gathered(all, |turn| turn.expected.duty);
    all.into_iter().map(line).collect()
}

/// An absence in words.
pub(super) fn when(tell: &Tell<'_>, absence: &Absence) -> String {
    match absence {
        Absence::Span { from, to } => span(tell, *from, *to),
        Absence::Rounds(rounds) => {
            let named = rounds.iter().take(ROUNDS_NAMED_MAX);
            let mut names: Vec<String> = named.map(|(round, date)| round_of(tell, *date, *round)).collect();
            if rounds.len() > ROUNDS_NAMED_MAX {
                let more = rounds.len() - ROUNDS_NAMED_MAX;
                names.push(tell.say(&msg!("week-unknown-more", count = more)));
            }
            tell.say(&msg!("away-rounds", rounds = tell.list(&names)))
        }
    }
}

/// A span by its days where they are whole; within one day by that day and its hours.
fn span(tell: &Tell<'_>, from: Timestamp, to: Timestamp) -> String {
    let zone = &tell.place.zone;
    let is_start = |at: Timestamp| zone.day_start(zone.date(at)) == at;
    let first = zone.date(from);
    let is_to_midnight = to == zone.day_start(plus_days(first, 1));
    let is_now = from == tell.now;
    if is_start(from) && is_to_midnight {
        return tell.say(&msg!("away-day", date = tell.date(first)));
    }
    let is_one_day = is_to_midnight || zone.date(to) == first;
    // Whoever lives by another clock is told both moments in both.
    if is_one_day && tell.zone.is_none() {
        let start = if is_now {
            tell.word("away-now")
        } else {
            tell.time(from)
        };
        let end = if is_to_midnight {
            tell.word("away-midnight")
        } else {
            tell.time(to)
        };
        return tell.say(&msg!(
            "away-hours",
            date = tell.date(first),
            from = start,
            to = end
        ));
    }
    let from = if is_now {
        tell.word("away-now")
    } else if is_start(from) {
        tell.date(first)
    } else {
        tell.moment(from)
    };
    let to = if is_start(to) {
        tell.date(plus_days(zone.date(to), -1))
    } else {
        tell.moment(to)
    };
    tell.say(&msg!("away-span", from = from, to = to))
}
