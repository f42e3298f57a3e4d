//! What is wrong in a formula file, and where.

use std::fmt;
use std::ops::Range;

use crate::clean::excerpt;

/// One fault in a formula file, with its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// Line from 1.
    pub line: usize,
    /// Column from 1, in characters.
    pub column: usize,
    /// How many characters of the line it is about, at least one.
    pub width: usize,
    /// What was found and what was expected.
    pub what: String,
}

/// A formula file that cannot be used: its name and every fault in it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub struct FormulaError {
    /// The file as the user named it.
    pub file: String,
    /// The faults, in order of place. Never empty.
    pub faults: Vec<Fault>,
}

impl fmt::Display for FormulaError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (n, fault) in self.faults.iter().enumerate() {
            if n > 0 {
                f.write_str("\n")?;
            }
            if fault.line == 0 {
                write!(f, "{}: {}", self.file, fault.what)?;
            } else {
                write!(
                    f,
                    "{}:{}:{}: {}",
                    self.file, fault.line, fault.column, fault.what
                )?;
            }
        }
        Ok(())
    }
}

impl FormulaError {
    /// Every fault with the line of `text` that it stands in and carets below it.
    pub fn explained(&self, text: &str) -> String {
        let shown = |fault: &Fault| {
            let one = Self {
                file: self.file.clone(),
                faults: vec![fault.clone()],
            };
            format!(
                "{one}{}",
                excerpt(text, fault.line, fault.column, fault.width)
            )
        };
        self.faults.iter().map(shown).collect::<Vec<_>>().join("\n")
    }
}

/// A fault at bytes of a text.
pub(super) fn fault_at(text: &str, at: Range<usize>, what: String) -> Fault {
    let (line, column) = place(text, at.start);
    let inside = text.get(at).unwrap_or_default();
    let width = inside.lines().next().unwrap_or_default().chars().count();
    Fault {
        line,
        column,
        width: width.max(1),
        what,
    }
}

/// Line and column (both from 1, column in characters) of a byte offset.
pub(super) fn place(text: &str, offset: usize) -> (usize, usize) {
    let offset = offset.min(text.len());
    let before = text.as_bytes().get(..offset).unwrap_or_default();
    let line = before.iter().filter(|b| **b == b'\n').count() + 1;
    let start = before
        .iter()
        .rposition(|b| *b == b'\n')
        .map_or(0, |p| p + 1);
    let column = String::from_utf8_lossy(&before[start..]).chars().count() + 1;
    (line, column)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_count_characters_not_bytes() {
        assert_eq!(place("crème = 1\nsel = 2", 0), (1, 1));
        assert_eq!(place("crème = 1\nsel = 2", 6), (1, 6));
        assert_eq!(place("crème = 1\nsel = 2", 11), (2, 1));
        assert_eq!(place("a", 99), (1, 2));
    }
}
