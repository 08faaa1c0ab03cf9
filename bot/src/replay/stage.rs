//! The stage: a place at work in virtual time.

mod calls;
mod cues;
mod shown;

use std::collections::BTreeMap;
use std::sync::Arc;

use async_trait::async_trait;
use jiff::{Timestamp, civil};
use wrackline_core::civil::{Zone, plus_days};
use wrackline_core::moment::Subject;
use wrackline_core::place::CarerId;

use super::carers::{Dice, What};
use super::scenario::{Habit, Scenario, dated};
use crate::chat::Chat;
use crate::chat::blocks::{Answer, Block};
use crate::chat::porch::{PorchChat, Spoken};
use crate::clock::{Clock, SetClock};
use crate::desk::tell::Tell;
use crate::house::{House, Input, Said, whole_second};
use crate::outbox::Dispatcher;
use crate::store::{PlaceId, StoreError};

/// A chat before which lines are said.
#[async_trait]
pub trait Audience: Chat {
    /// Shows a line with its answer.
    async fn said(&self, spoken: Spoken<'_>);
}

#[async_trait]
impl Audience for PorchChat {
    async fn said(&self, spoken: Spoken<'_>) {
        if let Err(error) = self.record(spoken).await {
            tracing::warn!(%error, "a line is not shown on the porch");
        }
    }
}

/// What goes wrong on a stage.
#[derive(Debug, thiserror::Error)]
pub enum StageError {
    /// The store failed.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// A line of the scenario was refused.
    #[error("the scenario's line “{line}” was refused: {answer}")]
    Refused {
        /// The line.
        line: String,
        /// The refusal.
        answer: String,
    },
    /// A cue cannot be followed.
    #[error("the scenario's cue on day {day} at {time} cannot be followed")]
    Cue {
        /// Its day.
        day: i64,
        /// Its time.
        time: String,
    },
    /// A habit names someone who is not there.
    #[error("the scenario tells the habits of {0}, who is not there once it is set up")]
    Nobody(String),
}

type Result<T> = std::result::Result<T, StageError>;

/// A place at work in virtual time.
pub struct Stage {
    /// What answers people.
    pub house: Arc<House>,
    /// The time on the stage.
    pub clock: Arc<SetClock>,
    /// The place.
    pub place: PlaceId,
    zone: Zone,
    audience: Arc<dyn Audience>,
    dispatcher: Dispatcher,
    dice: Dice,
    habits: BTreeMap<CarerId, Habit>,
    names: BTreeMap<String, CarerId>,
    first_day: civil::Date,
    deeds: BTreeMap<(Timestamp, u64), (CarerId, What)>,
    counted: u64,
    /// The last post that was seen: its number, and when it was wanted.
    posts_seen: (i64, i64),
    /// The last code of each verb that an answer offered.
    offered: BTreeMap<String, String>,
}

impl Stage {
    /// Sets a scenario up in an empty place of a house whose clock is the stage's. The place has its keeper
    /// already; the set-up is said at noon of the day before the first.
    ///
    /// # Errors
    /// When a line of the set-up is refused or the store fails.
    pub async fn set(
        house: Arc<House>,
        clock: Arc<SetClock>,
        audience: Arc<dyn Audience>,
        (place, zone): (PlaceId, Zone),
        scenario: &Scenario,
        (first_day, seed): (civil::Date, u64),
    ) -> Result<Self> {
        let dispatcher = Dispatcher::new(house.clone(), audience.clone(), format!("stage-{seed}"));
        let mut stage = Self {
            house,
            clock,
            place,
            zone,
            audience,
            dispatcher,
            dice: Dice::new(seed),
            habits: BTreeMap::new(),
            names: BTreeMap::from([(scenario.keeper.clone(), CarerId(1))]),
            first_day,
            deeds: BTreeMap::new(),
            counted: 0,
            posts_seen: (0, 0),
            offered: BTreeMap::new(),
        };
        let noon = civil::time(12, 0, 0, 0);
        stage
            .clock
            .put(stage.zone.instant(plus_days(first_day, -1).to_datetime(noon)));
        for line in &scenario.set_up {
            let line = dated(line, first_day);
            stage.must_say(CarerId(1), &line).await?;
        }
        stage.know_carers(scenario).await?;
        for cue in &scenario.said {
            stage.take_cue(cue)?;
        }
        Ok(stage)
    }

    async fn must_say(&mut self, carer: CarerId, line: &str) -> Result<()> {
        let answer = self.hear(carer, Input::Line(line.to_owned())).await;
        if answer.ok {
            return Ok(());
        }
        let answer = crate::chat::plain::text(&answer.blocks);
        Err(StageError::Refused {
            line: line.to_owned(),
            answer,
        })
    }

    async fn know_carers(&mut self, scenario: &Scenario) -> Result<()> {
        let held = self.house.shelf.open(self.place).await?;
        self.names = held
            .book()
            .names
            .iter()
            .map(|(id, name)| (name.clone(), *id))
            .collect();
        for habit in &scenario.carer {
            let named = [
                Some(&habit.name),
                habit.logged_by.as_ref(),
                habit.nodded_by.as_ref(),
            ];
            if let Some(name) = named
                .into_iter()
                .flatten()
                .find(|name| !self.names.contains_key(*name))
            {
                return Err(StageError::Nobody(name.clone()));
            }
            self.habits.insert(self.names[&habit.name], habit.clone());
        }
        Ok(())
    }

    /// What can be told of the place as it is now.
    async fn told<T>(&self, of: impl FnOnce(&Tell<'_>) -> T) -> Result<T> {
        let held = self.house.shelf.open(self.place).await?;
        let now = whole_second(self.clock.now());
        let place = held.book().place_at(now);
        Ok(of(&Tell::to_all(&self.house.words, held.book(), &place, now)))
    }

    fn put(&mut self, at: Timestamp, carer: CarerId, what: What) {
        self.counted += 1;
        self.deeds.insert((at, self.counted), (carer, what));
    }

    /// Plays up to and with a moment. Carers whose calls come after `answered_until` do not answer them any more.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn play(&mut self, until: Timestamp, answered_until: Timestamp) -> Result<()> {
        loop {
            let next = self
                .house
                .shelf
                .store()
                .next_moment()
                .await?
                .map(crate::shelf::instant);
            let deed = self.deeds.first_key_value().map(|((at, _), _)| *at);
            let Some(at) = [next, deed].into_iter().flatten().min().filter(|at| *at <= until) else {
                break;
            };
            self.clock.put(at.max(self.clock.now()));
            self.settle(answered_until).await?;
            while let Some(entry) = self
                .deeds
                .first_entry()
                .filter(|one| one.key().0 <= self.clock.now())
            {
                let (carer, what) = entry.remove();
                self.act(carer, what).await?;
                self.settle(answered_until).await?;
            }
        }
        self.clock.put(until.max(self.clock.now()));
        Ok(())
    }

    /// Lets the engine and the dispatcher do all that this moment calls for, and carers take note of new calls.
    async fn settle(&mut self, answered_until: Timestamp) -> Result<()> {
        loop {
            let dealt = crate::engine::step(&self.house).await?;
            let sent = self.dispatcher.step().await?;
            if dealt == 0 && sent == 0 {
                break;
            }
        }
        let (seen, since_ms) = self.posts_seen;
        let posts = self.house.shelf.store().posts(self.place, since_ms).await?;
        for post in posts.into_iter().filter(|post| post.id > seen) {
            self.posts_seen = (post.id, post.at_ms);
            let subject = serde_json::from_str::<Subject>(&post.body).ok();
            if let Some(subject) = subject.filter(|_| self.clock.now() <= answered_until) {
                self.answer_post(&subject).await?;
            }
        }
        Ok(())
    }

    /// How the work of the days up to a moment, the start of a day, was shared: what a replay reports.
    ///
    /// # Errors
    /// When the store fails.
    pub async fn report(&self, until: Timestamp) -> Result<Vec<Block>> {
        let from = self.zone.day_start(self.first_day);
        self.told(|tell| super::report::report(tell, from, until)).await
    }

    async fn act(&mut self, carer: CarerId, what: What) -> Result<()> {
        match what {
            What::Line(line) => {
                if let Some(line) = self.filled(carer, &line).await? {
                    self.hear(carer, Input::Line(line)).await;
                }
            }
            What::Answer { turn, by, line } => {
                let helper = by.and_then(|name| self.names.get(&name).copied());
                if self
                    .would_press(helper.unwrap_or(carer), &format!("did.{turn}"))
                    .await?
                {
                    let answer = self.hear(carer, Input::Line(line)).await;
                    let codes: Vec<String> = codes(&answer.blocks).map(str::to_owned).collect();
                    if let Some(helper) = helper {
                        self.nod_later(helper, carer, &codes).await?;
                    }
                }
            }
            What::Press(code, text) if code.contains('.') => {
                if self.would_press(carer, &code).await? {
                    self.hear(carer, Input::Press { code, text }).await;
                }
            }
            What::Press(verb, text) => {
                if let Some(code) = self.offered.get(&verb).cloned() {
                    self.hear(carer, Input::Press { code, text }).await;
                }
            }
        }
        Ok(())
    }

    /// Says or presses something, and shows it.
    pub async fn hear(&mut self, carer: CarerId, input: Input) -> Answer {
        self.counted += 1;
        let id = format!("stage:{}", self.counted);
        let line = match &input {
            Input::Line(line) => line.clone(),
            Input::Press { code, text } => self.told_press(code, text.as_deref()).await,
        };
        let said = Said {
            place: self.place,
            carer: carer.0,
            id: id.clone(),
            input,
            photo: None,
        };
        let answer = self.house.hear(said).await;
        let who = self
            .names
            .iter()
            .find(|(_, id)| **id == carer)
            .map_or("–", |(name, _)| name.as_str());
        let at_ms = self.clock.now().as_millisecond();
        let (place, carer) = (self.place, carer.0);
        let spoken = Spoken {
            place,
            carer,
            who,
            id: &id,
            line: Some(&line),
            answer: &answer,
            at_ms,
        };
        self.audience.said(spoken).await;
        for code in codes(&answer.blocks) {
            if let Some((verb, _)) = code.split_once('.') {
                self.offered.insert(verb.to_owned(), code.to_owned());
            }
        }
        answer
    }
}

/// The codes of all answers among blocks.
fn codes(blocks: &[Block]) -> impl Iterator<Item = &str> {
    let answers = blocks.iter().filter_map(|block| match block {
        Block::Answers { answers } => Some(answers),
        _ => None,
    });
    answers.flatten().map(|press| press.code.as_str())
}
