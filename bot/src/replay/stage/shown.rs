//! How presses read in what is shown.

use wrackline_core::care::{TurnKey, standing};
use wrackline_core::journal::{Event, Seq};
use wrackline_core::rota::Slot;

use super::Stage;
use crate::desk::sightings::sighting_word;
use crate::desk::tell::Tell;
use crate::words::Message;

impl Stage {
    /// A press in words, as its label would read.
    pub(super) async fn told_press(&self, code: &str, text: Option<&str>) -> String {
        let (verb, about) = code.split_once('.').unwrap_or((code, ""));
        let label = match verb {
            "did" => "press-did",
            "cannot" => "press-cannot",
            "notneeded" => "press-not-needed",
            "close" => "press-close",
            "looked" => "press-looked",
            "nod" => "press-nod",
            "going" => "press-going",
            "accept" => "press-take",
            "decline" => "press-decline",
            _ => "press-later",
        };
        let label = self.house.words.say(&Message::new(label));
        let about = self.told(|tell| what(tell, verb, about)).await.ok().flatten();
        match (about, text) {
            (None, _) => format!("[{label}]"),
            (Some(about), None) => format!("[{label}] {about}"),
            (Some(about), Some(text)) => format!("[{label}] {about}, “{text}”"),
        }
    }
}

/// What a press is about, in words.
fn what(tell: &Tell<'_>, verb: &str, about: &str) -> Option<String> {
    let named = |target, duty| format!("{}: {}", tell.target(target), tell.duty(duty));
    match verb {
        "accept" | "decline" => {
            let slot: Slot = about.parse().ok()?;
            Some(named(slot.target, slot.duty))
        }
        "close" | "looked" | "nod" | "going" => match tell.book.entry(about.parse::<Seq>().ok()?)?.event {
            Event::Saw(target, sighting) => {
                let what = tell.word(sighting_word(sighting));
                Some(format!("{}: {what}", tell.target(target)))
            }
            Event::Waits(duty, target, _) => Some(named(target, duty)),
            _ => None,
        },
        _ => {
            let turn: TurnKey = about.parse().ok()?;
            // A part change is called so.
            let stands = standing(tell.book, tell.place, turn.duty, turn.target, tell.now);
            Some(named(turn.target, stands.map_or(turn.duty, |one| one.duty())))
        }
    }
}
