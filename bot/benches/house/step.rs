//! The scheduler's step: as many turns that are due, among many that are scheduled and among few.

use std::time::Instant;

use jiff::Timestamp;
use sqlx::query;
use wrackline::engine;

use crate::database::{Database, FIRST};
use crate::figures::{median, p95, timed};
use crate::model::Model;

const DAYS: i64 = 3;
const FEW: i64 = 10_000;
const MANY: i64 = 1_000_000;
const DUE: usize = 1_000;
const RUNS: usize = 31;

/// The scheduler over so many places, and what its steps took in milliseconds.
struct Scheduler {
    database: Database,
    due_places: i64,
    /// Of so many places one is due: they lie all over the file.
    one_of: i64,
    now: Timestamp,
    seen: i64,
    entries: i64,
    steps: Vec<f64>,
    finding: Vec<f64>,
}

impl Scheduler {
    async fn of(model: &Model, places: i64, due_places: i64) -> Self {
        let change = model.change();
        let now = model.at(0, 8 * 60);
        assert_eq!(
            change.next_at_ms,
            Some(Some(now.as_millisecond())),
            "the morning's round is next"
        );
        let mut database = Database::of(&change).await;
        database.copy_until(places).await;
        Self {
            database,
            due_places,
            one_of: places / due_places,
            now,
            seen: change.seen_at_ms.unwrap_or(0),
            entries: i64::try_from(change.entries.len()).expect("a few"),
            steps: Vec::new(),
            finding: Vec::new(),
        }
    }

    /// Undoes the step before: the same places are due as they were.
    async fn again(&mut self) {
        self.database.run("DELETE FROM post_key").await;
        self.database.run("DELETE FROM post").await;
        let text = "DELETE FROM entry WHERE (place - 1) % $1 = 0 AND place <= $1 * $2 AND seq > $3";
        let entries = query(text)
            .bind(self.one_of)
            .bind(self.due_places)
            .bind(self.entries);
        entries
            .execute(&mut self.database.bare)
            .await
            .expect("no entries");
        let text = "UPDATE place SET next_at = $3, seen_at = $4 WHERE (id - 1) % $1 = 0 AND id <= $1 * $2";
        let places = query(text).bind(self.one_of).bind(self.due_places);
        let places = places.bind(self.now.as_millisecond()).bind(self.seen);
        places.execute(&mut self.database.bare).await.expect("places");
        self.database.empty_log().await;
    }

    async fn step(&mut self) {
        self.again().await;
        let (app, _) = self.database.house(self.now);
        let store = &self.database.store;
        let (spent, found) = timed(store.due_places(self.now.as_millisecond(), 200)).await;
        self.finding.push(spent);
        assert_eq!(found.expect("places").len() as i64, self.due_places);
        let (spent, dealt) = timed(engine::step(&app.house)).await;
        self.steps.push(spent);
        assert_eq!(dealt.expect("a step") as i64, self.due_places);
        assert_eq!(
            self.database.number("SELECT count(*) FROM post").await,
            self.due_places,
            "a call each"
        );
    }

    fn forget(&mut self) {
        self.steps.clear();
        self.finding.clear();
    }
}

/// Measures and prints.
pub(crate) async fn measure() {
    let model = Model::of_days(DAYS).await;
    let due = model.due(model.at(0, 8 * 60));
    let due_places = DUE.div_ceil(due) as i64;
    let rows = model.change().standings.map_or(0, |rows| rows.len()) as i64;
    let clock = Instant::now();
    let mut few = Scheduler::of(&model, FEW / rows, due_places).await;
    let mut many = Scheduler::of(&model, MANY / rows, due_places).await;
    println!(
        "\nA step with {} turns due in {due_places} places, {RUNS} runs, books not in hand",
        due as i64 * due_places
    );
    let (in_few, in_many) = (few.scheduled().await, many.scheduled().await);
    println!(
        "set up in {:.1} s: {in_few} turns scheduled, and {in_many}",
        clock.elapsed().as_secs_f64()
    );
    for run in 0..=RUNS {
        if run == 1 {
            // The run before was for warming up.
            few.forget();
            many.forget();
        }
        // Who comes first changes from run to run.
        if run % 2 == 0 {
            few.step().await;
            many.step().await;
        } else {
            many.step().await;
            few.step().await;
        }
    }
    print(&few, &many, due as f64 * due_places as f64);
    assert_eq!((in_few, in_many), (few.scheduled().await, many.scheduled().await));
    assert_eq!(
        few.database.store.standings(FIRST).await.expect("marks").len() as i64,
        rows
    );
}

impl Scheduler {
    async fn scheduled(&mut self) -> i64 {
        self.database.number("SELECT count(*) FROM standing").await
    }
}

fn print(few: &Scheduler, many: &Scheduler, turns: f64) {
    for (name, steps) in [("few", &few.steps), ("many", &many.steps)] {
        let (middle, worst) = (median(steps), p95(steps));
        let per_second = turns / middle * 1e3;
        println!("step among {name}: median {middle:.1} ms, p95 {worst:.1} ms, {per_second:.0} turns/s");
    }
    let pairs: Vec<f64> = many
        .steps
        .iter()
        .zip(&few.steps)
        .map(|(many, few)| many / few)
        .collect();
    println!(
        "ratio of steps, many to few: {:.2} (aim: at most 1.5); pair by pair: median {:.2}",
        median(&many.steps) / median(&few.steps),
        median(&pairs)
    );
    println!(
        "finding the places that are due: {:.2} ms among few, {:.2} ms among many",
        median(&few.finding),
        median(&many.finding)
    );
}
