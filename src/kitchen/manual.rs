//! What the command line says of itself: to the shell and to `man`.

use std::fmt::Write as _;

use clap::{Command, CommandFactory};
use clap_complete::Shell;
use clap_mangen::Man;

use super::output::print;
use super::trouble::Trouble;
use crate::cli::{self, Cli};

/// What the program ends with.
const EXIT: [(&str, &str); 8] = [
    ("0", "It is done; of `ready`: you can cook by voice."),
    (
        "1",
        "Something failed that is not your doing: a full disk, a device.",
    ),
    (
        "2",
        "The command line or a file cannot be used as it is; a sentence says why.",
    ),
    ("3", "Of `ready`: you can cook by keys."),
    (
        "4",
        "Of `ready`: there is neither a voice nor a key to listen to.",
    ),
    (
        "129, 131, 143",
        "A session was told to stop (HUP, QUIT, TERM) and is kept.",
    ),
    ("130", "A session was left with Control-C and is kept."),
    (
        "101",
        "A fault of the program; a session goes on from its journal with the next start.",
    ),
];

/// Where things lie.
const FILES: [(&str, &str); 6] = [
    (
        "$XDG_CONFIG_HOME/commis/settings.toml",
        "The settings, with a remark for each; written by the first run. Usually under ~/.config.",
    ),
    (
        "$XDG_DATA_HOME/commis/formulas",
        "The book: your formulas. Usually under ~/.local/share.",
    ),
    (
        "$XDG_STATE_HOME/commis/*.journal",
        "Sessions, from which one is taken up again. Usually under ~/.local/state.",
    ),
    (
        "$XDG_STATE_HOME/commis/log.jsonl",
        "The bake log: what really went in and how long it took.",
    ),
    (
        "shared/formulas",
        "The formulas that come with the program.",
    ),
    (
        "/etc/udev/rules.d/70-commis-keypad.rules",
        "Lets you read the keypad without being root.",
    ),
];

/// The file that lets a shell complete the program's words.
pub(super) fn completions(shell: Shell) -> Result<u8, Trouble> {
    let mut out = Vec::new();
    clap_complete::generate(shell, &mut Cli::command(), "commis", &mut out);
    print(&String::from_utf8_lossy(&out)).map(|()| 0)
}

/// Text as roff has it.
fn roff(text: &str) -> String {
    let text = text
        .replace('\\', "\\e")
        .replace('-', "\\-")
        .replace('\'', "\\(aq");
    if text.starts_with('.') {
        format!("\\&{text}")
    } else {
        text
    }
}

/// A section of terms, each with what it means.
fn terms<'a>(title: &str, all: impl IntoIterator<Item = (&'a str, &'a str)>) -> String {
    let mut out = format!(".SH \"{title}\"\n");
    for (term, means) in all {
        let _ = writeln!(out, ".TP\n\\fB{}\\fR\n{}", roff(term), roff(means));
    }
    out
}

/// One page for `man`: the program, then every command with its options.
pub(super) fn man() -> Result<u8, Trouble> {
    page(Cli::command())
        .map_err(Trouble::failed)
        .and_then(|page| print(&page))
        .map(|()| 0)
}

fn page(mut cli: Command) -> std::io::Result<String> {
    cli = cli.disable_help_subcommand(true);
    cli.build();
    let mut out = Vec::new();
    Man::new(cli.clone()).render(&mut out)?;
    let mut page = String::from_utf8_lossy(&out).into_owned();
    let names = cli::GROUPS.iter().flat_map(|group| group.commands);
    for command in names.filter_map(|name| cli.find_subcommand(name)) {
        let name = command.get_name();
        let mut out = Vec::new();
        let man = Man::new(command.clone());
        man.render_synopsis_section(&mut out)?;
        man.render_description_section(&mut out)?;
        man.render_options_section(&mut out)?;
        let part = String::from_utf8_lossy(&out)
            .replace(
                ".SH SYNOPSIS\n",
                &format!(".SH \"{}\"\n", name.to_uppercase()),
            )
            .replace(".SH DESCRIPTION\n", ".PP\n")
            .replace(".SH OPTIONS\n", "");
        // The commands stand on this page, and have none of their own.
        page = page.replace(&format!("commis\\-{name}(1)"), name);
        page.push_str(&part);
    }
    page += &terms("EXIT STATUS", EXIT);
    page += &terms("FILES", FILES);
    page += &terms("EXAMPLES", cli::EXAMPLES.iter().map(|e| (e.line, e.does)));
    Ok(page)
}
