//! What people saw on the platform beside what stands in the database.

use std::collections::{HashMap, HashSet};

use wrackline::chat::discord::ids::MessageId as Out;
use wrackline::chat::discord::names::post_name;
use wrackline::chat::discord::rows::{code_of, names_reference};
use wrackline::shelf;
use wrackline::store::{PlaceId, PostRow, PostState, Tail};
use wrackline_core::journal::{Event, Seq};
use wrackline_core::moment::Subject;

use super::people::{Deed, Meant};
use super::{Ground, Report};
use crate::platform::{InteractionId, Judge, Message, MessageId};

/// What the person saw of what they did.
enum Seen {
    /// That it is done; the number of its entry, where the answer tells it.
    Done(Option<Seq>),
    /// That it is not.
    Refused(String),
    /// Nothing, or that it takes longer.
    Nothing,
}

/// Compares all of it.
///
/// # Panics
/// When the database cannot be read.
pub async fn compare(ground: &Ground, deeds: &[Deed], report: &mut Report) {
    let store = ground.store().await;
    let place = ground.place(&store).await;
    let tail = store.tail(place, 0).await.expect("the journal");
    let posts = store.posts(place, 0).await.expect("the posts");
    store.close().await;
    let messages = ground.double.channel_messages(ground.channel);
    lines(deeds, &tail, &messages, report);
    alarms(&tail, &posts, report);
    channel(place, &posts, &messages, report);
    for fault in ground.double.faults() {
        // A process that was just started, or another beside it, cannot know which wait the platform named to the
        // one before: to ask too early is the kill's doing.
        if fault.verdicts.iter().any(|verdict| verdict.judge != Judge::Pace) {
            report.wrong.push(format!("a fault: {fault}"));
        }
    }
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

/// What entries were written for: note and press.
fn written(tail: &Tail) -> HashMap<Meant, Vec<Seq>> {
    let mut found: HashMap<Meant, Vec<Seq>> = HashMap::new();
    for (seq, note) in &tail.notes {
        let seqs = found.entry(Meant::Note(note.clone())).or_default();
        seqs.push(seq.unsigned_abs());
    }
    for row in &tail.entries {
        let entry = shelf::entry(row).expect("an entry of this version");
        let code = match entry.event {
            Event::Noted(of) => format!("noted.{of}"),
            Event::Going(of) => format!("going.{of}"),
            Event::Closed(of) => format!("close.{of}"),
            Event::Retract(of) => format!("undo.{of}"),
            _ => continue,
        };
        found.entry(Meant::Press(code)).or_default().push(entry.seq);
    }
    found
}

/// Every line that was answered as done has its entry once; what was answered with a refusal has none. What got no
/// answer stands once or not at all: an answer is committed before it is told, and the process may die in between.
fn lines(deeds: &[Deed], tail: &Tail, messages: &[Message], report: &mut Report) {
    let mut answers: HashMap<InteractionId, Vec<&Message>> = HashMap::new();
    for message in messages {
        if let Some(id) = message.interaction {
            answers.entry(id).or_default().push(message);
        }
    }
    let mut written = written(tail);
    for deed in deeds {
        let what = format!("{:?} of {}", deed.meant, deed.act.id());
        let stands = written.remove(&deed.meant).unwrap_or_default();
        report.repeated += deed.act.answers_refused();
        if stands.len() > 1 {
            report.doubled.push(format!("{what}: entries {stands:?}"));
        }
        match seen(deed, &answers) {
            Seen::Done(said) => {
                report.lines += 1;
                if stands.is_empty() {
                    report
                        .missing
                        .push(format!("{what} was answered and has no entry"));
                } else if said.is_some_and(|said| !stands.contains(&said)) {
                    report
                        .wrong
                        .push(format!("{what}: entry {said:?} was told, {stands:?} stand"));
                }
            }
            Seen::Refused(text) => {
                report.refused += 1;
                if !stands.is_empty() {
                    report
                        .wrong
                        .push(format!("{what} was refused ({text}), entries {stands:?}"));
                } else if matches!(deed.meant, Meant::Note(_)) {
                    // A press may come too late; nothing stands against any of the lines.
                    report.wrong.push(format!("{what} was refused: {text}"));
                }
            }
            Seen::Nothing => {
                report.unanswered += 1;
                report.unanswered_but_done += u32::from(!stands.is_empty());
            }
        }
    }
    let odd = written
        .into_iter()
        .map(|(meant, seqs)| format!("{meant:?}: {seqs:?}"));
    report.wrong.extend(odd.map(|odd| format!("nobody wrote {odd}")));
}

/// Every danger, and every end of one that was not taken back, is wanted as a post once.
fn alarms(tail: &Tail, posts: &[PostRow], report: &mut Report) {
    let mut wanted: HashMap<String, usize> = HashMap::new();
    let mut open = HashSet::new();
    for row in &tail.entries {
        let entry = shelf::entry(row).expect("an entry of this version");
        match entry.event {
            Event::Saw(_, sighting) if sighting.is_danger() => {
                wanted.insert(format!("seen.{}", entry.seq), 0);
                open.insert(entry.seq);
            }
            // What was taken back never was: its end is none.
            Event::Retract(of) => drop(open.remove(&of)),
            Event::Closed(of) if open.contains(&of) => {
                wanted.insert(format!("settled.seen.{of}"), 0);
            }
            _ => {}
        }
    }
    for key in posts.iter().flat_map(|post| &post.keys) {
        if let Some(count) = wanted.get_mut(key) {
            *count += 1;
        }
    }
    for (key, count) in wanted {
        match count {
            0 => report.missing.push(format!("{key} has no post")),
            1 => {}
            _ => report.doubled.push(format!("{key} has {count} posts")),
        }
    }
}

/// Every post is one message of the channel, and every message there that answers nobody is one post.
fn channel(place: PlaceId, posts: &[PostRow], messages: &[Message], report: &mut Report) {
    let by_id: HashMap<MessageId, &Message> = messages.iter().map(|message| (message.id, message)).collect();
    let mut told: HashMap<MessageId, i64> = HashMap::new();
    for post in posts {
        let what = format!("post {} {:?}", post.id, post.keys);
        match post.state {
            PostState::Sent => {}
            // A call that nobody needs any more is no danger.
            PostState::Expired if !is_danger(post) => continue,
            state => {
                report
                    .missing
                    .push(format!("{what} is {state:?}: {:?}", post.error));
                continue;
            }
        }
        report.posts += 1;
        let out = post.message.as_deref().and_then(|id| id.parse::<Out>().ok());
        let id = out.map(|out| MessageId(out.message.unsigned_abs()));
        let Some(message) = id
            .and_then(|id| by_id.get(&id))
            .filter(|message| !message.deleted)
        else {
            report.missing.push(format!(
                "{what} is sent as {:?}, which is not there",
                post.message
            ));
            continue;
        };
        if let Some(other) = told.insert(message.id, post.id) {
            report
                .wrong
                .push(format!("{what} and post {other} are one message"));
        }
        let name = post_name(place, post.keys.first().map_or("", String::as_str));
        if !carries(message, &name.reference) || message.nonce.as_deref() != Some(name.nonce.as_str()) {
            report.wrong.push(format!("{what} is another post's message"));
        }
    }
    let of_itself = messages.iter().filter(|message| message.interaction.is_none());
    // The first word in the channel is that of the linking.
    for message in of_itself.skip(1) {
        if !told.contains_key(&message.id) {
            report
                .doubled
                .push(format!("message {} is no post's: {}", message.id, message.text()));
        }
    }
}

fn is_danger(post: &PostRow) -> bool {
    serde_json::from_str::<Subject>(&post.body).is_ok_and(|subject| {
        subject.is_danger() || matches!(subject, Subject::SeenSettled(_) | Subject::SpellSettled { .. })
    })
}

fn carries(message: &Message, reference: &str) -> bool {
    let rows = message.shown();
    rows.iter().any(|row| names_reference(&row.custom_id, reference)) || message.content().contains(reference)
}
