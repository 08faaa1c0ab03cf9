//! The people who share the work: what they may do, what they can, when they are there.

use jiff::{Timestamp, civil};
use serde::{Deserialize, Serialize};

use crate::civil::{Zone, is_quiet, waking};
use crate::place::{CarerId, QuietHours, Role, RoundId};
use crate::quantity::Units;

/// The civil days of a sitter's span, both included, in the place's zone.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Span {
    /// The first day.
    pub from: civil::Date,
    /// The last day.
    pub to: civil::Date,
}

impl Span {
    /// Whether it holds a civil day.
    #[must_use]
    pub fn holds(&self, date: civil::Date) -> bool {
        (self.from..=self.to).contains(&date)
    }
}

/// Weekdays as a set of bits: bit 0 is Monday.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Weekdays(pub u8);

impl Weekdays {
    /// All seven.
    pub const ALL: Self = Self(0x7f);

    /// Those of a list that counts from 1, Monday, to 7, Sunday; other numbers are left out.
    #[must_use]
    pub fn of_numbers(days: &[i8]) -> Self {
        let bit = |day: &i8| 1_u8 << (day - 1);
        Self(
            days.iter()
                .filter(|day| (1..=7).contains(*day))
                .fold(0, |all, day| all | bit(day)),
        )
    }

    /// Their numbers in order, 1 for Monday to 7 for Sunday.
    pub fn numbers(self) -> impl Iterator<Item = i8> {
        (1..=7).filter(move |day| self.0 & (1 << (day - 1)) != 0)
    }

    /// The set of one weekday.
    #[must_use]
    pub fn of(day: civil::Weekday) -> Self {
        Self(1 << day.to_monday_zero_offset())
    }

    /// Whether a civil day is one of them.
    #[must_use]
    pub fn hold(self, date: civil::Date) -> bool {
        self.0 & Self::of(date.weekday()).0 != 0
    }
}

/// Weekdays on which a carer is there, for one round or for all.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Free {
    /// The weekdays.
    pub days: Weekdays,
    /// The round; `None` for every one.
    pub round: Option<RoundId>,
}

/// What a carer can do, as a keeper granted it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Skills {
    /// Draws water with a siphon.
    pub siphon: bool,
    /// Mixes marine salt water.
    pub salt: bool,
    /// Lifts so many kilograms; `None` for whatever a duty asks.
    pub lift_kg: Option<f64>,
}

impl Skills {
    /// Everything.
    pub const ALL: Self = Self {
        siphon: true,
        salt: true,
        lift_kg: None,
    };

    /// What a helper, a child perhaps, is taken to do until a keeper says otherwise: neither siphon nor salt, and 5 kg.
    /// Common practice, no published source.
    pub const HELPER: Self = Self {
        siphon: false,
        salt: false,
        lift_kg: Some(5.0),
    };
}

/// A time in which a carer is away.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Absence {
    /// From one moment to another, which is not part of it.
    Span {
        /// The first moment.
        from: Timestamp,
        /// The first moment after.
        to: Timestamp,
    },
    /// Single rounds.
    Rounds(Vec<(RoundId, civil::Date)>),
}

/// A person who shares the work.
#[derive(Clone, Debug, PartialEq)]
pub struct Carer {
    /// Their number.
    pub id: CarerId,
    /// What they may do.
    pub role: Role,
    /// Who is asked when they do not answer.
    pub stand_in: Option<CarerId>,
    /// The days of their span; `None` for always.
    pub span: Option<Span>,
    /// Their zone, where it is another than the place's.
    pub zone: Option<Zone>,
    /// The units they read in, where those are others than the place's.
    pub units: Option<Units>,
    /// The language they asked to be answered in, by its code, as `en`; `None` where nothing was said.
    pub language: Option<String>,
    /// When they are there; `None` for always.
    pub free: Option<Vec<Free>>,
    /// Hours in which only danger is told to them, in their own zone.
    pub quiet: Option<QuietHours>,
    /// What a keeper said that they can; `None` where nothing was said.
    pub skills: Option<Skills>,
    /// The share of the work that they want, 1 being an even one; `None` where nothing was said.
    pub share: Option<f64>,
    /// The most minutes on one day; `None` for no limit.
    pub minutes_max: Option<u16>,
    /// Whether they are reminded alone, not before everyone.
    pub private: bool,
}

impl Carer {
    /// A carer of whom nothing was said but the role.
    #[must_use]
    pub fn new(id: CarerId, role: Role) -> Self {
        Self {
            id,
            role,
            stand_in: None,
            span: None,
            zone: None,
            units: None,
            language: None,
            free: None,
            quiet: None,
            skills: None,
            share: None,
            minutes_max: None,
            private: false,
        }
    }

    /// What they can do: what a keeper said, else everything, but of a helper [`Skills::HELPER`].
    #[must_use]
    pub fn can(&self) -> Skills {
        self.skills.unwrap_or(if self.role == Role::Helper {
            Skills::HELPER
        } else {
            Skills::ALL
        })
    }

    /// The share of the work that they want: what was said, else an even one, but of a helper none.
    #[must_use]
    pub fn wants(&self) -> f64 {
        self.share
            .unwrap_or(if self.role == Role::Helper { 0.0 } else { 1.0 })
    }

    /// Whether they share the work on a civil day: within their span.
    #[must_use]
    pub fn shares_on(&self, date: civil::Date) -> bool {
        self.span.is_none_or(|span| span.holds(date))
    }

    /// Whether they have quiet hours of their own at a moment; their clock is that of their zone, else the place's.
    #[must_use]
    pub fn rests(&self, place: &Zone, at: Timestamp) -> bool {
        is_quiet(self.zone.as_ref().unwrap_or(place), self.quiet, at)
    }

    /// The first moment at or after this one outside their own quiet hours.
    #[must_use]
    pub fn wakes(&self, place: &Zone, at: Timestamp) -> Timestamp {
        waking(self.zone.as_ref().unwrap_or(place), self.quiet, at)
    }

    /// Whether they are there for a round on a civil day, by what they said of their weeks.
    #[must_use]
    pub fn is_free(&self, round: RoundId, date: civil::Date) -> bool {
        self.free.as_ref().is_none_or(|free| {
            free.iter()
                .any(|one| one.days.hold(date) && one.round.is_none_or(|of| of == round))
        })
    }
}

/// A change of a carer.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum CarerChange {
    /// They joined.
    Added(Role),
    /// Their role changed.
    Role(Role),
    /// Who is asked when they do not answer.
    StandIn(Option<CarerId>),
    /// The days of their span.
    Span(Option<Span>),
    /// Their IANA zone, where it is another than the place's.
    Zone(Option<String>),
    /// The units they read in.
    Units(Option<Units>),
    /// The language they are answered in, by its code.
    Language(String),
    /// When they are there.
    Free(Option<Vec<Free>>),
    /// Their own quiet hours.
    Quiet(Option<QuietHours>),
    /// What they can do.
    Skills(Skills),
    /// The share of the work that they want: 0 to 10, 1 being an even one.
    Share(f64),
    /// The most minutes on one day.
    MinutesMax(Option<u16>),
    /// Whether they are reminded alone.
    Private(bool),
    /// They left.
    Retired,
}

impl CarerChange {
    /// What becomes of a carer by it; those of joining and leaving change no carer.
    pub fn apply(&self, carer: &mut Carer) {
        match self {
            Self::Added(_) | Self::Retired => {}
            Self::Role(role) => carer.role = *role,
            Self::StandIn(who) => carer.stand_in = *who,
            Self::Span(span) => carer.span = *span,
            Self::Zone(name) => carer.zone = name.as_deref().and_then(Zone::get),
            Self::Units(units) => carer.units = *units,
            Self::Language(code) => carer.language = Some(code.clone()),
            Self::Free(free) => carer.free.clone_from(free),
            Self::Quiet(quiet) => carer.quiet = *quiet,
            Self::Skills(skills) => carer.skills = Some(*skills),
            Self::Share(share) => carer.share = Some(*share),
            Self::MinutesMax(most) => carer.minutes_max = *most,
            Self::Private(is) => carer.private = *is,
        }
    }
}
