//! `commis import`: recipes from files, each a formula in the book.

use std::ffi::OsString;
use std::io::{BufRead, Read, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use super::output::{print, remark};
use super::shelf;
use super::trouble::Trouble;
use crate::clean;
use crate::cli::ImportArgs;
use crate::formula;
use crate::import::{self, About, Doubt, Recipe};
use crate::outside::{self, OutsideError};
use crate::paper;

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
            Ok(recipe) => take_in(recipe, file, args)?,
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
    if let Some(text) = paper::text_of(&bytes) {
        let text = text.map_err(|e| fail(&e))?;
        return import::read_text(&text, &name).map_err(|e| fail(&e));
    }
    if paper::is_picture(&bytes) {
        let text = text_of_picture(file).map_err(|e| fail(&e))?;
        return import::read_scan(&text, &name).map_err(|e| fail(&e));
    }
    import::read(&bytes, &name).map_err(|e| fail(&e))
}

/// How long a picture may take to be read.
const PATIENCE: Duration = Duration::from_secs(90);

/// The text of a photograph or scan, as Tesseract reads it.
fn text_of_picture(file: &Path) -> Result<String, String> {
    if file == Path::new("-") {
        return Err("it is a picture, and a picture must be a file".into());
    }
    // A path that begins with a dash is none of its options.
    let path = std::path::absolute(file).map_err(|e| e.to_string())?;
    let mut tesseract = Command::new("tesseract");
    let (status, bytes) = outside::run(
        tesseract.arg(path).arg("-").stderr(Stdio::null()),
        "",
        PATIENCE,
    )
    .map_err(|e| match e {
        OutsideError::Missing { .. } => {
            "it is a picture, and the program tesseract, which reads pictures, is not installed"
                .to_owned()
        }
        e => format!("it is a picture: {e}"),
    })?;
    let text = String::from_utf8_lossy(&bytes).into_owned();
    if !status.success() || text.trim().is_empty() {
        return Err("it is a picture, and tesseract found no writing in it".into());
    }
    Ok(text)
}

fn take_in(mut recipe: Recipe, source: &Path, args: &ImportArgs) -> Result<(), Trouble> {
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
    if let Some(path) = &place {
        // What stood there before is kept beside.
        if let Ok(before) = std::fs::read_to_string(path) {
            let kept = kept_beside(path);
            write(&kept, &before)?;
            told.push(format!("What was there before is in {}.", kept.display()));
        }
        write(path, &text)?;
        told.push(format!("Saved as {}.", path.display()));
    }
    let doubts = recipe.doubts();
    match doubts.len() {
        0 => {}
        1 => told.push("I am not sure of one thing:".into()),
        n => told.push(format!("I am not sure of {n} things:")),
    }
    told.extend(doubts.iter().map(|doubt| {
        let guess = match doubt.guess.as_str() {
            "" => String::new(),
            step if matches!(doubt.about, About::Goes(_)) => format!(" I put it into step {step}."),
            guess => format!(" I took {guess}."),
        };
        format!("  {}{guess}", spoken(doubt))
    }));
    if !doubts.is_empty() && !args.ask && source != Path::new("-") {
        told.push(format!(
            "To answer these one by one: commis import --ask {}",
            source.display()
        ));
    }
    if let Some(path) = &place {
        let name = match &args.output {
            Some(_) => path.display().to_string(),
            None => path
                .file_stem()
                .unwrap_or_default()
                .to_string_lossy()
                .into_owned(),
        };
        told.push(format!("To cook it: commis cook {name}"));
    }
    for line in told {
        remark(&clean::shown(&line));
    }
    Ok(())
}

/// A doubt without signs that a screen reader would read out.
fn spoken(doubt: &Doubt) -> String {
    doubt.text.replace('`', "\"")
}

/// A file is written beside its place and then put there, so that a stop leaves no half of one.
pub(super) fn write(path: &PathBuf, text: &str) -> Result<(), Trouble> {
    let fail = |e: std::io::Error| Trouble::failed(format!("{}: {e}", path.display()));
    // Two that write here at once each have a name of their own.
    let mut name = path.clone().into_os_string();
    name.push(format!(".{}.new", std::process::id()));
    let beside = PathBuf::from(name);
    let _ = std::fs::remove_file(&beside);
    let mut file = std::fs::File::create_new(&beside).map_err(fail)?;
    let written = file
        .write_all(text.as_bytes())
        .and_then(|()| file.sync_all())
        .and_then(|()| std::fs::rename(&beside, path));
    if written.is_err() {
        let _ = std::fs::remove_file(&beside);
    }
    written.map_err(fail)
}

/// `loaf.toml.bak`: the file as it was before the last change.
pub(super) fn kept_beside(path: &Path) -> PathBuf {
    let mut name = OsString::from(path);
    name.push(".bak");
    PathBuf::from(name)
}

/// Asks about each doubt in a plain line, with its guess as the answer of an empty line.
fn settle(recipe: &mut Recipe) -> Result<(), Trouble> {
    let mut input = std::io::stdin().lock();
    let doubts: Vec<Doubt> = recipe
        .doubts()
        .into_iter()
        .filter(|d| d.about != About::Look)
        .collect();
    for (n, doubt) in doubts.iter().enumerate() {
        let question = match doubt.about {
            About::Portions => "How many portions?".to_owned(),
            About::Amount(_) => "How much is it?".to_owned(),
            About::Goes(_) => format!("Which step does it go into? {}", recipe.step_list()),
            About::Oven => "How hot is the oven?".to_owned(),
            About::Lasts(..) => "How long?".to_owned(),
            About::Look => continue,
        };
        loop {
            let open = doubt.guess == "as needed" && matches!(doubt.about, About::Amount(_));
            let guess = if open {
                "leaves it open".to_owned()
            } else {
                format!("for {}", clean::shown(&doubt.guess))
            };
            print(&format!(
                "Question {} of {}. {} {question} Enter alone {guess}: ",
                n + 1,
                doubts.len(),
                clean::shown(&spoken(doubt)),
            ))?;
            let _ = std::io::stdout().flush();
            let mut answer = String::new();
            if input.read_line(&mut answer).map_err(Trouble::failed)? == 0 {
                print("\n")?;
                return Ok(());
            }
            // Where there is no guess, an empty line leaves it open.
            if answer.trim().is_empty() && open {
                break;
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
