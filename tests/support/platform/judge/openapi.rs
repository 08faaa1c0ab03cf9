//! The platform's published description of its REST API, where it is at hand.
//!
//! It is not kept with the tests. Where it is absent that is said once and counted, but with `CI=true` every body that
//! it should have judged fails. Its false alarms stand in [`super::schema`].

use std::collections::HashMap;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;
use std::sync::atomic::{AtomicU64, Ordering};

use jsonschema::Validator;
use serde_json::{Map, Value, json};

use super::schema::{complain, validator};
use super::{Bench, Shape};
use crate::platform::record::Judge;

/// Names the file.
const VARIABLE: &str = "WRACKLINE_PLATFORM_OPENAPI";

/// Where the file is when nothing else is said: beside the workspace.
const BESIDE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../shared/platform/openapi.json");

static SKIPPED: AtomicU64 = AtomicU64::new(0);

static VALIDATORS: LazyLock<Option<HashMap<Shape, Validator>>> = LazyLock::new(|| {
    let path = std::env::var_os(VARIABLE).map_or_else(|| PathBuf::from(BESIDE), PathBuf::from);
    let read = read(&path);
    if read.is_none() {
        eprintln!(
            "{}: the platform's description is absent, and judges nothing",
            path.display()
        );
    }
    read
});

/// How many bodies the platform's description did not judge because it is absent.
#[must_use]
pub fn skipped() -> u64 {
    SKIPPED.load(Ordering::Relaxed)
}

pub(super) fn judge(bench: &mut Bench, shape: Shape, body: &Value) {
    let ci = std::env::var_os("CI").is_some_and(|ci| ci == "true");
    weigh(bench, VALIDATORS.as_ref(), ci, shape, body);
}

fn weigh(
    bench: &mut Bench,
    validators: Option<&HashMap<Shape, Validator>>,
    ci: bool,
    shape: Shape,
    body: &Value,
) {
    match validators {
        Some(validators) => complain(bench, Judge::OpenApi, &validators[&shape], body),
        None if ci => bench.say(Judge::OpenApi, "", "the platform's description is absent"),
        None => {
            SKIPPED.fetch_add(1, Ordering::Relaxed);
        }
    }
}

/// Where the description has the operation.
fn operation(shape: Shape) -> (&'static str, &'static str) {
    match shape {
        Shape::MessageCreate => ("/channels/{channel_id}/messages", "post"),
        Shape::MessageEdit => ("/channels/{channel_id}/messages/{message_id}", "patch"),
        Shape::Callback => (
            "/interactions/{interaction_id}/{interaction_token}/callback",
            "post",
        ),
        Shape::WebhookCreate => ("/webhooks/{webhook_id}/{webhook_token}", "post"),
        Shape::WebhookEdit => (
            "/webhooks/{webhook_id}/{webhook_token}/messages/@original",
            "patch",
        ),
        Shape::Commands => ("/applications/{application_id}/commands", "put"),
        Shape::Dm => ("/users/@me/channels", "post"),
    }
}

/// Validators out of the file; none when it is not there.
///
/// # Panics
/// When it is there and is not what it should be.
fn read(path: &Path) -> Option<HashMap<Shape, Validator>> {
    let text = std::fs::read_to_string(path).ok()?;
    let document: Value = serde_json::from_str(&text).expect("the platform's description is JSON");
    let all = &document["components"]["schemas"];
    let made = Shape::ALL.into_iter().map(|shape| {
        let (path, method) = operation(shape);
        let body = &document["paths"][path][method]["requestBody"];
        let wanted = &body["content"]["application/json"]["schema"];
        assert!(wanted.is_object(), "{method} {path} is not described");
        let mut reached = Map::new();
        reach(all, wanted, &mut reached);
        let schema = json!({"allOf": [wanted], "components": {"schemas": reached}});
        (shape, validator(&schema))
    });
    Some(made.collect())
}

/// Gathers all that a schema names.
fn reach(all: &Value, node: &Value, reached: &mut Map<String, Value>) {
    match node {
        Value::Array(list) => list.iter().for_each(|inner| reach(all, inner, reached)),
        Value::Object(object) => {
            for inner in object.values() {
                reach(all, inner, reached);
            }
            let name = object.get("$ref").and_then(Value::as_str);
            let Some(name) = name.and_then(|name| name.rsplit('/').next()) else {
                return;
            };
            if !reached.contains_key(name) {
                reached.insert(name.to_owned(), all[name].clone());
                reach(all, &all[name], reached);
            }
        }
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_absent_file_is_counted_and_fails_in_ci() {
        assert!(read(Path::new("/nowhere/openapi.json")).is_none());
        let body = json!({"recipient_id": "1"});
        let before = skipped();
        let mut bench = Bench::default();
        weigh(&mut bench, None, false, Shape::Dm, &body);
        assert!(bench.verdicts.is_empty() && skipped() > before);
        weigh(&mut bench, None, true, Shape::Dm, &body);
        assert_eq!(bench.verdicts.len(), 1);
        assert_eq!(bench.verdicts[0].judge, Judge::OpenApi);
    }
}
