//! The double's one door: it listens on loopback, and lies open to the test.

use std::convert::Infallible;
use std::io;
use std::net::SocketAddr;
use std::sync::Arc;

use axum::Router;
use axum::body::Body;
use axum::extract::{Path, State};
use axum::http::{Request as Asked, Response, StatusCode, header};
use axum::response::IntoResponse;
use axum::routing::get;
use hyper::body::Incoming;
use hyper_util::rt::TokioIo;
use hyper_util::service::TowerToHyperService;
use tokio::net::{TcpListener, TcpStream};
use tokio::task::{JoinHandle, JoinSet};

use super::gateway::{self, Out};
use super::ids::{AttachmentId, ChannelId, MessageId};
use super::message::Message;
use super::record::{Fault, Request};
use super::rest::{self, Cut};
use super::route::Route;
use super::state::Shared;
use super::trouble::Trouble;
use super::{DoubleConfig, Limits};

/// A running double. It stops when it is dropped.
#[derive(Debug)]
pub struct Double {
    pub(super) shared: Arc<Shared>,
    task: JoinHandle<()>,
}

impl Drop for Double {
    fn drop(&mut self) {
        self.task.abort();
        self.shared.with(|state| state.gateway.send_all(&Out::Cut));
    }
}

impl Double {
    /// Starts one.
    ///
    /// # Errors
    /// When the address is not loopback, or nothing can listen there.
    pub async fn start(config: DoubleConfig) -> io::Result<Self> {
        if !config.address.ip().is_loopback() {
            let why = format!("{} is not loopback", config.address);
            return Err(io::Error::new(io::ErrorKind::InvalidInput, why));
        }
        let listener = TcpListener::bind(config.address).await?;
        let shared = Arc::new(Shared::new(config, listener.local_addr()?));
        let router = Router::new()
            .route("/", get(gateway::open))
            .route("/attachments/{id}/{name}", get(attachment))
            .fallback(rest::handle)
            .with_state(Arc::clone(&shared));
        let task = tokio::spawn(accept(listener, router));
        Ok(Self { shared, task })
    }

    /// Where it listens.
    #[must_use]
    pub fn address(&self) -> SocketAddr {
        self.shared.address
    }

    /// What stands before `/api/v10`: `http://127.0.0.1:PORT`.
    #[must_use]
    pub fn url(&self) -> String {
        format!("http://{}", self.shared.address)
    }

    /// The bot's token.
    #[must_use]
    pub fn token(&self) -> &str {
        &self.shared.config.token
    }

    /// Everything the client did wrong so far.
    #[must_use]
    pub fn faults(&self) -> Vec<Fault> {
        self.shared.look(|state| state.record.faults.clone())
    }

    /// Holds that the client did nothing wrong.
    ///
    /// # Panics
    /// When it did, with all of it.
    #[track_caller]
    pub fn assert_faultless(&self) {
        let faults: Vec<String> = self.faults().iter().map(ToString::to_string).collect();
        assert!(faults.is_empty(), "{}", faults.join("\n"));
    }

    /// Forgets the faults, and gives them: for a test that makes some on purpose.
    #[must_use]
    pub fn take_faults(&self) -> Vec<Fault> {
        self.shared.with(|state| std::mem::take(&mut state.record.faults))
    }

    /// Every request, in order of arrival.
    #[must_use]
    pub fn requests(&self) -> Vec<Request> {
        self.shared.look(|state| state.record.requests.clone())
    }

    /// Requests of a route.
    #[must_use]
    pub fn requests_of(&self, route: Route) -> Vec<Request> {
        let mut requests = self.requests();
        requests.retain(|request| request.route == route);
        requests
    }

    /// Requests so far.
    #[must_use]
    pub fn request_count(&self) -> usize {
        self.shared.look(|state| state.record.requests.len())
    }

    /// Waits until one of the requests behind the first `from` is as wanted; whether one came in time.
    pub async fn await_request(&self, from: usize, wanted: impl Fn(&Request) -> bool) -> bool {
        let found = self.shared.until(|state| {
            let behind = state.record.requests.iter().skip(from);
            behind.into_iter().any(&wanted).then_some(())
        });
        found.await.is_some()
    }

    /// Answers with 429 so far.
    #[must_use]
    pub fn throttled(&self) -> u32 {
        self.shared.look(|state| state.record.throttled)
    }

    /// Answers so far that count towards the ban of an address: 401, 403, 429 but for the scope shared.
    #[must_use]
    pub fn invalid_requests(&self) -> u32 {
        self.shared.look(|state| state.record.invalid)
    }

    /// A channel's messages, those for one person and those that are gone among them, the oldest first.
    #[must_use]
    pub fn channel_messages(&self, channel: ChannelId) -> Vec<Message> {
        self.shared.look(|state| {
            let channel = state.world.channels.get(&channel);
            let ids = channel
                .map(|channel| channel.messages.as_slice())
                .unwrap_or_default();
            ids.iter().map(|id| state.world.messages[id].clone()).collect()
        })
    }

    /// The newest of a channel's messages, so many at most, as [`Double::channel_messages`] has them.
    #[must_use]
    pub fn newest_messages(&self, channel: ChannelId, count: usize) -> Vec<Message> {
        self.shared.look(|state| {
            let channel = state.world.channels.get(&channel);
            let ids = channel
                .map(|channel| channel.messages.as_slice())
                .unwrap_or_default();
            let newest = &ids[ids.len().saturating_sub(count)..];
            newest.iter().map(|id| state.world.messages[id].clone()).collect()
        })
    }

    /// A channel's messages as everybody there sees them now.
    #[must_use]
    pub fn seen_messages(&self, channel: ChannelId) -> Vec<Message> {
        let mut messages = self.channel_messages(channel);
        messages.retain(|message| !message.deleted && !message.ephemeral);
        messages
    }

    /// One message.
    #[must_use]
    pub fn message(&self, id: MessageId) -> Option<Message> {
        self.shared.look(|state| state.world.messages.get(&id).cloned())
    }

    /// Waits until so many messages were written in a channel and are seen; they.
    ///
    /// # Panics
    /// When it takes too long.
    pub async fn await_messages(&self, channel: ChannelId, count: usize) -> Vec<Message> {
        let found = self.shared.until(|state| {
            let ids = &state.world.channels.get(&channel)?.messages;
            let messages = ids.iter().map(|id| &state.world.messages[id]);
            let seen = messages.filter(|message| !message.deleted && !message.ephemeral);
            let seen: Vec<Message> = seen.cloned().collect();
            (seen.len() >= count).then_some(seen)
        });
        match found.await {
            Some(found) => found,
            None => panic!(
                "{count} messages were awaited, {} came",
                self.seen_messages(channel).len()
            ),
        }
    }

    /// Waits until a message is as wanted; that message.
    ///
    /// # Panics
    /// When it takes too long.
    pub async fn await_message(&self, id: MessageId, wanted: impl Fn(&Message) -> bool) -> Message {
        let found = self.shared.until(|state| {
            state
                .world
                .messages
                .get(&id)
                .filter(|message| wanted(message))
                .cloned()
        });
        match found.await {
            Some(found) => found,
            None => panic!("never as wanted: {:?}", self.message(id)),
        }
    }

    /// The next requests of a route fare so, one each in this order; without a route, of any.
    pub fn trouble(&self, route: impl Into<Option<Route>>, troubles: impl IntoIterator<Item = Trouble>) {
        let route = route.into();
        self.shared.with(|state| {
            for trouble in troubles {
                state.troubles.add(route, trouble);
            }
        });
    }

    /// From now on ids follow the clock, as the platform's do.
    pub fn follow_clock(&self) {
        self.shared.with(|state| state.world.ids.follow_clock());
    }

    /// No more trouble.
    pub fn calm(&self) {
        self.shared.with(|state| state.troubles.clear());
    }

    /// Changes the rate limits.
    pub fn limit(&self, change: impl FnOnce(&mut Limits)) {
        self.shared.with(|state| change(&mut state.limits));
    }
}

async fn accept(listener: TcpListener, router: Router) {
    let mut connections = JoinSet::new();
    loop {
        tokio::select! {
            accepted = listener.accept() => {
                if let Ok((stream, _)) = accepted {
                    connections.spawn(serve(stream, router.clone()));
                }
            }
            Some(_) = connections.join_next(), if !connections.is_empty() => {}
        }
    }
}

/// Serves a connection; it is closed without an answer when an answer says so.
async fn serve(stream: TcpStream, router: Router) {
    drop(stream.set_nodelay(true));
    let inner = TowerToHyperService::new(router);
    let service = hyper::service::service_fn(move |asked: Asked<Incoming>| {
        let answer = hyper::service::Service::call(&inner, asked.map(Body::new));
        async move {
            let answer: Response<Body> = answer.await.unwrap_or_else(|never: Infallible| match never {});
            if answer.extensions().get::<Cut>().is_some() {
                return Err(io::Error::from(io::ErrorKind::ConnectionReset));
            }
            Ok(answer)
        }
    });
    let connection = hyper::server::conn::http1::Builder::new()
        .serve_connection(TokioIo::new(stream), service)
        .with_upgrades();
    // A connection that breaks is the client's to notice.
    drop(connection.await);
}

/// A file somebody attached.
async fn attachment(
    State(shared): State<Arc<Shared>>,
    Path((id, name)): Path<(u64, String)>,
) -> Response<Body> {
    let found = shared.look(|state| state.world.files.get(&AttachmentId(id)).cloned());
    match found.filter(|file| file.name == name) {
        Some(file) => ([(header::CONTENT_TYPE, file.kind)], file.bytes).into_response(),
        None => StatusCode::NOT_FOUND.into_response(),
    }
}
