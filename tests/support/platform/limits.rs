//! Rate limits: a bucket per route and channel, one limit for all, and who asks again too early.

use std::collections::{HashMap, VecDeque};
use std::time::Duration;

use super::Route;
use super::trouble::Scope;

/// So many requests in so long.
#[derive(Clone, Copy, Debug, Eq, PartialEq)]
pub struct Bucket {
    /// Requests, at least one.
    pub size: u32,
    /// The window.
    pub window: Duration,
}

/// The limits in force.
#[derive(Clone, Debug)]
pub struct Limits {
    /// For all of a bot's requests; interaction endpoints are exempt.
    pub global: Bucket,
    /// For what nothing else is said of.
    pub usual: Bucket,
    /// For a route, in each channel by itself.
    pub routes: HashMap<Route, Bucket>,
    /// For a route in one channel.
    pub channels: HashMap<(Route, u64), Bucket>,
    /// A request may arrive so long after a 429 went out and still have been under way before it.
    pub under_way: Duration,
}

impl Default for Limits {
    fn default() -> Self {
        let bucket = Bucket {
            size: 50,
            window: Duration::from_secs(1),
        };
        Self {
            global: bucket,
            usual: bucket,
            routes: HashMap::new(),
            channels: HashMap::new(),
            under_way: Duration::from_millis(20),
        }
    }
}

impl Limits {
    fn bucket(&self, route: Route, major: u64) -> Bucket {
        let channel = self.channels.get(&(route, major));
        *channel.or_else(|| self.routes.get(&route)).unwrap_or(&self.usual)
    }
}

/// A 429 that is due.
#[derive(Clone, Copy, Debug)]
pub(super) struct Throttle {
    pub(super) scope: Scope,
    pub(super) wait: Duration,
}

/// The headers of a bucket.
#[derive(Clone, Copy, Debug)]
pub(super) struct Standing {
    pub(super) limit: u32,
    pub(super) remaining: u32,
    pub(super) reset_after: Duration,
}

#[derive(Clone, Copy, Debug)]
struct Block {
    scope: Scope,
    said: Duration,
    until: Duration,
}

/// How the limits stand; all times since the double's start.
#[derive(Debug, Default)]
pub(super) struct Pace {
    windows: HashMap<String, (Duration, u32)>,
    arrivals: VecDeque<Duration>,
    blocks: HashMap<String, Block>,
}

/// The key of the block that holds for every route.
const EVERYWHERE: &str = "*";

impl Pace {
    /// A 429 was given: until then nothing may be asked.
    pub(super) fn block(&mut self, key: &str, throttle: Throttle, now: Duration) {
        let key = if throttle.scope == Scope::Global {
            EVERYWHERE
        } else {
            key
        };
        let block = Block {
            scope: throttle.scope,
            said: now,
            until: now + throttle.wait,
        };
        self.blocks.insert(key.to_owned(), block);
    }

    /// Whether a 429 still holds for a request, and whether asking again is the client's fault.
    pub(super) fn blocked(
        &self,
        key: &str,
        bots: bool,
        under_way: Duration,
        now: Duration,
    ) -> Option<(Throttle, bool)> {
        let everywhere = if bots { self.blocks.get(EVERYWHERE) } else { None };
        let block = [everywhere, self.blocks.get(key)]
            .into_iter()
            .flatten()
            .filter(|block| now < block.until)
            .max_by_key(|block| block.until)?;
        let grace = under_way.min((block.until - block.said) / 4);
        let throttle = Throttle {
            scope: block.scope,
            wait: block.until - now,
        };
        Some((throttle, now >= block.said + grace))
    }

    /// Counts a request; the bucket's standing, and the 429 if it is one too many.
    pub(super) fn count(
        &mut self,
        limits: &Limits,
        (route, major, key): (Route, u64, &str),
        now: Duration,
    ) -> (Standing, Option<Throttle>) {
        let bucket = limits.bucket(route, major);
        let (opened, used) = self.windows.get(key).copied().unwrap_or((now, 0));
        let (opened, used) = if now >= opened + bucket.window {
            (now, 0)
        } else {
            (opened, used)
        };
        let reset_after = (opened + bucket.window).saturating_sub(now);
        let mut standing = Standing {
            limit: bucket.size,
            remaining: bucket.size.saturating_sub(used + 1),
            reset_after,
        };
        if route.is_the_bots() {
            let window = limits.global.window;
            while self.arrivals.front().is_some_and(|first| *first + window <= now) {
                self.arrivals.pop_front();
            }
            if self.arrivals.len() >= limits.global.size as usize {
                let first = self.arrivals.front().copied().unwrap_or(now);
                let wait = (first + window).saturating_sub(now);
                let scope = Scope::Global;
                return (standing, Some(Throttle { scope, wait }));
            }
        }
        if used >= bucket.size {
            standing.remaining = 0;
            let throttle = Throttle {
                scope: Scope::User,
                wait: reset_after,
            };
            return (standing, Some(throttle));
        }
        if route.is_the_bots() {
            self.arrivals.push_back(now);
        }
        self.windows.insert(key.to_owned(), (opened, used + 1));
        (standing, None)
    }
}
