//! The world of one run: processes of the real parts on one store, one chat, one clock.

use std::sync::Arc;

use jiff::{SignedDuration, Timestamp};
use wrackline::chat::blocks::Answer;
use wrackline::clock::{Clock, SetClock};
use wrackline::commands::init::make_place;
use wrackline::engine;
use wrackline::house::{House, Said};
use wrackline::outbox::Dispatcher;
use wrackline::replay::carers::Dice;
use wrackline::shelf::Shelf;
use wrackline::store::sqlite::SqliteStore;
use wrackline::store::{PlaceId, Store};
use wrackline::words::Words;
use wrackline_core::civil::Zone;
use wrackline_tests::faults::{FaultyChat, FaultyStore, Gate, Lane, Ledger, take_turns};

/// A clock that is ahead of another.
struct Ahead {
    of: Arc<SetClock>,
    by_ms: i64,
}

impl Clock for Ahead {
    fn now(&self) -> Timestamp {
        self.of
            .now()
            .saturating_add(SignedDuration::from_millis(self.by_ms))
            .expect("a moment")
    }
}

/// One process: what it holds in hand is lost when it dies.
pub(super) struct Process {
    number: usize,
    pub(super) store: Arc<FaultyStore>,
    pub(super) house: Arc<House>,
    dispatcher: Dispatcher,
}

/// What a process is to do.
pub(super) enum Job {
    /// Hear this.
    Hear(Said),
    /// One step of the engine.
    Engine,
    /// One step of the dispatcher.
    Dispatch,
}

/// What came of a job.
#[derive(Debug)]
pub(super) enum Outcome {
    /// It was answered.
    Answered(Answer),
    /// So much was dealt with.
    Dealt(usize),
    /// The store failed.
    Failed(String),
    /// It met its stop and was dropped.
    Stopped,
}

/// The world.
pub(super) struct World {
    pub(super) clock: Arc<SetClock>,
    pub(super) chat: Arc<FaultyChat>,
    /// The store itself, below all faults.
    pub(super) store: Arc<dyn Store>,
    pub(super) place: PlaceId,
    pub(super) zone: Zone,
    pub(super) ledger: Arc<Ledger>,
    gate: Arc<Gate>,
    pub(super) processes: Vec<Process>,
    skew_ms: i64,
    born: u64,
}

impl World {
    /// A world at a local time with a place whose keeper is Ada, carer 1.
    pub(super) async fn new(zone: Zone, at: Timestamp, window_ms: Option<i64>) -> Self {
        let store: Arc<dyn Store> = Arc::new(SqliteStore::open_memory().await.expect("a store in memory"));
        let (ledger, gate) = (Arc::<Ledger>::default(), Arc::<Gate>::default());
        let clock = Arc::new(SetClock::at(at));
        let chat = Arc::new(FaultyChat::new(clock.clone(), window_ms));
        let before_any = FaultyStore::new(store.clone(), ledger.clone(), gate.clone(), usize::MAX);
        let place = make_place(&before_any, &zone, "Ada", "", true)
            .await
            .expect("a place");
        Self {
            clock,
            chat,
            store,
            place,
            zone,
            ledger,
            gate,
            processes: Vec::new(),
            skew_ms: 0,
            born: 0,
        }
    }

    pub(super) fn now(&self) -> Timestamp {
        self.clock.now()
    }

    /// Starts so many processes anew; those before are dead. The second one's clock is ahead of the first one's.
    pub(super) fn start(&mut self, count: usize, skew_ms: i64) {
        self.skew_ms = skew_ms;
        self.processes = (0..count).map(|number| self.process(number)).collect();
    }

    /// Starts one process anew in the place of the one that died.
    pub(super) fn restart(&mut self, number: usize) {
        self.processes[number] = self.process(number);
    }

    fn process(&mut self, number: usize) -> Process {
        self.born += 1;
        let faulty = Arc::new(FaultyStore::new(
            self.store.clone(),
            self.ledger.clone(),
            self.gate.clone(),
            number,
        ));
        let clock: Arc<dyn Clock> = match number {
            0 => self.clock.clone(),
            _ => Arc::new(Ahead {
                of: self.clock.clone(),
                by_ms: self.skew_ms,
            }),
        };
        let house = Arc::new(House::new(Shelf::new(faulty.clone()), Words::english(), clock));
        let dispatcher = Dispatcher::new(house.clone(), self.chat.clone(), format!("process-{}", self.born));
        Process {
            number,
            store: faulty,
            house,
            dispatcher,
        }
    }

    /// Lets processes do their jobs at the same time, taking turns at the store as the dice fall. There may be one
    /// job a process. What was to go wrong and did not is forgotten afterwards.
    pub(super) async fn work(&mut self, dice: &mut Dice, jobs: Vec<(usize, Job)>) -> Vec<Outcome> {
        let mut outcomes: Vec<Outcome> = jobs.iter().map(|_| Outcome::Stopped).collect();
        let mut lanes = Vec::new();
        let mut free: Vec<Option<&mut Process>> = self.processes.iter_mut().map(Some).collect();
        for ((number, job), outcome) in jobs.into_iter().zip(&mut outcomes) {
            let process = free[number].take().expect("one job a process");
            let Process {
                number,
                store,
                house,
                dispatcher,
            } = process;
            let work = Box::pin(async move { *outcome = done(house, dispatcher, job).await });
            lanes.push(Lane {
                process: *number,
                store,
                work,
            });
        }
        let pick = |count: usize| usize::try_from(dice.between(0, count as i64 - 1)).unwrap_or(0);
        take_turns(&self.gate, lanes, pick).await;
        self.chat.clear();
        outcomes
    }
}

async fn done(house: &Arc<House>, dispatcher: &mut Dispatcher, job: Job) -> Outcome {
    let dealt = match job {
        Job::Hear(said) => return Outcome::Answered(house.hear(said).await),
        Job::Engine => engine::step(house).await,
        Job::Dispatch => dispatcher.step().await,
    };
    dealt.map_or_else(|error| Outcome::Failed(error.to_string()), Outcome::Dealt)
}
