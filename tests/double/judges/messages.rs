//! The documented rules of messages.

use serde_json::{Value, json};
use wrackline_tests::platform::{Judge, Route};

use super::{but, button, message, refused};

#[test]
fn the_documented_rules_hold() {
    let long = |count: usize| json!("x".repeat(count));
    let rows = |count: usize| -> Value {
        (0..count)
            .map(|at| json!({"type": 1, "components": [button(&at.to_string())]}))
            .collect()
    };
    let create = Route::CreateMessage;
    for (place, value, at) in [
        ("/content", long(2001), "content"),
        ("/content", json!("  \n"), "content"),
        ("/components", rows(6), "components"),
        (
            "/components/0/components/0/custom_id",
            Value::Null,
            "components.0.components.0.custom_id",
        ),
        (
            "/components/0/components/0/custom_id",
            json!("why:1"),
            "components.0.components.1.custom_id",
        ),
        (
            "/components/0/components/0/custom_id",
            long(101),
            "components.0.components.0.custom_id",
        ),
        (
            "/components/0/components/0/label",
            long(81),
            "components.0.components.0.label",
        ),
        (
            "/components/0/components/0/label",
            Value::Null,
            "components.0.components.0",
        ),
        (
            "/components/0/components/0/url",
            json!("https://example.com"),
            "components.0.components.0",
        ),
        ("/components/0/components", json!([]), "components.0"),
        (
            "/components/1/components/0/placeholder",
            long(151),
            "components.1.components.0.placeholder",
        ),
        (
            "/components/1/components/0/options",
            json!([]),
            "components.1.components.0.options",
        ),
        (
            "/components/1/components/0/max_values",
            json!(26),
            "components.1.components.0.max_values",
        ),
        ("/embeds/0/fields/0/name", json!(""), "embeds.0.fields.0.name"),
        ("/embeds/0/fields/0/value", json!(" "), "embeds.0.fields.0.value"),
        ("/embeds/0/title", long(257), "embeds.0.title"),
        ("/embeds/0/colour", json!(1), "embeds.0.colour"),
        ("/embeds/0/fields/0/short", json!(true), "embeds.0.fields.0.short"),
        (
            "/components/0/components/0/size",
            json!(1),
            "components.0.components.0.size",
        ),
        (
            "/components/1/components/0/options/0/text",
            json!("x"),
            "components.1.components.0.options.0.text",
        ),
        (
            "/components/0/components/1/emoji/size",
            json!(1),
            "components.0.components.1.emoji.size",
        ),
        (
            "/allowed_mentions/everyone",
            json!(false),
            "allowed_mentions.everyone",
        ),
        ("/allowed_mentions", Value::Null, "allowed_mentions"),
        ("/allowed_mentions/parse", Value::Null, "allowed_mentions"),
        ("/nonce", Value::Null, "nonce"),
        ("/nonce", long(26), "nonce"),
        ("/enforce_nonce", json!(false), "enforce_nonce"),
        ("/colour", json!("red"), "colour"),
        ("/attachments", json!([{"id": 7}]), "attachments.0.id"),
    ] {
        refused(create, &but(message(), place, value), Judge::Rules, at);
    }
    let embeds: Value = (0..2).map(|_| json!({"description": "x".repeat(3001)})).collect();
    refused(create, &but(message(), "/embeds", embeds), Judge::Rules, "embeds");
    refused(create, &json!({}), Judge::Rules, "");
    refused(Route::EditMessage, &json!({}), Judge::Rules, "");
    refused(
        Route::EditMessage,
        &json!({"content": "x"}),
        Judge::Rules,
        "allowed_mentions",
    );
    refused(
        Route::EditResponse,
        &json!({"embeds": []}),
        Judge::Rules,
        "allowed_mentions",
    );
    refused(
        Route::FollowUp,
        &json!({"content": "x"}),
        Judge::Rules,
        "allowed_mentions",
    );
    let input = json!([{"type": 1, "components": [{"type": 4, "custom_id": "a", "style": 1, "label": "A"}]}]);
    refused(
        create,
        &but(message(), "/components", input),
        Judge::Rules,
        "components.0",
    );
}
