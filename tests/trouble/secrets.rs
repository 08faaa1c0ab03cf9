//! What never shows: the bot's token, and what lets one answer a person.

use wrackline::chat::discord::reply::Asked;
use wrackline::chat::discord::sender::{BaseUrl, Call, Sender, Token};
use wrackline::config::Config;
use wrackline_tests::binary::Shell;
use wrackline_tests::platform::{ChannelKind, Double, DoubleConfig, Opt, Permissions, usual_permissions};
use wrackline_tests::stage::{Setting, ZONE};

use super::set_up_in;

const TOKEN: &str = "MTE4recognisable.Gq7xZ2.tide-pool-secret";

#[expect(clippy::too_many_lines, reason = "one table of cases, or one story")]
#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn the_closest_log_shows_neither_token() {
    let double = Double::start(DoubleConfig {
        token: TOKEN.to_owned(),
        ..DoubleConfig::default()
    })
    .await
    .expect("a double");
    let guild = double.guild("Wrack Line Hall");
    let channel = double.channel(guild, ChannelKind::Text, "pools");
    let maren = double.member(guild, "Maren Example");
    double.join(guild, maren, usual_permissions() | Permissions::MANAGE_GUILD);
    let shell = Shell::new();
    let mut command = shell.command(&["serve"]);
    command.env("WRACKLINE_PLATFORM_URL", double.url());
    command.env("WRACKLINE_TOKEN", TOKEN);
    command.env("RUST_LOG", "trace");
    let (shell, mut serving) = tokio::task::spawn_blocking(move || {
        let serving = shell.serve_by(command);
        (shell, serving)
    })
    .await
    .expect("it serves");
    double.await_commands().await;
    let mut tokens = vec![TOKEN.to_owned()];
    let text = Opt::text;
    let lines: [(&str, Vec<Opt>); 4] = [
        (
            "place link",
            vec![Opt::channel("channel", channel), text("zone", ZONE)],
        ),
        (
            "enclosure add",
            vec![text("name", "North"), text("volume", "400 L")],
        ),
        (
            "pool add",
            vec![
                text("enclosure", "North"),
                text("water", "fresh"),
                text("volume", "8 L"),
            ],
        ),
        ("did", vec![text("duty", "top-up"), text("spot", "North fresh")]),
    ];
    let mut last = None;
    for (line, options) in &lines {
        let act = double.command(channel, maren, line, options).expect("a line");
        tokens.push(act.token());
        last = Some(act.shown().await);
    }
    let receipt = last.expect("an answer");
    let press = double
        .press_label(receipt.id, "Take back", maren)
        .expect("a button");
    tokens.push(press.token());
    press.first().await;
    double.gateway().broken_event();
    double.gateway().leave_out(&["data"]);
    let act = double.command(channel, maren, "due", &[]).expect("a line");
    tokens.push(act.token());
    act.first().await;
    double.gateway().frame(&format!(
        "{{\"op\": 0, \"s\": 99, \"t\": \"X\", \"d\": {{\"token\": \"{TOKEN}\""
    ));
    double.gateway().leave_out(&[]);
    let act = double.command(channel, maren, "due", &[]).expect("a line");
    tokens.push(act.token());
    act.shown().await;

    let log = tokio::task::spawn_blocking(move || serving.whole_log().to_vec())
        .await
        .expect("a log");
    drop(shell);
    assert!(log.iter().any(|line| line.contains("DEBUG")), "a close log");
    assert!(
        log.iter().any(|line| line.contains("could not be read")),
        "the unread are told of"
    );
    for token in &tokens {
        let shown: Vec<&String> = log.iter().filter(|line| line.contains(token.as_str())).collect();
        assert!(shown.is_empty(), "{shown:#?}");
    }
}

#[test]
fn what_is_shown_of_the_parts_has_no_token_in_it() {
    let env = |name: &str| match name {
        "WRACKLINE_TOKEN" => Some(TOKEN.to_owned()),
        "WRACKLINE_PLATFORM_URL" => Some("http://127.0.0.1:9".to_owned()),
        _ => None,
    };
    let config = Config::from(None, env).expect("settings");
    let base = BaseUrl::parse("http://127.0.0.1:9").expect("an address");
    let token = Token::new(TOKEN).expect("a token");
    let sender = Sender::new(&base, token.clone()).expect("a sender");
    let asked = Asked {
        id: 7,
        token: "token-of-an-interaction".to_owned(),
        application: 8,
    };
    let call = Call::post(
        "/interactions/7/token-of-an-interaction/callback",
        serde_json::json!({"content": "what somebody wrote"}),
    );
    let shown = format!("{config:?} {config:#?} {token:?} {token} {sender:?} {asked:?} {call:?}");
    assert!(shown.contains("127.0.0.1"), "{shown}");
    for secret in [TOKEN, "token-of-an-interaction", "what somebody wrote"] {
        assert!(!shown.contains(secret), "{shown}");
    }
}

#[test]
fn a_token_that_cannot_be_one_is_not_repeated() {
    for wrong in ["two words-of-a-secret", "späte-flut-geheim", "secret\u{7}bell"] {
        let env = |name: &str| (name == "WRACKLINE_TOKEN").then(|| wrong.to_owned());
        let broken = Config::from(None, env).expect_err("it is refused");
        assert!(broken.0.contains("WRACKLINE_TOKEN"), "{broken}");
        assert!(!format!("{broken} {broken:?}").contains(wrong), "{broken}");
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_is_shown_of_the_connection_has_no_token_in_it() {
    let stage = set_up_in(Setting::default()).await;
    let gateway = &stage.gateway;
    let shown = format!(
        "{:?} {:?} {:?} {:?} {:?}",
        gateway.base, gateway.token, gateway.keeping, gateway.state, gateway.ears.chat.sender
    );
    assert!(!shown.contains(stage.double.token()), "{shown}");
}
