//! No secret is shown or logged, by us or by the libraries.

use std::io;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use serde_json::json;
use tokio::net::TcpListener;
use tracing::level_filters::LevelFilter;

use super::super::{BaseUrl, Call, Refused, Sender};
use super::{Server, TOKEN, fine, reply, token, too_many};

/// What an interaction's path is signed with.
const PATH_SECRET: &str = "aW50ZXJhY3Rpb24tc2VjcmV0";

/// What people wrote.
const BODY_SECRET: &str = "between-us";

/// Everything that was logged.
#[derive(Clone, Default)]
struct Log(Arc<Mutex<Vec<u8>>>);

impl Log {
    fn text(&self) -> MutexGuard<'_, Vec<u8>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl io::Write for Log {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.text().extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// Some libraries log by another facade.
struct Facade(Log);

impl log::Log for Facade {
    fn enabled(&self, _: &log::Metadata<'_>) -> bool {
        true
    }

    fn log(&self, record: &log::Record<'_>) {
        let line = format!("{} {}\n", record.target(), record.args());
        self.0.text().extend_from_slice(line.as_bytes());
    }

    fn flush(&self) {}
}

/// A call of each kind that has a secret, with each kind of end.
async fn calls(sender: &Sender) -> Vec<Refused> {
    let body = json!({"content": BODY_SECRET});
    let query = format!("/channels/1/messages?around={PATH_SECRET}");
    let follow_up = format!("/webhooks/9/{PATH_SECRET}?wait=true");
    let all = [
        Call::post("/channels/1/messages", body.clone()),
        Call::get(query),
        Call::post(follow_up, body.clone()).unsigned(),
        Call::patch(
            format!("/webhooks/9/{PATH_SECRET}/messages/@original"),
            body.clone(),
        )
        .unsigned(),
        Call::post(format!("/interactions/3/{PATH_SECRET}/callback"), body).unsigned(),
    ];
    let mut refused = Vec::new();
    for call in all {
        let shown = format!("{call:?}");
        assert!(
            ![TOKEN, PATH_SECRET, BODY_SECRET]
                .iter()
                .any(|secret| shown.contains(secret)),
            "{shown}"
        );
        refused.extend(sender.call(call).await.err());
    }
    refused
}

#[tokio::test]
async fn secrets_stand_in_no_log_and_in_no_error() {
    let log = Log::default();
    let writer = log.clone();
    let subscriber = tracing_subscriber::fmt()
        .with_max_level(LevelFilter::TRACE)
        .with_ansi(false)
        .with_writer(move || writer.clone())
        .finish();
    // The tests' runtime has one thread, so that everything spawned logs here as well.
    let _guard = tracing::subscriber::set_default(subscriber);
    log::set_boxed_logger(Box::new(Facade(log.clone()))).expect("no other logger");
    log::set_max_level(log::LevelFilter::Trace);

    let mut all = Vec::new();
    for status in [200, 307, 403, 429, 500] {
        let server = Server::new(move |seen| match status {
            200 => fine(),
            429 if seen.nth % 2 == 0 => too_many("user", 0.01),
            429 => too_many("user", 99.0),
            _ => {
                let path = seen.path.split('?').next().unwrap_or_default();
                let echo = json!({"message": format!("no: {TOKEN} {path}"), "code": 1});
                reply(status, &[("location", "/elsewhere")], &echo)
            }
        })
        .await;
        all.extend(calls(&server.sender()).await);
    }
    let listener = TcpListener::bind("127.0.0.1:0").await.expect("a port");
    let address = listener.local_addr().expect("an address");
    drop(listener);
    let base = BaseUrl::parse(&format!("http://{address}")).expect("an address");
    let sender = Sender::new(&base, token()).expect("a sender");
    all.extend(calls(&sender).await);

    assert!(all.len() > 20, "{}", all.len());
    let errors: String = all
        .iter()
        .map(|refused| format!("{refused} {refused:?}\n"))
        .collect();
    let logged = String::from_utf8_lossy(&log.text()).into_owned();
    for heard in [
        "twilight_http_ratelimiting",
        "wrackline",
        "reqwest::connect",
        "webhooks/9/",
    ] {
        assert!(logged.contains(heard), "nothing of {heard} was logged");
    }
    for secret in [TOKEN, PATH_SECRET, BODY_SECRET] {
        assert!(!errors.contains(secret), "{errors}");
        let line = logged.lines().find(|line| line.contains(secret));
        assert_eq!(line, None);
    }
    assert!(!format!("{sender:?}").contains(TOKEN));
}
