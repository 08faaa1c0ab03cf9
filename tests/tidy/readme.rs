//! That the README speaks of the commands that there are.

use std::collections::BTreeSet;
use std::fs;

use super::root;
use wrackline_tests::binary::Shell;

/// The words behind every `wrackline` in code of a page: on lines of their own, or between backticks.
fn commands(page: &str) -> Vec<Vec<String>> {
    let shown = page
        .lines()
        .filter(|line| line.starts_with("    "))
        .map(str::to_owned);
    let inline = page
        .split('`')
        .skip(1)
        .step_by(2)
        .map(|code| format!("    {code}"));
    let mut all = Vec::new();
    for line in shown.chain(inline) {
        let line = line.trim().trim_start_matches("$ ");
        // Cargo runs the program too, with what stands behind its two dashes.
        let by_cargo = line
            .strip_prefix("cargo run")
            .and_then(|rest| rest.split_once(" -- "))
            .map(|(_, rest)| rest);
        if let Some(rest) = line.strip_prefix("wrackline ").or(by_cargo) {
            // What stands in quotation marks is a line to say, not a part of the command.
            let bare: String = rest.split('"').step_by(2).collect();
            all.push(bare.split_whitespace().map(str::to_owned).collect());
        }
    }
    all
}

/// The commands that the program lists.
fn known(shell: &Shell) -> BTreeSet<String> {
    let help = shell.run(&["help"]).done();
    let (_, rest) = help.split_once("Commands:\n").expect("commands");
    let names = rest
        .lines()
        .take_while(|line| line.starts_with("  "))
        .filter_map(|line| line.split_whitespace().next());
    names.filter(|name| *name != "help").map(str::to_owned).collect()
}

#[test]
fn the_readme_names_the_commands_that_there_are() {
    let shell = Shell::new();
    let known = known(&shell);
    assert!(known.len() >= 8, "{known:?}");
    let page = fs::read_to_string(root().join("README.md")).expect("the README");
    let mut named = BTreeSet::new();
    for words in commands(&page) {
        let command = words.first().expect("a command");
        assert!(
            known.contains(command),
            "the README says wrackline {}",
            words.join(" ")
        );
        let help = shell.run(&["help", command]).done();
        for option in words.iter().filter(|word| word.starts_with("--")) {
            let option = option.split('=').next().unwrap_or(option);
            assert!(help.contains(option), "wrackline {command} has no {option}");
        }
        named.insert(command.clone());
    }
    assert_eq!(named, known, "each command is shown once at least");
}

#[test]
fn the_readme_names_the_settings_that_there_are() {
    let page = fs::read_to_string(root().join("README.md")).expect("the README");
    let config = fs::read_to_string(root().join("bot/src/config.rs")).expect("the settings");
    let settings = |text: &str| -> BTreeSet<String> {
        let starts = text.match_indices("WRACKLINE_").map(|(at, _)| &text[at..]);
        starts
            .map(|rest| {
                rest.chars()
                    .take_while(|c| c.is_ascii_uppercase() || *c == '_')
                    .collect()
            })
            .collect()
    };
    let (said, there) = (settings(&page), settings(&config));
    assert!(!there.is_empty());
    assert_eq!(said, there);
}
