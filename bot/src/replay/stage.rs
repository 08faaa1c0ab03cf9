//! The stage: a place at work in virtual time.

use std::collections::BTreeMap;
use std::sync::Arc;

use async_trait::async_trait;
use jiff::{Timestamp, civil};
use wrackline_core::civil::{Zone, plus_days};
use wrackline_core::moment::Subject;
use wrackline_core::place::CarerId;
use wrackline_core::rota;

use super::carers::{Dice, What, answer};
use super::scenario::{Cue, Habit, Scenario};
use crate::chat::Chat;
use crate::chat::blocks::{Answer, Block};
use crate::chat::porch::{PorchChat, Spoken};
use crate::clock::{Clock, SetClock};
use crate::desk::posts::open_turns;
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
    posts_seen: i64,
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
            posts_seen: 0,
            offered: BTreeMap::new(),
        };
        let noon = civil::time(12, 0, 0, 0);
        stage
            .clock
            .put(stage.zone.instant(plus_days(first_day, -1).to_datetime(noon)));
        for line in &scenario.set_up {
            stage.must_say(CarerId(1), line).await?;
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
            if let Some(id) = self.names.get(&habit.name) {
                self.habits.insert(*id, habit.clone());
            }
        }
        Ok(())
    }

    fn take_cue(&mut self, cue: &Cue) -> Result<()> {
        let broken = || StageError::Cue {
            day: cue.day,
            time: cue.time.clone(),
        };
        let time: civil::Time = format!("{}:00", cue.time).parse().map_err(|_| broken())?;
        let carer = *self.names.get(&cue.who).ok_or_else(broken)?;
        let day = plus_days(self.first_day, cue.day - 1);
        let what = match (&cue.line, &cue.press) {
            (Some(line), None) => What::Line(self.dated(line)),
            (None, Some(verb)) => What::Press(verb.clone(), None),
            _ => return Err(broken()),
        };
        self.put(self.zone.instant(day.to_datetime(time)), carer, what);
        Ok(())
    }

    /// A line with `{day+20}` made the date of that many days after the first.
    fn dated(&self, line: &str) -> String {
        let Some((before, rest)) = line.split_once("{day+") else {
            return line.to_owned();
        };
        let Some((days, after)) = rest.split_once('}') else {
            return line.to_owned();
        };
        let date = plus_days(self.first_day, days.parse().unwrap_or(0));
        format!("{before}{date}{after}")
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
        let posts = self.house.shelf.store().posts(self.place, 0).await?;
        let seen = self.posts_seen;
        for post in posts.into_iter().filter(|post| post.id > seen) {
            self.posts_seen = post.id;
            let subject = serde_json::from_str::<Subject>(&post.body).ok();
            if let Some(subject) = subject.filter(|_| self.clock.now() <= answered_until) {
                self.answer_call(&subject).await?;
            }
        }
        Ok(())
    }

    /// Every carer decides what to do about their turns of a call.
    async fn answer_call(&mut self, subject: &Subject) -> Result<()> {
        let now = whole_second(self.clock.now());
        let mut asked = Vec::new();
        {
            let held = self.house.shelf.open(self.place).await?;
            let place = held.book().place_at(now);
            let tell = Tell {
                words: &self.house.words,
                book: held.book(),
                place: &place,
                now,
                zone: None,
            };
            for (_, standing) in open_turns(&tell, subject.turns()) {
                let hand = rota::hand(held.book(), &place, &standing, now);
                let step = subject.turns().iter().find(|called| called.turn == standing.turn);
                // A turn that was passed on is answered by the stand-in.
                let carer = match step.and_then(|called| called.step) {
                    None | Some(wrackline_core::moment::Step::Carer) => hand.carer,
                    Some(_) => rota::stand_in(held.book(), &place, &standing, hand.carer, now),
                };
                let carer = carer.or_else(|| place.carers.keys().next().copied());
                asked.extend(carer.map(|carer| (carer, standing.turn, tell.target(standing.turn.target))));
            }
        }
        let day = i64::from((self.zone.date(now) - self.first_day).get_days()) + 1;
        for (carer, turn, spot) in asked {
            let Some(habit) = self.habits.get(&carer).filter(|habit| !habit.away.contains(&day)) else {
                continue;
            };
            if let Some(deed) = answer(&mut self.dice, habit, &turn, &spot, now) {
                self.put(deed.at, carer, deed.what);
            }
        }
        Ok(())
    }

    async fn act(&mut self, carer: CarerId, what: What) -> Result<()> {
        match what {
            What::Line(line) => {
                self.hear(carer, Input::Line(line)).await;
            }
            What::Answer(turn, line) => {
                if self.is_open(&format!("did.{turn}")).await? {
                    self.hear(carer, Input::Line(line)).await;
                }
            }
            What::Press(code, text) if code.contains('.') => {
                if self.is_open(&code).await? {
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

    /// Whether the turn of a press still waits: nobody presses what the call shows as done.
    async fn is_open(&self, code: &str) -> Result<bool> {
        let Some((_, turn)) = code.split_once('.') else {
            return Ok(false);
        };
        let Ok(turn) = turn.parse::<wrackline_core::care::TurnKey>() else {
            return Ok(true);
        };
        let held = self.house.shelf.open(self.place).await?;
        let now = whole_second(self.clock.now());
        let place = held.book().place_at(now);
        let standing = wrackline_core::care::standing(held.book(), &place, turn.duty, turn.target, now);
        Ok(standing.is_some_and(|standing| standing.turn == turn))
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

    /// A press in words, as its label would read.
    async fn told_press(&self, code: &str, text: Option<&str>) -> String {
        let (verb, turn) = code.split_once('.').unwrap_or((code, ""));
        let label = match verb {
            "did" => "press-did",
            "cannot" => "press-cannot",
            "notneeded" => "press-not-needed",
            "close" => "press-close",
            _ => "press-later",
        };
        let label = self.house.words.say(&crate::words::Message::new(label));
        let Ok(turn) = turn.parse::<wrackline_core::care::TurnKey>() else {
            return format!("[{label}]");
        };
        let Ok(held) = self.house.shelf.open(self.place).await else {
            return format!("[{label}]");
        };
        let now = self.clock.now();
        let place = held.book().place_at(now);
        let tell = Tell {
            words: &self.house.words,
            book: held.book(),
            place: &place,
            now,
            zone: None,
        };
        let about = format!("{}: {}", tell.target(turn.target), tell.duty(turn.duty));
        match text {
            Some(text) => format!("[{label}] {about}, “{text}”"),
            None => format!("[{label}] {about}"),
        }
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
