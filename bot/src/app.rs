//! The parts of the process, put together.

use std::net::SocketAddr;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use async_trait::async_trait;
use serde_json::Value;
use tokio::sync::broadcast;

use crate::chat::Chat;
use crate::chat::blocks::Answer;
use crate::chat::discord::gateway::{Gateway, Keeping};
use crate::chat::discord::heard::Ears;
use crate::chat::discord::posts::PlatformChat;
use crate::chat::discord::sender::Sender;
use crate::chat::porch::PorchChat;
use crate::chat::routes::Routes;
use crate::clock::Clock;
use crate::config::{Broken, Platform};
use crate::house::{Completion, House, Me, Said, SheetMade, SheetPage};
use crate::shelf::Shelf;
use crate::store::{PlaceId, Store, StoreError};
use crate::web::{Hears, WebState};
use crate::words::Words;

/// How many pieces of news a slow reader of the porch may fall behind.
const NEWS_MAX: usize = 256;

/// The house with its porch.
pub struct App {
    /// What answers people.
    pub house: Arc<House>,
    /// The local chat.
    pub porch: Arc<PorchChat>,
}

impl App {
    /// An app over a store and a clock.
    #[must_use]
    pub fn new(store: Arc<dyn Store>, clock: Arc<dyn Clock>) -> Self {
        let house = House::new(Shelf::new(store.clone()), Words::english(), clock);
        let (news, _) = broadcast::channel(NEWS_MAX);
        Self {
            house: Arc::new(house),
            porch: Arc::new(PorchChat { store, news }),
        }
    }

    /// Says where the porch is reached, for the addresses that are told; the first word counts.
    pub fn set_porch(&self, address: SocketAddr) {
        // A second word is no failure: the porch does not move while it is open.
        let _ = self.house.porch.set(format!("http://{address}"));
    }

    /// The group-chat platform, ready to be connected to.
    ///
    /// # Errors
    /// When no requests can be made with these settings.
    pub fn platform(&self, settings: &Platform) -> Result<Gateway, Broken> {
        let sender = Sender::new(&settings.base, settings.token.clone())?;
        let chat = Arc::new(PlatformChat::new(sender, self.house.clone()));
        let ears = Ears {
            house: self.house.clone(),
            chat,
        };
        Ok(Gateway {
            ears: Arc::new(ears),
            base: settings.base.clone(),
            token: settings.token.clone(),
            keeping: Keeping::default(),
            state: Arc::default(),
        })
    }

    /// Which way posts go.
    #[must_use]
    pub fn way_out(&self, platform: Option<&Gateway>) -> Arc<dyn Chat> {
        match platform {
            Some(gateway) => Arc::new(Routes {
                porch: self.porch.clone(),
                platform: gateway.ears.chat.clone(),
            }),
            None => self.porch.clone(),
        }
    }

    /// What the porch's pages work with; `connected` says whether the platform is, where there is one.
    #[must_use]
    pub fn web(&self, allowed_hosts: Vec<String>, connected: Option<Arc<AtomicBool>>) -> WebState {
        WebState {
            store: self.porch.store.clone(),
            house: Arc::new(Door(self.house.clone())),
            news: self.porch.news.clone(),
            allowed_hosts,
            connected,
        }
    }
}

/// The house as the porch's pages see it.
struct Door(Arc<House>);

#[async_trait]
impl Hears for Door {
    async fn hear(&self, said: Said) -> Answer {
        self.0.hear(said).await
    }

    async fn complete(&self, place: PlaceId, carer: u32, line: &str) -> Vec<Completion> {
        self.0.complete(place, carer, line).await
    }

    async fn me(&self, place: PlaceId, carer: u32) -> Option<Me> {
        self.0.me(place, carer).await
    }

    async fn sheet(&self, place: PlaceId, asker: u32, page: SheetPage) -> crate::store::Result<SheetMade> {
        self.0.sheet(place, asker, &page).await
    }

    async fn may_see(&self, place: PlaceId, carer: u32, seq: i64) -> Result<bool, StoreError> {
        self.0.may_see(place, carer, seq.unsigned_abs()).await
    }

    async fn calendar(&self, token: &str) -> crate::store::Result<Option<String>> {
        self.0.calendar(token).await
    }

    async fn ended(&self, place: PlaceId, carer: u32) -> Option<String> {
        self.0.ended(place, carer).await
    }

    fn now_ms(&self) -> i64 {
        self.0.clock.now().as_millisecond()
    }

    fn words(&self) -> Value {
        let mut words = self.0.words.starting_with("porch-");
        // Why a photo is not taken is told in the same words wherever it comes from.
        if let (Some(all), Value::Object(photo)) = (
            words.as_object_mut(),
            self.0.words.starting_with("photo-refused-"),
        ) {
            all.extend(photo);
        }
        words
    }
}
