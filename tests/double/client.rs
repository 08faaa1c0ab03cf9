//! The double as the library that the house connects with sees it.

use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};
use std::time::Duration;

use serenity::all::{
    Client, ClientBuilder, Context, CreateAllowedMentions, CreateInteractionResponse,
    CreateInteractionResponseMessage, EventHandler, GatewayIntents, Guild, HttpBuilder, Interaction, Ready,
};
use serenity::async_trait;
use wrackline_tests::platform::{DoubleConfig, GatewayConfig, Opt};

use super::{Scene, commands};

/// Answers every command, and counts.
#[derive(Default)]
struct Counts {
    ready: AtomicU32,
    guilds: AtomicU32,
    commands: AtomicU32,
}

struct Handler(Arc<Counts>);

#[async_trait]
impl EventHandler for Handler {
    async fn ready(&self, _: Context, _: Ready) {
        self.0.ready.fetch_add(1, Ordering::SeqCst);
    }

    async fn guild_create(&self, _: Context, _: Guild, _: Option<bool>) {
        self.0.guilds.fetch_add(1, Ordering::SeqCst);
    }

    async fn interaction_create(&self, context: Context, interaction: Interaction) {
        if let Interaction::Command(command) = interaction {
            self.0.commands.fetch_add(1, Ordering::SeqCst);
            let said = CreateInteractionResponseMessage::new()
                .content("Logged.")
                .ephemeral(true)
                .allowed_mentions(CreateAllowedMentions::new());
            let response = CreateInteractionResponse::Message(said);
            command
                .create_response(&context.http, response)
                .await
                .expect("an answer");
        }
    }
}

/// A client that is sure to speak to the double alone.
async fn client(scene: &Scene, counts: &Arc<Counts>) -> Client {
    let http = HttpBuilder::new(scene.double.token())
        .proxy(scene.double.url())
        .ratelimiter_disabled(true)
        .application_id(scene.double.bot().0.into())
        .build();
    let client = ClientBuilder::new_with_http(http, GatewayIntents::GUILDS)
        .event_handler(Handler(Arc::clone(counts)))
        .await
        .expect("a client");
    let url = client.ws_url.lock().await.clone();
    assert_eq!(
        &*url,
        format!("ws://{}", scene.double.address()),
        "it stays on loopback"
    );
    client
}

#[tokio::test]
async fn it_connects_answers_and_comes_back() {
    let gateway = GatewayConfig {
        heartbeat: Duration::from_millis(200),
        ..GatewayConfig::default()
    };
    let scene = Scene::with(DoubleConfig {
        gateway,
        ..DoubleConfig::default()
    })
    .await;
    let path = format!("/applications/{}/commands", scene.double.bot());
    scene.send(reqwest::Method::PUT, &path, &commands()).await;
    let counts = Arc::new(Counts::default());
    let mut client = client(&scene, &counts).await;
    let running = tokio::spawn(async move { client.start().await });
    let dial = scene.double.gateway();
    dial.connected(1).await;
    let ask = || {
        let what = [Opt::text("what", "scrub")];
        scene
            .double
            .command(scene.channel, scene.person, "did", &what)
            .expect("a command")
    };
    assert_eq!(ask().shown().await.content(), "Logged.");
    dial.until(|counts| counts.heartbeats > 0).await;
    // What is said while the line is down is heard once it is up again.
    dial.cut();
    let missed = ask();
    assert_eq!(missed.shown().await.content(), "Logged.");
    dial.until(|counts| counts.resumes == 1).await;
    // Events that cannot be read do no harm.
    dial.broken_event();
    dial.unknown_event();
    assert_eq!(ask().shown().await.content(), "Logged.");
    running.abort();
    assert_eq!(counts.commands.load(Ordering::SeqCst), 3);
    assert_eq!(counts.ready.load(Ordering::SeqCst), 1);
    assert!(counts.guilds.load(Ordering::SeqCst) > 0);
    scene.double.assert_faultless();
}
