//! Who may know whom: from the dependencies, and from the imports.

use std::collections::BTreeSet;
use std::process::Command;

use super::{root, shipped};

/// What a core that cannot wait, draw lots or reach out must not depend on.
const NOT_IN_CORE: [&str; 9] = [
    "tokio",
    "sqlx",
    "axum",
    "reqwest",
    "tracing",
    "rand",
    "rand_core",
    "getrandom",
    "wrackline",
];

#[test]
fn core_depends_on_nothing_that_waits_or_reaches_out() {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".to_owned());
    let tree = Command::new(cargo)
        .args([
            "tree",
            "--offline",
            "--package",
            "wrackline-core",
            "--edges",
            "normal,no-proc-macro",
            "--prefix",
            "none",
        ])
        .current_dir(root())
        .output()
        .expect("cargo runs");
    assert!(tree.status.success(), "{}", String::from_utf8_lossy(&tree.stderr));
    let text = String::from_utf8(tree.stdout).expect("text");
    let packages: BTreeSet<&str> = text.lines().filter_map(|line| line.split(' ').next()).collect();
    assert!(
        packages.contains("wrackline-core") && packages.contains("jiff"),
        "{packages:?}"
    );
    let wrong: Vec<&str> = NOT_IN_CORE
        .into_iter()
        .filter(|name| packages.contains(name))
        .collect();
    assert!(wrong.is_empty(), "{wrong:?}");
}

/// The modules of its own crate that code names, whether one by one or several in braces.
fn knows(code: &str) -> BTreeSet<String> {
    let word = |text: &str| -> String {
        text.trim_start()
            .chars()
            .take_while(|letter| letter.is_alphanumeric() || *letter == '_')
            .collect()
    };
    let mut all = BTreeSet::new();
    for (at, start) in code.match_indices("crate::") {
        let from = at + start.len();
        if code[from..].starts_with('{') {
            let end = super::rust::closing(code, from + 1);
            let parts = super::rust::parts(code, from + 1, end - 1);
            all.extend(parts.into_iter().map(|(from, to)| word(&code[from..to])));
        } else {
            all.insert(word(&code[from..]));
        }
    }
    all
}

/// Whether code names a crate.
fn names_crate(code: &str, name: &str) -> bool {
    let path = format!("{name}::");
    code.match_indices(&path).any(|(at, _)| {
        let before = code[..at].chars().next_back();
        !before.is_some_and(|letter| letter.is_alphanumeric() || letter == '_' || letter == ':')
    })
}

/// Folders of the house: what of the house they must not know, and which crates.
const ROOMS: [(&str, &[&str], &[&str]); 5] = [
    (
        "bot/src/desk",
        &[
            "store", "shelf", "web", "engine", "outbox", "commands", "replay", "app", "config", "clock",
        ],
        &["sqlx", "axum", "tokio", "tracing"],
    ),
    (
        "bot/src/lines",
        &[
            "store", "shelf", "web", "engine", "outbox", "commands", "replay", "app", "config", "clock",
            "desk", "house",
        ],
        &["sqlx", "axum", "tokio"],
    ),
    (
        "bot/src/chat",
        &["desk", "engine", "web", "commands", "replay"],
        &["sqlx", "axum"],
    ),
    (
        "bot/src/web",
        &["engine", "outbox", "commands", "replay", "desk"],
        &["sqlx"],
    ),
    (
        "bot/src/store",
        &[
            "chat", "desk", "web", "lines", "house", "engine", "outbox", "shelf",
        ],
        &["axum"],
    ),
];

#[test]
fn rooms_know_only_whom_they_may() {
    let mut wrong = Vec::new();
    for (room, modules, crates) in ROOMS {
        let sources = shipped(room);
        assert!(sources.len() >= 4, "{room}: {} files", sources.len());
        for (path, source) in &sources {
            let known = knows(&source.code);
            wrong.extend(
                modules
                    .iter()
                    .filter(|name| known.contains(**name))
                    .map(|name| format!("{path}: crate::{name}")),
            );
            let named = crates.iter().filter(|name| names_crate(&source.code, name));
            wrong.extend(named.map(|name| format!("{path}: {name}")));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn core_knows_nobody() {
    let sources = shipped("core/src");
    assert!(sources.len() >= 30, "{} files", sources.len());
    let outside = NOT_IN_CORE.iter().chain(&[
        "wrackline_tests",
        "fluent_bundle",
        "serde_json",
        "std::fs",
        "std::net",
    ]);
    for (path, source) in &sources {
        for name in outside.clone() {
            assert!(!names_crate(&source.code, name), "{path}: {name}");
        }
    }
}

#[test]
fn each_outside_tool_has_one_room() {
    for (tool, room) in [
        ("sqlx", "bot/src/store/"),
        ("axum", "bot/src/web/"),
        ("clap", "bot/src/"),
    ] {
        let users: Vec<String> = shipped("bot/src")
            .into_iter()
            .filter(|(_, source)| names_crate(&source.code, tool))
            .map(|(path, _)| path)
            .collect();
        assert!(!users.is_empty(), "{tool}");
        assert!(
            users.iter().all(|path| path.starts_with(room)),
            "{tool}: {users:?}"
        );
    }
    let (_, main) = shipped("bot/src")
        .into_iter()
        .find(|(path, _)| path == "bot/src/main.rs")
        .expect("main");
    assert!(
        main.code.lines().filter(|line| !line.trim().is_empty()).count() <= 12,
        "main decides nothing"
    );
}
