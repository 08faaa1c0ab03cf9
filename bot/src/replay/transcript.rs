//! What the chat shows, as lines of text with local time and offset.

use std::sync::{Mutex, PoisonError};

use async_trait::async_trait;
use wrackline_core::civil::Zone;
use wrackline_core::moment::Destination;

use super::Audience;
use crate::chat::blocks::Block;
use crate::chat::porch::Spoken;
use crate::chat::{Chat, ChatError, Outgoing, plain};
use crate::shelf::instant;

/// A chat that writes down what it shows.
pub struct Transcript {
    zone: Zone,
    shown: Mutex<Shown>,
}

#[derive(Default)]
struct Shown {
    text: String,
    /// Each message by its nonce, with what it says.
    messages: Vec<(String, String)>,
}

impl Transcript {
    /// An empty transcript of a zone.
    #[must_use]
    pub fn new(zone: Zone) -> Self {
        Self {
            zone,
            shown: Mutex::default(),
        }
    }

    /// What was shown so far.
    #[must_use]
    pub fn text(&self) -> String {
        self.lock().text.clone()
    }

    fn lock(&self) -> std::sync::MutexGuard<'_, Shown> {
        self.shown.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn write(&self, shown: &mut Shown, at_ms: i64, who: &str, text: &str) {
        let at = instant(at_ms);
        let stamp = format!(
            "{} {}",
            self.zone.civil(at).strftime("%Y-%m-%d %H:%M"),
            self.zone.offset(at)
        );
        for (index, line) in text.lines().enumerate() {
            let who = if index == 0 { who } else { "" };
            shown
                .text
                .push_str(format!("{stamp}  {who:<9} {line}").trim_end());
            shown.text.push('\n');
        }
    }
}

/// What one person alone is shown.
fn private(text: &str) -> String {
    format!("(in private) {text}")
}

/// The name under which the house's own messages stand.
const HOUSE: &str = "Wrackline";

#[async_trait]
impl Chat for Transcript {
    async fn send(&self, message: Outgoing<'_>) -> Result<String, ChatError> {
        let mut shown = self.lock();
        let known = shown
            .messages
            .iter()
            .position(|(nonce, _)| nonce == message.nonce);
        if let Some(known) = known {
            return Ok(known.to_string());
        }
        let text = plain::text(message.blocks);
        shown.messages.push((message.nonce.to_owned(), text.clone()));
        let text = match message.destination {
            Destination::Chat => text,
            Destination::Carer(_) => private(&text),
        };
        self.write(&mut shown, message.at_ms, HOUSE, &text);
        Ok((shown.messages.len() - 1).to_string())
    }

    async fn edit(&self, id: &str, message: Outgoing<'_>) -> Result<(), ChatError> {
        let mut shown = self.lock();
        let known = id.parse::<usize>().ok().and_then(|id| shown.messages.get_mut(id));
        let (_, said) = known.ok_or(ChatError::Gone)?;
        let text = plain::text(message.blocks);
        // Rendered anew it may say what it said before: nobody sees that.
        if std::mem::replace(said, text.clone()) == text {
            return Ok(());
        }
        // The edited message stands where it stood; the transcript only notes what its first line has become.
        let title = message.blocks.iter().find_map(|block| match block {
            Block::Title { text } => text.lines().next(),
            _ => None,
        });
        self.write(
            &mut shown,
            message.at_ms,
            HOUSE,
            &format!("(now) {}", title.unwrap_or("")),
        );
        Ok(())
    }
}

#[async_trait]
impl Audience for Transcript {
    async fn said(&self, spoken: Spoken<'_>) {
        let mut shown = self.lock();
        if let Some(line) = spoken.line {
            self.write(&mut shown, spoken.at_ms, spoken.who, line);
        }
        let text = plain::text(&spoken.answer.blocks);
        self.write(&mut shown, spoken.at_ms, HOUSE, &text);
    }
}
