//! The bot's token, which no log, error or panic may show.

use std::fmt;

use reqwest::header::HeaderValue;

use crate::config::Broken;

/// The longest token that is taken, in bytes; the platform's are about 70.
const BYTES_MAX: usize = 512;

/// The bot's token. `Debug` and `Display` show "…".
#[derive(Clone)]
pub struct Token(String);

impl Token {
    /// A token from a setting's text; what surrounds it is trimmed.
    ///
    /// # Errors
    /// A sentence when nothing is left, or when there is something in it that no token has.
    pub fn new(text: &str) -> Result<Self, Broken> {
        let text = text.trim();
        if text.is_empty() {
            return Err(Broken(
                "The token is empty; copy it from the bot's page.".to_owned(),
            ));
        }
        if text.len() > BYTES_MAX || !text.bytes().all(|byte| byte.is_ascii_graphic()) {
            return Err(Broken(
                "The token must be one word of plain letters, as the bot's page shows it.".to_owned(),
            ));
        }
        Ok(Self(text.to_owned()))
    }

    /// The token itself, for the library that connects with it.
    pub(in crate::chat::discord) fn secret(&self) -> &str {
        &self.0
    }

    /// The header that signs a request, marked so that libraries do not show it.
    pub(super) fn header(&self) -> Result<HeaderValue, Broken> {
        let mut value = HeaderValue::try_from(format!("Bot {}", self.0))
            .map_err(|_| Broken("The token cannot be put into a request.".to_owned()))?;
        value.set_sensitive(true);
        Ok(value)
    }

    /// The text without the token in it, should somebody have echoed it.
    pub(super) fn scrub(&self, text: &str) -> String {
        text.replace(&self.0, "…")
    }
}

impl fmt::Debug for Token {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("…")
    }
}

impl fmt::Display for Token {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("…")
    }
}
