//! The one table that defines every line. The parser, completion, help texts, tests and the native commands of a
//! chat platform all come from it.

mod alone;
mod batch;
mod care;
mod carer;
mod fitting;
mod link;
mod nod;
mod rehearse;
mod set_up;
mod sheet;
mod turns;
mod water;

pub use self::rehearse::GEAR_SETS;
pub(in crate::lines) use self::turns::CANNOT;
pub use self::water::{FOR_CHLORAMINE, MAINS, SUBSTANCES};

use super::Figure;

/// Who may say a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Who {
    /// Everyone who shares the work.
    All,
    /// Keepers alone.
    Keeper,
}

/// What an argument is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A duty, by any of its words.
    Duty,
    /// Pools or enclosures.
    Spot,
    /// One or several readings.
    Readings,
    /// Something seen.
    Sighting,
    /// A moment.
    Time,
    /// A calendar date.
    Date,
    /// A day to come, perhaps with a time of day or a round.
    Day,
    /// A coming turn: a duty, where, and perhaps its day and round.
    Turn(Whose),
    /// A time of day.
    Clock,
    /// Two times of day with a word between, or none.
    ClockSpan,
    /// A person who shares the work.
    Carer,
    /// A round.
    Round,
    /// A duty of the place's own.
    OwnDuty,
    /// A vessel of prepared water.
    Vessel,
    /// A name for something new.
    Name,
    /// A volume of water.
    Volume,
    /// A mass.
    Mass,
    /// A salinity, a specific gravity or a conductivity.
    Salinity,
    /// A temperature.
    Temperature,
    /// A concentration in mg/L, or so much of one a day.
    Concentration,
    /// A number with digits behind the point.
    Decimal,
    /// A length.
    Length,
    /// A part of a whole.
    Fraction,
    /// A figure with more to it than a number and a unit.
    Figure(Figure),
    /// A whole number.
    Number,
    /// Numbers of steps.
    Steps,
    /// A span of time.
    Span,
    /// How often.
    Every,
    /// Days of the week.
    Weekdays,
    /// A cron expression of five fields.
    Cron,
    /// An IANA time zone.
    Zone,
    /// What a specific gravity compares.
    Gravity,
    /// One of a few words.
    Choice(&'static [&'static str]),
    /// Yes or no; yes where nothing follows.
    Switch,
    /// It stands or it does not.
    Flag,
    /// Words up to the next small word.
    Text,
    /// All the rest of the line, unless it stands in quotation marks.
    Rest,
    /// The name of a line.
    Line,
    /// A channel of the chat platform, as it writes one: `<#123>`.
    Channel,
    /// An account of the chat platform, as it writes one: `<@123>`.
    Member,
}

/// The small words before the last day of a span that is to come, in the ways in which they are typed.
pub(in crate::lines) const UNTIL: &[&str] =
    &["until", "to", "till", "til", "untill", "untl", "through", "thru"];

/// The same, where "to" is the one that is shown.
pub(in crate::lines) const TO: &[&str] = &["to", "until", "till", "til", "untill", "untl", "through", "thru"];

/// Whose turns are listed where one is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whose {
    /// The speaker's own.
    Mine,
    /// Those of all others, and those that nobody has.
    Others,
}

/// How an argument is found in a typed line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lead {
    /// By what it is.
    Bare,
    /// After a small word; the first of these is the one that is shown.
    Word(&'static [&'static str]),
    /// After a small word, or by what it is.
    Either(&'static [&'static str]),
}

/// Whether an argument has to stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Need {
    /// It has to.
    Must,
    /// It may.
    May,
    /// Exactly one of those so marked has to.
    OneOf,
    /// At least one of those so marked has to.
    SomeOf,
}

/// One argument of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ArgSpec {
    /// Its name; unique in its line, and fit to name an option of a native command.
    pub name: &'static str,
    /// What it is.
    pub kind: Kind,
    /// How it is found.
    pub lead: Lead,
    /// Whether it has to stand.
    pub need: Need,
}

impl ArgSpec {
    /// The small words that introduce it, the one that is shown first.
    #[must_use]
    pub fn words(&self) -> &'static [&'static str] {
        match self.lead {
            Lead::Bare => &[],
            Lead::Word(words) | Lead::Either(words) => words,
        }
    }

    /// The id of the message that explains it.
    #[must_use]
    pub fn help(&self) -> String {
        match (self.name, self.kind) {
            // One small word, several meanings: the place's quiet hours and an enclosure's quiet zone, a past day and one to come.
            ("quiet", Kind::ClockSpan) => "arg-quiet-hours".to_owned(),
            ("to", Kind::Day) => "arg-to-day".to_owned(),
            (name, _) => format!("arg-{name}"),
        }
    }
}

/// What can follow the name of a set-up line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SubSpec {
    /// Its name: `add`, `set`, `list`, `retire`, `link`, `stop`, `start` or `calendar`.
    pub name: &'static str,
    /// Who may say it.
    pub who: Who,
    /// Its arguments.
    pub args: &'static [ArgSpec],
}

/// One line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LineSpec {
    /// Its name, without the slash.
    pub name: &'static str,
    /// Other words that people say for its name.
    pub aliases: &'static [&'static str],
    /// Who may say it.
    pub who: Who,
    /// Whether its name may stand alone although it has arguments that must stand; a set-up line alone lists.
    pub alone: bool,
    /// Its arguments; none where it has subcommands.
    pub args: &'static [ArgSpec],
    /// Its subcommands.
    pub subs: &'static [SubSpec],
}

impl LineSpec {
    /// The id of the message that explains it, or one of its subcommands.
    #[must_use]
    pub fn help(&self, sub: Option<&str>) -> String {
        sub.map_or_else(
            || format!("help-{}", self.name),
            |sub| format!("help-{}-{sub}", self.name),
        )
    }

    /// The subcommand of a name.
    #[must_use]
    pub fn sub(&self, name: &str) -> Option<&'static SubSpec> {
        self.subs.iter().find(|sub| sub.name == name)
    }
}

const fn arg(name: &'static str, kind: Kind, lead: Lead, need: Need) -> ArgSpec {
    ArgSpec {
        name,
        kind,
        lead,
        need,
    }
}

const fn must(name: &'static str, kind: Kind) -> ArgSpec {
    arg(name, kind, Lead::Bare, Need::Must)
}

const fn after(words: &'static [&'static str], kind: Kind) -> ArgSpec {
    arg(words[0], kind, Lead::Word(words), Need::May)
}

/// Every line, in the order in which help lists them.
pub const LINES: &[LineSpec] = &[
    care::DUE,
    care::DID,
    care::READ,
    care::SAW,
    care::UNDO,
    care::WHY,
    care::HOW,
    water::MIX,
    water::DILUTE,
    care::WEEK,
    turns::TURNS,
    turns::AWAY,
    turns::OFFER,
    turns::TAKE,
    nod::NOD,
    fitting::FIT,
    fitting::PLUMB,
    rehearse::REHEARSE,
    sheet::SHEET,
    alone::ALONE,
    batch::BATCH,
    batch::TRAIL,
    care::EMERGENCY,
    set_up::PLACE,
    set_up::ENCLOSURE,
    set_up::POOL,
    set_up::GEAR,
    set_up::DUTY,
    carer::CARER,
    set_up::ROUNDS,
    water::SUPPLIES,
    link::LINK,
    care::HELP,
];

/// The two waters, as they are said.
pub const WATERS: &[&str] = &["fresh", "salt"];
/// The days of which turns are told, as they are said.
pub const TURN_DAYS: &[&str] = &["today", "tomorrow", "week", "next week", "two weeks"];
/// The cards for emergencies, as they are said; in the order of [`super::ask::Card::ALL`].
pub const EMERGENCIES: &[&str] = &[
    "flood",
    "power cut",
    "untreated water",
    "too much salt",
    "humid spell",
    "leak",
];
/// Gear, as it is said.
pub const GEAR: &[&str] = &["air", "filter"];
/// Roles, as they are said.
pub const ROLES: &[&str] = &["keeper", "regular", "sitter", "helper"];
/// The life of a pool, as it is said.
pub const LIVES: &[&str] = &["planned", "leak test", "cycling", "in use", "out of use"];
/// Systems of units, as they are said.
pub const UNITS: &[&str] = &["metric", "us", "imperial"];
/// Systems of units that a person may read in instead of the place's, or none of their own.
pub const OWN_UNITS: &[&str] = &["metric", "us", "imperial", "none"];
/// The catalogue's rules, as they are said: their codes.
pub const RULES: &[&str] = &[
    "still",
    "aerated",
    "part-change",
    "condition",
    "top-up",
    "test-cycling",
    "test",
    "rinse",
    "air-check",
    "look",
    "reading",
    "leak-check",
    "scrub",
    "hygrometer",
];

/// The line of a name, without its slash and in any case; other words for the name count.
#[must_use]
pub fn spec(line_name: &str) -> Option<&'static LineSpec> {
    let name = line_name.to_lowercase();
    LINES
        .iter()
        .find(|line| line.name == name || line.aliases.contains(&name.as_str()))
}
