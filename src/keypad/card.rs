//! The card of the keys, made from the declared keys: for the terminal, for printing, for the README and to be read aloud.

use std::fmt::Write as _;

use super::paths::{Part, key_paths};
use super::tree::children;
use crate::measure::print::wrapped;
use crate::measure::words::capital;
use crate::order::Key;

/// How to answer when the program is not sure what it heard: no path of one intent.
const DOUBT: &str = "When I am not sure what I heard, Enter reads what it may have been, and Enter or a digit chooses.";
/// How to learn a key.
const HOLD: &str = "Hold any key for a second, and it says what it does.";

/// A key on the card: which, its column and row, its width and height.
const KEYS: [(Key, usize, usize, usize, usize); 17] = [
    (Key::Backspace, 0, 0, 1, 1),
    (Key::Divide, 1, 0, 1, 1),
    (Key::Times, 2, 0, 1, 1),
    (Key::Minus, 3, 0, 1, 1),
    (Key::Digit(7), 0, 1, 1, 1),
    (Key::Digit(8), 1, 1, 1, 1),
    (Key::Digit(9), 2, 1, 1, 1),
    (Key::Plus, 3, 1, 1, 2),
    (Key::Digit(4), 0, 2, 1, 1),
    (Key::Digit(5), 1, 2, 1, 1),
    (Key::Digit(6), 2, 2, 1, 1),
    (Key::Digit(1), 0, 3, 1, 1),
    (Key::Digit(2), 1, 3, 1, 1),
    (Key::Digit(3), 2, 3, 1, 1),
    (Key::Enter, 3, 3, 1, 2),
    (Key::Digit(0), 0, 4, 2, 1),
    (Key::Dot, 2, 4, 1, 1),
];

/// What is true of every key: below the drawing.
const FOOT: [&str; 2] = [
    "A number, then a key: 1 2 * is a timer of twelve minutes. Any key silences an alarm.",
    "Hold a key for a second: it says what it does, and does nothing.",
];

/// The parts of the card, in the order of learning.
const PARTS: [(&str, Part); 4] = [
    ("One key", Part::OneKey),
    ("Nought first only tells", Part::Nought),
    ("A number first", Part::Number),
    (
        "The lists: dot goes on, minus goes back, Enter or a digit chooses, Backspace leaves",
        Part::Lists,
    ),
];

/// What the card says under a key.
fn captions(key: Key) -> Vec<String> {
    if let Key::Digit(d) = key {
        let at = if d == 0 { 9 } else { usize::from(d) - 1 };
        let mut says: Vec<String> = children(".")
            .get(at)
            .map(|item| format!("after the dot: {}", item.says))
            .into_iter()
            .collect();
        if d == 0 {
            says.insert(0, "first: only tells".to_owned());
        }
        return says;
    }
    let mut says: Vec<String> = key_paths()
        .iter()
        .filter(|p| p.strokes == key.sign())
        .map(|p| {
            p.says
                .split([':', ';'])
                .next()
                .unwrap_or(p.says)
                .trim()
                .to_owned()
        })
        .collect();
    if key == Key::Dot {
        says.push("the lists".to_owned());
    }
    if key == Key::Divide {
        says.push("how much".to_owned());
    }
    says
}

/// Where the rest stands.
const REST: &str = "commis keys --table has every way through the lists.";

/// The card for a terminal of `width` columns: the keypad drawn where it fits, then what one key does, alone or after a number.
pub fn card_text(width: usize) -> String {
    let mut out = String::from("THE KEYS OF COMMIS\n\n");
    if width > 4 * CELL_W {
        out.push_str(&drawing());
        out.push('\n');
    }
    for (title, part) in PARTS.into_iter().filter(|(_, part)| *part != Part::Lists) {
        for line in wrapped(&title.to_uppercase(), width.max(20)) {
            let _ = writeln!(out, "{line}");
        }
        out.push('\n');
        let keys = key_paths()
            .iter()
            .filter(|p| p.part() == part)
            .map(|p| p.strokes.len())
            .max()
            .unwrap_or(0)
            .min(width / 2);
        for p in key_paths().iter().filter(|p| p.part() == part) {
            let place = p.place.words();
            let says = if place.is_empty() {
                p.says.to_owned()
            } else {
                format!("{} ({place})", p.says)
            };
            let lines = wrapped(&says, width.saturating_sub(keys + 4).max(12));
            let own_line = p.strokes.len() > keys;
            if own_line {
                for line in wrapped(&p.strokes, width.max(20) - 2) {
                    let _ = writeln!(out, "  {line}");
                }
            }
            for (i, line) in lines.iter().enumerate() {
                let strokes = if i == 0 && !own_line { &p.strokes } else { "" };
                let _ = writeln!(out, "  {strokes:<keys$}  {line}");
            }
        }
        out.push('\n');
    }
    for line in [DOUBT, HOLD, REST]
        .iter()
        .flat_map(|t| wrapped(t, width.max(20)))
    {
        let _ = writeln!(out, "{line}");
    }
    out
}

const CELL_W: usize = 18;
const CELL_H: usize = 5;

fn drawing() -> String {
    let (columns, rows) = (4 * CELL_W + 1, 5 * CELL_H + 1);
    let mut grid = vec![vec![' '; columns]; rows];
    for (key, column, row, w, h) in KEYS {
        let (x0, y0) = (column * CELL_W, row * CELL_H);
        let (x1, y1) = (x0 + w * CELL_W, y0 + h * CELL_H);
        for y in [y0, y1] {
            grid[y][x0..=x1].fill('-');
        }
        for line in &mut grid[y0..=y1] {
            line[x0] = '|';
            line[x1] = '|';
        }
        let mut lines = vec![key.sign().to_owned()];
        if key == Key::Digit(5) {
            lines[0].push_str("  (raised dot)");
        }
        for caption in captions(key) {
            lines.extend(wrapped(&caption, w * CELL_W - 3));
        }
        for (dy, text) in lines.iter().take(h * CELL_H - 1).enumerate() {
            for (dx, c) in text.chars().take(w * CELL_W - 3).enumerate() {
                grid[y0 + 1 + dy][x0 + 2 + dx] = c;
            }
        }
    }
    for y in (0..rows).step_by(CELL_H) {
        for x in (0..columns).step_by(CELL_W) {
            let inside_tall = x == columns - 1 && (y == 2 * CELL_H || y == 4 * CELL_H);
            if grid[y][x] != ' ' && !inside_tall {
                grid[y][x] = '+';
            }
        }
    }
    grid.into_iter()
        .map(|line| line.into_iter().collect::<String>().trim_end().to_owned() + "\n")
        .collect()
}

fn escape(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
        .replace('"', "&quot;")
}

/// Letters that a key of one column holds: 18 point type (6.35 mm), which averages about half its height in width.
const LETTERS: usize = 17;

/// The keypad with its captions as one SVG page, A4 across, black on white, in large print: 18 point.
pub fn card_svg() -> String {
    const W: usize = 66;
    const H: usize = 36;
    let mut out = String::from(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"297mm\" height=\"210mm\" viewBox=\"0 0 297 210\" \
         role=\"img\" font-family=\"sans-serif\" fill=\"#000\">\n<title>The keys of commis</title>\n\
         <rect width=\"297\" height=\"210\" fill=\"#fff\"/>\n",
    );
    for (i, line) in FOOT.iter().enumerate() {
        let y = 195 + 8 * i;
        let _ = writeln!(
            out,
            "<text x=\"16\" y=\"{y}\" font-size=\"6.35\">{line}</text>"
        );
    }
    for (key, column, row, w, h) in KEYS {
        let (x, y) = (16 + column * W, 6 + row * H);
        let (kw, kh) = (w * W - 3, h * H - 3);
        let _ = writeln!(
            out,
            "<rect x=\"{x}\" y=\"{y}\" width=\"{kw}\" height=\"{kh}\" rx=\"3\" fill=\"#fff\" stroke=\"#000\" \
             stroke-width=\"0.8\"/>"
        );
        let _ = writeln!(
            out,
            "<text x=\"{}\" y=\"{}\" font-size=\"10\" font-weight=\"bold\">{}</text>",
            x + 4,
            y + 11,
            escape(key.sign())
        );
        if key.sign().len() == 1 && !matches!(key, Key::Digit(_)) {
            // A stroke alone is hard to tell from another.
            let _ = writeln!(
                out,
                "<text x=\"{}\" y=\"{}\" font-size=\"6.35\" font-weight=\"bold\" text-anchor=\"end\">{}</text>",
                x + kw - 4,
                y + 10,
                key.spoken().to_lowercase()
            );
        }
        if key == Key::Digit(5) {
            // The raised dot of the real key.
            let _ = writeln!(
                out,
                "<circle cx=\"{}\" cy=\"{}\" r=\"1.6\"/>",
                x + 16,
                y + 8
            );
        }
        let lines: Vec<String> = captions(key)
            .iter()
            .flat_map(|c| wrapped(c, w * LETTERS))
            .collect();
        for (i, line) in lines.iter().enumerate() {
            let _ = writeln!(
                out,
                "<text x=\"{}\" y=\"{}\" font-size=\"6.35\">{}</text>",
                x + 4,
                y + 17 + 7 * i,
                escape(line)
            );
        }
    }
    out.push_str("</svg>\n");
    out
}

/// The card as an HTML file that prints as one page in large print: the drawing with its meanings.
pub fn card_html() -> String {
    format!(
        "<!DOCTYPE html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\">\n<title>The keys of commis</title>\n\
         <style>\n@page {{ size: A4 landscape; margin: 0; }}\nbody {{ margin: 0; color: #000; background: #fff; }}\n\
         svg {{ display: block; width: 100%; height: auto; max-height: 100vh; }}\n</style>\n</head>\n<body>\n{}</body>\n</html>\n",
        card_svg()
    )
}

/// The paths as a Markdown table: for the README.
pub fn card_table() -> String {
    let mut out = String::from("| Press | Meaning | Where | Order |\n|---|---|---|---|\n");
    for p in key_paths() {
        let _ = writeln!(
            out,
            "| `{}` | {} | {} | `{}` |",
            p.strokes,
            p.says,
            p.place.words(),
            p.order
        );
    }
    out
}

/// The card to be read aloud, a sentence an item: the single keys, nought, numbers, and how the lists work.
pub fn card_spoken() -> Vec<String> {
    let mut out = vec!["These are the keys.".to_owned()];
    for (title, part) in PARTS {
        out.push(format!("{title}."));
        for p in key_paths().iter().filter(|p| p.part() == part) {
            // The lists say themselves; only their two-stroke paths are worth hearing beforehand.
            if part == Part::Lists && p.strokes.split_whitespace().count() > 2 {
                continue;
            }
            let keys: Vec<String> = Key::strokes(&p.strokes)
                .unwrap_or_default()
                .into_iter()
                .map(|k| k.spoken().to_lowercase())
                .collect();
            let place = p.place.words();
            let place = if place.is_empty() {
                String::new()
            } else {
                format!(", {place}")
            };
            out.push(format!("{}{place}: {}.", capital(&keys.join(" ")), p.says));
        }
    }
    out.extend([DOUBT.to_owned(), HOLD.to_owned()]);
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_path_stands_in_the_table_and_every_short_one_on_the_card() {
        let (text, table) = (card_text(100), card_table());
        let flat = text.split_whitespace().collect::<Vec<_>>().join(" ");
        for p in key_paths() {
            let on_card =
                p.part() == Part::Lists || flat.contains(&format!("{} {}", p.strokes, p.says));
            assert!(on_card, "{p:?}");
            assert!(
                table.contains(&format!("| `{}` | {} |", p.strokes, p.says)),
                "{p:?}"
            );
        }
        assert!(text.ends_with(&format!("{REST}\n")));
    }

    #[test]
    fn the_printed_card_is_one_page_with_every_key_and_its_meanings() {
        let html = card_html();
        assert_eq!(html.matches("<svg ").count(), 1);
        assert!(!html.contains("<table"));
        for (key, ..) in KEYS {
            assert!(
                html.contains(&format!(">{}</text>", escape(key.sign()))),
                "{key:?}"
            );
            let shown: Vec<String> = captions(key)
                .iter()
                .flat_map(|c| wrapped(c, LETTERS))
                .collect();
            let shown = shown.iter().filter(|l| !html.contains(&escape(l)));
            // The wide key has longer lines.
            assert!(key == Key::Digit(0) || shown.count() == 0, "{key:?}");
        }
    }

    #[test]
    fn the_terminal_card_fits_its_width() {
        for width in [40, 60, 73, 80, 132] {
            for line in card_text(width).lines() {
                assert!(line.chars().count() <= width.max(40), "{width}: `{line}`");
            }
        }
        assert!(card_text(73).contains("(raised dot)"));
        assert!(!card_text(60).contains("(raised dot)"));
    }

    #[test]
    fn keys_do_not_overlap_on_the_card() {
        let mut taken = [[false; 4]; 5];
        for (key, column, row, w, h) in KEYS {
            for line in &mut taken[row..row + h] {
                for cell in &mut line[column..column + w] {
                    assert!(!*cell, "{key:?} lies on another key");
                    *cell = true;
                }
            }
        }
        assert!(taken.iter().flatten().all(|cell| *cell));
    }

    #[test]
    fn printed_captions_stay_on_their_keys() {
        for (key, _, _, w, h) in KEYS {
            let lines: Vec<String> = captions(key)
                .iter()
                .flat_map(|c| wrapped(c, w * LETTERS))
                .collect();
            // What hangs below the line takes a quarter of the type.
            assert!(
                17.0 + 7.0 * (lines.len() as f64 - 1.0) + 6.35 / 4.0 <= (h * 36 - 3) as f64,
                "{key:?}: {lines:?}"
            );
            assert!(!lines.is_empty());
            assert!(
                lines.iter().all(|l| l.chars().count() <= w * LETTERS),
                "{lines:?}"
            );
        }
    }

    #[test]
    fn the_spoken_card_is_sentences() {
        let said = card_spoken();
        assert!(said.iter().all(|s| s.ends_with('.') && !s.contains("  ")));
        assert!(said.contains(&"Enter: go on.".to_owned()), "{said:?}");
        assert!(
            said.contains(&"0 star: how long is left on each timer.".to_owned()),
            "{said:?}"
        );
    }
}
