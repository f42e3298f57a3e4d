//! Figures, units and signs that a formula's own text has, in words, so that every voice says them alike. What the program
//! says of itself has none.

use crate::measure::spoken_time::say_clock;
use crate::measure::words::{cardinal, decimal};
use crate::time::{ClockTime, HalfDay};

/// Units as they are written behind a number: one of them, and more than one.
const UNITS: [(&str, &str, &str); 24] = [
    ("kg", "kilogram", "kilograms"),
    ("mg", "milligram", "milligrams"),
    ("g", "gram", "grams"),
    ("ml", "millilitre", "millilitres"),
    ("cl", "centilitre", "centilitres"),
    ("dl", "decilitre", "decilitres"),
    ("l", "litre", "litres"),
    ("L", "litre", "litres"),
    ("mm", "millimetre", "millimetres"),
    ("cm", "centimetre", "centimetres"),
    ("m", "metre", "metres"),
    ("oz", "ounce", "ounces"),
    ("lb", "pound", "pounds"),
    ("tsp", "teaspoon", "teaspoons"),
    ("tbsp", "tablespoon", "tablespoons"),
    ("min", "minute", "minutes"),
    ("h", "hour", "hours"),
    ("s", "second", "seconds"),
    ("°C", "degree Celsius", "degrees Celsius"),
    ("°F", "degree Fahrenheit", "degrees Fahrenheit"),
    ("C", "degree Celsius", "degrees Celsius"),
    ("F", "degree Fahrenheit", "degrees Fahrenheit"),
    ("°", "degree", "degrees"),
    ("%", "percent", "percent"),
];

/// Signs for parts of a whole.
const PARTS: [(char, &str); 15] = [
    ('½', "a half"),
    ('¼', "a quarter"),
    ('¾', "three quarters"),
    ('⅓', "a third"),
    ('⅔', "two thirds"),
    ('⅛', "an eighth"),
    ('⅜', "three eighths"),
    ('⅝', "five eighths"),
    ('⅞', "seven eighths"),
    ('⅕', "a fifth"),
    ('⅖', "two fifths"),
    ('⅗', "three fifths"),
    ('⅘', "four fifths"),
    ('⅙', "a sixth"),
    ('⅚', "five sixths"),
];

/// Signs that are said.
const SIGNS: [(char, &str); 12] = [
    ('%', " percent"),
    ('°', " degrees"),
    ('&', " and "),
    ('+', " plus "),
    ('=', " is "),
    ('×', " by "),
    ('±', " give or take "),
    ('~', " about "),
    ('≈', " about "),
    ('@', " at "),
    ('€', " euros"),
    ('£', " pounds"),
];

/// A text with its figures and signs in words.
pub(super) fn in_words(text: &str) -> String {
    if text.is_ascii() && !text.contains(|c: char| c.is_ascii_digit() || "%&+=~@".contains(c)) {
        return text.to_owned();
    }
    let mut out = String::with_capacity(2 * text.len());
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        if c.is_ascii_digit() || part(c).is_some() {
            if out.ends_with(char::is_alphanumeric) {
                out.push(' ');
            }
            rest = number(rest, &mut out);
        } else {
            rest = &rest[c.len_utf8()..];
            match SIGNS.iter().find(|(sign, _)| *sign == c) {
                Some((_, said)) if out.ends_with(' ') || out.is_empty() => {
                    out.push_str(said.trim_start());
                }
                Some((_, said)) => out.push_str(said),
                None if matches!(c, '–' | '−') => out.push_str(", "),
                None => out.push(c),
            }
        }
    }
    // Two spaces where a sign had its own.
    let words: Vec<&str> = out.split_whitespace().collect();
    words.join(" ").replace(" ,", ",").replace(" .", ".")
}

fn part(c: char) -> Option<&'static str> {
    PARTS
        .iter()
        .find(|(sign, _)| *sign == c)
        .map(|(_, said)| *said)
}

/// What a number is to the unit behind it.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Many {
    One,
    More,
    /// Less than one: 'half a teaspoon', 'three quarters of a cup'.
    Part,
}

/// Measures that are written as words: a part is a part of one.
const MEASURES: [&str; 7] = [
    "cup",
    "teaspoon",
    "tablespoon",
    "pint",
    "pound",
    "litre",
    "inch",
];
const ORDINALS: [&str; 13] = [
    "noughth", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth",
    "ninth", "tenth", "eleventh", "twelfth",
];

/// What a number, its range and its unit at the beginning of a text are in words; what comes after it.
fn number<'t>(text: &'t str, out: &mut String) -> &'t str {
    let ((mut said, mut many), mut rest) = value(text);
    if let Some(after) = ["st", "nd", "rd", "th"]
        .iter()
        .find_map(|end| rest.strip_prefix(end))
        && !after.starts_with(char::is_alphanumeric)
        && said.chars().all(|c| c.is_alphabetic() || c == ' ')
    {
        let n: usize = text[..text.len() - rest.len()]
            .parse()
            .unwrap_or(usize::MAX);
        let known = ORDINALS.get(n).map(|o| (*o).to_owned());
        out.push_str(&known.unwrap_or_else(|| format!("{said}th")));
        return after;
    }
    let dash = rest.trim_start_matches(['-', '–', '—', '−']);
    if dash.len() < rest.len() && dash.starts_with(|c: char| c.is_ascii_digit()) {
        let (second, after) = value(dash);
        said = format!("{said} to {}", second.0);
        many = Many::More;
        rest = after;
    }
    let bare = rest.strip_prefix(' ').unwrap_or(rest);
    let spaced = bare.len() < rest.len();
    let unit = UNITS
        .iter()
        .filter(|(written, ..)| bare.starts_with(written))
        .max_by_key(|(written, ..)| written.len())
        .filter(|(written, ..)| {
            let whole =
                !bare[written.len()..].starts_with(|c: char| c.is_alphanumeric() || c == '\'');
            // A letter that stands alone may be a name: only what is written to the number is a unit there.
            whole && !(spaced && matches!(*written, "C" | "F" | "m" | "s" | "h" | "L"))
        });
    let written = MEASURES.iter().any(|m| bare.starts_with(m));
    let of = if said == "a half" { "half a " } else { "of a " };
    // 'a twenty three centimetre tin'
    let single = many == Many::One || out.ends_with(" a ") || out.to_lowercase() == "a ";
    match unit {
        Some((sign, one, _)) if many == Many::Part => {
            let head = if said == "a half" {
                String::new()
            } else {
                said + " "
            };
            out.push_str(&format!("{head}{of}{one}"));
            &bare[sign.len()..]
        }
        Some((sign, one, more)) => {
            out.push_str(&format!("{said} {}", if single { one } else { more }));
            &bare[sign.len()..]
        }
        None if many == Many::Part && written => {
            let head = if said == "a half" {
                String::new()
            } else {
                said + " "
            };
            out.push_str(&format!("{head}{of}"));
            bare
        }
        None => {
            out.push_str(&said);
            if rest.starts_with(char::is_alphanumeric) {
                out.push(' ');
            }
            rest
        }
    }
}

/// A number in words, what it is to a unit, and what comes after it.
fn value(text: &str) -> ((String, Many), &str) {
    let digits =
        |text: &str| text.len() - text.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let read = |text: &str| text.parse::<u64>().unwrap_or(u64::MAX);
    let mut whole = text[..digits(text)].to_owned();
    let mut rest = &text[whole.len()..];
    // Thousands with commas.
    while rest.starts_with(',') && digits(&rest[1..]) == 3 {
        whole.push_str(&rest[1..4]);
        rest = &rest[4..];
    }
    if whole.is_empty() {
        let sign = text.chars().next().unwrap_or_default();
        let said = part(sign).unwrap_or_default().to_owned();
        return ((said, Many::Part), &text[sign.len_utf8()..]);
    }
    let n = read(&whole);
    let after = rest.chars().next();
    // So many digits behind this sign.
    let more = |sign: char| {
        (after == Some(sign))
            .then(|| digits(&rest[1..]))
            .filter(|n| *n > 0)
    };
    if let Some(sign) = after.and_then(part) {
        let said = format!("{} and {sign}", cardinal(n));
        return ((said, Many::More), &rest[after.map_or(0, char::len_utf8)..]);
    }
    if let (Some(2), 1..=2, 0..24) = (more(':'), whole.len(), n)
        && let minute @ 0..60 = read(&rest[1..3])
    {
        let (hour, minute) = (n as u8, minute as u8);
        let half = match hour {
            1..=12 => HalfDay::Unsaid,
            _ => HalfDay::Said,
        };
        let at = ClockTime { hour, minute, half };
        return ((say_clock(at), Many::More), &rest[3..]);
    }
    if let Some(places) = more('.') {
        let all: f64 = format!("{whole}.{}", &rest[1..=places])
            .parse()
            .unwrap_or(0.0);
        let said = decimal(all, places.min(4));
        return ((said, Many::More), &rest[1 + places..]);
    }
    if let Some(length) = more('/') {
        let below = read(&rest[1..=length]);
        let after = &rest[1 + length..];
        let name = match below {
            2 => Some(("a half", "halves")),
            3 => Some(("a third", "thirds")),
            4 => Some(("a quarter", "quarters")),
            5 => Some(("a fifth", "fifths")),
            6 => Some(("a sixth", "sixths")),
            8 => Some(("an eighth", "eighths")),
            _ => None,
        };
        let said = match name {
            Some((one, _)) if n == 1 => one.to_owned(),
            Some((_, many)) => format!("{} {many}", cardinal(n)),
            None => format!("{} over {}", cardinal(n), cardinal(below)),
        };
        return ((said, Many::Part), after);
    }
    let many = if n == 1 { Many::One } else { Many::More };
    ((cardinal(n), many), rest)
}

#[cfg(test)]
mod tests {
    use super::in_words;

    #[test]
    fn figures_are_said_in_words() {
        for (written, said) in [
            (
                "Bake at 220 °C for 35 min.",
                "Bake at two hundred and twenty degrees Celsius for thirty five minutes.",
            ),
            (
                "Bake at 425°F.",
                "Bake at four hundred and twenty five degrees Fahrenheit.",
            ),
            (
                "Heat to 63C, then cool.",
                "Heat to sixty three degrees Celsius, then cool.",
            ),
            (
                "1 kg of flour, 1.5 l of water",
                "one kilogram of flour, one point five litres of water",
            ),
            ("1,250 g", "one thousand two hundred and fifty grams"),
            ("½ tsp of salt", "half a teaspoon of salt"),
            ("1½ cups", "one and a half cups"),
            ("3/4 cup", "three quarters of a cup"),
            ("serve at 19:30", "serve at half past seven in the evening"),
            ("for 2-3 minutes", "for two to three minutes"),
            ("for 10–12 min", "for ten to twelve minutes"),
            ("a 23 cm tin", "a twenty three centimetre tin"),
            ("65% water & salt", "sixty five percent water and salt"),
            ("20×30 cm", "twenty by thirty centimetres"),
            ("Step 3: fold", "Step three: fold"),
            ("vitamin B12", "vitamin B twelve"),
            ("the 2nd rise", "the second rise"),
            ("Plan C for 4 Cooks", "Plan C for four Cooks"),
        ] {
            assert_eq!(in_words(written), said);
        }
    }

    #[test]
    fn what_has_no_figures_stays() {
        for text in ["Step five. Oil the bowl.", "crème fraîche", ""] {
            assert_eq!(in_words(text), text);
        }
    }
}
