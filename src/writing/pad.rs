//! Answers by the keys of the pad: a number first, then what it is of.

use super::question::AnswerKind;
use crate::order::Key;

/// What a number may be of, in the order of its digits: as said, and as a formula writes it.
const UNITS: [(&str, &str); 8] = [
    ("grams", "g"),
    ("kilos", "kg"),
    ("millilitres", "ml"),
    ("litres", "l"),
    ("teaspoons", "tsp"),
    ("tablespoons", "tbsp"),
    ("cups", "cups"),
    ("pieces", ""),
];

/// So long may a number be.
const LONGEST: usize = 7;

/// What comes of a key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PadSays {
    /// This is said; nothing is answered yet.
    Say(String),
    /// This is the answer.
    Answer(String),
}

/// What is half entered.
#[derive(Debug, Clone, Default)]
pub struct Pad {
    number: String,
    /// The number stands, and its unit is asked for.
    of_what: bool,
}

impl Pad {
    /// A key, while this is asked for.
    pub fn key(&mut self, key: Key, kind: AnswerKind) -> PadSays {
        let answer = |text: &str| PadSays::Answer(text.to_owned());
        if self.of_what {
            return self.unit(key);
        }
        match key {
            Key::Digit(_) | Key::Dot if self.number.len() >= LONGEST => {
                PadSays::Say(format!("{} is as long as a number may be.", self.number))
            }
            Key::Digit(d) => {
                self.number.push(char::from(b'0' + d.min(9)));
                PadSays::Say(self.number.clone())
            }
            Key::Dot if self.number.contains('.') => PadSays::Say(self.number.clone()),
            Key::Dot => {
                if self.number.is_empty() {
                    self.number.push('0');
                }
                self.number.push('.');
                PadSays::Say(format!("{} point", self.number.trim_end_matches('.')))
            }
            Key::Backspace if self.number.pop().is_some() => {
                PadSays::Say(match self.number.as_str() {
                    "" => "Nothing entered.".to_owned(),
                    number => number.to_owned(),
                })
            }
            Key::Backspace if kind == AnswerKind::YesNo => answer("no"),
            Key::Backspace | Key::Minus => answer("undo"),
            Key::Plus => answer("again"),
            Key::Times => answer("none"),
            Key::Divide => answer("done"),
            Key::Enter if self.number.is_empty() => answer(""),
            Key::Enter => {
                let number = self.number.trim_end_matches('.').to_owned();
                match kind {
                    AnswerKind::Amount => {
                        self.of_what = true;
                        PadSays::Say(format!("{number} of what? {} Enter for grams.", units()))
                    }
                    AnswerKind::Time => self.answered(&format!("{number} min")),
                    AnswerKind::Heat => self.answered(&format!("{number} C")),
                    _ => self.answered(&number),
                }
            }
        }
    }

    fn unit(&mut self, key: Key) -> PadSays {
        let at = match key {
            Key::Enter => 0,
            Key::Digit(d) if (1..=UNITS.len()).contains(&usize::from(d)) => usize::from(d) - 1,
            Key::Backspace | Key::Minus => {
                self.of_what = false;
                return PadSays::Say(self.number.clone());
            }
            _ => return PadSays::Say(format!("{} Enter for grams.", units())),
        };
        let number = self.number.trim_end_matches('.').to_owned();
        let text = format!("{number} {}", UNITS[at].1);
        self.answered(text.trim())
    }

    fn answered(&mut self, text: &str) -> PadSays {
        *self = Self::default();
        PadSays::Answer(text.to_owned())
    }
}

/// `1 for grams, 2 for kilos.`
fn units() -> String {
    let one = |(n, (said, _)): (usize, &(&str, &str))| format!("{} for {said}", n + 1);
    let all: Vec<String> = UNITS.iter().enumerate().map(one).collect();
    format!("{}.", all.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn press(strokes: &str, kind: AnswerKind) -> PadSays {
        let mut pad = Pad::default();
        let mut last = PadSays::Say(String::new());
        for key in Key::strokes(strokes).expect("strokes") {
            last = pad.key(key, kind);
        }
        last
    }

    #[test]
    fn numbers_and_what_they_are_of() {
        let answer = |text: &str| PadSays::Answer(text.to_owned());
        for (strokes, kind, said) in [
            ("5 0 0 Enter Enter", AnswerKind::Amount, "500 g"),
            ("1 . 5 Enter 5", AnswerKind::Amount, "1.5 tsp"),
            ("2 Enter 8", AnswerKind::Amount, "2"),
            (". 5 Enter 4", AnswerKind::Amount, "0.5 l"),
            ("3 5 Enter", AnswerKind::Time, "35 min"),
            ("2 2 0 Enter", AnswerKind::Heat, "220 C"),
            ("1 2 Back 4 Enter", AnswerKind::Number, "14"),
            ("Enter", AnswerKind::Number, ""),
            ("Back", AnswerKind::Words, "undo"),
            ("Back", AnswerKind::YesNo, "no"),
            ("1 2 Enter - Back 9 Enter 1", AnswerKind::Amount, "19 g"),
        ] {
            assert_eq!(press(strokes, kind), answer(said), "{strokes}");
        }
        assert!(
            matches!(press("1 2 Enter", AnswerKind::Amount), PadSays::Say(said) if said.starts_with("12 of what? 1 for grams"))
        );
    }
}
