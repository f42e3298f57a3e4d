//! Cuts the text of an amount into numbers, words and signs.

/// One piece of text, and where it stands.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Token<'a> {
    pub what: What<'a>,
    pub start: usize,
    pub end: usize,
}

/// What a piece of text is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum What<'a> {
    /// A number in figures, fractions included: '2', '1.5', '1 1/2', '¾'.
    Number(f64),
    /// A fraction whose bottom is zero.
    Broken(&'a str),
    /// Letters (and dots inside, as in 'fl.oz').
    Word(&'a str),
    /// Anything else, one character.
    Sign(char),
}

/// The value of a fraction written as one character.
pub(crate) fn vulgar(c: char) -> Option<f64> {
    Some(match c {
        '½' => 0.5,
        '⅓' => 1.0 / 3.0,
        '⅔' => 2.0 / 3.0,
        '¼' => 0.25,
        '¾' => 0.75,
        '⅕' => 0.2,
        '⅖' => 0.4,
        '⅗' => 0.6,
        '⅘' => 0.8,
        '⅙' => 1.0 / 6.0,
        '⅚' => 5.0 / 6.0,
        '⅐' => 1.0 / 7.0,
        '⅛' => 0.125,
        '⅜' => 0.375,
        '⅝' => 0.625,
        '⅞' => 0.875,
        '⅑' => 1.0 / 9.0,
        '⅒' => 0.1,
        _ => return None,
    })
}

/// Cuts the text; spaces are only separators.
pub(crate) fn scan(text: &str) -> Vec<Token<'_>> {
    let mut tokens = Vec::new();
    let mut at = 0;
    while let Some(c) = text[at..].chars().next() {
        let start = at;
        let next_is_digit =
            || text[start + c.len_utf8()..].starts_with(|d: char| d.is_ascii_digit());
        if c.is_whitespace() {
            at += c.len_utf8();
            continue;
        }
        let what = if c.is_ascii_digit() || (c == '.' && next_is_digit()) || vulgar(c).is_some() {
            let (what, end) = figures(text, at);
            at = end;
            what
        } else if c.is_alphabetic() {
            let end = text[at..]
                .char_indices()
                .find(|&(i, d)| {
                    !(d.is_alphabetic()
                        || d == '\''
                        || d == '’'
                        || (d == '.' && dot_inside(text, at + i)))
                })
                .map_or(text.len(), |(i, _)| at + i);
            at = end;
            What::Word(&text[start..end])
        } else {
            at += c.len_utf8();
            What::Sign(c)
        };
        tokens.push(Token {
            what,
            start,
            end: at,
        });
    }
    tokens
}

/// A dot belongs to its word when it stands in or at the end of an abbreviation, not before a figure.
fn dot_inside(text: &str, at: usize) -> bool {
    !text[at + 1..].starts_with(|d: char| d.is_ascii_digit())
}

/// Reads figures from `at`: a whole or decimal number, a fraction, or both. Gives the end as well.
fn figures(text: &str, at: usize) -> (What<'_>, usize) {
    if let Some((value, end)) = vulgar_at(text, at) {
        return (What::Number(value), end);
    }
    let (whole, mut end, plain) = decimal(text, at);
    if !plain {
        return (What::Number(whole), end);
    }
    // '1/2', or a whole followed by a fraction: '1½', '1 ½', '1 1/2', '1-1/2'.
    if let Some((bottom, after)) = slash_and_bottom(text, end) {
        return over(text, at, whole, bottom, after);
    }
    let spaces = text[end..].len() - text[end..].trim_start().len();
    let mut from = end + spaces;
    if spaces == 0 && text[end..].starts_with('-') {
        from = end + 1;
    }
    if let Some((part, after)) = vulgar_at(text, from) {
        return (What::Number(whole + part), after);
    }
    if from > end && text[from..].starts_with(|d: char| d.is_ascii_digit()) {
        let (top, top_end, top_plain) = decimal(text, from);
        if top_plain
            && let Some((bottom, after)) = slash_and_bottom(text, top_end)
            && bottom > 0.0
            && top < bottom
        {
            end = after;
            return (What::Number(whole + top / bottom), end);
        }
    }
    (What::Number(whole), end)
}

fn over(text: &str, at: usize, top: f64, bottom: f64, end: usize) -> (What<'_>, usize) {
    if bottom == 0.0 {
        (What::Broken(&text[at..end]), end)
    } else {
        (What::Number(top / bottom), end)
    }
}

fn vulgar_at(text: &str, at: usize) -> Option<(f64, usize)> {
    let c = text[at..].chars().next()?;
    vulgar(c).map(|v| (v, at + c.len_utf8()))
}

/// '/' or the fraction slash, with a whole number after it.
fn slash_and_bottom(text: &str, at: usize) -> Option<(f64, usize)> {
    let rest = text[at..].trim_start();
    let slash = rest
        .chars()
        .next()
        .filter(|c| matches!(c, '/' | '⁄' | '∕'))?;
    let rest = rest[slash.len_utf8()..].trim_start();
    let digits = rest.len() - rest.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    // '100 g/3 1/2 oz' has a slash before an amount, not a fraction; there the figure before is not bare.
    if digits == 0 {
        return None;
    }
    let bottom = rest[..digits].parse().ok()?;
    Some((bottom, text.len() - rest.len() + digits))
}

/// A number in figures; true when it is a plain whole number. A comma before exactly three digits groups thousands,
/// any other comma between digits is a decimal comma.
fn decimal(text: &str, at: usize) -> (f64, usize, bool) {
    let bytes = text.as_bytes();
    let digits_from = |from: usize| {
        bytes[from..]
            .iter()
            .take_while(|b| b.is_ascii_digit())
            .count()
    };
    let mut end = at + digits_from(at);
    let mut written = text[at..end].to_owned();
    let mut plain = true;
    while bytes.get(end) == Some(&b',')
        && digits_from(end + 1) == 3
        && (1..=3).contains(&written.len().min(if plain { written.len() } else { 1 }))
        && written != "0"
    {
        written.push_str(&text[end + 1..end + 4]);
        end += 4;
        plain = false;
    }
    let grouped = !plain;
    if matches!(bytes.get(end), Some(b'.')) || (!grouped && bytes.get(end) == Some(&b',')) {
        let more = digits_from(end + 1);
        if more > 0 {
            written.push('.');
            written.push_str(&text[end + 1..end + 1 + more]);
            end += 1 + more;
            plain = false;
        }
    }
    (written.parse().unwrap_or(f64::INFINITY), end, plain)
}

#[cfg(test)]
mod tests {
    use super::{What, scan};

    fn numbers(text: &str) -> Vec<f64> {
        scan(text)
            .iter()
            .filter_map(|t| match t.what {
                What::Number(n) => Some(n),
                _ => None,
            })
            .collect()
    }

    #[test]
    fn figures_as_cooks_write_them() {
        for (text, value) in [
            ("2", 2.0),
            ("1.5", 1.5),
            (".5", 0.5),
            ("1,5 kg", 1.5),
            ("1,250 g", 1250.0),
            ("1,250,000", 1_250_000.0),
            ("0,125 l", 0.125),
            ("1 1/2", 1.5),
            ("1-1/2 cups", 1.5),
            ("1½", 1.5),
            ("1 ½", 1.5),
            ("¾ oz", 0.75),
            ("1⁄2", 0.5),
            ("2 2/3", 2.0 + 2.0 / 3.0),
        ] {
            assert_eq!(numbers(text), [value], "{text}");
        }
        assert_eq!(numbers("3-4"), [3.0, 4.0]);
        assert_eq!(numbers("250g/9oz"), [250.0, 9.0]);
        assert_eq!(numbers("2 x 400g"), [2.0, 400.0]);
    }

    #[test]
    fn a_fraction_over_nothing_is_not_a_number() {
        assert!(matches!(scan("1/0 cup")[0].what, What::Broken("1/0")));
    }
}
