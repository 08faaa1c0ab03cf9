//! Lets random places share their work for eight weeks and says how even it was.
//!
//!     cargo run -p wrackline-tests --release --bin rota -- --count 1000 --seed 1

use std::io::{Write, stdout};
use std::process::ExitCode;

use clap::Parser;
use wrackline_tests::rota::{Manner, Report, live_all};

/// Let random places share their work, and compare it with what could have been.
#[derive(Debug, Parser)]
struct Asked {
    /// How many places.
    #[arg(long, default_value_t = 1000)]
    count: u64,
    /// The first one's seed; the others follow.
    #[arg(long, default_value_t = 1)]
    seed: u64,
    /// Everyone does what is theirs when it is due.
    #[arg(long)]
    as_planned: bool,
    /// Says how each place fared, not only those that miss.
    #[arg(long)]
    each: bool,
}

fn say(line: &impl std::fmt::Display) {
    // Nobody reads any more: the exit code tells all the same.
    drop(writeln!(stdout(), "{line}"));
}

fn main() -> ExitCode {
    let asked = Asked::parse();
    let manner = if asked.as_planned {
        Manner::AsPlanned
    } else {
        Manner::AsTheyCome
    };
    let report = Report {
        all: live_all(asked.seed..asked.seed + asked.count, manner),
    };
    for one in report
        .all
        .iter()
        .filter(|one| asked.each || one.misses() || !one.broken.is_empty())
    {
        say(one);
    }
    say(&report);
    if report.is_whole() {
        ExitCode::SUCCESS
    } else {
        ExitCode::FAILURE
    }
}
