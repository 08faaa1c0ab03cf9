//! Schemas of bodies: those of the npm package, kept with the tests, and those of the platform's own description.
//!
//! Both are wrong here and there; the documentation wins. Known false alarms are put right in a body's copy before it
//! is looked at:
//!
//! | alarm | who | why it is false |
//! | --- | --- | --- |
//! | an attachment's `id` is a number | both | what is uploaded is numbered, and the documentation's examples write the number as one |
//! | `default_member_permissions` is text | both | permissions are written as text everywhere (reference: permissions) |
//! | a `timestamp` ends in `+00:00` | package | any ISO 8601 moment is allowed; the package knows `Z` alone |
//! | `emoji.animated` is unknown | package | a partial emoji has `id`, `name` and `animated` |
//! | an option has a key it has no use for, which says null, false or `[]` | package | that says nothing; the house's library writes them all |
//! | a command's `nsfw` is unknown | package | the documentation has it |

use std::collections::HashMap;
use std::sync::LazyLock;

use jsonschema::Validator;
use serde_json::{Value, json};

use super::{Bench, Shape, openapi};
use crate::platform::record::Judge;

/// The package's schemas, made by `tests/platform/schemas.mjs`.
const PACKAGE: &str = include_str!("../../../data/platform/schemas.json");

/// How much of a complaint is kept, in characters.
const COMPLAINT: usize = 300;

static VALIDATORS: LazyLock<HashMap<Shape, Validator>> = LazyLock::new(|| {
    let document: Value = serde_json::from_str(PACKAGE).expect("the package's schemas");
    Shape::ALL
        .into_iter()
        .map(|shape| {
            let schema = json!({
                "$schema": document["$schema"],
                "allOf": [document["shapes"][format!("{shape:?}")]],
                "$defs": document["$defs"],
            });
            (shape, validator(&schema))
        })
        .collect()
});

/// A validator that asks nobody else for anything.
///
/// # Panics
/// When the schema is none.
pub(super) fn validator(schema: &Value) -> Validator {
    jsonschema::options()
        .with_draft(jsonschema::Draft::Draft202012)
        .offline()
        .build(schema)
        .expect("a schema")
}

pub(super) fn judge(bench: &mut Bench, shape: Shape, body: &Value) {
    let body = common(shape, body);
    complain(bench, Judge::Schema, &VALIDATORS[&shape], &packaged(shape, &body));
    openapi::judge(bench, shape, &body);
}

/// Says everything that a validator says.
pub(super) fn complain(bench: &mut Bench, judge: Judge, validator: &Validator, body: &Value) {
    for error in validator.iter_errors(body) {
        let place = error.instance_path().to_string();
        let place = place.trim_start_matches('/').replace('/', ".");
        let said: String = error.to_string().chars().take(COMPLAINT).collect();
        bench.say(judge, &place, said);
    }
}

/// The message in a body.
fn message(shape: Shape, body: &mut Value) -> &mut Value {
    if shape == Shape::Callback {
        &mut body["data"]
    } else {
        body
    }
}

/// Without what both raise false alarms about.
fn common(shape: Shape, body: &Value) -> Value {
    let mut body = body.clone();
    if shape == Shape::Commands {
        for command in body.as_array_mut().into_iter().flatten() {
            let bits = command["default_member_permissions"].as_str();
            if let Some(bits) = bits.and_then(|bits| bits.parse::<u64>().ok()) {
                command["default_member_permissions"] = json!(bits);
            }
        }
    } else if body.is_object() && (shape != Shape::Callback || body["data"].is_object()) {
        let files = message(shape, &mut body).get_mut("attachments");
        for file in files.and_then(Value::as_array_mut).into_iter().flatten() {
            if let Some(number) = file.get("id").and_then(Value::as_u64) {
                file["id"] = json!(number.to_string());
            }
        }
    }
    body
}

/// Without what the package raises false alarms about.
fn packaged(shape: Shape, body: &Value) -> Value {
    let mut body = body.clone();
    if shape == Shape::Commands {
        for command in body.as_array_mut().into_iter().flatten() {
            lean(command);
            if let Some(command) = command.as_object_mut() {
                command.remove("nsfw");
            }
        }
        return body;
    }
    if !body.is_object() || (shape == Shape::Callback && !body["data"].is_object()) {
        return body;
    }
    let message = message(shape, &mut body);
    for embed in message
        .get_mut("embeds")
        .and_then(Value::as_array_mut)
        .into_iter()
        .flatten()
    {
        let at = embed.get("timestamp").and_then(Value::as_str);
        if let Some(at) = at.and_then(|at| at.strip_suffix("+00:00")) {
            embed["timestamp"] = json!(format!("{at}Z"));
        }
    }
    if let Some(components) = message.get_mut("components") {
        still(components);
    }
    body
}

/// Takes from every option what says nothing.
fn lean(holder: &mut Value) {
    let options = holder.get_mut("options").and_then(Value::as_array_mut);
    for option in options.into_iter().flatten() {
        lean(option);
        if let Some(option) = option.as_object_mut() {
            option
                .retain(|_, value| !matches!(value, Value::Null | Value::Bool(false)) && *value != json!([]));
        }
    }
}

/// Takes `animated` from every emoji.
fn still(value: &mut Value) {
    match value {
        Value::Array(list) => list.iter_mut().for_each(still),
        Value::Object(object) => {
            if let Some(emoji) = object.get_mut("emoji").and_then(Value::as_object_mut) {
                emoji.remove("animated");
            }
            object.values_mut().for_each(still);
        }
        _ => {}
    }
}
