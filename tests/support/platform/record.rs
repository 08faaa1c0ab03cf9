//! What was asked of the double, and what was wrong with it.

use std::fmt;
use std::time::Duration;

use serde_json::Value;

use super::Route;

/// One request, as it arrived.
#[derive(Clone, Debug)]
pub struct Request {
    /// When it arrived, on the monotonic clock, since the double's start.
    pub at: Duration,
    /// The operation.
    pub route: Route,
    /// The method.
    pub method: String,
    /// The path, without the prefix `/api/v10`.
    pub path: String,
    /// What stands behind the question mark.
    pub query: String,
    /// The body, if it was JSON (of a multipart body: `payload_json`).
    pub body: Option<Value>,
    /// The status it was answered with; none while it is not, or when the connection was closed instead.
    pub status: Option<u16>,
}

/// Who found fault.
#[derive(Clone, Copy, Debug, Eq, Hash, Ord, PartialEq, PartialOrd)]
pub enum Judge {
    /// The body does not decode with the model types.
    Model,
    /// A limit, as `twilight-validate` checks it.
    Limits,
    /// A rule of the platform's documentation.
    Rules,
    /// A schema of the npm package's.
    Schema,
    /// The platform's published description.
    OpenApi,
    /// The rate limits: asked again before it was time.
    Pace,
    /// The gateway's rules.
    Gateway,
}

/// What one judge said.
#[derive(Clone, Debug, Eq, PartialEq)]
pub struct Verdict {
    /// Who.
    pub judge: Judge,
    /// Where in the body, dots between; empty for all of it.
    pub place: String,
    /// What.
    pub said: String,
}

impl Verdict {
    pub(super) fn new(judge: Judge, place: impl Into<String>, said: impl Into<String>) -> Self {
        Self {
            judge,
            place: place.into(),
            said: said.into(),
        }
    }
}

/// Something the client did wrong.
#[derive(Clone, Debug)]
pub struct Fault {
    /// When, since the double's start.
    pub at: Duration,
    /// The method; `WS` at the gateway.
    pub method: String,
    /// The path, without the prefix `/api/v10`.
    pub path: String,
    /// The body.
    pub body: Option<Value>,
    /// What was said, at least one.
    pub verdicts: Vec<Verdict>,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "{} {} at {:?}", self.method, self.path, self.at)?;
        for verdict in &self.verdicts {
            writeln!(f, "  {:?} {}: {}", verdict.judge, verdict.place, verdict.said)?;
        }
        match &self.body {
            Some(body) => writeln!(f, "  {body}"),
            None => Ok(()),
        }
    }
}

/// All that was asked and found.
#[derive(Debug, Default)]
pub(super) struct Record {
    pub(super) requests: Vec<Request>,
    pub(super) faults: Vec<Fault>,
    /// Answers with 401, 403 or 429 (but of the scope shared): too many of them ban an address.
    pub(super) invalid: u32,
    /// Answers with 429.
    pub(super) throttled: u32,
}
