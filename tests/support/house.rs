//! A house in virtual time over a store in memory, to say lines to.

use std::sync::Arc;

use jiff::Timestamp;
use wrackline::app::App;
use wrackline::chat::blocks::Answer;
use wrackline::chat::plain;
use wrackline::clock::SetClock;
use wrackline::commands::init::make_place;
use wrackline::house::{Input, Said};
use wrackline::store::sqlite::SqliteStore;
use wrackline::store::{PlaceId, Store};
use wrackline_core::civil::Zone;

/// A house with one place, whose keeper is Ada, carer 1.
pub struct TestHouse {
    /// The house with its porch.
    pub app: App,
    /// Its clock.
    pub clock: Arc<SetClock>,
    /// Its store.
    pub store: Arc<dyn Store>,
    /// Its place.
    pub place: PlaceId,
    /// The place's zone.
    pub zone: Zone,
    said: u64,
}

impl TestHouse {
    /// A house over a store in memory, at noon of 1 March 2026.
    ///
    /// # Panics
    /// When the zone is unknown or the store cannot be made.
    pub async fn new(zone: &str) -> Self {
        let store = SqliteStore::open_memory().await.expect("a store in memory");
        Self::over(Arc::new(store), zone).await
    }

    /// A house over a store.
    ///
    /// # Panics
    /// When the zone is unknown or the place cannot be made.
    pub async fn over(store: Arc<dyn Store>, zone: &str) -> Self {
        let zone = Zone::get(zone).expect("a zone");
        let place = make_place(&*store, &zone, "Ada", "", true)
            .await
            .expect("a place");
        let clock = Arc::new(SetClock::at(Timestamp::UNIX_EPOCH));
        let app = App::new(store.clone(), clock.clone());
        let house = Self {
            app,
            clock,
            store,
            place,
            zone,
            said: 0,
        };
        house.at("2026-03-01 12:00");
        house
    }

    /// Puts the clock to a local time such as `2026-03-08 08:00`.
    ///
    /// # Panics
    /// When the text is no civil time.
    pub fn at(&self, local: &str) {
        let civil = jiff::civil::DateTime::strptime("%Y-%m-%d %H:%M", local).expect("a civil time");
        self.clock.put(self.zone.instant(civil));
    }

    /// Hears something from a carer.
    pub async fn hear(&mut self, carer: u32, input: Input) -> Answer {
        self.said += 1;
        let id = format!("test:{}", self.said);
        self.app
            .house
            .hear(Said {
                place: self.place,
                carer,
                id,
                input,
                photo: None,
            })
            .await
    }

    /// Says a line as a carer; the answer's text and whether it was done.
    pub async fn say_as(&mut self, carer: u32, line: &str) -> (bool, String) {
        let answer = self.hear(carer, Input::Line(line.to_owned())).await;
        (answer.ok, plain::text(&answer.blocks))
    }

    /// Says a line as the keeper; it must be done.
    ///
    /// # Panics
    /// When it is refused.
    pub async fn say(&mut self, line: &str) -> String {
        let (ok, text) = self.say_as(1, line).await;
        assert!(ok, "“{line}” was refused: {text}");
        text
    }

    /// Says a line as the keeper; it must be refused, and nothing may be written.
    ///
    /// # Panics
    /// When it is done, or the journal grew.
    pub async fn refused(&mut self, line: &str) -> String {
        let before = self.store.head(self.place).await.expect("a head");
        let (ok, text) = self.say_as(1, line).await;
        assert!(!ok, "“{line}” was done: {text}");
        assert_eq!(
            self.store.head(self.place).await.expect("a head"),
            before,
            "“{line}” wrote something"
        );
        text
    }

    /// Presses an answer as a carer.
    pub async fn press(&mut self, carer: u32, code: &str, text: Option<&str>) -> (bool, String) {
        let input = Input::Press {
            code: code.to_owned(),
            text: text.map(str::to_owned),
        };
        let answer = self.hear(carer, input).await;
        (answer.ok, plain::text(&answer.blocks))
    }
}
