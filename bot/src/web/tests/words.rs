//! The texts: every id that the web asks for has its line in the text file, and none lies there for nothing.

use std::collections::BTreeSet;

const TEXTS: &str = include_str!("../../../locales/en/porch.ftl");

const PAGES: [&str; 3] = [
    include_str!("../assets/porch.html"),
    include_str!("../assets/sheet.html"),
    include_str!("../assets/step.html"),
];

const SCRIPTS: [&str; 5] = [
    include_str!("../assets/porch.js"),
    include_str!("../assets/porch-draw.js"),
    include_str!("../assets/porch-line.js"),
    include_str!("../assets/porch-log.js"),
    include_str!("../assets/porch-send.js"),
];

const SOURCES: [&str; 5] = [
    include_str!("../asides.rs"),
    include_str!("../calendar.rs"),
    include_str!("../door.rs"),
    include_str!("../page.rs"),
    include_str!("../talk.rs"),
];

/// What stands between an opening and the next closing mark, everywhere in a text.
fn between<'a>(text: &'a str, open: &'a str, close: &'a str) -> impl Iterator<Item = &'a str> {
    text.split(open)
        .skip(1)
        .filter_map(move |rest| rest.split_once(close))
        .map(|(found, _)| found)
}

#[test]
fn every_text_is_there_and_asked_for() {
    let mut asked = BTreeSet::new();
    // What the page puts together from the mark, and the store's refusal, which has its own function.
    for id in [
        "porch-mark-calm",
        "porch-mark-due",
        "porch-mark-overdue",
        "porch-mark-hazard",
    ] {
        asked.insert(id.to_owned());
    }
    asked.insert("porch-refused-store".to_owned());
    for page in PAGES {
        asked.extend(between(page, "{{porch-", "}}").map(|id| format!("porch-{id}")));
    }
    for script in SCRIPTS {
        let ids = between(script, "word(\"", "\")").filter(|id| !id.ends_with('-'));
        asked.extend(ids.map(|id| format!("porch-{id}")).filter(|id| !id.contains('"')));
    }
    for source in SOURCES {
        let ids = between(source, "\"porch-", "\"").filter(|id| !id.contains('.'));
        asked.extend(ids.map(|id| format!("porch-{id}")));
    }
    let there = TEXTS.lines().filter_map(|line| line.split_once(" = "));
    let there: BTreeSet<String> = there.map(|(id, _)| id.to_owned()).collect();
    assert_eq!(asked, there);
}
