//! The commands of the process. Exit codes: 0 done, 1 the request was refused, 2 the set-up is broken.

mod copy;
mod demo;
mod health;
pub mod init;
mod link;
pub mod replay;
mod say;
mod serve;
mod socket;
pub mod verify;

use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::Arc;

use clap::{Parser, Subcommand};

use crate::config::{Broken, Config};
use crate::store::{self, Database, PlaceId, Store, StoreError};

/// Shared care of the pools of land hermit crabs, in the group's chat.
#[derive(Debug, Parser)]
#[command(name = "wrackline", version, about)]
pub struct Arguments {
    /// What to do.
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Make an empty place with one keeper.
    Init(init::Init),
    /// Serve the porch, post rounds, call what is late.
    Serve(serve::Serve),
    /// Say one line and print the answer.
    Say(say::Say),
    /// Print a link that lets a carer in on the porch, once.
    Link(link::Link),
    /// A demo place at work, with a round to answer, in the browser.
    Demo(demo::Demo),
    /// Run a scenario in virtual time and print what the chat shows.
    Replay(replay::Replay),
    /// Ask the serve at WRACKLINE_BIND whether it is ready: exit code 0 when it is, 1 when not.
    Health,
    /// Compute every stored mark anew and print the number of differences.
    Verify,
    /// Write a copy of the database to a new file, also beside a running serve.
    Backup(copy::Backup),
    /// Put a copy back in place of the database, which is moved aside.
    Restore(copy::Restore),
}

/// How a command ended, where it did not end well.
#[derive(Debug)]
pub enum Failure {
    /// The request was refused: the text says why. Exit code 1.
    Refused(String),
    /// The set-up is broken: the text names the setting. Exit code 2.
    Broken(String),
}

impl From<Broken> for Failure {
    fn from(broken: Broken) -> Self {
        Self::Broken(broken.0)
    }
}

impl From<StoreError> for Failure {
    fn from(error: StoreError) -> Self {
        Self::Broken(one_line(&error.to_string()))
    }
}

impl From<std::io::Error> for Failure {
    fn from(error: std::io::Error) -> Self {
        Self::Broken(one_line(&error.to_string()))
    }
}

type Outcome = Result<(), Failure>;

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Runs a command to its end.
#[must_use]
#[expect(
    clippy::print_stderr,
    reason = "a command's one sentence to the person who typed it"
)]
pub fn run(arguments: Arguments) -> ExitCode {
    let many = matches!(arguments.command, Command::Serve(_) | Command::Demo(_));
    crate::logs::to_stderr(many);
    let runtime = if many {
        tokio::runtime::Builder::new_multi_thread()
            .worker_threads(2)
            .enable_all()
            .build()
    } else {
        tokio::runtime::Builder::new_current_thread().enable_all().build()
    };
    let outcome = match runtime {
        Ok(runtime) => runtime.block_on(dispatch(arguments.command)),
        Err(error) => Err(error.into()),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(Failure::Refused(text)) => {
            eprintln!("{text}");
            ExitCode::from(1)
        }
        Err(Failure::Broken(text)) => {
            eprintln!("{text}");
            ExitCode::from(2)
        }
    }
}

async fn dispatch(command: Command) -> Outcome {
    match command {
        Command::Init(init) => init.run(&Config::load()?).await,
        Command::Serve(serve) => serve.run(&Config::load()?).await,
        Command::Say(say) => say.run(&Config::load()?).await,
        Command::Link(link) => link.run(&Config::load()?).await,
        Command::Demo(demo) => demo.run().await,
        Command::Replay(replay) => replay.run().await,
        Command::Health => health::run(&Config::load()?).await,
        Command::Verify => verify::run(&Config::load()?).await,
        Command::Backup(backup) => backup.run(&Config::load()?).await,
        Command::Restore(restore) => restore.run(&Config::load()?).await,
    }
}

/// Opens the store that the settings name.
async fn open(config: &Config) -> Result<Arc<dyn Store>, Failure> {
    match store::open(&config.database).await {
        Ok(store) => Ok(store),
        // Nothing is wrong with the set-up: the same command may be done in a while.
        Err(StoreError::Locked) => Err(Failure::Refused(format!(
            "The database {} is held by another program. Nothing was saved: try again.",
            config.database
        ))),
        Err(StoreError::Full) => Err(Failure::Refused(
            "The disk is full. Nothing was saved.".to_owned(),
        )),
        Err(error) => Err(Failure::Broken(format!(
            "The database {} ({}) cannot be used: {}.",
            config.database,
            settings_of(&config.database),
            one_line(&error.to_string()).trim_end_matches('.')
        ))),
    }
}

/// The settings that say where a database is.
fn settings_of(database: &Database) -> &'static str {
    match database {
        Database::File(_) => "WRACKLINE_DATABASE_URL, WRACKLINE_DATA",
        Database::Postgres(_) => "WRACKLINE_DATABASE_URL",
    }
}

/// Opens the store, which must be there already.
async fn open_existing(config: &Config) -> Result<Arc<dyn Store>, Failure> {
    if let Some(file) = config.database.file().filter(|file| !file.exists()) {
        return Err(Failure::Broken(format!(
            "There is no database {} (WRACKLINE_DATA): make one with wrackline init --zone ZONE --keeper NAME.",
            file.display()
        )));
    }
    open(config).await
}

/// The place that a command means: the only one, or the one of a number or a name.
async fn which_place(store: &Arc<dyn Store>, named: Option<&str>) -> Result<PlaceId, Failure> {
    let places = store.places().await?;
    let Some(named) = named else {
        return match places.as_slice() {
            [] => Err(no_place()),
            [one] => Ok(*one),
            many => Err(Failure::Refused(format!(
                "There are {} places: say which one, with --place and its number or name.",
                many.len()
            ))),
        };
    };
    if let Some(place) = named
        .parse::<PlaceId>()
        .ok()
        .filter(|place| places.contains(place))
    {
        return Ok(place);
    }
    let shelf = crate::shelf::Shelf::new(store.clone());
    for place in &places {
        let held = shelf.open(*place).await?;
        if held
            .book()
            .place_at(jiff::Timestamp::MAX)
            .name
            .eq_ignore_ascii_case(named)
        {
            return Ok(*place);
        }
    }
    Err(Failure::Refused(format!("There is no place “{named}”.")))
}

/// Nothing can be done before there is a place.
fn no_place() -> Failure {
    Failure::Broken(
        "There is no place yet: make one with wrackline init --zone ZONE --keeper NAME.".to_owned(),
    )
}

/// A file beside the database, by its ending.
fn beside(database: &Path, ending: &str) -> PathBuf {
    let mut name = database.file_name().unwrap_or_default().to_owned();
    name.push(ending);
    database.with_file_name(name)
}

/// The lock that `serve` holds on a database; `None` when another process holds it.
fn lock(database: &Path) -> std::io::Result<Option<std::fs::File>> {
    let file = beside(database, ".lock");
    let file = std::fs::File::options()
        .create(true)
        .truncate(false)
        .write(true)
        .open(file)?;
    match file.try_lock() {
        Ok(()) => Ok(Some(file)),
        Err(std::fs::TryLockError::WouldBlock) => Ok(None),
        Err(std::fs::TryLockError::Error(error)) => Err(error),
    }
}

/// Prints a command's answer. Whoever reads it may have had enough: a closed pipe is no error.
fn print(text: &str) {
    use std::io::Write;
    let mut out = std::io::stdout().lock();
    let _ = writeln!(out, "{text}").and_then(|()| out.flush());
}

/// Random letters that nobody guesses, for ids and keys.
///
/// # Panics
/// When the machine has no randomness to give.
#[must_use]
pub fn random_letters() -> String {
    let mut bytes = [0_u8; 18];
    getrandom::fill(&mut bytes).expect("the machine gives random bytes");
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
