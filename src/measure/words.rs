//! Numbers in words, as a cook says them, and back again.
//!
//! Words are written without hyphens ('fifty seven'), so that each is one word of the recogniser's vocabulary.

const SMALL: [&str; 20] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
const TENS: [&str; 10] = [
    "", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety",
];
const BIG: [(u64, &str); 4] = [
    (1_000_000_000_000, "trillion"),
    (1_000_000_000, "billion"),
    (1_000_000, "million"),
    (1000, "thousand"),
];

/// Which fractions are said as such.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Style {
    /// Spoons and cups: halves, thirds, quarters and eighths, taken when the number is within half a percent of one.
    Kitchen,
    /// Scales: exact halves and quarters; anything else as a decimal.
    Scale,
}

/// The text with its first letter large, to begin a sentence.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// A whole number in words, with the British 'and': 'one thousand two hundred and fifty'.
pub fn cardinal(n: u64) -> String {
    if n < 20 {
        return SMALL[n as usize].to_owned();
    }
    if n < 100 {
        let tens = TENS[(n / 10) as usize];
        return if n.is_multiple_of(10) {
            tens.to_owned()
        } else {
            format!("{tens} {}", SMALL[(n % 10) as usize])
        };
    }
    if n < 1000 {
        let hundreds = format!("{} hundred", SMALL[(n / 100) as usize]);
        return if n.is_multiple_of(100) {
            hundreds
        } else {
            format!("{hundreds} and {}", cardinal(n % 100))
        };
    }
    for (size, name) in BIG {
        if n >= size {
            let head = format!("{} {name}", cardinal(n / size));
            return match n % size {
                0 => head,
                rest if rest < 100 => format!("{head} and {}", cardinal(rest)),
                rest => format!("{head} {}", cardinal(rest)),
            };
        }
    }
    n.to_string()
}

/// A decimal in words: 'two point five', 'nought' never: 'zero point four'. At most `places` decimals.
pub fn decimal(x: f64, places: usize) -> String {
    let text = format!("{x:.places$}");
    let (sign, text) = text
        .strip_prefix('-')
        .map_or(("", text.as_str()), |t| ("minus ", t));
    let (whole, digits) = text.split_once('.').unwrap_or((text, ""));
    let digits = digits.trim_end_matches('0');
    let head = whole
        .parse::<u64>()
        .map_or_else(|_| whole.to_owned(), cardinal);
    if digits.is_empty() {
        return if head == "zero" {
            head
        } else {
            format!("{sign}{head}")
        };
    }
    let tail: Vec<&str> = digits
        .bytes()
        .map(|d| SMALL[usize::from(d - b'0')])
        .collect();
    format!("{sign}{head} point {}", tail.join(" "))
}

/// (top, bottom, words)
type Fraction = (u32, u32, &'static str);

/// Halves, quarters, thirds, eighths.
const FRACTIONS: [Fraction; 9] = [
    (1, 2, "half"),
    (1, 4, "quarter"),
    (3, 4, "three quarters"),
    (1, 3, "third"),
    (2, 3, "two thirds"),
    (1, 8, "eighth"),
    (3, 8, "three eighths"),
    (5, 8, "five eighths"),
    (7, 8, "seven eighths"),
];

/// Splits into a whole number and a fraction that a cook would say; `None` when no such fraction is near.
pub(crate) fn split(x: f64, style: Style) -> Option<(u64, Option<Fraction>)> {
    if !(0.0..1e15).contains(&x) {
        return None;
    }
    let tolerance = match style {
        Style::Kitchen => (x * 0.005).clamp(1e-9, 0.01),
        Style::Scale => 1e-9_f64.max(x * 1e-12),
    };
    let near = x.round();
    if (x - near).abs() <= tolerance && (near > 0.0 || x == 0.0) {
        return Some((near as u64, None));
    }
    let whole = x.floor();
    let part = x - whole;
    FRACTIONS
        .iter()
        .filter(|f| match style {
            Style::Kitchen => true,
            Style::Scale => f.1 == 2 || f.1 == 4,
        })
        .map(|f| (f, (f64::from(f.0) / f64::from(f.1) - part).abs()))
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .filter(|&(_, off)| off <= tolerance)
        .map(|(f, _)| (whole as u64, Some(*f)))
}

/// A number as a cook says it: 'two', 'one and a half', 'three quarters', 'two point three'.
pub fn number(x: f64, style: Style) -> String {
    match split(x, style) {
        Some((whole, None)) => cardinal(whole),
        Some((0, Some(f))) => bare_fraction(f),
        Some((whole, Some((1, 2, half)))) => format!("{} and a {half}", cardinal(whole)),
        Some((whole, Some(f))) => format!("{} and {}", cardinal(whole), bare_fraction(f)),
        None => decimal(x, places(x)),
    }
}

/// A number with its unit: 'three quarters of a teaspoon', 'one and a third cups', 'one gram', 'half an ounce'.
pub fn counted(x: f64, singular: &str, plural: &str, style: Style) -> String {
    let article = if singular.starts_with(['a', 'e', 'i', 'o']) {
        "an"
    } else {
        "a"
    };
    match split(x, style) {
        Some((1, None)) => format!("one {singular}"),
        Some((0, Some(f))) => match f.2 {
            "half" => format!("half {article} {singular}"),
            _ => format!("{} of {article} {singular}", bare_fraction(f)),
        },
        Some(_) => format!("{} {plural}", number(x, style)),
        None => format!("{} {plural}", decimal(x, places(x))),
    }
}

fn bare_fraction(f: Fraction) -> String {
    match f {
        (1, 2, words) => words.to_owned(),
        (1, 8, words) => format!("an {words}"),
        (1, _, words) => format!("a {words}"),
        (_, _, words) => words.to_owned(),
    }
}

/// Decimals worth saying: three figures at most, fewer as the number grows.
fn places(x: f64) -> usize {
    match x.abs() {
        x if x >= 100.0 => 1,
        x if x >= 0.1 => 2,
        x if x >= 0.01 => 3,
        _ => 4,
    }
}

/// Reads one number word as a value that can be added ('forty') or that multiplies ('hundred').
pub(crate) enum Word {
    /// Adds.
    Add(f64),
    /// Multiplies what stands before.
    Times(f64),
}

pub(crate) fn word(text: &str) -> Option<Word> {
    if let Some(n) = SMALL.iter().position(|w| *w == text) {
        return Some(Word::Add(n as f64));
    }
    if let Some(n) = TENS.iter().position(|w| !w.is_empty() && *w == text) {
        return Some(Word::Add(n as f64 * 10.0));
    }
    Some(match text {
        "nought" | "oh" => Word::Add(0.0),
        "hundred" => Word::Times(100.0),
        "thousand" => Word::Times(1000.0),
        "million" => Word::Times(1e6),
        _ => return None,
    })
}

/// The value of a fraction's name: 'half', 'thirds', 'eighth'.
pub(crate) fn fraction_word(text: &str) -> Option<f64> {
    Some(match text {
        "half" | "halves" => 0.5,
        "third" | "thirds" => 1.0 / 3.0,
        "quarter" | "quarters" => 0.25,
        "fifth" | "fifths" => 0.2,
        "sixth" | "sixths" => 1.0 / 6.0,
        "eighth" | "eighths" => 0.125,
        "tenth" | "tenths" => 0.1,
        "sixteenth" | "sixteenths" => 0.0625,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::{Style, cardinal, counted, decimal, number};

    #[test]
    fn whole_numbers_have_the_british_and() {
        assert_eq!(cardinal(0), "zero");
        assert_eq!(cardinal(57), "fifty seven");
        assert_eq!(cardinal(540), "five hundred and forty");
        assert_eq!(cardinal(1250), "one thousand two hundred and fifty");
        assert_eq!(cardinal(2005), "two thousand and five");
        assert_eq!(cardinal(1_000_000), "one million");
    }

    #[test]
    fn a_sentence_begins_with_a_large_letter_of_any_alphabet() {
        assert_eq!(super::capital("éclair paste"), "Éclair paste");
        assert_eq!(super::capital("ße"), "SSe");
        assert_eq!(super::capital(""), "");
    }

    #[test]
    fn fractions_are_said_as_cooks_say_them() {
        assert_eq!(
            counted(0.75, "teaspoon", "teaspoons", Style::Kitchen),
            "three quarters of a teaspoon"
        );
        assert_eq!(
            counted(1.333, "cup", "cups", Style::Kitchen),
            "one and a third cups"
        );
        assert_eq!(
            counted(0.5, "ounce", "ounces", Style::Scale),
            "half an ounce"
        );
        assert_eq!(
            counted(10.5, "gram", "grams", Style::Scale),
            "ten and a half grams"
        );
        assert_eq!(counted(1.0, "gram", "grams", Style::Scale), "one gram");
        assert_eq!(
            counted(0.4, "gram", "grams", Style::Scale),
            "zero point four grams"
        );
        assert_eq!(
            counted(0.125, "teaspoon", "teaspoons", Style::Kitchen),
            "an eighth of a teaspoon"
        );
        assert_eq!(number(0.25, Style::Scale), "a quarter");
        assert_eq!(number(2.3, Style::Scale), "two point three");
        assert_eq!(decimal(-2.5, 1), "minus two point five");
    }
}
