//! Whose handover sheet is asked for.

use jiff::civil;
use wrackline_core::place::CarerId;

/// `/sheet [NAME] [from DATE] [to DATE]`
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct SheetAsk {
    /// Whose; `None`: the speaker's own, or of the one sitter whose span is not over.
    pub carer: Option<CarerId>,
    /// The first day; `None`: that of their span.
    pub from: Option<civil::Date>,
    /// The last day; `None`: that of their span.
    pub to: Option<civil::Date>,
}
