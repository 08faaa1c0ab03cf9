//! `wrackline say`: one line from the shell.

use std::sync::Arc;

use clap::Args;
use jiff::{Timestamp, civil};
use serde_json::json;
use wrackline_core::place::CarerId;

use super::{Failure, Outcome, lock, open_existing, print, random_letters, socket, which_place};
use crate::app::App;
use crate::chat::blocks::Answer;
use crate::chat::plain;
use crate::clock::{Clock, MachineClock, SetClock};
use crate::config::Config;
use crate::house::{Input, Said};
use crate::store::{PlaceId, Store};
use crate::words::Words;

/// Say one line and print the answer.
#[derive(Debug, Args)]
pub(super) struct Say {
    /// The place, by number or name, where there are several.
    #[arg(long)]
    place: Option<String>,
    /// Who says it; questions that need no place may go without.
    #[arg(long = "as")]
    who: Option<String>,
    /// The time to take for now, in a practice place: 2026-03-08T18:40 in the place's zone, or with an offset.
    #[arg(long)]
    now: Option<String>,
    /// Print the answer as JSON.
    #[arg(long)]
    json: bool,
    /// The line, such as "/did change north salt".
    line: String,
}

impl Say {
    /// Says the line: through the serve that runs on this file, or straight to the database when none does. On a
    /// server any number of processes write beside each other.
    ///
    /// # Errors
    /// Refused when the line is; broken when the set-up is.
    pub(super) async fn run(self, config: &Config) -> Outcome {
        let as_json = self.json;
        if let Some(answer) = self.without_place(config) {
            return tell(&answer, as_json);
        }
        let Some(who) = self.who.clone() else {
            let text = "Who says it? Put --as and a carer's name before the line.".to_owned();
            return if as_json {
                tell(&refusal(text), true)
            } else {
                Err(Failure::Refused(text))
            };
        };
        let store = open_existing(config).await?;
        let answer = self.answer(config, &store, &who).await;
        store.close().await;
        match answer {
            Ok(answer) => tell(&answer, as_json),
            Err(Failure::Refused(text)) if as_json => tell(&refusal(text), true),
            Err(failure) => Err(failure),
        }
    }

    /// The answer to a question that needs no place, where nobody asks or nothing is set up. Where somebody of a place
    /// asks, it is answered in that place's units and convention instead.
    fn without_place(&self, config: &Config) -> Option<Answer> {
        let missing = config.database.file().is_some_and(|file| !file.exists());
        let of_a_place = self.place.is_some() || self.who.is_some();
        if of_a_place && !missing {
            return None;
        }
        crate::desk::water::placeless(&Words::english(), &self.line, MachineClock.now())
    }

    async fn answer(self, config: &Config, store: &Arc<dyn Store>, who: &str) -> Result<Answer, Failure> {
        let place = which_place(store, self.place.as_deref()).await?;
        if let Some(file) = config.database.file() {
            // The lock is only looked at: a serve that starts now is as welcome as before.
            let is_served = lock(file)?.is_none();
            if is_served && self.now.is_some() {
                return Err(Failure::Refused(
                    "--now works while no serve runs on this database: stop it, or leave --now out."
                        .to_owned(),
                ));
            }
            if is_served {
                return socket::ask(file, place, who, &self.line).await;
            }
        }
        let clock: Arc<dyn Clock> = match &self.now {
            None => Arc::new(MachineClock),
            Some(text) => Arc::new(SetClock::at(practice_now(store, place, text).await?)),
        };
        let app = App::new(store.clone(), clock);
        app.set_porch(config.bind);
        hear(&app, place, who, &self.line).await
    }
}

/// Hears a line said in a carer's name.
pub(super) async fn hear(app: &App, place: PlaceId, who: &str, line: &str) -> Result<Answer, Failure> {
    let carer = carer_named(app, place, who).await?;
    let id = format!("shell:{}", random_letters());
    let said = Said {
        place,
        carer: carer.0,
        id,
        input: Input::Line(line.to_owned()),
        photo: None,
    };
    Ok(app.house.hear(said).await)
}

/// The carer of a name: the whole of it, or a part that only one has.
pub(super) async fn carer_named(app: &App, place: PlaceId, who: &str) -> Result<CarerId, Failure> {
    let held = app.house.shelf.open(place).await?;
    let at = held.book().place_at(app.house.clock.now());
    // A sitter whose span is over is answered as well: that it is.
    let named: Vec<(CarerId, String)> = at
        .carers
        .keys()
        .chain(at.ended.keys())
        .map(|id| (*id, held.book().name(*id).to_lowercase()))
        .collect();
    let wanted = who.trim().to_lowercase();
    if let Some((id, _)) = named.iter().find(|(_, name)| *name == wanted) {
        return Ok(*id);
    }
    let parts: Vec<_> = named
        .iter()
        .filter(|(_, name)| !wanted.is_empty() && name.contains(&wanted))
        .collect();
    if let [(id, _)] = parts.as_slice() {
        return Ok(*id);
    }
    let names: Vec<&str> = at.carers.keys().map(|id| held.book().name(*id)).collect();
    Err(Failure::Refused(format!(
        "“{who}” shares no work here; those who do are {}.",
        names.join(", ")
    )))
}

/// The moment of `--now`, which only a practice place takes.
async fn practice_now(store: &Arc<dyn Store>, place: PlaceId, text: &str) -> Result<Timestamp, Failure> {
    let head = store.head(place).await?;
    if !head.is_some_and(|head| head.practice) {
        return Err(Failure::Refused(
            "--now works in a practice place alone: make one with wrackline init --practice.".to_owned(),
        ));
    }
    if let Ok(instant) = text.parse::<Timestamp>() {
        return Ok(instant);
    }
    let shelf = crate::shelf::Shelf::new(store.clone());
    let held = shelf.open(place).await?;
    let zone = held.book().place_at(Timestamp::MAX).zone;
    let forms = [
        "%Y-%m-%dT%H:%M:%S",
        "%Y-%m-%dT%H:%M",
        "%Y-%m-%d %H:%M:%S",
        "%Y-%m-%d %H:%M",
    ];
    let read = forms
        .iter()
        .find_map(|form| civil::DateTime::strptime(form, text.trim()).ok());
    read.map(|civil| zone.instant(civil)).ok_or_else(|| {
        Failure::Refused(format!(
            "“{text}” is not a time: say one such as 2026-03-08T18:40."
        ))
    })
}

fn refusal(text: String) -> Answer {
    let blocks = vec![crate::chat::blocks::Block::Title { text }];
    Answer {
        ok: false,
        blocks,
        private: true,
        turns: Vec::new(),
    }
}

/// Prints an answer; a refusal ends with exit code 1.
fn tell(answer: &Answer, as_json: bool) -> Outcome {
    let text = plain::text(&answer.blocks);
    match (answer.ok, as_json) {
        (true, true) => print(&json!({"ok": true, "text": text, "turns": answer.turns}).to_string()),
        (true, false) => print(&text),
        (false, true) => {
            print(&json!({"ok": false, "text": text}).to_string());
            std::process::exit(1);
        }
        (false, false) => return Err(Failure::Refused(text)),
    }
    Ok(())
}
