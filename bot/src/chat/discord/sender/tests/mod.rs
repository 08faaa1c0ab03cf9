//! The sender against a real server on this machine.

use std::future::Future;
use std::num::NonZeroU16;
use std::pin::Pin;
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use axum::Router;
use axum::body::{Body, to_bytes};
use axum::extract::Request;
use axum::http::{HeaderMap, Response, StatusCode};
use serde_json::{Value, json};
use tokio::net::TcpListener;

use super::guard::Guard;
use super::{BaseUrl, Limits, Sender, Token};
use crate::clock;

mod failures;
mod fetching;
mod global;
mod limited;
mod secrets;
mod shapes;

/// The token of the tests.
const TOKEN: &str = "MTIz.secret-of-the-bot.abc";

/// A request as the server saw it.
#[derive(Clone, Debug)]
struct Seen {
    /// How many came before it.
    nth: usize,
    method: String,
    /// With the query.
    path: String,
    headers: HeaderMap,
    body: Vec<u8>,
    at: Instant,
}

impl Seen {
    fn header(&self, name: &str) -> Option<&str> {
        self.headers.get(name).and_then(|value| value.to_str().ok())
    }
}

type Reply = Response<Body>;
type Reaction = Pin<Box<dyn Future<Output = Reply> + Send>>;

/// A server that remembers what arrived.
struct Server {
    base: BaseUrl,
    port: u16,
    seen: Arc<Mutex<Vec<Seen>>>,
    task: tokio::task::JoinHandle<()>,
}

impl Drop for Server {
    fn drop(&mut self) {
        self.task.abort();
    }
}

impl Server {
    /// A server that answers each request at once.
    async fn new(react: impl Fn(&Seen) -> Reply + Clone + Send + Sync + 'static) -> Self {
        Self::slow(move |seen| {
            let reply = react(&seen);
            Box::pin(async move { reply })
        })
        .await
    }

    /// A server that may take its time.
    async fn slow(react: impl Fn(Seen) -> Reaction + Clone + Send + Sync + 'static) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").await.expect("a port");
        let port = listener.local_addr().expect("an address").port();
        let seen: Arc<Mutex<Vec<Seen>>> = Arc::default();
        let book = seen.clone();
        let router = Router::new().fallback(move |request: Request| {
            let (react, book) = (react.clone(), book.clone());
            async move {
                let at = clock::monotonic();
                let (parts, body) = request.into_parts();
                let body = to_bytes(body, usize::MAX).await.expect("a body").to_vec();
                let seen = {
                    let mut book = book.lock().expect("the book");
                    let seen = Seen {
                        nth: book.len(),
                        method: parts.method.to_string(),
                        path: parts.uri.to_string(),
                        headers: parts.headers,
                        body,
                        at,
                    };
                    book.push(seen.clone());
                    seen
                };
                react(seen).await
            }
        });
        let task = tokio::spawn(async move {
            axum::serve(listener, router).await.expect("served");
        });
        let base = BaseUrl::parse(&format!("http://127.0.0.1:{port}")).expect("an address");
        Self {
            base,
            port,
            seen,
            task,
        }
    }

    fn seen(&self) -> Vec<Seen> {
        self.seen.lock().expect("the book").clone()
    }

    /// When the requests arrived, the first at zero.
    fn arrivals(&self) -> Vec<Duration> {
        let seen = self.seen();
        seen.iter().map(|one| one.at - seen[0].at).collect()
    }

    fn sender(&self) -> Sender {
        self.limited(Limits::default())
    }

    fn limited(&self, limits: Limits) -> Sender {
        Sender::with_limits(&self.base, token(), limits).expect("a sender")
    }

    fn guarded(&self, answers_max: usize, window: Duration) -> Sender {
        let guard = Guard::new(answers_max, window);
        Sender::guarded(&self.base, token(), Limits::default(), guard).expect("a sender")
    }
}

fn token() -> Token {
    Token::new(TOKEN).expect("a token")
}

fn ms(ms: u64) -> Duration {
    Duration::from_millis(ms)
}

fn per_s(global_per_s: u16) -> Limits {
    Limits {
        global_per_s: NonZeroU16::new(global_per_s).expect("not 0"),
        ..Limits::default()
    }
}

/// A reply of a status with headers and JSON.
fn reply(status: u16, headers: &[(&str, &str)], body: &Value) -> Reply {
    let mut builder = Response::builder()
        .status(StatusCode::from_u16(status).expect("a status"))
        .header("content-type", "application/json");
    for (name, value) in headers {
        builder = builder.header(*name, *value);
    }
    builder.body(Body::from(body.to_string())).expect("a reply")
}

fn fine() -> Reply {
    reply(200, &[], &json!({"id": "7"}))
}

/// A reply 429 as the platform writes it: the header in whole seconds, the body with a fraction.
fn too_many(scope: &str, after: f64) -> Reply {
    let header = format!("{}", after.floor());
    let mut headers = vec![("retry-after", header.as_str()), ("x-ratelimit-scope", scope)];
    if scope == "global" {
        headers.push(("x-ratelimit-global", "true"));
    } else {
        headers.push(("x-ratelimit-bucket", "b1"));
    }
    let body =
        json!({"message": "You are being rate limited.", "retry_after": after, "global": scope == "global"});
    reply(429, &headers, &body)
}
