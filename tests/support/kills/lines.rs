//! What people said and pressed beside what was written.

use std::collections::{BTreeMap, HashMap, HashSet};

use wrackline::chat::discord::rows::code_of;
use wrackline::shelf;
use wrackline::store::Tail;
use wrackline_core::journal::{Event, Seq};

use super::Report;
use super::people::{Deed, Meant};
use crate::platform::{InteractionId, Message};

/// What the person saw of what they did.
enum Seen {
    /// That it is done; the number of its entry, where the answer tells it.
    Done(Option<Seq>),
    /// That it is not.
    Refused(String),
    /// Nothing, or that it takes longer.
    Nothing,
}

/// What was written at once: every line is logged at an instant of its own.
#[derive(Debug, Default)]
struct Written {
    seqs: Vec<Seq>,
    /// What it may have been written for: a press that closes what was seen twice closes both sightings, and either of
    /// the two may have been pressed.
    meant: HashSet<Meant>,
    /// Whether somebody's deed is known that it was written for.
    is_claimed: bool,
}

fn seen(deed: &Deed, answers: &HashMap<InteractionId, Vec<&Message>>) -> Seen {
    let own = answers.get(&deed.act.id()).map(Vec::as_slice).unwrap_or_default();
    let own: Vec<&&Message> = own.iter().filter(|message| !message.is_loading()).collect();
    let entry = own.iter().flat_map(|message| message.shown()).find_map(|shown| {
        let code = code_of(&shown.custom_id).strip_prefix("undo.")?;
        code.parse().ok()
    });
    match (entry, own.first()) {
        (Some(seq), _) => Seen::Done(Some(seq)),
        (None, None) => Seen::Nothing,
        // What was taken back cannot be taken back: its receipt shows nothing to press.
        (None, Some(message)) if message.content().starts_with("**Taken back: ") => Seen::Done(None),
        (None, Some(message)) => Seen::Refused(message.text()),
    }
}

/// What was written for notes and presses.
fn written(tail: &Tail) -> Vec<Written> {
    let mut notes: HashMap<i64, Vec<&String>> = HashMap::new();
    for (seq, note) in &tail.notes {
        notes.entry(*seq).or_default().push(note);
    }
    let mut found: BTreeMap<i64, Written> = BTreeMap::new();
    for row in &tail.entries {
        let entry = shelf::entry(row).expect("an entry of this version");
        let code = match entry.event {
            Event::Noted(of) => Some(format!("noted.{of}")),
            Event::Going(of) => Some(format!("going.{of}")),
            Event::Closed(of) => Some(format!("close.{of}")),
            Event::Retract(of) => Some(format!("undo.{of}")),
            _ => None,
        };
        let noted = notes.remove(&row.seq).unwrap_or_default();
        let one = found.entry(row.logged_at_ms).or_default();
        one.seqs.push(entry.seq);
        one.meant.extend(code.map(Meant::Press));
        one.meant
            .extend(noted.into_iter().map(|note| Meant::Note(note.clone())));
    }
    found.into_values().filter(|one| !one.meant.is_empty()).collect()
}

/// Every line that was answered as done has its entry once; what was answered with a refusal has none. What got no
/// answer stands once or not at all: an answer is committed before it is told, and the process may die in between.
pub(super) fn compare(deeds: &[Deed], tail: &Tail, messages: &[Message], report: &mut Report) {
    let mut answers: HashMap<InteractionId, Vec<&Message>> = HashMap::new();
    for message in messages {
        if let Some(id) = message.interaction {
            answers.entry(id).or_default().push(message);
        }
    }
    let mut all = written(tail);
    let mut refused: HashMap<&Meant, String> = HashMap::new();
    let mut done: HashSet<&Meant> = HashSet::new();
    let mut unanswered = Vec::new();
    for deed in deeds {
        report.repeated += deed.act.answers_refused();
        match seen(deed, &answers) {
            Seen::Done(said) => {
                report.lines += 1;
                done.insert(&deed.meant);
                if let Err(why) = claim(&mut all, &deed.meant, said) {
                    let what = format!("{:?} of {}", deed.meant, deed.act.id());
                    report.missing.push(format!("{what} was answered and {why}"));
                }
            }
            Seen::Refused(text) => {
                report.refused += 1;
                if matches!(deed.meant, Meant::Note(_)) {
                    // A press may come too late; nothing stands against any of the lines.
                    report.wrong.push(format!("{:?} was refused: {text}", deed.meant));
                }
                refused.insert(&deed.meant, text);
            }
            Seen::Nothing => unanswered.push(&deed.meant),
        }
    }
    // What was told has been found by now: what is left was written for those who were told nothing.
    for meant in unanswered {
        report.unanswered += 1;
        if claim(&mut all, meant, None).is_ok() {
            report.unanswered_but_done += 1;
            done.insert(meant);
        }
    }
    for odd in all.iter().filter(|one| !one.is_claimed) {
        let text = odd.meant.iter().find_map(|meant| refused.get(meant));
        if odd.meant.iter().any(|meant| done.contains(meant)) {
            report.doubled.push(format!("{odd:?} was written before"));
        } else if let Some(text) = text {
            report.wrong.push(format!("{odd:?} was refused ({text})"));
        } else {
            report.wrong.push(format!("nobody wrote {odd:?}"));
        }
    }
}

/// Finds what was written for a deed, under a number where one was told, and that was not found for another.
fn claim(all: &mut [Written], meant: &Meant, said: Option<Seq>) -> Result<(), String> {
    let stands = |one: &&mut Written| !one.is_claimed && one.meant.contains(meant);
    let is_said = |one: &&mut Written| said.is_none_or(|said| one.seqs.contains(&said));
    match all.iter_mut().filter(stands).find(is_said) {
        Some(one) => {
            one.is_claimed = true;
            Ok(())
        }
        None => Err(match said {
            Some(said) => format!("entry {said} was told, which is not of it alone"),
            None => "has no entry".to_owned(),
        }),
    }
}
