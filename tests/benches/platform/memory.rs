//! Anonymous resident memory of the program at rest, beside the bare bot.

use std::time::Duration;

use wrackline_tests::binary::{Serve, Shell};
use wrackline_tests::platform::{Double, DoubleConfig};

use super::Scale;
use super::bare::Bare;

pub(crate) async fn run(scale: Scale) {
    let bare = Bare::start().await;
    let double = Double::start(DoubleConfig::default())
        .await
        .expect("the double starts");
    let _hall = double.guild("Wrack Line Hall");
    let shell = Shell::new();
    let mut command = shell.command(&["serve"]);
    command
        .env("WRACKLINE_PLATFORM_URL", double.url())
        .env("WRACKLINE_TOKEN", double.token());
    let serve = tokio::task::spawn_blocking(move || Serve::start(command))
        .await
        .expect("it serves");
    double.await_commands().await;
    wrackline::clock::wait(Duration::from_secs(scale.settle_s)).await;
    let (ours, theirs) = (anonymous_mb(serve.pid()), anonymous_mb(bare.pid()));
    println!("Anonymous resident memory, {} s after ready", scale.settle_s);
    println!("  bare bot               {theirs:.1} MB");
    println!(
        "  wrackline serve        {ours:.1} MB: {:.2}, aim ≤ 1.5",
        ours / theirs
    );
}

fn anonymous_mb(pid: u32) -> f64 {
    let status = std::fs::read_to_string(format!("/proc/{pid}/status")).expect("its status");
    let line = status
        .lines()
        .find_map(|line| line.strip_prefix("RssAnon:"))
        .expect("its memory");
    let kilobytes: f64 = line.trim().trim_end_matches(" kB").parse().expect("a number");
    kilobytes / 1_024.0
}
