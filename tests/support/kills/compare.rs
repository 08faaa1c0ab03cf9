//! What people saw on the platform beside what stands in the database.

use std::collections::HashMap;

use wrackline::chat::discord::ids::MessageId as Out;
use wrackline::chat::discord::names::post_name;
use wrackline::chat::discord::rows::names_reference;
use wrackline::store::{PlaceId, PostRow, PostState};
use wrackline_core::moment::Subject;

use super::people::Deed;
use super::{Ground, Report, alarms, lines};
use crate::platform::{Judge, Message, MessageId};

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
    lines::compare(deeds, &tail, &messages, report);
    alarms::compare(&tail, &posts, &messages, report);
    channel(place, &posts, &messages, report);
    for fault in ground.double.faults() {
        // A process that was just started, or another beside it, cannot know which wait the platform named to the
        // one before: to ask too early is the kill's doing.
        if fault.verdicts.iter().any(|verdict| verdict.judge != Judge::Pace) {
            report.wrong.push(format!("a fault: {fault}"));
        }
    }
}

/// Every post is one message of the channel, and every message there that answers nobody is one post.
fn channel(place: PlaceId, posts: &[PostRow], messages: &[Message], report: &mut Report) {
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
        let Some(message) = message_of(post, messages) else {
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

/// The message that a post is out as.
pub(super) fn message_of<'a>(post: &PostRow, messages: &'a [Message]) -> Option<&'a Message> {
    let out: Out = post.message.as_deref()?.parse().ok()?;
    let id = MessageId(out.message.unsigned_abs());
    messages
        .iter()
        .find(|message| message.id == id && !message.deleted)
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
