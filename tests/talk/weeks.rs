//! The week's summary: one message, or pages.

use std::sync::Arc;

use jiff::Timestamp;
use wrackline::app::App;
use wrackline::chat::blocks::Answer;
use wrackline::chat::{pages, plain};
use wrackline::clock::SetClock;
use wrackline::commands::init::make_place;
use wrackline::house::Input;
use wrackline::replay::{Scenario, Stage};
use wrackline::store::Store;
use wrackline::store::sqlite::SqliteStore;
use wrackline_core::civil::{Zone, plus_days};
use wrackline_core::place::CarerId;

/// The longest message that a transport takes, in characters.
const CHARS_MAX: usize = 2_000;

/// The seed of the demo's carers.
const SEED: u64 = 7;

/// What the demo's keeper is answered to lines after twelve days.
async fn demo(lines: &[&str]) -> Vec<Answer> {
    eprintln!("seed {SEED}");
    let zone = Zone::get("Europe/London").expect("a zone");
    let scenario = Scenario::load("demo").expect("the demo");
    let store: Arc<dyn Store> = Arc::new(SqliteStore::open_memory().await.expect("a store"));
    let clock = Arc::new(SetClock::at(Timestamp::UNIX_EPOCH));
    let place = make_place(&*store, &zone, &scenario.keeper, &scenario.name, true)
        .await
        .expect("a place");
    let app = App::new(store, clock.clone());
    let first = jiff::civil::date(2026, 3, 5);
    let stage = Stage::set(
        app.house.clone(),
        clock,
        app.porch.clone(),
        (place, zone.clone()),
        &scenario,
        (first, SEED),
    );
    let mut stage = stage.await.expect("the set-up");
    let end = zone.instant(plus_days(first, 12).at(21, 0, 0, 0));
    stage.play(end, end).await.expect("the play");
    let mut answers = Vec::new();
    for line in lines {
        answers.push(stage.hear(CarerId(1), Input::Line((*line).to_owned())).await);
    }
    answers
}

#[tokio::test]
async fn the_week_of_a_club_fits_one_message() {
    let answers = demo(&["/week", "/week last", "/week full", "/week last full"]).await;
    for short in &answers[..2] {
        let text = plain::text(&short.blocks);
        assert!(
            short.ok && text.chars().count() <= CHARS_MAX,
            "{} characters: {text}",
            text.chars().count()
        );
        assert!(
            text.contains("Week") && text.contains("in time") && text.contains("Maren"),
            "{text}"
        );
    }
    assert!(
        plain::text(&answers[1].blocks).contains("W11") && plain::text(&answers[0].blocks).contains("W12")
    );
    for full in &answers[2..] {
        let all = pages::pages(&full.blocks, CHARS_MAX);
        let sizes: Vec<usize> = all.iter().map(|page| plain::text(page).chars().count()).collect();
        assert!(
            sizes.iter().all(|size| (1..=CHARS_MAX).contains(size)),
            "{sizes:?}"
        );
        let paged: String = all
            .iter()
            .map(|page| plain::text(page))
            .collect::<Vec<_>>()
            .join("\n");
        for (enclosure, water) in [
            ("Dune", "fresh"),
            ("Dune", "salt"),
            ("Reef", "salt"),
            ("Cove", "fresh"),
        ] {
            assert!(
                paged.contains(&format!("{enclosure} {water}")),
                "{enclosure} {water}: {paged}"
            );
        }
    }
}
