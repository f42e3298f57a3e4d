//! `commis card`: a formula at today's size as a page to print.

use std::io::{IsTerminal, Write as _};
use std::process::Command;
use std::time::Duration;

use super::commands::read_formula;
use super::output::print_bytes;
use super::trouble::Trouble;
use crate::cli::PageArgs;
use crate::measure::Region;
use crate::outside;
use crate::page::{self, Page, Paper};
use crate::settings::Settings;

/// The translator of braille, and how long it may take.
const TRANSLATOR: &str = "lou_translate";
/// Unified English Braille, contracted, in the characters of embossers.
const TABLES: &str = "en-us-brf.dis,en-ueb-g2.ctb";
const PATIENCE: Duration = Duration::from_secs(30);

/// Prints the page, or writes it into a file.
pub(super) fn card(args: &PageArgs, settings: &Settings) -> Result<u8, Trouble> {
    let (formula, _) = read_formula(&args.formula)?;
    let region = settings.region;
    let batch = super::size::batch(&formula, &args.size, region).map_err(Trouble::input)?;
    let page = Page::of(
        &formula,
        &batch,
        settings.scale_step_g,
        region,
        settings.law(),
    );
    let form = &args.form;
    let bytes = if form.pdf {
        let paper = if region == Region::Us {
            Paper::Letter
        } else {
            Paper::A4
        };
        page::pdf(&page, paper).map_err(Trouble::failed)?
    } else if form.braille {
        braille(&page)?.into_bytes()
    } else if form.html {
        page::html(&page).into_bytes()
    } else {
        page::plain(&page, args.columns).into_bytes()
    };
    if let Some(path) = &args.output {
        let fail = |e| Trouble::failed(format!("{}: {e}", path.display()));
        let mut file = std::fs::File::create(path).map_err(fail)?;
        file.write_all(&bytes).map_err(fail)?;
        return Ok(0);
    }
    if form.pdf && std::io::stdout().is_terminal() {
        return Err(Trouble::input(
            "a PDF is no text for a terminal: name a file with --output",
        ));
    }
    print_bytes(&bytes)?;
    Ok(0)
}

/// The page in contracted English braille, by liblouis.
fn braille(page: &Page) -> Result<String, Trouble> {
    let texts = page::to_translate(page);
    let input: String = texts
        .iter()
        .map(|text| format!("{}\n", text.replace('\\', "\\\\")))
        .collect();
    let mut command = Command::new(TRANSLATOR);
    let run = outside::run(command.args(["--forward", TABLES]), &input, PATIENCE);
    let (status, bytes) = run.map_err(|e| {
        Trouble::failed(format!(
            "{e}: braille needs liblouis (on Debian and Ubuntu the package liblouis-bin); --text and --html are there without it"
        ))
    })?;
    let odd = || Trouble::failed(format!("{TRANSLATOR} gave no braille that I can use"));
    if !status.success() {
        return Err(odd());
    }
    let said = String::from_utf8(bytes).map_err(|_| odd())?;
    let lines: Vec<String> = said.lines().map(str::to_owned).collect();
    page::brf(page, &lines).ok_or_else(odd)
}
