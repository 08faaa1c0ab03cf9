//! The porch as a transport: its transcript lies in the store, and its readers are told when it grows.

use std::sync::Arc;

use async_trait::async_trait;
use serde_json::json;
use tokio::sync::broadcast;
use wrackline_core::moment::Destination;

use super::blocks::{Answer, Block};
use super::{Chat, ChatError, Outgoing};
use crate::house::CALENDAR_PATH;
use crate::store::{PlaceId, PorchRow, Result, Store, StoreError};

/// The local chat: a transcript in the store, and news for those who are reading it.
#[derive(Clone)]
pub struct PorchChat {
    /// Where the transcript lies.
    pub store: Arc<dyn Store>,
    /// Whose transcript has something new.
    pub news: broadcast::Sender<PlaceId>,
}

/// What a person said or pressed on the porch, with the answer to it.
#[derive(Clone, Copy, Debug)]
pub struct Spoken<'a> {
    /// The place.
    pub place: PlaceId,
    /// Who spoke.
    pub carer: u32,
    /// What they are called.
    pub who: &'a str,
    /// The id of the line or press; a repeat adds nothing.
    pub id: &'a str,
    /// The line as typed; `None` for a press, which its answer stands for.
    pub line: Option<&'a str>,
    /// What they were told.
    pub answer: &'a Answer,
    /// When.
    pub at_ms: i64,
}

impl PorchChat {
    /// Puts what was said and its answer into the transcript, and returns the lines.
    ///
    /// The address of a calendar is told in the lines that are returned, and kept nowhere.
    ///
    /// A private answer hides the line that asked for it too: a question without its answer would only puzzle
    /// the others.
    ///
    /// # Errors
    /// What the store said; the same call may then be repeated.
    pub async fn record(&self, spoken: Spoken<'_>) -> Result<Vec<PorchRow>> {
        let only_for = spoken.answer.private.then_some(spoken.carer);
        let mut rows = Vec::new();
        if let Some(line) = spoken.line {
            let key = format!("said:{}", spoken.id);
            let body = said_body(spoken.who, line);
            rows.push(
                self.store
                    .porch_add(spoken.place, &key, spoken.at_ms, only_for, &body)
                    .await?,
            );
        }
        let key = format!("answer:{}", spoken.id);
        let body = answer_body(spoken.who, spoken.answer);
        let kept = without_addresses(&body);
        let mut row = self
            .store
            .porch_add(spoken.place, &key, spoken.at_ms, only_for, &kept)
            .await?;
        // Whoever asked reads it now; the transcript cannot be asked for it again.
        if row.body == kept {
            row.body = body;
        }
        rows.push(row);
        self.tell(spoken.place);
        Ok(rows)
    }

    /// Tells the readers; that there may be none is no failure.
    fn tell(&self, place: PlaceId) {
        let _ = self.news.send(place);
    }
}

#[async_trait]
impl Chat for PorchChat {
    async fn send(&self, message: Outgoing<'_>) -> std::result::Result<String, ChatError> {
        let only_for = match message.destination {
            Destination::Chat => None,
            Destination::Carer(carer) => Some(carer.0),
        };
        let body = post_body(message.blocks);
        let added = self
            .store
            .porch_add(message.place, message.nonce, message.at_ms, only_for, &body)
            .await;
        let row = added.map_err(passing)?;
        self.tell(message.place);
        Ok(row.id.to_string())
    }

    async fn edit(&self, id: &str, message: Outgoing<'_>) -> std::result::Result<(), ChatError> {
        // An id that is no number was never handed out here, so there is nothing to edit.
        let id: i64 = id.parse().map_err(|_| ChatError::Gone)?;
        let edited = self
            .store
            .porch_edit(message.place, id, &post_body(message.blocks))
            .await;
        edited.map_err(passing)?.ok_or(ChatError::Gone)?;
        self.tell(message.place);
        Ok(())
    }
}

/// The store lies beside the bot: whatever ails it is expected to pass, and the outbox tries again.
fn passing(error: StoreError) -> ChatError {
    ChatError::Passing {
        why: error.to_string(),
        wait_ms: None,
    }
}

/// A post as the transcript keeps it.
fn post_body(blocks: &[Block]) -> String {
    json!({"kind": "post", "who": "", "blocks": blocks}).to_string()
}

/// A typed line as the transcript keeps it.
fn said_body(who: &str, line: &str) -> String {
    json!({"kind": "said", "who": who, "blocks": [{"block": "text", "text": line}]}).to_string()
}

/// An answer as the transcript keeps it; `ok` lets the page say in words that something was refused.
fn answer_body(who: &str, answer: &Answer) -> String {
    json!({"kind": "answer", "who": who, "ok": answer.ok, "blocks": answer.blocks}).to_string()
}

/// A text in which every address of a calendar is cut short, for it opens the calendar to whoever reads it.
fn without_addresses(text: &str) -> String {
    let mut kept = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, after)) = rest.split_once(CALENDAR_PATH) {
        kept.push_str(before);
        kept.push_str(CALENDAR_PATH);
        let digits = after.len()
            - after
                .trim_start_matches(|letter: char| letter.is_ascii_hexdigit())
                .len();
        if digits > 0 {
            kept.push('…');
        }
        rest = &after[digits..];
    }
    kept.push_str(rest);
    kept
}

#[cfg(test)]
mod tests {
    use super::without_addresses;

    #[test]
    fn check_without_addresses() {
        for (text, kept) in [
            ("nothing here", "nothing here"),
            (
                "at http://a/calendar/00ff.ics, and",
                "at http://a/calendar/….ics, and",
            ),
            (
                "/calendar/ and /calendar/0a.ics /calendar/0b.ics",
                "/calendar/ and /calendar/….ics /calendar/….ics",
            ),
        ] {
            assert_eq!(without_addresses(text), kept);
        }
    }
}
