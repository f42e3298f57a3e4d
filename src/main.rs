//! The program `commis`.

use std::process::ExitCode;

fn main() -> ExitCode {
    commis::kitchen::run(commis::cli::Cli::read())
}
