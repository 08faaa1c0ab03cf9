//! A day in a practice place: what is logged counts once, and can be taken back.

use super::{count, entries, north, verified};
use wrackline_tests::binary::Shell;

#[tokio::test]
async fn a_place_is_made_and_its_first_lines_are_done() {
    let shell = Shell::new();
    let said = shell
        .run(&["init", "--zone", "Europe/London", "--keeper", "Ada"])
        .done();
    assert!(said.contains("Europe/London") && said.contains("Ada"), "{said}");
    assert_eq!(entries(&shell.database()).await, 2, "its zone and its keeper");
    shell
        .run(&["say", "--as", "Ada", "/enclosure add North 400 L"])
        .done();
    let asked = shell
        .run(&["say", "--as", "Ada", "--now", "2026-03-01T12:00", "/due"])
        .failed(1);
    assert!(asked.contains("--now") && asked.contains("practice"), "{asked}");
    let stranger = shell.run(&["say", "--as", "Zoe", "/due"]).failed(1);
    assert!(stranger.contains("Zoe") && stranger.contains("Ada"), "{stranger}");
    let zone = Shell::new()
        .run(&["init", "--zone", "Europe/Nowhere", "--keeper", "Ada"])
        .failed(1);
    assert!(zone.contains("Europe/Nowhere"), "{zone}");
    verified(&shell);
}

#[tokio::test]
async fn a_second_log_is_refused_unless_it_insists() {
    let shell = north();
    let first = shell.say("2026-03-03T08:12", "/did change north salt").done();
    assert!(
        first.starts_with("North salt changed, 08:12, by Ada. Next: Thursday 5 March, morning."),
        "{first}"
    );
    let before = entries(&shell.database()).await;
    let inbound = count(&shell.database(), "SELECT count(*) FROM inbound").await;
    let second = shell
        .say_as("Bea", "2026-03-03T08:32", "/did change north salt")
        .failed(1);
    for word in ["Ada", "08:12", "20 minutes ago", "Not logged again", "again"] {
        assert!(second.contains(word), "{word} in {second}");
    }
    assert_eq!(entries(&shell.database()).await, before);
    assert_eq!(
        count(&shell.database(), "SELECT count(*) FROM inbound").await,
        inbound
    );
    verified(&shell);
    let third = shell
        .say_as("Bea", "2026-03-03T08:33", "/did change north salt again")
        .done();
    assert!(third.contains("by Bea"), "{third}");
    assert_eq!(entries(&shell.database()).await, before + 1);
    verified(&shell);
}

#[tokio::test]
async fn what_is_taken_back_counts_no_longer() {
    let shell = north();
    shell.say("2026-03-03T08:12", "/did change north salt").done();
    let why = |now: &str| shell.ask(now, "/why north salt change").json()["turns"][0].clone();
    let before = why("2026-03-03T08:13");
    shell.say("2026-03-04T09:00", "/did change north salt").done();
    let between = why("2026-03-04T09:01");
    assert_eq!(between["last"], "2026-03-04T09:00:00-05:00");
    assert_eq!(between["due"], "2026-03-06T08:00:00-05:00");
    let all = entries(&shell.database()).await;
    let undone = shell.say("2026-03-04T09:05", "/undo").done();
    assert!(
        undone.contains("North salt: change") && undone.contains("09:00"),
        "{undone}"
    );
    assert_eq!(
        entries(&shell.database()).await,
        all + 1,
        "the journal keeps both"
    );
    let after = why("2026-03-04T09:06");
    for part in ["last", "due", "overdue", "hazard", "mark"] {
        assert_eq!(after[part], before[part], "{part}");
    }
    verified(&shell);
}

#[test]
fn air_counts_from_the_date_that_was_said() {
    let shell = north();
    shell.say("2026-03-04T08:00", "/did change north salt").done();
    shell
        .say(
            "2026-03-12T10:00",
            "/gear add north salt air from 2026-03-10 09:00",
        )
        .done();
    let text = |line: &str| shell.ask("2026-03-12T11:00", line).json()["text"].to_string();
    let before = text("/why north salt change at 2026-03-09 12:00");
    assert!(
        before.contains("stands still") && before.contains("every 2 days"),
        "{before}"
    );
    assert!(!before.to_lowercase().contains("aerated"), "{before}");
    let after = text("/why north salt change at 2026-03-11 12:00");
    assert!(
        after.contains("aerated") && after.contains("Tuesday 10 March 09:00"),
        "{after}"
    );
    shell.say("2026-03-12T12:00", "/did change north salt").done();
    let changed = shell.ask("2026-03-12T12:01", "/why north salt change").json();
    assert!(changed["text"].to_string().contains("every 7 days"), "{changed}");
    assert_eq!(
        changed["turns"][0]["due"],
        "2026-03-19T12:00:00-04:00".replace("12:00:00", "08:00:00")
    );
    // The same question asked with the clock of that day is answered as it was true then.
    let then = shell.ask("2026-03-09T12:00", "/why north salt change").json()["text"].to_string();
    assert!(
        then.contains("stands still") && !then.to_lowercase().contains("aerated"),
        "{then}"
    );
    verified(&shell);
}
