//! A call's path as the limits see it: what shares a limit is one route, and no secret is in it.

use sha2::{Digest, Sha256};
use twilight_http_ratelimiting as limiting;

use super::call::Method;

/// What names a limit's own scope: the number behind it tells one limit from the next.
const MAJOR: [&str; 3] = ["channels", "guilds", "webhooks"];

/// A path as the limits see it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(super) struct Route {
    method: Method,
    /// Without a slash in front and without a query; secrets are hashed and minor numbers stand as `:id`.
    path: String,
    /// Tells two secrets apart whose short hash is the same; never shown.
    secret: Option<[u8; 8]>,
    is_callback: bool,
}

/// The secret in a call's path, if there is one.
pub(super) fn secret(path: &str) -> Option<&str> {
    let bare = path.split(['?', '#']).next()?;
    let mut parts = bare.trim_matches('/').split('/');
    let first = parts.next()?;
    if matches!(first, "webhooks" | "interactions") {
        parts.nth(1).filter(|secret| !secret.is_empty())
    } else {
        None
    }
}

impl Route {
    /// The route of a call's path.
    pub(super) fn of(method: Method, path: &str) -> Self {
        let bare = path.split(['?', '#']).next().unwrap_or_default();
        let parts: Vec<&str> = bare.trim_matches('/').split('/').collect();
        let first = parts[0];
        let mut secret = None;
        let mut shown: Vec<String> = Vec::with_capacity(parts.len());
        for (at, part) in parts.iter().enumerate() {
            let before = at.checked_sub(1).map_or("", |before| parts[before]);
            let is_number = !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
            shown.push(if at == 2 && matches!(first, "webhooks" | "interactions") {
                let hash = Sha256::digest(part.as_bytes());
                secret = hash.first_chunk::<8>().copied();
                // Three digits: the limiter never forgets a name, so there must not be one more for every
                // interaction. Two that meet take turns, which does no harm.
                format!("{:03x}", u16::from_be_bytes([hash[30], hash[31]]) & 0xfff)
            } else if before == "reactions" {
                ":emoji".to_owned()
            } else if is_number && !MAJOR.contains(&before) {
                ":id".to_owned()
            } else {
                (*part).to_owned()
            });
        }
        Self {
            method,
            path: shown.join("/"),
            secret,
            is_callback: first == "interactions" && parts.last() == Some(&"callback"),
        }
    }

    /// What may be shown of it.
    pub(super) fn shown(&self) -> &str {
        &self.path
    }

    /// What its limit is counted for: a channel, a guild, a webhook; empty for the rest.
    pub(super) fn major(&self) -> String {
        let first = self.path.split('/').next().unwrap_or_default();
        let secret = self
            .secret
            .map(|secret| format!("{secret:02x?}"))
            .unwrap_or_default();
        let parts: Vec<&str> = self.path.split('/').take(2).collect();
        if MAJOR.contains(&first) {
            parts.join("/") + &secret
        } else {
            secret
        }
    }

    /// Whether it answers an interaction: that is done once, within 3 s, so there is no queue to stand in.
    pub(super) fn is_callback(&self) -> bool {
        self.is_callback
    }

    /// Whether it belongs to interactions or webhooks, which the limit over everything leaves alone.
    pub(super) fn is_interaction(&self) -> bool {
        self.path.starts_with("webhooks/") || self.path.starts_with("interactions/")
    }

    /// The same for the limiter.
    pub(super) fn endpoint(&self) -> limiting::Endpoint {
        let method = match self.method {
            Method::Get => limiting::Method::Get,
            Method::Post => limiting::Method::Post,
            Method::Put => limiting::Method::Put,
            Method::Patch => limiting::Method::Patch,
            Method::Delete => limiting::Method::Delete,
        };
        limiting::Endpoint {
            method,
            path: self.path.clone(),
        }
    }
}
