//! `/nod`: at a helper's work that waits for an adult's nod.

use super::Refusal;
use super::ask::{Ask, NodAsk};
use super::did::duty_and_spot;
use super::parse::Call;

/// Reads a `/nod` line.
pub(super) fn nod(mut call: Call<'_>) -> Result<Ask, Refusal> {
    let no = call.args.has("no");
    if call.args.bare.is_empty() && !no {
        return Ok(Ask::Nod(NodAsk::List));
    }
    let words = call.bare("duty")?;
    let (duty, spot) = duty_and_spot(&words, &call)?;
    Ok(Ask::Nod(NodAsk::At { duty, spot, no }))
}
