//! From the gateway's event to the answer, beside the bare bot and one bare commit.

use std::sync::Arc;
use std::time::{Duration, Instant};

use wrackline::store::sqlite::SqliteStore;
use wrackline::store::{Change, EntryRow, PlaceId, Store};
use wrackline_tests::platform::{DoubleConfig, Opt};
use wrackline_tests::stage::Stage;

use super::bare::Bare;
use super::{Scale, share, year};

/// Lines a second when it is busy; every fourth one writes.
const BUSY: u64 = 200;

pub(crate) async fn run(scale: Scale) {
    let folder = tempfile::tempdir().expect("a folder");
    let store = SqliteStore::open(&folder.path().join("house.db"))
        .await
        .expect("a store");
    let store: Arc<dyn Store> = Arc::new(store);
    let mut stage = Stage::over(DoubleConfig::default(), store.clone()).await;
    stage.connect().await;
    stage.set_up().await;
    year::write(&stage).await;
    let twin = store
        .create_place(false, &Change::default())
        .await
        .expect("a place");
    let bare = Bare::start().await;
    let (mut constant, mut due, mut did, mut commit) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    for number in 0..scale.pairs {
        constant.push(bare.answer().await);
        due.push(say(&stage, "due", &[]).await);
        constant.push(bare.answer().await);
        did.push(say(&stage, "did", &did_again()).await);
        commit.push(bare_commit(&*store, twin, number).await);
    }
    let middle = |values: &[f64]| share(values, 0.5);
    println!(
        "From event to answer, {} pairs, {} entries in the journal, medians in ms",
        scale.pairs,
        year::ENTRIES
    );
    println!(
        "  bare bot, a constant   {:.2} (p99 {:.2})",
        middle(&constant),
        share(&constant, 0.99)
    );
    println!("  one bare commit        {:.2}", middle(&commit));
    println!(
        "  /due                   {:.2} (p99 {:.2}): bare {:+.2}, aim ≤ +3",
        middle(&due),
        share(&due, 0.99),
        middle(&due) - middle(&constant)
    );
    println!(
        "  /did                   {:.2} (p99 {:.2}): bare and a commit {:+.2}, aim ≤ +5",
        middle(&did),
        share(&did, 0.99),
        middle(&did) - middle(&constant) - middle(&commit)
    );
    busy(&stage, scale.busy_s).await;
    stage.disconnect().await.expect("a good end");
}

fn did_again() -> [Opt; 3] {
    [
        Opt::text("duty", "top-up"),
        Opt::text("spot", "north salt"),
        Opt::bool("again", true),
    ]
}

async fn say(stage: &Stage, line: &str, options: &[Opt]) -> f64 {
    let act = stage
        .double
        .command(stage.channel, stage.maren, line, options)
        .expect("a command");
    act.first().await.took.as_secs_f64() * 1e3
}

async fn bare_commit(store: &dyn Store, place: PlaceId, number: usize) -> f64 {
    let seq = i64::try_from(number).expect("a small number") + 1;
    let entry = EntryRow {
        seq,
        at_ms: seq,
        logged_at_ms: seq,
        by: 1,
        said_by: 1,
        body: "{}".to_owned(),
    };
    let change = Change {
        entries: vec![entry],
        ..Change::default()
    };
    let begun = Instant::now();
    store.commit(place, seq, &change).await.expect("a commit");
    begun.elapsed().as_secs_f64() * 1e3
}

/// So many lines a second, whether the ones before are answered or not.
async fn busy(stage: &Stage, seconds: u64) {
    let begun = tokio::time::Instant::now();
    let mut acts = Vec::new();
    for number in 0..seconds * BUSY {
        tokio::time::sleep_until(begun + Duration::from_micros(number * 1_000_000 / BUSY)).await;
        let (line, options) = if number % 4 == 0 {
            ("did", did_again().to_vec())
        } else {
            ("due", Vec::new())
        };
        acts.push(
            stage
                .double
                .command(stage.channel, stage.maren, line, &options)
                .expect("a command"),
        );
    }
    let mut took = Vec::new();
    for act in acts {
        took.push(act.first().await.took.as_secs_f64() * 1e3);
    }
    println!(
        "  {BUSY} lines a second for {seconds} s: median {:.2}, p99 {:.2} (aim < 50), worst {:.2}",
        share(&took, 0.5),
        share(&took, 0.99),
        share(&took, 1.0)
    );
}
