//! The words for what a judgement of a filter holds.

use wrackline_core::journal::TellsFrom;
use wrackline_core::quantity::plain;
use wrackline_core::water::cycle::{Lapse, Missing, Note, Reason};

use crate::desk::tell::Tell;
use crate::msg;

/// What a stage was judged by. Where crabs count as having fed it, no moment of it is told.
pub(super) fn reason(tell: &Tell<'_>, reason: &Reason, from: TellsFrom) -> String {
    let at = |at| tell.moment(at);
    tell.say(&match *reason {
        Reason::NothingFed => msg!("cycle-why-nothing-fed"),
        Reason::ZerosProveNothing => msg!("cycle-why-zeros"),
        Reason::FedOnly { .. } if from.crabs => msg!("cycle-why-fed-only-crabs"),
        Reason::FedOnly { at: fed } => msg!("cycle-why-fed-only", at = at(fed)),
        Reason::NothingFound { .. } if from.crabs => msg!("cycle-why-nothing-found-crabs"),
        Reason::NothingFound { at: fed } => msg!("cycle-why-nothing-found", at = at(fed)),
        Reason::Ammonia { at: seen } => msg!("cycle-why-ammonia", at = at(seen)),
        Reason::AmmoniaGone => msg!("cycle-why-ammonia-gone"),
        Reason::Nitrite { at: seen } => msg!("cycle-why-nitrite", at = at(seen)),
        Reason::NitriteFalls => msg!("cycle-why-nitrite-falls"),
        Reason::NitriteGone => msg!("cycle-why-nitrite-gone"),
        Reason::NitrateAbove { at: seen } => msg!("cycle-why-nitrate", at = at(seen)),
        Reason::Proof { first, second } => {
            msg!("cycle-why-proof", first = at(first), second = at(second))
        }
        Reason::Word { at: said } => msg!("cycle-why-word", at = at(said)),
        Reason::Lapsed(Lapse::Stood { from, hours }) => {
            msg!("cycle-why-stood", hours = plain(hours.0), from = at(from))
        }
        Reason::Lapsed(Lapse::Quiet { since, days }) => {
            msg!("cycle-why-quiet", since = at(since), days = plain(days.0.floor()))
        }
        Reason::Lapsed(Lapse::Back { at: seen }) => msg!("cycle-why-back", at = at(seen)),
    })
}

/// What a proof lacks.
pub(super) fn missing(tell: &Tell<'_>, missing: &Missing) -> String {
    match *missing {
        Missing::Feed => tell.word("cycle-missing-feed"),
        Missing::Ammonia => tell.word("cycle-missing-ammonia"),
        Missing::Nitrite => tell.word("cycle-missing-nitrite"),
        Missing::Nitrate => tell.word("cycle-missing-nitrate"),
        Missing::Source => tell.word("cycle-missing-source"),
        Missing::NitrateAbove => tell.word("cycle-missing-nitrate-above"),
        Missing::FirstZero => tell.word("cycle-missing-first"),
        Missing::SecondZero { wait } if wait.0 > 0.0 => {
            tell.say(&msg!("cycle-missing-second-wait", hours = plain(wait.0.ceil())))
        }
        Missing::SecondZero { .. } => tell.word("cycle-missing-second"),
        Missing::Running => tell.word("cycle-missing-running"),
    }
}

/// What is odd; the journal's tests are always in order.
pub(super) fn note(tell: &Tell<'_>, note: &Note) -> Option<String> {
    let at = |at| tell.moment(at);
    Some(tell.say(&match *note {
        Note::Sorted => return None,
        Note::SetAside { at: taken } => msg!("cycle-note-aside", at = at(taken)),
        Note::Differ { at: taken } => msg!("cycle-note-differ", at = at(taken)),
        Note::UnknownAmmonia { at: taken } => msg!("cycle-note-unknown", at = at(taken)),
        Note::NitrateDidNotCome => msg!("cycle-note-no-nitrate"),
        Note::UnknownDose => msg!("cycle-note-dose"),
        Note::SourceFromTest { at: taken } => msg!("cycle-note-source", at = at(taken)),
    }))
}
