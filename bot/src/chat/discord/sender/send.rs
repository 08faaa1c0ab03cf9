//! A call's way: waits, the network, and again.

use serde_json::Value;

use super::Inner;
use super::answer::{Answer, Scope};
use super::call::Call;
use super::client::{self, Request};
use super::counts::add;
use super::gate::Pass;
use super::limits::SENDS_MAX;
use super::patience::Patience;
use super::queue::Held;
use super::refusal::{Refused, line};
use super::route::{self, Route};

impl Inner {
    /// Makes a call; `sends` counts how often it went out.
    pub(super) async fn run(&self, call: &Call, sends: &mut u32) -> Result<Value, Refused> {
        let url = self.base.join(&call.path);
        let url = url.ok_or_else(|| Refused::no(400, 0, "this path is none of the platform's"))?;
        let form = call.form();
        let route = Route::of(call.method, &call.path);
        let patience = Patience::new(&self.limits, call.within);
        self.check(call)?;
        // An interaction is answered once, so there is no one to take turns with, and within 3 s: the limiter would
        // put all answers into one queue.
        let mut held = None;
        if call.sign || !route.is_callback() {
            held = Some(self.queue.turn(&route, &patience).await?);
        }
        loop {
            let pass = self.may_go(call, &route, &patience).await?;
            let within = patience.request();
            if within.is_zero() {
                return Err(Refused::later(None, "the time is up"));
            }
            *sends += 1;
            add(&self.tally.sent);
            let request = Request {
                method: call.method,
                url: url.clone(),
                form: form.as_ref().map(|(kind, body)| (kind.as_str(), body.as_slice())),
                signature: call.sign.then(|| self.signature.clone()),
                within,
            };
            let answer = Answer::read(client::send(&self.client, request).await?).await;
            let (method, path, status) = (call.method, route.shown(), answer.status);
            tracing::debug!(?method, path, status, "answered");
            if answer.status != 429 {
                if let Some(pass) = pass {
                    self.gate.answered(pass);
                }
                self.give_back(held, &route, &answer);
                return self.judge(call, &answer);
            }
            self.limited(&route, &answer, pass, &patience, *sends)?;
        }
    }

    /// Whether anything is against making a call at all.
    fn check(&self, call: &Call) -> Result<(), Refused> {
        match self.token_refused.get() {
            Some(refused) if call.sign => Err(refused.clone()),
            _ => self.guard.check(),
        }
    }

    /// Waits until a request may go out this moment.
    async fn may_go(&self, call: &Call, route: &Route, patience: &Patience) -> Result<Option<Pass>, Refused> {
        loop {
            self.closed.wait(route, patience).await?;
            let pass = if call.sign || !route.is_interaction() {
                Some(self.gate.pass(patience).await?)
            } else {
                None
            };
            // The wait at the gate may have been long.
            self.check(call)?;
            if self.closed.left(route).is_zero() {
                return Ok(pass);
            }
        }
    }

    /// Takes note of a limit; an error when it is not to be waited for.
    fn limited(
        &self,
        route: &Route,
        answer: &Answer,
        pass: Option<Pass>,
        patience: &Patience,
        sends: u32,
    ) -> Result<(), Refused> {
        let limited = answer.limited();
        let (path, scope) = (route.shown(), limited.scope);
        tracing::info!(path, ?scope, wait = ?limited.wait, "the platform limits us");
        add(&self.tally.refused_429);
        if limited.scope != Scope::Shared {
            self.guard.count();
        }
        if let Some(name) = answer.bucket_name() {
            self.closed.learn(route, name);
        }
        let is_global = limited.scope == Scope::Global;
        if is_global {
            self.gate.close(limited.until);
        }
        if !is_global || pass.is_none() {
            self.closed.close(route, limited.until);
        }
        if let Some(pass) = pass.filter(|_| !is_global) {
            self.gate.answered(pass);
        }
        if limited.wait > patience.wait() || sends >= SENDS_MAX {
            return Err(Refused::later(
                Some(limited.wait),
                "the platform's limit for this is reached",
            ));
        }
        Ok(())
    }

    /// Gives the turn back with what the answer said of its bucket.
    fn give_back(&self, held: Option<Held>, route: &Route, answer: &Answer) {
        let bucket = answer.bucket();
        if let Some((headers, reset_after)) = &bucket {
            self.closed.learn(route, &headers.bucket);
            if headers.remaining == 0 && *reset_after > self.limits.wait_max {
                // Nobody waits that long: who stands in the queue is to be told now, not when their time is up.
                self.closed.close(route, headers.reset_at);
                return;
            }
        }
        if let Some(held) = held {
            held.back(bucket.map(|(headers, _)| headers));
        }
    }

    fn judge(&self, call: &Call, answer: &Answer) -> Result<Value, Refused> {
        let result = answer.judge();
        if matches!(answer.status, 401 | 403) {
            self.guard.count();
        }
        if answer.status == 401 && call.sign {
            let said = match &result {
                Err(refused @ Refused::No { .. }) => refused.clone(),
                _ => Refused::no(401, 0, "the token is refused"),
            };
            if self.token_refused.set(said).is_ok() {
                tracing::error!(
                    "the platform refuses the token; no signed call is made until the next start"
                );
            }
        }
        result
    }

    /// What was said, in one short line, without the token and the path's secret, should somebody have echoed them.
    pub(super) fn without_secrets(&self, call: &Call, refused: Refused) -> Refused {
        let clean = |text: String| {
            let text = self.token.scrub(&text);
            route::secret(&call.path).map_or(text.clone(), |secret| text.replace(secret, "…"))
        };
        match refused {
            Refused::No { status, code, said } => Refused::no(status, code, line(&clean(said))),
            Refused::Later { wait, why } => Refused::later(wait, clean(why)),
            Refused::Unsure { why } => Refused::unsure(clean(why)),
            Refused::Nonsense { status, why } => Refused::nonsense(status, clean(why)),
        }
    }
}
