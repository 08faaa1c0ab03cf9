//! When a late turn is passed on, and when one that was given up.

use jiff::Timestamp;

use super::{Step, step_times};
use crate::care::Standing;
use crate::civil::{plus_minutes, seconds_between, waking};
use crate::place::Place;
use crate::rota::{Freed, Hand};

/// Minutes over which a turn without a hazard limit is passed on: three days.
const WITHOUT_HAZARD_MIN: i64 = 3 * 24 * 60;

/// When a turn is passed on, by where it lies.
#[must_use]
pub fn steps(place: &Place, standing: &Standing, hand: &Hand) -> Vec<(Step, Timestamp)> {
    match hand.freed {
        Some(freed) => freed_times(place, standing, &freed),
        None => step_times(place, standing),
    }
}

/// A turn that was given up is passed on from then: at once to the stand-in; to all who can once it is late; to the
/// keeper half-way from there to its hazard limit. What was late already, in thirds of the time that is left.
fn freed_times(place: &Place, standing: &Standing, freed: &Freed) -> Vec<(Step, Timestamp)> {
    let from = freed.at.max(standing.due);
    let late = standing.overdue.max(from);
    let end = standing
        .hazard
        .unwrap_or_else(|| plus_minutes(late, WITHOUT_HAZARD_MIN))
        .max(from);
    let between = |start: Timestamp, part: i64, of: i64| {
        let span_min = (seconds_between(start, end) / 60).max(0);
        plus_minutes(start, span_min * part / of)
    };
    let (all, keeper) = if from < standing.overdue {
        (late.min(end), between(late.min(end), 1, 2))
    } else {
        (between(from, 1, 3), between(from, 2, 3))
    };
    let hazard = standing.hazard.map(|hazard| (Step::Hazard, hazard));
    let times = [(Step::Carer, from), (Step::StandIn, all), (Step::Keeper, keeper)];
    let wake = |(step, at)| (step, waking(&place.zone, place.quiet, at));
    times.into_iter().chain(hazard).map(wake).collect()
}

/// The key of a step of a turn.
#[must_use]
pub(super) fn step_key(standing: &Standing, hand: &Hand, step: Step) -> String {
    let (turn, number) = (standing.turn, step as u8);
    // Keepers are called once for a step, whoever gave the turn up meanwhile.
    let asks_others = step < Step::Keeper;
    // Whoever has it since it is late was not called with the one who had it before.
    let came = hand
        .came
        .filter(|(at, _)| step == Step::Carer && *at > standing.overdue);
    match (hand.freed, came) {
        (Some(freed), _) if asks_others => format!("freed.{turn}.{number}.{}", freed.seq),
        (None, Some((_, seq))) => format!("freed.{turn}.{number}.{seq}"),
        _ => format!("late.{turn}.{number}"),
    }
}
