//! What was answered is there once and what is to be posted is out once, however often a process is killed.

mod moved;
mod together;

use wrackline_tests::kills::{Base, Plan, run};

/// Kills on each database.
const KILLS: u32 = 10;

#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn kills_lose_nothing_and_double_nothing() {
    let seed = 20_261_125;
    let one = |base| {
        let plan = Plan {
            seed,
            kills: KILLS,
            base,
        };
        run(plan, |line| eprintln!("{line}"))
    };
    let both = tokio::join!(one(Base::Sqlite), one(Base::Postgres));
    for report in [both.0, both.1] {
        eprintln!("seed {seed}: {report}");
        assert!(report.is_whole(), "seed {seed}: {report}");
        assert!(report.lines >= 60, "too little was done: {report}");
        assert!(report.posts >= 30, "too little was posted: {report}");
    }
}
