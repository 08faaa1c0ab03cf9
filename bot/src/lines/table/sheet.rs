//! The line that hands a span of days over to whoever sits.

use super::carer::{FROM, TO};
use super::{Kind, Lead, LineSpec, Need, Who, arg};

/// Whose sheet it is, and who else may read it, the desk knows.
pub(super) const SHEET: LineSpec = LineSpec {
    name: "sheet",
    aliases: &["handover"],
    who: Who::All,
    alone: false,
    args: &[arg("carer", Kind::Carer, Lead::Bare, Need::May), FROM, TO],
    subs: &[],
};
