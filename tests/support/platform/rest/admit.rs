//! Whether a request's time has come, and the headers that tell the client about its limits.

use std::time::Duration;

use axum::body::Body;
use axum::http::{HeaderMap, HeaderValue, Response};
use serde_json::json;

use super::Call;
use crate::platform::limits::{Standing, Throttle};
use crate::platform::record::{Judge, Verdict};
use crate::platform::reply::Reply;
use crate::platform::state::{Shared, State};
use crate::platform::trouble::Scope;

/// A 429.
pub(super) struct Throttled {
    reply: Reply,
    headers: HeaderMap,
}

impl Throttled {
    pub(super) fn response(self) -> Response<Body> {
        let mut response = self.reply.response();
        response.headers_mut().extend(self.headers);
        response
    }
}

/// Lets a request through, or not.
pub(super) fn admit(state: &mut State, call: &Call) -> Result<Standing, Box<Throttled>> {
    let key = call.target.bucket();
    let route = call.target.route;
    let under_way = state.limits.under_way;
    let blocked = state.pace.blocked(&key, route.is_the_bots(), under_way, call.at);
    let counted = state
        .pace
        .count(&state.limits, (route, call.target.major, &key), call.at);
    if let Some((throttle, early)) = blocked {
        if early {
            let said = format!("asked {:?} before the time a 429 named", throttle.wait);
            let verdict = Verdict::new(Judge::Pace, "", said);
            let body = call.carried.json.clone();
            state.fault(call.at, (&call.method, &call.path), body, vec![verdict]);
        }
        return Err(Box::new(too_many(state, call, throttle, counted.0)));
    }
    match counted {
        (standing, None) => Ok(standing),
        (standing, Some(throttle)) => {
            state.pace.block(&key, throttle, call.at);
            Err(Box::new(too_many(state, call, throttle, standing)))
        }
    }
}

/// Refuses a request on demand.
pub(super) fn refuse(
    state: &mut State,
    call: &Call,
    scope: Scope,
    wait: Duration,
    standing: Standing,
) -> Throttled {
    let throttle = Throttle { scope, wait };
    state.pace.block(&call.target.bucket(), throttle, call.at);
    too_many(state, call, throttle, standing)
}

fn too_many(state: &mut State, call: &Call, throttle: Throttle, standing: Standing) -> Throttled {
    state.record.throttled += 1;
    if throttle.scope != Scope::Shared {
        state.record.invalid += 1;
    }
    let wait = throttle.wait.as_micros().div_ceil(1000);
    #[allow(clippy::cast_precision_loss, reason = "milliseconds of minutes")]
    let seconds = wait as f64 / 1000.0;
    let global = throttle.scope == Scope::Global;
    let mut headers = HeaderMap::new();
    if global {
        headers.insert("x-ratelimit-global", HeaderValue::from_static("true"));
    } else {
        let standing = Standing {
            remaining: 0,
            reset_after: throttle.wait,
            ..standing
        };
        put_standing(&mut headers, &call.target.bucket(), standing, None);
    }
    headers.insert(
        "x-ratelimit-scope",
        HeaderValue::from_static(throttle.scope.header()),
    );
    put(&mut headers, "retry-after", &wait.div_ceil(1000).to_string());
    let body = json!({
        "message": if global {
            "You are being rate limited."
        } else {
            "The resource is being rate limited."
        },
        "retry_after": seconds,
        "global": global,
    });
    let reply = Reply {
        status: 429,
        body: Some(body),
    };
    Throttled { reply, headers }
}

/// The answer with what remains of its bucket.
pub(super) fn with_headers(
    mut response: Response<Body>,
    bucket: &str,
    standing: Standing,
    shared: &Shared,
) -> Response<Body> {
    let now = shared.config.base_ms + u64::try_from(shared.now().as_millis()).unwrap_or(0);
    put_standing(response.headers_mut(), bucket, standing, Some(now));
    response
}

fn put_standing(headers: &mut HeaderMap, bucket: &str, standing: Standing, now: Option<u64>) {
    let after = standing.reset_after.as_millis().max(1);
    let seconds = |ms: u128| format!("{}.{:03}", ms / 1000, ms % 1000);
    put(headers, "x-ratelimit-limit", &standing.limit.to_string());
    put(headers, "x-ratelimit-remaining", &standing.remaining.to_string());
    put(headers, "x-ratelimit-reset-after", &seconds(after));
    if let Some(now) = now {
        put(headers, "x-ratelimit-reset", &seconds(u128::from(now) + after));
    }
    let hash = bucket.bytes().fold(14_695_981_039_346_656_037_u64, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(1_099_511_628_211)
    });
    put(headers, "x-ratelimit-bucket", &format!("{hash:016x}"));
}

fn put(headers: &mut HeaderMap, name: &'static str, value: &str) {
    if let Ok(value) = HeaderValue::from_str(value) {
        headers.insert(name, value);
    }
}
