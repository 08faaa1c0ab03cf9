//! The porch's web side: one page, a handful of data routes, and the door in front of them.

use std::future::Future;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::time::Duration;

use async_trait::async_trait;
use axum::extract::DefaultBodyLimit;
use axum::routing::{get, post};
use axum::{Extension, Router, middleware};
use tokio::net::TcpListener;
use tokio::sync::{broadcast, watch};

use crate::chat::blocks::Answer;
use crate::house::{Completion, Me, Said, SheetMade, SheetPage};
use crate::store::{PlaceId, Store, StoreError};

mod asides;
mod calendar;
mod door;
mod log;
mod page;
mod refusal;
mod sheet;
mod talk;
#[cfg(test)]
mod tests;

/// What a request other than a photo may weigh.
const BODY_LIMIT: usize = 16 * 1024;

/// How long open connections may take to finish after the end was called.
const LEAVE_WITHIN: Duration = Duration::from_secs(5);

/// What the web asks of the house.
#[async_trait]
pub trait Hears: Send + Sync {
    /// Hears a line or a press and answers it; a repeat of its id gets the first answer.
    async fn hear(&self, said: Said) -> Answer;

    /// How a line may go on.
    async fn complete(&self, place: PlaceId, carer: u32, line: &str) -> Vec<Completion>;

    /// Who a carer is; `None` when they no longer belong to the place.
    async fn me(&self, place: PlaceId, carer: u32) -> Option<Me>;

    /// A handover sheet as a page; a sentence instead where it is not the asker's to read, or there is none.
    ///
    /// # Errors
    /// Those of the store.
    async fn sheet(&self, place: PlaceId, asker: u32, page: SheetPage) -> crate::store::Result<SheetMade>;

    /// Whether a carer may see what lies beside an entry.
    ///
    /// # Errors
    /// Those of the store.
    async fn may_see(&self, place: PlaceId, carer: u32, seq: i64) -> Result<bool, StoreError>;

    /// The calendar that an address's token leads to; `None` when it leads nowhere.
    ///
    /// # Errors
    /// Those of the store.
    async fn calendar(&self, token: &str) -> crate::store::Result<Option<String>>;

    /// What a sitter whose span is over is told; `None` for everyone else.
    async fn ended(&self, place: PlaceId, carer: u32) -> Option<String>;

    /// The present moment, in milliseconds since the epoch.
    fn now_ms(&self) -> i64;

    /// The page's texts: an object from id to text.
    fn words(&self) -> serde_json::Value;
}

/// What every route works with.
#[derive(Clone)]
pub struct WebState {
    /// Transcript, photos and keys.
    pub store: Arc<dyn Store>,
    /// Where lines are heard.
    pub house: Arc<dyn Hears>,
    /// Whose transcript has something new.
    pub news: broadcast::Sender<PlaceId>,
    /// The values of `Host` that are answered, each with its port where it has one.
    pub allowed_hosts: Vec<String>,
    /// Whether the group-chat platform is connected to, where there is one.
    pub connected: Option<Arc<AtomicBool>>,
}

/// Told to the streams when the server is about to leave, for they would otherwise never end.
#[derive(Clone)]
struct Leaving(watch::Receiver<bool>);

/// The names under which this machine reaches its own port.
#[must_use]
pub fn loopback_hosts(port: u16) -> Vec<String> {
    ["localhost", "127.0.0.1", "[::1]"]
        .iter()
        .map(|name| format!("{name}:{port}"))
        .collect()
}

/// All routes, behind the door.
pub fn router(state: WebState) -> Router {
    let assets = asides::ASSETS.iter().fold(Router::new(), |router, asset| {
        router.route(asset.path, get(move || asides::asset(asset)))
    });
    assets
        .route("/", get(page::porch))
        .route("/enter/{token}", get(page::enter))
        .route("/calendar/{file}", get(calendar::calendar))
        .route("/say", post(talk::say))
        .route("/press", post(talk::press))
        .route(
            "/photo",
            post(talk::photo).layer(DefaultBodyLimit::max(talk::PHOTO_BODY_LIMIT)),
        )
        .route("/log", get(log::log))
        .route("/sheet/{carer}", get(sheet::sheet))
        .route("/events", get(log::events))
        .route("/complete", get(asides::complete))
        .route("/photo/{seq}", get(asides::photo))
        .route("/me", get(asides::me))
        .route("/words", get(asides::words))
        .route("/healthz", get(asides::health))
        .route("/readyz", get(asides::ready))
        .layer(DefaultBodyLimit::max(BODY_LIMIT))
        .layer(middleware::from_fn_with_state(state.clone(), door::guard))
        .with_state(state)
}

/// Serves until the given future ends; open streams are then closed, and what is left is given a few seconds.
///
/// # Errors
/// When the listener fails.
pub async fn serve(
    listener: TcpListener,
    router: Router,
    shutdown: impl Future<Output = ()> + Send + 'static,
) -> std::io::Result<()> {
    let (leave, leaving) = watch::channel(false);
    let mut left = leaving.clone();
    let server =
        axum::serve(listener, router.layer(Extension(Leaving(leaving)))).with_graceful_shutdown(async move {
            shutdown.await;
            leave.send_replace(true);
        });
    tokio::select! {
        served = async { server.await } => served,
        () = async {
            // The sender lives as long as the shutdown is awaited, so an error means that it has ended.
            let _ = left.wait_for(|leave| *leave).await;
            crate::clock::wait(LEAVE_WITHIN).await;
        } => Ok(()),
    }
}
