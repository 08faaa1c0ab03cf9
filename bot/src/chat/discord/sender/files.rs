//! Attachments, fetched without the token from where the platform keeps them.

use std::time::Duration;

use reqwest::{StatusCode, Url};

use super::Sender;
use super::answer::{Text, read};
use super::call::Method;
use super::client::{Request, send};
use super::refusal::Refused;

/// Where the platform keeps its files.
const HOSTS: [&str; 2] = ["cdn.discordapp.com", "media.discordapp.net"];

impl Sender {
    /// Fetches an attachment, unsigned, from the platform's file hosts alone, or from the base itself when that is
    /// this machine's own address.
    ///
    /// # Errors
    /// `No` for another address (400), for more than `bytes_max` bytes (413) and for what the host refuses; `Later`
    /// when it could not be had in time or for now; `Nonsense` for a redirect.
    pub async fn fetch(&self, url: &str, bytes_max: usize, within: Duration) -> Result<Vec<u8>, Refused> {
        let elsewhere = || Refused::no(400, 0, "this file is not at one of the platform's addresses");
        let url = Url::parse(url).map_err(|_| elsewhere())?;
        if !self.keeps(&url) {
            return Err(elsewhere());
        }
        let request = Request {
            method: Method::Get,
            url,
            form: None,
            signature: None,
            within,
        };
        let mut response = send(&self.0.client, request)
            .await
            .map_err(|refused| match refused {
                // Nothing is changed by reading, so it may simply be tried again.
                Refused::Unsure { why } => Refused::Later { wait: None, why },
                other => other,
            })?;
        let status = response.status();
        if status.is_redirection() {
            return Err(Refused::nonsense(status.as_u16(), "it leads elsewhere"));
        }
        if status.is_server_error() || status == StatusCode::TOO_MANY_REQUESTS {
            let why = format!("the file's host has trouble ({})", status.as_u16());
            return Err(Refused::later(None, why));
        }
        if !status.is_success() {
            return Err(Refused::no(status.as_u16(), 0, "the file's host refuses it"));
        }
        let too_long = || Refused::no(413, 0, format!("the file is larger than {bytes_max} bytes"));
        if response
            .content_length()
            .is_some_and(|length| length > bytes_max as u64)
        {
            return Err(too_long());
        }
        match read(&mut response, bytes_max).await {
            Text::Whole(bytes) => Ok(bytes),
            Text::TooLong => Err(too_long()),
            Text::Broken => Err(Refused::later(None, "the file broke off")),
        }
    }

    fn keeps(&self, url: &Url) -> bool {
        let is_bare = url.username().is_empty() && url.password().is_none();
        let is_host = url.scheme() == "https"
            && url.port().is_none()
            && url.host_str().is_some_and(|host| HOSTS.contains(&host));
        is_bare && (is_host || (self.0.base.is_loopback() && self.0.base.holds(url)))
    }
}
