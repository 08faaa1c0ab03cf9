//! Calls of the platform's interface, within its limits.

use std::sync::Arc;

use reqwest::header::HeaderValue;
use serde_json::Value;

use crate::config::Broken;

mod base;
mod call;
mod counts;
mod files;
mod limits;
mod refusal;
mod route;
mod token;

pub use base::BaseUrl;
pub use call::{Call, Method};
pub use counts::Counts;
pub use limits::Limits;
pub use refusal::Refused;
pub use token::Token;

use counts::Tally;

/// Sends calls; cheap to clone.
#[derive(Clone)]
pub struct Sender(Arc<Inner>);

struct Inner {
    base: BaseUrl,
    #[allow(dead_code)]
    token: Token,
    signature: HeaderValue,
    limits: Limits,
    client: reqwest::Client,
    tally: Tally,
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
        Ok(Self(Arc::new(Inner {
            base: base.clone(),
            signature: token.header()?,
            token,
            limits,
            client: reqwest::Client::builder()
                .build()
                .map_err(|_| Broken("no".to_owned()))?,
            tally: Tally::default(),
        })))
    }

    /// Makes a call and gives the answer, `Null` when it is empty.
    ///
    /// # Errors
    /// See [`Refused`].
    pub async fn call(&self, call: Call) -> Result<Value, Refused> {
        let url = self
            .0
            .base
            .join(&call.path)
            .ok_or_else(|| Refused::no(400, 0, "That path is none of the platform's"))?;
        let answer = self
            .0
            .client
            .get(url)
            .header("authorization", self.0.signature.clone())
            .timeout(self.0.limits.request_max)
            .send()
            .await
            .map_err(|error| Refused::unsure(error.without_url().to_string()))?;
        let text = answer.text().await.unwrap_or_default();
        serde_json::from_str(&text).map_err(|_| Refused::nonsense(200, refusal::line(&text)))
    }

    /// What was sent and what became of it.
    #[must_use]
    pub fn counts(&self) -> Counts {
        self.0.tally.read()
    }
}
