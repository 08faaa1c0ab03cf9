//! The limit over everything.
//!
//! The limiter counts permissions by whole seconds, so two full seconds' worth may meet at the edge, and it knows
//! nothing of a limit the platform names. This gate counts what is truly sent, over any one second, and after a limit
//! lets one request try alone before the others follow one by one.

use std::collections::VecDeque;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use tokio::sync::{Mutex as Turn, OwnedMutexGuard};

use super::patience::Patience;
use super::refusal::Refused;
use crate::clock;

/// What the limit counts over, and a little more: requests that were sent further apart may arrive closer together.
const PERIOD: Duration = Duration::from_millis(1_030);

/// One in so many of a second's worth may go at once; the rest follow at an even pace. A whole second's worth sent in
/// one go arrives packed differently from how it was sent, and the next one runs into the limit.
const AT_ONCE: u32 = 5;

/// The limit over everything.
pub(super) struct Gate {
    per_s: usize,
    /// Whoever holds it is next; the others wait in the order of their arrival.
    turn: Arc<Turn<()>>,
    state: Mutex<State>,
}

#[derive(Default)]
struct State {
    /// When the last requests were sent, the oldest first; never more than `per_s`.
    sends: VecDeque<Instant>,
    /// Nothing goes before.
    closed_until: Option<Instant>,
    /// A limit was named and nobody has found it over yet.
    is_trying: bool,
    /// When the next request would go if all kept an even distance.
    slot: Option<Instant>,
    /// Before this none goes ahead of its slot.
    paced_until: Option<Instant>,
}

/// A permission to send one request now. Who tries alone keeps the others back until it is dropped.
pub(super) struct Pass(Option<OwnedMutexGuard<()>>);

impl Gate {
    pub(super) fn new(per_s: u16) -> Self {
        Self {
            per_s: usize::from(per_s),
            turn: Arc::default(),
            state: Mutex::default(),
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
                Ok(is_alone) => return Ok(Pass(is_alone.then_some(turn))),
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
        if pass.0.is_some() {
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
            .sends
            .front()
            .is_some_and(|sent| left(*sent + PERIOD).is_none())
        {
            self.sends.pop_front();
        }
        if self.sends.len() >= per_s {
            return Err(self
                .sends
                .front()
                .and_then(|sent| left(*sent + PERIOD))
                .unwrap_or_default());
        }
        let per_s = u32::try_from(per_s).unwrap_or(u32::MAX);
        let distance = PERIOD / per_s;
        let is_paced = self.paced_until.and_then(left).is_some();
        let ahead = if is_paced { 0 } else { per_s / AT_ONCE };
        if let Some(wait) = self
            .slot
            .and_then(|slot| left(slot.checked_sub(distance * ahead)?))
        {
            return Err(wait);
        }
        self.slot = Some(self.slot.map_or(now, |slot| slot.max(now)) + distance);
        self.sends.push_back(now);
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
