//! Decoding with `twilight-model`, limits by `twilight-validate`: other people's reading of the same documents.

use serde::de::DeserializeOwned;
use serde_json::{Value, json};
use twilight_model::application::command::Command;
use twilight_model::channel::message::{AllowedMentions, Component, Embed, MessageFlags};
use twilight_model::http::interaction::InteractionResponse;
use twilight_validate::command::CommandValidationErrorType;
use twilight_validate::{command, component, embed, message};

use super::{Bench, Shape, each, within};
use crate::platform::record::Judge;

/// What `twilight-validate` counts as too many characters, the platform has allowed since: 8000 are documented, and
/// the rules hold them.
fn is_outdated(error: &command::CommandValidationError) -> bool {
    matches!(error.kind(), CommandValidationErrorType::CommandTooLarge { .. })
}

pub(super) fn judge(bench: &mut Bench, shape: Shape, body: &Value) {
    match shape {
        Shape::Commands => commands(bench, body),
        Shape::Dm => {
            decode::<twilight_model::id::Id<twilight_model::id::marker::UserMarker>>(
                bench,
                "recipient_id",
                &body["recipient_id"],
            );
        }
        Shape::Callback => {
            let mut full = body.clone();
            complete(&mut full["data"]);
            if let Some(data) = full.get("data").filter(|data| data.is_null()) {
                debug_assert!(data.is_null());
                full.as_object_mut().map(|full| full.remove("data"));
            }
            if let Some(response) = decode::<InteractionResponse>(bench, "", &full) {
                let data = response.data.unwrap_or_default();
                for choice in data.choices.iter().flatten() {
                    limit(bench, "data.choices", command::choice(choice));
                }
                if data.choices.iter().flatten().count() > command::CHOICES_LIMIT {
                    bench.say(Judge::Limits, "data.choices", "more than 25");
                }
            }
            message(bench, "data", &full["data"], body["type"] == 9);
        }
        _ => {
            let mut full = body.clone();
            complete(&mut full);
            message(bench, "", &full, false);
        }
    }
}

/// What a message received has and one that is sent leaves out.
fn complete(body: &mut Value) {
    for embed in body["embeds"].as_array_mut().into_iter().flatten() {
        if embed.is_object() && embed.get("type").is_none() {
            embed["type"] = json!("rich");
        }
    }
    // Attachments are sent with numbers, and their names may be left to the files' parts.
    for file in body["attachments"].as_array_mut().into_iter().flatten() {
        if let Some(number) = file["id"].as_str().and_then(|id| id.parse::<u64>().ok()) {
            file["id"] = json!(number);
        }
        if file.is_object() && file.get("filename").is_none() {
            file["filename"] = json!("file");
        }
    }
    if let Some(body) = body.as_object_mut() {
        for key in ["embeds", "attachments", "flags", "content", "components"] {
            if body.get(key).is_some_and(Value::is_null) {
                body.remove(key);
            }
        }
    }
}

fn message(bench: &mut Bench, place: &str, body: &Value, modal: bool) {
    if let Some(content) = part::<String>(bench, place, body, "content") {
        limit(bench, &within(place, "content"), message::content(content));
    }
    if let Some(embeds) = part::<Vec<Embed>>(bench, place, body, "embeds") {
        limit(bench, &within(place, "embeds"), message::embeds(&embeds));
        for (at, one) in embeds.iter().enumerate() {
            limit(bench, &within(place, format!("embeds.{at}")), embed::embed(one));
        }
    }
    let flags = part::<MessageFlags>(bench, place, body, "flags").unwrap_or(MessageFlags::empty());
    part::<AllowedMentions>(bench, place, body, "allowed_mentions");
    if let Some(parts) = part::<Vec<Component>>(bench, place, body, "components") {
        let place = within(place, "components");
        if modal {
            for one in &parts {
                match one {
                    Component::ActionRow(_) => limit(bench, &place, component::component_v1(one)),
                    Component::Label(label) => limit(bench, &place, component::label(label)),
                    _ => {}
                }
            }
        } else {
            let second = flags.contains(MessageFlags::IS_COMPONENTS_V2);
            limit(bench, &place, message::components(&parts, second));
        }
    }
}

fn commands(bench: &mut Bench, body: &Value) {
    for (place, one) in each("", body) {
        let mut full = one.clone();
        if full.is_object() {
            if full.get("type").is_none() {
                full["type"] = json!(1);
            }
            full["version"] = json!("1");
        }
        let Some(full) = decode::<Command>(bench, &place, &full) else {
            continue;
        };
        if let Err(error) = command::command(&full)
            && !is_outdated(&error)
        {
            bench.say(Judge::Limits, &place, error.to_string());
        }
        limit(bench, &within(&place, "options"), command::options(&full.options));
    }
}

fn part<T: DeserializeOwned>(bench: &mut Bench, place: &str, body: &Value, key: &str) -> Option<T> {
    let value = body.get(key).filter(|value| !value.is_null())?;
    decode(bench, &within(place, key), value)
}

fn decode<T: DeserializeOwned>(bench: &mut Bench, place: &str, value: &Value) -> Option<T> {
    match serde_json::from_value::<T>(value.clone()) {
        Ok(decoded) => Some(decoded),
        Err(error) => {
            bench.say(Judge::Model, place, error.to_string());
            None
        }
    }
}

fn limit<E: std::error::Error>(bench: &mut Bench, place: &str, result: Result<(), E>) {
    if let Err(error) = result {
        bench.say(Judge::Limits, place, error.to_string());
    }
}
