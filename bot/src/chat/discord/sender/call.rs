//! What is asked of the platform.

use std::fmt;
use std::time::Duration;

use serde_json::Value;

/// How a call is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Method {
    /// Reads.
    Get,
    /// Makes something new.
    Post,
    /// Replaces.
    Put,
    /// Changes.
    Patch,
    /// Takes away.
    Delete,
}

/// A picture that goes along with a message.
#[derive(Clone)]
pub struct Upload {
    /// Its file name there.
    pub name: &'static str,
    /// Its media type.
    pub media_type: String,
    /// Its bytes.
    pub bytes: Vec<u8>,
}

/// A call of the platform's interface.
#[derive(Clone)]
pub struct Call {
    /// How.
    pub method: Method,
    /// What: a path like `/channels/1/messages` without `/api/v10`; it may carry a `?query`.
    pub path: String,
    /// What is sent along, as JSON.
    pub body: Option<Value>,
    /// A picture that goes along with the body.
    pub upload: Option<Upload>,
    /// Whether the bot's token goes with it. Answers to interactions and their follow-ups need none.
    pub sign: bool,
    /// The caller's own time limit for everything, waits included.
    pub within: Option<Duration>,
}

impl Call {
    fn new(method: Method, path: impl Into<String>, body: Option<Value>) -> Self {
        Self {
            method,
            path: path.into(),
            body: body.filter(|body| !body.is_null()),
            upload: None,
            sign: true,
            within: None,
        }
    }

    /// A signed call that reads.
    #[must_use]
    pub fn get(path: impl Into<String>) -> Self {
        Self::new(Method::Get, path, None)
    }

    /// A signed call that makes something new; a body of `Null` is none.
    #[must_use]
    pub fn post(path: impl Into<String>, body: Value) -> Self {
        Self::new(Method::Post, path, Some(body))
    }

    /// A signed call that replaces; a body of `Null` is none.
    #[must_use]
    pub fn put(path: impl Into<String>, body: Value) -> Self {
        Self::new(Method::Put, path, Some(body))
    }

    /// A signed call that changes; a body of `Null` is none.
    #[must_use]
    pub fn patch(path: impl Into<String>, body: Value) -> Self {
        Self::new(Method::Patch, path, Some(body))
    }

    /// A signed call that takes away.
    #[must_use]
    pub fn delete(path: impl Into<String>) -> Self {
        Self::new(Method::Delete, path, None)
    }

    /// The same with a picture.
    #[must_use]
    pub fn with(mut self, upload: Option<Upload>) -> Self {
        self.upload = upload;
        self
    }

    /// What is sent: its content type and its bytes.
    pub(super) fn form(&self) -> Option<(String, Vec<u8>)> {
        let json = self.body.as_ref()?.to_string();
        Some(match &self.upload {
            None => ("application/json".to_owned(), json.into_bytes()),
            Some(upload) => multipart(&json, upload),
        })
    }

    /// The same without the bot's token.
    #[must_use]
    pub fn unsigned(mut self) -> Self {
        self.sign = false;
        self
    }

    /// The same with a time limit for everything, waits included.
    #[must_use]
    pub fn within(mut self, limit: Duration) -> Self {
        self.within = Some(limit);
        self
    }
}

/// A body of several parts (RFC 7578): the message, and its picture.
fn multipart(json: &str, upload: &Upload) -> (String, Vec<u8>) {
    use sha2::{Digest, Sha256};
    // What a digest of the bytes themselves says does not stand in them.
    let digest = Sha256::digest(&upload.bytes);
    let boundary: String = digest.iter().map(|byte| format!("{byte:02x}")).collect();
    let mut body = format!(
        "--{boundary}\r\nContent-Disposition: form-data; name=\"payload_json\"\r\n\
         Content-Type: application/json\r\n\r\n{json}\r\n\
         --{boundary}\r\nContent-Disposition: form-data; name=\"files[0]\"; filename=\"{}\"\r\n\
         Content-Type: {}\r\n\r\n",
        upload.name, upload.media_type
    )
    .into_bytes();
    body.extend_from_slice(&upload.bytes);
    body.extend_from_slice(format!("\r\n--{boundary}--\r\n").as_bytes());
    (format!("multipart/form-data; boundary={boundary}"), body)
}

/// The path's secrets and the body, which is what people wrote, are left out.
impl fmt::Debug for Call {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Call")
            .field("method", &self.method)
            .field("path", &super::route::Route::of(self.method, &self.path).shown())
            .field("body", &self.body.as_ref().map(|_| "…"))
            .field("sign", &self.sign)
            .field("within", &self.within)
            .finish()
    }
}
