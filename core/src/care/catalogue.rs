//! The duty catalogue as data. Defaults are common practice with no published source unless a row says otherwise;
//! every number can be set by a place.

use serde::{Deserialize, Serialize};

use crate::place::OwnDutyId;

/// A piece of care that recurs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Duty {
    /// All of a pool's water is changed.
    Change,
    /// A part of a pool's water is changed. It shares one anchor with [`Duty::Change`].
    PartChange,
    /// Conditioner is dosed.
    Condition,
    /// Evaporated water is replaced with fresh.
    TopUp,
    /// The water is tested.
    Test,
    /// Filter media are rinsed.
    Rinse,
    /// Air stone and pump are checked.
    AirCheck,
    /// The enclosure is looked at in the morning.
    Look,
    /// Humidity and temperature are read.
    Reading,
    /// Nested containers are checked for a leak.
    LeakCheck,
    /// Grip stones and ramps are scrubbed.
    Scrub,
    /// The hygrometer is checked.
    Hygrometer,
    /// A duty of the place's own.
    Own(OwnDutyId),
}

impl Duty {
    /// The catalogue's duties, in the order in which they are done at a pool or enclosure.
    pub const ALL: [Self; 12] = [
        Self::Look,
        Self::Change,
        Self::PartChange,
        Self::Condition,
        Self::TopUp,
        Self::Test,
        Self::Rinse,
        Self::AirCheck,
        Self::LeakCheck,
        Self::Scrub,
        Self::Reading,
        Self::Hygrometer,
    ];

    /// The duty whose anchor this one shares: itself, but for a part change.
    #[must_use]
    pub fn family(self) -> Self {
        if self == Self::PartChange {
            Self::Change
        } else {
            self
        }
    }

    /// A short name that never changes, for keys.
    #[must_use]
    pub fn code(self) -> String {
        match self {
            Self::Change => "change".to_owned(),
            Self::PartChange => "part".to_owned(),
            Self::Condition => "condition".to_owned(),
            Self::TopUp => "topup".to_owned(),
            Self::Test => "test".to_owned(),
            Self::Rinse => "rinse".to_owned(),
            Self::AirCheck => "air".to_owned(),
            Self::Look => "look".to_owned(),
            Self::Reading => "reading".to_owned(),
            Self::LeakCheck => "leak".to_owned(),
            Self::Scrub => "scrub".to_owned(),
            Self::Hygrometer => "hygrometer".to_owned(),
            Self::Own(id) => format!("own{}", id.0),
        }
    }

    /// Its name in the catalogue, which no language changes; `None` for a duty of the place's own.
    #[must_use]
    pub fn catalogue_name(self) -> Option<&'static str> {
        Some(match self {
            Self::Change => "change",
            Self::PartChange => "part change",
            Self::Condition => "condition",
            Self::TopUp => "top-up",
            Self::Test => "water test",
            Self::Rinse => "media rinse",
            Self::AirCheck => "stone and pump check",
            Self::Look => "morning look",
            Self::Reading => "reading",
            Self::LeakCheck => "leak check",
            Self::Scrub => "scrub",
            Self::Hygrometer => "hygrometer check",
            Self::Own(_) => return None,
        })
    }

    /// The duty of a short name.
    #[must_use]
    pub fn from_code(code: &str) -> Option<Self> {
        if let Some(id) = code.strip_prefix("own") {
            return id.parse().ok().map(|id| Self::Own(OwnDutyId(id)));
        }
        Self::ALL.into_iter().find(|duty| duty.code() == code)
    }

    /// Whether it is a duty of a pool (else of an enclosure; a place's own duty says for itself).
    #[must_use]
    pub fn is_of_pool(self) -> bool {
        !matches!(self, Self::Look | Self::Reading | Self::Hygrometer | Self::Own(_))
    }

    /// What doing it also renews in the same pool.
    #[must_use]
    pub fn renews(self) -> &'static [Self] {
        match self {
            Self::Change => &[Self::Condition, Self::TopUp, Self::Test],
            Self::PartChange => &[Self::Condition, Self::TopUp],
            _ => &[],
        }
    }

    /// Whether it digs, lifts or scrubs, so that a quiet zone holds it back.
    #[must_use]
    pub fn disturbs(self) -> bool {
        matches!(self, Self::LeakCheck | Self::Scrub)
    }

    /// How many steps a part of it can be told by.
    #[must_use]
    pub fn steps(self) -> u32 {
        match self {
            Self::Change | Self::PartChange => 4,
            Self::Test | Self::Rinse | Self::AirCheck | Self::Look | Self::Hygrometer => 3,
            Self::Condition | Self::TopUp | Self::Reading | Self::LeakCheck | Self::Scrub | Self::Own(_) => 2,
        }
    }
}

/// A row of the catalogue: a duty under one kind of keeping.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Rule {
    /// A change of a pool whose water stands still.
    ChangeStill,
    /// A change of a pool with an air stone and no filter.
    ChangeAerated,
    /// A part change of a filtered pool in use.
    PartChange,
    /// Conditioning a pool without a filter.
    Condition,
    /// Topping up any pool.
    TopUp,
    /// Testing while a filter cycles.
    TestCycling,
    /// Testing a filtered pool in use.
    Test,
    /// Rinsing filter media.
    Rinse,
    /// Checking stone and pump.
    AirCheck,
    /// The morning look.
    Look,
    /// The reading of an enclosure without a sensor.
    Reading,
    /// The leak check of nested containers.
    LeakCheck,
    /// Scrubbing grip stones and ramps.
    Scrub,
    /// Checking the hygrometer.
    Hygrometer,
}

/// An interval: by days it keeps the round, by hours it keeps the elapsed time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Every {
    /// So many civil days.
    Days(u16),
    /// So many elapsed hours.
    Hours(u32),
}

impl Every {
    /// Its length in minutes, a day being 24 h.
    #[must_use]
    pub fn minutes(self) -> i64 {
        match self {
            Self::Days(days) => i64::from(days) * 24 * 60,
            Self::Hours(hours) => i64::from(hours) * 60,
        }
    }
}

/// How long after due a turn is late.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Grace {
    /// So many elapsed hours.
    Hours(u32),
    /// Until the next round.
    NextRound,
}

/// What a number rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// Common practice, with no published source.
    CommonPractice,
    /// The hold time on the conditioner's label; common practice where none is stated.
    Label,
    /// Set by this place.
    Place,
}

/// One row of the catalogue.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RuleRow {
    /// Which row.
    pub rule: Rule,
    /// The duty it is about.
    pub duty: Duty,
    /// How often.
    pub every: Every,
    /// Whether it falls due at the day's first round, whenever it was done.
    pub first_round: bool,
    /// How long after due it is late.
    pub grace: Grace,
    /// Elapsed hours since it was last done after which animals or enclosure are at risk.
    pub hazard_h: Option<u32>,
    /// Minutes within which a second log is asked about.
    pub guard_min: u32,
    /// What the numbers rest on.
    pub basis: Basis,
}

const fn row(
    rule: Rule,
    duty: Duty,
    every: Every,
    grace_h: u32,
    hazard_h: Option<u32>,
    guard_min: u32,
) -> RuleRow {
    let grace = Grace::Hours(grace_h);
    RuleRow {
        rule,
        duty,
        every,
        first_round: false,
        grace,
        hazard_h,
        guard_min,
        basis: Basis::CommonPractice,
    }
}

const DAY: u32 = 24;
const HOUR_MIN: u32 = 60;

/// The catalogue. All numbers: common practice, no published source.
pub const CATALOGUE: [RuleRow; 14] = [
    row(
        Rule::ChangeStill,
        Duty::Change,
        Every::Days(2),
        12,
        Some(4 * DAY),
        12 * HOUR_MIN,
    ),
    row(
        Rule::ChangeAerated,
        Duty::Change,
        Every::Days(7),
        24,
        Some(10 * DAY),
        12 * HOUR_MIN,
    ),
    row(
        Rule::PartChange,
        Duty::Change,
        Every::Days(7),
        48,
        Some(21 * DAY),
        12 * HOUR_MIN,
    ),
    RuleRow {
        basis: Basis::Label,
        ..row(
            Rule::Condition,
            Duty::Condition,
            Every::Hours(48),
            12,
            None,
            24 * HOUR_MIN,
        )
    },
    row(
        Rule::TopUp,
        Duty::TopUp,
        Every::Days(1),
        24,
        Some(4 * DAY),
        2 * HOUR_MIN,
    ),
    row(Rule::TestCycling, Duty::Test, Every::Days(2), 48, None, HOUR_MIN),
    row(Rule::Test, Duty::Test, Every::Days(7), 48, None, HOUR_MIN),
    row(
        Rule::Rinse,
        Duty::Rinse,
        Every::Days(30),
        7 * DAY,
        None,
        24 * HOUR_MIN,
    ),
    row(
        Rule::AirCheck,
        Duty::AirCheck,
        Every::Days(30),
        7 * DAY,
        None,
        HOUR_MIN,
    ),
    RuleRow {
        grace: Grace::NextRound,
        first_round: true,
        ..row(Rule::Look, Duty::Look, Every::Days(1), 0, None, 0)
    },
    RuleRow {
        first_round: true,
        ..row(Rule::Reading, Duty::Reading, Every::Days(1), 12, None, 0)
    },
    row(
        Rule::LeakCheck,
        Duty::LeakCheck,
        Every::Days(7),
        48,
        None,
        HOUR_MIN,
    ),
    row(
        Rule::Scrub,
        Duty::Scrub,
        Every::Days(14),
        7 * DAY,
        None,
        24 * HOUR_MIN,
    ),
    row(
        Rule::Hygrometer,
        Duty::Hygrometer,
        Every::Days(180),
        30 * DAY,
        None,
        24 * HOUR_MIN,
    ),
];

impl Rule {
    /// Its row of the catalogue.
    #[must_use]
    pub fn row(self) -> &'static RuleRow {
        // The order of the rows is the order of the variants; a test holds them to it.
        &CATALOGUE[self as usize]
    }

    /// A short name that never changes.
    #[must_use]
    pub fn code(self) -> &'static str {
        match self {
            Self::ChangeStill => "still",
            Self::ChangeAerated => "aerated",
            Self::PartChange => "part-change",
            Self::Condition => "condition",
            Self::TopUp => "top-up",
            Self::TestCycling => "test-cycling",
            Self::Test => "test",
            Self::Rinse => "rinse",
            Self::AirCheck => "air-check",
            Self::Look => "look",
            Self::Reading => "reading",
            Self::LeakCheck => "leak-check",
            Self::Scrub => "scrub",
            Self::Hygrometer => "hygrometer",
        }
    }
}

/// Numbers of a catalogue row that a place set otherwise.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Numbers {
    /// How often.
    pub every: Option<Every>,
    /// Hours after due at which it is late.
    pub grace_h: Option<u32>,
    /// Hours since it was last done at which it is a hazard.
    pub hazard_h: Option<u32>,
}

/// The US gallon in litres, by definition.
const US_GALLON_L: f64 = 3.785_411_784;

/// The fraction of a filtered pool's water that one part change takes out: half from 2 US gal up, rising in a
/// line to all that can be had at 1 US gal. Common practice, no published source.
///
/// ```
/// use wrackline_core::care::catalogue::part_fraction;
/// assert_eq!(part_fraction(8.0), 0.5);
/// assert_eq!(part_fraction(3.0), 1.0);
/// assert!((part_fraction(1.5 * 3.785411784) - 0.75).abs() < 1e-12);
/// ```
#[must_use]
pub fn part_fraction(litres: f64) -> f64 {
    (1.5 - 0.5 * litres / US_GALLON_L).clamp(0.5, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_stand_in_the_order_of_their_rules() {
        for (index, row) in CATALOGUE.iter().enumerate() {
            assert_eq!(row.rule as usize, index);
            assert_eq!(row.rule.row(), row);
        }
    }

    #[test]
    fn duty_codes_read_back() {
        for duty in Duty::ALL.into_iter().chain([Duty::Own(OwnDutyId(7))]) {
            assert_eq!(Duty::from_code(&duty.code()), Some(duty));
        }
    }
}
