//! A handover sheet as a page: what the porch asks of the house for it.

use jiff::civil::Date;
use wrackline_core::place::CarerId;

use super::{House, whole_second};
use crate::chat::paper::Paper;
use crate::desk::tell::Tell;
use crate::desk::{Desk, sheet};
use crate::lines::ask::SheetAsk;
use crate::msg;
use crate::store::{self, PlaceId};
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

/// A sheet as a page; one sentence instead where it is not the asker's to read, or there is none.
pub type SheetMade = Result<Paper, String>;

impl House {
    /// A handover sheet as a page that is printed.
    ///
    /// # Errors
    /// Those of the store.
    pub async fn sheet(&self, place: PlaceId, asker: u32, page: &SheetPage) -> store::Result<SheetMade> {
        let held = self.shelf.open(place).await?;
        let now = whole_second(self.clock.now());
        let at = held.book().place_at(now);
        // The page lies at the place: its days and times are the place's.
        let tell = Tell::to_all(&self.words, held.book(), &at, now);
        Ok(made(tell, CarerId(asker), page).map_err(|refused| self.words.say(&refused)))
    }
}

fn made(tell: Tell<'_>, me: CarerId, page: &SheetPage) -> Result<Paper, Message> {
    let (carers, ended) = (&tell.place.carers, &tell.place.ended);
    let role = carers.get(&me).map(|one| one.role);
    let role = role.ok_or_else(|| msg!("refuse-stranger"))?;
    let carer =
        Some(CarerId(page.carer)).filter(|carer| carers.contains_key(carer) || ended.contains_key(carer));
    let ask = SheetAsk {
        carer: Some(carer.ok_or_else(|| msg!("sheet-gone"))?),
        from: day(page.from.as_deref())?,
        to: day(page.to.as_deref())?,
    };
    sheet::paper(&Desk { tell, me, role }, &ask)
}

/// A day as it stands in an address.
fn day(text: Option<&str>) -> Result<Option<Date>, Message> {
    let Some(text) = text.filter(|text| !text.is_empty()) else {
        return Ok(None);
    };
    let read = text.parse::<Date>().map(Some);
    read.map_err(|_| msg!("no-date-unreadable", text = text))
}
