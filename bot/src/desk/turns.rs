//! Whose turn, when; and what people say to change it. [`told`] has what is posted of it.

pub mod away;
pub mod cannot;
pub mod list;
pub mod offer;
pub mod told;
pub mod whose;

use std::cell::OnceCell;

use jiff::civil;
use wrackline_core::care::{Standing, board};
use wrackline_core::place::{CarerId, EnclosureId, RoundId, Target};
use wrackline_core::rota::{self, Expected, HORIZON_DAYS, Hand, Lack, Needs, SharedOut, Slot, Turn};

use super::tell::{Tell, capital};
use crate::chat::blocks::{Item, Press};
use crate::msg;

/// The coming turns as they are shared out.
#[must_use]
pub fn shared(tell: &Tell<'_>) -> SharedOut {
    let board = board(tell.book, tell.place, tell.now);
    rota::share_out(tell.book, tell.place, &board, tell.now, HORIZON_DAYS)
}

/// Where turns lie as they stand: by the journal, and until that says it of one, by how it would be shared out.
pub struct Lies<'t, 'a> {
    tell: &'t Tell<'a>,
    /// Laid out once, when the first turn asks for it.
    shared: OnceCell<SharedOut>,
}

impl<'t, 'a> Lies<'t, 'a> {
    /// Where turns of this place lie at this moment.
    #[must_use]
    pub fn new(tell: &'t Tell<'a>) -> Self {
        let shared = OnceCell::new();
        Self { tell, shared }
    }

    /// Where a turn lies.
    #[must_use]
    pub fn hand(&self, standing: &Standing) -> Hand {
        let tell = self.tell;
        let mut hand = rota::hand(tell.book, tell.place, standing, tell.now);
        if !hand.settled {
            let slot = Slot::of(tell.book, &tell.place.zone, standing, tell.now);
            let shared = self.shared.get_or_init(|| shared(tell));
            let found = shared.turns.iter().find(|turn| turn.expected.slot == slot);
            // One that another turn renews, or that comes later, is not laid out.
            hand.carer = found.map_or(hand.carer, |turn| turn.carer);
        }
        hand
    }
}

/// What the journal says of where a coming turn lies.
#[must_use]
pub fn hand(tell: &Tell<'_>, expected: &Expected) -> Hand {
    rota::hand_of(tell.book, expected, tell.now)
}

/// A coming turn in one phrase: where, what, when.
#[must_use]
pub fn named(tell: &Tell<'_>, expected: &Expected) -> String {
    tell.say(&msg!(
        "turn-named",
        target = tell.target(expected.target),
        duty = tell.duty(expected.duty),
        when = round_of(tell, expected.when.date, expected.when.round)
    ))
}

/// A round on a day: "Sunday 8 March, evening".
#[must_use]
pub fn round_of(tell: &Tell<'_>, date: civil::Date, round: RoundId) -> String {
    tell.say(&msg!(
        "turn-round",
        date = tell.date(date),
        round = tell.round(round)
    ))
}

/// Minutes as they are told.
#[must_use]
pub fn minutes(minutes: f64) -> i64 {
    minutes.round() as i64
}

/// Why nobody can do a turn, in a few words.
#[must_use]
pub fn lack(tell: &Tell<'_>, lack: Lack) -> String {
    match lack {
        Lack::Nobody => tell.word("gap-nobody"),
        Lack::NoTime => tell.word("gap-no-time"),
        Lack::NoShare => tell.word("gap-no-share"),
        Lack::Unskilled(needs) => tell.say(&msg!("gap-unskilled", what = skills(tell, &needs))),
    }
}

/// What a turn asks of whoever does it, or what of it somebody lacks.
#[must_use]
pub fn skills(tell: &Tell<'_>, needs: &Needs) -> String {
    let mut all = Vec::new();
    if needs.siphon {
        all.push(tell.word("skill-siphon"));
    }
    if needs.salt {
        all.push(tell.word("skill-salt"));
    }
    if needs.lift_kg > 0.0 {
        let most = crate::desk::setup::carer_told::mass(tell, needs.lift_kg);
        all.push(tell.say(&msg!("skill-lift", most = most)));
    }
    tell.list(&all)
}

/// Turns that are told in one line: of one enclosure, in one round, in one hand.
#[derive(Clone, Debug, PartialEq)]
pub struct Group<'a> {
    date: civil::Date,
    round: RoundId,
    enclosure: Option<EnclosureId>,
    carer: Option<CarerId>,
    turns: Vec<&'a Turn>,
}

impl Group<'_> {
    fn minutes(&self) -> f64 {
        self.turns.iter().map(|turn| turn.expected.work.minutes).sum()
    }

    /// Where and what: "Hall, Dune: fresh change, salt change".
    fn what(&self, tell: &Tell<'_>) -> String {
        let place = match self.enclosure {
            Some(id) => tell.target_on_the_way(Target::Enclosure(id)),
            None => capital(&tell.word("the-place")),
        };
        let names: Vec<String> = self.turns.iter().map(|turn| duty_there(tell, turn)).collect();
        format!("{place}: {}", names.join(", "))
    }
}

/// A duty within its enclosure: "fresh change", "look".
fn duty_there(tell: &Tell<'_>, turn: &Turn) -> String {
    let duty = tell.duty(turn.expected.duty);
    let Target::Pool(_) = turn.expected.target else {
        return duty;
    };
    let pool = tell.target(turn.expected.target);
    let enclosure = tell.place.enclosure_of(turn.expected.target);
    let water = enclosure.and_then(|one| pool.strip_prefix(one.name.as_str()));
    format!("{} {duty}", water.unwrap_or(&pool).trim())
}

/// Turns in groups, by day and round, in walking order.
#[must_use]
pub fn groups<'a>(turns: impl IntoIterator<Item = &'a Turn>) -> Vec<Group<'a>> {
    let mut all: Vec<Group<'a>> = Vec::new();
    for turn in turns {
        let when = &turn.expected.when;
        let same = |group: &&mut Group<'a>| {
            (group.date, group.round) == (when.date, when.round)
                && (group.enclosure, group.carer) == (turn.expected.enclosure, turn.carer)
        };
        match all.iter_mut().find(same) {
            Some(group) => group.turns.push(turn),
            None => all.push(Group {
                date: when.date,
                round: when.round,
                enclosure: turn.expected.enclosure,
                carer: turn.carer,
                turns: vec![turn],
            }),
        }
    }
    all
}

/// Groups as lines with their day.
fn dated(tell: &Tell<'_>, turns: &[Turn]) -> Vec<Item> {
    let item = |group: &Group<'_>| {
        let text = tell.say(&msg!(
            "turns-dated",
            when = round_of(tell, group.date, group.round),
            what = group.what(tell),
            who = tell.carer_or_anyone(group.carer),
            minutes = minutes(group.minutes())
        ));
        plain(text, Vec::new())
    };
    groups(turns).iter().map(item).collect()
}

/// A line of a list.
fn plain(text: String, answers: Vec<Press>) -> Item {
    Item {
        text,
        mark: None,
        settled: false,
        answers,
    }
}

/// `I'll do it` on a coming turn, whoever has it.
fn take_press(tell: &Tell<'_>, expected: &Expected) -> Press {
    super::posts::press(tell, "press-take", format!("takeover.{}", expected.slot))
}

/// That a turn is offered, behind its line; nothing where it is not.
#[must_use]
pub fn offered(tell: &Tell<'_>, hand: &Hand) -> String {
    match hand.offered {
        Some(offer) => tell.say(&msg!(
            "turn-offered",
            who = tell.carer(offer.to),
            until = tell.near(offer.until)
        )),
        None => String::new(),
    }
}
