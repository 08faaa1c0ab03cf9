//! The documented rules of commands.

use serde_json::{Value, json};
use wrackline_tests::platform::{Judge, Route};

use super::{but, refused};
use crate::double::commands;

/// Commands with one place changed are refused by the rules, at that place's spot.
#[track_caller]
fn refuses(place: &str, value: Value, at: &str) {
    let body = but(commands(), place, value);
    refused(Route::SetCommands, &body, Judge::Rules, at);
}

/// So many choices, 198 characters each.
fn choices(count: usize) -> Value {
    (0..count)
        .map(|at| json!({"name": format!("{at:0>99}"), "value": format!("{at:0>99}")}))
        .collect()
}

#[test]
fn of_names_and_descriptions() {
    refuses("/0/name", json!("Did"), "0.name");
    refuses("/0/name", json!("did it"), "0.name");
    refuses("/0/name", json!("pool"), "1.name");
    refuses("/0/options/0/name", json!("what now"), "0.options.0.name");
    refuses("/0/description", Value::Null, "0.description");
    let unknown = json!({"xx": "log"});
    refuses(
        "/0/name_localizations",
        unknown.clone(),
        "0.name_localizations.xx",
    );
    refuses(
        "/0/description_localizations",
        unknown,
        "0.description_localizations.xx",
    );
    let bits = "/0/default_member_permissions";
    refuses(bits, json!("many"), "0.default_member_permissions");
}

#[test]
fn of_options() {
    refuses("/0/options/3/required", json!(true), "0.options.3");
    refuses("/0/options/3/min_value", json!(1), "0.options.3");
    let completed = json!([{"name": "a", "value": "a"}]);
    refuses("/0/options/1/choices", completed, "0.options.1");
    let number = "/0/options/0/choices/0/value";
    refuses(number, json!(1), "0.options.0.choices.0");
    let inner = json!([{"type": 3, "name": "more", "description": "More"}]);
    refuses("/1/options/0/options/0/options", inner, "1.options.0.options.0");
}

#[test]
fn of_keys() {
    for place in ["/0/wide", "/0/options/0/kind", "/0/options/0/choices/0/text"] {
        let at = place.trim_start_matches('/').replace('/', ".");
        refuses(place, json!(1), &at);
    }
}

#[test]
fn of_how_many_there_may_be() {
    refuses("/0/options/0/choices", choices(26), "0.options.0.choices");
    let option = |at: usize| json!({"type": 3, "name": format!("o{at}"), "description": "One"});
    let options: Value = (0..26).map(option).collect();
    refuses("/0/options", options, "0.options");
    let heavy: Value = (0..2)
        .map(|at| {
            let mut option = option(at);
            option["choices"] = choices(25);
            option
        })
        .collect();
    refuses("/0/options", heavy, "0");
    let many: Value = (0..101)
        .map(|at| json!({"name": format!("c{at}"), "description": "A line"}))
        .collect();
    refused(Route::SetCommands, &many, Judge::Rules, "");
    refused(Route::SetCommands, &json!({}), Judge::Rules, "");
}
