//! As few posts as tell the truth.

use jiff::{Timestamp, civil};
use serde::{Deserialize, Serialize};

use super::calls::{self, Call};
use super::{Destination, Item, LATE_CALL_MIN, Look, Step, What, looks, to_each};
use crate::air::Side;
use crate::care::{Standing, TurnKey};
use crate::civil::{next_round, plus_minutes, seconds_between};
use crate::journal::{Book, Event, Seq};
use crate::matter::is_private;
use crate::people::Span;
use crate::place::{CarerId, EnclosureId, Place, RoundId};

/// A turn in a call.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Called {
    /// The turn.
    pub turn: TurnKey,
    /// Whose it was when it was called.
    pub carer: Option<CarerId>,
    /// How far it has been passed on.
    pub step: Option<Step>,
    /// The step for which this post calls people by name; `None`: an earlier post did, or there is nobody to call.
    #[serde(default)]
    pub names: Option<Step>,
    /// Whom alone of those it calls: the others sleep, or an earlier post called them. Empty: all of them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub only: Vec<CarerId>,
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
        /// The looks at open matters that are due.
        #[serde(default)]
        looks: Vec<Look>,
    },
    /// A late call, turns that come back after they were put off, or looks at open matters.
    Late {
        /// The turns, in walking order.
        turns: Vec<Called>,
        /// The looks.
        #[serde(default)]
        looks: Vec<Look>,
    },
    /// A danger was seen, or untreated water reached a pool in use.
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
    /// A sitter's span begins, or has ended.
    Handover {
        /// Whose.
        carer: CarerId,
        /// Its days.
        span: Span,
        /// Whether it begins.
        begins: bool,
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
            Self::Round { turns, .. } | Self::Late { turns, .. } => turns,
            _ => &[],
        }
    }

    /// The looks that it calls.
    #[must_use]
    pub fn looks(&self) -> &[Look] {
        match self {
            Self::Round { looks, .. } | Self::Late { looks, .. } => looks,
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
    /// Where it goes.
    pub to: Destination,
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
            What::Round { .. } | What::Late(..) | What::Woken(..) | What::Back(_) | What::Look { .. } => {
                continue;
            }
            // Its post shows it by itself.
            What::Lapsed(_) => {
                plan.covered.push(item.key.clone());
                continue;
            }
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
            What::Handover { carer, span, begins } => {
                let (carer, span, begins) = (*carer, *span, *begins);
                (Subject::Handover { carer, span, begins }, 72)
            }
            What::Offered(seq) => (Subject::Offered(*seq), 24),
            What::Moved(seq) => (Subject::Moved(*seq), 24),
            What::Uncovered(seq) => (Subject::Uncovered(*seq), 72),
        };
        let not_after = plus_minutes(now, hours * 60);
        let keys = vec![item.key.clone()];
        let is_theirs = match subject {
            Subject::Seen(seq) | Subject::SeenSettled(seq) => is_of_keepers(book, seq),
            // It tells of sickness too.
            Subject::Handover { begins, .. } => !begins,
            _ => false,
        };
        if is_theirs {
            plan.tell_keepers(place, &item.key, keys, &subject, not_after);
            continue;
        }
        plan.posts.push(Post {
            keys,
            to: Destination::Chat,
            subject,
            not_after,
        });
    }
    plan
}

/// Whether the matter that an entry opened is the keepers' alone.
fn is_of_keepers(book: &Book, seq: Seq) -> bool {
    let event = book.entry(seq).map(|entry| &entry.event);
    matches!(event, Some(Event::Saw(_, sighting)) if is_private(*sighting))
}

impl Plan {
    /// A post to each keeper alone. Where there is none, nothing is said.
    fn tell_keepers(
        &mut self,
        place: &Place,
        name: &str,
        keys: Vec<String>,
        subject: &Subject,
        not_after: Timestamp,
    ) {
        if place.keepers().next().is_none() {
            self.covered.extend(keys);
            return;
        }
        let posts = to_each(place.keepers(), name, keys, subject, not_after);
        self.posts.extend(posts);
    }
}

/// At most one call to the chat of all: of the latest round that was missed, with all that is open; else of the turns that
/// are late or come back, and of the looks that are due. Beside it go looks that are the keepers' alone to them, and the
/// turns of those who are reminded alone to each of these.
fn call(book: &Book, place: &Place, board: &[Standing], items: &[Item], now: Timestamp, plan: &mut Plan) {
    let round = items.iter().rev().find_map(|item| match item.what {
        What::Round { round, date, held } => Some((item, round, date, held)),
        _ => None,
    });
    let (private, looks): (Vec<Look>, Vec<Look>) = looks::called(book, place, items, round.is_some(), now)
        .into_iter()
        .partition(|look| is_of_keepers(book, look.matter));
    private_call(place, items, round.map(|(item, ..)| item), private, now, plan);
    let calls = calls::calls(book, place, board, items, round.is_some(), now);
    let mut keys = call_keys(book, items, &calls);
    calls::alone(&calls, now, plan);
    let turns = calls::common(calls, round.is_some());
    let is_empty = turns.is_empty() && looks.is_empty();
    let Some((item, round, date, held)) = round else {
        if !is_empty {
            plan.posts.push(Post {
                keys,
                to: Destination::Chat,
                subject: Subject::Late { turns, looks },
                not_after: plus_minutes(now, 24 * 60),
            });
        }
        return;
    };
    let others = items
        .iter()
        .filter(|one| matches!(one.what, What::Round { .. }) && one.key != item.key);
    keys.extend(others.map(|one| one.key.clone()));
    if is_empty {
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
        turns,
        looks,
    };
    let not_after = next_round(&place.zone, &place.rounds, now).at;
    plan.posts.push(Post {
        keys,
        to: Destination::Chat,
        subject,
        not_after,
    });
}

/// The keys of what the call to the chat of all answers.
fn call_keys(book: &Book, items: &[Item], calls: &[Call]) -> Vec<String> {
    let is_of_call = |item: &&Item| match item.what {
        What::Late(..) | What::Woken(..) | What::Back(_) => true,
        What::Look { matter, .. } => !is_of_keepers(book, matter),
        _ => false,
    };
    let alone = |key: &String| {
        calls
            .iter()
            .any(|call| call.alone.is_some() && call.keys.contains(key))
    };
    let of_items = items.iter().filter(is_of_call).map(|item| item.key.clone());
    let of_people = calls
        .iter()
        .filter(|call| call.alone.is_none())
        .flat_map(|call| call.keys.clone());
    let mut keys: Vec<String> = Vec::new();
    for key in of_items.chain(of_people).filter(|key| !alone(key)) {
        if !keys.contains(&key) {
            keys.push(key);
        }
    }
    keys
}

/// Looks that are the keepers' alone, to each of them: at every round those that are due, else the new ones.
fn private_call(
    place: &Place,
    items: &[Item],
    round: Option<&Item>,
    looks: Vec<Look>,
    now: Timestamp,
    plan: &mut Plan,
) {
    let is_of_them = |item: &&Item| looks.iter().any(|look| looks::is_about(item, look.matter));
    let keys: Vec<String> = items
        .iter()
        .filter(is_of_them)
        .map(|item| item.key.clone())
        .collect();
    let Some(name) = round
        .map(|item| item.key.clone())
        .or_else(|| keys.first().cloned())
    else {
        return;
    };
    if looks.is_empty() {
        return;
    }
    let turns = Vec::new();
    let subject = Subject::Late { turns, looks };
    plan.tell_keepers(place, &name, keys, &subject, plus_minutes(now, 24 * 60));
}
