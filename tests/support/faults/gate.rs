//! Turns: of several processes exactly one is let into the store at a time, in an order that chance draws and a
//! seed repeats.

use std::collections::BTreeSet;
use std::future::{Future, poll_fn};
use std::pin::Pin;
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::task::Poll;

use super::FaultyStore;

#[derive(Debug, Default)]
struct State {
    is_closed: bool,
    waiting: BTreeSet<usize>,
    let_in: Option<usize>,
}

/// The gate before a store. It stands open but while [`take_turns`] runs.
#[derive(Debug, Default)]
pub struct Gate(Mutex<State>);

impl Gate {
    fn state(&self) -> MutexGuard<'_, State> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Waits to be let in. Nobody is woken: [`take_turns`] looks again at whom it lets in.
    pub(super) async fn pass(&self, process: usize) {
        poll_fn(|_| {
            let mut state = self.state();
            if !state.is_closed || state.let_in == Some(process) {
                state.let_in = None;
                state.waiting.remove(&process);
                return Poll::Ready(());
            }
            state.waiting.insert(process);
            Poll::Pending
        })
        .await;
    }

    fn set_closed(&self, is_closed: bool) {
        *self.state() = State {
            is_closed,
            ..State::default()
        };
    }

    fn let_in(&self, process: usize) {
        self.state().let_in = Some(process);
    }

    fn is_waiting(&self, process: usize) -> bool {
        let state = self.state();
        state.waiting.contains(&process) && state.let_in != Some(process)
    }
}

/// What one process does while it takes turns with others.
pub struct Lane<'a> {
    /// The process: the number that its store was made with.
    pub process: usize,
    /// Its store, which knows when the process has stopped.
    pub store: &'a FaultyStore,
    /// What it does.
    pub work: Pin<Box<dyn Future<Output = ()> + 'a>>,
}

/// Does the work of all lanes, one store call of one of them at a time; `pick` draws whose turn it is among so many.
/// Returns for every lane whether it came to its end; one that did not has met its crash and was dropped there.
///
/// # Panics
/// When two lanes are of one process: they would wait for each other.
pub async fn take_turns(
    gate: &Gate,
    lanes: Vec<Lane<'_>>,
    mut pick: impl FnMut(usize) -> usize,
) -> Vec<bool> {
    let processes: BTreeSet<usize> = lanes.iter().map(|lane| lane.process).collect();
    assert_eq!(processes.len(), lanes.len(), "two lanes of one process");
    let mut ended: Vec<Option<bool>> = lanes.iter().map(|_| None).collect();
    let mut lanes: Vec<Option<Lane<'_>>> = lanes.into_iter().map(Some).collect();
    gate.set_closed(true);
    let mut current = None;
    poll_fn(|context| {
        loop {
            let open: Vec<usize> = (0..lanes.len()).filter(|index| lanes[*index].is_some()).collect();
            if open.is_empty() {
                return Poll::Ready(());
            }
            let index = *current.get_or_insert_with(|| open[pick(open.len()) % open.len()]);
            let Some(lane) = &mut lanes[index] else {
                current = None;
                continue;
            };
            if gate.is_waiting(lane.process) {
                gate.let_in(lane.process);
            }
            let is_done = lane.work.as_mut().poll(context).is_ready();
            if is_done || lane.store.has_stopped() {
                ended[index] = Some(is_done);
                (lanes[index], current) = (None, None);
            } else if gate.is_waiting(lane.process) {
                current = None;
            } else {
                return Poll::Pending;
            }
        }
    })
    .await;
    gate.set_closed(false);
    ended.into_iter().map(|end| end == Some(true)).collect()
}
