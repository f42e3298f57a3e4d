//! An ingredient line as it stands in a cookbook: amount, name, and what is done to it.

use super::{Amount, MeasureError, Region, Thing, Unit};

/// A line in its three parts.
#[derive(Debug, Clone, PartialEq)]
pub struct IngredientLine {
    /// The amount, where one is written: 'salt and pepper' has none.
    pub amount: Option<Amount>,
    /// What it is: `strong white flour`.
    pub name: String,
    /// How it is cut, kept or meant: `sifted`, `to serve`; empty when nothing is said.
    pub note: String,
}

/// Parts of a fruit that a line asks for by 'the juice of one lemon'.
const PARTS: [&str; 5] = ["juice", "zest", "peel", "rind", "grated zest"];
/// Words of size and of filling that stand before a name and are no part of it.
const BEFORE: [&str; 12] = [
    "large",
    "medium",
    "small",
    "medium-sized",
    "extra-large",
    "big",
    "firmly packed",
    "lightly packed",
    "loosely packed",
    "packed",
    "x",
    "sized",
];
/// Words that end a name.
const AFTER: [&str; 14] = [
    ", ",
    " - ",
    " – ",
    " — ",
    "(",
    ": ",
    ";",
    " to serve",
    " for ",
    " to taste",
    " plus extra",
    " to glaze",
    " to garnish",
    " as needed",
];

impl IngredientLine {
    /// Reads a line. A bare cup or spoon is the region's own.
    ///
    /// # Errors
    /// Where an amount is written but wrong: a fraction over nothing, a range that goes backwards, nothing at all.
    pub fn read(text: &str, region: Region) -> Result<Self, MeasureError> {
        let text = text
            .trim()
            .trim_start_matches(['-', '•', '*', '–'])
            .trim_start();
        if text.is_empty() {
            return Err(MeasureError::Empty);
        }
        if let Some((part, fruit)) = part_of(text) {
            let line = Self::read(fruit, region)?;
            return Ok(Self {
                name: format!("{} {part}", super::singular(&line.name)),
                ..line
            });
        }
        let (amount, rest) = match Amount::parse_prefix(text, region) {
            Ok((amount, rest)) => (amount, rest),
            Err(MeasureError::Amount { cause, .. })
                if matches!(*cause, MeasureError::NotANumber { .. }) =>
            {
                let (name, note) = name_and_note(text.strip_prefix("some ").unwrap_or(text));
                return Ok(Self {
                    amount: None,
                    name,
                    note,
                });
            }
            Err(e) => return Err(e),
        };
        if let Some((long, rest)) = length(&amount, rest) {
            let (name, note) = name_and_note(rest);
            let note = if note.is_empty() {
                long
            } else {
                format!("{long}; {note}")
            };
            return Ok(Self {
                amount: Some(Amount::of(1.0, Unit::Count(Thing::Piece))),
                name,
                note,
            });
        }
        let (name, note) = if rest.is_empty() || rest.starts_with([',', '(', '-', '–', ';']) {
            let (after, note) = name_and_note(rest);
            match counted_thing(&amount, rest) {
                Some(thing) => (
                    thing,
                    [after, note]
                        .into_iter()
                        .filter(|n| !n.is_empty())
                        .collect::<Vec<_>>()
                        .join("; "),
                ),
                None => (after, note),
            }
        } else {
            name_and_note(rest)
        };
        Ok(Self {
            amount: Some(amount),
            name,
            note,
        })
    }
}

/// 'juice of 1 lemon', 'zest of two oranges': the part, and the line of the fruit.
fn part_of(text: &str) -> Option<(&'static str, &str)> {
    let text = text.strip_prefix("the ").unwrap_or(text);
    PARTS.iter().find_map(|part| {
        text.strip_prefix(part)?
            .strip_prefix(" of ")
            .map(|fruit| (*part, fruit))
    })
}

/// '2 cm ginger', '1 x 2 cm piece ginger': a length is a note, and the amount is one piece.
fn length<'a>(amount: &Amount, rest: &'a str) -> Option<(String, &'a str)> {
    let [part] = amount.parts.as_slice() else {
        return None;
    };
    if part.unit != Unit::Count(Thing::Piece) {
        return None;
    }
    let (number, after) = match rest.strip_prefix("x ") {
        Some(after) => {
            let (number, after) = after.split_once(' ')?;
            (number.to_owned(), after)
        }
        None => (super::print::number(part.high, 2), rest),
    };
    let (unit, after) = after.split_once(' ')?;
    if !matches!(unit, "cm" | "mm" | "inch" | "inches" | "in") || number.parse::<f64>().is_err() {
        return None;
    }
    let after = ["piece of ", "pieces of ", "piece ", "pieces "]
        .iter()
        .find_map(|word| after.strip_prefix(word))
        .unwrap_or(after);
    Some((format!("{number} {unit}"), after))
}

/// '2 eggs' is two of the thing that it counts.
fn counted_thing(amount: &Amount, rest: &str) -> Option<String> {
    let part = amount.parts.last()?;
    let is_named = matches!(
        part.unit,
        Unit::Count(Thing::Egg | Thing::Yolk | Thing::White)
    );
    match part.unit {
        Unit::Count(Thing::Piece) => None,
        Unit::Count(_) if is_named || rest.is_empty() => Some(
            if part.high > 1.0 {
                part.unit.plural()
            } else {
                part.unit.singular()
            }
            .to_owned(),
        ),
        _ => None,
    }
}

/// The name ends at a comma, a dash, a bracket or a word such as 'to serve'; brackets may stand before it as well.
fn name_and_note(rest: &str) -> (String, String) {
    let mut notes: Vec<&str> = Vec::new();
    let mut rest = rest
        .trim_start_matches([',', '.', ':', ';', '-', '–'])
        .trim();
    while let Some(inside) = rest.strip_prefix('(')
        && let Some((note, after)) = inside.split_once(')')
    {
        notes.push(note.trim());
        rest = after.trim_start_matches([',', ' ']);
    }
    rest = rest.strip_prefix("of ").unwrap_or(rest);
    while let Some((word, after)) = BEFORE
        .iter()
        .find_map(|word| Some((*word, rest.strip_prefix(word)?.strip_prefix(' ')?)))
    {
        if word != "x" {
            notes.push(word);
        }
        rest = after;
    }
    if notes.last() == Some(&"sized") {
        rest = rest.strip_prefix("piece of ").unwrap_or(rest);
    }
    let end = AFTER
        .iter()
        .filter_map(|mark| rest.find(mark))
        .min()
        .unwrap_or(rest.len());
    let note = rest[end..].trim_matches([',', ' ', '-', '–', '—', '(', ')', ':', ';']);
    if !note.is_empty() {
        notes.push(note);
    }
    let name = rest[..end].trim().trim_end_matches([',', '.', '*']);
    (name.to_owned(), notes.join("; "))
}

#[cfg(test)]
mod tests {
    use super::IngredientLine;
    use crate::measure::Region;

    fn read(text: &str) -> (String, String, String) {
        let line = IngredientLine::read(text, Region::Uk).unwrap();
        (
            line.amount.map_or(String::new(), |a| a.to_string()),
            line.name,
            line.note,
        )
    }

    #[test]
    fn three_parts() {
        for (text, amount, name, note) in [
            ("2 large eggs, beaten", "2 eggs", "eggs", "beaten"),
            (
                "500g strong flour, plus extra for dusting",
                "500 g",
                "strong flour",
                "plus extra for dusting",
            ),
            ("juice of half a lemon", "0.5", "lemon juice", ""),
            ("2 cm ginger, grated", "1", "ginger", "2 cm; grated"),
            (
                "7g sachet dried yeast",
                "1 x 7 g packets",
                "dried yeast",
                "",
            ),
            ("1 large onion (red)", "1", "onion", "large; red"),
            ("salt, to taste", "", "salt", "to taste"),
        ] {
            assert_eq!(
                read(text),
                (amount.into(), name.into(), note.into()),
                "{text}"
            );
        }
        assert!(IngredientLine::read("1/0 cup flour", Region::Uk).is_err());
        assert!(IngredientLine::read("  ", Region::Uk).is_err());
    }
}
