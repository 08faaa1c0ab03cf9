//! Whoever shares the work no longer: what they did within their span is logged for them, and nothing later.

use super::{Desk, Refused};
use crate::lines::ask::Ask;
use crate::msg;
use wrackline_core::place::Role;

/// Holds that what is logged for a sitter whose span is over lies within that span, and that no other sitter logs it.
///
/// # Errors
/// The refusal, as one sentence.
pub(super) fn was_there(desk: &Desk<'_>, ask: &Ask) -> Result<(), Refused> {
    let (by, at) = match ask {
        Ask::Did(did) => (did.by, did.at),
        Ask::Read { by, at, .. } | Ask::PutIn { by, at, .. } => (*by, *at),
        _ => return Ok(()),
    };
    let gone = by.and_then(|by| desk.place().ended.get(&by));
    let Some((gone, span)) = gone.and_then(|gone| Some((gone, gone.span?))) else {
        return Ok(());
    };
    let who = desk.tell.carer(gone.id);
    if desk.role == Role::Sitter {
        return Err(msg!("refuse-by-sitter", who = who));
    }
    let zone = &desk.place().zone;
    if span.holds(zone.date(at.unwrap_or(desk.now()))) {
        return Ok(());
    }
    Err(msg!(
        "refuse-by-ended",
        who = who,
        from = desk.tell.date(span.from),
        to = desk.tell.date(span.to),
        example = format!("at {} 18:00", span.to)
    ))
}
