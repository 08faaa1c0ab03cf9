//! Addresses of calendars: given, replaced, ended, and followed to what they lead to.

use sha2::{Digest, Sha256};
use wrackline_core::calendar::feed;
use wrackline_core::place::{CarerId, Role};

use super::{House, whole_second};
use crate::chat::blocks::Answer;
use crate::config;
use crate::desk::Desk;
use crate::desk::calendars::{Deed, Done, told};
use crate::desk::feed::{Given, text};
use crate::desk::tell::Tell;
use crate::lines::ask::Alarm;
use crate::store::{PlaceId, StoreError};

/// What an address has before its token.
pub const CALENDAR_PATH: &str = "/calendar/";

/// How many random bytes a token is made of: 256 bits.
const TOKEN_BYTES: usize = 32;

/// The same of what ids are hashed with.
const SEED_BYTES: usize = 16;

impl House {
    /// Does what was asked of the speaker's own calendar, and tells it.
    pub(super) async fn calendar_deed(
        &self,
        place: PlaceId,
        desk: &Desk<'_>,
        deed: Deed,
    ) -> Result<Answer, StoreError> {
        let (store, me) = (self.shelf.store(), desk.me.0);
        let done = match deed {
            Deed::Give { alarm } => {
                let token = random::<TOKEN_BYTES>()?;
                let seed = random::<SEED_BYTES>()?;
                let before = store.calendar_of(place, me).await?;
                let alarm_min = match alarm {
                    Alarm::AsBefore => before.flatten(),
                    Alarm::Off => None,
                    Alarm::Before(minutes) => Some(i64::from(minutes)),
                };
                store
                    .calendar_put(place, me, &hash(&token), alarm_min, &seed)
                    .await?;
                Done::Given {
                    address: self.calendar_address(&token),
                    alarm_min,
                    replaces: before.is_some(),
                }
            }
            Deed::End => Done::Ended(store.calendar_end(place, me).await?),
            Deed::Show => Done::Stands(store.calendar_of(place, me).await?),
        };
        Ok(told(desk, done))
    }

    fn calendar_address(&self, token: &str) -> String {
        let usual = || format!("http://{}", config::usual_bind());
        let porch = self.porch.get().cloned().unwrap_or_else(usual);
        format!("{porch}{CALENDAR_PATH}{token}.ics")
    }

    /// The calendar that a token leads to; `None` when it leads nowhere: nobody was given it, it was replaced, or
    /// whose turns it told shares the work no longer.
    ///
    /// # Errors
    /// Those of the store.
    pub async fn calendar(&self, token: &str) -> Result<Option<String>, StoreError> {
        let Some(row) = self.shelf.store().calendar(&hash(token)).await? else {
            return Ok(None);
        };
        let held = self.shelf.open(row.place).await?;
        let now = whole_second(self.clock.now());
        let place = held.book().place_at(now);
        let carer = CarerId(row.carer);
        if place
            .carers
            .get(&carer)
            .is_none_or(|one| one.role == Role::Helper)
        {
            return Ok(None);
        }
        let tell = Tell::to_all(&self.words, held.book(), &place, now);
        let given = Given {
            seed: &row.seed,
            alarm_min: row.alarm_min.and_then(|minutes| u32::try_from(minutes).ok()),
            address: &self.calendar_address(token),
        };
        let feed = feed(held.book(), &place, carer, now);
        Ok(Some(text(&tell, &feed, &given)))
    }
}

/// Random bytes as hexadecimal digits.
fn random<const BYTES: usize>() -> Result<String, StoreError> {
    let mut bytes = [0_u8; BYTES];
    getrandom::fill(&mut bytes).map_err(|error| StoreError::Other {
        doing: "making a calendar's address",
        source: error.to_string().into(),
    })?;
    Ok(bytes.iter().map(|byte| format!("{byte:02x}")).collect())
}

/// A token as the store knows it.
fn hash(token: &str) -> String {
    let digest = Sha256::digest(token.as_bytes());
    digest.iter().map(|byte| format!("{byte:02x}")).collect()
}
