//! The platform's measures, each beside something bare in the same run:
//!
//!     cargo bench -p wrackline-tests --bench platform [-- --quick] [lines] [span] [memory]
//!
//! Named parts alone are measured, without a name all three. `--quick` takes a minute and shows the way; figures worth quoting come from the whole.

#![allow(clippy::print_stdout, reason = "a bench prints its table")]

mod bare;
mod lines;
mod memory;
mod span;
mod year;

/// How much is measured.
#[derive(Clone, Copy)]
pub(crate) struct Scale {
    /// Pairs of answers.
    pub(crate) pairs: usize,
    /// Seconds of 200 lines each.
    pub(crate) busy_s: u64,
    /// Posts due together.
    pub(crate) posts: usize,
    /// Seconds after ready before memory is read.
    pub(crate) settle_s: u64,
}

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let quick = arguments.iter().any(|argument| argument == "--quick");
    let bare = arguments.iter().all(|argument| argument.starts_with("--"));
    let wanted = |part: &str| bare || arguments.iter().any(|argument| argument == part);
    let scale = if quick {
        Scale {
            pairs: 40,
            busy_s: 5,
            posts: 150,
            settle_s: 5,
        }
    } else {
        Scale {
            pairs: 400,
            busy_s: 60,
            posts: 1_000,
            settle_s: 60,
        }
    };
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
        .expect("a runtime");
    runtime.block_on(async {
        if wanted("lines") {
            lines::run(scale).await;
        }
        if wanted("span") {
            span::run(scale).await;
        }
        if wanted("memory") {
            memory::run(scale).await;
        }
    });
}

/// The value that this share of all does not exceed, in milliseconds.
pub(crate) fn share(values: &[f64], share: f64) -> f64 {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted[((sorted.len() - 1) as f64 * share).round() as usize]
}
