//! The REST API: every request is noted, admitted or not, judged, done, answered.

mod admit;
mod channels;
mod interactions;
mod perform;
mod responses;

pub(super) use perform::dm;

use std::sync::Arc;
use std::time::Duration;

use axum::body::Body;
use axum::extract::State;
use axum::http::{Request as Asked, Response, header};
use serde_json::Value;

use super::body::{self, Carried};
use super::judge;
use super::record::{Judge, Request, Verdict};
use super::reply::Reply;
use super::route::Target;
use super::state::Shared;
use super::trouble::Trouble;

/// A connection that is to be closed instead of being answered.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cut;

/// A request that is being dealt with.
pub(super) struct Call {
    pub(super) target: Target,
    pub(super) method: String,
    pub(super) path: String,
    pub(super) query: String,
    pub(super) authorised: bool,
    pub(super) at: Duration,
    pub(super) carried: Carried,
    /// Its place in the record.
    number: usize,
}

const PREFIX: &str = "/api/v10";

/// Deals with one request.
pub(super) async fn handle(State(shared): State<Arc<Shared>>, asked: Asked<Body>) -> Response<Body> {
    let at = shared.now();
    let path = asked.uri().path();
    let path = path.strip_prefix(PREFIX).unwrap_or(path).to_owned();
    let outside = !asked.uri().path().starts_with(PREFIX);
    let token = format!("Bot {}", shared.config.token);
    let mut call = Call {
        target: Target::read(asked.method(), if outside { "" } else { &path }),
        method: asked.method().to_string(),
        query: asked.uri().query().unwrap_or_default().to_owned(),
        authorised: asked
            .headers()
            .get(header::AUTHORIZATION)
            .is_some_and(|given| given.as_bytes() == token.as_bytes()),
        path,
        at,
        carried: Carried::default(),
        number: 0,
    };
    call.carried = body::read(asked).await;
    call.number = shared.with(|state| {
        state.record.requests.push(Request {
            at,
            route: call.target.route,
            method: call.method.clone(),
            path: call.path.clone(),
            query: call.query.clone(),
            body: call.carried.json.clone(),
            status: None,
        });
        state.record.requests.len() - 1
    });
    let response = answer(&shared, &mut call).await;
    if response.extensions().get::<Cut>().is_none() {
        let status = response.status().as_u16();
        shared.with(|state| state.record.requests[call.number].status = Some(status));
    }
    response
}

async fn answer(shared: &Shared, call: &mut Call) -> Response<Body> {
    let standing = match shared.with(|state| admit::admit(state, call)) {
        Ok(standing) => standing,
        Err(throttled) => return throttled.response(),
    };
    let trouble = shared.with(|state| state.troubles.take(call.target.route));
    let mut instead = None;
    match trouble {
        None => {}
        Some(Trouble::TooMany(scope, wait)) => {
            let throttled = shared.with(|state| admit::refuse(state, call, scope, wait, standing));
            return throttled.response();
        }
        Some(Trouble::Status(status)) => {
            let said = format!("{status}: trouble on demand");
            return Reply::error(status, 0, &said).response();
        }
        Some(Trouble::Refused(status, code)) => {
            if [401, 403].contains(&status) {
                shared.with(|state| state.record.invalid += 1);
            }
            return Reply::error(status, code, "trouble on demand").response();
        }
        Some(Trouble::Reset) => return cut(),
        Some(Trouble::Html) => return nonsense("text/html", "<!doctype html><title>Just a moment</title>"),
        Some(Trouble::BrokenJson) => return nonsense("application/json", "{\"id\": \"1"),
        Some(Trouble::DoneThen(status)) => instead = Some(Some(status)),
        Some(Trouble::Dropped) => instead = Some(None),
        Some(Trouble::Slow(wait)) => {
            let done = done(shared, call);
            wrackline::clock::wait(wait).await;
            return admit::with_headers(done.response(), &call.target.bucket(), standing, shared);
        }
    }
    let done = done(shared, call);
    match instead {
        Some(Some(status)) => Reply::error(status, 0, "trouble on demand").response(),
        Some(None) => cut(),
        None => admit::with_headers(done.response(), &call.target.bucket(), standing, shared),
    }
}

/// Judges and does what is asked.
fn done(shared: &Shared, call: &mut Call) -> Reply {
    let needs_token = call.target.route.is_the_bots();
    if needs_token && !call.authorised {
        shared.with(|state| state.record.invalid += 1);
        return Reply::unauthorised();
    }
    let mut verdicts = Vec::new();
    if let Some(why) = &call.carried.broken {
        verdicts.push(Verdict::new(Judge::Model, "", why.as_str()));
    } else {
        let body = call.carried.json.as_ref().unwrap_or(&Value::Null);
        let files: Vec<(u64, usize)> = (call.carried.files.iter())
            .map(|(number, file)| (*number, file.bytes.len()))
            .collect();
        verdicts.extend(judge(call.target.route, body, &files));
    }
    let files = std::mem::take(&mut call.carried.files);
    shared.with(|state| {
        if verdicts.is_empty() {
            verdicts = perform::against(state, call);
        }
        if !verdicts.is_empty() {
            let reply = Reply::invalid(&verdicts);
            let body = call.carried.json.clone();
            state.fault(call.at, (&call.method, &call.path), body, verdicts);
            return reply;
        }
        let reply = perform::perform(shared, state, call, files);
        if [401, 403].contains(&reply.status) {
            state.record.invalid += 1;
        }
        reply
    })
}

fn cut() -> Response<Body> {
    let mut response = Response::new(Body::empty());
    response.extensions_mut().insert(Cut);
    response
}

fn nonsense(kind: &'static str, text: &'static str) -> Response<Body> {
    let mut response = Response::new(Body::from(text));
    let kind = axum::http::HeaderValue::from_static(kind);
    response.headers_mut().insert(header::CONTENT_TYPE, kind);
    response
}
