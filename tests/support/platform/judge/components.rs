//! Buttons, selects and inputs by the documented limits.

use std::collections::BTreeSet;

use serde_json::Value;

use super::{Bench, each, length, within};

/// Set when a message is laid out with components of the second generation.
pub(super) const SECOND: u64 = 1 << 15;

/// What is known of all components of a message or a modal so far.
struct Seen {
    ids: BTreeSet<String>,
    count: usize,
    modal: bool,
}

/// The components of a message.
pub(super) fn judge(bench: &mut Bench, place: &str, body: &Value) {
    let second = body["flags"].as_u64().unwrap_or(0) & SECOND != 0;
    let place = within(place, "components");
    let mut seen = Seen {
        ids: BTreeSet::new(),
        count: 0,
        modal: false,
    };
    let top = each(&place, &body["components"]);
    bench.hold(second || top.len() <= 5, &place, "more than 5 rows");
    for (place, one) in top {
        let fits = second || one["type"] == 1;
        bench.hold(fits, &place, "only rows stand at the top of a message");
        part(bench, &mut seen, &place, one);
    }
    bench.hold(seen.count <= 40, &place, "more than 40 components");
}

/// The inputs of a modal.
pub(super) fn modal(bench: &mut Bench, place: &str, data: &Value) {
    let title = length(&data["title"]);
    bench.hold(
        (1..=45).contains(&title),
        &within(place, "title"),
        "1 to 45 characters",
    );
    let id = length(&data["custom_id"]);
    bench.hold(
        (1..=100).contains(&id),
        &within(place, "custom_id"),
        "1 to 100 characters",
    );
    let place = within(place, "components");
    let inputs = each(&place, &data["components"]);
    bench.hold((1..=5).contains(&inputs.len()), &place, "1 to 5 inputs");
    let mut seen = Seen {
        ids: BTreeSet::new(),
        count: 0,
        modal: true,
    };
    for (place, one) in inputs {
        let fits = matches!(one["type"].as_u64(), Some(1 | 10 | 18));
        bench.hold(fits, &place, "rows, texts and labels alone stand in a modal");
        part(bench, &mut seen, &place, one);
    }
}

fn part(bench: &mut Bench, seen: &mut Seen, place: &str, one: &Value) {
    seen.count += 1;
    match one["type"].as_u64() {
        Some(1) => row(bench, seen, place, one),
        Some(2) => button(bench, seen, place, one),
        Some(3) => {
            custom_id(bench, seen, place, one);
            select(bench, place, one);
            choices(bench, place, one);
        }
        Some(4) => {
            custom_id(bench, seen, place, one);
            input(bench, seen, place, one);
        }
        Some(5..=8) => {
            custom_id(bench, seen, place, one);
            select(bench, place, one);
        }
        Some(18) => {
            bench.hold(
                (1..=45).contains(&length(&one["label"])),
                place,
                "a label of 1 to 45 characters",
            );
            part(bench, seen, &within(place, "component"), &one["component"]);
        }
        _ => {
            for (place, inner) in each(&within(place, "components"), &one["components"]) {
                part(bench, seen, &place, inner);
            }
            if one["accessory"].is_object() {
                part(bench, seen, &within(place, "accessory"), &one["accessory"]);
            }
        }
    }
}

fn row(bench: &mut Bench, seen: &mut Seen, place: &str, row: &Value) {
    let inner = each(&within(place, "components"), &row["components"]);
    let buttons = inner.iter().filter(|(_, one)| one["type"] == 2).count();
    bench.hold(!inner.is_empty(), place, "an empty row");
    bench.hold(buttons <= 5, place, "more than 5 buttons in a row");
    let alone = buttons == inner.len() || inner.len() == 1;
    bench.hold(alone, place, "a select or an input stands alone in its row");
    for (place, one) in inner {
        let fits = match one["type"].as_u64() {
            Some(4) => seen.modal,
            Some(2) => !seen.modal,
            Some(3 | 5..=8) => true,
            _ => false,
        };
        bench.hold(fits, &place, "this does not stand in a row here");
        part(bench, seen, &place, one);
    }
}

fn custom_id(bench: &mut Bench, seen: &mut Seen, place: &str, one: &Value) {
    let place = within(place, "custom_id");
    let id = one["custom_id"].as_str().unwrap_or_default();
    let fits = (1..=100).contains(&id.chars().count());
    bench.hold(fits, &place, "1 to 100 characters");
    let new = seen.ids.insert(id.to_owned());
    bench.hold(new, &place, "the same one twice in a message");
}

fn button(bench: &mut Bench, seen: &mut Seen, place: &str, one: &Value) {
    bench.hold(
        length(&one["label"]) <= 80,
        &within(place, "label"),
        "longer than 80",
    );
    let style = one["style"].as_u64().unwrap_or(0);
    bench.hold(
        (1..=6).contains(&style),
        &within(place, "style"),
        "an unknown style",
    );
    let says = length(&one["label"]) > 0 || one["emoji"].is_object() || style == 6;
    bench.hold(says, place, "a button without label and emoji");
    if style == 5 {
        bench.hold(length(&one["url"]) > 0, place, "a link without an address");
        bench.hold(
            length(&one["url"]) <= 512,
            &within(place, "url"),
            "longer than 512",
        );
        bench.hold(one["custom_id"].is_null(), place, "a link with a custom_id");
    } else if style != 6 {
        bench.hold(
            one["url"].is_null(),
            place,
            "an address on a button that is no link",
        );
        custom_id(bench, seen, place, one);
    }
}

fn select(bench: &mut Bench, place: &str, one: &Value) {
    let long = length(&one["placeholder"]) > 150;
    bench.hold(!long, &within(place, "placeholder"), "longer than 150");
    let number = |key: &str, usual: u64| one[key].as_u64().unwrap_or(usual);
    let (least, most) = (number("min_values", 1), number("max_values", 1));
    bench.hold(least <= 25, &within(place, "min_values"), "between 0 and 25");
    bench.hold(
        (1..=25).contains(&most),
        &within(place, "max_values"),
        "between 1 and 25",
    );
    bench.hold(
        least <= most,
        &within(place, "min_values"),
        "more than max_values",
    );
}

fn choices(bench: &mut Bench, place: &str, one: &Value) {
    let place = within(place, "options");
    let options = each(&place, &one["options"]);
    bench.hold((1..=25).contains(&options.len()), &place, "1 to 25 options");
    let most = one["max_values"].as_u64().unwrap_or(1);
    bench.hold(
        most <= options.len() as u64,
        &place,
        "fewer options than max_values",
    );
    let mut values = BTreeSet::new();
    for (place, option) in &options {
        for key in ["label", "value"] {
            let fits = (1..=100).contains(&length(&option[key]));
            bench.hold(fits, &within(place, key), "1 to 100 characters");
        }
        let long = length(&option["description"]) > 100;
        bench.hold(!long, &within(place, "description"), "longer than 100");
        let new = values.insert(option["value"].to_string());
        bench.hold(new, &within(place, "value"), "the same one twice");
    }
}

fn input(bench: &mut Bench, seen: &Seen, place: &str, one: &Value) {
    bench.hold(seen.modal, place, "an input stands in modals alone");
    bench.hold(
        length(&one["value"]) <= 4000,
        &within(place, "value"),
        "longer than 4000",
    );
    bench.hold(
        length(&one["placeholder"]) <= 100,
        &within(place, "placeholder"),
        "longer than 100",
    );
    bench.hold(
        length(&one["label"]) <= 45,
        &within(place, "label"),
        "longer than 45",
    );
    for (key, least) in [("min_length", 0), ("max_length", 1)] {
        if let Some(number) = one.get(key).filter(|number| !number.is_null()) {
            let fits = number
                .as_u64()
                .is_some_and(|number| (least..=4000).contains(&number));
            bench.hold(fits, &within(place, key), "at most 4000");
        }
    }
    if let (Some(least), Some(most)) = (one["min_length"].as_u64(), one["max_length"].as_u64()) {
        bench.hold(
            least <= most,
            &within(place, "min_length"),
            "more than max_length",
        );
    }
}
