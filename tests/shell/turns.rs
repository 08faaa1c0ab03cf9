//! Changes of plan that cannot be meant: one sentence, exit 1, and the journal as it was.

use std::collections::BTreeMap;

use wrackline_tests::binary::Shell;

use super::{count, north, verified};

const NOON: &str = "2026-03-01T12:00";

/// All that a refusal leaves alone.
async fn written(shell: &Shell) -> i64 {
    let all = "SELECT (SELECT count(*) FROM entry) * 1000 + (SELECT count(*) FROM inbound)
         + (SELECT version FROM place) * 1000000";
    count(&shell.database(), all).await
}

/// Holds that a line is refused in one sentence with these words, and that nothing is written.
async fn refused(shell: &Shell, who: &str, line: &str, words: &[&str]) {
    let before = written(shell).await;
    let said = shell.say_as(who, NOON, line).failed(1);
    for word in words {
        assert!(said.contains(word), "{line}: “{word}” is not in: {said}");
    }
    assert_eq!(written(shell).await, before, "{line}");
}

/// A change that is somebody's by the plan, in words that name it alone.
fn change(shell: &Shell, whose: &str) -> String {
    let told = shell.ask(NOON, &format!("/turns {whose} two weeks")).json();
    let turns = told["turns"].as_array().expect("turns");
    let is_it = |turn: &&serde_json::Value| {
        turn["duty"].as_str().is_some_and(|duty| duty.ends_with("change")) && turn["carer"] == whose
    };
    let turn = turns
        .iter()
        .rev()
        .find(is_it)
        .unwrap_or_else(|| panic!("no change in {told}"));
    let part = |name: &str| turn[name].as_str().expect("a word").to_owned();
    let words = ["enclosure", "pool", "day", "round"].map(part);
    format!("change {}", words.join(" "))
}

#[tokio::test]
async fn an_absence_or_an_offer_that_cannot_be() {
    let shell = north();
    shell.say(NOON, "/carer add Cleo regular").done();
    shell
        .say_as("Cleo", NOON, "/away from 2026-03-02 to 2026-03-30 sure")
        .done();
    refused(
        &shell,
        "Bea",
        "/away from 2026-03-08 to 2026-03-05",
        &["ends before it starts", "Nothing was saved."],
    )
    .await;
    let of_bea = change(&shell, "Bea");
    refused(
        &shell,
        "Cleo",
        &format!("/offer {of_bea} to Ada"),
        &["is not yours but Bea's", "offer one of your own"],
    )
    .await;
    refused(
        &shell,
        "Bea",
        &format!("/offer {of_bea} to Cleo"),
        &["Cleo is away then"],
    )
    .await;
    verified(&shell);
}

#[tokio::test]
async fn the_last_keeper_and_the_last_who_can_siphon_stay() {
    let shell = north();
    for line in [
        "/carer retire Ada",
        "/carer set Ada role regular",
        "/carer set Ada role helper",
    ] {
        refused(&shell, "Ada", line, &["keeper"]).await;
    }
    // A pool that cannot be lifted out asks for a siphon.
    shell.say(NOON, "/enclosure add South 300 L").done();
    shell.say(NOON, "/pool add south fresh 8 L stationary").done();
    shell.say(NOON, "/carer set Bea skill none").done();
    refused(&shell, "Ada", "/carer set Ada skill none", &["nobody could do"]).await;
    for line in [
        "/carer set Ada skill salt",
        "/carer set Ada skill salt lifts 50 kg",
    ] {
        refused(
            &shell,
            "Ada",
            line,
            &["nobody could do", "siphon", "/carer set NAME skill"],
        )
        .await;
    }
    verified(&shell);
}

#[tokio::test]
async fn a_sitter_after_their_span_is_refused_by_line_and_by_link() {
    let shell = north();
    shell
        .say(NOON, "/carer add Sven sitter from 2026-03-02 to 2026-03-08")
        .done();
    shell.say_as("Sven", "2026-03-08T23:00", "/due").done();
    let before = written(&shell).await;
    for line in ["/due", "/did change north salt"] {
        let said = shell.say_as("Sven", "2026-03-09T08:00", line).failed(1);
        assert!(
            said.contains("Your span ended on Sunday 8 March: ask Ada"),
            "{line}: {said}"
        );
    }
    // The machine's own clock is far behind that day.
    let said = shell.run(&["link", "--as", "Sven"]).failed(1);
    assert!(said.contains("The span of Sven ended on 2026-03-08"), "{said}");
    assert_eq!(written(&shell).await, before);
    verified(&shell);
}

#[tokio::test]
async fn whoever_leaves_turns_uncovered_is_told_which_and_that_the_keeper_is() {
    let shell = north();
    shell
        .say_as("Bea", NOON, "/away from 2026-03-04 to 2026-03-08 sure")
        .done();
    let line = "/away from 2026-03-05 to 2026-03-06";
    let before = written(&shell).await;
    let shown = shell.say(NOON, line).done();
    assert!(
        shown.contains("Not saved yet") && shown.contains("left with nobody"),
        "{shown}"
    );
    assert_eq!(written(&shell).await, before, "it is shown before it is saved");
    let made = shell.say(NOON, &format!("{line} sure")).done();
    assert!(made.contains("Left with nobody; Ada is told at once:"), "{made}");
    assert!(
        made.contains("North") && made.contains("nobody is there then"),
        "{made}"
    );
    verified(&shell);
}

/// The carers whom an answer of `--json` names, by enclosure, pool and duty: of each the first.
fn carers(shell: &Shell, now: &str, line: &str) -> BTreeMap<[String; 3], Option<String>> {
    let told = shell.ask(now, line).json();
    let mut all = BTreeMap::new();
    for turn in told["turns"].as_array().expect("turns") {
        let part = |name: &str| turn[name].as_str().unwrap_or_default().to_owned();
        let key = ["enclosure", "pool", "duty"].map(part);
        all.entry(key)
            .or_insert_with(|| turn["carer"].as_str().map(str::to_owned));
    }
    all
}

/// Holds that `/turns`, `/due` and `/why` name the same people for the same turns, and says for how many they do.
#[track_caller]
fn agree(shell: &Shell, now: &str) -> usize {
    let turns = carers(shell, now, "/turns all two weeks");
    let due = carers(shell, now, "/due all");
    let mut compared = 0;
    for (key, carer) in due.into_iter().chain(carers(shell, now, "/why north")) {
        if let Some(planned) = turns.get(&key) {
            assert_eq!(*planned, carer, "{now}: {key:?}");
            compared += 1;
        }
    }
    compared
}

/// What an answer about an absence tells of where turns go, without its title and what is asked in it.
fn moves(said: &str) -> Vec<&str> {
    let of_a_turn = |line: &&str| line.contains(" min") || line.contains("nobody");
    said.lines().skip(1).filter(of_a_turn).collect()
}

#[tokio::test]
async fn with_nobody_serving_all_lines_name_the_same_people_and_a_preview_is_what_stands() {
    let shell = north();
    shell.say(NOON, "/carer add Cleo regular").done();
    shell.say(NOON, "/enclosure add South 300 L crabs 2").done();
    shell.say(NOON, "/pool add south fresh 6 L").done();
    assert!(agree(&shell, NOON) > 3);
    let line = "/away from 2026-03-02 to 2026-03-05";
    let shown = shell.say_as("Bea", NOON, line).done();
    let made = shell.say_as("Bea", NOON, &format!("{line} sure")).done();
    assert!(!moves(&shown).is_empty(), "{shown}");
    assert_eq!(moves(&shown), moves(&made), "{shown}\n{made}");
    assert!(agree(&shell, NOON) > 3);
    let all = "/turns all two weeks";
    let plan = |now: &str| shell.ask(now, all).json()["turns"].clone();
    let before = plan(NOON);
    for who in ["Ada", "Bea", "Cleo"] {
        shell.say_as(who, NOON, "/carer set me private no").done();
    }
    assert_eq!(plan(NOON), before, "what was told stands");
    // Days later nobody has served yet, and what comes new lies with somebody.
    let later = "2026-03-03T21:00";
    agree(&shell, later);
    shell.say_as("Ada", later, "/did change north").done();
    assert!(agree(&shell, later) > 3);
    let line = "/away from 2026-03-06 to 2026-03-09";
    let shown = shell.say_as("Cleo", "2026-03-04T21:00", line).done();
    let made = shell
        .say_as("Cleo", "2026-03-04T21:00", &format!("{line} sure"))
        .done();
    assert_eq!(moves(&shown), moves(&made), "{shown}\n{made}");
    assert!(agree(&shell, "2026-03-04T21:00") > 3);
    verified(&shell);
}
