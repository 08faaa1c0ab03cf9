//! `wrackline demo`: the demo place at work, in the browser.

use std::net::SocketAddr;
use std::path::Path;
use std::sync::Arc;

use clap::Args;
use jiff::{SignedDuration, Timestamp};
use tokio::net::TcpListener;
use wrackline_core::civil::{Zone, last_round, plus_days, waking};
use wrackline_core::place::CarerId;

use super::init::make_place;
use super::{Failure, Outcome, link, print, serve};
use crate::app::App;
use crate::clock::{Clock, MachineClock, SetClock};
use crate::config::Config;
use crate::replay::{Scenario, Stage};
use crate::store::Store;
use crate::store::sqlite::SqliteStore;

/// A demo place at work, with a round to answer, in the browser.
#[derive(Debug, Args)]
pub(super) struct Demo {
    /// Where the porch listens; without it, as WRACKLINE_BIND says.
    #[arg(long)]
    bind: Option<SocketAddr>,
    /// The place's IANA zone; without it, that of this machine.
    #[arg(long)]
    zone: Option<String>,
    /// Keep the demo's database in this folder, which must be empty or absent, instead of a temporary one.
    #[arg(long)]
    data: Option<std::path::PathBuf>,
}

/// How many days of the club's past are played before the demo opens.
const DAYS: i64 = 12;

impl Demo {
    /// Plays the club's last days up to now, then opens the porch.
    ///
    /// # Errors
    /// Broken when the folder or the address cannot be had.
    pub(super) async fn run(self) -> Outcome {
        let name = self.zone.clone().unwrap_or_else(machine_zone);
        let zone = Zone::get(&name).ok_or_else(|| {
            Failure::Refused(format!("“{name}” is not a zone of the IANA time zone database."))
        })?;
        let config = Config::load()?;
        let bind = self.bind.unwrap_or(config.bind);
        let listener = TcpListener::bind(bind).await.map_err(|error| {
            Failure::Broken(format!(
                "{bind} (--bind, WRACKLINE_BIND) cannot be listened on: {error}. Name another."
            ))
        })?;
        let (folder, temporary) = match self.data {
            Some(folder) => (folder, false),
            None => (
                std::env::temp_dir().join(format!("wrackline-demo-{}", super::random_letters())),
                true,
            ),
        };
        std::fs::create_dir_all(&folder)?;
        let database = folder.join("wrackline.db");
        let _lock = serve::take_lock(&database)?;
        print(&format!("The club's last {DAYS} days are being played …"));
        play_past(&database, &zone).await?;
        let store: Arc<dyn Store> = Arc::new(SqliteStore::open(&database).await?);
        let app = Arc::new(App::new(store.clone(), Arc::new(MachineClock)));
        let place = super::which_place(&store, None).await?;
        let url = link::make(&app, place, CarerId(1), &listener.local_addr()?.to_string()).await?;
        print(&format!(
            "Open this in a browser: you are Maren, the keeper. The link works once.\n\n  {url}\n"
        ));
        print("Type /due or /help there, or press an answer. Ctrl-C ends the demo.");
        serve::run_all(app, Some(&database), listener, &config, None).await?;
        store.close().await;
        if temporary {
            std::fs::remove_dir_all(&folder)?;
        }
        Ok(())
    }
}

/// Plays the scenario up to now; the last call stays unanswered.
async fn play_past(database: &Path, zone: &Zone) -> Result<(), Failure> {
    let scenario = Scenario::load("demo").map_err(Failure::Broken)?;
    let store: Arc<dyn Store> = Arc::new(SqliteStore::open(database).await?);
    if !store.places().await?.is_empty() {
        return Err(Failure::Refused(
            "That folder holds a place already: name an empty one.".to_owned(),
        ));
    }
    let now = MachineClock.now();
    let first_day = plus_days(zone.date(now), 1 - DAYS);
    let clock = Arc::new(SetClock::at(Timestamp::UNIX_EPOCH));
    let place = make_place(&*store, zone, &scenario.keeper, &scenario.name, false).await?;
    let app = App::new(store.clone(), clock.clone());
    let broken = |error: crate::replay::stage::StageError| Failure::Broken(error.to_string());
    let mut stage = Stage::set(
        app.house.clone(),
        clock,
        app.porch.clone(),
        (place, zone.clone()),
        &scenario,
        (first_day, 7),
    )
    .await
    .map_err(broken)?;
    let answered = before_last_call(&app, place, now).await?;
    stage.play(now, answered).await.map_err(broken)?;
    store.close().await;
    Ok(())
}

/// A moment before the last round call, so that there is one to answer.
async fn before_last_call(app: &App, place: i64, now: Timestamp) -> Result<Timestamp, Failure> {
    let held = app.house.shelf.open(place).await?;
    let at = held.book().place_at(now);
    let mut call = now;
    loop {
        let round = last_round(&at.zone, &at.rounds, call);
        if waking(&at.zone, at.quiet, round.at) <= now {
            return Ok(round.at - SignedDuration::from_mins(1));
        }
        call = round.at - SignedDuration::from_mins(1);
    }
}

/// The zone of this machine: `TZ`, else `/etc/timezone`, else UTC.
fn machine_zone() -> String {
    let known = |name: &String| Zone::get(name).is_some();
    let set = std::env::var("TZ")
        .ok()
        .map(|name| name.trim_start_matches(':').to_owned())
        .filter(known);
    let file = || {
        std::fs::read_to_string("/etc/timezone")
            .ok()
            .map(|name| name.trim().to_owned())
            .filter(known)
    };
    set.or_else(file).unwrap_or_else(|| "UTC".to_owned())
}
