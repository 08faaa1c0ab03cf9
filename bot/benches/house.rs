//! What the house costs over a database in a file: the scheduler's step, lines, and the dispatcher.
//!
//! Whatever is compared is measured in turn, in one run, and the figures are medians. The database lies in the
//! folder of temporary files, so `TMPDIR` names the disk that is measured. Run it in a release build:
//! `cargo bench -p wrackline --bench house`.
#![allow(
    clippy::print_stdout,
    clippy::disallowed_methods,
    reason = "a benchmark reads the clock and prints"
)]

#[path = "house/database.rs"]
mod database;
#[path = "house/dispatch.rs"]
mod dispatch;
#[path = "house/figures.rs"]
mod figures;
#[path = "house/line.rs"]
mod line;
#[path = "house/model.rs"]
mod model;
#[path = "house/step.rs"]
mod step;
#[path = "house/twin.rs"]
mod twin;

fn main() {
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()
        .expect("a runtime");
    println!(
        "cargo bench -p wrackline --bench house; the database is in {}",
        std::env::temp_dir().display()
    );
    runtime.block_on(async {
        step::measure().await;
        line::measure().await;
        dispatch::measure().await;
    });
}
