//! Scenarios in virtual time: what the chat shows, and when.

mod clocks;
mod club;
mod family;
mod lived;
mod sitter;
mod transcript;

use std::collections::BTreeMap;

use self::transcript::{messages, posts};
use wrackline_tests::binary::Shell;

fn replay(arguments: &[&str]) -> String {
    Shell::new().run(&[&["replay"], arguments].concat()).done()
}

fn demo(seed: &str) -> String {
    let from = [
        "--scenario",
        "demo",
        "--from",
        "2026-03-05",
        "--days",
        "14",
        "--zone",
        "America/New_York",
    ];
    replay(&[&from[..], &["--seed", seed]].concat())
}

#[test]
fn a_seed_gives_the_same_bytes_every_time() {
    let (first, second, other) = std::thread::scope(|scope| {
        let first = scope.spawn(|| demo("7"));
        let second = scope.spawn(|| demo("7"));
        (
            first.join().expect("a replay"),
            second.join().expect("a replay"),
            demo("8"),
        )
    });
    assert!(first == second, "seed 7 gave two transcripts");
    assert_ne!(first, other);
    assert!(first.lines().count() > 500, "{} lines", first.lines().count());
    // The set-up stands before the first day, the last line within the last one.
    let said = messages(&first);
    assert!(
        said.first()
            .is_some_and(|one| one.stamp.starts_with("2026-03-04 12:00 -05:00"))
    );
    assert!(said.last().is_some_and(|one| one.stamp < "2026-03-19"));
    no_post_disturbs_the_night(&first);
    no_call_stands_twice(&first);
    no_call_stands_twice(&other);
    no_post_disturbs_the_night(&other);
}

/// The demo's quiet hours are 22:00 to 07:00.
fn no_post_disturbs_the_night(transcript: &str) {
    let all = posts(transcript);
    assert!(all.len() > 30, "{} posts", all.len());
    for post in &all {
        let time = &post.stamp[11..16];
        let title = post.title.to_lowercase();
        let danger = title.contains("humidity") || (title.contains("leak") && title.contains("seen"));
        let quiet = !("07:00".."22:00").contains(&time);
        assert!(!quiet || danger, "{} {}", post.stamp, post.title);
    }
    // What has its own cue is there: a leak, its end, and a long humid spell.
    let titles: Vec<String> = all.iter().map(|post| post.title.to_lowercase()).collect();
    for words in [
        ["leak", "by ilja"],
        ["settled", "cove salt"],
        ["humidity", "85 %"],
        ["week", "w10"],
    ] {
        let shown = titles
            .iter()
            .filter(|title| words.iter().all(|word| title.contains(word)))
            .count();
        assert!((1..=2).contains(&shown), "{words:?} stands {shown} times");
    }
}

fn no_call_stands_twice(transcript: &str) {
    let mut calls: BTreeMap<&str, u32> = BTreeMap::new();
    for post in posts(transcript)
        .iter()
        .filter(|post| post.title.contains(" round, "))
    {
        let (call, _) = post.title.split_once(" · ").expect("a call with its turns");
        *calls.entry(call).or_default() += 1;
    }
    assert!(calls.len() >= 5, "{calls:?}");
    assert!(calls.values().all(|count| *count == 1), "{calls:?}");
}

/// The calls of the night scenario around a date: round and date as called, and when.
fn calls(transcript: &str) -> Vec<(String, String)> {
    let calls = posts(transcript);
    let calls = calls.iter().filter(|post| post.title.contains(" round, "));
    let named = calls.filter_map(|post| Some((post.title.split_once(" · ")?.0, post.stamp)));
    named
        .map(|(call, stamp)| (call.to_owned(), stamp.to_owned()))
        .collect()
}

const OWN: &str = r#"
name = "Windowsill"
zone = "Europe/London"
keeper = "Runa"
set_up = [
    "/rounds add noon 12:00",
    "/enclosure add North 200 L",
    "/pool add north salt 6 L",
]

[[carer]]
name = "Runa"
late = 0.0
minutes = [5, 10]

[[said]]
day = 2
time = "18:00"
who = "Runa"
line = "/did top-up north salt"
"#;

#[test]
fn a_scenario_of_ones_own_is_played() {
    let shell = Shell::new();
    std::fs::write(shell.folder().join("own.toml"), OWN).expect("the file");
    let arguments = |days| {
        [
            "replay",
            "--scenario",
            "own.toml",
            "--from",
            "2026-06-01",
            "--days",
            days,
        ]
    };
    let shown = shell.run(&arguments("3")).done();
    let calls = calls(&shown);
    assert!(
        calls.iter().all(|(_, at)| at[11..].starts_with("12:00 +01:00")),
        "{calls:?}"
    );
    assert_eq!(calls.len(), 3, "{calls:?}");
    assert!(
        shown.contains("2026-06-02 18:00 +01:00  Runa      /did top-up north salt"),
        "{shown}"
    );
    let long = shell.run(&arguments("401")).failed(1);
    assert!(long.contains("400 days"), "{long}");
    assert!(!shell.database().exists(), "a replay leaves nothing behind");
}

#[test]
fn what_is_no_scenario_is_refused() {
    let shell = Shell::new();
    std::fs::write(shell.folder().join("broken.toml"), "name = 3").expect("the file");
    let bad_line = OWN.replace("/pool add north salt 6 L", "/pool add south salt 6 L");
    std::fs::write(shell.folder().join("refused.toml"), bad_line).expect("the file");
    let run = |name| {
        shell
            .run(&[
                "replay",
                "--scenario",
                name,
                "--from",
                "2026-06-01",
                "--days",
                "1",
            ])
            .failed(1)
    };
    let unknown = run("nowhere");
    assert!(
        unknown.contains("nowhere") && unknown.contains("demo, night, family, club, sitter"),
        "{unknown}"
    );
    assert!(run("broken.toml").contains("broken.toml"));
    let refused = run("refused.toml");
    assert!(
        refused.contains("/pool add south salt 6 L") && refused.contains("south"),
        "{refused}"
    );
    let habit = OWN.replace("name = \"Runa\"\nlate", "name = \"Teo\"\nlate");
    std::fs::write(shell.folder().join("habit.toml"), habit).expect("the file");
    assert!(run("habit.toml").contains("habits of Teo"));
    std::fs::write(shell.folder().join("own.toml"), OWN).expect("the file");
    let dateless = shell.run(&["replay", "--scenario", "own.toml"]).failed(1);
    assert!(
        dateless.contains("own.toml") && dateless.contains("--from"),
        "{dateless}"
    );
    let zone = shell
        .run(&["replay", "--from", "2026-06-01", "--zone", "Europe/Nowhere"])
        .failed(1);
    assert!(zone.contains("Europe/Nowhere"), "{zone}");
}
