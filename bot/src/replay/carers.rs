//! Simulated carers: sometimes late, sometimes away.

use jiff::Timestamp;
use rand_chacha::ChaCha8Rng;
use rand_core::{Rng, SeedableRng};
use wrackline_core::care::{Duty, TurnKey};
use wrackline_core::civil::plus_minutes;
use wrackline_core::place::Target;

use super::scenario::Habit;

/// Chance, from a seed.
pub struct Dice(ChaCha8Rng);

impl Dice {
    /// Dice of a seed.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    /// A whole number from one to another, both included.
    pub fn between(&mut self, low: i64, high: i64) -> i64 {
        let span = u64::try_from(high - low).unwrap_or(0) + 1;
        low + i64::try_from(self.0.next_u64() % span).unwrap_or(0)
    }

    /// Whether something of this share happens.
    pub fn happens(&mut self, share: f64) -> bool {
        // 53 bits are what a double holds.
        ((self.0.next_u64() >> 11) as f64) < share * (1_u64 << 53) as f64
    }
}

/// What a carer does about a turn that was called.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Deed {
    /// When.
    pub at: Timestamp,
    /// What: a line or a press.
    pub what: What,
}

/// A line or a press.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum What {
    /// A line.
    Line(String),
    /// A line that answers a called turn: nobody says it once the turn is done.
    Answer {
        /// The turn.
        turn: TurnKey,
        /// Who did it, where somebody else logs it for them.
        by: Option<String>,
        /// The line.
        line: String,
    },
    /// A press, with its text.
    Press(String, Option<String>),
}

/// How a carer answers a called turn at a time; `None`: not at all. What is done and where, as it is typed.
pub fn answer(
    dice: &mut Dice,
    habit: &Habit,
    turn: &TurnKey,
    (duty, spot): (&str, &str),
    now: Timestamp,
) -> Option<Deed> {
    if dice.happens(0.02) {
        return None;
    }
    let late = dice.happens(habit.late);
    let [least, most] = if late { habit.late_minutes } else { habit.minutes };
    let at = plus_minutes(now, dice.between(least, most));
    let what = if habit.logged_by.is_some() {
        logged(dice, habit, turn, (duty, spot))
    } else if dice.happens(habit.cannot) {
        What::Press(format!("cannot.{turn}"), None)
    } else if turn.duty == Duty::Scrub && dice.happens(0.3) {
        What::Press(format!("notneeded.{turn}"), Some("still clean".to_owned()))
    } else {
        match read(dice, turn, spot) {
            Some(line) => What::Answer {
                turn: *turn,
                by: None,
                line,
            },
            None => What::Press(format!("did.{turn}"), None),
        }
    };
    Some(Deed { at, what })
}

/// What somebody says for one who did it.
fn logged(dice: &mut Dice, habit: &Habit, turn: &TurnKey, (duty, spot): (&str, &str)) -> What {
    let line = read(dice, turn, spot).unwrap_or_else(|| match turn.target {
        // A duty of the place's own that is of no enclosure has nowhere to name.
        Target::Place => format!("/did {duty}"),
        _ => format!("/did {duty} {}", spot.to_lowercase()),
    });
    What::Answer {
        turn: *turn,
        by: Some(habit.name.clone()),
        line: format!("{line} by {}", habit.name),
    }
}

/// The line that logs a reading, where the turn asks for one.
fn read(dice: &mut Dice, turn: &TurnKey, spot: &str) -> Option<String> {
    match (turn.duty, turn.target) {
        (Duty::Reading, Target::Enclosure(_)) => {
            let humidity = dice.between(76, 84);
            let tenths = dice.between(245, 275);
            Some(format!(
                "/read {spot} {humidity}% {}.{}C",
                tenths / 10,
                tenths % 10
            ))
        }
        (Duty::Test, Target::Pool(_)) => Some(format!(
            "/read {spot} ammonia 0 nitrite 0 nitrate {}",
            dice.between(5, 20)
        )),
        _ => None,
    }
}
