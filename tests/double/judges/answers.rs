//! The documented rules of first answers.

use serde_json::{Value, json};
use wrackline_tests::platform::{Judge, Route};

use super::{answer, but, modal, refused};

#[test]
fn the_documented_rules_hold() {
    let long = |count: usize| json!("x".repeat(count));
    let callback = Route::Callback;
    refused(callback, &json!({"type": 1}), Judge::Rules, "type");
    refused(callback, &json!({"type": 3}), Judge::Rules, "type");
    refused(
        callback,
        &json!({"type": 6, "data": {"flags": 64}}),
        Judge::Rules,
        "data",
    );
    refused(
        callback,
        &json!({"type": 5, "data": {"content": "x"}}),
        Judge::Rules,
        "data.content",
    );
    refused(
        callback,
        &json!({"type": 5, "data": {"flags": 1}}),
        Judge::Rules,
        "data.flags",
    );
    refused(callback, &json!({"type": 4, "data": {}}), Judge::Rules, "data");
    refused(
        callback,
        &json!({"type": 4, "data": {"content": "x"}}),
        Judge::Rules,
        "data.allowed_mentions",
    );
    refused(
        callback,
        &but(answer(), "/data/nonce", json!("x")),
        Judge::Rules,
        "data.nonce",
    );
    refused(
        callback,
        &but(answer(), "/soon", json!(true)),
        Judge::Rules,
        "soon",
    );
    refused(
        callback,
        &but(modal(), "/data/title", long(46)),
        Judge::Rules,
        "data.title",
    );
    refused(
        callback,
        &but(modal(), "/data/components", json!([])),
        Judge::Rules,
        "data.components",
    );
    let row = modal()["data"]["components"][0].clone();
    let six: Vec<Value> = (0..6).map(|_| row.clone()).collect();
    refused(
        callback,
        &but(modal(), "/data/components", six.into()),
        Judge::Rules,
        "data.components",
    );
    let input = "/data/components/0/components/0";
    refused(
        callback,
        &but(modal(), &format!("{input}/value"), long(4001)),
        Judge::Rules,
        "data.components.0",
    );
    refused(
        callback,
        &but(modal(), &format!("{input}/max_length"), json!(4001)),
        Judge::Rules,
        "data.components.0",
    );
    let many: Vec<Value> = (0..26)
        .map(|at| json!({"name": format!("n{at}"), "value": "v"}))
        .collect();
    refused(
        callback,
        &json!({"type": 8, "data": {"choices": many}}),
        Judge::Rules,
        "data.choices",
    );
}
