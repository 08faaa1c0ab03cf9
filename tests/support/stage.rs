//! A house at home on the platform's double: a real connection, a real sender, a store, and a clock that is set.

use std::sync::Arc;
use std::time::Duration;

use tokio::sync::watch;
use tokio::task::JoinHandle;
use wrackline::app::App;
use wrackline::chat::discord::gateway::{Gateway, Keeping};
use wrackline::chat::discord::heard::Ears;
use wrackline::chat::discord::posts::PlatformChat;
use wrackline::chat::discord::sender::{BaseUrl, Limits, Sender, Token};
use wrackline::clock::SetClock;
use wrackline::config::Broken;
use wrackline::engine;
use wrackline::outbox::Dispatcher;
use wrackline::store::sqlite::SqliteStore;
use wrackline::store::{PlaceId, Store};
use wrackline_core::civil::Zone;

use crate::platform::{
    ChannelId, ChannelKind, Double, DoubleConfig, GuildId, Message, Opt, Permissions, UserId,
    usual_permissions,
};

/// The zone of a stage's place.
pub const ZONE: &str = "Europe/London";

/// How a stage is to be.
#[derive(Clone, Debug, Default)]
pub struct Setting {
    /// The platform.
    pub double: DoubleConfig,
    /// How the connection is kept.
    pub keeping: Keeping,
    /// How much and how fast is sent.
    pub limits: Limits,
    /// The bot's token; the right one where none is given.
    pub token: Option<String>,
}

/// A house on the platform's double, with a server, its channel, and two people. Nothing is linked yet.
pub struct Stage {
    /// The platform.
    pub double: Double,
    /// The server.
    pub guild: GuildId,
    /// Its channel for the pools.
    pub channel: ChannelId,
    /// Who may manage the server.
    pub maren: UserId,
    /// Who may not.
    pub ilja: UserId,
    /// The house.
    pub app: App,
    /// Its clock.
    pub clock: Arc<SetClock>,
    /// Its store.
    pub store: Arc<dyn Store>,
    /// The connection.
    pub gateway: Arc<Gateway>,
    /// What carries its posts.
    pub dispatcher: Dispatcher,
    stop: watch::Sender<bool>,
    running: Option<JoinHandle<Result<(), Broken>>>,
}

impl Stage {
    /// A house that has connected and registered its lines, at noon of 1 March 2026.
    ///
    /// # Panics
    /// When it does not come about.
    pub async fn new() -> Self {
        let store = SqliteStore::open_memory().await.expect("a store in memory");
        let mut stage = Self::over(DoubleConfig::default(), Arc::new(store)).await;
        stage.connect().await;
        stage
    }

    /// A house that has not connected yet, over a double and a store of one's own.
    ///
    /// # Panics
    /// When it does not come about.
    pub async fn over(config: DoubleConfig, store: Arc<dyn Store>) -> Self {
        let setting = Setting {
            double: config,
            ..Setting::default()
        };
        Self::with(setting, store).await
    }

    /// A house that has not connected yet, in a setting of one's own.
    ///
    /// # Panics
    /// When it does not come about.
    pub async fn with(setting: Setting, store: Arc<dyn Store>) -> Self {
        let double = Double::start(setting.double.clone())
            .await
            .expect("the double starts");
        let guild = double.guild("Wrack Line Hall");
        let channel = double.channel(guild, ChannelKind::Text, "pools");
        let maren = double.member(guild, "Maren Example");
        double.join(guild, maren, usual_permissions() | Permissions::MANAGE_GUILD);
        let ilja = double.member(guild, "Ilja Example");
        let clock = Arc::new(SetClock::at(jiff::Timestamp::UNIX_EPOCH));
        let app = App::new(store.clone(), clock.clone());
        let gateway = Arc::new(gateway(&app, &double, &setting));
        let dispatcher = Dispatcher::new(app.house.clone(), app.way_out(Some(&gateway)), "stage".to_owned());
        let (stop, _) = watch::channel(false);
        let stage = Self {
            double,
            guild,
            channel,
            maren,
            ilja,
            app,
            clock,
            store,
            gateway,
            dispatcher,
            stop,
            running: None,
        };
        stage.at("2026-03-01 12:00");
        stage
    }

    /// Connects, and waits until the lines are registered.
    ///
    /// # Panics
    /// When this does not happen in time.
    pub async fn connect(&mut self) {
        self.begin();
        for _ in 0..200 {
            if !self.double.commands().is_empty() {
                return;
            }
            wrackline::clock::wait(Duration::from_millis(50)).await;
        }
        panic!("the lines are not registered: {:#?}", self.double.faults());
    }

    /// Without an acknowledged heartbeat for so long the connection counts as dead; said before it is opened.
    ///
    /// # Panics
    /// When it is open already.
    pub fn keep_silent_for(&mut self, silence: Duration) {
        let gateway = Arc::get_mut(&mut self.gateway).expect("it is not connected yet");
        gateway.keeping.silence_max = silence;
    }

    /// From here on the house has another token than the platform gave it.
    ///
    /// # Panics
    /// When it is none.
    pub fn mistake_token(&mut self, token: &str) {
        let settings = wrackline::config::Platform {
            token: Token::new(token).expect("a token"),
            base: BaseUrl::parse(&self.double.url()).expect("an address"),
        };
        self.gateway = Arc::new(self.app.platform(&settings).expect("a connection"));
    }

    /// Connects until the connection ends by itself; how it ended.
    ///
    /// # Errors
    /// Why it is of no use to connect again.
    pub async fn connect_only(&self) -> Result<(), Broken> {
        self.gateway.run(self.stop.subscribe()).await
    }

    /// Ends the connection in good order; how it ended.
    ///
    /// # Panics
    /// When it was never begun, or broke off.
    pub async fn disconnect(&mut self) -> Result<(), Broken> {
        self.stop.send_replace(true);
        let running = self.running.take().expect("a connection");
        running.await.expect("it ends by itself")
    }

    /// Begins to connect, without waiting for anything.
    pub fn begin(&mut self) {
        let gateway = self.gateway.clone();
        let stopping = self.stop.subscribe();
        self.running = Some(tokio::spawn(async move { gateway.run(stopping).await }));
    }

    /// How the connection ended, which ends by itself.
    ///
    /// # Panics
    /// When it was never begun, broke off, or does not end.
    pub async fn ended(&mut self) -> Result<(), Broken> {
        let running = self.running.take().expect("a connection");
        let ended = tokio::time::timeout(Duration::from_secs(10), running).await;
        ended.expect("it ends").expect("it ends by itself")
    }

    /// Lets the set clock run on, and does what is to be done then.
    ///
    /// # Panics
    /// When the store does not answer.
    pub async fn later(&mut self, seconds: i64) {
        let then = self.app.house.clock.now() + jiff::SignedDuration::from_secs(seconds);
        self.clock.put(then);
        self.turn().await;
    }

    /// Puts the clock to a local time such as `2026-03-08 08:00`.
    ///
    /// # Panics
    /// When the text is no civil time.
    pub fn at(&self, local: &str) {
        let civil = jiff::civil::DateTime::strptime("%Y-%m-%d %H:%M", local).expect("a civil time");
        let zone = Zone::get(ZONE).expect("a zone");
        self.clock.put(zone.instant(civil));
    }

    /// Says a line natively; the message that answers it.
    ///
    /// # Panics
    /// When the platform does not let them, or no answer comes.
    #[track_caller]
    pub fn say(&self, by: UserId, line: &str, options: &[Opt]) -> impl Future<Output = Message> {
        let act = self.double.command(self.channel, by, line, options);
        let act = act.unwrap_or_else(|why| panic!("/{line}: {why}"));
        async move { act.shown().await }
    }

    /// The place of the server.
    ///
    /// # Panics
    /// When there is none.
    pub async fn place(&self) -> PlaceId {
        let server = i64::try_from(self.guild.0).expect("a number");
        let found = self
            .store
            .place_of_server(server)
            .await
            .expect("the store answers");
        found.expect("the server has a place")
    }

    /// Links the server, and sets up North with both pools and rounds in the morning and the evening.
    ///
    /// # Panics
    /// When a line is refused.
    pub async fn set_up(&self) {
        let text = Opt::text;
        let lines: [(&str, Vec<Opt>); 8] = [
            (
                "place link",
                vec![Opt::channel("channel", self.channel), text("zone", ZONE)],
            ),
            ("place set", vec![text("quiet", "none")]),
            ("rounds add", vec![text("name", "morning"), text("time", "08:00")]),
            ("rounds add", vec![text("name", "evening"), text("time", "19:30")]),
            ("carer add", vec![Opt::user("member", self.ilja)]),
            (
                "enclosure add",
                vec![text("name", "North"), text("volume", "400 L")],
            ),
            (
                "pool add",
                vec![
                    text("enclosure", "North"),
                    text("water", "fresh"),
                    text("volume", "8 L"),
                ],
            ),
            (
                "pool add",
                vec![
                    text("enclosure", "North"),
                    text("water", "salt"),
                    text("volume", "8 L"),
                ],
            ),
        ];
        for (line, options) in &lines {
            let answer = self.say(self.maren, line, options).await;
            assert!(
                !answer.text().contains("Nothing was saved"),
                "/{line}: {}",
                answer.text()
            );
        }
    }

    /// Deals with all that has fallen due, and carries the posts.
    ///
    /// # Panics
    /// When the store does not answer.
    pub async fn turn(&mut self) {
        while engine::step(&self.app.house).await.expect("a step") > 0 {}
        while self.dispatcher.step().await.expect("posts are carried") > 0 {}
    }

    /// What the bot posted of itself in the channel and stands there now, oldest first, without the first word that
    /// was said when it was linked.
    #[must_use]
    pub fn posts(&self) -> Vec<Message> {
        let all = self.double.seen_messages(self.channel).into_iter();
        all.filter(|message| message.interaction.is_none())
            .skip(1)
            .collect()
    }
}

/// The connection of an app to a double.
fn gateway(app: &App, double: &Double, setting: &Setting) -> Gateway {
    let token = setting.token.as_deref().unwrap_or(double.token());
    let token = Token::new(token).expect("a token");
    let base = BaseUrl::parse(&double.url()).expect("an address");
    let sender = Sender::with_limits(&base, token.clone(), setting.limits).expect("a sender");
    let chat = Arc::new(PlatformChat::new(sender, app.house.clone()));
    let house = app.house.clone();
    Gateway {
        ears: Arc::new(Ears { house, chat }),
        base,
        token,
        keeping: setting.keeping,
        state: Arc::default(),
    }
}
