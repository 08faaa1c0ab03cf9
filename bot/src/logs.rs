//! What the process logs, and what it never does.

use std::sync::atomic::{AtomicU64, Ordering};

use tracing::{Event, Level, Subscriber};
use tracing_subscriber::filter::filter_fn;
use tracing_subscriber::layer::{Context, SubscriberExt};
use tracing_subscriber::util::SubscriberInitExt;
use tracing_subscriber::{EnvFilter, Layer};

/// Where the connection's library tells of events that it cannot read, with all of their text.
const UNREADABLE: &str = "serenity::gateway::ws";

/// Libraries whose closer reports show what travels: keys, tokens, what people wrote.
const SHOW_ALL: [&str; 8] = [
    "serenity",
    "tungstenite",
    "tokio_tungstenite",
    "reqwest",
    "hyper",
    "h2",
    "rustls",
    "twilight_http_ratelimiting",
];

/// Events from the platform that could not be read, since the process began.
static UNREAD: AtomicU64 = AtomicU64::new(0);

/// How many events from the platform could not be read.
#[must_use]
pub fn unread_events() -> u64 {
    UNREAD.load(Ordering::Relaxed)
}

/// Notes that an event from the platform could not be read.
pub fn note_unread() {
    UNREAD.fetch_add(1, Ordering::Relaxed);
}

/// Logs to stderr what goes wrong, for those who run the process; `RUST_LOG` chooses more.
pub fn to_stderr(serving: bool) {
    let default = if serving { "info,sqlx=warn" } else { "error" };
    let filter = EnvFilter::try_from_default_env().unwrap_or_else(|_| EnvFilter::new(default));
    let shown = tracing_subscriber::fmt::layer()
        .with_writer(std::io::stderr)
        .with_filter(filter)
        .with_filter(filter_fn(|meta| {
            may_be_shown(meta.target(), meta.level(), meta.is_event())
        }));
    // A second call in one process, as in tests, changes nothing.
    let _ = tracing_subscriber::registry()
        .with(Unread.with_filter(filter_fn(|meta| meta.target() == UNREADABLE)))
        .with(shown)
        .try_init();
}

/// Whatever `RUST_LOG` says, a library's view of what travels stays out of the log.
fn may_be_shown(target: &str, level: &Level, is_event: bool) -> bool {
    let root = target.split("::").next().unwrap_or_default();
    let is_warning = is_event && *level <= Level::WARN;
    target != UNREADABLE && (is_warning || !SHOW_ALL.contains(&root))
}

/// Counts events that could not be read; who keeps the connection says so, without their text.
struct Unread;

impl<S: Subscriber> Layer<S> for Unread {
    fn on_event(&self, event: &Event<'_>, _: Context<'_, S>) {
        if *event.metadata().level() == Level::WARN {
            note_unread();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_travels_is_not_logged_whatever_is_asked_for() {
        let check = |shown: bool, target: &str, level: Level| {
            assert_eq!(may_be_shown(target, &level, true), shown, "{target} {level}");
        };
        check(true, "wrackline::outbox", Level::TRACE);
        check(true, "serenity::gateway::shard", Level::WARN);
        check(false, "serenity::gateway::shard", Level::INFO);
        check(false, "serenity::gateway::ws", Level::WARN);
        check(false, "tungstenite::protocol", Level::TRACE);
        check(false, "hyper::proto", Level::DEBUG);
        check(true, "hyperbole", Level::DEBUG);
    }
}
