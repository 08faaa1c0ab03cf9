//! Why a turn lies where it does, computed again from what the journal held when it was published.

use jiff::Timestamp;

use super::table::Table;
use super::{Draft, deal};
use crate::care::{TurnKey, board};
use crate::journal::{Book, Seq, TurnEvent};
use crate::place::CarerId;
use crate::rota::{Able, Credit, HORIZON_DAYS, Slot, able, gave_up};

/// What decided where a turn lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decided {
    /// Whoever has it took it themselves; from someone who offered it, or because it was free.
    Took {
        /// Who offered it.
        offered_by: Option<CarerId>,
    },
    /// Whoever had it said that they cannot, so that it is free for anyone.
    GaveUp(CarerId),
    /// Nobody could do it.
    Nobody,
    /// Nobody else could do it.
    Only,
    /// Whoever has it had done least beside what was theirs, of all who could.
    Least,
    /// Whoever has it does it by habit.
    Habit,
    /// Whoever has it has other turns of that round in the same enclosure.
    Together,
    /// Work done early or late had re-dated it to a day on which whoever had it is not there or has no time left, or it was
    /// given in return for such a one; whose it was before.
    Exchanged(CarerId),
    /// It made all loads of the days to come evenest, though someone else had done less so far.
    Evenest,
}

/// How someone stood to a turn when it was shared out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reason {
    /// Who.
    pub carer: CarerId,
    /// Whether they could do it.
    pub able: Able,
    /// Whether they had said that they cannot.
    pub gave_up: bool,
    /// Whether their day had no time left for it.
    pub full: bool,
    /// What they had done and had still to do by the plan, this turn left out, beside what was theirs, in minutes.
    pub credit: Credit,
}

/// Why a turn lies where it does.
#[derive(Clone, Debug, PartialEq)]
pub struct Reasons {
    /// When that was written down.
    pub at: Timestamp,
    /// Whose it became; `None`: nobody's.
    pub carer: Option<CarerId>,
    /// What decided.
    pub decided: Decided,
    /// Whose it would have been by habit.
    pub habit: Option<CarerId>,
    /// Everyone, whoever had least beside what was theirs first; empty where someone said it themselves.
    pub all: Vec<Reason>,
}

/// The entry by which a coming turn lies where it does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Laid {
    /// When it was written down.
    pub at: Timestamp,
    /// The entry.
    pub seq: Seq,
    /// Whose it became; `None`: nobody's.
    pub carer: Option<CarerId>,
    /// What decided, where someone said it themselves; `None`: it was given out.
    pub said: Option<Decided>,
}

/// By which entry a coming turn lies where it does at a moment; `None` where nothing was written down of it. `turn` is its
/// key once it is the next one.
#[must_use]
pub fn laid(book: &Book, slot: &Slot, turn: Option<&TurnKey>, now: Timestamp) -> Option<Laid> {
    let of_turn = turn
        .into_iter()
        .flat_map(|turn| book.keyed_turn_events(turn, now));
    let mut all: Vec<((Timestamp, Seq), TurnEvent)> = book.slot_events(slot, now).chain(of_turn).collect();
    all.sort_by_key(|(key, _)| *key);
    let is_last = |(_, event): &((Timestamp, Seq), TurnEvent)| decides(*event);
    let last = all.iter().rposition(is_last)?;
    let ((at, seq), event) = all[last];
    let (carer, said) = match event {
        TurnEvent::Took(carer) => {
            let offered = all[..last].iter().rev().find_map(|(_, event)| match event {
                TurnEvent::Offered { by, to, .. } => Some((*by, *to)),
                _ => None,
            });
            let offered_by = offered.filter(|(_, to)| *to == carer).map(|(by, _)| by);
            (Some(carer), Some(Decided::Took { offered_by }))
        }
        TurnEvent::Cannot(carer) => (None, Some(Decided::GaveUp(carer))),
        TurnEvent::Published(carer) => (Some(carer), None),
        _ => (None, None),
    };
    Some(Laid { at, seq, carer, said })
}

/// Why a coming turn lies where it does at a moment; `None` where nothing was written down of it. Where it was given out
/// that costs a copy of the whole journal: for one question, not for every turn, and not where [`laid`] will do.
#[must_use]
pub fn reasons(book: &Book, slot: &Slot, turn: Option<&TurnKey>, now: Timestamp) -> Option<Reasons> {
    let laid = laid(book, slot, turn, now)?;
    Some(match laid.said {
        None => recomputed(book, slot, laid),
        Some(decided) => Reasons {
            at: laid.at,
            carer: laid.carer,
            decided,
            habit: None,
            all: Vec::new(),
        },
    })
}

/// Whether an event says where a turn lies.
fn decides(event: TurnEvent) -> bool {
    matches!(
        event,
        TurnEvent::Published(_) | TurnEvent::Open | TurnEvent::Took(_) | TurnEvent::Cannot(_)
    )
}

/// Shares out again what was shared out then, with nothing that was written down later.
fn recomputed(book: &Book, slot: &Slot, laid: Laid) -> Reasons {
    let Laid { at, seq, carer, .. } = laid;
    let known = book.before(seq);
    let place = known.place_at(at);
    let board = board(&known, &place, at);
    let mut draft = Draft::new(&known, &place, &board, at, HORIZON_DAYS);
    let exchanged = draft.settle(true);
    let mut reasons = Reasons {
        at,
        carer,
        decided: if carer.is_some() {
            Decided::Evenest
        } else {
            Decided::Nobody
        },
        habit: None,
        all: Vec::new(),
    };
    let Some(index) = draft.turns.iter().position(|turn| turn.expected.slot == *slot) else {
        return reasons;
    };
    let mut table = Table::new(&draft);
    deal::improve(&mut table);
    let has_others = carer.is_some_and(|carer| table.has_others(index, carer));
    reasons.habit = table.take_off(index);
    // Somebody had it, and it was moved for evenness.
    if let Some(before) = draft.turns[index].carer {
        table.take_published(before, &draft.turns[index].expected);
    }
    reasons.all = place
        .carers
        .keys()
        .map(|one| reason(&draft, &table, index, *one))
        .collect();
    let beside = |one: &Reason| one.credit.balance() / one.credit.owed.max(1.0);
    reasons.all.sort_by(|a, b| beside(a).total_cmp(&beside(b)));
    let is_so = carer.is_some() && draft.turns[index].carer == carer;
    if let Some(was) = exchanged.get(&index).filter(|_| is_so) {
        reasons.decided = Decided::Exchanged(*was);
    } else if let Some(carer) = carer {
        reasons.decided = decided(&reasons, carer, has_others);
    }
    reasons
}

fn reason(draft: &Draft<'_>, table: &Table, index: usize, id: CarerId) -> Reason {
    let expected = &draft.turns[index].expected;
    let carer = &draft.place.carers[&id];
    Reason {
        carer: id,
        able: able(draft.book, carer, &expected.work.needs, &expected.when, draft.now),
        gave_up: gave_up(draft.book, expected, id, draft.now),
        full: table.is_full(id, expected.when.date, expected.work.minutes),
        credit: table.credit(id),
    }
}

/// What decided, of the rules of sharing out.
fn decided(reasons: &Reasons, carer: CarerId, has_others: bool) -> Decided {
    let could = |one: &&Reason| one.able == Able::Yes && !one.gave_up && !one.full;
    let mut all = reasons.all.iter().filter(could).map(|one| one.carer);
    let first = all.next();
    if first == Some(carer) && all.next().is_none() {
        Decided::Only
    } else if first == Some(carer) {
        Decided::Least
    } else if has_others {
        Decided::Together
    } else if reasons.habit == Some(carer) {
        Decided::Habit
    } else {
        Decided::Evenest
    }
}
