//! Where everything meets: the commands, the live session and the rehearsal. Wiring only.

mod asking;
mod card;
mod change;
mod chosen;
mod commands;
mod cook;
mod display;
mod drafts;
mod export;
mod formulas;
mod given_out;
mod hear;
mod hush;
mod import;
mod kept;
mod listen;
mod live_ear;
mod log;
mod log_picture;
mod manual;
mod memory;
mod output;
mod page;
mod place;
mod plain;
mod ready;
mod record;
mod recordings;
mod rehearse;
mod script;
mod service;
mod several;
mod shelf;
mod shelf_index;
mod signals;
mod size;
mod stage;
mod trouble;
mod typed;
mod unfinished;
mod write;

use std::process::ExitCode;

pub use plain::plain_lines;
pub use record::Record;
pub use rehearse::{Listener, Silence, Stage, device_note, rehearse};
pub use script::{Act, Script, ScriptError, ScriptLine, key};

use crate::cli::{Cli, Command};

/// Runs a command line.
pub fn run(cli: Cli) -> ExitCode {
    let file = cli.settings.as_deref();
    shelf::settings_in(cli.settings.clone());
    let chosen = || chosen::Chosen::load(file);
    let settings = || chosen().map(|c| c.settings);
    let done = match cli.command {
        Command::Rehearse(args) => commands::rehearse(&args, file),
        Command::Understand { formula } => commands::understand(&formula),
        Command::Weigh(args) => settings().and_then(|s| commands::weigh(&args, &s)),
        Command::Card(args) => settings().and_then(|s| page::card(&args, &s)),
        Command::Plan(args) => settings().and_then(|s| service::plan(&args, &s)),
        Command::Log(args) => settings().and_then(|s| log::log(&args, &s)),
        Command::Ask {
            question,
            json,
            region,
        } => {
            settings().and_then(|s| commands::ask(&question.join(" "), json, region.as_deref(), &s))
        }
        Command::Check { formula } => settings().and_then(|s| commands::check(&formula, &s)),
        Command::Import(args) => import::import(&args),
        Command::Change { formula, what } => change::change(&formula, &what.join(" ")),
        Command::Write(args) => chosen().and_then(|c| write::write(&args, &c)),
        Command::Export { formula, format } => export::export(&formula, format),
        Command::Book { folder, tag } => commands::book(folder, tag.as_deref()),
        Command::Keys(args) => card::keys(&args, file),
        Command::Completions { shell } => manual::completions(shell),
        Command::Man => manual::man(),
        Command::Schema => commands::schema(),
        Command::Cook(args) => chosen().and_then(|c| cook::cook(&args, c)),
        Command::Hear(args) => settings().and_then(|s| hear::hear(&args, &s)),
        Command::Ready => chosen().and_then(|c| ready::ready(&c)),
    };
    match done {
        Ok(code) => ExitCode::from(code),
        // Nobody reads any more: that is no trouble.
        Err(trouble) if trouble.code == 0 => ExitCode::SUCCESS,
        Err(trouble) => {
            output::complain(&trouble);
            ExitCode::from(trouble.code)
        }
    }
}
