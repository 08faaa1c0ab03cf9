//! `/sheet`: all that whoever sits for a span of days has to know, as a message and as a page that is printed.
//!
//! `turns` is what is theirs to do and when, `works` how each kind of it is done, `around` what holds beside the turns;
//! `told` tells the message, `paper` the page, `over` both of a span that is over. It is told in the units of the person
//! whose it is, whoever asks.

mod around;
mod over;
mod paper;
mod told;
mod turns;
mod works;

use wrackline_core::civil::plus_days;
use wrackline_core::people::Span;
use wrackline_core::place::{CarerId, Place, Role};

use self::turns::Turns;
use super::tell::Tell;
use super::{Desk, Refused};
use crate::chat::blocks::Answer;
use crate::chat::paper::Paper;
use crate::lines::ask::SheetAsk;
use crate::msg;

pub(super) use self::told::rows;

/// The longest span that a sheet is for, in days.
const DAYS_MAX: i64 = 60;

/// How far ahead a sheet looks, in days: what comes later follows from what is done before.
const AHEAD_MAX_DAYS: i64 = 180;

/// A handover sheet, before it is told.
pub(super) struct Sheet {
    /// Whose it is.
    who: CarerId,
    /// Its days.
    span: Span,
    /// What is theirs to do.
    turns: Turns,
}

impl Sheet {
    /// The sheet of a span.
    pub(super) fn of_span(desk: &Desk<'_>, who: CarerId, span: Span) -> Self {
        let turns = Turns::of(desk, who, span);
        Self { who, span, turns }
    }

    /// How many days are left of it.
    fn days_left(&self, desk: &Desk<'_>) -> i64 {
        let from = self.span.from.max(desk.place().zone.date(desk.now()));
        let to = self.span.to;
        count_days(Span { from, to })
    }
}

/// `/sheet`, as a message.
///
/// # Errors
/// One sentence: it is not the speaker's to read, or there is no such span.
pub fn sheet(desk: &Desk<'_>, ask: &SheetAsk) -> Result<Answer, Refused> {
    let who = whose(desk, ask)?;
    let span = days(desk, who, ask)?;
    if is_over(desk, span) {
        return Ok(over::answer(desk, who, span));
    }
    let place = read_by(desk, who);
    let desk = with_place(desk, &place);
    Ok(told::answer(&desk, &Sheet::of_span(&desk, who, span)))
}

/// `/sheet`, as a page that is printed.
///
/// # Errors
/// One sentence: it is not the speaker's to read, or there is no such span.
pub fn paper(desk: &Desk<'_>, ask: &SheetAsk) -> Result<Paper, Refused> {
    let who = whose(desk, ask)?;
    let span = days(desk, who, ask)?;
    if is_over(desk, span) {
        return Ok(over::paper(desk, who, span));
    }
    let place = read_by(desk, who);
    let desk = with_place(desk, &place);
    Ok(paper::paper(&desk, &Sheet::of_span(&desk, who, span)))
}

/// The place as whoever's sheet it is reads it: in their own units, where they set any, else in the place's.
fn read_by(desk: &Desk<'_>, who: CarerId) -> Place {
    let mut place = desk.book().place_at(desk.now());
    let own = place.carers.get(&who).and_then(|one| one.units);
    place.units = own.unwrap_or(place.units);
    place
}

fn with_place<'a>(desk: &Desk<'a>, place: &'a Place) -> Desk<'a> {
    Desk {
        tell: Tell { place, ..desk.tell },
        ..*desk
    }
}

fn is_over(desk: &Desk<'_>, span: Span) -> bool {
    span.to < desk.place().zone.date(desk.now())
}

/// Whose sheet is meant, if the speaker may read it.
fn whose(desk: &Desk<'_>, ask: &SheetAsk) -> Result<CarerId, Refused> {
    if desk.role != Role::Keeper {
        let own = desk.role == Role::Sitter && ask.carer.is_none_or(|carer| carer == desk.me);
        return own
            .then_some(desk.me)
            .ok_or_else(|| msg!("sheet-not-yours", keepers = desk.keepers()));
    }
    if let Some(carer) = ask.carer {
        return Ok(carer);
    }
    let today = desk.place().zone.date(desk.now());
    let sits = desk
        .place()
        .carers
        .values()
        .filter(|one| one.role == Role::Sitter);
    let coming = sits.filter(|one| one.span.is_some_and(|span| span.to >= today));
    let all: Vec<CarerId> = coming.map(|one| one.id).collect();
    match all.as_slice() {
        [one] => Ok(*one),
        [] => Err(msg!("sheet-nobody")),
        several => {
            let names: Vec<String> = several.iter().map(|id| desk.tell.carer(*id)).collect();
            Err(msg!("sheet-which", names = desk.tell.list(&names)))
        }
    }
}

/// The days that are meant: those that were said, else those of their span.
fn days(desk: &Desk<'_>, who: CarerId, ask: &SheetAsk) -> Result<Span, Refused> {
    let (place, gone) = (desk.place(), desk.place().ended.get(&who));
    let own = place.carers.get(&who).or(gone).and_then(|one| one.span);
    let from = ask.from.or(own.map(|span| span.from));
    let to = ask.to.or(own.map(|span| span.to));
    let Some((from, to)) = from.zip(to) else {
        return Err(msg!("sheet-no-span", who = desk.tell.carer(who)));
    };
    let today = desk.place().zone.date(desk.now());
    let (first, last) = (desk.tell.date(from), desk.tell.date(to));
    if from > to {
        return Err(msg!("sheet-backwards", from = first, to = last));
    }
    let span = Span { from, to };
    if count_days(span) > DAYS_MAX {
        return Err(msg!("sheet-too-long", most = DAYS_MAX));
    }
    // Of a span that is over the keepers are told what came of it.
    let is_of_own = desk.role == Role::Keeper && own.is_some_and(|own| own.from <= from && to <= own.to);
    if to < today && !is_of_own {
        return Err(msg!("sheet-over", to = last));
    }
    if let Some(own) = own.filter(|_| to >= today && gone.is_some()) {
        let (who, ended) = (desk.tell.carer(who), desk.tell.date(own.to));
        return Err(msg!("sheet-ended", who = who, ended = ended));
    }
    if to > plus_days(today, AHEAD_MAX_DAYS) {
        return Err(msg!("sheet-too-far", to = last, most = AHEAD_MAX_DAYS));
    }
    Ok(span)
}

/// The days of a span, both ends included.
fn count_days(span: Span) -> i64 {
    span.to.duration_since(span.from).as_hours() / 24 + 1
}
