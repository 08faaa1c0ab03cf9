//! A place with a year of journal, written behind the house's back.

use wrackline::store::{Change, EntryRow};
use wrackline_tests::platform::Opt;
use wrackline_tests::stage::Stage;

/// Entries of a year.
pub(crate) const ENTRIES: i64 = 10_000;

/// Copies what was logged once all over the year before the stage's noon.
pub(crate) async fn write(stage: &Stage) {
    let options = [Opt::text("duty", "change"), Opt::text("spot", "north fresh")];
    let answer = stage.say(stage.maren, "did", &options).await;
    assert!(answer.text().contains("changed"), "{}", answer.text());
    let place = stage.place().await;
    let tail = stage.store.tail(place, 0).await.expect("a journal");
    let model = tail.entries.last().expect("the entry").clone();
    let year_ms = 365 * 24 * 60 * 60 * 1_000;
    let mut seq = tail.head.last_seq;
    let mut version = tail.head.version;
    let mut left: Vec<i64> = (0..ENTRIES).collect();
    while !left.is_empty() {
        let part: Vec<i64> = left.drain(..left.len().min(500)).collect();
        let entries = part.iter().map(|number| {
            seq += 1;
            EntryRow {
                seq,
                at_ms: model.at_ms - year_ms + number * (year_ms / ENTRIES),
                logged_at_ms: model.logged_at_ms + number + 1,
                ..model.clone()
            }
        });
        let change = Change {
            entries: entries.collect(),
            ..Change::default()
        };
        version = stage
            .store
            .commit(place, version, &change)
            .await
            .expect("a commit");
    }
    stage.at("2026-03-01 12:10");
}
