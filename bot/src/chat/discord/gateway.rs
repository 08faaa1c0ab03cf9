//! The life of the connection to the platform: opened, watched, closed within bounds, opened again.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::time::Duration;

use serenity::all::{Client, ClientBuilder, GatewayIntents, Http, ShardManager};
use serenity::http::HttpBuilder;
use tokio::sync::{Mutex, watch};

use super::handler::Handler;
use super::heard::Ears;
use super::pulse::Pulse;
use super::raw::RawHandler;
use super::sender::{BaseUrl, Call, Refused, Token};
use crate::clock::wait;
use crate::config::Broken;
use crate::logs::unread_events;

/// How long ending may take before the connection is dropped as it is.
const END_WITHIN: Duration = Duration::from_secs(5);
/// The first and the longest pause before the connection is opened again.
const PAUSE_FIRST: Duration = Duration::from_secs(1);
const PAUSE_MAX: Duration = Duration::from_secs(60);
/// How often the connection's pulse is felt, at most.
const FEEL_EVERY: Duration = Duration::from_secs(5);

/// How the connection is kept.
#[derive(Clone, Copy, Debug)]
pub struct Keeping {
    /// Without an acknowledged heartbeat for so long the connection counts as dead. The platform asks for a heartbeat
    /// every 40 s or so.
    pub silence_max: Duration,
}

impl Default for Keeping {
    fn default() -> Self {
        Self {
            silence_max: Duration::from_secs(150),
        }
    }
}

/// What is known of the connection from outside.
#[derive(Debug, Default)]
pub struct State {
    /// Whether events arrive.
    pub connected: Arc<AtomicBool>,
    /// Sessions begun.
    pub sessions: AtomicU64,
    /// Sessions resumed.
    pub resumed: AtomicU64,
    /// Connections that the watchdog ended.
    pub silenced: AtomicU64,
}

/// The connection to the platform.
pub struct Gateway {
    /// What hears people.
    pub ears: Arc<Ears>,
    /// Where the platform is.
    pub base: BaseUrl,
    /// What lets the bot in.
    pub token: Token,
    /// How it is kept.
    pub keeping: Keeping,
    /// How it is.
    pub state: Arc<State>,
}

/// Why a connection ended.
enum End {
    /// The process is told to stop.
    Stop,
    /// The platform will not have this bot: opening again is of no use.
    Broken(Broken),
    /// It broke off after it had worked for a while, or it never worked.
    Lost {
        /// What was said.
        why: String,
        /// The least wait before it is opened again.
        wait: Option<Duration>,
    },
}

impl Gateway {
    /// Keeps the connection until the process is told to stop.
    ///
    /// # Errors
    /// When the platform refuses the token, or names an address that is not the platform's.
    pub async fn run(&self, mut stop: watch::Receiver<bool>) -> Result<(), Broken> {
        let mut pause = PAUSE_FIRST;
        while !*stop.borrow() {
            let sessions = self.state.sessions.load(Ordering::SeqCst);
            let end = self.connection(&mut stop).await;
            self.state.connected.store(false, Ordering::SeqCst);
            match end {
                End::Stop => break,
                End::Broken(broken) => return Err(broken),
                End::Lost { why, wait: least } => {
                    if self.state.sessions.load(Ordering::SeqCst) > sessions {
                        pause = PAUSE_FIRST;
                    }
                    let pausing = pause.max(least.unwrap_or(Duration::ZERO));
                    let seconds = pausing.as_secs_f32();
                    tracing::warn!(%why, seconds, base = %self.base, "the platform cannot be reached; tried again");
                    tokio::select! {
                        _ = stop.changed() => {}
                        () = wait(pausing) => {}
                    }
                    pause = (pause * 2).min(PAUSE_MAX);
                }
            }
        }
        Ok(())
    }

    async fn connection(&self, stop: &mut watch::Receiver<bool>) -> End {
        let entry = tokio::select! {
            _ = stop.changed() => return End::Stop,
            entry = self.entry() => entry,
        };
        let url = match entry {
            Ok(url) => url,
            Err(end) => return end,
        };
        let mut client = match self.client(&url).await {
            Ok(client) => client,
            Err(error) => {
                return End::Lost {
                    why: error.to_string(),
                    wait: None,
                };
            }
        };
        let shards = client.shard_manager.clone();
        let entrance = client.ws_url.clone();
        let mut unread = unread_events();
        let mut pulse = Pulse::new(self.keeping.silence_max);
        let every = FEEL_EVERY.min(self.keeping.silence_max / 4);
        let mut running = tokio::spawn(async move { client.start_autosharded().await });
        let end = loop {
            tokio::select! {
                biased;
                _ = stop.changed() => break End::Stop,
                ended = &mut running => break ended_as(ended),
                () = wait(every) => {
                    let now_unread = unread_events();
                    if now_unread > unread {
                        unread = now_unread;
                        tracing::warn!(unread, "events from the platform could not be read");
                    }
                    if !pulse.is_felt(&shards).await {
                        self.state.silenced.fetch_add(1, Ordering::SeqCst);
                        break End::Lost { why: "no heartbeat was acknowledged".to_owned(), wait: None };
                    }
                }
            }
        };
        if !running.is_finished() {
            close(&shards, entrance).await;
            running.abort();
        }
        end
    }

    /// Asks where the platform wants to be connected to, and sees that it is the platform that is meant.
    async fn entry(&self) -> Result<String, End> {
        let told = self.ears.chat.sender.call(Call::get("/gateway/bot")).await;
        let told = told.map_err(|refused| match refused {
            Refused::No { status: 401, .. } => End::Broken(token_refused()),
            Refused::Later { wait, .. } => End::Lost {
                why: refused.to_string(),
                wait,
            },
            refused => End::Lost {
                why: refused.to_string(),
                wait: None,
            },
        })?;
        let Some(url) = told["url"].as_str() else {
            return Err(End::Lost {
                why: "the platform's answer names no address to connect to".to_owned(),
                wait: None,
            });
        };
        if !self.base.leads_to(url) {
            return Err(End::Broken(Broken(format!(
                "{} (WRACKLINE_PLATFORM_URL) names an address that is not its own to connect to; nothing was sent there.",
                self.base
            ))));
        }
        let limit = &told["session_start_limit"];
        if limit["remaining"].as_u64() == Some(0) {
            let wait = Duration::from_millis(limit["reset_after"].as_u64().unwrap_or(60_000));
            return Err(End::Lost {
                why: "the day's connections are used up".to_owned(),
                wait: Some(wait),
            });
        }
        Ok(url.to_owned())
    }

    async fn client(&self, url: &str) -> serenity::Result<Client> {
        let http: Http = HttpBuilder::new(self.token.secret())
            .client(self.ears.chat.sender.client())
            .proxy(self.base.to_string())
            .ratelimiter_disabled(true)
            .build();
        let handler = Handler {
            ears: self.ears.clone(),
            state: self.state.clone(),
        };
        let raw = RawHandler {
            ears: self.ears.clone(),
        };
        let client = ClientBuilder::new_with_http(http, GatewayIntents::GUILDS)
            .event_handler(handler)
            .raw_event_handler(raw)
            .await?;
        // Where its own question fails, the library falls back to an address of its own: it goes where we were told.
        url.clone_into(&mut *client.ws_url.lock().await);
        Ok(client)
    }
}

/// Ends a connection for good.
async fn close(shards: &ShardManager, entrance: Arc<Mutex<String>>) {
    let closing = async {
        // The library goes on trying to begin what it could not begin yet, even when it is told to end while it has
        // nothing at work. From now on it waits for the address, so that no ghost of this connection ever stands beside
        // the next one.
        std::mem::forget(entrance.lock_owned().await);
        shards.shutdown_all().await;
    };
    // Ending in good order has been seen to hang.
    if tokio::time::timeout(END_WITHIN, closing).await.is_err() {
        tracing::warn!("the connection did not end in time and was dropped");
    }
}

fn token_refused() -> Broken {
    Broken(
        "The platform refuses the token (WRACKLINE_TOKEN): copy it anew from the application's page."
            .to_owned(),
    )
}

fn ended_as(ended: Result<serenity::Result<()>, tokio::task::JoinError>) -> End {
    use serenity::gateway::GatewayError;
    match ended {
        Ok(Err(serenity::Error::Gateway(GatewayError::InvalidAuthentication))) => {
            End::Broken(token_refused())
        }
        Ok(Err(error)) => End::Lost {
            why: error.to_string(),
            wait: None,
        },
        Ok(Ok(())) => End::Lost {
            why: "the connection ended".to_owned(),
            wait: None,
        },
        Err(error) => End::Lost {
            why: error.to_string(),
            wait: None,
        },
    }
}
