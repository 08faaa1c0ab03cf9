//! The documented rules of commands.

use serde_json::{Value, json};
use wrackline_tests::platform::{Judge, Route};

use super::{but, refused};
use crate::double::commands;

#[test]
fn the_documented_rules_hold() {
    let set = Route::SetCommands;
    for (place, value, at) in [
        ("/0/name", json!("Did"), "0.name"),
        ("/0/name", json!("did it"), "0.name"),
        ("/0/name", json!("pool"), "1.name"),
        ("/0/description", Value::Null, "0.description"),
        (
            "/0/name_localizations",
            json!({"en": "did"}),
            "0.name_localizations.en",
        ),
        (
            "/0/description_localizations",
            json!({"xx": "Log"}),
            "0.description_localizations.xx",
        ),
        ("/0/options/3/required", json!(true), "0.options.3"),
        ("/0/options/0/name", json!("what now"), "0.options.0.name"),
        (
            "/0/options/1/choices",
            json!([{"name": "a", "value": "a"}]),
            "0.options.1",
        ),
        ("/0/options/0/choices/0/value", json!(1), "0.options.0.choices.0"),
        ("/0/options/3/min_value", json!(1), "0.options.3"),
        ("/0/options/0/kind", json!(1), "0.options.0.kind"),
        (
            "/0/options/0/choices/0/text",
            json!("x"),
            "0.options.0.choices.0.text",
        ),
        ("/0/wide", json!(true), "0.wide"),
        (
            "/0/default_member_permissions",
            json!("many"),
            "0.default_member_permissions",
        ),
        (
            "/1/options/0/options/0/options",
            json!([{"type": 3, "name": "more", "description": "More"}]),
            "1.options.0.options.0",
        ),
    ] {
        refused(set, &but(commands(), place, value), Judge::Rules, at);
    }
    let optional = but(commands(), "/0/options/4/required", json!(true));
    refused(set, &optional, Judge::Rules, "0.options.4");
    let choices: Vec<Value> = (0..26)
        .map(|at| json!({"name": format!("n{at}"), "value": format!("v{at}")}))
        .collect();
    refused(
        set,
        &but(commands(), "/0/options/0/choices", choices.into()),
        Judge::Rules,
        "0.options.0.choices",
    );
    let options: Vec<Value> = (0..26)
        .map(|at| json!({"type": 3, "name": format!("o{at}"), "description": "An option"}))
        .collect();
    refused(
        set,
        &but(commands(), "/0/options", options.into()),
        Judge::Rules,
        "0.options",
    );
    let many: Value = (0..101)
        .map(|at| json!({"name": format!("c{at}"), "description": "A line"}))
        .collect();
    refused(set, &many, Judge::Rules, "");
    let heavy: Vec<Value> = (0..2)
        .map(|one| {
            let choices: Vec<Value> = (0..25)
                .map(|at| json!({"name": format!("{at:0>99}"), "value": format!("{at:0>99}")}))
                .collect();
            json!({"type": 3, "name": format!("o{one}"), "description": "An option", "choices": choices})
        })
        .collect();
    let heavy = but(commands(), "/0/options", heavy.into());
    refused(set, &heavy, Judge::Rules, "0");
    refused(set, &json!({}), Judge::Rules, "");
}
