//! Kills the program under load and compares what people saw with what stands.
//!
//!     cargo run -p wrackline-tests --bin kills -- --count 200

use std::io::{Write, stdout};
use std::process::ExitCode;

use clap::{Parser, ValueEnum};
use wrackline_tests::kills::{Base, Plan, run};

/// What the place is kept in.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum Kept {
    Sqlite,
    Postgres,
    Both,
}

/// Kill the program under load, and compare what people saw with what stands.
#[derive(Debug, Parser)]
struct Asked {
    /// How often, on each database.
    #[arg(long, default_value_t = 200)]
    count: u32,
    /// What moments and deeds are drawn from.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// What the place is kept in.
    #[arg(long, value_enum, default_value_t = Kept::Both)]
    database: Kept,
}

fn say(line: String) {
    // Nobody reads any more: the exit code tells all the same.
    drop(writeln!(stdout(), "{line}"));
}

#[tokio::main(flavor = "multi_thread", worker_threads = 4)]
async fn main() -> ExitCode {
    let asked = Asked::parse();
    let bases: &[Base] = match asked.database {
        Kept::Sqlite => &[Base::Sqlite],
        Kept::Postgres => &[Base::Postgres],
        Kept::Both => &[Base::Sqlite, Base::Postgres],
    };
    let mut whole = true;
    for base in bases {
        say(format!("{base:?}, seed {}", asked.seed));
        let plan = Plan {
            seed: asked.seed,
            kills: asked.count,
            base: *base,
        };
        let report = run(plan, say).await;
        say(report.to_string());
        whole &= report.is_whole();
    }
    if whole {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}
