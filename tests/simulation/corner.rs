//! A place for trying one fault at one moment.

use jiff::{SignedDuration, civil};
use wrackline::chat::blocks::Block;
use wrackline::chat::plain;
use wrackline::house::{Input, Said};
use wrackline::replay::carers::Dice;
use wrackline_core::civil::Zone;
use wrackline_tests::faults::Shown;

use super::world::{Job, Outcome, World};

/// A place at work in one process; a second one stands by.
pub(super) struct Corner {
    pub(super) world: World,
    pub(super) dice: Dice,
    said: u64,
}

impl Corner {
    /// A place with a pool, two rounds and quiet hours, at noon of 3 June 2026.
    pub(super) async fn new() -> Self {
        let zone = Zone::get("Europe/London").expect("a zone");
        let noon = zone.instant(civil::date(2026, 6, 3).at(12, 0, 0, 0));
        let mut corner = Self {
            world: World::new(zone, noon, None).await,
            dice: Dice::new(0),
            said: 0,
        };
        corner.world.start(2, 0);
        for line in [
            "/rounds add morning 08:00",
            "/rounds add evening 21:58",
            "/place set quiet 22:00 to 07:00",
            "/enclosure add North 400 L",
            "/pool add north salt 8 L",
        ] {
            corner.say(line).await;
        }
        corner
    }

    /// The same, with the call of the next morning in the outbox.
    pub(super) async fn called() -> Self {
        let mut corner = Self::new().await;
        corner.at("2026-06-04 07:59").await;
        let morning = corner.world.now() + SignedDuration::from_mins(1);
        corner.world.clock.put(morning);
        assert!(matches!(corner.job(0, Job::Engine).await, Outcome::Dealt(1)));
        corner
    }

    /// Puts the clock to a local time, and does what falls due up to then.
    pub(super) async fn at(&mut self, local: &str) {
        let local = civil::DateTime::strptime("%Y-%m-%d %H:%M", local).expect("a civil time");
        let until = self.world.zone.instant(local);
        while let Some(next) = self.world.store.next_moment().await.expect("the store") {
            let next = wrackline::shelf::instant(next);
            if next > until {
                break;
            }
            self.world.clock.put(next.max(self.world.now()));
            self.settle().await;
        }
        self.world.clock.put(until);
        self.settle().await;
    }

    pub(super) async fn settle(&mut self) {
        while matches!(self.job(0, Job::Engine).await, Outcome::Dealt(1..))
            || matches!(self.job(0, Job::Dispatch).await, Outcome::Dealt(1..))
        {}
    }

    pub(super) async fn job(&mut self, process: usize, job: Job) -> Outcome {
        self.world
            .work(&mut self.dice, vec![(process, job)])
            .await
            .remove(0)
    }

    pub(super) fn said(&mut self, input: Input) -> Said {
        self.said += 1;
        Said {
            place: self.world.place,
            carer: 1,
            id: format!("said:{}", self.said),
            input,
            photo: None,
        }
    }

    pub(super) async fn say(&mut self, line: &str) -> String {
        let said = self.said(Input::Line(line.to_owned()));
        let Outcome::Answered(answer) = self.job(0, Job::Hear(said)).await else {
            panic!("no answer to “{line}”")
        };
        let text = plain::text(&answer.blocks);
        assert!(answer.ok, "“{line}” was refused: {text}");
        text
    }

    pub(super) fn shown(&self, nonce: &str) -> Option<Shown> {
        self.world
            .chat
            .shown()
            .into_iter()
            .find(|shown| shown.nonce == nonce)
    }
}

/// Which items of a message are settled.
pub(super) fn settled(shown: &Shown) -> Vec<bool> {
    let items = shown.blocks.iter().find_map(|block| match block {
        Block::Items { items } => Some(items.iter().map(|item| item.settled).collect()),
        _ => None,
    });
    items.expect("a call")
}
