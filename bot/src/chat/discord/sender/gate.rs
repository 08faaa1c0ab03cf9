//! The limit over everything.
//!
//! A request counts from when it was let go until a second after its answer: by then it had arrived, so whatever is
//! let go afterwards arrives more than a second later, however long each was on its way. After a limit that the platform
//! named, one request tries alone before the others follow at an even pace.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use tokio::sync::{Mutex as Turn, OwnedMutexGuard};

use super::patience::Patience;
use super::refusal::Refused;
use crate::clock;

/// What the limit counts over, and a little more: clocks do not run alike.
const PERIOD: Duration = Duration::from_millis(1_005);

/// How often is looked for an answer while a whole second's worth is on its way.
const LOOK: Duration = Duration::from_millis(5);

/// The limit over everything.
pub(super) struct Gate {
    per_s: usize,
    /// Whoever holds it is next; the others wait in the order of their arrival.
    turn: Arc<Turn<()>>,
    state: Arc<Mutex<State>>,
}

#[derive(Default)]
struct State {
    /// How many requests are on their way.
    on_way: usize,
    /// When the last requests were answered, the oldest first.
    answers: VecDeque<Instant>,
    /// When the last request was let go.
    last: Option<Instant>,
    /// Nothing goes before.
    closed_until: Option<Instant>,
    /// A limit was named and nobody has found it over yet.
    is_trying: bool,
    /// Requests keep an even distance before.
    paced_until: Option<Instant>,
}

/// A permission to send one request now, to be dropped when it was answered. Who tries alone keeps the others back
/// until then.
pub(super) struct Pass {
    alone: Option<OwnedMutexGuard<()>>,
    state: Arc<Mutex<State>>,
}

impl Drop for Pass {
    fn drop(&mut self) {
        let mut state = self.state.lock().unwrap_or_else(PoisonError::into_inner);
        state.on_way -= 1;
        state.answers.push_back(clock::monotonic());
    }
}

impl Gate {
    pub(super) fn new(per_s: u16) -> Self {
        Self {
            per_s: usize::from(per_s),
            turn: Arc::default(),
            state: Arc::default(),
        }
    }

    /// Waits until one request may be sent.
    pub(super) async fn pass(&self, patience: &Patience) -> Result<Pass, Refused> {
        bear(self.closed_for(), patience)?;
        let turn = tokio::time::timeout(patience.wait(), self.turn.clone().lock_owned())
            .await
            .map_err(|_| Refused::later(None, "too many calls are waiting"))?;
        loop {
            let wait = match self.with(|state| state.take(clock::monotonic(), self.per_s)) {
                Ok(is_alone) => {
                    return Ok(Pass {
                        alone: is_alone.then_some(turn),
                        state: self.state.clone(),
                    });
                }
                Err(wait) => wait,
            };
            bear(wait, patience)?;
            clock::wait(wait).await;
        }
    }

    /// The platform named a limit over everything.
    pub(super) fn close(&self, until: Instant) {
        self.with(|state| {
            state.closed_until = state.closed_until.max(Some(until));
            state.is_trying = true;
        });
    }

    /// A request was answered by something else than a limit over everything.
    pub(super) fn answered(&self, pass: Pass) {
        if pass.alone.is_some() {
            self.with(|state| {
                let now = clock::monotonic();
                state.is_trying = state.closed_until.is_some_and(|until| until > now);
                state.paced_until = Some(now + PERIOD);
            });
        }
    }

    fn closed_for(&self) -> Duration {
        let until = self.with(|state| state.closed_until);
        until.map_or(Duration::ZERO, |until| {
            until.saturating_duration_since(clock::monotonic())
        })
    }

    fn with<T>(&self, work: impl FnOnce(&mut State) -> T) -> T {
        work(&mut self.state.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

impl State {
    /// Takes a permission, and says whether it is to be alone; or how long to wait before asking again.
    fn take(&mut self, now: Instant, per_s: usize) -> Result<bool, Duration> {
        let left =
            |moment: Instant| Some(moment.saturating_duration_since(now)).filter(|left| !left.is_zero());
        if let Some(wait) = self.closed_until.and_then(left) {
            return Err(wait);
        }
        while self
            .answers
            .front()
            .is_some_and(|one| left(*one + PERIOD).is_none())
        {
            self.answers.pop_front();
        }
        if self.on_way + self.answers.len() >= per_s {
            return Err(self
                .answers
                .front()
                .and_then(|one| left(*one + PERIOD))
                .unwrap_or(LOOK));
        }
        if self.paced_until.and_then(left).is_some() {
            let distance = PERIOD / u32::try_from(per_s).unwrap_or(u32::MAX);
            if let Some(wait) = self.last.and_then(|sent| left(sent + distance)) {
                return Err(wait);
            }
        }
        self.on_way += 1;
        self.last = Some(now);
        Ok(self.is_trying)
    }
}

/// Whether a wait is not too long.
fn bear(wait: Duration, patience: &Patience) -> Result<(), Refused> {
    if wait <= patience.wait() {
        return Ok(());
    }
    Err(Refused::later(Some(wait), "the limit over everything is reached"))
}
