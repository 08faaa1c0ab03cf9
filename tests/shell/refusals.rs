//! What cannot be meant is refused with one sentence, and nothing is written.

use super::{count, entries, north, verified};

/// Each line with a word that its refusal must hold.
const LINES: [(&str, &str); 16] = [
    ("/read north salt 140%", "140"),
    ("/read north 140 %", "0 to 100"),
    ("/did top-up north salt amount -3 L", "-3 L"),
    ("/did top-up north salt amount \u{2212}3 L", "3 L"),
    ("/pool set north salt volume -3 L", "-3 L"),
    ("/read north salt sg 1.9", "1.9"),
    ("/did change north salt at 2026-03-09 08:00", "2026-03-09"),
    ("/did change north salt at 23:59", "23:59"),
    ("/pool add north salt 5 kg", "5 kg"),
    ("/did top-up north salt amount 5 kg", "5 kg"),
    ("/did change south salt", "south"),
    ("/did change salt cove", "cove"),
    ("/did change no salt", "North"),
    ("/read north salt ppt", "reading"),
    ("/did change north salt part 140%", "140"),
    ("/frobnicate north", "frobnicate"),
];

#[tokio::test]
async fn what_cannot_be_meant_writes_nothing() {
    let shell = north();
    shell
        .say("2026-03-02T12:00", "/enclosure add Northwest 200 L")
        .done();
    shell
        .say("2026-03-02T12:00", "/pool add northwest salt 3 L")
        .done();
    shell
        .say("2026-03-02T12:00", "/pool add northwest fresh 3 L")
        .done();
    shell.say("2026-03-03T08:00", "/did change north salt").done();
    let tables = "SELECT (SELECT count(*) FROM entry) * 1000 + (SELECT count(*) FROM inbound) * 10
         + (SELECT count(*) FROM note) + (SELECT version FROM place) * 1000000";
    let before = count(&shell.database(), tables).await;
    for (line, word) in LINES {
        let said = shell.say("2026-03-04T09:00", line).failed(1);
        assert!(said.contains(word), "{line}: {said}");
        assert!(
            said.ends_with("Nothing was saved.") || said.ends_with("/help lists them."),
            "{line}: {said}"
        );
        assert_eq!(count(&shell.database(), tables).await, before, "{line}");
    }
    verified(&shell);
}

#[tokio::test]
async fn a_name_that_fits_two_pools_is_asked_about() {
    let shell = north();
    shell
        .say("2026-03-02T12:00", "/enclosure add Norwood 200 L")
        .done();
    shell.say("2026-03-02T12:00", "/pool add norwood salt 3 L").done();
    let before = entries(&shell.database()).await;
    let said = shell.say("2026-03-04T09:00", "/did change nor salt").failed(1);
    assert!(
        said.contains("North salt") && said.contains("Norwood salt"),
        "{said}"
    );
    assert_eq!(entries(&shell.database()).await, before);
    shell.say("2026-03-04T09:00", "/did change norw salt").done();
    assert_eq!(entries(&shell.database()).await, before + 1);
    verified(&shell);
}
