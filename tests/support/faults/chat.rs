//! A chat in memory that fails to order and remembers what people see.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use async_trait::async_trait;
use jiff::{SignedDuration, Timestamp};
use wrackline::chat::blocks::Block;
use wrackline::chat::{Chat, ChatError, Outgoing};
use wrackline::clock::{Clock, SetClock};

/// How one call goes wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Slip {
    /// People see it, but the reply is lost.
    LostReply,
    /// It is refused for now, with the least wait in milliseconds or without.
    Passing(Option<i64>),
    /// It is refused for good.
    Lasting,
    /// Someone took the message away before it could be edited.
    Gone,
    /// People see it, and the reply takes this many milliseconds.
    Slow(i64),
}

/// A message that people see or saw.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// The chat's own number of it.
    pub id: String,
    /// Its nonce.
    pub nonce: String,
    /// What it shows.
    pub blocks: Vec<Block>,
    /// What whoever sent it last was told that it shows.
    pub told: Vec<Block>,
    /// When it appeared, by its sender's clock, in milliseconds.
    pub at_ms: i64,
    /// When it appeared, by the chat's own clock.
    pub appeared: Timestamp,
    /// Whether someone took it away.
    pub is_gone: bool,
}

/// How often calls for one nonce went wrong.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// Refused for now, or the reply was lost.
    pub passing: u32,
    /// Of these, how often the reply was lost.
    pub lost: u32,
    /// Refused for good.
    pub lasting: u32,
}

#[derive(Debug, Default)]
struct State {
    shown: Vec<Shown>,
    calls: u64,
    slips: BTreeMap<u64, Slip>,
    refusing: Option<Slip>,
    tallies: BTreeMap<String, Tally>,
}

/// The chat.
pub struct FaultyChat {
    clock: Arc<SetClock>,
    /// For how long a nonce is known, in milliseconds; `None`: for ever, as on the porch.
    window_ms: Option<i64>,
    state: Mutex<State>,
}

impl FaultyChat {
    /// A chat that nobody has written in.
    #[must_use]
    pub fn new(clock: Arc<SetClock>, window_ms: Option<i64>) -> Self {
        Self {
            clock,
            window_ms,
            state: Mutex::default(),
        }
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Lets the call that is so many calls away (0: the next one) go wrong.
    pub fn slip_in(&self, away: u64, slip: Slip) {
        let mut state = self.state();
        let at = state.calls + away;
        state.slips.insert(at, slip);
    }

    /// Lets every call go wrong like this from now on, or none any more.
    pub fn set_refusing(&self, refusing: Option<Slip>) {
        self.state().refusing = refusing;
    }

    /// Takes back what was to go wrong.
    pub fn clear(&self) {
        self.state().slips.clear();
    }

    /// All messages in the order in which they appeared.
    #[must_use]
    pub fn shown(&self) -> Vec<Shown> {
        self.state().shown.clone()
    }

    /// How many calls there were.
    #[must_use]
    pub fn calls(&self) -> u64 {
        self.state().calls
    }

    /// How often calls for a nonce went wrong.
    #[must_use]
    pub fn tally(&self, nonce: &str) -> Tally {
        self.state().tallies.get(nonce).copied().unwrap_or_default()
    }

    /// Begins a call: what goes wrong with it. A refusal is counted and returned as an error at once.
    fn begin(&self, nonce: &str) -> Result<Option<Slip>, ChatError> {
        let mut state = self.state();
        let number = state.calls;
        state.calls += 1;
        let slip = state.slips.remove(&number).or(state.refusing);
        let tally = state.tallies.entry(nonce.to_owned()).or_default();
        match slip {
            Some(Slip::Passing(wait_ms)) => {
                tally.passing += 1;
                Err(ChatError::Passing {
                    why: "not now".to_owned(),
                    wait_ms,
                })
            }
            Some(Slip::Lasting) => {
                tally.lasting += 1;
                Err(ChatError::Lasting {
                    why: "never".to_owned(),
                })
            }
            slip => Ok(slip),
        }
    }

    /// Ends a call whose message people see already.
    fn end(&self, nonce: &str, slip: Option<Slip>) -> Result<(), ChatError> {
        match slip {
            Some(Slip::LostReply) => {
                let mut state = self.state();
                let tally = state.tallies.entry(nonce.to_owned()).or_default();
                (tally.passing, tally.lost) = (tally.passing + 1, tally.lost + 1);
                Err(ChatError::Passing {
                    why: "the reply was lost".to_owned(),
                    wait_ms: None,
                })
            }
            Some(Slip::Slow(ms)) => {
                let later = self.clock.now().saturating_add(SignedDuration::from_millis(ms));
                self.clock.put(later.expect("a moment"));
                Ok(())
            }
            _ => Ok(()),
        }
    }

    fn is_known(&self, shown: &Shown, now: Timestamp) -> bool {
        self.window_ms
            .is_none_or(|window| now.as_millisecond() - shown.appeared.as_millisecond() < window)
    }
}

#[async_trait]
impl Chat for FaultyChat {
    async fn send(&self, message: Outgoing<'_>) -> Result<String, ChatError> {
        let slip = self.begin(message.nonce)?;
        let now = self.clock.now();
        let index = {
            let mut state = self.state();
            let same =
                |shown: &Shown| shown.nonce == message.nonce && !shown.is_gone && self.is_known(shown, now);
            let known = state.shown.iter().rposition(same);
            let blocks = message.blocks.to_vec();
            if let Some(index) = known {
                state.shown[index].told = blocks;
                index
            } else {
                let (nonce, at_ms) = (message.nonce.to_owned(), message.at_ms);
                let told = blocks.clone();
                let id = state.shown.len().to_string();
                state.shown.push(Shown {
                    id,
                    nonce,
                    blocks,
                    told,
                    at_ms,
                    appeared: now,
                    is_gone: false,
                });
                state.shown.len() - 1
            }
        };
        self.end(message.nonce, slip)?;
        Ok(index.to_string())
    }

    async fn edit(&self, id: &str, message: Outgoing<'_>) -> Result<(), ChatError> {
        let slip = self.begin(message.nonce)?;
        {
            let mut state = self.state();
            let shown = id
                .parse()
                .ok()
                .and_then(|index: usize| state.shown.get_mut(index))
                .ok_or(ChatError::Gone)?;
            shown.is_gone |= slip == Some(Slip::Gone);
            if shown.is_gone {
                return Err(ChatError::Gone);
            }
            let blocks = message.blocks.to_vec();
            (shown.blocks, shown.told) = (blocks.clone(), blocks);
        }
        self.end(message.nonce, slip)
    }
}
