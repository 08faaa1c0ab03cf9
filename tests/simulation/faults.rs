//! The faults of a run: drawn before each job, and the weather that lasts.

use jiff::{SignedDuration, Timestamp};
use wrackline::replay::carers::Dice;
use wrackline_tests::faults::{Fault, Slip, Trouble};

use super::storm::Storm;
use super::swarm::Rates;
use super::world::{Job, Outcome};

/// What lasts for a while.
#[derive(Debug, Default)]
pub(super) struct Weather {
    outage_until: Option<Timestamp>,
    refusal_until: Option<Timestamp>,
}

impl Rates {
    /// No faults. Two processes still work at the same instant.
    pub(super) fn none(self) -> Self {
        let Self { race, .. } = self;
        Self {
            crash: 0.0,
            leave: 0.0,
            fail: 0.0,
            lost: 0.0,
            outage: 0.0,
            slip: 0.0,
            refusal: 0.0,
            back: 0.0,
            leap: 0.0,
            stop: 0.0,
            race,
            again: 0.0,
        }
    }
}

fn trouble(dice: &mut Dice) -> Trouble {
    [Trouble::Locked, Trouble::Full, Trouble::Broken][usize::try_from(dice.between(0, 2)).unwrap_or(0)]
}

fn slip(dice: &mut Dice) -> Slip {
    match dice.between(0, 9) {
        0..=2 => Slip::LostReply,
        3 | 4 => Slip::Passing(None),
        5 => Slip::Passing(Some(dice.between(1_000, 120_000))),
        6 if dice.happens(0.3) => Slip::Lasting,
        6 | 7 => Slip::Gone,
        // Past the lease, mostly.
        _ => Slip::Slow(dice.between(1_000, 90_000)),
    }
}

impl Storm {
    /// Lets processes work at the same time, with the faults that the dice draw for them; buries who died.
    pub(super) async fn work(&mut self, jobs: Vec<(usize, Job)>) -> Vec<Outcome> {
        let numbers: Vec<usize> = jobs.iter().map(|(number, _)| *number).collect();
        let is_leaving: Vec<bool> = jobs
            .iter()
            .map(|(number, job)| self.draw_fault(*number, job))
            .collect();
        let outcomes = self.world.work(&mut self.dice, jobs).await;
        for ((number, is_leaving), outcome) in numbers.into_iter().zip(is_leaving).zip(&outcomes) {
            self.world.processes[number].store.clear();
            match outcome {
                Outcome::Stopped if is_leaving => self.note(format!("the caller of process {number} left")),
                Outcome::Stopped => {
                    self.note(format!("process {number} died"));
                    self.world.restart(number);
                    if let Some(down) = self.weather.outage_until.map(|_| Trouble::Locked) {
                        self.world.processes[number].store.set_down(Some(down));
                    }
                }
                Outcome::Failed(error) => self.note(format!("process {number}: {error}")),
                Outcome::Dealt(1..) => self.note(format!("process {number} dealt")),
                _ => {}
            }
        }
        outcomes
    }

    /// Draws what goes wrong with a job. Returns whether a stop is the caller's alone.
    fn draw_fault(&mut self, number: usize, job: &Job) -> bool {
        let rates = self.swarm.rates;
        let away = u64::try_from(self.dice.between(0, 7)).unwrap_or(0);
        let is_after = self.dice.happens(0.5);
        let (store, dice) = (&self.world.processes[number].store, &mut self.dice);
        if matches!(job, Job::Dispatch) && dice.happens(rates.slip) {
            let slips = u64::try_from(dice.between(0, 1)).unwrap_or(0);
            self.world.chat.slip_in(slips, slip(dice));
        }
        let stop = if is_after {
            Fault::StopAfter
        } else {
            Fault::StopBefore
        };
        if matches!(job, Job::Hear(_)) && dice.happens(rates.leave) {
            store.fault_in(away, stop);
            return true;
        }
        if dice.happens(rates.crash) {
            store.fault_in(away, stop);
        } else if dice.happens(rates.fail) {
            store.fault_in(away, Fault::Before(trouble(dice)));
        } else if dice.happens(rates.lost) {
            store.fault_in(away, Fault::After(trouble(dice)));
        }
        false
    }

    /// Begins and ends what lasts for a while, and lets the clock jump.
    pub(super) fn change_weather(&mut self) {
        let (rates, now) = (self.swarm.rates, self.world.now());
        let over = |until: Option<Timestamp>| until.is_some_and(|until| until <= now);
        if over(self.weather.outage_until) {
            self.end_outage();
        }
        if over(self.weather.refusal_until) {
            self.end_refusal();
        }
        if self.dice.happens(rates.outage) {
            let until = self.later(60, 6 * 3_600);
            self.weather.outage_until = Some(until);
            let trouble = trouble(&mut self.dice);
            self.world
                .processes
                .iter()
                .for_each(|process| process.store.set_down(Some(trouble)));
            self.note(format!("the store fails until {until}"));
        }
        if self.dice.happens(rates.refusal) {
            let until = self.later(60, 10 * 3_600);
            self.weather.refusal_until = Some(until);
            self.world.chat.set_refusing(Some(Slip::Passing(None)));
            self.note(format!("the chat refuses until {until}"));
        }
        if self.dice.happens(rates.back) {
            let back = now
                .saturating_sub(SignedDuration::from_hours(2))
                .expect("a moment");
            self.world.clock.put(back);
            self.note("the clock stepped back".to_owned());
        }
        let is_leap = self.dice.happens(rates.leap);
        if is_leap || self.dice.happens(rates.stop) {
            let to = if is_leap {
                self.later(3 * 86_400, 3 * 86_400)
            } else {
                self.later(3 * 3_600, 40 * 3_600)
            };
            if !is_leap {
                self.world.start(self.swarm.processes, self.swarm.skew_ms);
                self.end_outage();
            }
            self.world.clock.put(to);
            self.restarts.push(to);
            self.note(if is_leap {
                "the clock leapt".to_owned()
            } else {
                "all began anew".to_owned()
            });
        }
    }

    fn later(&mut self, low_s: i64, high_s: i64) -> Timestamp {
        let wait = SignedDuration::from_secs(self.dice.between(low_s, high_s));
        self.world.now().saturating_add(wait).expect("a moment")
    }

    /// Ends all that lasts.
    pub(super) fn clear_weather(&mut self) {
        self.end_outage();
        self.end_refusal();
    }

    fn end_outage(&mut self) {
        self.weather.outage_until = None;
        self.world
            .processes
            .iter()
            .for_each(|process| process.store.set_down(None));
    }

    fn end_refusal(&mut self) {
        self.weather.refusal_until = None;
        self.world.chat.set_refusing(None);
    }
}
