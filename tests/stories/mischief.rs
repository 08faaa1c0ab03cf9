//! What people type is shown as typed: it calls nobody, links nowhere and breaks out of nothing.

use wrackline_tests::platform::{Message, Opt};
use wrackline_tests::stage::Stage;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn nothing_typed_calls_anybody_or_reads_as_markup() {
    let mut stage = Stage::new().await;
    stage.set_up().await;
    let victim = stage.double.member(stage.guild, "Victim Example");
    let typed = [
        "@everyone".to_owned(),
        "@here <@&5>".to_owned(),
        format!("<@{}> <@!{}>", victim.0, victim.0),
        "**bold** `code` ```block``` ||hidden||".to_owned(),
        "[name](https://example.org) https://example.org/x".to_owned(),
        "# heading\n> quote\n-# small".to_owned(),
        "x".repeat(1_200),
    ];
    for note in &typed {
        // Each crab that is out is posted by itself; wet substrate is posted once, and then edited.
        for sighting in ["escape", "wet substrate"] {
            let options = [
                Opt::text("sighting", sighting),
                Opt::text("spot", "north"),
                Opt::text("note", note),
            ];
            let answer = stage.say(stage.ilja, "saw", &options).await;
            assert!(answer.calls_nobody(), "{note}: {}", answer.text());
            stage.turn().await;
        }
    }
    let names = [Opt::text("name", "@everyone"), Opt::text("volume", "300 L")];
    stage.say(stage.maren, "enclosure add", &names).await;
    let due = stage.say(stage.ilja, "due", &[]).await;
    assert!(due.calls_nobody(), "{}", due.text());
    let posts = stage.posts();
    assert_eq!(posts.len(), typed.len() + 1, "{posts:#?}");
    let edits: usize = posts.iter().map(Message::edits).sum();
    assert!(edits >= typed.len() - 1, "{edits} edits");
    for post in &posts {
        for version in &post.history {
            assert!(
                !version.notified.everyone && version.notified.roles.is_empty(),
                "{}",
                post.text()
            );
            // An alarm calls the keeper, and nobody else.
            let called: Vec<_> = version.notified.users.iter().copied().collect();
            assert!(
                called.is_empty() || called == [stage.maren],
                "{called:?}: {}",
                post.text()
            );
        }
        assert!(!post.text().contains("\n**bold**"), "{}", post.text());
    }
    let first = &posts[0].history[0];
    assert_eq!(first.notified.users.len(), 1, "an alarm calls its keeper");
    stage.double.assert_faultless();
}
