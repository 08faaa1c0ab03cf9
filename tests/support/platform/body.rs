//! A request's body: JSON, or a form with JSON and files.

use axum::body::{Body, to_bytes};
use axum::extract::{FromRequest, Multipart};
use axum::http::{Request, header};
use serde_json::Value;

use super::world::Stored;

/// The most a request may carry, in bytes.
const MOST: usize = 25 * 1024 * 1024;

/// What a request carries.
#[derive(Debug, Default)]
pub(super) struct Carried {
    pub(super) json: Option<Value>,
    /// Files with the number their part's name gives.
    pub(super) files: Vec<(u64, Stored)>,
    /// Why it cannot be read.
    pub(super) broken: Option<String>,
}

/// Reads it.
pub(super) async fn read(request: Request<Body>) -> Carried {
    let kind = request
        .headers()
        .get(header::CONTENT_TYPE)
        .and_then(|kind| kind.to_str().ok())
        .unwrap_or_default()
        .to_owned();
    if kind.starts_with("multipart/form-data") {
        return form(request).await.unwrap_or_else(broken);
    }
    let bytes = match to_bytes(request.into_body(), MOST).await {
        Ok(bytes) if bytes.is_empty() => return Carried::default(),
        Ok(bytes) => bytes,
        Err(error) => return broken(error.to_string()),
    };
    if !kind.starts_with("application/json") {
        return broken(format!("content type `{kind}`"));
    }
    match serde_json::from_slice(&bytes) {
        Ok(json) => Carried {
            json: Some(json),
            ..Carried::default()
        },
        Err(error) => broken(error.to_string()),
    }
}

fn broken(why: String) -> Carried {
    Carried {
        broken: Some(why),
        ..Carried::default()
    }
}

async fn form(request: Request<Body>) -> Result<Carried, String> {
    let mut carried = Carried::default();
    let mut form = Multipart::from_request(request, &())
        .await
        .map_err(|error| error.to_string())?;
    while let Some(field) = form.next_field().await.map_err(|error| error.to_string())? {
        let name = field.name().unwrap_or_default().to_owned();
        let file = field.file_name().map(str::to_owned);
        let kind = field
            .content_type()
            .unwrap_or("application/octet-stream")
            .to_owned();
        let bytes = field.bytes().await.map_err(|error| error.to_string())?;
        if name == "payload_json" {
            carried.json = Some(serde_json::from_slice(&bytes).map_err(|error| error.to_string())?);
            continue;
        }
        let number = name
            .strip_prefix("files[")
            .and_then(|rest| rest.strip_suffix(']'))
            .and_then(|number| number.parse().ok())
            .ok_or_else(|| format!("a part named `{name}`"))?;
        let name = file.ok_or("a file without a name")?;
        let bytes = bytes.to_vec();
        carried.files.push((number, Stored { name, kind, bytes }));
    }
    Ok(carried)
}
