//! The connections: nobody is followed elsewhere, and what never left is told from what may have.

use std::error::Error as _;
use std::net::{Ipv4Addr, Ipv6Addr};
use std::time::Duration;

use reqwest::header::{AUTHORIZATION, CONTENT_LENGTH, CONTENT_TYPE, HeaderValue};
use reqwest::{Client, Url, redirect};

use super::base::BaseUrl;
use super::body::{Left, Noted};
use super::call::Method;
use super::refusal::{Refused, line};
use crate::config::Broken;

/// The form the platform's documentation asks for.
const USER_AGENT: &str = concat!("DiscordBot (wrackline, ", env!("CARGO_PKG_VERSION"), ")");

/// The longest a connection may take to come about.
const CONNECT_MAX: Duration = Duration::from_secs(5);

pub(super) fn build(base: &BaseUrl, request_max: Duration) -> Result<Client, Broken> {
    let builder = Client::builder()
        .user_agent(USER_AGENT)
        .redirect(redirect::Policy::none())
        .referer(false)
        // Shorter than a request's limit, so that "never connected" is told from "never answered".
        .connect_timeout(CONNECT_MAX.min(request_max / 2));
    let builder = if base.is_loopback() {
        // Whatever a name server says: requests to this machine may be in plain text.
        let here = [(Ipv4Addr::LOCALHOST, 0).into(), (Ipv6Addr::LOCALHOST, 0).into()];
        builder.no_proxy().resolve_to_addrs("localhost", &here)
    } else {
        builder.https_only(true)
    };
    builder.build().map_err(|error| {
        let why = line(&error.without_url().to_string());
        Broken(format!("Requests to the platform cannot be prepared: {why}."))
    })
}

/// One request.
pub(super) struct Request<'a> {
    pub(super) method: Method,
    pub(super) url: Url,
    /// Its content type and its body.
    pub(super) form: Option<(&'a str, &'a [u8])>,
    pub(super) signature: Option<HeaderValue>,
    /// The longest it may take, reading the answer included.
    pub(super) within: Duration,
}

/// Sends a request and gives the answer's head.
pub(super) async fn send(client: &Client, request: Request<'_>) -> Result<reqwest::Response, Refused> {
    let method = match request.method {
        Method::Get => reqwest::Method::GET,
        Method::Post => reqwest::Method::POST,
        Method::Put => reqwest::Method::PUT,
        Method::Patch => reqwest::Method::PATCH,
        Method::Delete => reqwest::Method::DELETE,
    };
    let left = Left::default();
    let mut builder = client.request(method, request.url).timeout(request.within);
    if let Some(signature) = request.signature {
        builder = builder.header(AUTHORIZATION, signature);
    }
    let is_noted = request.form.is_some();
    if !is_noted && matches!(request.method, Method::Post | Method::Put | Method::Patch) {
        // Left to itself the library says nothing, and some servers ask for it (411).
        builder = builder.header(CONTENT_LENGTH, 0);
    }
    if let Some((kind, body)) = request.form {
        builder = builder
            .header(CONTENT_TYPE, kind)
            .body(reqwest::Body::wrap(Noted::new(body.to_vec(), left.clone())));
    }
    let never_left =
        |error: &reqwest::Error| error.is_connect() || error.is_builder() || (is_noted && !left.is_set());
    builder.send().await.map_err(|error| {
        if never_left(&error) {
            Refused::later(None, format!("the platform cannot be reached ({})", why(&error)))
        } else if error.is_timeout() {
            Refused::unsure("no answer came in time")
        } else {
            Refused::unsure(format!("the connection broke ({})", why(&error)))
        }
    })
}

/// What lies at the bottom of an error. The upper layers name the address, and with it what must not be shown.
pub(super) fn why(error: &reqwest::Error) -> String {
    if error.is_timeout() {
        return "no connection in time".to_owned();
    }
    let mut cause = error.source();
    while let Some(deeper) = cause.and_then(std::error::Error::source) {
        cause = Some(deeper);
    }
    cause.map_or_else(|| "no reason given".to_owned(), |cause| line(&cause.to_string()))
}
