//! The platform as a way out: posts and edits in a place's channel.

mod look;

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, PoisonError};

use async_trait::async_trait;
use serenity::all::UserId;
use wrackline_core::moment::Destination;

use super::ids::{MessageId, message_of};
use super::names::post_name;
use super::private::{of_place, private_refused};
use super::sender::{Call, Refused, Sender, Upload};
use super::shape::{Shape, post};
use super::text::plain;
use super::trouble::{Trouble, trouble_of};
use crate::chat::blocks::Block;
use crate::chat::{Chat, ChatError, Outgoing};
use crate::house::House;
use crate::store::{PlaceId, StoreError};
use crate::words::Message;

/// How long a channel that refused is left alone, in milliseconds: each refusal counts towards a ban of the address.
const REFUSED_WAIT_MS: i64 = 120_000;
/// How long an edit waits that the platform takes only a few of, in milliseconds.
const EDITS_WAIT_MS: i64 = 600_000;

/// Posts and edits on the platform.
pub struct PlatformChat {
    /// What carries them.
    pub sender: Sender,
    /// Where places and people are known.
    pub house: Arc<House>,
    /// Until when a channel that refused is left alone, in milliseconds since the epoch, and how it refused.
    closed: Mutex<BTreeMap<i64, (i64, Trouble)>>,
}

impl PlatformChat {
    /// A way out over a sender.
    #[must_use]
    pub fn new(sender: Sender, house: Arc<House>) -> Self {
        Self {
            sender,
            house,
            closed: Mutex::default(),
        }
    }

    /// Opens a channel again that had refused: somebody said that it is in order now.
    pub fn reopen(&self, channel: i64) {
        self.closed().remove(&channel);
    }

    /// Says a first word in a channel that is to become a place's, which shows whether the bot may.
    ///
    /// # Errors
    /// What is to be told when it may not.
    pub async fn greet(&self, channel: i64, id: &str) -> Result<(), Message> {
        let text = plain(&self.house.words.say(&Message::new("link-greeting")));
        let nonce = post_name(0, id).nonce;
        let call = Call::post(
            format!("/channels/{channel}/messages"),
            Shape::of(text).create(&nonce),
        );
        let Err(refused) = self.sender.call(call).await else {
            return Ok(());
        };
        tracing::info!(channel, %refused, "a channel cannot be linked");
        let Refused::No { status, code, .. } = refused else {
            return Err(Message::new("refuse-link-later"));
        };
        Err(Message::new(match trouble_of(status, code) {
            Some(Trouble::Gone) => "refuse-link-gone",
            Some(Trouble::Hidden) => "refuse-link-hidden",
            Some(Trouble::Mute) => "refuse-link-mute",
            None => "refuse-link-kind",
        }))
    }

    fn closed(&self) -> std::sync::MutexGuard<'_, BTreeMap<i64, (i64, Trouble)>> {
        self.closed.lock().unwrap_or_else(PoisonError::into_inner)
    }

    async fn channel(&self, place: PlaceId) -> Result<i64, ChatError> {
        let row = self.house.shelf.store().server_of(place).await.map_err(passing)?;
        row.map(|row| row.channel).ok_or(ChatError::Lasting {
            why: "the place has no channel".to_owned(),
        })
    }

    /// Refused lately, and so not asked again yet.
    fn is_open(&self, channel: i64, now_ms: i64) -> Result<(), ChatError> {
        match self.closed().get(&channel) {
            Some((until, trouble)) if *until > now_ms => Err(ChatError::Passing {
                why: trouble.to_string(),
                wait_ms: Some(until - now_ms),
            }),
            _ => Ok(()),
        }
    }

    /// The carers that a message is for, as accounts of the platform.
    async fn called(&self, place: PlaceId, blocks: &[Block]) -> Result<Vec<UserId>, ChatError> {
        let carers = blocks.iter().find_map(|block| match block {
            Block::For { carers } if !carers.is_empty() => Some(carers),
            _ => None,
        });
        let Some(carers) = carers else {
            return Ok(Vec::new());
        };
        let accounts = self.house.shelf.store().accounts(place).await.map_err(passing)?;
        let called = accounts.iter().filter(|(carer, _)| carers.contains(carer));
        Ok(called.filter_map(|(_, account)| user(*account)).collect())
    }

    /// The picture that a message shows; an edit keeps the one that is there.
    async fn photo(&self, place: PlaceId, blocks: &[Block]) -> Result<Option<Upload>, ChatError> {
        let seq = blocks.iter().find_map(|block| match block {
            Block::Photo { seq } => i64::try_from(*seq).ok(),
            _ => None,
        });
        let Some(seq) = seq else {
            return Ok(None);
        };
        let photo = self
            .house
            .shelf
            .store()
            .photo(place, seq)
            .await
            .map_err(passing)?;
        Ok(photo.map(|photo| Upload {
            name: match photo.media_type.as_str() {
                "image/png" => "photo.png",
                "image/webp" => "photo.webp",
                _ => "photo.jpg",
            },
            media_type: photo.media_type,
            bytes: photo.bytes,
        }))
    }

    async fn shape(&self, message: &Outgoing<'_>, reference: &str) -> Result<Shape, ChatError> {
        if let Destination::Carer(_) = message.destination {
            let blocks = of_place(message.place, message.blocks);
            return Ok(post(&blocks, reference, Vec::new(), &self.house.words));
        }
        let calls = self.called(message.place, message.blocks).await?;
        Ok(post(message.blocks, reference, calls, &self.house.words))
    }

    /// What a refusal of a channel comes to.
    async fn refused(&self, place: PlaceId, channel: i64, refused: Refused, now_ms: i64) -> ChatError {
        let Refused::No { code, status, .. } = &refused else {
            return for_now(&refused);
        };
        if let Some(trouble) = trouble_of(*status, *code) {
            self.closed().insert(channel, (now_ms + REFUSED_WAIT_MS, trouble));
            self.tell_keepers(place, channel, trouble).await;
            return ChatError::Passing {
                why: trouble.to_string(),
                wait_ms: Some(REFUSED_WAIT_MS),
            };
        }
        match (*status, *code) {
            (_, 10_008) => ChatError::Gone,
            (_, 30_046) => ChatError::Passing {
                why: refused.to_string(),
                wait_ms: Some(EDITS_WAIT_MS),
            },
            (401, _) => ChatError::Passing {
                why: refused.to_string(),
                wait_ms: Some(EDITS_WAIT_MS),
            },
            _ => ChatError::Lasting {
                why: refused.to_string(),
            },
        }
    }
}

#[async_trait]
impl Chat for PlatformChat {
    async fn send(&self, message: Outgoing<'_>) -> Result<String, ChatError> {
        let channel = match message.destination {
            Destination::Chat => self.channel(message.place).await?,
            Destination::Carer(carer) => self.private_channel(message.place, carer).await?,
        };
        self.is_open(channel, message.at_ms)?;
        let name = post_name(message.place, message.nonce);
        if message.resend
            && let Some(found) = self.look_up(channel, &name.reference, message.wanted_ms).await?
        {
            return Ok(MessageId {
                channel,
                message: found,
            }
            .to_string());
        }
        let mut body = self.shape(&message, &name.reference).await?.create(&name.nonce);
        let photo = self.photo(message.place, message.blocks).await?;
        if let Some(photo) = &photo {
            body["attachments"] = serde_json::json!([{ "id": 0, "filename": photo.name }]);
        }
        let call = Call::post(format!("/channels/{channel}/messages"), body).with(photo);
        match self.sender.call(call).await {
            Ok(made) => {
                let made = message_of(&made).ok_or_else(|| ChatError::Passing {
                    why: "the platform's answer names no message".to_owned(),
                    wait_ms: None,
                })?;
                if message.destination == Destination::Chat {
                    self.all_well(message.place).await;
                }
                Ok(MessageId {
                    channel,
                    message: made,
                }
                .to_string())
            }
            Err(refused) if message.destination != Destination::Chat => Err(private_refused(&refused)),
            Err(refused) => Err(self.refused(message.place, channel, refused, message.at_ms).await),
        }
    }

    async fn edit(&self, id: &str, message: Outgoing<'_>) -> Result<(), ChatError> {
        // What was posted elsewhere, before the place had a channel, is posted anew.
        let out: MessageId = id.parse().map_err(|()| ChatError::Gone)?;
        self.is_open(out.channel, message.at_ms)?;
        let name = post_name(message.place, message.nonce);
        let body = self.shape(&message, &name.reference).await?.edit();
        let call = Call::patch(
            format!("/channels/{}/messages/{}", out.channel, out.message),
            body,
        );
        let Err(refused) = self.sender.call(call).await else {
            return Ok(());
        };
        if message.destination != Destination::Chat {
            return Err(private_refused(&refused));
        }
        let moved = self.channel(message.place).await? != out.channel;
        match refused {
            // The place has moved to another channel, and the old one is closed to it.
            Refused::No { status, code, .. } if moved && trouble_of(status, code).is_some() => {
                Err(ChatError::Gone)
            }
            refused => Err(self
                .refused(message.place, out.channel, refused, message.at_ms)
                .await),
        }
    }
}

/// An account as the builders take it.
pub(super) fn user(account: i64) -> Option<UserId> {
    let number = u64::try_from(account).ok().filter(|number| *number > 0)?;
    Some(UserId::new(number))
}

pub(super) fn passing(error: StoreError) -> ChatError {
    ChatError::Passing {
        why: error.to_string(),
        wait_ms: None,
    }
}

pub(super) fn for_now(refused: &Refused) -> ChatError {
    let wait_ms = match refused {
        Refused::Later { wait: Some(wait), .. } => i64::try_from(wait.as_millis()).ok(),
        _ => None,
    };
    ChatError::Passing {
        why: refused.to_string(),
        wait_ms,
    }
}
