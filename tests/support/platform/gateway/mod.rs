//! The gateway: sessions with their events, whoever is connected or not.

mod frames;
mod socket;

use std::collections::HashMap;
use std::time::Duration;

use serde_json::{Value, json};
use tokio::sync::mpsc::UnboundedSender;
use twilight_model::gateway::Intents;

use super::ids::GuildId;
use super::reply::Reply;

pub(super) use socket::open;

/// How the gateway is to behave.
#[derive(Clone, Debug)]
pub struct GatewayConfig {
    /// How often a heartbeat is wanted.
    pub heartbeat: Duration,
    /// The shards recommended to the bot, at least one.
    pub shards: u32,
    /// Identifies that remain for the day.
    pub starts: u32,
    /// Shards that may identify at the same time, at least one.
    pub max_concurrency: u32,
    /// Within this time no more than `max_concurrency` may identify: the platform has 5 s. Nothing by default, since a
    /// process that is started anew cannot know of the one before.
    pub identify_window: Duration,
    /// The intents the bot needs; more of them are a fault.
    pub intents: Intents,
    /// Frames a connection may send in a minute.
    pub sends: usize,
    /// How long an interaction may wait for its first answer.
    pub answer_within: Duration,
}

impl Default for GatewayConfig {
    fn default() -> Self {
        Self {
            heartbeat: Duration::from_millis(41_250),
            shards: 1,
            starts: 1000,
            max_concurrency: 1,
            identify_window: Duration::ZERO,
            intents: Intents::GUILDS,
            sends: 120,
            answer_within: Duration::from_secs(3),
        }
    }
}

/// What goes out on a connection.
#[derive(Clone, Debug)]
pub(super) enum Out {
    Text(String),
    Close(u16),
    /// The line is cut without a word.
    Cut,
    /// The line stays, but nothing is read or written any more.
    Hush,
}

/// Somebody identified.
#[derive(Clone, Debug)]
pub struct Identify {
    /// When, since the double's start.
    pub at: Duration,
    /// The shard and of how many.
    pub shard: (u32, u32),
    /// The intents asked for.
    pub intents: Intents,
}

/// A session, connected or to be resumed.
#[derive(Debug)]
pub(super) struct Session {
    pub(super) shard: (u32, u32),
    pub(super) intents: Intents,
    /// Events with their numbers, for those who resume.
    pub(super) log: Vec<(u64, String)>,
    pub(super) seq: u64,
    pub(super) link: Option<(u64, UnboundedSender<Out>)>,
}

/// The gateway's state.
#[derive(Debug)]
pub(super) struct Gateway {
    pub(super) config: GatewayConfig,
    pub(super) sessions: HashMap<String, Session>,
    pub(super) identifies: Vec<Identify>,
    pub(super) resumes: u32,
    pub(super) refused_resumes: u32,
    pub(super) heartbeats: u32,
    pub(super) starts_left: u32,
    /// Whether heartbeats are acknowledged.
    pub(super) acks: bool,
    /// Whether the next resume is refused.
    pub(super) refuse_resume: bool,
    /// Every connection gets a number.
    pub(super) connections: u64,
    /// Whether nobody may connect.
    pub(super) shut: bool,
    /// Where the bot is told to connect to, if not here.
    pub(super) elsewhere: Option<String>,
    /// What interactions lack from now on.
    pub(super) left_out: Vec<String>,
}

/// An event with those whom it concerns.
pub(super) struct Event<'a> {
    pub(super) name: &'a str,
    pub(super) guild: Option<GuildId>,
    /// Only sessions with one of these see it; everybody without any.
    pub(super) needs: Intents,
    pub(super) data: Value,
}

impl Gateway {
    pub(super) fn new(config: GatewayConfig) -> Self {
        Self {
            starts_left: config.starts,
            config,
            sessions: HashMap::new(),
            identifies: Vec::new(),
            resumes: 0,
            refused_resumes: 0,
            heartbeats: 0,
            acks: true,
            refuse_resume: false,
            connections: 0,
            shut: false,
            elsewhere: None,
            left_out: Vec::new(),
        }
    }

    /// What `GET /gateway/bot` says.
    pub(super) fn describe(&self, url: &str) -> Reply {
        Reply::ok(json!({
            "url": url,
            "shards": self.config.shards,
            "session_start_limit": {
                "total": self.config.starts,
                "remaining": self.starts_left,
                "reset_after": 86_400_000,
                "max_concurrency": self.config.max_concurrency,
            },
        }))
    }

    /// Hands an event to every session it concerns, connected or not; to how many.
    pub(super) fn dispatch(&mut self, event: &Event<'_>) -> usize {
        let mut told = 0;
        for session in self.sessions.values_mut() {
            let concerned = event.needs.is_empty() || session.intents.intersects(event.needs);
            if concerned && session.covers(event.guild) {
                session.tell(event.name, &event.data);
                told += 1;
            }
        }
        told
    }

    /// Sends something to every connection that has a session; to how many.
    pub(super) fn send_all(&self, out: &Out) -> usize {
        let links = self.sessions.values().filter_map(|session| session.link.as_ref());
        links.filter(|(_, link)| link.send(out.clone()).is_ok()).count()
    }
}

impl Session {
    /// Whether a guild's events come by this shard; what is of no guild comes by the first.
    fn covers(&self, guild: Option<GuildId>) -> bool {
        let (shard, of) = self.shard;
        match guild {
            None => shard == 0,
            Some(guild) => (guild.0 >> 22) % u64::from(of.max(1)) == u64::from(shard),
        }
    }

    /// One more event.
    pub(super) fn tell(&mut self, name: &str, data: &Value) {
        self.seq += 1;
        let frame = json!({"op": 0, "s": self.seq, "t": name, "d": data}).to_string();
        self.log.push((self.seq, frame.clone()));
        self.send(Out::Text(frame));
    }

    pub(super) fn send(&self, out: Out) {
        if let Some((_, link)) = &self.link {
            // A link that is closed is taken away by the socket itself.
            drop(link.send(out));
        }
    }
}
