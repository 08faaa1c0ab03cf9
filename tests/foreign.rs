//! The program beside a server of the platform that shares no code with it (`foreign/platform.py`, standard library
//! alone): commands are registered, lines answered in time, and a round that falls due is posted once.

use std::io::{BufRead, BufReader, Write};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use serde_json::{Value, json};
use wrackline::clock::{Clock, MachineClock};
use wrackline_tests::binary::{Serve, Shell};

/// How long the next round may be away, and some more.
const PATIENCE: Duration = Duration::from_secs(100);

const SERVER: &str = "700000000000000010";
const CHANNEL: &str = "700000000000000011";

/// The foreign server, and what it has told so far.
struct Foreign {
    child: Child,
    orders: ChildStdin,
    lines: Receiver<Value>,
    told: Vec<Value>,
    port: u64,
    sent: u64,
}

impl Drop for Foreign {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

impl Foreign {
    fn start() -> Self {
        let script = concat!(env!("CARGO_MANIFEST_DIR"), "/foreign/platform.py");
        let mut child = Command::new("python3")
            .arg(script)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("python3 starts; tests/install.sh installs it");
        let out = child.stdout.take().expect("its output");
        let orders = child.stdin.take().expect("its input");
        let (sender, lines) = channel();
        std::thread::spawn(move || {
            for line in BufReader::new(out).lines().map_while(Result::ok) {
                let told = serde_json::from_str(&line).expect("JSON");
                if sender.send(told).is_err() {
                    break;
                }
            }
        });
        let mut foreign = Self {
            child,
            orders,
            lines,
            told: Vec::new(),
            port: 0,
            sent: 0,
        };
        let listening = foreign.wait("listening", |told| told["what"] == "listening");
        foreign.port = listening["port"].as_u64().expect("a port");
        foreign
    }

    fn order(&mut self, order: &Value) {
        writeln!(self.orders, "{order}").expect("it listens to orders");
    }

    /// Waits for something that is told from now on.
    #[track_caller]
    fn wait(&mut self, what: &str, is_it: impl Fn(&Value) -> bool) -> Value {
        let until = Instant::now() + PATIENCE;
        while let Ok(told) = self
            .lines
            .recv_timeout(until.saturating_duration_since(Instant::now()))
        {
            self.told.push(told.clone());
            if is_it(&told) {
                return told;
            }
        }
        panic!("{what} does not come: {:#?}", self.told);
    }

    /// Sends a command of a member who may manage the server, and waits for its answer: its text and how long it took.
    #[track_caller]
    fn say(&mut self, name: &str, options: Value) -> (String, Duration) {
        self.sent += 1;
        let id = format!("90000000000000{:04}", self.sent);
        let user = json!({
            "id": "700000000000000020", "username": "maren", "discriminator": "0", "global_name": "Maren Example",
            "avatar": null,
        });
        let data = json!({
            "id": id, "application_id": "700000000000000001", "type": 2, "token": format!("secret-token-{}", self.sent),
            "version": 1, "guild_id": SERVER, "channel_id": CHANNEL, "locale": "en-GB", "guild_locale": "en-GB",
            "app_permissions": "117760", "entitlements": [], "authorizing_integration_owners": {"0": SERVER},
            "context": 0, "channel": {"id": CHANNEL, "type": 0, "permissions": "2147483647"},
            "member": {
                "user": user, "roles": [], "joined_at": "2026-01-01T00:00:00Z", "deaf": false, "mute": false,
                "flags": 0, "nick": null, "avatar": null, "permissions": "32",
            },
            "data": {
                "id": "700000000000000100", "name": name, "type": 1, "options": options,
                "resolved": {"channels": {CHANNEL: {
                    "id": CHANNEL, "type": 0, "name": "pools", "permissions": "2147483647", "flags": 0,
                    "parent_id": null,
                }}},
            },
        });
        let begun = Instant::now();
        self.order(&json!({"dispatch": ["INTERACTION_CREATE", data]}));
        let callback = format!("/api/v10/interactions/{id}/secret-token-{}/callback", self.sent);
        let answer = self.wait("an answer", |told| {
            told["what"] == "call" && told["path"] == *callback
        });
        let took = begun.elapsed();
        assert_eq!(answer["signed"], false, "an answer needs no token: {answer}");
        assert_eq!(answer["body"]["type"], 4, "{answer}");
        let message = &answer["body"]["data"];
        assert_eq!(message["allowed_mentions"]["parse"], json!([]), "{answer}");
        (message["content"].as_str().expect("a text").to_owned(), took)
    }
}

fn sub(name: &str, options: &Value) -> Value {
    json!([{"type": 1, "name": name, "options": options}])
}

fn text(name: &str, value: &str) -> Value {
    json!({"type": 3, "name": name, "value": value})
}

fn serve(shell: &Shell, port: u64) -> Serve {
    let mut command = shell.command(&["serve"]);
    command
        .env("WRACKLINE_PLATFORM_URL", format!("http://127.0.0.1:{port}"))
        .env("WRACKLINE_TOKEN", "x");
    Serve::start(command)
}

/// Sets a place up with one duty that is due at a round, and the round at the next whole minute.
fn set_up(foreign: &mut Foreign) {
    // The program runs by the machine's clock: the minute is far enough away to set all up.
    let now = MachineClock.now().as_second();
    let minute = now / 60 * 60 + 60;
    let soon = if minute - now < 8 { minute + 60 } else { minute };
    let round = jiff::Timestamp::from_second(soon)
        .expect("a time")
        .strftime("%H:%M")
        .to_string();
    for (name, verb, options) in [
        ("place", "set", json!([text("quiet", "none")])),
        (
            "rounds",
            "add",
            json!([text("name", "soon"), text("time", &round)]),
        ),
        (
            "enclosure",
            "add",
            json!([text("name", "North"), text("volume", "400 L")]),
        ),
        (
            "pool",
            "add",
            json!([
                text("enclosure", "North"),
                text("water", "salt"),
                text("volume", "8 L")
            ]),
        ),
        // Due at that round and not before: nothing is late, so the first post is the round's.
        (
            "duty",
            "add",
            json!([
                text("name", "lid seals"),
                text("spot", "North"),
                text("on", "Mon Tue Wed Thu Fri Sat Sun")
            ]),
        ),
    ] {
        let (answer, took) = foreign.say(name, sub(verb, &options));
        assert!(took < Duration::from_secs(3), "{name} {verb}: {took:?}");
        assert!(!answer.contains("Nothing was saved"), "{name} {verb}: {answer}");
    }
}

/// From nothing to a round that is called in the next minute; what is told until a while after it.
fn check(first_post: Option<&str>) -> Vec<Value> {
    let mut foreign = Foreign::start();
    let shell = Shell::new();
    let mut serving = serve(&shell, foreign.port);
    let identified = foreign.wait("identify", |told| told["what"] == "identified");
    assert_eq!(identified["intents"], 1, "no privileged intent");
    let registered = foreign.wait("registration", |told| told["method"] == "PUT");
    let names: Vec<&str> = registered["body"]
        .as_array()
        .expect("commands")
        .iter()
        .map(|command| command["name"].as_str().expect("a name"))
        .collect();
    assert!(names.contains(&"did") && names.contains(&"due"), "{names:?}");

    let channel = json!({"type": 7, "name": "channel", "value": CHANNEL});
    let (linked, took) = foreign.say("place", sub("link", &json!([channel])));
    assert!(linked.contains("Maren Example"), "{linked}");
    assert!(took < Duration::from_secs(3), "{took:?}");
    let greeted = foreign
        .told
        .iter()
        .filter(|told| told["what"] == "posted")
        .count();
    assert_eq!(greeted, 1, "the channel was tried before it was linked");

    set_up(&mut foreign);
    if let Some(plan) = first_post {
        foreign.order(&json!({"first_post": plan}));
    }
    let (due, took) = foreign.say("due", json!([]));
    assert!(due.contains("North: lid seals"), "{due}");
    assert!(took < Duration::from_secs(3), "{took:?}");
    foreign.wait("the round", |told| told["what"] == "posted");
    // What is sent twice is sent soon after: the retry of a lost reply comes within a few seconds.
    let until = Instant::now() + Duration::from_secs(8);
    while let Ok(told) = foreign
        .lines
        .recv_timeout(until.saturating_duration_since(Instant::now()))
    {
        foreign.told.push(told);
    }
    let (code, _) = serving.stop();
    assert_eq!(code, Some(0));
    foreign.told.clone()
}

fn posts(told: &[Value]) -> Vec<&Value> {
    let is_post = |told: &&Value| {
        told["what"] == "call"
            && told["method"] == "POST"
            && told["path"]
                .as_str()
                .is_some_and(|path| path.ends_with("/messages"))
    };
    // The first one is the greeting of the linked channel.
    told.iter().filter(is_post).skip(1).collect()
}

fn posted(told: &[Value]) -> usize {
    told.iter().filter(|told| told["what"] == "posted").count() - 1
}

#[test]
fn a_round_is_called_on_a_foreign_server() {
    let told = check(None);
    let posts = posts(&told);
    assert_eq!((posts.len(), posted(&told)), (1, 1), "{posts:#?}");
    let body = &posts[0]["body"];
    assert_eq!(posts[0]["signed"], true);
    assert_eq!(body["enforce_nonce"], true);
    let nonce = body["nonce"].as_str().expect("a nonce");
    assert!((1..=25).contains(&nonce.len()), "{nonce}");
    assert_eq!(body["allowed_mentions"]["parse"], json!([]));
    let content = body["content"].as_str().expect("a text");
    assert!(
        content.contains("Soon round") && content.contains("North: lid seals"),
        "{content}"
    );
    assert!(!body["components"].as_array().expect("rows").is_empty());
}

#[test]
fn a_limit_on_the_first_post_is_waited_out() {
    let told = check(Some("429"));
    let posts = posts(&told);
    assert_eq!((posts.len(), posted(&told)), (2, 1), "{posts:#?}");
    assert_eq!(posts[0]["body"]["nonce"], posts[1]["body"]["nonce"]);
    let at = |told: &Value| told["at"].as_f64().expect("a time");
    let refused = told
        .iter()
        .find(|told| told["what"] == "refused")
        .expect("a refusal");
    // The header asked for 2 s, the body for 1.5 s.
    let waited = at(posts[1]) - at(refused);
    assert!(waited >= 2.0, "sent again after {waited} s");
}

#[test]
fn a_lost_reply_posts_nothing_twice() {
    let told = check(Some("drop"));
    assert_eq!(posted(&told), 1, "{told:#?}");
}

#[test]
fn where_nothing_listens_the_log_says_so_and_nobody_else_is_asked() {
    let shell = Shell::new();
    // Nobody listens there, and no test that is handed a free port gets it.
    let port = 1_u16;
    let mut serving = serve(&shell, port.into());
    let line = serving.wait_for("the platform cannot be reached");
    assert!(line.contains(&format!("127.0.0.1:{port}")), "{line}");
    assert!(!line.contains("discord.gg"), "{line}");
    let (code, _) = serving.stop();
    assert_eq!(code, Some(0));
}
