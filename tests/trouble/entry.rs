//! Where it is let in: nowhere but at the platform, with the right token, and as often as the day has connections.

use std::sync::atomic::Ordering;
use std::time::Duration;

use tokio::net::TcpListener;
use wrackline::clock::wait;
use wrackline_tests::binary::Shell;
use wrackline_tests::platform::{Double, DoubleConfig, GatewayConfig, Route, Trouble};
use wrackline_tests::stage::Setting;

use super::{apart, until};

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_address_that_is_not_the_platforms_is_never_connected_to() {
    let other = TcpListener::bind("127.0.0.1:0").await.expect("a listener");
    let port = other.local_addr().expect("an address").port();
    for url in [
        "wss://gateway.example.org".to_owned(),
        "ws://198.51.100.7/".to_owned(),
        format!("ws://elsewhere.example:{port}"),
        format!("wss://127.0.0.1.example.org:{port}"),
        format!("http://127.0.0.1:{port}"),
        "nonsense".to_owned(),
    ] {
        let mut stage = apart(Setting::default()).await;
        stage.double.gateway().elsewhere(&url);
        stage.begin();
        let broken = stage.ended().await.expect_err("it is refused");
        assert!(broken.0.contains("(WRACKLINE_PLATFORM_URL)"), "{url}: {broken}");
        assert!(broken.0.contains("nothing was sent there"), "{url}: {broken}");
        assert_eq!(broken.0.lines().count(), 1);
        assert_eq!(stage.double.gateway().counts().connections, 0);
    }
    let nobody = tokio::time::timeout(Duration::from_millis(300), other.accept()).await;
    assert!(nobody.is_err(), "somebody connected");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_program_ends_with_2_and_a_sentence_for_what_is_wrong() {
    let double = Double::start(DoubleConfig::default()).await.expect("a double");
    let wrong = "a-wrong.token.of-somebody";
    let serve = |token: &'static str| {
        let shell = Shell::new();
        let mut command = shell.command(&["serve"]);
        command.env("WRACKLINE_PLATFORM_URL", double.url());
        command.env("WRACKLINE_TOKEN", token);
        tokio::task::spawn_blocking(move || {
            let ran = command.output().expect("it runs");
            drop(shell);
            (ran.status.code(), String::from_utf8(ran.stderr).expect("text"))
        })
    };
    let (code, log) = serve(wrong).await.expect("it ends");
    assert_eq!(code, Some(2), "{log}");
    let last = log.lines().last().expect("a line");
    assert!(last.contains("WRACKLINE_TOKEN"), "{log}");
    assert!(!log.contains(wrong), "{log}");

    double.gateway().elsewhere("ws://gateway.example.org");
    let (code, log) = serve("a-token.for.tests").await.expect("it ends");
    assert_eq!(code, Some(2), "{log}");
    let last = log.lines().last().expect("a line");
    assert!(last.contains("WRACKLINE_PLATFORM_URL"), "{log}");
    assert_eq!(double.gateway().counts().connections, 0);
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_token_that_is_refused_is_named_in_one_sentence() {
    let token = "a-wrong.token.of-somebody".to_owned();
    let mut stage = apart(Setting {
        token: Some(token.clone()),
        ..Setting::default()
    })
    .await;
    stage.begin();
    let broken = stage.ended().await.expect_err("it is refused");
    assert!(broken.0.contains("(WRACKLINE_TOKEN)"), "{broken}");
    assert_eq!(broken.0.lines().count(), 1);
    assert!(!format!("{broken:?}{broken}").contains(&token));
    assert_eq!(stage.double.requests_of(Route::GatewayBot).len(), 1, "asked once");
    assert_eq!(stage.double.gateway().counts().connections, 0);
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_token_that_is_refused_at_the_gateway_is_named_too() {
    let mut stage = apart(Setting::default()).await;
    stage.connect().await;
    stage.double.gateway().close(4004);
    let broken = stage.ended().await.expect_err("it is refused");
    assert!(broken.0.contains("(WRACKLINE_TOKEN)"), "{broken}");
    assert_eq!(broken.0.lines().count(), 1);
    let counts = stage.double.gateway().counts();
    assert_eq!((counts.identifies, counts.connections), (1, 1), "{counts:?}");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_day_without_connections_left_is_waited_out() {
    let gateway = GatewayConfig {
        starts: 0,
        ..GatewayConfig::default()
    };
    let double = DoubleConfig {
        gateway,
        ..DoubleConfig::default()
    };
    let mut stage = apart(Setting {
        double,
        ..Setting::default()
    })
    .await;
    stage.begin();
    until("the question", 5, || {
        !stage.double.requests_of(Route::GatewayBot).is_empty()
    })
    .await;
    wait(Duration::from_secs(3)).await;
    let counts = stage.double.gateway().counts();
    assert_eq!((counts.identifies, counts.connections), (0, 0), "{counts:?}");
    assert_eq!(stage.double.requests_of(Route::GatewayBot).len(), 1, "asked once");
    assert_eq!(stage.disconnect().await, Ok(()), "it ends all the same");
    stage.double.assert_faultless();
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn nonsense_is_asked_again() {
    let mut stage = apart(Setting::default()).await;
    stage
        .double
        .trouble(Route::GatewayBot, [Trouble::Html, Trouble::BrokenJson]);
    // The library's own question has an answer of its own: where to go is settled by then.
    stage.double.trouble(Route::Gateway, [Trouble::Html]);
    stage.connect().await;
    assert!(stage.double.requests_of(Route::GatewayBot).len() >= 3);
    assert_eq!(stage.gateway.state.sessions.load(Ordering::SeqCst), 1);
    stage.double.assert_faultless();
}
