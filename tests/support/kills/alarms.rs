//! What people saw that is a danger beside what was posted of it.

use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};

use wrackline::shelf;
use wrackline::store::{PostRow, Tail};
use wrackline_core::journal::{Entry, Event, Seq, Sighting};
use wrackline_core::place::Target;

use super::Report;
use super::compare::message_of;
use crate::platform::Message;

/// What was seen, and where.
type Of = (Target, Sighting);

/// A danger, which may be seen again while it is open.
#[derive(Debug)]
struct Danger {
    /// Its sightings, the first one first.
    seen: Vec<Seq>,
    is_over: bool,
}

/// Every danger, and every end of one, is wanted as a post once. What is seen again while it is open wants none: it is told
/// by the post of the first sighting.
pub(super) fn compare(tail: &Tail, posts: &[PostRow], messages: &[Message], report: &mut Report) {
    let mut wanted = BTreeSet::new();
    let mut again = Vec::new();
    for (of, entries) in by_spot(tail) {
        let mut dangers = Vec::new();
        let mut until = 0;
        // What was wanted once is posted, even where it was taken back soon after.
        for line in entries.chunk_by(|one, next| one.logged_at == next.logged_at) {
            until += line.len();
            dangers = known(of.1, &entries[..until]);
            for danger in &dangers {
                wanted.insert(format!("seen.{}", danger.seen[0]));
                if danger.is_over {
                    wanted.insert(format!("settled.seen.{}", danger.seen[0]));
                }
            }
        }
        again.extend(dangers.into_iter().filter(|danger| danger.seen.len() > 1));
    }
    let mut posted: HashMap<&str, usize> = HashMap::new();
    let of_danger = |key: &&String| key.starts_with("seen.") || key.starts_with("settled.seen.");
    for key in posts.iter().flat_map(|post| &post.keys).filter(of_danger) {
        *posted.entry(key).or_default() += 1;
    }
    for key in &wanted {
        match posted.remove(key.as_str()) {
            None => report.missing.push(format!("{key} has no post")),
            Some(1) => {}
            Some(count) => report.doubled.push(format!("{key} has {count} posts")),
        }
    }
    let odd = posted.into_keys();
    report
        .doubled
        .extend(odd.map(|key| format!("{key} was posted, and is no danger of its own")));
    for danger in again {
        report.again += 1;
        shows_last(&danger, tail, posts, messages, report);
    }
}

/// What was said of each danger and spot, in order of number.
fn by_spot(tail: &Tail) -> BTreeMap<Of, Vec<Entry>> {
    let mut spots: BTreeMap<Of, Vec<Entry>> = BTreeMap::new();
    let mut about: HashMap<Seq, Of> = HashMap::new();
    for row in &tail.entries {
        let entry = shelf::entry(row).expect("an entry of this version");
        let of = match entry.event {
            Event::Saw(target, sighting) if sighting.is_danger() => Some((target, sighting)),
            Event::Closed(of) | Event::Retract(of) => about.get(&of).copied(),
            _ => None,
        };
        if let Some(of) = of {
            about.insert(entry.seq, of);
            spots.entry(of).or_default().push(entry);
        }
    }
    spots
}

/// The dangers of one kind at one spot after these entries. What was taken back never was.
fn known(sighting: Sighting, entries: &[Entry]) -> Vec<Danger> {
    let taken_back = entries.iter().filter_map(|entry| match entry.event {
        Event::Retract(of) => Some(of),
        _ => None,
    });
    let taken_back: HashSet<Seq> = taken_back.collect();
    // Another crab may be out; a leak at a spot is that leak.
    let can_be_seen_again = !matches!(sighting, Sighting::Escape | Sighting::Trouble);
    let mut all: Vec<Danger> = Vec::new();
    for entry in entries.iter().filter(|entry| !taken_back.contains(&entry.seq)) {
        match entry.event {
            Event::Saw(..) => match all.last_mut().filter(|last| can_be_seen_again && !last.is_over) {
                Some(last) => last.seen.push(entry.seq),
                None => all.push(Danger {
                    seen: vec![entry.seq],
                    is_over: false,
                }),
            },
            Event::Closed(of) => {
                let closed = all.iter_mut().filter(|danger| danger.seen.contains(&of));
                closed.for_each(|danger| danger.is_over = true);
            }
            _ => {}
        }
    }
    all
}

/// The post of what was seen again shows the note of the last sighting.
fn shows_last(danger: &Danger, tail: &Tail, posts: &[PostRow], messages: &[Message], report: &mut Report) {
    let key = format!("seen.{}", danger.seen[0]);
    let last = danger.seen.last().map_or(0, |seq| seq.cast_signed());
    let note = tail.notes.iter().find(|(seq, _)| *seq == last);
    let post = posts.iter().find(|post| post.keys.contains(&key));
    let text = post
        .and_then(|post| message_of(post, messages))
        .map(Message::text)
        .unwrap_or_default();
    let is_shown = note.is_some_and(|(_, note)| text.split_whitespace().any(|word| word == note));
    if !is_shown {
        report
            .wrong
            .push(format!("{key} does not tell of {last}, {note:?}: {text}"));
    }
}
