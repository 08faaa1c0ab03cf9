//! Attachments, fetched without the token from where the platform keeps them.

use std::time::Duration;

use super::Sender;
use super::refusal::Refused;

impl Sender {
    /// Fetches an attachment, unsigned, from the platform's file hosts alone (or from a loopback base itself).
    ///
    /// # Errors
    /// `No` for another host (400), for more than `bytes_max` bytes (413) and for what the host refuses; `Later`
    /// when it could not be had now; `Nonsense` for a redirect.
    pub async fn fetch(&self, url: &str, bytes_max: usize, within: Duration) -> Result<Vec<u8>, Refused> {
        let _ = (url, bytes_max, within);
        Err(Refused::later(None, "files cannot be fetched yet"))
    }
}
