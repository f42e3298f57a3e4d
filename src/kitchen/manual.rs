//! What the command line says of itself: to the shell and to `man`.

use clap::{Command, CommandFactory};
use clap_complete::Shell;
use clap_mangen::Man;

use super::output::print;
use super::trouble::Trouble;
use crate::cli::Cli;

/// The file that lets a shell complete the program's words.
pub(super) fn completions(shell: Shell) -> Result<u8, Trouble> {
    let mut out = Vec::new();
    clap_complete::generate(shell, &mut Cli::command(), "commis", &mut out);
    print(&String::from_utf8_lossy(&out)).map(|()| 0)
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
    for command in cli.get_subcommands() {
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
    Ok(page)
}
