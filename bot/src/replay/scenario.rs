//! Scenarios: who keeps what, and what is said when.

use jiff::civil;
use serde::Deserialize;
use wrackline_core::civil::plus_days;

/// The scenarios that come with the program.
const OWN: [(&str, &str); 5] = [
    ("demo", include_str!("../../scenarios/demo.toml")),
    ("night", include_str!("../../scenarios/night.toml")),
    ("family", include_str!("../../scenarios/family.toml")),
    ("club", include_str!("../../scenarios/club.toml")),
    ("sitter", include_str!("../../scenarios/sitter.toml")),
];

/// A scenario.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Scenario {
    /// What the place is called.
    pub name: String,
    /// Its IANA zone, unless another is asked for.
    pub zone: String,
    /// Its first day, unless another is asked for.
    #[serde(default)]
    pub from: Option<civil::Date>,
    /// Its first keeper.
    pub keeper: String,
    /// Lines that the keeper says before the first day; `{day+20}` in one becomes a date as in a cue.
    pub set_up: Vec<String>,
    /// How carers answer calls.
    #[serde(default)]
    pub carer: Vec<Habit>,
    /// What is said besides.
    #[serde(default)]
    pub said: Vec<Cue>,
}

/// How a carer answers calls.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Habit {
    /// Who.
    pub name: String,
    /// The share of turns that they do late.
    pub late: f64,
    /// Within how many minutes they answer otherwise: at least, at most.
    pub minutes: [i64; 2],
    /// Within how many minutes they answer when they are late: at least, at most.
    #[serde(default = "late_minutes")]
    pub late_minutes: [i64; 2],
    /// The share of turns that they say they cannot do.
    #[serde(default = "cannot")]
    pub cannot: f64,
    /// Days, from 1, on which they do not look at the chat, without having said so.
    #[serde(default)]
    pub away: Vec<i64>,
    /// Who logs for them what they do.
    #[serde(default)]
    pub logged_by: Option<String>,
    /// Who nods at what they did, where that waits for a nod.
    #[serde(default)]
    pub nodded_by: Option<String>,
    /// The share of the turns offered to them that they take; `None`: they do not answer offers.
    #[serde(default)]
    pub accepts: Option<f64>,
}

fn cannot() -> f64 {
    0.03
}

/// A late answer comes half a day to a day later.
fn late_minutes() -> [i64; 2] {
    [13 * 60, 26 * 60]
}

/// Something said or pressed at a time.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cue {
    /// The day, from 1.
    pub day: i64,
    /// The time of day.
    pub time: String,
    /// Who.
    pub who: String,
    /// The line; `{day+20}` in it becomes the date of that many days after the first, `{my turn}` the speaker's first
    /// turn from the day after on that the one behind `to` can do: without one the line is not said.
    #[serde(default)]
    pub line: Option<String>,
    /// The verb of a press on the last answer or alarm that has one such.
    #[serde(default)]
    pub press: Option<String>,
}

impl Scenario {
    /// One of the program's own scenarios by name, or that of a file.
    ///
    /// # Errors
    /// A sentence that says what is wrong with the name or the file.
    pub fn load(name: &str) -> Result<Self, String> {
        if let Some((_, text)) = OWN.iter().find(|(own, _)| *own == name) {
            return Self::read(text).map_err(|error| format!("The scenario {name} cannot be read: {error}"));
        }
        let names: Vec<&str> = OWN.iter().map(|(own, _)| *own).collect();
        let text = std::fs::read_to_string(name).map_err(|error| {
            format!(
                "There is no scenario “{name}” ({error}): say {} or the path of a scenario's file.",
                names.join(", ")
            )
        })?;
        Self::read(&text).map_err(|error| format!("{name} is no scenario: {error}"))
    }

    /// A scenario from its text.
    ///
    /// # Errors
    /// What the text lacks or has too much, in one line.
    pub fn read(text: &str) -> Result<Self, String> {
        toml::from_str(text).map_err(|error| error.message().replace('\n', " "))
    }
}

/// A line with each `{day+20}` made the date of that many days after a scenario's first.
#[must_use]
pub fn dated(line: &str, first_day: civil::Date) -> String {
    let mut pieces = line.split("{day+");
    let mut text = pieces.next().unwrap_or_default().to_owned();
    for piece in pieces {
        let found = piece.split_once('}');
        let found = found.and_then(|(days, after)| Some((days.parse::<i64>().ok()?, after)));
        match found {
            Some((days, after)) => text += &format!("{}{after}", plus_days(first_day, days)),
            None => text += &format!("{{day+{piece}"),
        }
    }
    text
}
