//! A private post that reaches none of those whom it is for: the chat of all is told that they are wanted, and nothing
//! of what about.

use jiff::Timestamp;
use wrackline_core::moment::Destination;
use wrackline_core::place::CarerId;

use super::{Carrier, destination, failed};
use crate::chat::Outgoing;
use crate::chat::blocks::Block;
use crate::desk::tell::Tell;
use crate::house::whole_second;
use crate::msg;
use crate::store::{PostRow, PostState, Result, Settled};

impl Carrier {
    /// What becomes of a post whose carer cannot be reached in private. The same post to others may get through; the
    /// last of them says that none did.
    pub(super) async fn unreachable(
        &self,
        post: &PostRow,
        message: &Outgoing<'_>,
        now: Timestamp,
    ) -> Result<Settled> {
        let posts = self.house.shelf.store().posts(post.place, post.at_ms).await?;
        let same = |one: &&PostRow| one.at_ms == post.at_ms && one.body == post.body;
        let same: Vec<&PostRow> = posts.iter().filter(same).collect();
        // One that waits for its carer to be awake may have an earlier number.
        let is_settled =
            |one: &&PostRow| one.sent > 0 || (one.id != post.id && one.state == PostState::Pending);
        if same.iter().any(is_settled) {
            return Ok(Settled::Expired);
        }
        let carers = same.iter().filter_map(|one| match destination(one) {
            Destination::Carer(carer) => Some(carer),
            Destination::Chat => None,
        });
        let blocks = self.wanted(post, carers.collect(), now).await?;
        let nonce = format!("{}.wanted", message.nonce);
        let wanted = Outgoing {
            destination: Destination::Chat,
            nonce: &nonce,
            blocks: &blocks,
            ..message.clone()
        };
        Ok(match self.chat.send(wanted).await {
            Ok(_) => Settled::Expired,
            Err(error) => failed(post, &error, now),
        })
    }

    async fn wanted(&self, post: &PostRow, carers: Vec<CarerId>, now: Timestamp) -> Result<Vec<Block>> {
        let held = self.house.shelf.open(post.place).await?;
        let now = whole_second(now);
        let place = held.book().place_at(now);
        let tell = Tell::to_all(&self.house.words, held.book(), &place, now);
        let names: Vec<String> = carers.iter().map(|carer| tell.carer(*carer)).collect();
        let text = tell.say(&msg!("post-wanted", who = tell.list(&names), count = names.len()));
        let carers = carers.into_iter().map(|carer| carer.0).collect();
        Ok(vec![Block::Title { text }, Block::For { carers }])
    }
}
