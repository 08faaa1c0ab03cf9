//! How what people say comes to the house: tried again where it was not acknowledged, and now and then delivered twice.

use jiff::{SignedDuration, Timestamp};
use wrackline::chat::blocks::Answer;
use wrackline::chat::plain;
use wrackline::house::Said;
use wrackline::words::{Message, Words};

use super::storm::Storm;
use super::workload::{self, Deed};
use super::world::{Job, Outcome};

/// How often a line is tried that was not acknowledged.
const TRIES_MAX: usize = 6;

/// What was said, with all that came back.
pub(super) struct Told {
    pub(super) id: String,
    pub(super) deed: Deed,
    /// At each try the clocks of the processes that heard it, or might have.
    pub(super) tries: Vec<[Timestamp; 2]>,
    /// The answers of tries that did not fail.
    pub(super) answers: Vec<Answer>,
}

impl Storm {
    /// Notes what someone means to say.
    pub(super) fn tell(&mut self, deed: Deed) -> usize {
        let id = format!("said:{}", self.told.len());
        self.told.push(Told {
            id,
            deed,
            tries: Vec::new(),
            answers: Vec::new(),
        });
        self.told.len() - 1
    }

    /// Delivers a line or press to a process, perhaps to two at once, and plans what whoever said it does next.
    pub(super) async fn deliver(&mut self, told: usize, process: usize) {
        let other = self.any_process();
        let mut jobs = vec![(process, Job::Hear(self.said(told)))];
        // What is said while a post is on its way out, or falls due, or is said twice.
        if other != process && self.dice.happens(self.swarm.rates.race) {
            // Where the clocks differ, one process may rightly refuse what the other takes at the same instant.
            let job = match self.dice.between(0, 3) {
                0 if self.swarm.skew_ms == 0 => Job::Hear(self.said(told)),
                0 | 1 => Job::Engine,
                _ => Job::Dispatch,
            };
            jobs.push((other, job));
        }
        let clock = |process: usize| self.world.processes[process].house.clock.now();
        self.told[told].tries.push([clock(process), clock(other)]);
        let mut is_answered = false;
        for outcome in self.work(jobs).await {
            let Outcome::Answered(answer) = outcome else {
                continue;
            };
            self.note(format!(
                "{} → {} {}",
                self.told[told].id,
                answer.ok,
                plain::text(&answer.blocks)
            ));
            if is_not_saved(&answer) {
                continue;
            }
            is_answered = true;
            self.presses.extend(workload::presses(&answer.blocks));
            super::checks::answered(self, told, &answer);
            self.told[told].answers.push(answer);
        }
        self.look_at_chat();
        let tries = self.told[told].tries.len();
        let wait = if is_answered {
            if !self.dice.happens(self.swarm.rates.again) {
                return;
            }
            self.dice.between(1, 2 * 86_400)
        } else {
            if tries >= TRIES_MAX || self.dice.happens(0.15) {
                return;
            }
            self.dice.between(5, 900)
        };
        self.counted += 1;
        let at = self
            .world
            .now()
            .saturating_add(SignedDuration::from_secs(wait))
            .expect("a moment");
        self.deliveries.insert((at, self.counted), told);
    }

    fn said(&mut self, told: usize) -> Said {
        let Told { id, deed, .. } = &self.told[told];
        let said = Said {
            place: self.world.place,
            carer: deed.carer,
            id: id.clone(),
            input: deed.input.clone(),
            photo: None,
        };
        self.note(format!("{} by {}: {:?}", said.id, said.carer, said.input));
        said
    }

    /// What people have before them to press: that of the newest messages and answers.
    fn look_at_chat(&mut self) {
        let kept = self.presses.len().saturating_sub(12);
        self.presses.drain(..kept);
        if self.dice.happens(0.5) {
            let shown = self.world.chat.shown();
            let newest = shown.iter().rev().filter(|shown| !shown.is_gone).take(3);
            self.presses
                .extend(newest.flat_map(|shown| workload::presses(&shown.blocks)));
        }
    }
}

/// Whether an answer says that the journal could not be written.
pub(super) fn is_not_saved(answer: &Answer) -> bool {
    let words = Words::english();
    let text = plain::text(&answer.blocks);
    let mut why = ["not-saved", "not-saved-locked", "not-saved-full"].into_iter();
    !answer.ok && why.any(|id| words.say(&Message::new(id)) == text)
}
