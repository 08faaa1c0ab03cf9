//! One run: some weather with faults (safety), then some days without any (liveness).

use std::collections::BTreeMap;

use jiff::{SignedDuration, Timestamp, civil};
use wrackline::chat::blocks::Press;
use wrackline::chat::plain;
use wrackline::house::Input;
use wrackline::replay::carers::Dice;
use wrackline_core::civil::plus_days;

use super::deliver::Told;
use super::faults;
use super::swarm::{Rates, Swarm};
use super::trace::Trace;
use super::workload::{self, Deed};
use super::world::{Job, Outcome, World};

/// How long the weather lasts, in days.
const DAYS: i64 = 14;
/// When so many write transactions were begun the weather ends early.
const TRANSACTIONS_MAX: u64 = 1_350;
/// How many days are played without faults.
pub(super) const CALM_DAYS: i64 = 3;
/// After how many lines the stored marks are checked.
const MARKS_EVERY: usize = 40;
/// How often engine and dispatcher are let do what one moment calls for.
const STEPS_MAX: u32 = 8;

/// A run of one seed.
pub(super) struct Storm {
    pub(super) world: World,
    pub(super) swarm: Swarm,
    pub(super) dice: Dice,
    pub(super) trace: Trace,
    pub(super) told: Vec<Told>,
    /// Deliveries to come: which of [`Self::told`], by their time and number.
    pub(super) deliveries: BTreeMap<(Timestamp, u64), usize>,
    /// When all processes began anew after they had been down or the clock had leapt.
    pub(super) restarts: Vec<Timestamp>,
    /// When the calm began.
    pub(super) calm_from: Timestamp,
    pub(super) counted: u64,
    pub(super) presses: Vec<Press>,
    /// For how long the chat knows a nonce.
    pub(super) window_ms: Option<i64>,
    pub(super) weather: faults::Weather,
}

impl Storm {
    /// Plays a seed to its end; `window_ms` is for how long the chat knows a nonce.
    pub(super) async fn play(seed: u64, window_ms: Option<i64>) -> Self {
        let mut dice = Dice::new(seed);
        let swarm = Swarm::draw(seed, &mut dice);
        let noon = civil::time(12, 0, 0, 0);
        let start = swarm.zone.instant(swarm.first_day.to_datetime(noon));
        let mut world = World::new(swarm.zone.clone(), start, window_ms).await;
        world.start(swarm.processes, swarm.skew_ms);
        let mut storm = Self {
            world,
            dice,
            trace: Trace::new(seed),
            told: Vec::new(),
            deliveries: BTreeMap::new(),
            restarts: Vec::new(),
            calm_from: start,
            counted: 0,
            presses: Vec::new(),
            window_ms,
            weather: faults::Weather::default(),
            swarm,
        };
        storm.note(format!("{:?}", storm.swarm));
        storm.set_up().await;
        let end = storm
            .swarm
            .zone
            .instant(plus_days(storm.swarm.first_day, DAYS).to_datetime(noon));
        storm.safety(end).await;
        storm.liveness().await;
        storm
    }

    pub(super) fn note(&mut self, event: String) {
        let now = self.world.zone.civil(self.world.now());
        self.trace
            .add(format!("{} {event}", now.strftime("%m-%d %H:%M:%S")));
    }

    /// Takes up into the trace what the run leaves behind.
    pub(super) fn seal(&mut self) {
        let left = format!("{:?}{:?}", self.world.ledger.commits(), self.world.chat.shown());
        self.trace.seal(left);
    }

    /// What the keeper says at first meets no fault: all that comes later stands on it.
    async fn set_up(&mut self) {
        let rates = self.swarm.rates;
        self.swarm.rates = Rates {
            race: 0.0,
            ..rates.none()
        };
        for line in workload::set_up(self.swarm.has_quiet_hours, self.swarm.has_night_round) {
            let expect = workload::Expect::Entry("");
            let input = Input::Line(line.to_owned());
            let told = self.tell(Deed {
                carer: 1,
                input,
                expect,
                yesterday: None,
            });
            self.deliver(told, 0).await;
            let answer = self.told[told].answers.last().expect("an answer");
            assert!(answer.ok, "“{line}” was refused: {}", plain::text(&answer.blocks));
        }
        self.swarm.rates = rates;
    }

    async fn safety(&mut self, end: Timestamp) {
        while self.world.now() < end && self.world.ledger.transactions() < TRANSACTIONS_MAX {
            let said_at = self.world.now().saturating_add(self.pause()).expect("a moment");
            self.pass_to(said_at).await;
            self.change_weather();
            // Now and then two speak before anything was sent: what the first one said is on its way out meanwhile.
            let several = if self.dice.happens(0.3) { 2 } else { 1 };
            for _ in 0..several {
                let deed = workload::draw(&mut self.dice, &self.presses);
                let told = self.tell(deed);
                let process = self.any_process();
                self.deliver(told, process).await;
            }
            self.settle(true).await;
            if self.told.len().is_multiple_of(MARKS_EVERY) {
                super::checks::marks(self).await;
            }
        }
    }

    /// Faults end; whoever has not been answered asks again; the clock runs on.
    async fn liveness(&mut self) {
        self.clear_weather();
        self.world.start(self.swarm.processes, self.swarm.skew_ms);
        self.swarm.rates = self.swarm.rates.none();
        self.note("calm".to_owned());
        let zone = self.world.zone.clone();
        // The clock may have stepped back last: the calm is after all that was dealt with.
        let head = self
            .world
            .store
            .head(self.world.place)
            .await
            .expect("a head")
            .expect("the place");
        let seen = wrackline::shelf::instant(head.seen_at_ms);
        self.calm_from = self.world.now().max(seen);
        self.pass_to(self.calm_from).await;
        let end = plus_days(zone.date(self.calm_from), CALM_DAYS).at(15, 0, 0, 0);
        self.pass_to(zone.instant(end)).await;
        self.settle(false).await;
    }

    /// People speak by day, mostly, and now and then several at once.
    fn pause(&mut self) -> SignedDuration {
        let hour = self.world.zone.civil(self.world.now()).hour();
        let (low, high) = match (hour, self.dice.between(0, 5)) {
            (_, 0 | 1) => (0, 25),
            (1..=5, _) => (3_600, 4 * 3_600),
            _ => (300, 2 * 3_600),
        };
        SignedDuration::from_secs(self.dice.between(low, high))
    }

    /// Lets the clock run up to a moment, with all that falls due meanwhile.
    async fn pass_to(&mut self, until: Timestamp) {
        loop {
            let next = self.world.store.next_moment().await.expect("a moment");
            let next = next.map(wrackline::shelf::instant);
            let delivery = self.deliveries.first_key_value().map(|((at, _), _)| *at);
            let Some(at) = [next, delivery]
                .into_iter()
                .flatten()
                .min()
                .filter(|at| *at <= until)
            else {
                break;
            };
            // A moment that is past already was not dealt with, since something failed: it is tried again soon.
            let soon = self
                .world
                .now()
                .saturating_add(SignedDuration::from_secs(120))
                .expect("a moment");
            self.world.clock.put(if at > self.world.now() {
                at
            } else {
                soon.min(until)
            });
            self.settle(true).await;
            while let Some(entry) = self
                .deliveries
                .first_entry()
                .filter(|one| one.key().0 <= self.world.now())
            {
                let told = entry.remove();
                let process = self.any_process();
                self.deliver(told, process).await;
            }
            if self.world.now() >= until {
                break;
            }
        }
        self.world.clock.put(until.max(self.world.now()));
        self.settle(true).await;
    }

    pub(super) fn any_process(&mut self) -> usize {
        usize::try_from(self.dice.between(0, self.world.processes.len() as i64 - 1)).unwrap_or(0)
    }

    /// Lets engine and dispatcher do what the moment calls for, perhaps two processes at once.
    async fn settle(&mut self, mut is_racing: bool) {
        for _ in 0..STEPS_MAX {
            let (one, other) = (self.any_process(), self.any_process());
            is_racing = is_racing && one != other && self.dice.happens(self.swarm.rates.race);
            let mut dealt = false;
            for job in [|| Job::Engine, || Job::Dispatch] {
                let mut jobs = vec![(one, job())];
                if is_racing {
                    jobs.push((
                        other,
                        if self.dice.happens(0.7) {
                            job()
                        } else {
                            Job::Dispatch
                        },
                    ));
                }
                for outcome in self.work(jobs).await {
                    dealt |= matches!(outcome, Outcome::Dealt(1..));
                }
            }
            if !dealt {
                break;
            }
        }
    }
}
