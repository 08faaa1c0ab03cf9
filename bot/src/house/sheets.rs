//! A handover sheet as a page: what the porch asks of the house for it.

use jiff::civil::Date;
use wrackline_core::place::CarerId;

use super::{House, whole_second};
use crate::chat::paper::Paper;
use crate::desk::tell::Tell;
use crate::desk::{Desk, sheet};
use crate::lines::ask::SheetAsk;
use crate::msg;
use crate::store::PlaceId;
use crate::words::Message;

/// What is asked of a sheet's page: its days as they stand in its address, where they do.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SheetPage {
    /// Whose it is.
    pub carer: u32,
    /// The first day.
    pub from: Option<String>,
    /// The last day.
    pub to: Option<String>,
}

impl House {
    /// A handover sheet as a page that is printed.
    ///
    /// # Errors
    /// One sentence: it is not the asker's to read, or there is no such sheet.
    pub async fn sheet(&self, place: PlaceId, asker: u32, page: &SheetPage) -> Result<Paper, String> {
        let unwell = || self.words.say(&msg!("porch-refused-store"));
        let held = self.shelf.open(place).await.map_err(|error| {
            tracing::error!(place, %error, "a sheet could not be read");
            unwell()
        })?;
        let now = whole_second(self.clock.now());
        let at = held.book().place_at(now);
        let tell = Tell {
            words: &self.words,
            book: held.book(),
            place: &at,
            now,
            // The page lies at the place: its days and times are the place's.
            zone: None,
        };
        let said = |message: &Message| self.words.say(message);
        let Some(role) = at.carers.get(&CarerId(asker)).map(|one| one.role) else {
            return Err(said(&msg!("refuse-stranger")));
        };
        let desk = Desk {
            tell,
            me: CarerId(asker),
            role,
        };
        let carer = Some(CarerId(page.carer)).filter(|carer| at.carers.contains_key(carer));
        let ask = SheetAsk {
            carer: Some(carer.ok_or_else(|| said(&msg!("sheet-gone")))?),
            from: day(page.from.as_deref()).map_err(|message| said(&message))?,
            to: day(page.to.as_deref()).map_err(|message| said(&message))?,
        };
        sheet::paper(&desk, &ask).map_err(|refused| said(&refused))
    }
}

/// A day as it stands in an address.
fn day(text: Option<&str>) -> Result<Option<Date>, Message> {
    let Some(text) = text.filter(|text| !text.is_empty()) else {
        return Ok(None);
    };
    let read = text.parse::<Date>().map(Some);
    read.map_err(|_| msg!("no-date-unreadable", text = text))
}
