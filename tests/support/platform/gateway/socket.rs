//! One connection: hello, then what the client sends and what the double tells.

use std::collections::VecDeque;
use std::sync::Arc;
use std::time::Duration;

use axum::extract::State;
use axum::extract::ws::{CloseFrame, Message, WebSocket, WebSocketUpgrade};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use futures_util::{SinkExt, StreamExt};
use serde_json::{Value, json};
use tokio::sync::mpsc::{UnboundedSender, unbounded_channel};

use super::{Out, frames};
use crate::platform::record::{Judge, Verdict};
use crate::platform::state::Shared;

/// A connection as the frames see it.
pub(super) struct Link {
    pub(super) number: u64,
    pub(super) out: UnboundedSender<Out>,
    /// Its session, once there is one.
    pub(super) session: Option<String>,
}

/// Opens a connection.
pub(in crate::platform) async fn open(
    State(shared): State<Arc<Shared>>,
    upgrade: WebSocketUpgrade,
) -> Response {
    if shared.look(|state| state.gateway.shut) {
        return StatusCode::SERVICE_UNAVAILABLE.into_response();
    }
    upgrade.on_upgrade(move |socket| serve(shared, socket))
}

async fn serve(shared: Arc<Shared>, socket: WebSocket) {
    let (mut sink, mut stream) = socket.split();
    let (out, mut outgoing) = unbounded_channel();
    let (number, heartbeat) = shared.with(|state| {
        state.gateway.connections += 1;
        (state.gateway.connections, state.gateway.config.heartbeat)
    });
    let hello = json!({"heartbeat_interval": u64::try_from(heartbeat.as_millis()).unwrap_or(u64::MAX)});
    let hello = json!({"op": 10, "s": null, "t": null, "d": hello}).to_string();
    drop(out.send(Out::Text(hello)));
    let mut link = Link {
        number,
        out,
        session: None,
    };
    let mut sent = VecDeque::new();
    let mut bye = None;
    let mut hushed = false;
    loop {
        tokio::select! {
            out = outgoing.recv() => match out {
                Some(Out::Text(_)) if hushed => {}
                Some(Out::Text(text)) => {
                    if sink.send(Message::Text(text.into())).await.is_err() {
                        break;
                    }
                }
                Some(Out::Close(code)) => {
                    bye = Some(code);
                    break;
                }
                Some(Out::Hush) => hushed = true,
                Some(Out::Cut) | None => break,
            },
            frame = stream.next(), if !hushed => {
                let Some(Ok(frame)) = frame else { break };
                if let Message::Close(close) = &frame {
                    let code = close.as_ref().map_or(1005, |close| close.code);
                    if matches!(code, 1000 | 1001) {
                        forget(&shared, &link);
                    }
                    break;
                }
                let verdict = hear(&shared, &mut link, &mut sent, &frame);
                if let Err(code) = verdict {
                    bye = Some(code);
                    break;
                }
            }
        }
    }
    if let Some(code) = bye {
        let close = CloseFrame {
            code,
            reason: String::new().into(),
        };
        drop(sink.send(Message::Close(Some(close))).await);
        if matches!(code, 4004 | 4010..=4014) {
            forget(&shared, &link);
        }
    }
    part(&shared, &link);
}

/// What the client sent; the code to close with, if it must not be.
fn hear(shared: &Shared, link: &mut Link, sent: &mut VecDeque<Duration>, frame: &Message) -> Result<(), u16> {
    let text = match frame {
        Message::Text(text) => text.as_str(),
        Message::Ping(_) | Message::Pong(_) => return Ok(()),
        _ => {
            blame(shared, None, "a frame that is no text");
            return Err(4002);
        }
    };
    let now = shared.now();
    sent.push_back(now);
    while sent
        .front()
        .is_some_and(|first| *first + Duration::from_secs(60) <= now)
    {
        sent.pop_front();
    }
    if sent.len() > shared.look(|state| state.gateway.config.sends) {
        blame(shared, None, "too many frames in a minute");
        return Err(4008);
    }
    let Ok(frame) = serde_json::from_str::<Value>(text) else {
        blame(shared, None, "a frame that is no JSON");
        return Err(4002);
    };
    frames::hear(shared, link, &frame)
}

/// Notes a fault at the gateway.
pub(super) fn blame(shared: &Shared, frame: Option<&Value>, said: &str) {
    let verdict = Verdict::new(Judge::Gateway, "", said);
    let at = shared.now();
    shared.with(|state| state.fault(at, ("WS", "/"), frame.cloned(), vec![verdict]));
}

/// Its session is over.
fn forget(shared: &Shared, link: &Link) {
    if let Some(session) = &link.session {
        shared.with(|state| state.gateway.sessions.remove(session));
    }
}

/// Its session may be resumed by another connection.
fn part(shared: &Shared, link: &Link) {
    shared.with(|state| {
        let session = link
            .session
            .as_ref()
            .and_then(|id| state.gateway.sessions.get_mut(id));
        if let Some(session) = session
            && session
                .link
                .as_ref()
                .is_some_and(|(number, _)| *number == link.number)
        {
            session.link = None;
        }
    });
}
