//! Calls of the platform's interface, within its limits.
//!
//! A call waits for its bucket's turn (`queue`), for limits the platform named (`closed`) and for the limit over
//! everything (`gate`); then it is sent (`client`) and its answer judged (`answer`). What the platform limits
//! for a short while is sent again; whatever else fails is the caller's to repeat.

use std::fmt;
use std::sync::{Arc, OnceLock};

use reqwest::header::HeaderValue;
use serde_json::Value;

use crate::config::Broken;

mod answer;
mod base;
mod body;
mod call;
mod client;
mod closed;
mod counts;
mod files;
mod gate;
mod guard;
mod limits;
mod patience;
mod queue;
mod refusal;
mod route;
mod send;
#[cfg(test)]
mod tests;
mod token;

pub use base::BaseUrl;
pub use call::{Call, Method, Upload};
pub use counts::Counts;
pub use limits::Limits;
pub use refusal::Refused;
pub use token::Token;

use closed::Closed;
use counts::{Tally, add};
use gate::Gate;
use guard::Guard;
use queue::Queue;

/// Sends calls; cheap to clone, and all clones share their limits.
#[derive(Clone)]
pub struct Sender(Arc<Inner>);

struct Inner {
    base: BaseUrl,
    token: Token,
    signature: HeaderValue,
    limits: Limits,
    client: reqwest::Client,
    queue: Queue,
    closed: Closed,
    gate: Gate,
    guard: Guard,
    /// What the platform said when it refused the token; from then on no signed call is made.
    token_refused: OnceLock<Refused>,
    tally: Tally,
}

impl fmt::Debug for Sender {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let host = self.0.base.host();
        f.debug_struct("Sender")
            .field("host", &host)
            .finish_non_exhaustive()
    }
}

impl Sender {
    /// A sender with the default limits.
    ///
    /// # Errors
    /// A sentence when no requests can be made with these settings.
    pub fn new(base: &BaseUrl, token: Token) -> Result<Self, Broken> {
        Self::with_limits(base, token, Limits::default())
    }

    /// A sender with limits of one's own.
    ///
    /// # Errors
    /// A sentence when no requests can be made with these settings.
    pub fn with_limits(base: &BaseUrl, token: Token, limits: Limits) -> Result<Self, Broken> {
        Self::guarded(base, token, limits, Guard::default())
    }

    fn guarded(base: &BaseUrl, token: Token, limits: Limits, guard: Guard) -> Result<Self, Broken> {
        let per_s = limits.global_per_s.get();
        Ok(Self(Arc::new(Inner {
            base: base.clone(),
            signature: token.header()?,
            token,
            limits,
            client: client::build(base, limits.request_max)?,
            queue: Queue::default(),
            closed: Closed::default(),
            gate: Gate::new(per_s),
            guard,
            token_refused: OnceLock::new(),
            tally: Tally::default(),
        })))
    }

    /// Makes a call and gives the answer, `Null` when it is empty. It must be awaited within tokio.
    ///
    /// # Errors
    /// See [`Refused`]. A path that is none of the platform's is `No` with status 400.
    pub async fn call(&self, call: Call) -> Result<Value, Refused> {
        let mut sends = 0;
        let result = self.0.run(&call, &mut sends).await;
        let result = result.map_err(|refused| self.0.without_secrets(&call, refused));
        let tally = &self.0.tally;
        add(match &result {
            Ok(_) => &tally.answered,
            Err(Refused::No { .. }) => &tally.refused,
            Err(Refused::Later { .. }) if sends == 0 => &tally.held,
            Err(Refused::Later { .. }) => &tally.failed,
            Err(Refused::Unsure { .. }) => &tally.unsure,
            Err(Refused::Nonsense { .. }) => &tally.nonsense,
        });
        result
    }

    /// The connections, for the library that keeps the gateway: it asks where that is, and shares what they cost.
    pub(in crate::chat::discord) fn client(&self) -> reqwest::Client {
        self.0.client.clone()
    }

    /// What was sent and what became of it.
    #[must_use]
    pub fn counts(&self) -> Counts {
        self.0.tally.read()
    }
}
