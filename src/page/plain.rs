//! The page as plain text, wrapped.

use unicode_width::UnicodeWidthStr as _;

use super::content::{Page, Passage};

/// The page as text in lines of at most so many columns; a longer word has a line of its own.
pub fn plain(page: &Page, columns: usize) -> String {
    let mut out = format!("{}\n", wrapped(&page.title.to_uppercase(), columns, "", ""));
    for block in &page.blocks {
        match block {
            Passage::Heading(2, text) => {
                let text = wrapped(&text.to_uppercase(), columns, "", "");
                out += &format!("\n\n{text}\n");
            }
            Passage::Heading(_, text) => out += &format!("\n{}\n", wrapped(text, columns, "", "")),
            Passage::Text(text) => out += &format!("{}\n", wrapped(text, columns, "", "")),
            Passage::Careful(text) => {
                out += &format!(
                    "{}\n",
                    wrapped(&format!("CAREFUL: {text}"), columns, "", "  ")
                );
            }
            Passage::List(items) => {
                for item in items {
                    out += &format!("{}\n", wrapped(&item.line(), columns, "- ", "  "));
                }
            }
        }
    }
    out
}

/// Words in lines, parted at spaces alone and not where none may break: what begins the first one, and what the others.
pub(super) fn wrapped(text: &str, columns: usize, first: &str, others: &str) -> String {
    let mut lines: Vec<String> = Vec::new();
    let mut line = first.to_owned();
    let mut empty = true;
    for word in text.split([' ', '\n']).filter(|word| !word.is_empty()) {
        let space = usize::from(!empty);
        if !empty && line.width() + space + word.width() > columns {
            lines.push(std::mem::replace(&mut line, others.to_owned()));
            empty = true;
        }
        if !empty {
            line.push(' ');
        }
        line.push_str(word);
        empty = false;
    }
    lines.push(line);
    lines.join("\n")
}
