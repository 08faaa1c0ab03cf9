//! A store whose calls fail to order: before anything happened, after it happened, or by the death of the process.

use std::collections::BTreeMap;
use std::future::Future;
use std::path::Path;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use async_trait::async_trait;
use wrackline::store::{
    CalendarRow, Change, Head, PhotoRow, PlaceId, PorchRow, PostRow, Result, ServerRow, Settled, StandingRow,
    Store, StoreError, Tail,
};

use super::{Gate, Ledger};

/// What a failing store says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// Another writer held the lock for too long.
    Locked,
    /// The disk is full.
    Full,
    /// The connection broke.
    Broken,
}

impl Trouble {
    fn error(self) -> StoreError {
        match self {
            Self::Locked => StoreError::Locked,
            Self::Full => StoreError::Full,
            Self::Broken => StoreError::Other {
                doing: "being tested",
                source: "the connection broke".into(),
            },
        }
    }
}

/// How one call goes wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fault {
    /// It fails, and nothing happened.
    Before(Trouble),
    /// It happened, but its reply is lost.
    After(Trouble),
    /// Whoever called stops before it: it never comes back, and nothing happened.
    StopBefore,
    /// Whoever called stops after it: it happened, and never comes back.
    StopAfter,
}

#[derive(Debug, Default)]
struct Plan {
    calls: u64,
    at: BTreeMap<u64, Fault>,
    down: Option<Trouble>,
    has_stopped: bool,
    met: u64,
    writes: Vec<u64>,
}

/// A store as one process sees it.
pub struct FaultyStore {
    inner: Arc<dyn Store>,
    ledger: Arc<Ledger>,
    gate: Arc<Gate>,
    process: usize,
    plan: Mutex<Plan>,
}

impl FaultyStore {
    /// The store of a process, without faults yet.
    #[must_use]
    pub fn new(inner: Arc<dyn Store>, ledger: Arc<Ledger>, gate: Arc<Gate>, process: usize) -> Self {
        Self {
            inner,
            ledger,
            gate,
            process,
            plan: Mutex::default(),
        }
    }

    fn plan(&self) -> MutexGuard<'_, Plan> {
        self.plan.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Lets the call that is so many calls away (0: the next one) go wrong.
    pub fn fault_in(&self, away: u64, fault: Fault) {
        let mut plan = self.plan();
        let at = plan.calls + away;
        plan.at.insert(at, fault);
    }

    /// Takes back what was to go wrong, and lets those who come after a stop go on.
    pub fn clear(&self) {
        let mut plan = self.plan();
        plan.at.clear();
        plan.has_stopped = false;
    }

    /// Lets every call fail beforehand from now on, or none any more.
    pub fn set_down(&self, down: Option<Trouble>) {
        self.plan().down = down;
    }

    /// How many calls there were.
    #[must_use]
    pub fn calls(&self) -> u64 {
        self.plan().calls
    }

    /// The numbers of the calls that write, from 0.
    #[must_use]
    pub fn writes(&self) -> Vec<u64> {
        self.plan().writes.clone()
    }

    /// How many calls went wrong.
    #[must_use]
    pub fn met(&self) -> u64 {
        self.plan().met
    }

    /// Whether a caller met its stop: whatever it was doing is to be dropped.
    #[must_use]
    pub fn has_stopped(&self) -> bool {
        self.plan().has_stopped
    }

    /// A call that writes.
    async fn written<T>(&self, call: impl Future<Output = Result<T>> + Send) -> Result<T> {
        let writing = async {
            self.note_write();
            call.await
        };
        self.through(writing).await
    }

    fn note_write(&self) {
        let mut plan = self.plan();
        let number = plan.calls - 1;
        plan.writes.push(number);
        self.ledger.count();
    }

    async fn through<T>(&self, call: impl Future<Output = Result<T>> + Send) -> Result<T> {
        self.gate.pass(self.process).await;
        let fault = {
            let mut plan = self.plan();
            let number = plan.calls;
            plan.calls += 1;
            let fault = plan.at.remove(&number).or(plan.down.map(Fault::Before));
            plan.met += u64::from(fault.is_some());
            fault
        };
        match fault {
            Some(Fault::Before(trouble)) => return Err(trouble.error()),
            Some(Fault::StopBefore) => self.stop().await,
            _ => {}
        }
        let done = call.await;
        match fault {
            Some(Fault::After(trouble)) => Err(trouble.error()),
            Some(Fault::StopAfter) => {
                self.stop().await;
                done
            }
            _ => done,
        }
    }

    /// Never comes back: who called is dropped here.
    async fn stop(&self) {
        self.plan().has_stopped = true;
        std::future::pending::<()>().await;
    }
}

#[async_trait]
impl Store for FaultyStore {
    async fn create_place(&self, practice: bool, change: &Change) -> Result<PlaceId> {
        self.written(async {
            let place = self.inner.create_place(practice, change).await?;
            self.ledger.commit(place, 1, change);
            Ok(place)
        })
        .await
    }

    async fn places(&self) -> Result<Vec<PlaceId>> {
        self.through(self.inner.places()).await
    }

    async fn head(&self, place: PlaceId) -> Result<Option<Head>> {
        self.through(self.inner.head(place)).await
    }

    async fn tail(&self, place: PlaceId, after_seq: i64) -> Result<Tail> {
        self.through(self.inner.tail(place, after_seq)).await
    }

    async fn commit(&self, place: PlaceId, expected_version: i64, change: &Change) -> Result<i64> {
        self.written(async {
            let version = self.inner.commit(place, expected_version, change).await?;
            self.ledger.commit(place, version, change);
            Ok(version)
        })
        .await
    }

    async fn inbound(&self, place: PlaceId, id: &str) -> Result<Option<String>> {
        self.through(self.inner.inbound(place, id)).await
    }

    async fn known_keys(&self, place: PlaceId, keys: &[String]) -> Result<Vec<String>> {
        self.through(self.inner.known_keys(place, keys)).await
    }

    async fn posts(&self, place: PlaceId, since_ms: i64) -> Result<Vec<PostRow>> {
        self.through(self.inner.posts(place, since_ms)).await
    }

    async fn post(&self, place: PlaceId, id: i64) -> Result<Option<PostRow>> {
        self.through(self.inner.post(place, id)).await
    }

    async fn standings(&self, place: PlaceId) -> Result<Vec<StandingRow>> {
        self.through(self.inner.standings(place)).await
    }

    async fn photo(&self, place: PlaceId, seq: i64) -> Result<Option<PhotoRow>> {
        self.through(self.inner.photo(place, seq)).await
    }

    async fn due_places(&self, now_ms: i64, limit: i64) -> Result<Vec<PlaceId>> {
        self.through(self.inner.due_places(now_ms, limit)).await
    }

    async fn next_moment(&self) -> Result<Option<i64>> {
        self.through(self.inner.next_moment()).await
    }

    async fn claim(&self, now_ms: i64, lease_until_ms: i64, lease: &str, limit: i64) -> Result<Vec<PostRow>> {
        self.written(self.inner.claim(now_ms, lease_until_ms, lease, limit))
            .await
    }

    async fn settle(&self, place: PlaceId, post: i64, lease: &str, settled: &Settled) -> Result<bool> {
        self.written(async {
            let was_held = self.inner.settle(place, post, lease, settled).await?;
            if was_held {
                self.ledger.settle(post, settled);
            }
            Ok(was_held)
        })
        .await
    }

    async fn porch_add(
        &self,
        place: PlaceId,
        key: &str,
        at_ms: i64,
        only_for: Option<u32>,
        body: &str,
    ) -> Result<PorchRow> {
        self.written(self.inner.porch_add(place, key, at_ms, only_for, body))
            .await
    }

    async fn porch_edit(&self, place: PlaceId, id: i64, body: &str) -> Result<Option<PorchRow>> {
        self.written(self.inner.porch_edit(place, id, body)).await
    }

    async fn porch_after(&self, place: PlaceId, revision: i64, limit: i64) -> Result<Vec<PorchRow>> {
        self.through(self.inner.porch_after(place, revision, limit)).await
    }

    async fn key_put(&self, place: PlaceId, carer: u32, hash: &str, once: bool, until_ms: i64) -> Result<()> {
        self.written(self.inner.key_put(place, carer, hash, once, until_ms))
            .await
    }

    async fn key_use(&self, hash: &str, now_ms: i64) -> Result<Option<(PlaceId, u32)>> {
        self.written(self.inner.key_use(hash, now_ms)).await
    }

    async fn calendar_put(
        &self,
        place: PlaceId,
        carer: u32,
        hash: &str,
        alarm_min: Option<i64>,
        seed: &str,
    ) -> Result<()> {
        self.written(self.inner.calendar_put(place, carer, hash, alarm_min, seed))
            .await
    }

    async fn calendar_end(&self, place: PlaceId, carer: u32) -> Result<bool> {
        self.written(self.inner.calendar_end(place, carer)).await
    }

    async fn calendar_of(&self, place: PlaceId, carer: u32) -> Result<Option<Option<i64>>> {
        self.through(self.inner.calendar_of(place, carer)).await
    }

    async fn calendar(&self, hash: &str) -> Result<Option<CalendarRow>> {
        self.through(self.inner.calendar(hash)).await
    }

    async fn place_of_server(&self, server: i64) -> Result<Option<PlaceId>> {
        self.through(self.inner.place_of_server(server)).await
    }

    async fn server_of(&self, place: PlaceId) -> Result<Option<ServerRow>> {
        self.through(self.inner.server_of(place)).await
    }

    async fn servers(&self) -> Result<Vec<(PlaceId, ServerRow)>> {
        self.through(self.inner.servers()).await
    }

    async fn carer_of(&self, place: PlaceId, account: i64) -> Result<Option<u32>> {
        self.through(self.inner.carer_of(place, account)).await
    }

    async fn accounts(&self, place: PlaceId) -> Result<Vec<(u32, i64)>> {
        self.through(self.inner.accounts(place)).await
    }

    async fn kept(&self, name: &str) -> Result<Option<String>> {
        self.through(self.inner.kept(name)).await
    }

    async fn keep(&self, name: &str, value: &str) -> Result<()> {
        self.written(self.inner.keep(name, value)).await
    }

    async fn forget_photos(&self, before_ms: i64) -> Result<u64> {
        self.written(self.inner.forget_photos(before_ms)).await
    }

    async fn backup(&self, file: &Path) -> Result<()> {
        self.through(self.inner.backup(file)).await
    }

    async fn close(&self) {
        self.inner.close().await;
    }
}
