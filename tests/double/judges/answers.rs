//! The documented rules of first answers.

use serde_json::{Value, json};
use wrackline_tests::platform::{Judge, Route};

use super::{answer, but, modal, refused};

#[track_caller]
fn refuses(body: &Value, at: &str) {
    refused(Route::Callback, body, Judge::Rules, at);
}

fn long(count: usize) -> Value {
    json!("x".repeat(count))
}

#[test]
fn of_their_kind() {
    refuses(&json!({"type": 1}), "type");
    refuses(&json!({"type": 3}), "type");
    refuses(&json!({"type": 6, "data": {"flags": 64}}), "data");
    refuses(&json!({"type": 5, "data": {"content": "x"}}), "data.content");
    refuses(&json!({"type": 5, "data": {"flags": 1}}), "data.flags");
}

#[test]
fn of_messages() {
    refuses(&json!({"type": 4, "data": {}}), "data");
    let silent = json!({"type": 4, "data": {"content": "x"}});
    refuses(&silent, "data.allowed_mentions");
    refuses(&but(answer(), "/data/nonce", json!("x")), "data.nonce");
    refuses(&but(answer(), "/soon", json!(true)), "soon");
}

#[test]
fn of_modals() {
    refuses(&but(modal(), "/data/title", long(46)), "data.title");
    let parts = "/data/components";
    refuses(&but(modal(), parts, json!([])), "data.components");
    let row = modal()["data"]["components"][0].clone();
    let six: Vec<Value> = (0..6).map(|_| row.clone()).collect();
    refuses(&but(modal(), parts, six.into()), "data.components");
    let input = "data.components.0.components.0";
    let place = format!("/{}", input.replace('.', "/"));
    for (key, value) in [("value", long(4001)), ("max_length", json!(4001))] {
        let body = but(modal(), &format!("{place}/{key}"), value);
        refuses(&body, &format!("{input}.{key}"));
    }
}

#[test]
fn of_choices() {
    let many: Vec<Value> = (0..26)
        .map(|at| json!({"name": format!("n{at}"), "value": "v"}))
        .collect();
    refuses(&json!({"type": 8, "data": {"choices": many}}), "data.choices");
}
