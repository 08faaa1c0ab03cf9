//! A line, from hearing it to its answer, beside one bare commit of the rows that it wrote.

use std::sync::Arc;

use wrackline::app::App;
use wrackline::clock::SetClock;
use wrackline::engine;
use wrackline::house::{Input, Said};

use crate::database::{Database, FIRST};
use crate::figures::{median, p95, timed};
use crate::model::Model;
use crate::twin::{Rows, State, TWIN};

const DAYS_BEFORE: i64 = 365;
const DAYS: i64 = 84;
const COLD_RUNS: usize = 9;
const TWO_DAYS_MS: i64 = 48 * 3_600_000;

/// What is done every morning; water is changed every second day.
const LOOKS: [&str; 3] = ["north", "south", "east"];
const POOLS: [&str; 6] = [
    "north fresh",
    "north salt",
    "south fresh",
    "south salt",
    "east fresh",
    "east salt",
];

/// Times in milliseconds.
#[derive(Default)]
struct Times {
    due: Vec<f64>,
    did: Vec<f64>,
    bare: Vec<f64>,
}

/// A house with the place of a year and its twin.
struct Scene {
    database: Database,
    app: App,
    clock: Arc<SetClock>,
    model: Model,
    said: u32,
}

impl Scene {
    async fn say(&mut self, line: &str) -> (f64, String) {
        self.said += 1;
        let id = format!("bench:{}", self.said);
        let input = Input::Line(line.to_owned());
        let said = Said {
            place: FIRST,
            carer: 1,
            id: id.clone(),
            input,
            photo: None,
        };
        let (spent, answer) = timed(self.app.house.hear(said)).await;
        assert!(answer.ok, "“{line}” was refused: {answer:?}");
        (spent, id)
    }

    /// A round is called in both places, and all its lines are said.
    async fn morning(&mut self, day: i64, times: &mut Times) {
        self.clock.put(self.model.at(day, 8 * 60));
        while engine::step(&self.app.house).await.expect("a step") > 0 {}
        let duty = if day % 2 == 0 { "change" } else { "topup" };
        let looks = LOOKS.iter().map(|spot| format!("/did look {spot}"));
        let lines: Vec<String> = looks
            .chain(POOLS.iter().map(|pool| format!("/did {duty} {pool}")))
            .collect();
        for (minute, line) in (8 * 60 + 5..).zip(lines) {
            let now = self.model.at(day, minute);
            self.clock.put(now);
            let since = now.as_millisecond() - TWO_DAYS_MS;
            times.due.push(self.say("/due").await.0);
            let store = self.database.store.clone();
            let before = State::of(&*store, FIRST, since).await;
            let (spent, id) = self.say(&line).await;
            times.did.push(spent);
            let rows = Rows::since(&*store, &before, &id, since).await;
            let (spent, written) = timed(rows.write(&mut self.database.bare)).await;
            written.expect("a commit");
            times.bare.push(spent);
        }
    }

    /// The first answer of a house that has not read the journal yet.
    async fn cold(&mut self, day: i64) -> f64 {
        let mut spent = Vec::new();
        for _ in 0..COLD_RUNS {
            (self.app, self.clock) = self.database.house(self.model.at(day, 8 * 60));
            spent.push(self.say("/due").await.0);
        }
        median(&spent)
    }
}

/// Measures and prints.
pub(crate) async fn measure() {
    let model = Model::of_days(DAYS_BEFORE).await;
    let mut database = Database::of(&model.change()).await;
    database.copy_until(TWIN).await;
    // Twins are dealt with in the same step.
    database
        .run("UPDATE place SET next_at = (SELECT next_at FROM place WHERE id = 1)")
        .await;
    let (app, clock) = database.house(model.at(0, 0));
    let entries = model.book.last_seq();
    let mut scene = Scene {
        database,
        app,
        clock,
        model,
        said: 0,
    };
    let cold = scene.cold(0).await;
    let mut times = Times::default();
    for day in 0..DAYS {
        scene.morning(day, &mut times).await;
    }
    let store = &scene.database.store;
    let twins = [store.standings(FIRST).await, store.standings(TWIN).await].map(|rows| rows.expect("marks"));
    assert_eq!(twins[0], twins[1], "the bare commits wrote the same");
    println!(
        "\nLines at a place with {entries} entries of {DAYS_BEFORE} days, {} times each",
        times.did.len()
    );
    let row =
        |name: &str, all: &[f64]| println!("{name}: median {:.2} ms, p95 {:.2} ms", median(all), p95(all));
    row("/due", &times.due);
    row("/did", &times.did);
    row("one bare commit of the same rows", &times.bare);
    let over: Vec<f64> = times
        .did
        .iter()
        .zip(&times.bare)
        .map(|(did, bare)| did - bare)
        .collect();
    println!(
        "/did over the bare commit: {:+.2} ms at the median (ratio {:.2}), {:+.2} ms at p95 (aim: at most 2 ms)",
        median(&times.did) - median(&times.bare),
        median(&times.did) / median(&times.bare),
        p95(&times.did) - p95(&times.bare)
    );
    println!(
        "/did over the bare commit, pair by pair: median {:+.2} ms",
        median(&over)
    );
    println!("/due of a house that reads the journal first: {cold:.1} ms, {COLD_RUNS} runs");
}
