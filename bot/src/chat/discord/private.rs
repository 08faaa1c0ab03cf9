//! One carer's private channel: where it is, and how what is pressed there finds its place.
//!
//! A private channel belongs to no server, so that what is pressed there names the place before its code. Whether the
//! account that pressed shares that place's work is asked all the same.

use wrackline_core::place::CarerId;

use super::ids::message_of;
use super::posts::{PlatformChat, for_now, passing};
use super::sender::{Call, Refused};
use crate::chat::ChatError;
use crate::chat::blocks::{Block, Press};
use crate::store::PlaceId;

/// What stands before a place's number in a code.
const MARK: char = '@';

impl PlatformChat {
    /// The private channel of a carer of a place.
    pub(super) async fn private_channel(&self, place: PlaceId, carer: CarerId) -> Result<i64, ChatError> {
        let accounts = self.house.shelf.store().accounts(place).await.map_err(passing)?;
        let Some((_, account)) = accounts.into_iter().find(|(one, _)| *one == carer.0) else {
            return Err(ChatError::Unreachable {
                why: "the carer has no account on the platform".to_owned(),
            });
        };
        let opened = self.open_private(account).await;
        opened.map_err(|refused| private_refused(&refused))
    }

    /// Opens the private channel of an account; it is the same one each time.
    pub(super) async fn open_private(&self, account: i64) -> Result<i64, Refused> {
        let body = serde_json::json!({ "recipient_id": account.to_string() });
        let opened = self.sender.call(Call::post("/users/@me/channels", body)).await?;
        message_of(&opened).ok_or(Refused::Nonsense {
            status: 200,
            why: "no channel was named".to_owned(),
        })
    }
}

/// What a refusal in a private channel comes to: it says nothing of the place's own.
pub(super) fn private_refused(refused: &Refused) -> ChatError {
    match refused {
        Refused::No { code: 10_008, .. } => ChatError::Gone,
        Refused::No { status, .. } if *status != 401 => ChatError::Unreachable {
            why: refused.to_string(),
        },
        refused => for_now(refused),
    }
}

/// Blocks for a private channel: what can be pressed in them names the place.
#[must_use]
pub(super) fn of_place(place: PlaceId, blocks: &[Block]) -> Vec<Block> {
    let mut blocks = blocks.to_vec();
    let name = |press: &mut Press| press.code = format!("{MARK}{place}.{}", press.code);
    for block in &mut blocks {
        match block {
            Block::Items { items } => items.iter_mut().flat_map(|item| &mut item.answers).for_each(name),
            Block::Answers { answers } => answers.iter_mut().for_each(name),
            _ => {}
        }
    }
    blocks
}

/// The place that a code names, if it does, and the code itself.
#[must_use]
pub(super) fn place_in(code: &str) -> (Option<PlaceId>, &str) {
    let named = code
        .strip_prefix(MARK)
        .and_then(|rest| rest.split_once('.'))
        .and_then(|(place, code)| Some((place.parse().ok()?, code)));
    match named {
        Some((place, code)) => (Some(place), code),
        None => (None, code),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_code_tells_its_place() {
        let press = Press {
            label: "It's over".to_owned(),
            code: "close.12".to_owned(),
            asks: None,
            typed: None,
        };
        let answers = vec![press];
        let blocks = of_place(7, &[Block::Answers { answers }]);
        let [Block::Answers { answers }] = blocks.as_slice() else {
            panic!("{blocks:?}");
        };
        assert_eq!(place_in(&answers[0].code), (Some(7), "close.12"));
        for code in ["close.12", "@x.close.12", "@7", ""] {
            assert_eq!(place_in(code), (None, code));
        }
    }
}
