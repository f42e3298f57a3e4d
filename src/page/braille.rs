//! The page for a braille embosser: what is given to the translator, and its answer laid out in cells and lines.

use super::content::{Page, Passage};

/// Cells of a line, and lines of a page, on the usual paper (common practice, no source).
pub const CELLS: usize = 40;
/// Lines of a page; the last has its number.
pub const LINES: usize = 25;

/// Lists and paragraphs by the indents of braille formats: a list's line runs over by two cells, a paragraph begins two
/// cells in, a heading of the first kind stands in the middle (BANA, Braille Formats 2016, from memory).
fn indents(block: Option<&Passage>) -> (usize, usize) {
    match block {
        None | Some(Passage::Heading(2, _)) => (0, 0),
        Some(Passage::Heading(..)) => (4, 4),
        Some(Passage::List(_)) => (0, 2),
        Some(Passage::Text(_) | Passage::Careful(_)) => (2, 0),
    }
}

/// The texts of a page, the title first, each in one line: what the translator is given.
pub fn to_translate(page: &Page) -> Vec<String> {
    let mut lines = vec![page.title.clone()];
    for block in &page.blocks {
        match block {
            Passage::Heading(_, text) | Passage::Text(text) => lines.push(text.clone()),
            Passage::Careful(text) => lines.push(format!("Careful: {text}")),
            Passage::List(items) => lines.extend(items.iter().map(super::ListItem::line)),
        }
    }
    lines
        .iter()
        .map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "))
        .collect()
}

/// The file for the embosser (BRF) from the translated texts, in their order; nothing where they are not as many, or not in
/// the characters of embossers.
pub fn brf(page: &Page, translated: &[String]) -> Option<String> {
    if !translated.iter().all(|text| text.is_ascii()) {
        return None;
    }
    let mut texts = translated.iter();
    let mut lines: Vec<String> = Vec::new();
    lay(&mut lines, texts.next()?, None);
    for block in &page.blocks {
        if let Passage::Heading(..) = block {
            lines.push(String::new());
        }
        let n = match block {
            Passage::List(items) => items.len(),
            _ => 1,
        };
        for _ in 0..n {
            lay(&mut lines, texts.next()?, Some(block));
        }
    }
    texts.next().is_none().then(|| paged(&lines))
}

/// One text in lines of cells.
fn lay(lines: &mut Vec<String>, text: &str, block: Option<&Passage>) {
    let (first, others) = indents(block);
    let centred = matches!(block, None | Some(Passage::Heading(2, _)));
    let room = if centred { CELLS - 6 } else { CELLS };
    let mut line = " ".repeat(first);
    let mut empty = true;
    let mut close = |line: &str| {
        let line = line.trim_end();
        let before = if centred {
            (CELLS - line.len().min(CELLS)) / 2
        } else {
            0
        };
        lines.push(format!("{}{line}", " ".repeat(before)));
    };
    for word in text.split_whitespace() {
        // A word that is longer than a line is cut.
        let mut word = word;
        loop {
            let space = usize::from(!empty);
            if line.len() + space + word.len() <= room {
                if !empty {
                    line.push(' ');
                }
                line.push_str(word);
                empty = false;
                break;
            }
            if empty {
                let (here, rest) = word.split_at(room - line.len());
                line.push_str(here);
                word = rest;
            }
            close(&line);
            line = " ".repeat(others);
            empty = true;
        }
    }
    if !empty {
        close(&line);
    }
}

/// Pages of lines, each with its number in the last line; a heading does not stand at the foot of one.
fn paged(lines: &[String]) -> String {
    let mut out = String::new();
    let (mut at, mut page) = (0, 1);
    while at < lines.len() {
        while lines[at].is_empty() && at + 1 < lines.len() {
            at += 1;
        }
        let mut to = (at + LINES - 1).min(lines.len());
        // The blank line before a heading among the last three begins the next page.
        if to < lines.len()
            && let Some(blank) = (to.saturating_sub(3)..to).find(|i| lines[*i].is_empty())
            && blank > at
        {
            to = blank;
        }
        let mut rows: Vec<&str> = lines[at..to].iter().map(String::as_str).collect();
        rows.resize(LINES - 1, "");
        for row in rows {
            out += row;
            out += "\r\n";
        }
        let number = digits(page);
        out += &format!("{number:>CELLS$}\r\n\u{c}");
        at = to;
        page += 1;
    }
    out
}

/// A number in braille: the sign for numbers, then the letters a to j.
fn digits(n: usize) -> String {
    let letter = |c: char| match c {
        '0' => 'J',
        c => char::from(b'A' + (c as u8 - b'1')),
    };
    format!("#{}", n.to_string().chars().map(letter).collect::<String>())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn page(blocks: Vec<Passage>) -> Page {
        Page {
            title: "Soup".to_owned(),
            blocks,
        }
    }

    #[test]
    fn no_line_is_longer_than_the_paper_and_no_page_higher() {
        let long = "WORD ".repeat(400) + &"X".repeat(95);
        let blocks: Vec<Passage> = (0..6)
            .flat_map(|_| {
                [
                    Passage::Heading(2, long[..60].to_owned()),
                    Passage::Text(long.clone()),
                ]
            })
            .collect();
        let page = page(blocks);
        let texts = to_translate(&page);
        let brf = brf(&page, &texts).expect("as many");
        let pages: Vec<&str> = brf.trim_end_matches('\u{c}').split('\u{c}').collect();
        assert!(pages.len() > 3);
        for (n, page) in pages.iter().enumerate() {
            let lines: Vec<&str> = page.split("\r\n").collect();
            assert_eq!(lines.len(), LINES + 1, "a page and its last line end");
            assert!(lines.iter().all(|line| line.len() <= CELLS));
            assert!(lines[LINES - 1].ends_with(&digits(n + 1)));
        }
        let letters = |text: &str| text.chars().filter(|c| *c == 'X').count();
        assert_eq!(letters(&brf), 6 * 95, "nothing of a long word is lost");
    }

    #[test]
    fn a_translation_that_lost_a_line_makes_no_page() {
        let page = page(vec![Passage::Text("Stir.".to_owned())]);
        assert!(brf(&page, &["SOUP".to_owned()]).is_none());
        assert_eq!(digits(120), "#ABJ");
    }
}
