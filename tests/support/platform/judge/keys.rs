//! No key that the documentation does not name, on any level.

use serde_json::Value;

use super::{Bench, Shape, each, within};

const MESSAGE: &str = "content nonce tts embeds allowed_mentions message_reference components sticker_ids attachments \
                       flags enforce_nonce poll";
const EDIT: &str = "content embeds flags allowed_mentions components attachments";
const ANSWER: &str = "content tts embeds allowed_mentions components attachments flags poll";
const EMBED: &str =
    "title type description url timestamp color footer image thumbnail video provider author fields";
const PICTURE: &str = "url proxy_url height width";
const COMMAND: &str = "id type name name_localizations description description_localizations options \
                       default_member_permissions dm_permission default_permission nsfw integration_types contexts \
                       handler";
const OPTION: &str = "type name name_localizations description description_localizations required choices options \
                      channel_types min_value max_value min_length max_length autocomplete";

/// The keys of a component by its type.
fn of_component(kind: u64) -> Option<&'static str> {
    Some(match kind {
        1 => "components",
        2 => "style label emoji custom_id sku_id url disabled",
        3 => "custom_id options placeholder min_values max_values required disabled",
        4 => "custom_id style label min_length max_length required value placeholder",
        5..=7 => "custom_id placeholder default_values min_values max_values required disabled",
        8 => "custom_id channel_types placeholder default_values min_values max_values required disabled",
        9 => "components accessory",
        10 => "content",
        11 => "media description spoiler",
        12 => "items",
        13 => "file spoiler",
        14 => "divider spacing",
        17 => "components accent_color spoiler",
        18 => "label description component",
        19 => "custom_id min_values max_values required",
        _ => return None,
    })
}

pub(super) fn judge(bench: &mut Bench, shape: Shape, body: &Value) {
    match shape {
        Shape::Commands => {
            bench.hold(body.is_array(), "", "commands come as a list");
            for (place, command) in each("", body) {
                known(bench, &place, command, COMMAND);
                options(bench, &place, command);
            }
        }
        Shape::Dm => known(bench, "", body, "recipient_id"),
        Shape::Callback => {
            known(bench, "", body, "type data");
            let data = &body["data"];
            match body["type"].as_u64() {
                Some(8) => {
                    known(bench, "data", data, "choices");
                    choices(bench, "data", data);
                }
                Some(9) => {
                    known(bench, "data", data, "custom_id title components");
                    parts(bench, "data", data);
                }
                Some(5 | 6) if data.is_null() => {}
                Some(5) => known(bench, "data", data, "flags"),
                Some(6) => bench.rule("data", "this answer has no data"),
                _ => message(bench, "data", data, ANSWER),
            }
        }
        Shape::MessageCreate => message(bench, "", body, MESSAGE),
        Shape::MessageEdit => message(bench, "", body, EDIT),
        Shape::WebhookCreate => message(bench, "", body, ANSWER),
        Shape::WebhookEdit => message(
            bench,
            "",
            body,
            "content embeds flags allowed_mentions components attachments poll",
        ),
    }
}

/// An object without other keys than these.
fn known(bench: &mut Bench, place: &str, value: &Value, keys: &str) {
    let Some(object) = value.as_object() else {
        bench.rule(place, "an object is wanted");
        return;
    };
    for key in object.keys() {
        if !keys.split_whitespace().any(|known| known == key) {
            bench.rule(&within(place, key), "an unknown key");
        }
    }
}

fn message(bench: &mut Bench, place: &str, body: &Value, keys: &str) {
    known(bench, place, body, keys);
    for (place, embed) in each(&within(place, "embeds"), &body["embeds"]) {
        known(bench, &place, embed, EMBED);
        for (key, keys) in [
            ("footer", "text icon_url proxy_icon_url"),
            ("author", "name url icon_url proxy_icon_url"),
            ("provider", "name url"),
            ("image", PICTURE),
            ("thumbnail", PICTURE),
            ("video", PICTURE),
        ] {
            inner(bench, &place, embed, key, keys);
        }
        for (place, field) in each(&within(&place, "fields"), &embed["fields"]) {
            known(bench, &place, field, "name value inline");
        }
    }
    inner(
        bench,
        place,
        body,
        "allowed_mentions",
        "parse roles users replied_user",
    );
    let reference = "type message_id channel_id guild_id fail_if_not_exists";
    inner(bench, place, body, "message_reference", reference);
    for (place, file) in each(&within(place, "attachments"), &body["attachments"]) {
        let keys = "id filename description title duration_secs waveform is_spoiler";
        known(bench, &place, file, keys);
    }
    parts(bench, place, body);
}

fn inner(bench: &mut Bench, place: &str, value: &Value, key: &str, keys: &str) {
    if let Some(inner) = value.get(key).filter(|inner| !inner.is_null()) {
        known(bench, &within(place, key), inner, keys);
    }
}

fn parts(bench: &mut Bench, place: &str, holder: &Value) {
    for (place, one) in each(&within(place, "components"), &holder["components"]) {
        part(bench, &place, one);
    }
    for key in ["accessory", "component"] {
        if holder[key].is_object() {
            part(bench, &within(place, key), &holder[key]);
        }
    }
}

fn part(bench: &mut Bench, place: &str, one: &Value) {
    let Some(keys) = one["type"].as_u64().and_then(of_component) else {
        bench.rule(place, "a component of an unknown type");
        return;
    };
    known(bench, place, one, &format!("type id {keys}"));
    inner(bench, place, one, "emoji", "id name animated");
    if one["type"] == 3 {
        for (place, option) in each(&within(place, "options"), &one["options"]) {
            known(bench, &place, option, "label value description emoji default");
            inner(bench, &place, option, "emoji", "id name animated");
        }
    }
    parts(bench, place, one);
}

fn options(bench: &mut Bench, place: &str, holder: &Value) {
    for (place, option) in each(&within(place, "options"), &holder["options"]) {
        known(bench, &place, option, OPTION);
        choices(bench, &place, option);
        options(bench, &place, option);
    }
}

fn choices(bench: &mut Bench, place: &str, holder: &Value) {
    for (place, choice) in each(&within(place, "choices"), &holder["choices"]) {
        known(bench, &place, choice, "name name_localizations value");
    }
}
