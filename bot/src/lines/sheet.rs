//! `/sheet`.

use super::ask::{Ask, SheetAsk};
use super::carer::coming;
use super::parse::Call;
use super::{Refusal, people};

/// Reads a `/sheet` line.
pub(super) fn sheet(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let ctx = call.ctx;
    let words = std::mem::take(&mut call.args.bare);
    let carer = match words.as_slice() {
        [] => None,
        words => Some(people::carer_or_ended(words, ctx)?),
    };
    let today = ctx.place.zone.date(ctx.now);
    let from = call.args.get("starts").map(|words| coming(words, today, today));
    let from = from.transpose()?;
    let to = call.args.get("ends");
    let to = to
        .map(|words| coming(words, today, from.unwrap_or(today)))
        .transpose()?;
    Ok(Ask::Sheet(SheetAsk { carer, from, to }))
}
