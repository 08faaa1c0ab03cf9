//! How a call ends when it does not succeed.

use std::fmt;
use std::time::Duration;

/// The most letters of what the platform said that are kept.
const SAID_MAX: usize = 200;

/// How a call ended that did not succeed. `Display` is one sentence without secrets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Refused {
    /// The platform said no.
    No {
        /// The HTTP status.
        status: u16,
        /// The platform's own code, 0 if it named none.
        code: i64,
        /// What it said, one line of at most 200 letters.
        said: String,
    },
    /// Not now: nothing arrived, or the platform refused it for now.
    Later {
        /// The least wait, if it is known.
        wait: Option<Duration>,
        /// Why, in a few words.
        why: String,
    },
    /// It may or may not have arrived: the connection broke or the time ran out after the request was sent.
    Unsure {
        /// Why, in a few words.
        why: String,
    },
    /// An answer that is none of the platform's.
    Nonsense {
        /// The HTTP status.
        status: u16,
        /// Why, in a few words.
        why: String,
    },
}

impl Refused {
    pub(super) fn later(wait: Option<Duration>, why: impl Into<String>) -> Self {
        let why = why.into();
        Self::Later { wait, why }
    }

    pub(super) fn unsure(why: impl Into<String>) -> Self {
        Self::Unsure { why: why.into() }
    }

    pub(super) fn nonsense(status: u16, why: impl Into<String>) -> Self {
        let why = why.into();
        Self::Nonsense { status, why }
    }

    pub(super) fn no(status: u16, code: i64, said: impl Into<String>) -> Self {
        let said = said.into();
        Self::No { status, code, said }
    }
}

impl fmt::Display for Refused {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::No { status, code, said } => {
                let said = said.trim_end_matches('.');
                write!(f, "The platform said no ({status}, code {code}): {said}.")
            }
            Self::Later { wait: None, why } => write!(f, "Not now: {why}."),
            Self::Later {
                wait: Some(wait),
                why,
            } => write!(f, "Not for the next {:.1} s: {why}.", wait.as_secs_f64()),
            Self::Unsure { why } => write!(f, "It may or may not have arrived: {why}."),
            Self::Nonsense { status, why } => {
                write!(f, "That answer is none of the platform's ({status}): {why}.")
            }
        }
    }
}

impl std::error::Error for Refused {}

/// One line of at most 200 letters.
pub(super) fn line(text: &str) -> String {
    let words: Vec<&str> = text
        .split(|letter: char| letter.is_whitespace() || letter.is_control())
        .filter(|word| !word.is_empty())
        .collect();
    words.join(" ").chars().take(SAID_MAX).collect()
}
