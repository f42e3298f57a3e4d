//! The program `commis`.

use std::process::ExitCode;

use clap::Parser;

fn main() -> ExitCode {
    commis::kitchen::run(commis::cli::Cli::parse())
}
