//! What came back, and what it means.

use std::time::{Duration, Instant};

use reqwest::Response;
use reqwest::header::{HeaderMap, RETRY_AFTER};
use serde_json::Value;
use twilight_http_ratelimiting::RateLimitHeaders;

use super::limits::{ANSWER_BYTES_MAX, WAIT_BELIEVED_MAX};
use super::refusal::Refused;
use crate::clock;

/// How long a limit is taken to hold that does not say so.
const WAIT_UNSAID: Duration = Duration::from_secs(1);

/// An answer, read.
pub(super) struct Answer {
    pub(super) status: u16,
    headers: HeaderMap,
    body: Text,
    /// When it had been read.
    at: Instant,
}

/// An answer's body.
pub(super) enum Text {
    Whole(Vec<u8>),
    TooLong,
    Broken,
}

/// Whom a limit is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Scope {
    /// The bot, in this bucket.
    User,
    /// The bot, whatever it calls.
    Global,
    /// Everyone, in this bucket; the platform does not hold it against the bot.
    Shared,
}

/// What an answer 429 asks for.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limited {
    pub(super) wait: Duration,
    pub(super) until: Instant,
    pub(super) scope: Scope,
}

/// Reads a body up to a number of bytes.
pub(super) async fn read(response: &mut Response, bytes_max: usize) -> Text {
    let mut bytes = Vec::new();
    loop {
        match response.chunk().await {
            Ok(Some(chunk)) if chunk.len() > bytes_max - bytes.len() => return Text::TooLong,
            Ok(Some(chunk)) => bytes.extend_from_slice(&chunk),
            Ok(None) => return Text::Whole(bytes),
            Err(_) => return Text::Broken,
        }
    }
}

impl Answer {
    pub(super) async fn read(mut response: Response) -> Self {
        let body = read(&mut response, ANSWER_BYTES_MAX).await;
        Self {
            status: response.status().as_u16(),
            headers: std::mem::take(response.headers_mut()),
            body,
            at: clock::monotonic(),
        }
    }

    fn json(&self) -> Option<Value> {
        match &self.body {
            Text::Whole(bytes) => serde_json::from_slice(bytes).ok(),
            Text::TooLong | Text::Broken => None,
        }
    }

    fn header(&self, name: &str) -> Option<&str> {
        self.headers.get(name)?.to_str().ok().map(str::trim)
    }

    /// What the answer says of its bucket, and how long that is until it is full again.
    pub(super) fn bucket(&self) -> Option<(RateLimitHeaders, Duration)> {
        let reset_after = seconds(self.header(RateLimitHeaders::RESET_AFTER)?.parse().ok()?)?;
        let headers = RateLimitHeaders {
            bucket: self.header(RateLimitHeaders::BUCKET)?.as_bytes().to_vec(),
            limit: self.header(RateLimitHeaders::LIMIT)?.parse().ok()?,
            remaining: self.header(RateLimitHeaders::REMAINING)?.parse().ok()?,
            reset_at: self.at + reset_after,
        };
        Some((headers, reset_after))
    }

    /// The bucket's name, should the answer give no more than that.
    pub(super) fn bucket_name(&self) -> Option<&[u8]> {
        self.header(RateLimitHeaders::BUCKET).map(str::as_bytes)
    }

    fn retry_after(&self) -> Option<Duration> {
        seconds(self.header(RETRY_AFTER.as_str())?.parse().ok()?)
    }

    /// What an answer 429 asks for: the longer of what its header and its body say.
    pub(super) fn limited(&self) -> Limited {
        let json = self.json();
        let said = json
            .as_ref()
            .and_then(|json| seconds(json.get("retry_after")?.as_f64()?));
        let wait = said.max(self.retry_after()).unwrap_or(WAIT_UNSAID);
        let is_global = self
            .header("x-ratelimit-global")
            .is_some_and(|text| text != "false")
            || json.as_ref().and_then(|json| json.get("global")?.as_bool()) == Some(true);
        let scope = match self.header(RateLimitHeaders::SCOPE) {
            Some("global") => Scope::Global,
            _ if is_global => Scope::Global,
            Some("shared") => Scope::Shared,
            // What stands in front of the platform answers without its marks, and for the whole address.
            None if !json.as_ref().is_some_and(Value::is_object) => Scope::Global,
            _ => Scope::User,
        };
        Limited {
            wait,
            until: self.at + wait,
            scope,
        }
    }

    /// What an answer other than 429 means.
    pub(super) fn judge(&self) -> Result<Value, Refused> {
        let status = self.status;
        match (status, &self.body) {
            (500.., _) => Err(Refused::later(
                self.retry_after(),
                format!("the platform has trouble ({status})"),
            )),
            (300..400, _) => Err(Refused::nonsense(status, "it leads elsewhere")),
            (_, Text::TooLong) => Err(Refused::nonsense(status, "it is larger than 4 MiB")),
            (200..300, Text::Broken) => Err(Refused::unsure("the answer broke off")),
            (200..300, Text::Whole(bytes)) if bytes.is_empty() => Ok(Value::Null),
            (200..300, Text::Whole(_)) => self
                .json()
                .ok_or_else(|| Refused::nonsense(status, "it is not JSON")),
            (400.., Text::Whole(bytes)) if !bytes.is_empty() => Err(self.no()),
            (400.., _) => Err(Refused::no(status, 0, "it gave no reason")),
            _ => Err(Refused::nonsense(status, "it is no answer")),
        }
    }

    fn no(&self) -> Refused {
        let Some(Value::Object(json)) = self.json() else {
            return Refused::nonsense(self.status, "it is not JSON");
        };
        let code = json.get("code").and_then(Value::as_i64).unwrap_or(0);
        let said = json
            .get("message")
            .and_then(Value::as_str)
            .unwrap_or("it gave no reason");
        Refused::no(self.status, code, said)
    }
}

/// A wait in seconds, as far as it can be believed.
fn seconds(seconds: f64) -> Option<Duration> {
    let is_wait = seconds.is_finite() && seconds >= 0.0;
    is_wait.then(|| {
        Duration::try_from_secs_f64(seconds).map_or(WAIT_BELIEVED_MAX, |wait| wait.min(WAIT_BELIEVED_MAX))
    })
}
