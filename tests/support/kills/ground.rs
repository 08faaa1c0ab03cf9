//! Where it happens: the platform's double, the real program, and a place that is set up through the two.

use std::path::Path;
use std::sync::Arc;
use std::time::Duration;

use wrackline::clock::{Clock, MachineClock, wait};
use wrackline::store::{self, Database, PlaceId, PostState, Store};

use crate::binary::{Ran, Serve, Shell};
use crate::platform::{
    ChannelId, ChannelKind, Double, DoubleConfig, GuildId, Opt, Permissions, UserId, usual_permissions,
};
use crate::postgres;

/// How long anything may take on a machine that is busy.
const PATIENCE: Duration = Duration::from_secs(60);
/// How long no post may come out of an outbox that empties after a kill: a lease runs for half a minute.
const STUCK_AFTER: Duration = Duration::from_secs(120);
/// How many people there are beside the keeper.
const PEOPLE: usize = 7;

/// What the place is kept in.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Base {
    /// A file.
    Sqlite,
    /// A server's database.
    Postgres,
}

/// The double, the program's folder, and the people.
pub struct Ground {
    /// The platform.
    pub double: Double,
    /// The folder of the program.
    pub shell: Shell,
    /// The address of the server's database; none for the file in the folder.
    pub address: Option<String>,
    /// The server on the platform.
    pub guild: GuildId,
    /// The channel of the pools.
    pub channel: ChannelId,
    /// Everybody, the keeper first.
    pub people: Vec<UserId>,
}

impl Ground {
    /// A platform with a server and people, and an empty database.
    ///
    /// # Panics
    /// When one of them does not start.
    pub async fn new(base: Base) -> Self {
        let now = MachineClock.now().as_millisecond();
        let config = DoubleConfig {
            // Posts are looked for by the moment their numbers tell.
            base_ms: u64::try_from(now).expect("after 1970"),
            patience: PATIENCE,
            ..DoubleConfig::default()
        };
        let double = Double::start(config).await.expect("the double starts");
        double.follow_clock();
        let guild = double.guild("Wrack Line Hall");
        let channel = double.channel(guild, ChannelKind::Text, "pools");
        let keeper = double.member(guild, "Maren Example");
        double.join(guild, keeper, usual_permissions() | Permissions::MANAGE_GUILD);
        let mut people = vec![keeper];
        people.extend((1..=PEOPLE).map(|number| double.member(guild, &format!("Carer {number}"))));
        let address = match base {
            Base::Sqlite => None,
            Base::Postgres => Some(tokio::task::block_in_place(postgres::database)),
        };
        Self {
            double,
            shell: Shell::new(),
            address,
            guild,
            channel,
            people,
        }
    }

    /// Starts the program, and waits until its porch is open.
    ///
    /// # Panics
    /// When it does not start.
    #[must_use]
    pub fn serve(&self) -> Serve {
        let mut command = self.shell.command(&["serve"]);
        command
            .env("WRACKLINE_PLATFORM_URL", self.double.url())
            .env("WRACKLINE_TOKEN", self.double.token());
        if let Some(address) = &self.address {
            command.env("WRACKLINE_DATABASE_URL", address);
        }
        tokio::task::block_in_place(|| self.shell.serve_by(command))
    }

    /// Runs another command of the program on the same database.
    ///
    /// # Panics
    /// When it does not start.
    #[must_use]
    pub fn run(&self, arguments: &[&str]) -> Ran {
        let mut command = self.shell.command(arguments);
        if let Some(address) = &self.address {
            command.env("WRACKLINE_DATABASE_URL", address);
        }
        let output = tokio::task::block_in_place(|| command.output());
        output.expect("the program starts").into()
    }

    /// Waits until so many of the killed and living processes are connected, and forgets the sessions of the others.
    ///
    /// # Panics
    /// When it takes too long.
    pub async fn remain(&self, living: usize) {
        let until = wrackline::clock::monotonic() + PATIENCE;
        let gateway = self.double.gateway();
        while gateway.sessions() != living {
            assert!(
                wrackline::clock::monotonic() < until,
                "{} sessions, not {living}",
                gateway.sessions()
            );
            wait(Duration::from_millis(2)).await;
        }
        gateway.bury();
    }

    /// Links the server, and sets up North with both pools, all people its carers, and no quiet hours.
    ///
    /// # Panics
    /// When a line is refused.
    pub async fn set_up(&self) {
        self.double.await_commands().await;
        let text = Opt::text;
        self.say(
            "place link",
            &[
                Opt::channel("channel", self.channel),
                text("zone", "Europe/London"),
            ],
        )
        .await;
        self.say("place set", &[text("quiet", "none")]).await;
        for person in &self.people[1..] {
            self.say("carer add", &[Opt::user("member", *person)]).await;
        }
        self.say("enclosure add", &[text("name", "North"), text("volume", "400 L")])
            .await;
        for water in ["fresh", "salt"] {
            let pool = [
                text("enclosure", "North"),
                text("water", water),
                text("volume", "8 L"),
            ];
            self.say("pool add", &pool).await;
        }
    }

    /// Says a line as the keeper; what is answered.
    ///
    /// # Panics
    /// When it is refused.
    pub async fn say(&self, line: &str, options: &[Opt]) -> String {
        let act = self.double.command(self.channel, self.people[0], line, options);
        let act = act.unwrap_or_else(|why| panic!("/{line}: {why}"));
        let text = act.shown().await.text();
        assert!(!text.contains("Nothing was saved"), "/{line}: {text}");
        text
    }

    /// Opens the database beside whoever works on it.
    ///
    /// # Panics
    /// When it cannot be opened.
    pub async fn store(&self) -> Arc<dyn Store> {
        let database = match &self.address {
            None => Database::File(self.shell.database()),
            Some(address) => Database::Postgres(address.parse().expect("an address")),
        };
        store::open(&database).await.expect("the database opens")
    }

    /// The place of the server.
    ///
    /// # Panics
    /// When there is none.
    pub async fn place(&self, store: &Arc<dyn Store>) -> PlaceId {
        let server = i64::try_from(self.guild.0).expect("a number");
        let found = store.place_of_server(server).await.expect("the store answers");
        found.expect("the server has a place")
    }

    /// Waits until no post waits any more. Those that wait for ever are found by the comparison.
    ///
    /// # Panics
    /// When the store does not answer.
    pub async fn settle(&self) {
        let store = self.store().await;
        let place = self.place(&store).await;
        let mut until = wrackline::clock::monotonic() + STUCK_AFTER;
        let (mut calm, mut fewest) = (0, usize::MAX);
        while calm < 3 && wrackline::clock::monotonic() < until {
            wait(Duration::from_millis(300)).await;
            let posts = store.posts(place, 0).await.expect("posts");
            let waiting = posts.iter().filter(|post| post.state == PostState::Pending);
            let waiting = waiting.count();
            calm = if waiting > 0 { 0 } else { calm + 1 };
            if waiting < fewest {
                (fewest, until) = (waiting, wrackline::clock::monotonic() + STUCK_AFTER);
            }
        }
        store.close().await;
    }

    /// A file in the program's folder.
    #[must_use]
    pub fn file(&self, name: &str) -> String {
        Path::new(self.shell.folder()).join(name).display().to_string()
    }
}
