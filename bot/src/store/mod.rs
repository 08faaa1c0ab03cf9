//! The store: the journal, what lies beside it, and the posts on their way out.
//!
//! The port is [`Store`]; the adapters are in the modules below. Rows carry times as milliseconds since the epoch
//! (UTC) and bodies as JSON text: the store knows neither the journal's events nor the chat's blocks.
//! Every method that touches a place's data names the place. Only those reach across places that are for finding one
//! ([`Store::due_places`], [`Store::next_moment`], [`Store::claim`], [`Store::place_of_server`], [`Store::servers`] and
//! the sign-in look-ups, [`Store::calendar`]), retention ([`Store::forget_photos`]), and what the process keeps for itself
//! ([`Store::kept`], [`Store::keep`]).

use std::path::Path;
use std::sync::Arc;

use async_trait::async_trait;

mod database;
mod files;
#[allow(clippy::duplicate_mod, reason = "the body is compiled once for each driver")]
pub mod postgres;
mod sql;
pub mod sqlite;
mod tables;

pub use self::database::{Database, NoPgUrl, PgUrl};

/// The number of a place.
pub type PlaceId = i64;

/// What went wrong in the store.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// Another writer was first: the place's version is no longer the expected one. Load again and retry.
    #[error("the place changed meanwhile")]
    Conflict,
    /// The inbound id was seen before: fetch the first answer with [`Store::inbound`].
    #[error("this line was heard before")]
    Repeat,
    /// The database is locked by another writer for longer than the wait allowed.
    #[error("the database is locked")]
    Locked,
    /// The disk is full.
    #[error("the disk is full")]
    Full,
    /// The database could not be opened or its schema brought up to date.
    #[error("the database cannot be opened: {0}")]
    Unreachable(String),
    /// Anything else, with what was being done.
    #[error("{doing}: {source}")]
    Other {
        /// What was being done.
        doing: &'static str,
        /// What the driver said.
        #[source]
        source: Box<dyn std::error::Error + Send + Sync>,
    },
}

/// What stores return.
pub type Result<T> = std::result::Result<T, StoreError>;

/// Opens a database, makes what is absent in it, and brings its schema up to date.
///
/// # Errors
/// Those of [`sqlite::SqliteStore::open`] and [`postgres::PostgresStore::open`].
pub async fn open(database: &Database) -> Result<Arc<dyn Store>> {
    Ok(match database {
        Database::File(file) => Arc::new(sqlite::SqliteStore::open(file).await?),
        Database::Postgres(url) => Arc::new(postgres::PostgresStore::open(url).await?),
    })
}

/// Puts a backup in place of what a database holds, while no program works on it; that is moved aside. Returns where
/// it lies: a file, or a schema of the same database.
///
/// # Errors
/// Those of [`sqlite::restore`] and [`postgres::restore`].
pub async fn restore(from: &Path, database: &Database) -> Result<Option<String>> {
    match database {
        Database::File(file) => {
            let aside = sqlite::restore(from, file).await?;
            Ok(aside.map(|aside| aside.display().to_string()))
        }
        Database::Postgres(url) => {
            let aside = postgres::restore(from, url).await?;
            Ok(aside.map(|schema| format!("the schema {schema} of {url}")))
        }
    }
}

/// One entry of the journal as it is stored.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EntryRow {
    /// Its number within the place: the last one plus one, chosen by the writer.
    pub seq: i64,
    /// When it counts from.
    pub at_ms: i64,
    /// When it was logged.
    pub logged_at_ms: i64,
    /// Who did it.
    pub by: u32,
    /// Who said so.
    pub said_by: u32,
    /// What it says, as JSON.
    pub body: String,
}

/// A photo beside an entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PhotoRow {
    /// The entry it belongs to.
    pub seq: i64,
    /// Its media type.
    pub media_type: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// The first answer to a line or press, kept under the id that its transport gave it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InboundRow {
    /// The id, unique in the place.
    pub id: String,
    /// When it came in.
    pub at_ms: i64,
    /// The answer, as JSON.
    pub answer: String,
}

/// A post that is wanted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NewPost {
    /// What calls for it; each key is unique in the place for ever. The first one is the post's nonce.
    pub keys: Vec<String>,
    /// Where it goes.
    pub destination: String,
    /// What to render, as JSON.
    pub body: String,
    /// When it is wanted from.
    pub at_ms: i64,
    /// After this moment it is no longer worth sending.
    pub not_after_ms: i64,
}

/// Where a post is in its life.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PostState {
    /// It waits to be sent, or to be sent anew after a change.
    Pending,
    /// Its newest version is out.
    Sent,
    /// It was no longer worth sending.
    Expired,
    /// It could not be delivered.
    Dead,
}

/// A post as it is stored.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PostRow {
    /// Its number.
    pub id: i64,
    /// The place it belongs to.
    pub place: PlaceId,
    /// What called for it; the first one is its nonce.
    pub keys: Vec<String>,
    /// Where it goes.
    pub destination: String,
    /// What to render, as JSON.
    pub body: String,
    /// When it was wanted from.
    pub at_ms: i64,
    /// After this moment a first sending is no longer worth it.
    pub not_after_ms: i64,
    /// The version that is wanted, from 1.
    pub wanted: i64,
    /// The version that is out; 0 when none is.
    pub sent: i64,
    /// The transport's id of the message that is out.
    pub message: Option<String>,
    /// Where it is in its life.
    pub state: PostState,
    /// How often sending the wanted version was begun.
    pub attempts: i64,
    /// When it is next looked at: retry time and end of a lease at once.
    pub next_at_ms: i64,
    /// Why the last attempt failed.
    pub error: Option<String>,
    /// What a version shows, hashed behind its number. Where that is not the version that is out, an older program sent it.
    pub shown: Option<String>,
}

/// How an attempt to send ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Settled {
    /// It is out.
    Sent {
        /// The transport's id of the message.
        message: String,
        /// The version that was rendered.
        version: i64,
        /// When.
        at_ms: i64,
        /// What it shows, hashed behind its version.
        shown: String,
        /// Keys that are known once it is out.
        known: Vec<String>,
    },
    /// It is tried again.
    Retry {
        /// When.
        next_at_ms: i64,
        /// Why it failed.
        error: String,
    },
    /// It was no longer worth sending.
    Expired,
    /// It cannot be delivered.
    Dead {
        /// Why.
        error: String,
    },
}

/// A stored mark: a cache of what core computes, to be verified at any time.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StandingRow {
    /// The turn's key.
    pub turn: String,
    /// When it is due.
    pub due_ms: i64,
    /// When it is overdue.
    pub overdue_ms: i64,
    /// When it becomes a hazard.
    pub hazard_ms: Option<i64>,
}

/// Where a place is at home on the chat platform, by the platform's numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ServerRow {
    /// The server; it is one place's.
    pub server: i64,
    /// The channel in it that the place posts to.
    pub channel: i64,
}

/// A carer's calendar, as its address leads to it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CalendarRow {
    /// The place.
    pub place: PlaceId,
    /// Whose turns it tells.
    pub carer: u32,
    /// How many minutes before a turn its alarm rings; `None`: there is none.
    pub alarm_min: Option<i64>,
    /// What the ids in the place's calendars are hashed with.
    pub seed: String,
}

/// All that one event changes, written in one transaction.
#[derive(Clone, Debug, Default)]
pub struct Change {
    /// Entries, numbered on from the place's last one.
    pub entries: Vec<EntryRow>,
    /// Names of carers, beside the journal.
    pub names: Vec<(u32, String)>,
    /// Notes, beside their entries.
    pub notes: Vec<(i64, String)>,
    /// Photos, beside their entries.
    pub photos: Vec<PhotoRow>,
    /// The line or press that caused this, with its answer.
    pub inbound: Option<InboundRow>,
    /// Posts that are wanted now.
    pub posts: Vec<NewPost>,
    /// Keys that need no post any more: covered by another post, or stale after a stop.
    pub covered: Vec<String>,
    /// Posts whose wanted version rises, so that they are rendered anew.
    pub raise: Vec<i64>,
    /// The place's marks, replacing those stored.
    pub standings: Option<Vec<StandingRow>>,
    /// When the engine looks at the place next; inner `None`: never.
    pub next_at_ms: Option<Option<i64>>,
    /// Up to when the engine has dealt with the place.
    pub seen_at_ms: Option<i64>,
    /// The server and channel that the place is linked to from now on, in place of its earlier ones.
    pub server: Option<ServerRow>,
    /// Accounts on the chat platform, by carer. In a place an account is one carer's and a carer has one account: the
    /// latest pair takes the place of every other one of its carer or its account.
    pub accounts: Vec<(u32, i64)>,
}

/// What is known of a place without its journal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Head {
    /// Raised by every commit.
    pub version: i64,
    /// The number of the last entry; 0 when there is none.
    pub last_seq: i64,
    /// When the engine looks at the place next.
    pub next_at_ms: Option<i64>,
    /// Up to when the engine has dealt with the place.
    pub seen_at_ms: i64,
    /// Whether it is a practice place, where time may be set by hand.
    pub practice: bool,
}

/// The journal after an entry, with what lies beside it, read in one snapshot.
#[derive(Clone, Debug)]
pub struct Tail {
    /// The place's head in the same snapshot.
    pub head: Head,
    /// Entries after the one asked for, in order of number.
    pub entries: Vec<EntryRow>,
    /// All names of carers.
    pub names: Vec<(u32, String)>,
    /// Notes of those entries.
    pub notes: Vec<(i64, String)>,
}

/// One line of the porch's transcript.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PorchRow {
    /// Its number within the place, in order of appearance.
    pub id: i64,
    /// Raised in the place by every new or edited line, so that a reader can ask for what is new.
    pub revision: i64,
    /// When it appeared.
    pub at_ms: i64,
    /// Whose eyes it is for; `None`: everyone's.
    pub only_for: Option<u32>,
    /// What it shows, as JSON.
    pub body: String,
}

/// The port that every database adapter fulfils; the contract suite in `tests/` holds them to it.
#[async_trait]
pub trait Store: Send + Sync {
    /// Makes a place with its first entries in one transaction; its version is then 1.
    ///
    /// # Errors
    /// As [`Store::commit`], for what the change itself says.
    async fn create_place(&self, practice: bool, change: &Change) -> Result<PlaceId>;

    /// All places, in order of number.
    async fn places(&self) -> Result<Vec<PlaceId>>;

    /// A place's head; `None` when there is no such place.
    async fn head(&self, place: PlaceId) -> Result<Option<Head>>;

    /// The journal after an entry (0: all of it).
    async fn tail(&self, place: PlaceId, after_seq: i64) -> Result<Tail>;

    /// Writes all of a change or nothing, and raises the version.
    ///
    /// # Errors
    /// [`StoreError::Conflict`] when the version is not the expected one, a post's key exists already or the server is
    /// another place's, [`StoreError::Repeat`] when the inbound id exists already.
    async fn commit(&self, place: PlaceId, expected_version: i64, change: &Change) -> Result<i64>;

    /// The first answer to an inbound id.
    async fn inbound(&self, place: PlaceId, id: &str) -> Result<Option<String>>;

    /// Which of these keys exist already (posted or covered).
    async fn known_keys(&self, place: PlaceId, keys: &[String]) -> Result<Vec<String>>;

    /// Posts wanted at or after a moment, in order of number.
    async fn posts(&self, place: PlaceId, since_ms: i64) -> Result<Vec<PostRow>>;

    /// One post.
    async fn post(&self, place: PlaceId, id: i64) -> Result<Option<PostRow>>;

    /// The stored marks, in order of turn key.
    async fn standings(&self, place: PlaceId) -> Result<Vec<StandingRow>>;

    /// The photo beside an entry.
    async fn photo(&self, place: PlaceId, seq: i64) -> Result<Option<PhotoRow>>;

    /// Places whose next moment has come, earliest first.
    async fn due_places(&self, now_ms: i64, limit: i64) -> Result<Vec<PlaceId>>;

    /// The earliest moment at which a place or a pending post wants attention.
    async fn next_moment(&self) -> Result<Option<i64>>;

    /// Claims pending posts whose time has come: sets their lease, raises their attempts, and returns them in
    /// order of (`next_at_ms` before the claim, id).
    async fn claim(&self, now_ms: i64, lease_until_ms: i64, lease: &str, limit: i64) -> Result<Vec<PostRow>>;

    /// Ends an attempt. Returns whether the lease was still held; if not, nothing changes.
    /// A post whose wanted version rose meanwhile stays pending, due at once, with its attempts at 0.
    async fn settle(&self, place: PlaceId, post: i64, lease: &str, settled: &Settled) -> Result<bool>;

    /// Adds a line to the porch, or returns the earlier line of the same key (adding nothing).
    async fn porch_add(
        &self,
        place: PlaceId,
        key: &str,
        at_ms: i64,
        only_for: Option<u32>,
        body: &str,
    ) -> Result<PorchRow>;

    /// Replaces a porch line's body and raises its revision; `None` when there is no such line.
    async fn porch_edit(&self, place: PlaceId, id: i64, body: &str) -> Result<Option<PorchRow>>;

    /// Porch lines with a revision above the one given, the newest `limit` of them, in order of revision.
    async fn porch_after(&self, place: PlaceId, revision: i64, limit: i64) -> Result<Vec<PorchRow>>;

    /// Stores a key (hashed by the caller) that lets a carer in until a moment. `once`: its first use ends it.
    async fn key_put(&self, place: PlaceId, carer: u32, hash: &str, once: bool, until_ms: i64) -> Result<()>;

    /// Whom a key lets in at a moment; a key for one use is used up by this.
    async fn key_use(&self, hash: &str, now_ms: i64) -> Result<Option<(PlaceId, u32)>>;

    /// Gives a carer's calendar an address (hashed by the caller) in place of the earlier one, which leads nowhere from
    /// then on. Of the seeds that a place is ever given, the first stays.
    async fn calendar_put(
        &self,
        place: PlaceId,
        carer: u32,
        hash: &str,
        alarm_min: Option<i64>,
        seed: &str,
    ) -> Result<()>;

    /// Ends the address of a carer's calendar. Returns whether there was one.
    async fn calendar_end(&self, place: PlaceId, carer: u32) -> Result<bool>;

    /// The alarm of a carer's calendar, in minutes before a turn; outer `None`: it has no address.
    async fn calendar_of(&self, place: PlaceId, carer: u32) -> Result<Option<Option<i64>>>;

    /// The calendar that an address leads to.
    async fn calendar(&self, hash: &str) -> Result<Option<CalendarRow>>;

    /// The place that is at home on a server of the chat platform.
    async fn place_of_server(&self, server: i64) -> Result<Option<PlaceId>>;

    /// The server and channel where a place is at home.
    async fn server_of(&self, place: PlaceId) -> Result<Option<ServerRow>>;

    /// All places that are at home on a server, in order of place.
    async fn servers(&self) -> Result<Vec<(PlaceId, ServerRow)>>;

    /// Whose an account on the chat platform is in a place.
    async fn carer_of(&self, place: PlaceId, account: i64) -> Result<Option<u32>>;

    /// The accounts of a place's carers, in order of carer.
    async fn accounts(&self, place: PlaceId) -> Result<Vec<(u32, i64)>>;

    /// A value that the process keeps for itself under a name, such as a fingerprint.
    async fn kept(&self, name: &str) -> Result<Option<String>>;

    /// Keeps a value under a name, in place of the earlier one.
    async fn keep(&self, name: &str, value: &str) -> Result<()>;

    /// Removes the photos whose entry was logged before a moment; the entries stay. Returns how many there were.
    async fn forget_photos(&self, before_ms: i64) -> Result<u64>;

    /// Writes a complete, consistent copy of the database to a new file.
    async fn backup(&self, file: &Path) -> Result<()>;

    /// Ends all work in hand.
    async fn close(&self);
}
