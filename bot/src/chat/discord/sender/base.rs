//! Where the platform is.

use std::fmt;
use std::net::IpAddr;
use std::str::FromStr;

use reqwest::Url;

use crate::config::Broken;

/// Where the platform is when nothing else is said.
const DEFAULT: &str = "https://discord.com";

/// What stands before every path of the platform's interface.
const PREFIX: &str = "/api/v10";

/// Under which name the public platform is connected to.
const GATEWAY: &str = "discord.gg";

fn is_loopback(host: &str) -> bool {
    let host = host.trim_matches(['[', ']']);
    let address = host.parse::<IpAddr>();
    address.map_or_else(
        |_| host.eq_ignore_ascii_case("localhost"),
        |address| address.is_loopback(),
    )
}

/// Without the slash at its end, as paths are put behind it.
impl fmt::Display for BaseUrl {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.0.as_str().trim_end_matches('/'))
    }
}

/// The platform's address: a scheme, a host and perhaps a port, such as `https://discord.com`.
///
/// Plain `http` is for loopback addresses (127.0.0.0/8, `::1`, `localhost`) alone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BaseUrl(Url);

impl Default for BaseUrl {
    fn default() -> Self {
        Self(Url::parse(DEFAULT).expect("the default address is one"))
    }
}

impl FromStr for BaseUrl {
    type Err = Broken;

    fn from_str(text: &str) -> Result<Self, Broken> {
        Self::parse(text)
    }
}

impl BaseUrl {
    /// An address from a setting's text.
    ///
    /// # Errors
    /// A sentence that says what is wrong with it; it never repeats a password that was put in.
    pub fn parse(text: &str) -> Result<Self, Broken> {
        let url = Url::parse(text.trim()).map_err(|error| {
            Broken(format!(
                "The platform's address cannot be read ({error}); write it like {DEFAULT}."
            ))
        })?;
        let base = Self(url);
        let url = &base.0;
        if !matches!(url.scheme(), "http" | "https") || url.host_str().is_none_or(str::is_empty) {
            return Err(Broken(format!(
                "The platform's address must be a web address like {DEFAULT}."
            )));
        }
        let is_bare = url.path() == "/" && url.query().is_none() && url.fragment().is_none();
        if !is_bare || !url.username().is_empty() || url.password().is_some() {
            return Err(Broken(format!(
                "The platform's address must be a scheme and a host alone, like {DEFAULT}."
            )));
        }
        if url.scheme() == "http" && !base.is_loopback() {
            return Err(Broken(
                "The platform's address must begin with https unless it is this machine's own.".to_owned(),
            ));
        }
        Ok(base)
    }

    /// Whether it is this machine's own.
    #[must_use]
    pub fn is_loopback(&self) -> bool {
        is_loopback(self.host())
    }

    /// The host, without the port.
    #[must_use]
    pub fn host(&self) -> &str {
        self.0.host_str().unwrap_or_default()
    }

    /// The whole address of a path such as `/channels/1/messages?limit=2`; `None` when it would lead elsewhere.
    pub(super) fn join(&self, path: &str) -> Option<Url> {
        let is_plain = path.starts_with('/')
            && !path.contains("//")
            && path
                .bytes()
                .all(|byte| byte.is_ascii_graphic() && !matches!(byte, b'#' | b'\\'));
        if !is_plain {
            return None;
        }
        let mut url = self.0.clone();
        let (bare, query) = path.split_once('?').map_or((path, None), |(a, b)| (a, Some(b)));
        let whole = format!("{PREFIX}{bare}");
        url.set_path(&whole);
        url.set_query(query);
        // A dotted segment would have been folded away.
        (url.path() == whole).then_some(url)
    }

    /// Whether an address to connect to is the platform's own: for the public platform under its own name, for any
    /// other at the same host, and on this machine alone when that is where the platform is.
    #[must_use]
    pub fn leads_to(&self, url: &str) -> bool {
        let Ok(url) = Url::parse(url) else {
            return false;
        };
        let host = url.host_str().unwrap_or_default();
        match url.scheme() {
            "wss" if *self == Self::default() => host == GATEWAY || host.ends_with(&format!(".{GATEWAY}")),
            "ws" if self.is_loopback() => is_loopback(host),
            "wss" => host == self.host(),
            _ => false,
        }
    }

    /// Whether a whole address is at this very scheme, host and port.
    pub(super) fn holds(&self, url: &Url) -> bool {
        self.0.origin() == url.origin()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_connection_leads_nowhere_else() {
        let check = |base: &str, url: &str, leads: bool| {
            assert_eq!(
                BaseUrl::parse(base).expect(base).leads_to(url),
                leads,
                "{base} {url}"
            );
        };
        check(DEFAULT, "wss://gateway.discord.gg", true);
        check(DEFAULT, "wss://gateway-us-east1-b.discord.gg", true);
        check(DEFAULT, "ws://gateway.discord.gg", false);
        check(DEFAULT, "wss://example.org", false);
        check(DEFAULT, "wss://discord.gg.example.org", false);
        check(DEFAULT, "wss://mydiscord.gg", false);
        check("http://127.0.0.1:8080", "ws://127.0.0.1:9090", true);
        check("http://127.0.0.1:8080", "wss://gateway.discord.gg", false);
        check("http://127.0.0.1:8080", "ws://example.org", false);
        check("https://chat.example.org", "wss://chat.example.org/ws", true);
        check("https://chat.example.org", "wss://gateway.discord.gg", false);
        check("https://chat.example.org", "nonsense", false);
    }
}
