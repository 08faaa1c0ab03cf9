//! What the platform tells of itself: sessions, servers, channels.

use std::collections::BTreeSet;
use std::sync::Arc;
use std::sync::atomic::Ordering;
use std::time::Duration;

use serenity::all::{
    ConnectionStage, Context, EventHandler, Guild, GuildChannel, Interaction, Message, Ready, ResumedEvent,
    ShardStageUpdateEvent, UnavailableGuild,
};
use serenity::async_trait;

use super::commands::{commands, fingerprint};
use super::gateway::State;
use super::heard::Ears;
use super::ids::number;
use super::sender::Call;
use super::shape::json;
use super::trouble::Trouble;
use crate::clock::wait;

/// Pauses after a registration that failed; the next session tries again in any case.
const REGISTER_PAUSES: [Duration; 4] = [
    Duration::from_secs(5),
    Duration::from_secs(30),
    Duration::from_secs(120),
    Duration::from_secs(600),
];

/// Hears what arrives on the connection.
pub(super) struct Handler {
    pub(super) ears: Arc<Ears>,
    pub(super) state: Arc<State>,
}

#[async_trait]
impl EventHandler for Handler {
    async fn interaction_create(&self, _: Context, interaction: Interaction) {
        self.ears.hear(interaction).await;
    }

    async fn ready(&self, _: Context, ready: Ready) {
        self.state.sessions.fetch_add(1, Ordering::SeqCst);
        self.state.connected.store(true, Ordering::SeqCst);
        let servers = ready.guilds.len();
        tracing::info!(servers, "a session on the platform has begun");
        self.ears.reconcile(&ready).await;
        self.ears.register(ready.application.id.get()).await;
    }

    async fn resume(&self, _: Context, _: ResumedEvent) {
        self.state.resumed.fetch_add(1, Ordering::SeqCst);
        self.state.connected.store(true, Ordering::SeqCst);
        tracing::info!("the session on the platform goes on");
    }

    async fn shard_stage_update(&self, _: Context, event: ShardStageUpdateEvent) {
        if event.new == ConnectionStage::Disconnected {
            self.state.connected.store(false, Ordering::SeqCst);
        }
    }

    async fn guild_delete(&self, _: Context, gone: UnavailableGuild, _: Option<Guild>) {
        // A server that cannot be reached for a while is no server that is lost.
        if !gone.unavailable {
            self.ears.removed(number(gone.id.get())).await;
        }
    }

    async fn channel_delete(&self, _: Context, gone: GuildChannel, _: Option<Vec<Message>>) {
        self.ears
            .channel_gone(number(gone.guild_id.get()), number(gone.id.get()))
            .await;
    }
}

impl Ears {
    /// A new session: what happened between the sessions is not told, so it is looked for.
    async fn reconcile(&self, ready: &Ready) {
        let shards = ready.shard.map_or(1, |shard| u64::from(shard.total.max(1)));
        let mine = ready.shard.map_or(0, |shard| u64::from(shard.id.0));
        let here: BTreeSet<i64> = ready.guilds.iter().map(|guild| number(guild.id.get())).collect();
        let linked = match self.house.shelf.store().servers().await {
            Ok(linked) => linked,
            Err(error) => return tracing::error!(%error, "the servers could not be looked through"),
        };
        for (place, row) in linked {
            let its_shard = (row.server.unsigned_abs() >> 22) % shards;
            if its_shard == mine && !here.contains(&row.server) {
                self.chat.tell_keepers(place, row.channel, Trouble::Hidden).await;
            }
        }
        // What waited for the connection may go now.
        self.house.bell.ring();
    }

    async fn removed(&self, server: i64) {
        tracing::warn!(server, "the bot was removed from a server");
        if let Some((place, channel)) = self.home(server).await {
            self.chat.tell_keepers(place, channel, Trouble::Hidden).await;
        }
    }

    async fn channel_gone(&self, server: i64, channel: i64) {
        if let Some((place, home)) = self.home(server).await
            && home == channel
        {
            self.chat.tell_keepers(place, channel, Trouble::Gone).await;
        }
    }

    async fn home(&self, server: i64) -> Option<(crate::store::PlaceId, i64)> {
        let store = self.house.shelf.store();
        let place = store.place_of_server(server).await.ok().flatten()?;
        let row = store.server_of(place).await.ok().flatten()?;
        Some((place, row.channel))
    }

    /// Registers the lines where they are not what was registered last.
    async fn register(&self, application: u64) {
        let commands = commands(&self.house.words);
        let print = fingerprint(&commands);
        let name = format!("commands:{application}");
        let store = self.house.shelf.store();
        if matches!(store.kept(&name).await, Ok(Some(kept)) if kept == print) {
            return;
        }
        let path = format!("/applications/{application}/commands");
        for pause in REGISTER_PAUSES {
            match self
                .chat
                .sender
                .call(Call::put(path.clone(), json(&commands)))
                .await
            {
                Ok(_) => {
                    tracing::info!(count = commands.len(), "the lines are registered");
                    if let Err(error) = store.keep(&name, &print).await {
                        tracing::warn!(%error, "that the lines are registered was not kept");
                    }
                    return;
                }
                Err(error) => tracing::error!(%error, "the lines could not be registered"),
            }
            wait(pause).await;
        }
    }
}
