//! What the double keeps behind its lock, and how those who wait hear of a change.

use std::net::SocketAddr;
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use serde_json::Value;
use tokio::sync::watch;

use super::DoubleConfig;
use super::gateway::Gateway;
use super::limits::{Limits, Pace};
use super::record::{Fault, Record, Verdict};
use super::trouble::Troubles;
use super::world::World;

/// Everything that changes.
#[derive(Debug)]
pub(super) struct State {
    pub(super) world: World,
    pub(super) record: Record,
    pub(super) limits: Limits,
    pub(super) pace: Pace,
    pub(super) troubles: Troubles,
    pub(super) gateway: Gateway,
}

/// The state with what never changes.
#[derive(Debug)]
pub(super) struct Shared {
    pub(super) config: DoubleConfig,
    pub(super) address: SocketAddr,
    started: Instant,
    state: Mutex<State>,
    changed: watch::Sender<u64>,
}

impl Shared {
    pub(super) fn new(config: DoubleConfig, address: SocketAddr) -> Self {
        let state = State {
            world: World::new(config.base_ms, &config.name, format!("http://{address}")),
            record: Record::default(),
            limits: config.limits.clone(),
            pace: Pace::default(),
            troubles: Troubles::default(),
            gateway: Gateway::new(config.gateway.clone()),
        };
        Self {
            config,
            address,
            started: Instant::now(),
            state: Mutex::new(state),
            changed: watch::Sender::new(0),
        }
    }

    /// Where the gateway is.
    pub(super) fn gateway_url(&self) -> String {
        format!("ws://{}", self.address)
    }

    /// Since the start.
    pub(super) fn now(&self) -> Duration {
        self.started.elapsed()
    }

    fn lock(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Changes something, and wakes those who wait for a change.
    pub(super) fn with<T>(&self, change: impl FnOnce(&mut State) -> T) -> T {
        let result = change(&mut self.lock());
        self.changed.send_modify(|version| *version += 1);
        result
    }

    /// Looks at something.
    pub(super) fn look<T>(&self, look: impl FnOnce(&State) -> T) -> T {
        look(&self.lock())
    }

    /// Waits until there is something to be found; none when it takes longer than the configured patience.
    /// The state is locked meanwhile: `find` may not ask the double itself.
    pub(super) async fn until<T>(&self, find: impl Fn(&State) -> Option<T>) -> Option<T> {
        let mut changes = self.changed.subscribe();
        let waiting = async {
            loop {
                changes.borrow_and_update();
                if let Some(found) = self.look(&find) {
                    return found;
                }
                if changes.changed().await.is_err() {
                    std::future::pending::<()>().await;
                }
            }
        };
        tokio::time::timeout(self.config.patience, waiting).await.ok()
    }
}

impl State {
    /// Notes a fault of the client's.
    pub(super) fn fault(
        &mut self,
        at: Duration,
        (method, path): (&str, &str),
        body: Option<Value>,
        verdicts: Vec<Verdict>,
    ) {
        self.record.faults.push(Fault {
            at,
            method: method.to_owned(),
            path: path.to_owned(),
            body,
            verdicts,
        });
    }
}
