//! Taking in recipes: a page, a text or notes become a formula.
//!
//! Nothing that a source points to is opened: no script, no link, no picture.

mod decode;
mod draft;
mod html;
mod line;
mod linked;
mod mail;
mod out;
mod page;
mod recipe;
mod seek;
mod step;
mod text;
mod tidy;
mod words;
mod yields;

use crate::time::Span;

pub use out::{linked, markdown};
pub use recipe::{About, Doubt, Recipe};

/// The largest source that is read, in bytes.
pub const LARGEST: usize = 64 << 20;

/// Why a source cannot be taken in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum ImportError {
    /// It is larger than is read.
    #[error("it is larger than 64 MiB, and no recipe is")]
    TooLarge,
    /// It is a program, a film or the like.
    #[error("it is no text")]
    NoText,
    /// It has no recipe.
    #[error("I found no recipe in it: no ingredients and no steps")]
    NoRecipe,
}

/// Reads plain text, as that of a word processor.
///
/// # Errors
/// Where there is no recipe in it.
pub fn read_text(text: &str, name: &str) -> Result<Recipe, ImportError> {
    finish(text::read(text, None), name)
}

/// Reads the text that a machine has read from a picture: no amount of it is sure.
///
/// # Errors
/// Where there is no recipe in it.
pub fn read_scan(text: &str, name: &str) -> Result<Recipe, ImportError> {
    let found = draft::Found {
        scanned: true,
        ..text::read(text, None)
    };
    finish(found, name)
}

/// Reads a source, whatever it is: a page, a text, notes. `name` is what it is called where it has no title.
///
/// # Errors
/// Where there is no recipe in it.
pub fn read(bytes: &[u8], name: &str) -> Result<Recipe, ImportError> {
    if bytes.len() > LARGEST {
        return Err(ImportError::TooLarge);
    }
    let text = decode::decode(&mail::opened(bytes));
    if is_no_text(&text) {
        return Err(ImportError::NoText);
    }
    let begin = text.trim_start();
    let found = if begin.starts_with(['{', '['])
        && let Some(found) = linked::json(begin).and_then(|v| linked::recipe(&[v]))
    {
        found
    } else if is_page(begin) {
        page::read(&text)
    } else {
        text::read(&text, None)
    };
    finish(found, name)
}

/// The times that a step's words tell, each with its end where it is a range.
pub fn times_in(text: &str) -> Vec<(Span, Option<Span>)> {
    let timers = step::read(text).timers.into_iter();
    timers.map(|t| (t.lasts.from, t.lasts.to)).collect()
}

/// The heat of the oven that a step's words tell, in Celsius.
pub fn oven_in(text: &str) -> Option<f64> {
    step::read(text).oven_c
}

fn finish(mut found: draft::Found, name: &str) -> Result<Recipe, ImportError> {
    if !found.is_recipe() || !line::any_amount(&found) && !step::any_work(&found) {
        return Err(ImportError::NoRecipe);
    }
    if found.name.trim().is_empty() {
        name.clone_into(&mut found.name);
    }
    Ok(Recipe::of(found))
}

/// Control characters that no text has, one in a hundred or more.
fn is_no_text(text: &str) -> bool {
    let head = || text.chars().take(4000);
    let odd = head()
        .filter(|c| {
            c.is_control() && !matches!(c, '\n' | '\r' | '\t' | '\u{c}' | '\u{b}' | '\u{85}')
                || *c == '\u{fffd}'
        })
        .count();
    odd > 8 && odd * 50 > head().count()
}

fn is_page(text: &str) -> bool {
    let head: String = text.chars().take(2000).collect::<String>().to_lowercase();
    head.starts_with('<')
        || ["<html", "<body", "<div", "<script", "<p>", "<li", "<h1"]
            .iter()
            .any(|tag| head.contains(tag))
}
