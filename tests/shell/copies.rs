//! A copy of the database: made beside a serve or not, and put back.

use super::{entries, north, verified};

#[tokio::test]
async fn what_is_backed_up_comes_back() {
    let shell = north();
    shell
        .say(
            "2026-03-03T08:00",
            "/did change north salt note the one that is kept",
        )
        .done();
    let ask = || shell.ask("2026-03-04T09:00", "/why north salt change").json();
    let (kept, first) = (entries(&shell.database()).await, ask());
    let made = shell.run(&["backup", "copy.db"]).done();
    assert!(made.contains("copy.db"), "{made}");
    let twice = shell.run(&["backup", "copy.db"]).failed(1);
    assert!(twice.contains("copy.db"), "{twice}");
    shell.say("2026-03-04T08:00", "/did change north salt").done();
    assert_ne!(ask()["turns"], first["turns"]);
    let told = shell.run(&["restore", "copy.db"]).done();
    assert!(
        told.contains("copy.db") && told.contains("before-restore"),
        "{told}"
    );
    assert_eq!(entries(&shell.database()).await, kept);
    assert_eq!(ask(), first);
    verified(&shell);
    assert_eq!(
        super::count(&shell.database(), "SELECT count(*) FROM note").await,
        1
    );
}

#[tokio::test]
async fn a_copy_made_beside_a_serve_is_whole() {
    let shell = north();
    let mut serve = shell.serve();
    shell.run(&["say", "--as", "Ada", "/read north 80%"]).done();
    shell.run(&["backup", "copy.db"]).done();
    let whole = entries(&shell.folder().join("copy.db")).await;
    assert_eq!(whole, entries(&shell.database()).await);
    assert_eq!(serve.stop().0, Some(0));
}

#[tokio::test]
async fn what_is_no_copy_is_not_put_back() {
    let shell = north();
    std::fs::write(shell.folder().join("notes.db"), "no database at all".repeat(300)).expect("a file");
    let before = entries(&shell.database()).await;
    for file in ["notes.db", "absent.db"] {
        let said = shell.run(&["restore", file]).failed(1);
        assert!(said.contains(file), "{said}");
    }
    assert_eq!(entries(&shell.database()).await, before);
    verified(&shell);
}
