//! The limiter's queues, one for each bucket, each with one request on its way.

use std::sync::OnceLock;

use tokio::runtime::Handle;
use twilight_http_ratelimiting::{Permit, RateLimitHeaders, RateLimiter};

use super::patience::Patience;
use super::refusal::Refused;
use super::route::Route;

/// The limiter; its task begins with the first call, so that a sender can be made anywhere.
#[derive(Default)]
pub(super) struct Queue {
    limiter: OnceLock<RateLimiter>,
}

impl Queue {
    /// Waits for a route's turn.
    pub(super) async fn turn(&self, route: &Route, patience: &Patience) -> Result<Held, Refused> {
        // The limit over everything is the gate's alone; counted here as well, by whole seconds, it would only delay.
        let limiter = self.limiter.get_or_init(|| RateLimiter::new(u16::MAX));
        let permit = tokio::time::timeout(patience.wait(), limiter.acquire(route.endpoint()))
            .await
            .map_err(|_| Refused::later(None, "too many calls of this kind are waiting"))?;
        Ok(Held(Some(permit)))
    }
}

/// A turn; the next one of its bucket comes when it is given back.
pub(super) struct Held(Option<Permit>);

impl Held {
    /// Gives the turn back with what the answer said of the bucket.
    pub(super) fn back(mut self, headers: Option<RateLimitHeaders>) {
        if let Some(permit) = self.0.take() {
            permit.complete(headers);
        }
    }
}

impl Drop for Held {
    /// A call that ends early gives its turn back as well: a permit that is only dropped counts as not sent. It is given
    /// back by a task, because giving back panics when the limiter is gone, as it may be at the process's end.
    fn drop(&mut self) {
        if let (Some(permit), Ok(runtime)) = (self.0.take(), Handle::try_current()) {
            runtime.spawn(async move { permit.complete(None) });
        }
    }
}
