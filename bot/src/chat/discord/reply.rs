//! Answers to interactions: in time, to the right eyes, once.
//!
//! The platform waits three seconds for a first reply and takes further ones for a quarter of an hour.

use std::fmt;
use std::future::Future;
use std::pin::pin;
use std::time::Duration;

use serde_json::{Value, json};
use serenity::all::{CreateAutocompleteResponse, CreateInteractionResponse, CreateModal};

use super::sender::{Call, Refused, Sender};
use super::shape::{Shape, answer as shapes, json as body_of};
use crate::chat::blocks::Answer;
use crate::clock::wait;
use crate::words::Words;

/// After so long an answer is put off: half of what the platform allows.
const PUT_OFF_AFTER: Duration = Duration::from_millis(1_500);
/// What a first reply may take on its way.
const FIRST_WITHIN: Duration = Duration::from_millis(1_200);
/// What a later one may take.
const LATER_WITHIN: Duration = Duration::from_secs(10);
/// How long it rests before it is tried again, where the platform does not say.
const LATER_PAUSE: Duration = Duration::from_secs(1);
/// How often a later one is tried.
const LATER_TRIES: u32 = 5;
/// How often a first one is tried; more than this does not fit into three seconds.
const FIRST_TRIES: u32 = 2;

/// The platform's "answered already".
const ANSWERED: i64 = 40_060;
/// The platform's "there is no such message".
const GONE: i64 = 10_008;
/// The platform's "too late, or never asked".
const TOO_LATE: i64 = 10_062;

/// The body that puts an answer off: whose eyes it is for is settled with it, and it carries nothing else.
fn put_off(private: bool) -> Value {
    let data = if private {
        json!({ "flags": 64 })
    } else {
        json!({})
    };
    json!({ "type": 5, "data": data })
}

/// What is to be answered.
#[derive(Clone)]
pub struct Asked {
    /// Its number.
    pub id: u64,
    /// What lets one answer it.
    pub token: String,
    /// The application's number.
    pub application: u64,
}

impl fmt::Debug for Asked {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Asked({})", self.id)
    }
}

/// Replies over a sender.
#[derive(Clone, Copy)]
pub struct Replies<'a> {
    /// What carries them.
    pub sender: &'a Sender,
    /// The words.
    pub words: &'a Words,
}

/// Whose the first reply is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum First {
    /// Ours: what belongs behind it is ours to send.
    Ours,
    /// That of whom the same thing was delivered to as well: they say all the rest.
    Anothers,
}

impl Replies<'_> {
    /// Answers when the answer is there, or puts it off when it takes long. `private`: only the one who asked sees
    /// it, whatever it says of itself.
    pub async fn answer(&self, asked: &Asked, private: bool, hearing: impl Future<Output = Answer> + Send) {
        let mut hearing = pin!(hearing);
        let heard = tokio::select! {
            biased;
            answer = &mut hearing => Some(answer),
            () = wait(PUT_OFF_AFTER) => None,
        };
        let done = match heard {
            Some(answer) => self.at_once(asked, private, &answer).await,
            None => {
                let put_off = put_off(private);
                // It is heard to its end all the same: what it writes is not taken back by a late reply.
                let (put_off, answer) = tokio::join!(self.first(asked, &put_off), hearing);
                match put_off {
                    Ok(First::Ours) => self.filled_in(asked, private, &answer).await,
                    Ok(First::Anothers) => Ok(()),
                    Err(error) => Err(error),
                }
            }
        };
        if let Err(error) = done {
            tracing::warn!(interaction = asked.id, %error, "an answer did not get through");
        }
    }

    async fn at_once(&self, asked: &Asked, private: bool, answer: &Answer) -> Result<(), Refused> {
        let private = private || answer.private;
        let mut shapes = shapes(&answer.blocks, self.words).into_iter();
        if let Some(first) = shapes.next() {
            let message = CreateInteractionResponse::Message(first.response(private));
            if self.first(asked, &body_of(&message)).await? == First::Anothers {
                return Ok(());
            }
        }
        self.follow_ups(asked, private, shapes).await
    }

    /// An answer that was put off is filled in; where it is for other eyes than was thought, it is given anew.
    async fn filled_in(&self, asked: &Asked, expected: bool, answer: &Answer) -> Result<(), Refused> {
        let private = expected || answer.private;
        let mut shapes = shapes(&answer.blocks, self.words).into_iter();
        let original = format!(
            "/webhooks/{}/{}/messages/@original",
            asked.application, asked.token
        );
        if private == expected {
            if let Some(first) = shapes.next() {
                self.later(true, || Call::patch(original.clone(), first.fill_in()))
                    .await?;
            }
        } else {
            self.take_away(&original).await?;
        }
        self.follow_ups(asked, private, shapes).await
    }

    async fn take_away(&self, original: &str) -> Result<(), Refused> {
        match self.later(true, || Call::delete(original.to_owned())).await {
            // Taken away already, by an earlier try or by a person.
            Err(Refused::No { code: GONE, .. }) => Ok(()),
            other => other,
        }
    }

    async fn follow_ups(
        &self,
        asked: &Asked,
        private: bool,
        shapes: impl Iterator<Item = Shape>,
    ) -> Result<(), Refused> {
        for shape in shapes {
            let path = format!("/webhooks/{}/{}", asked.application, asked.token);
            self.later(false, || Call::post(path.clone(), shape.follow_up(private)))
                .await?;
        }
        Ok(())
    }

    /// Asks for a text.
    pub async fn ask(&self, asked: &Asked, modal: CreateModal) {
        self.or_log(asked, &CreateInteractionResponse::Modal(modal)).await;
    }

    /// Offers how an option may go on.
    pub async fn offer(&self, asked: &Asked, offers: Vec<String>) {
        let mut choices = CreateAutocompleteResponse::new();
        for offer in offers {
            choices = choices.add_string_choice(offer.clone(), offer);
        }
        self.or_log(asked, &CreateInteractionResponse::Autocomplete(choices))
            .await;
    }

    async fn or_log(&self, asked: &Asked, response: &CreateInteractionResponse) {
        if let Err(error) = self.first(asked, &body_of(response)).await {
            tracing::warn!(interaction = asked.id, %error, "a reply did not get through");
        }
    }

    async fn first(&self, asked: &Asked, body: &Value) -> Result<First, Refused> {
        let path = format!("/interactions/{}/{}/callback", asked.id, asked.token);
        let mut tried = 1;
        loop {
            let call = Call::post(path.clone(), body.clone())
                .unsigned()
                .within(FIRST_WITHIN);
            match self.sender.call(call).await {
                Ok(_) => return Ok(First::Ours),
                // An earlier try got through without its reply, or it was delivered twice and answered before.
                Err(Refused::No { code: ANSWERED, .. }) if tried > 1 => return Ok(First::Ours),
                Err(Refused::No { code: ANSWERED, .. }) => return Ok(First::Anothers),
                Err(error @ Refused::No { code: TOO_LATE, .. }) => return Err(error),
                Err(Refused::Later { .. } | Refused::Unsure { .. }) if tried < FIRST_TRIES => tried += 1,
                Err(error) => return Err(error),
            }
        }
    }

    /// Sends what comes later. `repeats`: it comes to the same when it arrives twice, so it is tried again as well
    /// when it may have arrived.
    async fn later(&self, repeats: bool, call: impl Fn() -> Call) -> Result<(), Refused> {
        let mut tried = 1;
        loop {
            match self.sender.call(call().unsigned().within(LATER_WITHIN)).await {
                Ok(_) => return Ok(()),
                Err(Refused::Later { wait: pause, .. }) if tried < LATER_TRIES => {
                    tried += 1;
                    wait(pause.unwrap_or(LATER_PAUSE).min(LATER_WITHIN)).await;
                }
                Err(Refused::Unsure { .. }) if repeats && tried < LATER_TRIES => {
                    tried += 1;
                    wait(LATER_PAUSE).await;
                }
                Err(error) => return Err(error),
            }
        }
    }
}
