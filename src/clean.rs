//! Characters that steer a terminal or turn a line of text about. A file with one in a name or a text is refused, and
//! what is printed, shown or spoken is clean of them wherever it came from.

use std::borrow::Cow;
use std::ops::Range;

use toml_edit::{Document, Item, Table, Value};
use unicode_width::UnicodeWidthChar;

/// Whether a character steers what shows it: C0 and C1 controls (ECMA-48), the separators of lines and paragraphs, and the
/// marks, embeddings, overrides and isolates of the Unicode Bidirectional Algorithm (UAX #9, table 'Explicit Directional
/// Formatting Characters' and 'Implicit Directional Marks').
pub fn steers(c: char) -> bool {
    c.is_control()
        || matches!(
            c,
            '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{2028}' | '\u{2029}'
        )
        || matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// The first such character, with its place in bytes.
pub fn first(text: &str) -> Option<(usize, char)> {
    text.char_indices().find(|(_, c)| steers(*c))
}

/// A character by its number, for messages.
pub fn named(c: char) -> String {
    format!("U+{:04X}", u32::from(c))
}

/// A text to be printed or shown: lines stay lines, a tab is a space, and a mark stands where something would have steered.
pub fn shown(text: &str) -> Cow<'_, str> {
    if !text.chars().any(|c| steers(c) && c != '\n') {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        out.push(match c {
            '\n' => c,
            // The end of a line of a calendar (RFC 5545).
            '\r' if chars.peek() == Some(&'\n') => c,
            '\t' => ' ',
            c if steers(c) => char::REPLACEMENT_CHARACTER,
            c => c,
        });
    }
    Cow::Owned(out)
}

/// A text to be spoken: one line, and nothing in it that no voice could say.
pub fn spoken(text: &str) -> Cow<'_, str> {
    if first(text).is_none() {
        return Cow::Borrowed(text);
    }
    Cow::Owned(
        text.chars()
            .map(|c| if steers(c) { ' ' } else { c })
            .collect(),
    )
}

/// Something in a file that would steer whatever shows it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("expected plain text, found the control character {}", named(*character))]
pub struct Steering {
    /// Where, in bytes.
    pub at: Range<usize>,
    /// What.
    pub character: char,
}

/// Every text of a TOML file, names of keys included, that has a steering character: the first in each. Lines and tabs
/// belong to texts that go over several lines, and to no others.
pub fn in_toml(text: &str) -> Vec<Steering> {
    let mut found = Vec::new();
    if let Ok(document) = Document::parse(text) {
        in_table(document.as_table(), text, &mut found);
    }
    found.sort_by_key(|f| f.at.start);
    found
}

fn in_table(table: &Table, text: &str, found: &mut Vec<Steering>) {
    for (name, item) in table {
        let span = table.key(name).and_then(toml_edit::Key::span);
        in_text(name, span, text, found);
        match item {
            Item::Table(inner) => in_table(inner, text, found),
            Item::ArrayOfTables(all) => all.iter().for_each(|t| in_table(t, text, found)),
            Item::Value(value) => in_value(value, text, found),
            Item::None => {}
        }
    }
}

fn in_value(value: &Value, text: &str, found: &mut Vec<Steering>) {
    match value {
        Value::String(said) => in_text(said.value(), value.span(), text, found),
        Value::Array(all) => all.iter().for_each(|v| in_value(v, text, found)),
        Value::InlineTable(inner) => {
            for (name, value) in inner {
                in_text(
                    name,
                    inner.key(name).and_then(toml_edit::Key::span),
                    text,
                    found,
                );
                in_value(value, text, found);
            }
        }
        _ => {}
    }
}

/// One text as it was read, and where it stands in the file.
fn in_text(said: &str, span: Option<Range<usize>>, text: &str, found: &mut Vec<Steering>) {
    let span = span.unwrap_or(0..0);
    let written = text.get(span.clone()).unwrap_or_default();
    let long = written.starts_with("\"\"\"") || written.starts_with("'''");
    let Some(character) = said
        .chars()
        .find(|c| steers(*c) && !(long && matches!(c, '\n' | '\t')))
    else {
        return;
    };
    // Where it stands itself, or the first escape, or the text.
    let at = written
        .char_indices()
        .find(|(_, c)| *c == character)
        .map(|(at, c)| at..at + c.len_utf8())
        .or_else(|| escape(written, character))
        .map_or(span.clone(), |at| {
            span.start + at.start..span.start + at.end
        });
    found.push(Steering { at, character });
}

/// Where a character is written as an escape of TOML.
fn escape(written: &str, character: char) -> Option<Range<usize>> {
    let short = match character {
        '\u{8}' => "\\b",
        '\t' => "\\t",
        '\n' => "\\n",
        '\u{c}' => "\\f",
        '\r' => "\\r",
        '\u{1b}' => "\\e",
        _ => "",
    };
    let number = u32::from(character);
    let ways = [
        short.to_owned(),
        format!("\\u{number:04x}"),
        format!("\\u{number:08x}"),
        format!("\\x{number:02x}"),
    ];
    let lower = written.to_ascii_lowercase();
    ways.iter()
        .filter(|way| !way.is_empty())
        .find_map(|way| lower.find(way.as_str()).map(|at| at..at + way.len()))
}

/// Columns of a line that an excerpt shows before and after a fault.
const AROUND: usize = 60;

/// The line of a text with carets under a fault, as a compiler shows it; nothing where there is no such line. Line and
/// column count from 1, the column and the width in characters.
pub fn excerpt(text: &str, line: usize, column: usize, width: usize) -> String {
    let Some(found) = line.checked_sub(1).and_then(|n| text.lines().nth(n)) else {
        return String::new();
    };
    let columns = |part: &[char]| part.iter().map(|c| c.width().unwrap_or(1)).sum::<usize>();
    let found: Vec<char> = shown(found).chars().collect();
    let at = column.saturating_sub(1).min(found.len());
    let end = (at + width.max(1)).min(found.len()).max(at);
    let from = at.saturating_sub(AROUND);
    let to = (end.min(at + AROUND) + AROUND).min(found.len());
    let carets = columns(&found[at..end.min(to)]).max(1);
    let (before, after) = (
        if from > 0 { "…" } else { "" },
        if to < found.len() { "…" } else { "" },
    );
    let gutter = " ".repeat(line.to_string().len());
    format!(
        "\n {gutter} |\n {line} | {before}{}{after}\n {gutter} | {}{}",
        found[from..to].iter().collect::<String>(),
        " ".repeat(columns(&found[from..at]) + before.chars().count()),
        "^".repeat(carets)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_that_steers_is_shown_or_spoken() {
        let bad = "a\u{1b}[2Jb\u{9b}31mc\u{202e}d\0e\rf\u{2066}g\u{7f}h";
        let shown = shown(bad);
        assert_eq!(
            shown,
            "a\u{fffd}[2Jb\u{fffd}31mc\u{fffd}d\u{fffd}e\u{fffd}f\u{fffd}g\u{fffd}h"
        );
        assert_eq!(first(&shown), None);
        assert_eq!(first(&spoken(bad)), None);
        assert_eq!(
            first(bad).map(|(at, c)| (at, named(c))),
            Some((1, "U+001B".to_owned()))
        );
    }

    #[test]
    fn words_of_every_script_stay_as_they_are() {
        for text in [
            "crème brûlée",
            "½ × 20 °C",
            "पनीर",
            "חלה",
            "e\u{301}",
            "👩\u{200d}🍳",
        ] {
            assert!(matches!(super::shown(text), Cow::Borrowed(_)), "{text}");
            assert!(matches!(spoken(text), Cow::Borrowed(_)), "{text}");
        }
        assert_eq!(
            super::shown("two\nlines\tand a tab"),
            "two\nlines and a tab"
        );
    }

    #[test]
    fn a_fault_is_pointed_at_whatever_stands_before_it() {
        let text = "name = 1\n\tcrème = \"7 gg\"\nワイン = 3\n";
        assert_eq!(
            excerpt(text, 2, 10, 6),
            "\n   |\n 2 |  crème = \"7 gg\"\n   |          ^^^^^^"
        );
        // Wide letters take two columns each (UAX #11).
        assert_eq!(
            excerpt(text, 3, 7, 1),
            "\n   |\n 3 | ワイン = 3\n   |          ^"
        );
        assert_eq!(excerpt(text, 9, 1, 1), "");
        let long = format!("{}x{}", "a".repeat(5_000), "b".repeat(5_000));
        let shown = excerpt(&long, 1, 5_001, 4_000);
        assert!(shown.lines().all(|l| l.chars().count() < 200), "{shown}");
    }

    #[test]
    fn control_characters_in_toml_are_found_where_they_stand() {
        let found = |text: &str| -> Vec<(usize, char)> {
            let all = in_toml(text);
            all.into_iter().map(|f| (f.at.start, f.character)).collect()
        };
        assert_eq!(found("a = \"plain\"\nb = [\"x\", { c = 1 }]\n"), []);
        assert_eq!(found("a = \"ab\\u001B[2J\""), [(7, '\u{1b}')]);
        assert_eq!(found("a = \"ab\u{202e}c\""), [(7, '\u{202e}')]);
        assert_eq!(found("a = [\"x\", \"\\u0000\"]"), [(11, '\0')]);
        assert_eq!(found("\"k\\u009b\" = 1"), [(2, '\u{9b}')]);
        assert_eq!(found("[[s]]\nt = \"a\\nb\""), [(12, '\n')]);
        assert_eq!(found("t = \"\"\"\na\nb\tc\"\"\""), []);
        assert_eq!(found("t = \"\"\"\na\\rb\"\"\""), [(9, '\r')]);
        assert_eq!(found("t = { u = \"\\u2066\" }"), [(11, '\u{2066}')]);
    }
}
