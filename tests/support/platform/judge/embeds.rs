//! Embeds by the documented limits.

use serde_json::Value;

use super::{Bench, each, length, within};

/// The documented limits, in characters.
const LIMITS: [(&str, usize); 4] = [
    ("/title", 256),
    ("/description", 4096),
    ("/footer/text", 2048),
    ("/author/name", 256),
];

/// All embeds of a message together.
const ALL: usize = 6000;

pub(super) fn judge(bench: &mut Bench, place: &str, body: &Value) {
    let place = within(place, "embeds");
    let embeds = each(&place, &body["embeds"]);
    bench.hold(embeds.len() <= 10, &place, "more than 10 embeds");
    let mut all = 0;
    for (place, embed) in embeds {
        for (at, most) in LIMITS {
            let Some(text) = embed.pointer(at).filter(|text| !text.is_null()) else {
                continue;
            };
            let place = within(&place, at.trim_start_matches('/').replace('/', "."));
            bench.hold(text.is_string(), &place, "text is wanted");
            bench.hold(length(text) <= most, &place, &format!("longer than {most}"));
            all += length(text);
        }
        let fields = each(&within(&place, "fields"), &embed["fields"]);
        bench.hold(fields.len() <= 25, &place, "more than 25 fields");
        for (place, field) in &fields {
            for (key, most) in [("name", 256), ("value", 1024)] {
                let place = within(place, key);
                let blank = field[key].as_str().is_none_or(|text| text.trim().is_empty());
                bench.hold(!blank, &place, "this may not be empty");
                bench.hold(
                    length(&field[key]) <= most,
                    &place,
                    &format!("longer than {most}"),
                );
                all += length(&field[key]);
            }
        }
        for key in ["author", "footer"] {
            let part = if key == "author" { "name" } else { "text" };
            if embed[key].is_object() {
                bench.hold(
                    length(&embed[key][part]) > 0,
                    &within(&place, key),
                    "this may not be empty",
                );
            }
        }
        let shows = ["title", "description", "image", "thumbnail", "author", "footer"];
        let shows = shows.iter().any(|key| match &embed[*key] {
            Value::Null => false,
            Value::String(text) => !text.is_empty(),
            _ => true,
        });
        bench.hold(shows || !fields.is_empty(), &place, "an embed that shows nothing");
        let color = &embed["color"];
        let fits = color.is_null() || color.as_u64().is_some_and(|color| color <= 0xff_ff_ff);
        bench.hold(fits, &within(&place, "color"), "between 0 and 16777215");
    }
    bench.hold(all <= ALL, &place, "more than 6000 characters in all embeds");
}
