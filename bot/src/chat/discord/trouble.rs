//! A channel that the bot may not use, and how its keepers are told.

use super::names::post_name;
use super::posts::PlatformChat;
use super::sender::{Call, Refused};
use super::shape::Shape;
use super::text::plain;
use crate::msg;
use crate::store::PlaceId;

/// How a channel refuses.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// It is gone.
    Gone,
    /// The bot may not see it, or was removed from the server.
    Hidden,
    /// The bot may not write there.
    Mute,
}

/// The trouble behind a refusal; `None` when it is about something else.
#[must_use]
pub fn trouble_of(status: u16, code: i64) -> Option<Trouble> {
    match (status, code) {
        (_, 10_003) => Some(Trouble::Gone),
        (_, 50_001) => Some(Trouble::Hidden),
        (_, 50_013) => Some(Trouble::Mute),
        _ => None,
    }
}

impl Trouble {
    /// The id of what keepers are told.
    #[must_use]
    pub fn told(self) -> &'static str {
        match self {
            Self::Gone => "trouble-gone",
            Self::Hidden => "trouble-hidden",
            Self::Mute => "trouble-mute",
        }
    }
}

impl std::fmt::Display for Trouble {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            Self::Gone => "the channel is gone",
            Self::Hidden => "the bot may not see the channel",
            Self::Mute => "the bot may not write in the channel",
        })
    }
}

impl PlatformChat {
    /// Tells the keepers, in private, that their channel refuses posts: the first who can be reached. What was told
    /// once is not told again before the channel works; `/due` says it meanwhile.
    pub(super) async fn tell_keepers(&self, place: PlaceId, channel: i64, trouble: Trouble) {
        let store = self.house.shelf.store();
        let name = crate::house::trouble_name(place);
        let kept = format!("{} {channel}", trouble.told());
        match store.kept(&name).await {
            Ok(Some(before)) if before == kept => return,
            Ok(_) => {}
            Err(error) => tracing::warn!(%error, place, "it is unknown whether keepers were told"),
        }
        tracing::warn!(place, channel, %trouble, "a channel refuses posts");
        if self.tell_one(place, channel, trouble).await
            && let Err(error) = store.keep(&name, &kept).await
        {
            tracing::warn!(%error, place, "that the keepers were told was not kept");
        }
    }

    /// Whether the matter is settled: a keeper knows, or none can be reached.
    async fn tell_one(&self, place: PlaceId, channel: i64, trouble: Trouble) -> bool {
        let text = self.house.words.say(&msg!(trouble.told()));
        let text = format!("{} <#{channel}>", plain(&text));
        for (carer, account) in self.house.keeper_accounts(place).await {
            let key = format!("{}.{channel}.{carer}", trouble.told());
            match self
                .tell_in_private(account, &text, &post_name(place, &key).nonce)
                .await
            {
                Ok(()) => return true,
                // This one takes no messages: the next may.
                Err(Refused::No { code, .. }) => {
                    tracing::info!(place, carer, code, "a keeper takes no messages")
                }
                // The same is tried with the next post.
                Err(_) => return false,
            }
        }
        tracing::warn!(place, channel, "no keeper could be reached");
        true
    }

    async fn tell_in_private(&self, account: i64, text: &str, nonce: &str) -> Result<(), Refused> {
        let channel = self.open_private(account).await?;
        let body = Shape::of(text.to_owned()).create(nonce);
        self.sender
            .call(Call::post(format!("/channels/{channel}/messages"), body))
            .await
            .map(drop)
    }

    /// A post came through: whatever was the matter is over.
    pub(super) async fn all_well(&self, place: PlaceId) {
        let store = self.house.shelf.store();
        let name = crate::house::trouble_name(place);
        if let Ok(Some(before)) = store.kept(&name).await
            && !before.is_empty()
            && let Err(error) = store.keep(&name, "").await
        {
            tracing::warn!(%error, place, "that a channel works again was not kept");
        }
    }
}
