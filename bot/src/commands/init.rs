//! `wrackline init`: an empty place with one keeper.

use clap::Args;
use wrackline_core::civil::Zone;

use super::{Failure, Outcome, open, print};
use crate::config::Config;
use crate::house::{FIRST_KEEPER, founding};
use crate::shelf::row;
use crate::store::{Change, PlaceId, Store};

/// Make an empty place with one keeper.
#[derive(Debug, Args)]
pub struct Init {
    /// The place's IANA time zone, such as Europe/London.
    #[arg(long)]
    zone: String,
    /// The name of the keeper, who sets things up.
    #[arg(long)]
    keeper: String,
    /// What the place is called.
    #[arg(long, default_value = "")]
    name: String,
    /// A place to practise in, where `say --now TIME` may set the time.
    #[arg(long)]
    practice: bool,
}

impl Init {
    /// Makes the place.
    ///
    /// # Errors
    /// Refused for an unknown zone or an empty name; broken when the store cannot be used.
    pub async fn run(self, config: &Config) -> Outcome {
        let zone = Zone::get(&self.zone).ok_or_else(|| {
            Failure::Refused(format!(
                "“{}” is not a zone of the IANA time zone database: say one such as Europe/London.",
                self.zone
            ))
        })?;
        let keeper = self.keeper.trim();
        if keeper.is_empty() || keeper.chars().count() > 40 {
            return Err(Failure::Refused(
                "The keeper's name must have 1 to 40 characters.".to_owned(),
            ));
        }
        if !crate::lines::is_free_name(keeper) {
            return Err(Failure::Refused(format!(
                "“{keeper}” is a word or a sign that lines read: give the keeper another name, or one with a word more."
            )));
        }
        let store = open(config).await?;
        let place = make_place(&*store, &zone, keeper, &self.name, self.practice).await?;
        print(&format!(
            "Place {place} is made, in {}. {keeper} is its keeper.",
            zone.name()
        ));
        print(&format!(
            "Next: wrackline say --as \"{keeper}\" \"/enclosure add North 400 L\""
        ));
        store.close().await;
        Ok(())
    }
}

/// Makes a place with one keeper.
///
/// # Errors
/// Those of the store.
pub async fn make_place(
    store: &dyn Store,
    zone: &Zone,
    keeper: &str,
    name: &str,
    practice: bool,
) -> crate::store::Result<PlaceId> {
    let entries = founding(zone, name);
    let change = Change {
        entries: entries.iter().map(row).collect(),
        names: vec![(FIRST_KEEPER.0, keeper.to_owned())],
        next_at_ms: Some(Some(0)),
        ..Change::default()
    };
    store.create_place(practice, &change).await
}
