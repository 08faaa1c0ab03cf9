//! Reads the arguments and runs the command; decides nothing.

use std::process::ExitCode;

use clap::Parser;
use wrackline::commands::{Arguments, run};

fn main() -> ExitCode {
    run(Arguments::parse())
}
