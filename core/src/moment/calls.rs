//! The turns of a call, whom it calls by name for each, and which of them go to one person alone.

use std::collections::BTreeMap;

use jiff::Timestamp;

use super::rest::has_account;
use super::{Called, Item, Plan, Step, Subject, What, call_times, called_at, rests, to_each};
use crate::care::board::is_folded;
use crate::care::{Mark, Standing, TurnKey};
use crate::civil::plus_minutes;
use crate::journal::Book;
use crate::place::{CarerId, Place, Role};
use crate::rota::{self, Hand};

/// For how long a private call is worth sending, in minutes.
const PRIVATE_MIN: i64 = 24 * 60;

/// A turn of a call.
pub(super) struct Call {
    pub(super) called: Called,
    /// Who is reminded of it alone.
    pub(super) alone: Option<CarerId>,
    /// The keys that are known once it is posted: those of what calls for it, and of whom it calls by name.
    pub(super) keys: Vec<String>,
}

/// The turns of a call: at a round all that are open, else those that are late or come back.
pub(super) fn calls(
    book: &Book,
    place: &Place,
    board: &[Standing],
    items: &[Item],
    at_round: bool,
    now: Timestamp,
) -> Vec<Call> {
    let open = |standing: &&Standing| {
        standing.mark > Mark::Calm && standing.held.is_none() && !is_folded(board, standing)
    };
    let hand = |standing: &Standing| rota::hand(book, place, standing, now);
    board
        .iter()
        .filter(open)
        .map(|standing| (standing, hand(standing)))
        .filter(|(standing, hand)| match at_round {
            true => hand.later.is_none(),
            false => names(items, &standing.turn).is_some(),
        })
        .map(|(standing, hand)| one(book, place, standing, &hand, items, now))
        .collect()
}

fn one(book: &Book, place: &Place, standing: &Standing, hand: &Hand, items: &[Item], now: Timestamp) -> Call {
    let turn = standing.turn;
    let reached = call_times(book, place, standing, hand, now)
        .into_iter()
        .filter(|(_, at)| *at <= now)
        .map(|(step, _)| step)
        .max();
    let mut call = Call {
        called: Called {
            turn,
            carer: hand.carer,
            step: reached,
            names: names(items, &turn),
            only: Vec::new(),
        },
        alone: None,
        keys: items
            .iter()
            .filter(|item| is_about(item, &turn))
            .map(|item| item.key.clone())
            .collect(),
    };
    let Some(step) = call.called.names else {
        return call;
    };
    let all = called_at(book, place, standing, hand, step, now);
    if calls_several(place, hand, step) {
        let out = goes_out(items, &turn, step);
        let named = if out.is_empty() {
            woken(items, &turn, step)
        } else {
            let awake = |carer: &CarerId| !rests(place, *carer, now);
            all.iter().copied().filter(awake).collect()
        };
        call.name_some(&out, &all, named);
    }
    call.alone = match all.as_slice() {
        // What has become a hazard is told to everyone; what calls several, to all, whoever of them sleeps.
        [carer] if call.called.names.is_some() && step < Step::Hazard && is_reminded_alone(place, *carer) => {
            Some(*carer)
        }
        _ => None,
    };
    call
}

impl Call {
    /// Names some of those whom a step calls. Of what goes out it is known from then on whom it named and whom it left out.
    fn name_some(&mut self, out: &[&str], all: &[CarerId], named: Vec<CarerId>) {
        for key in out {
            let of_person = |carer: &CarerId| match named.contains(carer) {
                true => person_key(key, *carer),
                false => left_out_key(key, *carer),
            };
            self.keys.extend(all.iter().map(of_person));
        }
        if named.is_empty() && !all.is_empty() {
            self.called.names = None;
        } else if named.len() < all.len() {
            self.called.only = named;
        }
    }
}

/// Whether someone is reminded alone. A helper has no account that could be written to.
fn is_reminded_alone(place: &Place, carer: CarerId) -> bool {
    place
        .carers
        .get(&carer)
        .is_some_and(|one| one.private && one.role != Role::Helper)
}

/// Whether a step calls several people, of whom some may sleep while others are called. A helper's turn may fall to the
/// keepers at once.
pub(super) fn calls_several(place: &Place, hand: &Hand, step: Step) -> bool {
    match step {
        Step::Carer => hand.carer.is_some_and(|carer| !has_account(place, carer)),
        Step::StandIn => hand.carer.is_none(),
        Step::Keeper | Step::Hazard => true,
    }
}

/// The key under which it is known that a step, which has this key, called someone by name.
pub(super) fn person_key(step: &str, carer: CarerId) -> String {
    format!("{step}.p{}", carer.0)
}

/// The key under which it is known that a step, which has this key, left someone out who slept.
pub(super) fn left_out_key(step: &str, carer: CarerId) -> String {
    format!("{step}.s{}", carer.0)
}

/// The key under which it is known that whoever a step had named slept when the call was sent, so that it named them to
/// nobody.
pub(super) fn unnamed_key(step: &str, carer: CarerId) -> String {
    format!("{step}.u{}", carer.0)
}

/// The key under which it is known that such a person was named again.
pub(super) fn again_key(step: &str, carer: CarerId) -> String {
    format!("{step}.a{}", carer.0)
}

fn is_about(item: &Item, turn: &TurnKey) -> bool {
    match &item.what {
        What::Late(one, _) | What::Woken(one, ..) | What::Back(one) => one == turn,
        _ => false,
    }
}

/// For which step a turn's new items call people by name. A turn that comes back calls its carer anew.
fn names(items: &[Item], turn: &TurnKey) -> Option<Step> {
    let steps = items.iter().filter_map(|item| match &item.what {
        What::Late(one, step) | What::Woken(one, step, _) if one == turn => Some(*step),
        What::Back(one) if one == turn => Some(Step::Carer),
        _ => None,
    });
    steps.max()
}

/// The keys of what goes out now for a step: the step itself, or that the turn comes back.
fn goes_out<'a>(items: &'a [Item], turn: &TurnKey, step: Step) -> Vec<&'a str> {
    let out = items.iter().filter(|item| match &item.what {
        What::Late(one, of) => one == turn && *of == step,
        What::Back(one) => one == turn && step == Step::Carer,
        _ => false,
    });
    out.map(|item| item.key.as_str()).collect()
}

/// Those whom a step left out and who are awake now.
fn woken(items: &[Item], turn: &TurnKey, step: Step) -> Vec<CarerId> {
    let carers = items.iter().filter_map(|item| match &item.what {
        What::Woken(one, of, carer) if one == turn && *of == step => Some(*carer),
        _ => None,
    });
    let mut carers: Vec<CarerId> = carers.collect();
    carers.dedup();
    carers
}

/// A post to each who is reminded alone, of the turns for which it calls them.
pub(super) fn alone(calls: &[Call], now: Timestamp, plan: &mut Plan) {
    let mut all: BTreeMap<CarerId, (Vec<Called>, Vec<String>)> = BTreeMap::new();
    for call in calls {
        if let Some(carer) = call.alone {
            let (turns, keys) = all.entry(carer).or_default();
            turns.push(call.called.clone());
            keys.extend(call.keys.iter().cloned());
        }
    }
    for (carer, (turns, keys)) in all {
        let subject = Subject::Late {
            turns,
            looks: Vec::new(),
        };
        let name = keys[0].clone();
        let not_after = plus_minutes(now, PRIVATE_MIN);
        plan.posts
            .extend(to_each([carer], &name, keys, &subject, not_after));
    }
}

/// The turns of the call to the chat of all: at a round also those of which someone is reminded alone, without a name.
pub(super) fn common(calls: Vec<Call>, at_round: bool) -> Vec<Called> {
    let common = calls.into_iter().filter_map(|call| match call.alone {
        None => Some(call.called),
        Some(_) => at_round.then_some(Called {
            names: None,
            only: Vec::new(),
            ..call.called
        }),
    });
    common.collect()
}
