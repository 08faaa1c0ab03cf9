//! Messages and first answers by the documented rules, and by two rules of the house.
//!
//! The house's own: whatever has content or embeds says whom it may call (`allowed_mentions`), and what goes to a
//! channel has a nonce that is enforced, so that it can be sent twice and stand there once.

use serde_json::Value;

use super::{Bench, Shape, components, each, embeds, length, within};

/// The most files together may have, in bytes.
const REQUEST: usize = 25 * 1024 * 1024;
/// The most one file may have, in bytes.
const FILE: usize = 10 * 1024 * 1024;

pub(super) fn judge(bench: &mut Bench, shape: Shape, place: &str, body: &Value, files: &[(u64, usize)]) {
    let has = |key: &str| match &body[key] {
        Value::Null => false,
        Value::String(text) => !text.is_empty(),
        Value::Array(list) => !list.is_empty(),
        _ => true,
    };
    let creates = matches!(
        shape,
        Shape::MessageCreate | Shape::WebhookCreate | Shape::Callback
    );
    if creates {
        let shows = ["content", "embeds", "components", "poll", "sticker_ids"]
            .into_iter()
            .any(has);
        bench.hold(shows || !files.is_empty(), place, "an empty message");
    } else {
        let empty = body.as_object().is_none_or(serde_json::Map::is_empty);
        bench.hold(!empty || !files.is_empty(), place, "an edit that changes nothing");
    }
    let content = &body["content"];
    bench.hold(
        length(content) <= 2000,
        &within(place, "content"),
        "longer than 2000",
    );
    let blank = content
        .as_str()
        .is_some_and(|text| !text.is_empty() && text.trim().is_empty());
    bench.hold(!blank, &within(place, "content"), "nothing but blanks");
    if body["flags"].as_u64().unwrap_or(0) & components::SECOND != 0 {
        let mixes = has("content") || has("embeds") || has("poll");
        bench.hold(
            !mixes,
            place,
            "content or embeds beside the second generation of components",
        );
    }
    embeds::judge(bench, place, body);
    components::judge(bench, place, body);
    attachments(bench, place, body, files);
    let carries = body.get("content").is_some() || body.get("embeds").is_some();
    mentions(
        bench,
        &within(place, "allowed_mentions"),
        &body["allowed_mentions"],
        carries,
    );
    if shape == Shape::MessageCreate {
        let nonce = &body["nonce"];
        let text = nonce.as_str().map_or_else(|| nonce.to_string(), str::to_owned);
        bench.hold(!nonce.is_null(), "nonce", "a message to a channel has a nonce");
        let count = text.chars().count();
        bench.hold((1..=25).contains(&count), "nonce", "1 to 25 characters");
        bench.hold(
            body["enforce_nonce"] == true,
            "enforce_nonce",
            "the nonce is not enforced",
        );
    }
}

/// A first answer.
pub(super) fn callback(bench: &mut Bench, body: &Value, files: &[(u64, usize)]) {
    let data = &body["data"];
    match body["type"].as_u64() {
        Some(1) => bench.rule("type", "this answers a ping, and none comes by the gateway"),
        Some(4) => judge(bench, Shape::Callback, "data", data, files),
        Some(5) => {
            let flags = data["flags"].as_u64().unwrap_or(0);
            bench.hold(
                flags & !(64 | 4) == 0,
                "data.flags",
                "a flag that cannot be set here",
            );
        }
        Some(6) => {}
        Some(7) => judge(bench, Shape::MessageEdit, "data", data, files),
        Some(8) => {
            bench.hold(data["choices"].is_array(), "data.choices", "choices are wanted");
            choices(bench, "data.choices", &data["choices"]);
        }
        Some(9) => components::modal(bench, "data", data),
        _ => bench.rule("type", "an unknown type"),
    }
}

/// Choices of a command's option or of a completion.
pub(super) fn choices(bench: &mut Bench, place: &str, list: &Value) {
    let list = each(place, list);
    bench.hold(list.len() <= 25, place, "more than 25 choices");
    for (place, choice) in list {
        let fits = (1..=100).contains(&length(&choice["name"]));
        bench.hold(fits, &within(&place, "name"), "1 to 100 characters");
        let value = &choice["value"];
        let fits = value.is_number() || (value.is_string() && length(value) <= 100);
        bench.hold(
            fits,
            &within(&place, "value"),
            "a number, or at most 100 characters",
        );
    }
}

fn mentions(bench: &mut Bench, place: &str, allowed: &Value, carries: bool) {
    if allowed.is_null() {
        bench.hold(!carries, place, "nothing says whom this may call");
        return;
    }
    bench.hold(allowed["parse"].is_array(), place, "`parse` is wanted");
    for key in ["users", "roles"] {
        let ids = allowed[key].as_array().map_or(0, Vec::len);
        bench.hold(ids <= 100, &within(place, key), "more than 100");
        let parses = allowed["parse"]
            .as_array()
            .into_iter()
            .flatten()
            .any(|one| one == key);
        bench.hold(
            !(parses && ids > 0),
            &within(place, key),
            "both parsed and listed",
        );
    }
}

fn attachments(bench: &mut Bench, place: &str, body: &Value, files: &[(u64, usize)]) {
    let all: usize = files.iter().map(|(_, size)| size).sum();
    bench.hold(all <= REQUEST, place, "files of more than 25 MiB");
    bench.hold(files.len() <= 10, place, "more than 10 files");
    for (number, size) in files {
        bench.hold(
            *size <= FILE,
            &within(place, format!("files.{number}")),
            "more than 10 MiB",
        );
    }
    for (place, file) in each(&within(place, "attachments"), &body["attachments"]) {
        let id = file["id"].as_u64().or_else(|| file["id"].as_str()?.parse().ok());
        // Small numbers name a file of this request, others one that is already there.
        let there =
            id.is_some_and(|id| id > u64::from(u32::MAX) || files.iter().any(|(number, _)| *number == id));
        bench.hold(there, &within(&place, "id"), "no file of this number");
        let long = length(&file["description"]) > 1024;
        bench.hold(!long, &within(&place, "description"), "longer than 1024");
    }
}
