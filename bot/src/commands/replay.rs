//! `wrackline replay`: a scenario in virtual time.

use std::sync::Arc;

use clap::Args;
use jiff::{Timestamp, civil};
use wrackline_core::civil::{Zone, plus_days};

use super::init::make_place;
use super::{Failure, Outcome, print};
use crate::app::App;
use crate::clock::SetClock;
use crate::replay::{Scenario, Stage, Transcript};
use crate::store::Store;
use crate::store::sqlite::SqliteStore;

/// Run a scenario in virtual time and print what the chat shows.
#[derive(Debug, Args)]
pub struct Replay {
    /// One of the program's scenarios (demo, night, family, club, sitter), or the path of a scenario's file.
    #[arg(long, default_value = "demo")]
    scenario: String,
    /// The first day, instead of the scenario's own.
    #[arg(long)]
    from: Option<civil::Date>,
    /// How many days, at most 400.
    #[arg(long, default_value_t = 14)]
    days: u16,
    /// The IANA zone, instead of the scenario's own.
    #[arg(long)]
    zone: Option<String>,
    /// What chance is drawn from: the same seed gives the same transcript.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// After the days, tell how the work was shared: minutes of each person beside the share that they want, Jain's
    /// index, how many turns came late, turns that nobody had, and how far from the best sharing it was.
    #[arg(long)]
    report: bool,
}

/// The longest replay, in days.
const DAYS_MAX: u16 = 400;

impl Replay {
    /// Runs the scenario and prints the transcript.
    ///
    /// # Errors
    /// Refused for an unknown scenario or zone, or a scenario whose lines are refused.
    pub async fn run(self) -> Outcome {
        print(self.transcript().await?.trim_end());
        Ok(())
    }

    async fn transcript(&self) -> Result<String, Failure> {
        if self.days > DAYS_MAX {
            return Err(Failure::Refused(format!(
                "A replay runs for at most {DAYS_MAX} days."
            )));
        }
        let scenario = Scenario::load(&self.scenario).map_err(Failure::Refused)?;
        let zone = self.zone.as_deref().unwrap_or(&scenario.zone);
        let zone = Zone::get(zone).ok_or_else(|| {
            Failure::Refused(format!("“{zone}” is not a zone of the IANA time zone database."))
        })?;
        let from = self.from.or(scenario.from).ok_or_else(|| {
            Failure::Refused(format!(
                "The scenario {} has no first day of its own: say one with --from.",
                self.scenario
            ))
        })?;
        self.play(&scenario, &zone, from).await
    }

    /// Plays a scenario in a database of its own that is gone afterwards.
    async fn play(&self, scenario: &Scenario, zone: &Zone, from: civil::Date) -> Result<String, Failure> {
        let store: Arc<dyn Store> = Arc::new(SqliteStore::open_memory().await?);
        let clock = Arc::new(SetClock::at(Timestamp::UNIX_EPOCH));
        let place = make_place(&*store, zone, &scenario.keeper, &scenario.name, true).await?;
        let app = App::new(store.clone(), clock.clone());
        let transcript = Arc::new(Transcript::new(zone.clone()));
        let broken = |error: crate::replay::stage::StageError| Failure::Refused(error.to_string());
        let mut stage = Stage::set(
            app.house.clone(),
            clock,
            transcript.clone(),
            (place, zone.clone()),
            scenario,
            (from, self.seed),
        )
        .await
        .map_err(broken)?;
        let end = zone.day_start(plus_days(from, i64::from(self.days)));
        stage.play(end, end).await.map_err(broken)?;
        let mut text = transcript.text();
        if self.report {
            let report = stage.report(end).await.map_err(broken)?;
            text += &format!("\n{}\n", crate::chat::plain::text(&report));
        }
        store.close().await;
        Ok(text)
    }
}
