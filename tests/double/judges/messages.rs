//! The documented rules of messages.

use serde_json::{Value, json};
use wrackline_tests::platform::{Judge, Route};

use super::{but, button, message, refused};

fn long(count: usize) -> Value {
    json!("x".repeat(count))
}

/// A message with one place changed is refused by the rules, at that place's spot.
#[track_caller]
fn refuses(place: &str, value: Value, at: &str) {
    let body = but(message(), place, value);
    refused(Route::CreateMessage, &body, Judge::Rules, at);
}

#[test]
fn of_what_is_written() {
    refuses("/content", long(2001), "content");
    refuses("/content", json!("  \n"), "content");
    refuses("/nonce", Value::Null, "nonce");
    refuses("/nonce", long(26), "nonce");
    refuses("/enforce_nonce", json!(false), "enforce_nonce");
    refuses("/attachments", json!([{"id": 7}]), "attachments.0.id");
    refused(Route::CreateMessage, &json!({}), Judge::Rules, "");
    refused(Route::EditMessage, &json!({}), Judge::Rules, "");
}

#[test]
fn of_embeds() {
    refuses("/embeds/0/title", long(257), "embeds.0.title");
    refuses("/embeds/0/fields/0/name", json!(""), "embeds.0.fields.0.name");
    refuses("/embeds/0/fields/0/value", json!(" "), "embeds.0.fields.0.value");
    let embeds: Value = (0..2).map(|_| json!({"description": "x".repeat(3001)})).collect();
    refuses("/embeds", embeds, "embeds");
}

#[test]
fn of_buttons() {
    let place = "/components/0/components/0";
    let at = "components.0.components.0";
    let id = format!("{place}/custom_id");
    refuses(&id, Value::Null, &format!("{at}.custom_id"));
    refuses(&id, long(101), &format!("{at}.custom_id"));
    refuses(&id, json!("why:1"), "components.0.components.1.custom_id");
    refuses(&format!("{place}/label"), long(81), &format!("{at}.label"));
    refuses(&format!("{place}/label"), Value::Null, at);
    refuses(&format!("{place}/url"), json!("https://example.com"), at);
    refuses("/components/0/components", json!([]), "components.0");
    let rows: Value = (0..6)
        .map(|at| json!({"type": 1, "components": [button(&at.to_string())]}))
        .collect();
    refuses("/components", rows, "components");
}

#[test]
fn of_selects_and_inputs() {
    let place = "/components/1/components/0";
    let at = "components.1.components.0";
    refuses(
        &format!("{place}/placeholder"),
        long(151),
        &format!("{at}.placeholder"),
    );
    refuses(&format!("{place}/options"), json!([]), &format!("{at}.options"));
    refuses(
        &format!("{place}/max_values"),
        json!(26),
        &format!("{at}.max_values"),
    );
    let input = json!({"type": 4, "custom_id": "a", "style": 1, "label": "A"});
    let row = json!([{"type": 1, "components": [input]}]);
    refuses("/components", row, "components.0");
}

#[test]
fn of_keys() {
    for place in [
        "/colour",
        "/embeds/0/colour",
        "/embeds/0/fields/0/short",
        "/components/0/components/0/size",
        "/components/0/components/1/emoji/size",
        "/components/1/components/0/options/0/text",
        "/allowed_mentions/everyone",
    ] {
        let at = place.trim_start_matches('/').replace('/', ".");
        refuses(place, json!("x"), &at);
    }
}

#[test]
fn of_whom_it_calls() {
    refuses("/allowed_mentions", Value::Null, "allowed_mentions");
    refuses("/allowed_mentions/parse", Value::Null, "allowed_mentions");
    let both = json!({"parse": ["users"], "users": ["1"]});
    refuses("/allowed_mentions", both, "allowed_mentions.users");
    for (route, body) in [
        (Route::EditMessage, json!({"content": "x"})),
        (Route::EditResponse, json!({"embeds": []})),
        (Route::FollowUp, json!({"content": "x"})),
    ] {
        refused(route, &body, Judge::Rules, "allowed_mentions");
    }
}
