//! Every judge refuses a bad body of its kind, and all of them let the good ones pass.

use serde_json::{Value, json};
use wrackline_tests::platform::{Judge, Route, judge};

use super::{commands, said};

mod answers;
mod lines;
mod messages;

/// A body with one place changed; a null takes the key away.
fn but(mut body: Value, place: &str, value: Value) -> Value {
    let (holder, key) = place.rsplit_once('/').expect("a place");
    let holder = body.pointer_mut(holder).expect("a holder");
    match (holder, value) {
        (Value::Object(object), Value::Null) => {
            object.remove(key).expect("a key that is there");
        }
        (holder, value) => holder[key] = value,
    }
    body
}

fn button(id: &str) -> Value {
    json!({"type": 2, "style": 1, "label": "Did it", "custom_id": id})
}

fn message() -> Value {
    let mut message = said("The brackish pool is due.", "call-1");
    message["embeds"] = json!([{
        "title": "Round call",
        "description": "Two pools",
        "timestamp": "2026-11-25T12:00:00.000000+00:00",
        "fields": [{"name": "Tide", "value": "Top-up", "inline": true}],
    }]);
    message["components"] = json!([
        {"type": 1, "components": [button("did:1"), {
            "type": 2, "style": 2, "custom_id": "why:1", "emoji": {"name": "🐚", "animated": false},
        }]},
        {"type": 1, "components": [{
            "type": 3, "custom_id": "which", "placeholder": "Which?", "min_values": 1, "max_values": 1,
            "options": [{"label": "Tide", "value": "tide"}],
        }]},
    ]);
    message
}

fn modal() -> Value {
    json!({"type": 9, "data": {"custom_id": "reading:1", "title": "A reading", "components": [
        {"type": 1, "components": [{
            "type": 4, "custom_id": "salt", "style": 1, "label": "Salt", "min_length": 1, "max_length": 20,
        }]},
    ]}})
}

fn answer() -> Value {
    let mut data = message();
    for key in ["nonce", "enforce_nonce"] {
        data = but(data, &format!("/{key}"), Value::Null);
    }
    data["flags"] = json!(64);
    json!({"type": 4, "data": data})
}

#[track_caller]
fn refused(route: Route, body: &Value, by: Judge, place: &str) {
    let verdicts = judge(route, body, &[]);
    assert!(
        verdicts
            .iter()
            .any(|one| one.judge == by && one.place.starts_with(place)),
        "{by:?} at {place} did not refuse {body}: {verdicts:?}"
    );
}

#[test]
fn good_bodies_pass() {
    let edit = json!({"content": "Done.", "allowed_mentions": {"parse": []}, "components": []});
    let file = json!({
        "content": "A photo", "allowed_mentions": {"parse": []},
        "attachments": [{"id": 0, "filename": "pool.png", "description": "The pool"}],
    });
    let completed = json!({"type": 8, "data": {"choices": [{"name": "Tide", "value": "tide"}]}});
    let emptied = json!({"type": 7, "data": {"components": []}});
    for (route, body) in [
        (Route::CreateMessage, message()),
        (Route::EditMessage, edit.clone()),
        (Route::EditMessage, json!({"components": []})),
        (Route::EditResponse, edit.clone()),
        (Route::FollowUp, edit),
        (Route::Callback, answer()),
        (Route::Callback, json!({"type": 5})),
        (Route::Callback, json!({"type": 5, "data": {"flags": 64}})),
        (Route::Callback, json!({"type": 6})),
        (Route::Callback, emptied),
        (Route::Callback, completed),
        (Route::Callback, modal()),
        (Route::SetCommands, commands()),
        (Route::OpenDm, json!({"recipient_id": "1"})),
        (Route::GetChannel, Value::Null),
    ] {
        assert_eq!(judge(route, &body, &[]), [], "{route:?} {body}");
    }
    assert_eq!(judge(Route::FollowUp, &file, &[(0, 3)]), [], "{file}");
}

#[test]
fn what_does_not_decode_is_refused() {
    let create = Route::CreateMessage;
    refused(
        create,
        &but(message(), "/content", json!(1)),
        Judge::Model,
        "content",
    );
    refused(
        create,
        &but(message(), "/embeds", json!({})),
        Judge::Model,
        "embeds",
    );
    refused(
        create,
        &but(message(), "/allowed_mentions/parse", json!(["all"])),
        Judge::Model,
        "allowed_mentions",
    );
    let style = "/components/0/components/0/style";
    refused(
        create,
        &but(message(), style, Value::Null),
        Judge::Model,
        "components",
    );
    refused(Route::Callback, &json!({"type": "four"}), Judge::Model, "");
    refused(
        Route::SetCommands,
        &json!([{"description": "No name"}]),
        Judge::Model,
        "0",
    );
    refused(
        Route::OpenDm,
        &json!({"recipient_id": "you"}),
        Judge::Model,
        "recipient_id",
    );
}

#[test]
fn what_breaks_a_limit_is_refused() {
    let long = |count: usize| json!("x".repeat(count));
    let create = Route::CreateMessage;
    refused(
        create,
        &but(message(), "/content", long(2001)),
        Judge::Limits,
        "content",
    );
    refused(
        create,
        &but(message(), "/embeds/0/title", long(257)),
        Judge::Limits,
        "embeds",
    );
    let label = "/components/0/components/0/label";
    refused(
        create,
        &but(message(), label, long(81)),
        Judge::Limits,
        "components",
    );
    refused(
        Route::SetCommands,
        &but(commands(), "/0/description", long(101)),
        Judge::Limits,
        "0",
    );
    let many: Vec<Value> = (0..26)
        .map(|at| json!({"name": format!("n{at}"), "value": "v"}))
        .collect();
    let choices = json!({"type": 8, "data": {"choices": many}});
    refused(Route::Callback, &choices, Judge::Limits, "data.choices");
}

#[test]
fn both_schemas_refuse() {
    let long = json!("x".repeat(101));
    for by in [Judge::Schema, Judge::OpenApi] {
        if by == Judge::OpenApi && is_absent() {
            continue;
        }
        let create = Route::CreateMessage;
        let id = "/components/0/components/0/custom_id";
        refused(create, &but(message(), id, long.clone()), by, "");
        refused(create, &but(message(), "/nonce", json!("x".repeat(26))), by, "");
        refused(Route::EditMessage, &json!({"content": 1}), by, "");
        refused(Route::EditResponse, &json!({"embeds": {}}), by, "");
        refused(Route::FollowUp, &json!({"content": 1}), by, "");
        refused(
            Route::Callback,
            &json!({"type": 4, "data": {"content": 1}}),
            by,
            "",
        );
        refused(Route::Callback, &but(modal(), "/data/title", Value::Null), by, "");
        refused(
            Route::SetCommands,
            &but(commands(), "/0/name", Value::Null),
            by,
            "",
        );
        refused(Route::OpenDm, &json!({"recipient_id": "you"}), by, "");
    }
    let unknown = but(message(), "/colour", json!("red"));
    refused(Route::CreateMessage, &unknown, Judge::Schema, "");
}

#[test]
fn the_package_is_named_with_its_licence() {
    let schemas = include_str!("../data/platform/schemas.json");
    let licence = include_str!("../data/platform/LICENSE-discord-api-spec");
    let schemas: Value = serde_json::from_str(schemas).expect("JSON");
    let comment = schemas["$comment"].as_str().expect("where they are from");
    let (package, _) = comment
        .split_once(" (npm), MIT")
        .expect("package, version, licence");
    assert!(licence.contains(package), "{package}");
    assert!(licence.contains("MIT License") && licence.contains("Copyright"));
}

/// Whether the platform's description is not at hand; in CI it has to be.
fn is_absent() -> bool {
    let before = wrackline_tests::platform::openapi_skipped();
    assert_eq!(judge(Route::OpenDm, &json!({"recipient_id": "1"}), &[]), []);
    wrackline_tests::platform::openapi_skipped() > before
}

#[test]
fn known_false_alarms_are_none() {
    let files = json!([{"id": 0, "filename": "pool.png"}]);
    let body = but(message(), "/attachments", files);
    assert_eq!(judge(Route::CreateMessage, &body, &[(0, 3)]), []);
    let empty = but(commands(), "/0/options/3/options", json!([]));
    assert_eq!(judge(Route::SetCommands, &empty, &[]), []);
    let bits = but(commands(), "/0/default_member_permissions", json!("8"));
    assert_eq!(judge(Route::SetCommands, &bits, &[]), []);
    // 4000 to 8000 characters are too many for one of the judges alone.
    let choices: Vec<Value> = (0..25)
        .map(|at| json!({"name": format!("{at:0>99}"), "value": format!("{at:0>99}")}))
        .collect();
    let body = but(commands(), "/0/options/0/choices", choices.into());
    assert_eq!(judge(Route::SetCommands, &body, &[]), []);
}

#[test]
fn what_takes_no_body_gets_none() {
    refused(Route::GetChannel, &json!({}), Judge::Rules, "");
}
