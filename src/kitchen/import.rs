//! `commis import`: recipes from files, each a formula in the book.

use std::io::{BufRead, Read, Write as _};
use std::path::{Path, PathBuf};

use super::output::{print, remark};
use super::shelf;
use super::trouble::Trouble;
use crate::clean;
use crate::cli::ImportArgs;
use crate::formula;
use crate::import::{self, About, Recipe};

/// Takes in each file; a bad one does not keep the others out.
pub(super) fn import(args: &ImportArgs) -> Result<u8, Trouble> {
    if args.output.is_some() && args.files.len() > 1 {
        return Err(Trouble::input("--output takes one source"));
    }
    if args.ask && args.files.iter().any(|f| f == Path::new("-")) {
        return Err(Trouble::input(
            "--ask reads your answers from standard input, so the source must be a file",
        ));
    }
    let mut code = 0;
    for file in &args.files {
        match read(file) {
            Ok(recipe) => take_in(recipe, args)?,
            Err(trouble) => {
                remark(&trouble);
                code = 2;
            }
        }
    }
    Ok(code)
}

fn read(file: &Path) -> Result<Recipe, Trouble> {
    let fail = |e: &dyn std::fmt::Display| Trouble::input(format!("{}: {e}", file.display()));
    let most = import::LARGEST as u64 + 1;
    let bytes = if file == Path::new("-") {
        let mut bytes = Vec::new();
        let mut input = std::io::stdin().lock().take(most);
        input.read_to_end(&mut bytes).map_err(|e| fail(&e))?;
        bytes
    } else {
        crate::outside::read(file, most).map_err(|e| fail(&e))?
    };
    let name = file
        .file_stem()
        .unwrap_or_default()
        .to_string_lossy()
        .replace(['-', '_'], " ");
    import::read(&bytes, &name).map_err(|e| fail(&e))
}

fn take_in(mut recipe: Recipe, args: &ImportArgs) -> Result<(), Trouble> {
    if args.ask {
        settle(&mut recipe)?;
    }
    let text = recipe.toml();
    let checked = formula::read(recipe.name(), &text);
    if let Err(e) = checked {
        return Err(Trouble::failed(e.explained(&text)));
    }
    let place = match &args.output {
        Some(path) if path == Path::new("-") => {
            print(&text)?;
            None
        }
        Some(path) => Some(path.clone()),
        None => Some(shelf::place_for(recipe.name())?),
    };
    let mut told = vec![recipe.summary()];
    if let Some(path) = place {
        write(&path, &text)?;
        told.push(format!("Written to {}.", path.display()));
    }
    let doubts = recipe.doubts();
    if !doubts.is_empty() {
        told.push(if doubts.len() == 1 {
            "One thing is not sure:".to_owned()
        } else {
            format!("{} things are not sure:", doubts.len())
        });
        for doubt in doubts {
            let guess = if doubt.guess.is_empty() {
                String::new()
            } else {
                format!(" I took: {}.", doubt.guess)
            };
            told.push(format!("  {}{guess}", doubt.text));
        }
    }
    for line in told {
        remark(&clean::shown(&line));
    }
    Ok(())
}

/// A file is written beside its place and then put there, so that a stop leaves no half of one.
pub(super) fn write(path: &PathBuf, text: &str) -> Result<(), Trouble> {
    let fail = |e: std::io::Error| Trouble::failed(format!("{}: {e}", path.display()));
    let beside = path.with_extension("toml.new");
    let mut file = std::fs::File::create(&beside).map_err(fail)?;
    file.write_all(text.as_bytes())
        .and_then(|()| file.sync_all())
        .map_err(fail)?;
    std::fs::rename(&beside, path).map_err(fail)
}

/// Asks about each doubt in a plain line, with its guess as the answer of an empty line.
fn settle(recipe: &mut Recipe) -> Result<(), Trouble> {
    let mut input = std::io::stdin().lock();
    for doubt in recipe.doubts() {
        let question = match doubt.about {
            About::Portions => "How many portions?",
            About::Amount(_) => "How much is it?",
            About::Goes(_) => "In which step does it go in?",
            About::Oven => "How hot is the oven?",
            About::Lasts(..) => "How long?",
            About::Look => continue,
        };
        loop {
            print(&format!(
                "{} {question} [{}] ",
                clean::shown(&doubt.text),
                clean::shown(&doubt.guess)
            ))?;
            let _ = std::io::stdout().flush();
            let mut answer = String::new();
            if input.read_line(&mut answer).map_err(Trouble::failed)? == 0 {
                return Ok(());
            }
            let answer = if answer.trim().is_empty() {
                &doubt.guess
            } else {
                &answer
            };
            match recipe.settle(doubt.about, answer) {
                Ok(()) => break,
                Err(wrong) => print(&format!("{wrong}\n"))?,
            }
        }
    }
    Ok(())
}
