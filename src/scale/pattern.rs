//! What a line of a scale means, by a pattern that the user can write.
//!
//! ```text
//! {weight} {unit} {status}                        412.5 g stable
//! {weight}[ {unit}][ {status}]                    what is taken where nothing is set
//! {status ST=stable US=moving},GS,{weight}{unit}  ST,GS,+  412.5  g
//! {skip}{weight}{unit}                            anything before the weight
//! ```
//!
//! A blank stands for any blanks, or none. What is in brackets may be missing. Everything else stands for itself.

use super::reading::{Reading, Status, WeightUnit};

/// The longest pattern, in parts.
const MOST_PARTS: usize = 32;

/// A pattern of lines.
#[derive(Debug, Clone, PartialEq)]
pub struct Pattern(Vec<Part>);

/// Why a pattern cannot be read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("expected {expected}, found `{found}`")]
pub struct PatternError {
    /// What was expected.
    pub expected: &'static str,
    /// What stood there.
    pub found: String,
}

#[derive(Debug, Clone, PartialEq)]
enum Part {
    Weight,
    Unit,
    Status(Vec<(String, Status)>),
    Skip,
    Blank,
    Exactly(char),
    /// What is in the brackets begins here and ends before that part.
    Maybe(usize),
}

/// Words for statuses that scales use.
const STATUS_WORDS: &[(&str, Status)] = &[
    ("stable", Status::Stable),
    ("st", Status::Stable),
    ("s", Status::Stable),
    ("moving", Status::Moving),
    ("motion", Status::Moving),
    ("unstable", Status::Moving),
    ("us", Status::Moving),
    ("d", Status::Moving),
    ("zero", Status::Zero),
    ("under", Status::UnderZero),
    ("over", Status::OverLimit),
    ("ol", Status::OverLimit),
    ("fault", Status::Fault),
    ("error", Status::Fault),
    ("err", Status::Fault),
    ("calibrate", Status::Calibrate),
    ("rezero", Status::Rezero),
];

impl Default for Pattern {
    fn default() -> Self {
        let parts = vec![
            Part::Weight,
            Part::Maybe(4),
            Part::Blank,
            Part::Unit,
            Part::Maybe(7),
            Part::Blank,
            Part::Status(Vec::new()),
        ];
        Self(parts)
    }
}

impl Pattern {
    /// Reads a pattern.
    ///
    /// # Errors
    /// What was expected and what was found.
    pub fn read(text: &str) -> Result<Self, PatternError> {
        let wrong = |expected, found: &str| PatternError {
            expected,
            found: found.to_owned(),
        };
        let mut parts = Vec::new();
        let mut open = None;
        let mut rest = text.trim();
        while let Some(c) = rest.chars().next() {
            rest = &rest[c.len_utf8()..];
            match c {
                '{' => {
                    let (inside, after) =
                        rest.split_once('}').ok_or_else(|| wrong("a `}`", rest))?;
                    rest = after;
                    parts.push(field(inside)?);
                }
                '[' if open.is_none() => {
                    open = Some(parts.len());
                    parts.push(Part::Maybe(0));
                }
                ']' => {
                    let at = open.take().ok_or_else(|| wrong("a `[` before", "]"))?;
                    parts[at] = Part::Maybe(parts.len());
                }
                '[' => return Err(wrong("a `]` before the next", "[")),
                c if c.is_whitespace() => {
                    if parts.last() != Some(&Part::Blank) {
                        parts.push(Part::Blank);
                    }
                }
                c => parts.push(Part::Exactly(c)),
            }
        }
        if open.is_some() {
            return Err(wrong("a `]`", text));
        }
        if parts.iter().filter(|p| **p == Part::Weight).count() != 1 {
            return Err(wrong("one `{weight}`", text));
        }
        if parts.len() > MOST_PARTS {
            return Err(wrong("a shorter pattern", text));
        }
        Ok(Self(parts))
    }

    /// What a line says; nothing where it is another kind of line.
    pub fn reading(&self, line: &str) -> Option<Reading> {
        let mut reader = Reader {
            parts: &self.0,
            line,
            failed: vec![false; (self.0.len() + 1) * (line.len() + 1)],
        };
        let found = reader.read(0, 0)?;
        let (count, step) = found.weight?;
        let mut status = found.status.unwrap_or(Status::Unsaid);
        if status.may_stand() && count < 0.0 {
            status = Status::UnderZero;
        }
        let unit = found.unit.unwrap_or(WeightUnit::Gram);
        let reading = Reading::of(count, step, unit, status);
        reading.is_sane().then_some(reading)
    }
}

/// `weight`, `unit`, `skip`, `status` or `status ST=stable US=moving`.
fn field(inside: &str) -> Result<Part, PatternError> {
    let wrong = |expected, found: &str| PatternError {
        expected,
        found: found.to_owned(),
    };
    let mut words = inside.split_whitespace();
    match words.next() {
        Some("weight") => Ok(Part::Weight),
        Some("unit") => Ok(Part::Unit),
        Some("skip") => Ok(Part::Skip),
        Some("status") => {
            let own = words.map(|pair| {
                let (shown, means) = pair.split_once('=').unwrap_or((pair, ""));
                let means = means.to_lowercase();
                let status = STATUS_WORDS.iter().find(|(w, _)| *w == means);
                status
                    .map(|(_, s)| (shown.to_owned(), *s))
                    .filter(|(shown, _)| !shown.is_empty())
                    .ok_or_else(|| wrong("a word such as `ST=stable` or `US=moving`", pair))
            });
            own.collect::<Result<_, _>>().map(Part::Status)
        }
        _ => Err(wrong(
            "`{weight}`, `{unit}`, `{status}` or `{skip}`",
            &format!("{{{inside}}}"),
        )),
    }
}

#[derive(Debug, Clone, Copy, Default)]
struct Found {
    weight: Option<(f64, f64)>,
    unit: Option<WeightUnit>,
    status: Option<Status>,
}

/// Reads one line, and no place twice: a line of any kind takes no longer than its length times that of the pattern.
struct Reader<'a> {
    parts: &'a [Part],
    line: &'a str,
    failed: Vec<bool>,
}

impl Reader<'_> {
    fn read(&mut self, part: usize, at: usize) -> Option<Found> {
        let key = part * (self.line.len() + 1) + at;
        if self.failed[key] {
            return None;
        }
        let found = self.try_read(part, at);
        self.failed[key] = found.is_none();
        found
    }

    fn try_read(&mut self, part: usize, at: usize) -> Option<Found> {
        let rest = &self.line[at..];
        let Some(this) = self.parts.get(part) else {
            return rest.trim().is_empty().then(Found::default);
        };
        match this {
            Part::Exactly(c) => {
                let rest = rest.strip_prefix(*c)?;
                self.read(part + 1, self.line.len() - rest.len())
            }
            Part::Blank => self.read(part + 1, self.line.len() - rest.trim_start().len()),
            Part::Maybe(end) => {
                let end = *end;
                self.read(part + 1, at).or_else(|| self.read(end, at))
            }
            Part::Skip => {
                let mut ends = rest.char_indices().map(|(i, _)| at + i);
                ends.find_map(|end| self.read(part + 1, end))
                    .or_else(|| self.read(part + 1, self.line.len()))
            }
            Part::Weight => {
                let (weight, length) = number(rest)?;
                let found = self.read(part + 1, at + length)?;
                Some(Found {
                    weight: Some(weight),
                    ..found
                })
            }
            Part::Unit => {
                let rest = rest.trim_start();
                let at = self.line.len() - rest.len();
                let word = letters(rest);
                let unit = WeightUnit::named(word)?;
                let found = self.read(part + 1, at + word.len())?;
                Some(Found {
                    unit: Some(unit),
                    ..found
                })
            }
            Part::Status(own) => {
                let (status, length) = match own.iter().find(|(w, _)| rest.starts_with(w.as_str()))
                {
                    Some((word, status)) => (*status, word.len()),
                    None => {
                        let word = letters(rest);
                        let lower = word.to_lowercase();
                        let known = STATUS_WORDS.iter().find(|(w, _)| *w == lower)?;
                        (known.1, word.len())
                    }
                };
                let found = self.read(part + 1, at + length)?;
                Some(Found {
                    status: Some(status),
                    ..found
                })
            }
        }
    }
}

fn letters(text: &str) -> &str {
    let end = text.find(|c: char| !c.is_ascii_alphabetic());
    &text[..end.unwrap_or(text.len())]
}

/// A number with its sign: its value, and its step by its decimals; and its length.
fn number(text: &str) -> Option<((f64, f64), usize)> {
    let rest = text.trim_start();
    let (sign, rest) = match rest.chars().next()? {
        '-' => (-1.0, rest[1..].trim_start()),
        '+' => (1.0, rest[1..].trim_start()),
        _ => (1.0, rest),
    };
    let end = rest
        .find(|c: char| !c.is_ascii_digit() && c != '.' && c != ',')
        .unwrap_or(rest.len());
    let digits = rest[..end].replace(',', ".");
    let digits = digits.trim_end_matches('.');
    let decimals = digits.split_once('.').map_or(0, |(_, d)| d.len());
    if digits.len() > 12 || !digits.starts_with(|c: char| c.is_ascii_digit()) {
        return None;
    }
    let value: f64 = digits.parse().ok()?;
    let length = text.len() - rest.len() + digits.len();
    Some(((sign * value, 10_f64.powi(-(decimals as i32))), length))
}
