//! How other commands reach a running serve: one request and one answer, each a line of JSON, over a socket beside
//! the database.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde::{Deserialize, Serialize};
use tokio::io::{AsyncBufReadExt, AsyncReadExt, AsyncWriteExt, BufReader};
use tokio::net::{UnixListener, UnixStream};

use super::{Failure, beside, say};
use crate::app::App;
use crate::chat::blocks::Answer;
use crate::chat::porch::Spoken;
use crate::store::PlaceId;

/// The longest request or answer, in bytes.
const LINE_BYTES_MAX: u64 = 4 * 1024 * 1024;

/// The longest path that a socket's address holds, in bytes, with some to spare.
const PATH_BYTES_MAX: usize = 100;

#[derive(Serialize, Deserialize)]
struct Request {
    place: PlaceId,
    who: String,
    line: String,
}

#[derive(Serialize, Deserialize)]
enum Reply {
    Answer(Answer),
    Refused(String),
    Broken(String),
}

/// Where the socket of a database lies: beside it, or in the temporary folder where the path would be too long.
fn path(database: &Path) -> PathBuf {
    let near = beside(database, ".socket");
    if near.as_os_str().len() <= PATH_BYTES_MAX {
        return near;
    }
    use sha2::{Digest, Sha256};
    let full = std::path::absolute(database).unwrap_or_else(|_| database.to_owned());
    let hash = Sha256::digest(full.as_os_str().as_encoded_bytes());
    let name: String = hash.iter().take(8).map(|byte| format!("{byte:02x}")).collect();
    std::env::temp_dir().join(format!("wrackline-{name}.socket"))
}

/// Says a line through the serve that holds a database.
pub(super) async fn ask(database: &Path, place: PlaceId, who: &str, line: &str) -> Result<Answer, Failure> {
    let busy = |error: std::io::Error| {
        Failure::Broken(format!(
            "A serve holds this database but does not answer: {error}."
        ))
    };
    let stream = UnixStream::connect(path(database)).await.map_err(busy)?;
    let (read, mut write) = stream.into_split();
    let request = Request {
        place,
        who: who.to_owned(),
        line: line.to_owned(),
    };
    let text = serde_json::to_string(&request).expect("a request becomes JSON");
    write
        .write_all(format!("{text}\n").as_bytes())
        .await
        .map_err(busy)?;
    let mut answer = String::new();
    BufReader::new(read.take(LINE_BYTES_MAX))
        .read_line(&mut answer)
        .await
        .map_err(busy)?;
    match serde_json::from_str(&answer) {
        Ok(Reply::Answer(answer)) => Ok(answer),
        Ok(Reply::Refused(text)) => Err(Failure::Refused(text)),
        Ok(Reply::Broken(text)) => Err(Failure::Broken(text)),
        Err(_) => Err(Failure::Broken(
            "The serve that holds this database stopped before it answered.".to_owned(),
        )),
    }
}

/// Opens the socket of a database whose lock this process holds. Only the same user may connect.
pub(super) fn listen(database: &Path) -> std::io::Result<UnixListener> {
    use std::os::unix::fs::PermissionsExt;
    let path = path(database);
    // A socket of an earlier process that died: the lock says that nobody listens on it.
    match std::fs::remove_file(&path) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => return Err(error),
        _ => {}
    }
    let listener = UnixListener::bind(&path)?;
    std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o600))?;
    Ok(listener)
}

/// Answers requests for as long as the process.
pub(super) async fn serve(listener: UnixListener, app: Arc<App>) {
    loop {
        match listener.accept().await {
            Ok((stream, _)) => {
                let app = app.clone();
                tokio::spawn(async move {
                    if let Err(error) = answer(stream, &app).await {
                        tracing::warn!(%error, "a line from the shell was not answered");
                    }
                });
            }
            Err(error) => {
                tracing::error!(%error, "the socket for lines from the shell failed");
                crate::clock::wait(std::time::Duration::from_secs(1)).await;
            }
        }
    }
}

async fn answer(stream: UnixStream, app: &App) -> std::io::Result<()> {
    let (read, mut write) = stream.into_split();
    let mut text = String::new();
    BufReader::new(read.take(LINE_BYTES_MAX))
        .read_line(&mut text)
        .await?;
    let reply = match serde_json::from_str::<Request>(&text) {
        Ok(request) => hear(app, &request).await,
        Err(_) => Reply::Broken("That was no request of this version.".to_owned()),
    };
    let text = serde_json::to_string(&reply).expect("a reply becomes JSON");
    write.write_all(format!("{text}\n").as_bytes()).await
}

async fn hear(app: &App, request: &Request) -> Reply {
    match say::hear(app, request.place, &request.who, &request.line).await {
        Ok(answer) => {
            show_on_porch(app, request, &answer).await;
            Reply::Answer(answer)
        }
        Err(Failure::Refused(text)) => Reply::Refused(text),
        Err(Failure::Broken(text)) => Reply::Broken(text),
    }
}

/// What was said from the shell is part of the group's talk too.
async fn show_on_porch(app: &App, request: &Request, answer: &Answer) {
    let Ok(carer) = say::carer_named(app, request.place, &request.who).await else {
        return;
    };
    let who = match app.house.me(request.place, carer.0).await {
        Some(me) => me.name,
        None => request.who.clone(),
    };
    let id = format!("shell:{}", super::random_letters());
    let spoken = Spoken {
        place: request.place,
        carer: carer.0,
        who: &who,
        id: &id,
        line: Some(&request.line),
        answer,
        at_ms: app.house.clock.now().as_millisecond(),
    };
    if let Err(error) = app.porch.record(spoken).await {
        tracing::warn!(%error, "a line from the shell is not shown on the porch");
    }
}
