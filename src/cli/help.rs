//! What the command line says of itself: the commands in the order in which a cook needs them, each with examples.

use std::fmt::Write as _;

use clap::{Command, CommandFactory, FromArgMatches};

use super::Cli;

/// A group of commands, in its order.
pub(crate) struct Group {
    pub(crate) title: &'static str,
    pub(crate) commands: &'static [&'static str],
}

/// Cooks' commands before makers' tools.
pub(crate) const GROUPS: [Group; 3] = [
    Group {
        title: "At the bench",
        commands: &["cook", "ready", "keys", "ask", "weigh", "plan", "log"],
    },
    Group {
        title: "Your formulas",
        commands: &[
            "book", "write", "import", "change", "card", "export", "check",
        ],
    },
    Group {
        title: "For makers and scripts",
        commands: &[
            "rehearse",
            "understand",
            "hear",
            "schema",
            "completions",
            "man",
        ],
    },
];

/// A command line, and what it does.
pub(crate) struct Example {
    pub(crate) line: &'static str,
    pub(crate) does: &'static str,
}

const fn example(line: &'static str, does: &'static str) -> Example {
    Example { line, does }
}

/// Examples of every command.
pub(crate) const EXAMPLES: &[Example] = &[
    example("commis cook", "asks what to make, and cooks it"),
    example(
        "commis cook seeded loaf",
        "cooks a formula by its name in the book",
    ),
    example(
        "commis cook chickpea rice custard --ready-at 19:30",
        "cooks two dishes for half past seven",
    ),
    example(
        "commis cook seeded loaf --flour 750g --plain",
        "with 750 g of flour, as lines for a screen reader",
    ),
    example(
        "commis ready",
        "says what is there to cook with, and what to do about the rest",
    ),
    example("commis keys", "shows what each key does"),
    example(
        "commis keys --html > keys.html",
        "the same on one page of large print",
    ),
    example("commis keys --speak", "reads the card aloud"),
    example(
        "commis ask how much is a cup of flour in grams",
        "answers one question",
    ),
    example(
        "commis ask '350 f in celsius' --json",
        "the same for a script",
    ),
    example(
        "commis weigh rolls --pieces '8 x 95 g'",
        "the weigh-up list of eight rolls",
    ),
    example(
        "commis weigh custard --portions 12 --large",
        "for twelve, to be read at arm's length",
    ),
    example(
        "commis plan loaf.toml soup.toml --ready-at 19:30",
        "when to start what",
    ),
    example(
        "commis plan loaf.toml --ready-at 'tomorrow 7:00' --ical > bake.ics",
        "the same as a calendar with alarms",
    ),
    example("commis log", "what you made, and how long it took here"),
    example(
        "commis log --forget 1",
        "forgets the session that is listed last",
    ),
    example("commis book --tag bread", "lists the formulas with a tag"),
    example(
        "commis write",
        "makes a formula, one question after the other",
    ),
    example(
        "commis import page.html --ask",
        "takes a recipe in, and asks about what is not sure",
    ),
    example(
        "commis change shortbread salt to nine grams",
        "changes one thing",
    ),
    example(
        "commis change shortbread undo",
        "takes the last change back",
    ),
    example(
        "commis card shortbread --pdf --output shortbread.pdf",
        "a page in large print",
    ),
    example(
        "commis card shortbread --braille > shortbread.brf",
        "a page for an embosser",
    ),
    example(
        "commis export shortbread --format markdown",
        "gives a formula to somebody else",
    ),
    example(
        "commis check my-loaf.toml",
        "finds what is wrong in a file, and where",
    ),
    example(
        "commis rehearse tin-loaf.toml script.txt --record loaf.wav",
        "plays a whole bake to a file",
    ),
    example(
        "echo how much salt | commis understand soup.toml",
        "what words mean, as JSON",
    ),
    example(
        "commis hear soup.toml salt.wav --json",
        "what is heard in a recording",
    ),
    example(
        "commis schema > formula.schema.json",
        "lets an editor check formulas",
    ),
    example(
        "commis completions bash > ~/.local/share/bash-completion/completions/commis",
        "completes commands with Tab",
    ),
    example("commis man | man -l -", "reads the manual"),
];

/// The command that an example is of.
fn of(example: &Example) -> &'static str {
    let after = example.line.split("commis ").nth(1).unwrap_or_default();
    after.split_whitespace().next().unwrap_or_default()
}

/// The examples of a command, or of all.
pub(crate) fn examples(command: Option<&str>) -> impl Iterator<Item = &'static Example> {
    EXAMPLES
        .iter()
        .filter(move |example| command.is_none_or(|command| of(example) == command))
}

/// The examples as they stand below the help of a command.
fn shown(command: Option<&str>) -> String {
    let mut out = "Examples:".to_owned();
    for example in examples(command) {
        let _ = write!(out, "\n  {}\n      {}", example.line, example.does);
    }
    out
}

/// The commands by their groups, each with its line.
fn listed(cli: &Command) -> String {
    let mut out = String::new();
    for group in GROUPS {
        let _ = writeln!(out, "{}:", group.title);
        for name in group.commands {
            let about = cli.find_subcommand(name).and_then(Command::get_about);
            let about = about.map(ToString::to_string).unwrap_or_default();
            let _ = writeln!(out, "  {name:<12} {about}");
        }
        out.push('\n');
    }
    out
}

/// The command line with its help.
pub(crate) fn command() -> Command {
    let mut cli = Cli::command();
    let list = listed(&cli);
    for name in GROUPS.iter().flat_map(|group| group.commands) {
        cli = cli.mut_subcommand(*name, |command| command.after_help(shown(Some(name))));
    }
    let first = "Examples:\n  commis ready\n  commis cook seeded loaf\n  commis ask how much is a cup of flour in grams\n\n\
                 `commis COMMAND --help` has examples of each; `commis man | man -l -` is the manual.";
    cli.help_template("{about-with-newline}\n{usage-heading} {usage}\n\n{before-help}Options:\n{options}{after-help}")
        .before_help(list)
        .after_help(first)
}

impl Cli {
    /// Reads the command line of this process; help and faults end it.
    pub fn read() -> Self {
        let matches = command().get_matches();
        Self::from_arg_matches(&matches).unwrap_or_else(|e| e.exit())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The words of a shell line up to a pipe or a redirection, with single quotes.
    fn words(line: &str) -> Vec<String> {
        let (mut words, mut word, mut quoted) = (Vec::new(), String::new(), false);
        for c in line.chars() {
            match c {
                '\'' => quoted = !quoted,
                ' ' if !quoted => {
                    words.extend((!word.is_empty()).then(|| std::mem::take(&mut word)));
                }
                '|' | '>' if !quoted => break,
                c => word.push(c),
            }
        }
        words.extend((!word.is_empty()).then_some(word));
        words
    }

    #[test]
    fn every_command_is_in_one_group_and_has_an_example() {
        let cli = Cli::command();
        let grouped: Vec<&str> = GROUPS.iter().flat_map(|g| g.commands).copied().collect();
        let mut all: Vec<&str> = cli.get_subcommands().map(Command::get_name).collect();
        let mut sorted = grouped.clone();
        sorted.sort_unstable();
        all.sort_unstable();
        assert_eq!(sorted, all);
        for name in grouped {
            assert!(examples(Some(name)).next().is_some(), "{name}");
        }
    }

    #[test]
    fn every_example_is_a_command_line() {
        for example in EXAMPLES {
            let line = example
                .line
                .strip_prefix("echo how much salt | ")
                .unwrap_or(example.line);
            let read = command().try_get_matches_from(words(line));
            assert!(
                read.is_ok(),
                "{}: {}",
                example.line,
                read.err().map(|e| e.to_string()).unwrap_or_default()
            );
        }
    }
}
