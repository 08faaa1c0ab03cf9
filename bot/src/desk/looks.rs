//! Looks at open matters: as they stand in lists and calls, how they are answered, and how they came about.

use jiff::Timestamp;
use jiff::civil::Date;
use serde_json::{Value, json};
use wrackline_core::care::Mark;
use wrackline_core::journal::{Event, Matter, Seq};
use wrackline_core::matter::{FollowUpTurn, LookPace, follow_ups, is_private, may_know};
use wrackline_core::moment::Look;
use wrackline_core::place::{CarerId, Target};

use super::posts::press;
use super::sightings::sighting_word;
use super::tell::{Tell, capital, clock};
use super::{Desk, Refused};
use crate::chat::blocks::{Block, Item, Press};
use crate::msg;

/// The looks that a carer may know of: all, or those that are theirs or anyone's.
#[must_use]
pub fn of(desk: &Desk<'_>, mine: Option<CarerId>) -> Vec<FollowUpTurn> {
    let mut all = follow_ups(desk.book(), desk.place(), desk.now());
    all.retain(|turn| may_know(desk.place(), &turn.matter, desk.me));
    all.retain(|turn| mine.is_none_or(|me| turn.carer.is_none_or(|carer| carer == me)));
    all
}

/// Whether a list of looks is for the eyes of the one who asked.
#[must_use]
pub fn are_private(looks: &[FollowUpTurn]) -> bool {
    looks.iter().any(|turn| is_private(turn.matter.sighting))
}

/// Whether what an entry says is told to the keepers alone, and to the one who said it.
#[must_use]
pub fn is_of_keepers(tell: &Tell<'_>, seq: Seq) -> bool {
    let event = tell.book.entry(seq).map(|entry| &entry.event);
    match event {
        Some(Event::Saw(_, sighting)) => is_private(*sighting),
        Some(Event::Noted(of) | Event::Going(of) | Event::Looked(of) | Event::Closed(of)) => {
            is_of_keepers(tell, *of)
        }
        _ => false,
    }
}

/// Whether the speaker may know of the matter that an entry opened.
///
/// # Errors
/// A refusal that tells nothing of it.
pub fn may_answer(desk: &Desk<'_>, seq: Seq) -> Result<(), Refused> {
    match desk.book().matter(seq, desk.now()) {
        Some(matter) if !may_know(desk.place(), &matter, desk.me) => Err(msg!("refuse-press")),
        _ => Ok(()),
    }
}

/// What was seen and where, urgent or not, as `North: leak`.
fn named(tell: &Tell<'_>, matter: &Matter, urgent: bool) -> String {
    let id = if urgent { "look-named-urgent" } else { "look-named" };
    tell.say(&msg!(
        id,
        target = tell.target_on_the_way(matter.target),
        what = tell.word(sighting_word(matter.sighting))
    ))
}

/// The answers to a look.
fn answers(tell: &Tell<'_>, seq: Seq) -> Vec<Press> {
    vec![
        press(tell, "press-looked", format!("looked.{seq}")),
        press(tell, "press-close", format!("close.{seq}")),
    ]
}

fn who(tell: &Tell<'_>, turn: &FollowUpTurn) -> String {
    match turn.carer {
        None if is_private(turn.matter.sighting) => {
            let keepers: Vec<String> = tell.place.keepers().map(|id| tell.carer(id)).collect();
            tell.list(&keepers)
        }
        carer => tell.carer_or_anyone(carer),
    }
}

/// A look as a line of a list.
#[must_use]
pub fn item(tell: &Tell<'_>, turn: &FollowUpTurn) -> Item {
    let mark = turn.mark(tell.now);
    let when = tell.say(&match mark {
        Mark::Calm => msg!("turn-due-at", at = tell.near(turn.due)),
        Mark::Due => msg!("turn-due-since", at = tell.near(turn.due)),
        Mark::Overdue | Mark::Hazard => msg!("turn-overdue-since", at = tell.near(turn.overdue)),
    });
    let text = tell.say(&msg!(
        "look-line",
        matter = named(tell, &turn.matter, turn.urgent),
        who = who(tell, turn),
        when = when
    ));
    Item {
        text,
        mark: Some(mark),
        settled: false,
        answers: answers(tell, turn.matter.seq),
    }
}

/// A look that a call lists, as it stands now.
#[must_use]
pub fn called(tell: &Tell<'_>, look: &Look, day: Date) -> Item {
    match state(tell, look) {
        State::Open(turn) => {
            let late = turn.mark(tell.now) == Mark::Overdue;
            let mut text = tell.say(&msg!(
                "look-called",
                matter = named(tell, &turn.matter, turn.urgent),
                who = who(tell, &turn)
            ));
            if late {
                text += &tell.say(&msg!("called-overdue", at = tell.stamp(day, turn.overdue)));
            }
            if look.late && !is_private(turn.matter.sighting) {
                let keepers: Vec<String> = tell.place.keepers().map(|id| tell.carer(id)).collect();
                text += &tell.say(&msg!("passed-on", who = tell.list(&keepers)));
            }
            Item {
                text,
                mark: Some(turn.mark(tell.now)),
                settled: false,
                answers: answers(tell, look.matter),
            }
        }
        settled => Item {
            text: told(tell, &settled, day),
            mark: None,
            settled: true,
            answers: Vec::new(),
        },
    }
}

/// Where a look of a call is to be done, and whether it is open and urgent; `None` when its matter is gone.
#[must_use]
pub fn spot(tell: &Tell<'_>, look: &Look) -> Option<(Target, bool)> {
    match state(tell, look) {
        State::Open(turn) => Some((turn.matter.target, turn.urgent)),
        State::Looked(turn) => Some((turn.matter.target, false)),
        State::Closed(matter) => Some((matter.target, false)),
        State::Gone => None,
    }
}

/// How a look of a call stands now.
enum State {
    /// It is still to be done.
    Open(FollowUpTurn),
    /// Somebody looked, and there is a next look.
    Looked(FollowUpTurn),
    /// The matter is closed.
    Closed(Matter),
    /// The matter was taken back, or what it is about is no longer kept.
    Gone,
}

fn state(tell: &Tell<'_>, look: &Look) -> State {
    let next = turn_of(tell, look.matter);
    match (next, tell.book.matter(look.matter, tell.now)) {
        (Some(turn), _) if turn.last < look.due => State::Open(turn),
        (Some(turn), _) => State::Looked(turn),
        (None, Some(matter)) if matter.closed.is_some() => State::Closed(matter),
        (None, _) => State::Gone,
    }
}

/// A look that is no longer open, in a line.
fn told(tell: &Tell<'_>, state: &State, day: Date) -> String {
    tell.say(&match state {
        State::Open(turn) | State::Looked(turn) => {
            let again = turn.matter.again.filter(|(at, _)| *at == turn.last);
            let looked = turn.matter.follow_up.looked.filter(|(at, _)| *at == turn.last);
            let id = if looked.is_none() && again.is_some() {
                "look-again"
            } else {
                "look-looked"
            };
            msg!(
                id,
                matter = named(tell, &turn.matter, turn.urgent),
                who = tell.carer_or_anyone(looked.or(again).map(|(_, who)| who)),
                at = tell.stamp(day, turn.last),
                next = tell.stamp(day, turn.due)
            )
        }
        State::Closed(matter) => {
            let (at, who) = matter.follow_up.closed.unwrap_or((matter.at, matter.by));
            msg!(
                "look-closed",
                matter = named(tell, matter, false),
                who = tell.carer(who),
                at = tell.stamp(day, at)
            )
        }
        State::Gone => msg!("look-gone"),
    })
}

/// The looks of a call that are open now, with what was called.
#[must_use]
pub fn open<'a>(tell: &Tell<'_>, looks: &'a [Look]) -> Vec<(&'a Look, FollowUpTurn)> {
    let open = |look: &'a Look| match state(tell, look) {
        State::Open(turn) => Some((look, turn)),
        _ => None,
    };
    looks.iter().filter_map(open).collect()
}

/// What an open look is about, for the first line of a call.
#[must_use]
pub fn short(tell: &Tell<'_>, turn: &FollowUpTurn) -> String {
    let what = tell.word(sighting_word(turn.matter.sighting));
    format!("{}: {what}", tell.target(turn.matter.target))
}

/// What stands above a call because of the urgent ones among its open looks.
#[must_use]
pub fn urgent(tell: &Tell<'_>, looks: &[Look]) -> Option<Block> {
    let is_urgent = open(tell, looks).iter().any(|(_, turn)| turn.urgent);
    let text = || tell.word("first-wet-substrate-quiet");
    is_urgent.then(|| Block::Caution { text: text() })
}

/// `Looked: still open`: the look is put to the next.
#[must_use]
pub fn next(tell: &Tell<'_>, seq: Seq) -> Option<Timestamp> {
    turn_of(tell, seq).map(|turn| turn.due)
}

/// The next look at the matter that a sighting opened or was added to.
fn turn_of(tell: &Tell<'_>, sighting: Seq) -> Option<FollowUpTurn> {
    let seq = tell.book.matter(sighting, tell.now)?.seq;
    let mut all = follow_ups(tell.book, tell.place, tell.now).into_iter();
    all.find(|turn| turn.matter.seq == seq)
}

/// How the looks at the open matters of these targets came about, for those whom they are told to.
#[must_use]
pub fn why(desk: &Desk<'_>, tell: &Tell<'_>, is_there: impl Fn(Target) -> bool) -> (Vec<Block>, bool) {
    let mut turns = follow_ups(tell.book, tell.place, tell.now);
    turns.retain(|turn| is_there(turn.matter.target) && may_know(tell.place, &turn.matter, desk.me));
    let line = |turn: &FollowUpTurn| {
        let looked = turn.matter.follow_up.looked;
        let looked = looked
            .map(|(at, who)| tell.say(&msg!("why-looked", at = tell.moment(at), who = tell.carer(who))));
        let again = turn.matter.again;
        let again =
            again.map(|(at, who)| tell.say(&msg!("why-again", at = tell.moment(at), who = tell.carer(who))));
        let text = tell.say(&msg!(
            "why-look",
            matter = capital(&named(tell, &turn.matter, turn.urgent)),
            at = tell.moment(turn.matter.at),
            who = tell.carer(turn.matter.by),
            entry = turn.matter.seq.to_string(),
            again = again.unwrap_or_default(),
            looked = looked.unwrap_or_default(),
            due = tell.moment(turn.due),
            overdue = tell.moment(turn.overdue),
            rule = rule(tell, &turn.pace)
        ));
        Block::Text { text }
    };
    (turns.iter().map(line).collect(), are_private(&turns))
}

/// When a matter is looked at, in words.
fn rule(tell: &Tell<'_>, pace: &LookPace) -> String {
    let first = pace
        .first_min
        .map(|minutes| tell.say(&msg!("look-rule-first", span = tell.span(minutes))));
    let every = pace
        .every_min
        .map(|minutes| tell.say(&msg!("look-rule-every", span = tell.span(minutes))));
    let evening = pace
        .evening
        .map(|time| tell.say(&msg!("look-rule-evening", time = clock(time))));
    let rules = [first, every, evening, Some(tell.word("look-rule-round"))];
    tell.list(&rules.into_iter().flatten().collect::<Vec<_>>())
}

/// A look in machine-readable form, beside the turns of `--json`.
#[must_use]
pub fn json(tell: &Tell<'_>, turn: &FollowUpTurn) -> Value {
    let instant = |at: Timestamp| tell.place.zone.rfc3339(at);
    let (enclosure, pool) = super::json::spot(tell, turn.matter.target);
    json!({
        "enclosure": enclosure,
        "pool": pool,
        "duty": "follow-up",
        "matter": turn.matter.seq,
        "sighting": super::sightings::sighting_code(turn.matter.sighting),
        "urgent": turn.urgent,
        "last": instant(turn.last),
        "due": instant(turn.due),
        "overdue": instant(turn.overdue),
        "hazard": null,
        "mark": turn.mark(tell.now).word(),
        "carer": turn.carer.map(|carer| tell.carer(carer)),
    })
}
