//! What cannot be mixed, dosed or diluted: one sentence each.

use wrackline_core::quantity::{GravityConvention, celsius};
use wrackline_core::water::conditioner::Problem as DoseProblem;
use wrackline_core::water::dilution::Problem as DilutionProblem;
use wrackline_core::water::instruments::InstrumentError;
use wrackline_core::water::mixing::Problem as MixProblem;
use wrackline_core::water::seawater::{SeawaterError, SeawaterInput};

use super::TEMPERATURES;
use super::said::two;
use crate::desk::{Desk, Refused};
use crate::msg;

/// A mixture that cannot be.
pub(super) fn mixture(problem: &MixProblem) -> Refused {
    match *problem {
        MixProblem::Target { target, limit } => {
            msg!("mix-no-target", target = two(target), limit = two(limit))
        }
        MixProblem::TargetBelow { target, holds } => {
            msg!("mix-no-below", target = two(target), holds = two(holds))
        }
        MixProblem::NotBetween { target, pool, new } => {
            msg!(
                "mix-no-between",
                target = two(target),
                pool = two(pool),
                new = two(new)
            )
        }
        MixProblem::TooManyBuckets { needed } => msg!("mix-no-buckets", needed = two(needed)),
        MixProblem::Unexplained {
            expected, measured, ..
        } => msg!(
            "mix-no-factor",
            measured = two(measured),
            expected = two(expected)
        ),
        MixProblem::Factor { factor } => msg!("mix-no-factor-range", factor = two(factor)),
        MixProblem::Bucket { litres } => msg!("mix-no-bucket", litres = two(litres)),
        _ => msg!("mix-no-sense"),
    }
}

/// A temperature that no water to mix has, in the place's units.
pub(super) fn temperature(desk: &Desk<'_>, at: f64) -> Refused {
    let told = |value: f64| celsius(value, desk.place().units);
    msg!(
        "mix-no-at",
        at = told(at),
        low = told(TEMPERATURES.low),
        high = told(TEMPERATURES.high)
    )
}

/// Water whose density or conductivity cannot be computed.
pub(super) fn seawater(error: &SeawaterError) -> Refused {
    match error {
        SeawaterError::Outside {
            input: SeawaterInput::Temperature,
            value,
            range,
        } => msg!(
            "mix-no-temperature",
            value = two(*value),
            low = two(range.low),
            high = two(range.high)
        ),
        _ => msg!("mix-no-sense"),
    }
}

/// A reading that tells no salinity.
pub(super) fn instrument(error: &InstrumentError) -> Refused {
    let four = |value: f64| format!("{value:.4}");
    match error {
        InstrumentError::Gravity {
            shown,
            convention,
            low,
            high,
        } => msg!(
            "mix-no-gravity",
            shown = four(shown.0),
            convention = GravityConvention::as_str(*convention),
            low = four(low.0),
            high = four(high.0)
        ),
        InstrumentError::Seawater(error) => seawater(error),
        _ => msg!("mix-no-sense"),
    }
}

/// A label that cannot be right.
pub(super) fn label(problem: &DoseProblem) -> Refused {
    match *problem {
        DoseProblem::Hold { value } => msg!("mix-no-hold", value = two(value)),
        DoseProblem::LabelDose { value } => msg!("mix-no-dose", value = two(value)),
        _ => msg!("mix-no-sense"),
    }
}

/// Part changes that cannot do it.
pub(super) fn dilution(problem: &DilutionProblem) -> Refused {
    match *problem {
        DilutionProblem::SourceAbove { source_mg_l, target } if source_mg_l > target => {
            msg!("dilute-no-above", source = two(source_mg_l), target = two(target))
        }
        DilutionProblem::SourceAbove { target, .. } => msg!("dilute-no-same", target = two(target)),
        DilutionProblem::SourceBelow { source_mg_l, target } => {
            msg!("dilute-no-below", source = two(source_mg_l), target = two(target))
        }
        DilutionProblem::TooMany { needed } => msg!(
            "dilute-no-many",
            needed = format!("{needed:.0}"),
            most = super::dilute::CHANGES_MAX
        ),
        DilutionProblem::Fraction { value } => msg!("dilute-no-part", part = super::said::percent(value)),
        DilutionProblem::Interval { days } => msg!("dilute-no-interval", days = two(days)),
        DilutionProblem::Concentration { value } | DilutionProblem::Made { value } => {
            msg!("dilute-no-concentration", value = two(value))
        }
        _ => msg!("mix-no-sense"),
    }
}
