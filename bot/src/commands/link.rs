//! `wrackline link`: a link that lets a carer in on the porch, once.

use std::sync::Arc;

use clap::Args;
use sha2::{Digest, Sha256};
use wrackline_core::place::{CarerId, Role};

use super::say::carer_named;
use super::{Failure, Outcome, open_existing, print, random_letters, which_place};
use crate::app::App;
use crate::clock::MachineClock;
use crate::config::Config;
use crate::store::PlaceId;

/// How long a link may lie before it is used, in milliseconds: a day.
const VALID_MS: i64 = 24 * 3600 * 1000;

/// Print a link that lets a carer in on the porch, once.
#[derive(Debug, Args)]
pub(super) struct Link {
    /// The place, by number or name, where there are several.
    #[arg(long)]
    place: Option<String>,
    /// Whom it lets in.
    #[arg(long = "as")]
    who: String,
}

impl Link {
    /// Prints the link.
    ///
    /// # Errors
    /// Refused when nobody is called so.
    pub(super) async fn run(self, config: &Config) -> Outcome {
        let store = open_existing(config).await?;
        let place = which_place(&store, self.place.as_deref()).await?;
        let app = App::new(store.clone(), Arc::new(MachineClock));
        let carer = carer_named(&app, place, &self.who).await?;
        let link = make(&app, place, carer, &config.bind.to_string()).await?;
        store.close().await;
        print(&link);
        Ok(())
    }
}

/// Makes a link for a carer who may sign in.
pub(super) async fn make(app: &App, place: PlaceId, carer: CarerId, host: &str) -> Result<String, Failure> {
    {
        let held = app.house.shelf.open(place).await?;
        let at = held.book().place_at(app.house.clock.now());
        if let Some(span) = at.ended.get(&carer).and_then(|one| one.span) {
            let name = held.book().name(carer);
            return Err(Failure::Refused(format!(
                "The span of {name} ended on {}: a keeper sets a new one with /carer set {name} from DATE to DATE.",
                span.to
            )));
        }
        if at.carers.get(&carer).is_none_or(|one| one.role == Role::Helper) {
            let name = held.book().name(carer);
            return Err(Failure::Refused(format!(
                "{name} is a helper and has no account: others log for them."
            )));
        }
    }
    let token = random_letters();
    let hash = Sha256::digest(token.as_bytes())
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect::<String>();
    let until = app.house.clock.now().as_millisecond() + VALID_MS;
    app.porch
        .store
        .key_put(place, carer.0, &hash, true, until)
        .await?;
    Ok(format!("http://{host}/enter/{token}"))
}
