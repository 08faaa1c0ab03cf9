//! Trouble on demand: what goes wrong with the next requests.

use std::collections::VecDeque;
use std::time::Duration;

use super::Route;

/// Whose limit a 429 speaks of.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub enum Scope {
    /// The bot's own on this route.
    User,
    /// The bot's own on all routes.
    Global,
    /// One that others use too.
    Shared,
}

impl Scope {
    /// As the header has it.
    pub(super) fn header(self) -> &'static str {
        match self {
            Self::User => "user",
            Self::Global => "global",
            Self::Shared => "shared",
        }
    }
}

/// What goes wrong with one request.
#[derive(Clone, Debug, PartialEq)]
pub enum Trouble {
    /// 429: wait so long.
    TooMany(Scope, Duration),
    /// This status with a short text, nothing done.
    Status(u16),
    /// This status with one of the platform's codes, nothing done.
    Refused(u16, u32),
    /// Done, but answered with this status.
    DoneThen(u16),
    /// Done and answered, after so long.
    Slow(Duration),
    /// Done, and the connection closed without an answer.
    Dropped,
    /// The connection closed before anything was done.
    Reset,
    /// Status 200 with a page of HTML, nothing done.
    Html,
    /// Status 200 with JSON that breaks off, nothing done.
    BrokenJson,
}

/// What is to go wrong, in order.
#[derive(Debug, Default)]
pub(super) struct Troubles {
    queue: VecDeque<(Option<Route>, Trouble)>,
}

impl Troubles {
    /// The next of these requests fares so; of any route without one.
    pub(super) fn add(&mut self, route: Option<Route>, trouble: Trouble) {
        self.queue.push_back((route, trouble));
    }

    /// What goes wrong with a request of this route.
    pub(super) fn take(&mut self, route: Route) -> Option<Trouble> {
        let at = self
            .queue
            .iter()
            .position(|(wanted, _)| wanted.is_none_or(|wanted| wanted == route))?;
        self.queue.remove(at).map(|(_, trouble)| trouble)
    }

    /// Nothing more goes wrong.
    pub(super) fn clear(&mut self) {
        self.queue.clear();
    }
}
