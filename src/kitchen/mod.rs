//! Where everything meets: the commands, the live session and the rehearsal. Wiring only.

mod commands;
mod cook;
mod listen;
mod live_ear;
mod memory;
mod place;
mod ready;
mod record;
mod rehearse;
mod script;
mod size;
mod stage;

use std::process::ExitCode;

pub use record::Record;
pub use rehearse::{Listener, Silence, Stage, device_note, rehearse};
pub use script::{Act, Line, Script, ScriptError, key};

use crate::cli::{Cli, Command};

/// Why a command ended badly: a sentence for the user, and the exit code.
#[derive(Debug)]
pub(crate) struct Trouble {
    pub(crate) text: String,
    pub(crate) code: u8,
}

impl Trouble {
    /// Bad input: exit code 2.
    pub(crate) fn input(text: impl ToString) -> Self {
        Self {
            text: text.to_string(),
            code: 2,
        }
    }
    /// Something failed that is not the user's doing: exit code 1.
    pub(crate) fn failed(text: impl ToString) -> Self {
        Self {
            text: text.to_string(),
            code: 1,
        }
    }
}

/// Runs a command line.
pub fn run(cli: Cli) -> ExitCode {
    let done = match cli.command {
        Command::Rehearse(args) => commands::rehearse(&args),
        Command::Understand { formula } => commands::understand(&formula),
        Command::Weigh(args) => commands::weigh(&args),
        Command::Ask {
            question,
            json,
            region,
        } => commands::ask(&question.join(" "), json, region.as_deref()),
        Command::Check { formula } => commands::check(&formula),
        Command::Book { folder } => commands::book(folder.as_deref()),
        Command::Keys { table } => commands::keys(table),
        Command::Schema => commands::schema(),
        Command::Cook(args) => cook::cook(&args),
        Command::Hear { formula, wav, json } => ready::hear(&formula, &wav, json),
        Command::Ready => ready::ready(),
    };
    match done {
        Ok(code) => ExitCode::from(code),
        Err(trouble) => {
            eprintln!("commis: {}", trouble.text);
            ExitCode::from(trouble.code)
        }
    }
}
