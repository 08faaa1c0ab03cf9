//! The judgement: the stage, what it rests on and what is missing.

use jiff::Timestamp;

use super::answer::{Lapse, Missing, Note, Reason, Stage, State};
use super::left::left;
use super::run::{Run, Seen};
use super::{History, Problem, hours};
use crate::quantity::Hours;
use crate::rests::Rests;

/// How a filter stands at a time, by its tests, what is known to have gone in and when it stood still. The order of the
/// stages is seen in threads of keepers of fish; the rule of proof and the times of [`Rules`](super::Rules) are common
/// practice, no published source.
///
/// # Errors
///
/// If a number cannot be, a stop ends before it begins, or the filter first runs after `now`.
pub fn judge(history: &History<'_>, now: Timestamp) -> Result<State, Problem> {
    history.check(now)?;
    let run = Run::of(history, now);
    let proven = run.proof.is_some();
    let (stage, reasons) = stage(&run);
    let standing = run.standing.map(|from| Hours(hours(from, now)));
    let missing = if proven {
        Vec::new()
    } else {
        missing(history, &run, now)
    };
    let notes = notes(&run, stage);
    Ok(State {
        stage,
        proven,
        was_proven: run.was_proven,
        since: run.proven,
        reasons,
        missing,
        notes,
        left: (!proven).then(|| left(history, &run, now)),
        standing,
        rinse: standing.is_some_and(|stood| stood.0 > history.rules.rinse.0),
        rests: if run.by_word {
            Rests::Place
        } else {
            Rests::Practice
        },
    })
}

fn there(seen: Option<Seen>) -> Option<Seen> {
    seen.filter(|seen| !seen.is_zero())
}

fn is_zero(seen: Option<Seen>) -> bool {
    seen.is_some_and(|seen| seen.is_zero())
}

/// The stage, and why.
fn stage(run: &Run) -> (Stage, Vec<Reason>) {
    if let Some((first, second)) = run.proof {
        let reason = if run.by_word {
            Reason::Word { at: first }
        } else {
            Reason::Proof { first, second }
        };
        return (Stage::Finished, vec![reason]);
    }
    let mut reasons: Vec<Reason> = run.lapse.map(Reason::Lapsed).into_iter().collect();
    let nothing_since = !run.saw_ammonia && !run.saw_nitrite;
    if matches!(run.lapse, Some(Lapse::Stood { .. } | Lapse::Quiet { .. })) && nothing_since {
        return (Stage::Again, reasons);
    }
    reasons.extend(found(run));
    let (ammonia, nitrite) = (there(run.ammonia), there(run.nitrite));
    let stage = if nitrite.is_some() {
        if run.nitrate_above.is_some() && run.nitrite_falls() {
            Stage::NitrateUp
        } else {
            Stage::NitriteUp
        }
    } else if run.saw_nitrite || run.nitrate_above.is_some() {
        // Nitrite was there and went, or what comes after it is there.
        Stage::NitrateUp
    } else if ammonia.is_some() {
        Stage::AmmoniaUp
    } else if run.saw_ammonia {
        // Ammonia went. What it became was not seen; the earlier of the two stages is the careful guess.
        Stage::NitriteUp
    } else if run.first_fed.is_some() && !run.after_feed(run.ammonia) {
        Stage::AmmoniaUp
    } else {
        Stage::NotStarted
    };
    if nothing_since && run.nitrate_above.is_none() {
        reasons.push(nothing(run));
    }
    (stage, reasons)
}

/// Why nothing was found.
fn nothing(run: &Run) -> Reason {
    match run.last_fed {
        Some(fed) if !run.after_feed(run.ammonia) => Reason::FedOnly { at: fed.at },
        Some(fed) => Reason::NothingFound { at: fed.at },
        None if is_zero(run.ammonia) || is_zero(run.nitrite) => Reason::ZerosProveNothing,
        None => Reason::NothingFed,
    }
}

/// What tests found.
fn found(run: &Run) -> Vec<Reason> {
    let mut reasons = Vec::new();
    if let Some(seen) = there(run.ammonia) {
        reasons.push(Reason::Ammonia { at: seen.at });
    } else if run.saw_ammonia {
        reasons.push(Reason::AmmoniaGone);
    }
    if let Some(seen) = there(run.nitrite) {
        reasons.push(Reason::Nitrite { at: seen.at });
        if run.nitrite_falls() {
            reasons.push(Reason::NitriteFalls);
        }
    } else if run.saw_nitrite {
        reasons.push(Reason::NitriteGone);
    }
    reasons.extend(run.nitrate_above.map(|at| Reason::NitrateAbove { at }));
    reasons
}

/// What a proof still lacks.
fn missing(history: &History<'_>, run: &Run, now: Timestamp) -> Vec<Missing> {
    let mut missing = Vec::new();
    if run.standing.is_some() {
        missing.push(Missing::Running);
    }
    if run.first_fed.is_none() {
        missing.push(Missing::Feed);
    }
    // What was tested before it went in says nothing of what became of it.
    let fed = run.first_fed.is_some();
    if run.ammonia.is_none() || (fed && !run.after_feed(run.ammonia)) {
        missing.push(Missing::Ammonia);
    }
    if run.nitrite.is_none() || (fed && !run.after_feed(run.nitrite)) {
        missing.push(Missing::Nitrite);
    }
    if run.source.is_none() {
        missing.push(Missing::Source);
    }
    if !run.after_feed(run.nitrate) {
        missing.push(Missing::Nitrate);
    } else if run.source.is_some() && run.nitrate_above.is_none() {
        missing.push(Missing::NitrateAbove);
    }
    missing.push(match run.first_zero {
        None => Missing::FirstZero,
        Some(first) => Missing::SecondZero {
            wait: Hours((history.rules.apart.0 - hours(first, now)).max(0.0)),
        },
    });
    missing
}

/// What is odd, with what shows only at the end.
fn notes(run: &Run, stage: Stage) -> Vec<Note> {
    let mut notes = run.notes.clone();
    let went = is_zero(run.ammonia) && is_zero(run.nitrite) && (run.saw_ammonia || run.saw_nitrite);
    if went && run.source.is_some() && run.nitrate.is_some() && run.nitrate_above.is_none() {
        notes.push(Note::NitrateDidNotCome);
    }
    if stage != Stage::Finished || !run.by_word {
        if run.last_fed.is_some_and(|fed| fed.dose.is_none()) {
            notes.push(Note::UnknownDose);
        }
        if let Some((seen, true)) = run.source {
            notes.push(Note::SourceFromTest { at: seen.at });
        }
    }
    notes
}
