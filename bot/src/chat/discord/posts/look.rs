//! A post looked for in its channel: whether it is out already, though no reply told so.

use serde_json::Value;

use super::super::ids::{message_of, snowflake};
use super::super::sender::{Call, Refused};
use super::super::shape::message_names;
use super::{PlatformChat, for_now};
use crate::chat::ChatError;

/// How far before the moment it was wanted a post is looked for, in milliseconds: clocks differ.
const LOOK_BACK_MS: i64 = 300_000;
/// By how much they differ mostly.
const CLOCKS_MS: i64 = 5_000;
/// Messages in one look, and how often it goes on. More would keep the channel's other posts waiting: looks are limited
/// like everything else.
const LOOK_MESSAGES: usize = 100;
const LOOKS_MAX: usize = 10;

impl PlatformChat {
    /// The message that carries a reference already, if it is there and may be read. The newest messages come first, since
    /// most attempts are repeated soon; in a channel in which much was said since, those from the moment on at which the
    /// post was wanted take turns with them.
    pub(super) async fn look_up(
        &self,
        channel: i64,
        reference: &str,
        wanted_ms: i64,
    ) -> Result<Option<i64>, ChatError> {
        let oldest = snowflake(wanted_ms - LOOK_BACK_MS);
        let from = snowflake(wanted_ms - CLOCKS_MS);
        // All from one message on was looked at, and all from another one down to that moment.
        let (mut newest, mut known) = (i64::MAX, from);
        for look in 0..LOOKS_MAX {
            let goes_up = look % 2 == 1 && known < newest;
            let end = match (goes_up, newest) {
                (true, _) => format!("&after={known}"),
                (false, i64::MAX) => String::new(),
                (false, _) => format!("&before={newest}"),
            };
            let path = format!("/channels/{channel}/messages?limit={LOOK_MESSAGES}{end}");
            let messages = match self.sender.call(Call::get(path)).await {
                Ok(messages) => messages,
                // Who may write but not read has the nonce alone.
                Err(Refused::No { .. }) => return Ok(None),
                Err(refused) => return Err(for_now(&refused)),
            };
            let messages: Vec<Value> = messages.as_array().cloned().unwrap_or_default();
            if let Some(found) = messages.iter().find(|message| message_names(message, reference)) {
                return Ok(message_of(found));
            }
            let ids = || messages.iter().filter_map(message_of);
            let is_full = messages.len() == LOOK_MESSAGES;
            if goes_up {
                known = ids().max().filter(|_| is_full).unwrap_or(i64::MAX);
            } else {
                newest = ids().min().filter(|_| is_full).unwrap_or(oldest);
            }
            if known >= newest {
                newest = newest.min(from);
            }
            if newest <= oldest {
                return Ok(None);
            }
        }
        Ok(None)
    }
}
