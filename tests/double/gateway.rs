//! The gateway, frame by frame, and its events as another library decodes them.

use std::time::Duration;

use futures_util::{SinkExt, StreamExt};
use serde::de::DeserializeSeed;
use serde_json::{Value, json};
use tokio::net::TcpStream;
use tokio_tungstenite::tungstenite::Message;
use tokio_tungstenite::{MaybeTlsStream, WebSocketStream, connect_async};
use twilight_model::gateway::event::{GatewayEvent, GatewayEventDeserializer};
use wrackline_tests::platform::{ChannelKind, DoubleConfig, GatewayConfig, Judge, Opt};

use super::{Scene, commands};

/// A client that says what it is told to.
struct Line(WebSocketStream<MaybeTlsStream<TcpStream>>);

impl Line {
    /// Connects, and hears the hello.
    async fn open(scene: &Scene) -> Self {
        let url = format!("ws://{}/?v=10&encoding=json", scene.double.address());
        let (stream, _) = connect_async(url).await.expect("a connection");
        let mut line = Self(stream);
        let hello = line.hear().await.expect("a hello");
        assert_eq!(
            (&hello["op"], hello["d"]["heartbeat_interval"].is_u64()),
            (&json!(10), true)
        );
        line
    }

    /// Connects and identifies; the session's id.
    async fn ready(scene: &Scene) -> (Self, String) {
        let mut line = Self::open(scene).await;
        line.say(&identify(scene.double.token(), 1)).await;
        let ready = line.hear().await.expect("ready");
        assert_eq!(ready["t"], "READY");
        let session = ready["d"]["session_id"].as_str().expect("a session").to_owned();
        assert_eq!(line.hear().await.expect("a guild")["t"], "GUILD_CREATE");
        (line, session)
    }

    async fn say(&mut self, frame: &Value) {
        self.say_text(&frame.to_string()).await;
    }

    async fn say_text(&mut self, text: &str) {
        self.0
            .send(Message::Text(text.to_owned()))
            .await
            .expect("a frame");
    }

    /// The next frame, or the code the connection closes with; 0 when it just ends.
    async fn hear(&mut self) -> Result<Value, u16> {
        let next = tokio::time::timeout(Duration::from_secs(10), self.0.next()).await;
        match next.expect("a frame in time") {
            Some(Ok(Message::Text(text))) => Ok(serde_json::from_str(&text).expect("JSON")),
            Some(Ok(Message::Close(Some(close)))) => Err(close.code.into()),
            _ => Err(0),
        }
    }
}

fn identify(token: &str, intents: u64) -> Value {
    let properties = json!({"os": "linux", "browser": "wrackline", "device": "wrackline"});
    json!({"op": 2, "d": {"token": token, "intents": intents, "properties": properties, "shard": [0, 1]}})
}

/// Decodes a frame with other people's types.
fn decoded(frame: &Value) -> GatewayEvent {
    let text = frame.to_string();
    let seed = GatewayEventDeserializer::from_json(&text).expect("an event");
    let mut json = serde_json::Deserializer::from_str(&text);
    seed.deserialize(&mut json)
        .unwrap_or_else(|error| panic!("{error}: {frame}"))
}

#[tokio::test]
async fn events_decode_with_other_types() {
    let scene = Scene::new().await;
    let path = format!("/applications/{}/commands", scene.double.bot());
    scene.send(reqwest::Method::PUT, &path, &commands()).await;
    let _ = scene.double.thread(scene.channel, "tides");
    let mut line = Line::open(&scene).await;
    line.say(&identify(scene.double.token(), 1)).await;
    for wanted in ["READY", "GUILD_CREATE"] {
        let frame = line.hear().await.expect("an event");
        assert_eq!(frame["t"], wanted);
        assert!(matches!(decoded(&frame), GatewayEvent::Dispatch(_, _)));
    }
    let photo = scene.double.attach("pool.png", "image/png", "salt");
    let options = [
        Opt::text("what", "scrub"),
        Opt::user("who", scene.person),
        Opt::attachment("photo", photo),
    ];
    let act = scene
        .double
        .command(scene.channel, scene.person, "did", &options)
        .expect("a command");
    assert_eq!(act.delivered(), 1);
    let frame = line.hear().await.expect("an interaction");
    assert!(matches!(decoded(&frame), GatewayEvent::Dispatch(3, _)));
    let resolved = &frame["d"]["data"]["resolved"];
    assert_eq!(resolved["attachments"][photo.to_string()]["filename"], "pool.png");
    assert_eq!(
        resolved["users"][scene.person.to_string()]["username"],
        "Maren Example"
    );
    act.again();
    let again = line.hear().await.expect("the same once more");
    assert_eq!((&again["d"]["id"], &again["s"]), (&frame["d"]["id"], &json!(4)));
    scene.double.delete_channel(scene.channel);
    assert_eq!(line.hear().await.expect("an event")["t"], "CHANNEL_DELETE");
    scene.double.remove_bot(scene.guild);
    let gone = line.hear().await.expect("an event");
    assert_eq!(
        (&gone["t"], &gone["d"]["unavailable"]),
        (&json!("GUILD_DELETE"), &json!(false))
    );
    scene.double.assert_faultless();
}

#[tokio::test]
async fn heartbeats_are_acknowledged_or_not() {
    let scene = Scene::new().await;
    let (mut line, _) = Line::ready(&scene).await;
    line.say(&json!({"op": 1, "d": 2})).await;
    assert_eq!(line.hear().await.expect("an acknowledgement")["op"], 11);
    scene.double.gateway().acknowledge(false);
    line.say(&json!({"op": 1, "d": 2})).await;
    scene
        .double
        .gateway()
        .until(|counts| counts.heartbeats == 2)
        .await;
    scene.double.gateway().broken_event();
    assert_eq!(line.hear().await.expect("the next frame")["op"], 0);
    scene.double.assert_faultless();
}

#[tokio::test]
async fn who_is_not_wanted_is_shown_out() {
    let scene = Scene::new().await;
    let token = scene.double.token();
    for (frames, code, faults) in [
        (vec![identify("another", 1).to_string()], 4004, 0),
        (vec!["{".to_owned()], 4002, 1),
        (vec![json!({"op": 99, "d": null}).to_string()], 4001, 1),
        (vec![json!({"op": 3, "d": {}}).to_string()], 4003, 1),
        (vec![json!({"op": 2, "d": {"token": token}}).to_string()], 4002, 1),
        (vec![json!({"op": 1, "d": "x"}).to_string()], 4002, 1),
        (vec![identify(token, 1 << 15).to_string()], 4014, 1),
    ] {
        let mut line = Line::open(&scene).await;
        for frame in &frames {
            line.say_text(frame).await;
        }
        assert_eq!(line.hear().await, Err(code), "{frames:?}");
        let noted = scene.double.take_faults();
        assert_eq!(noted.len(), faults, "{frames:?}");
        assert!(
            noted
                .iter()
                .all(|fault| fault.verdicts[0].judge == Judge::Gateway)
        );
    }
    let (mut line, _) = Line::ready(&scene).await;
    line.say(&identify(token, 1)).await;
    assert_eq!(line.hear().await, Err(4005));
    let (mut line, _) = (Line::open(&scene).await, scene.double.take_faults());
    line.say(&identify(token, 1 | 1 << 9)).await;
    assert_eq!(line.hear().await.expect("let in all the same")["t"], "READY");
    assert_eq!(scene.double.take_faults().len(), 1, "more intents than needed");
}

#[tokio::test]
async fn a_session_is_resumed_with_what_was_missed() {
    let scene = Scene::new().await;
    let (mut line, session) = Line::ready(&scene).await;
    scene.double.gateway().cut();
    assert_eq!(line.hear().await, Err(0));
    while scene.double.gateway().sessions() > 0 {
        wrackline::clock::wait(Duration::from_millis(5)).await;
    }
    let _ = scene.double.channel(scene.guild, ChannelKind::Text, "tides");
    let token = scene.double.token();
    let resume = json!({"op": 6, "d": {"token": token, "session_id": session, "seq": 2}});
    let mut line = Line::open(&scene).await;
    line.say(&resume).await;
    let missed = line.hear().await.expect("what was missed");
    assert_eq!(
        (&missed["t"], &missed["s"]),
        (&json!("CHANNEL_CREATE"), &json!(3))
    );
    assert_eq!(line.hear().await.expect("resumed")["t"], "RESUMED");
    scene.double.gateway().reconnect();
    assert_eq!(line.hear().await.expect("a wish")["op"], 7);
    scene.double.gateway().refuse_resume();
    let mut line = Line::open(&scene).await;
    line.say(&resume).await;
    assert_eq!(line.hear().await, Ok(json!({"op": 9, "d": false})));
    // The same connection may begin anew.
    line.say(&identify(token, 1)).await;
    assert_eq!(line.hear().await.expect("ready")["t"], "READY");
    assert_eq!(line.hear().await.expect("a guild")["t"], "GUILD_CREATE");
    scene.double.gateway().invalidate(true);
    assert_eq!(line.hear().await, Ok(json!({"op": 9, "d": true})));
    let counts = scene.double.gateway().counts();
    assert_eq!(
        (counts.identifies, counts.resumes, counts.refused_resumes),
        (2, 1, 1)
    );
    scene.double.assert_faultless();
}

#[tokio::test]
async fn starts_are_counted() {
    let gateway = GatewayConfig {
        starts: 2,
        identify_window: Duration::from_secs(60),
        shards: 2,
        max_concurrency: 2,
        ..GatewayConfig::default()
    };
    let scene = Scene::with(DoubleConfig {
        gateway,
        ..DoubleConfig::default()
    })
    .await;
    let of = |shard: u64| {
        let mut frame = identify(scene.double.token(), 1);
        frame["d"]["shard"] = json!([shard, 4]);
        frame
    };
    let mut lines = Vec::new();
    for shard in [0, 1] {
        let mut line = Line::open(&scene).await;
        line.say(&of(shard)).await;
        assert_eq!(line.hear().await.expect("ready")["d"]["shard"], json!([shard, 4]));
        lines.push(line);
    }
    let mut line = Line::open(&scene).await;
    line.say(&of(2)).await;
    assert_eq!(
        line.hear().await,
        Ok(json!({"op": 9, "d": false})),
        "its lane is taken"
    );
    assert_eq!(
        scene.get("/gateway/bot").await.body["session_start_limit"]["remaining"],
        0
    );
    line.say(&json!({"op": 2, "d": of(5)["d"]})).await;
    assert_eq!(line.hear().await, Err(4010), "no such shard");
    assert_eq!(scene.double.gateway().identifies()[1].shard, (1, 4));
}

#[tokio::test]
async fn a_guild_is_of_one_shard() {
    let scene = Scene::new().await;
    let mut heard = Vec::new();
    for shard in 0..2_u64 {
        let mut line = Line::open(&scene).await;
        let mut frame = identify(scene.double.token(), 1);
        frame["d"]["shard"] = json!([shard, 2]);
        line.say(&frame).await;
        let ready = line.hear().await.expect("ready");
        heard.push(ready["d"]["guilds"].as_array().expect("guilds").len());
    }
    let own = usize::try_from((scene.guild.0 >> 22) % 2).expect("a shard");
    assert_eq!((heard[own], heard[1 - own]), (1, 0));
}

#[tokio::test]
async fn too_many_frames_are_a_fault() {
    let scene = Scene::new().await;
    let (mut line, _) = Line::ready(&scene).await;
    for _ in 0..119 {
        line.say(&json!({"op": 1, "d": 2})).await;
        assert_eq!(line.hear().await.expect("an acknowledgement")["op"], 11);
    }
    scene.double.assert_faultless();
    line.say(&json!({"op": 1, "d": 2})).await;
    assert_eq!(line.hear().await, Err(4008));
    assert_eq!(scene.double.take_faults().len(), 1);
}
