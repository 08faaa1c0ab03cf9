//! As few posts as tell the truth.

use jiff::{Timestamp, civil};
use serde::{Deserialize, Serialize};

use super::{Item, LATE_CALL_MIN, Step, What};
use crate::air::Side;
use crate::care::board::is_folded;
use crate::care::{Mark, Standing, TurnKey};
use crate::civil::{next_round, plus_minutes, seconds_between};
use crate::journal::{Book, Seq};
use crate::place::{CarerId, EnclosureId, Place, RoundId};
use crate::rota::{self, Hand};

/// A turn in a call.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Called {
    /// The turn.
    pub turn: TurnKey,
    /// Whose it was when it was called.
    pub carer: Option<CarerId>,
    /// How far it has been passed on.
    pub step: Option<Step>,
}

/// What a post is about: enough to render it anew from the journal at any later moment.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Subject {
    /// A round call.
    Round {
        /// The round.
        round: RoundId,
        /// Its civil date.
        date: civil::Date,
        /// When it was to be held, where the call came later than that.
        held: Option<Timestamp>,
        /// The turns, in walking order.
        turns: Vec<Called>,
    },
    /// A late call, or turns that come back after they were put off.
    Late {
        /// The turns, in walking order.
        turns: Vec<Called>,
    },
    /// A danger was seen.
    Seen(Seq),
    /// A danger was measured.
    Spell {
        /// The enclosure.
        enclosure: EnclosureId,
        /// Whether it is too humid, else too dry.
        high: bool,
        /// The spell's first reading.
        from: Timestamp,
    },
    /// A danger that was seen has ended.
    SeenSettled(Seq),
    /// A danger that was measured has ended.
    SpellSettled {
        /// The enclosure.
        enclosure: EnclosureId,
        /// The spell's first reading.
        from: Timestamp,
    },
    /// A week is over.
    Week {
        /// Its Monday.
        monday: civil::Date,
    },
    /// A turn was offered to someone.
    Offered(Seq),
    /// A turn was taken over from whoever had it.
    Moved(Seq),
    /// Turns were left that nobody can do, by what somebody said.
    Uncovered(Seq),
}

impl Subject {
    /// The turns it calls.
    #[must_use]
    pub fn turns(&self) -> &[Called] {
        match self {
            Self::Round { turns, .. } | Self::Late { turns } => turns,
            _ => &[],
        }
    }

    /// Whether it is a danger measured or seen, which is posted in the quiet hours too.
    #[must_use]
    pub fn is_danger(&self) -> bool {
        matches!(self, Self::Seen(_) | Self::Spell { .. })
    }
}

/// A post that is wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct Post {
    /// The keys of what called for it; the first one names it.
    pub keys: Vec<String>,
    /// What it is about.
    pub subject: Subject,
    /// After this moment it is not worth sending any more.
    pub not_after: Timestamp,
}

/// What to do at a moment.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Plan {
    /// The posts that are wanted.
    pub posts: Vec<Post>,
    /// Keys that need no post: the call says it already, or there is nothing to say.
    pub covered: Vec<String>,
}

/// The posts that a moment's items call for. `items` are those whose keys are not known yet.
#[must_use]
pub fn plan(book: &Book, place: &Place, board: &[Standing], items: &[Item], now: Timestamp) -> Plan {
    let mut plan = Plan::default();
    call(book, place, board, items, now, &mut plan);
    for item in items {
        let (subject, hours) = match &item.what {
            What::Round { .. } | What::Late(..) | What::Back(_) => continue,
            What::Seen(seq) => (Subject::Seen(*seq), 72),
            What::Spell(enclosure, spell) => {
                let (high, from) = (spell.side == Side::High, spell.from);
                (
                    Subject::Spell {
                        enclosure: *enclosure,
                        high,
                        from,
                    },
                    72,
                )
            }
            What::SeenSettled(seq) => (Subject::SeenSettled(*seq), 24),
            What::SpellSettled(enclosure, spell) => (
                Subject::SpellSettled {
                    enclosure: *enclosure,
                    from: spell.from,
                },
                24,
            ),
            What::Week(week) => (Subject::Week { monday: week.monday }, 72),
            What::Offered(seq) => (Subject::Offered(*seq), 24),
            What::Moved(seq) => (Subject::Moved(*seq), 24),
            What::Uncovered(seq) => (Subject::Uncovered(*seq), 72),
        };
        let not_after = plus_minutes(now, hours * 60);
        plan.posts.push(Post {
            keys: vec![item.key.clone()],
            subject,
            not_after,
        });
    }
    plan
}

/// At most one call: of the latest round that was missed, with all that is open; else of the turns that are late
/// or come back.
fn call(book: &Book, place: &Place, board: &[Standing], items: &[Item], now: Timestamp, plan: &mut Plan) {
    let round = items.iter().rev().find_map(|item| match item.what {
        What::Round { round, date, held } => Some((item, round, date, held)),
        _ => None,
    });
    let of_turns: Vec<&Item> = items
        .iter()
        .filter(|item| matches!(item.what, What::Late(..) | What::Back(_)))
        .collect();
    let open = |standing: &&Standing| {
        standing.mark > Mark::Calm && standing.held.is_none() && !is_folded(board, standing)
    };
    let hand = |standing: &Standing| rota::hand(book, place, standing, now);
    let turns: Vec<(&Standing, Hand)> = board
        .iter()
        .filter(open)
        .map(|standing| (standing, hand(standing)))
        .filter(|(standing, hand)| match &round {
            Some(_) => hand.later.is_none(),
            None => of_turns.iter().any(|item| is_about(item, &standing.turn)),
        })
        .collect();
    let called = turns.iter().map(|(standing, hand)| Called {
        turn: standing.turn,
        carer: hand.carer,
        step: super::steps(place, standing, hand)
            .into_iter()
            .filter(|(_, at)| *at <= now)
            .map(|(s, _)| s)
            .max(),
    });
    let called: Vec<Called> = called.collect();
    let mut keys: Vec<String> = of_turns.iter().map(|item| item.key.clone()).collect();
    let Some((item, round, date, held)) = round else {
        if !called.is_empty() {
            let subject = Subject::Late { turns: called };
            plan.posts.push(Post {
                keys,
                subject,
                not_after: plus_minutes(now, 24 * 60),
            });
        }
        return;
    };
    let others = items
        .iter()
        .filter(|one| matches!(one.what, What::Round { .. }) && one.key != item.key);
    keys.extend(others.map(|one| one.key.clone()));
    if called.is_empty() {
        plan.covered.push(item.key.clone());
        plan.covered.append(&mut keys);
        return;
    }
    keys.insert(0, item.key.clone());
    let late = seconds_between(item.at, now) > LATE_CALL_MIN * 60;
    let subject = Subject::Round {
        round,
        date,
        held: late.then_some(held),
        turns: called,
    };
    let not_after = next_round(&place.zone, &place.rounds, now).at;
    plan.posts.push(Post {
        keys,
        subject,
        not_after,
    });
}

fn is_about(item: &Item, turn: &TurnKey) -> bool {
    matches!(&item.what, What::Late(one, _) | What::Back(one) if one == turn)
}
