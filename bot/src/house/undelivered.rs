//! What did not get through to people: whoever asks what is due is told.

use wrackline_core::civil::plus_minutes;
use wrackline_core::moment::Subject;

use super::House;
use crate::chat::blocks::Block;
use crate::desk::Desk;
use crate::msg;
use crate::store::{PlaceId, PostRow, PostState, StoreError};
use crate::words::Message;

/// How far back posts that could not be delivered are told of, in minutes: a week.
const UNDELIVERED_BACK_MIN: i64 = 7 * 24 * 60;

impl House {
    /// What could not be delivered lately: whoever asks what is due is told, since no post will.
    pub(super) async fn undelivered(
        &self,
        place: PlaceId,
        desk: &Desk<'_>,
    ) -> Result<Option<Block>, StoreError> {
        let since = plus_minutes(desk.now(), -UNDELIVERED_BACK_MIN);
        let posts = self.shelf.store().posts(place, since.as_millisecond()).await?;
        let dead: Vec<String> = posts
            .iter()
            .filter(|post| is_undelivered(post))
            .map(|post| desk.tell.near(crate::shelf::instant(post.at_ms)))
            .collect();
        let text = || {
            desk.say(&msg!(
                "undelivered",
                count = dead.len(),
                times = desk.tell.list(&dead)
            ))
        };
        Ok((!dead.is_empty()).then(|| Block::Caution { text: text() }))
    }

    /// That the place's channel takes no posts, for as long as it does not.
    pub(super) async fn trouble(&self, place: PlaceId) -> Result<Option<Block>, StoreError> {
        let kept = self.shelf.store().kept(&trouble_name(place)).await?;
        let text = || self.words.say(&Message::new("due-trouble"));
        Ok(kept
            .filter(|kept| !kept.is_empty())
            .map(|_| Block::Caution { text: text() }))
    }
}

/// Under which name it is kept what is the matter with a place's channel.
#[must_use]
pub fn trouble_name(place: PlaceId) -> String {
    format!("trouble:{place}")
}

/// Whether a post was given up, or a danger was never seen for as long as it was worth telling. A call that expired
/// is told by the next one.
fn is_undelivered(post: &PostRow) -> bool {
    let never_seen = || post.state == PostState::Expired && post.sent == 0 && post.error.is_some();
    let is_danger = || serde_json::from_str::<Subject>(&post.body).is_ok_and(|subject| subject.is_danger());
    post.state == PostState::Dead || (never_seen() && is_danger())
}
