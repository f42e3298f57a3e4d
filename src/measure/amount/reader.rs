//! The grammar of written and spoken amounts.

use super::{Amount, MOST, Part, Sense};
use crate::measure::scan::{Token, What};
use crate::measure::words::{self, Word};
use crate::measure::{Kind, MeasureError, Region, Thing, Unit, print};

/// Reads an amount from tokens; each function takes what it understands and otherwise leaves its place alone.
pub(super) struct Reader<'a> {
    pub(super) text: &'a str,
    pub(super) tokens: &'a [Token<'a>],
    pub(super) at: usize,
    pub(super) region: Region,
}

impl<'a> Reader<'a> {
    pub(super) fn peek(&self) -> Option<Token<'a>> {
        self.tokens.get(self.at).copied()
    }

    fn word_at(&self, at: usize) -> Option<String> {
        match self.tokens.get(at)?.what {
            What::Word(word) => Some(word.trim_end_matches('.').to_lowercase()),
            _ => None,
        }
    }

    fn is_sign(&self, at: usize, signs: &[char]) -> bool {
        matches!(self.tokens.get(at), Some(Token { what: What::Sign(c), .. }) if signs.contains(c))
    }

    pub(super) fn skip_word(&mut self, words: &[&str]) -> bool {
        let found = self
            .word_at(self.at)
            .is_some_and(|w| words.contains(&w.as_str()));
        self.at += usize::from(found);
        found
    }

    fn skip_sign(&mut self, signs: &[char]) -> bool {
        let found = self.is_sign(self.at, signs);
        self.at += usize::from(found);
        found
    }

    /// The last token taken was a word for a piece, not a bare number.
    pub(super) fn said_piece(&self) -> bool {
        self.at
            .checked_sub(1)
            .and_then(|at| self.word_at(at))
            .is_some_and(|w| Unit::find(&w, self.region) == Ok(Unit::Count(Thing::Piece)))
    }

    pub(super) fn amount(&mut self) -> Result<Amount, MeasureError> {
        let mut sense = self.sense();
        let mut parts = vec![self.part(&mut sense)?];
        loop {
            let before = self.at;
            let joined = self.skip_sign(&['+', '&']) || self.skip_word(&["plus", "and"]);
            let comma = !joined && self.skip_sign(&[',']);
            let mut more = Sense::Exact;
            let last = parts
                .last()
                .copied()
                .expect("an amount has at least one part");
            match self.part(&mut more) {
                Ok(part) if self.joins(last, part, joined) => parts.push(part),
                Ok(Part {
                    low,
                    high,
                    unit: Unit::Count(Thing::Piece),
                    each: None,
                }) if last.unit == Unit::Kilogram
                    && !joined
                    && !comma
                    && low < 1000.0
                    && low == high =>
                {
                    // 'one kilo two fifty'
                    parts.push(Part {
                        low,
                        high,
                        unit: Unit::Gram,
                        each: None,
                    });
                }
                // A sign '+' promises more; 'and' may belong to the ingredient.
                Err(wrong) if joined && self.is_sign(before, &['+']) => return Err(wrong),
                _ => {
                    self.at = before;
                    break;
                }
            }
        }
        let also = self.courtesy();
        if sense == Sense::Exact && self.skip_word(&["approx", "approximately"]) {
            sense = Sense::About;
        }
        Ok(Amount { parts, sense, also })
    }

    /// A part joins the sum when it was joined by a word or sign, or follows a larger unit of its kind: 1 lb 3 oz.
    fn joins(&self, last: Part, part: Part, joined: bool) -> bool {
        let bare = part.unit == Unit::Count(Thing::Piece) && !self.said_piece();
        let same_kind = last.unit.kind() == part.unit.kind() && part.unit.kind() != Kind::Count;
        if joined {
            !bare
        } else {
            same_kind && part.unit.size() < last.unit.size()
        }
    }

    /// 'about', '~', 'approx.' or how the measure is filled.
    fn sense(&mut self) -> Sense {
        if self.skip_sign(&['~', '≈', '±']) {
            return Sense::About;
        }
        let Some(word) = self.word_at(self.at) else {
            return Sense::Exact;
        };
        match word.as_str() {
            "about" | "around" | "approx" | "approximately" | "roughly" | "circa" | "ca"
            | "nearly" => {
                self.at += 1;
                Sense::About
            }
            other => Sense::find(other).map_or(Sense::Exact, |sense| {
                self.at += 1;
                sense
            }),
        }
    }

    fn part(&mut self, sense: &mut Sense) -> Result<Part, MeasureError> {
        let start = self.at;
        let between = self.skip_word(&["between"]);
        let Some(low) = self.number()? else {
            return self.bare_unit(sense, start);
        };
        let high = self.range_end(low, between)?.unwrap_or(low);
        for n in [low, high] {
            if !(0.0..=MOST).contains(&n) {
                return Err(MeasureError::OutOfRange {
                    what: "amount",
                    min: 0.0,
                    max: MOST,
                    found: n,
                });
            }
        }
        self.filled(sense);
        // '2 x 400 g tins', '1 (400 g) tin', '1 14-ounce can'
        if low == high
            && let Some(part) = self.packed(low)
        {
            return Ok(part);
        }
        let unit = self.unit().unwrap_or(Unit::Count(Thing::Piece));
        let (low, high) = if low == high && unit.kind() != Kind::Count {
            let more = self.half_more();
            (low + more, high + more)
        } else {
            (low, high)
        };
        // '7 g sachet', '400g tin': one of them, holding so much
        if low == high
            && unit.kind() != Kind::Count
            && let Some(holder) = self.holder()
        {
            return Ok(Part {
                low: 1.0,
                high: 1.0,
                unit: holder,
                each: Some((low, unit)),
            });
        }
        Ok(Part {
            low,
            high,
            unit,
            each: None,
        })
    }

    /// How the measure is filled, between number and unit: '1 heaped tsp', '2 large eggs', '1 packed cup'. Taken only
    /// when a unit follows.
    fn filled(&mut self, sense: &mut Sense) {
        let before = self.at;
        let mut found = None;
        while let Some(word) = self.word_at(self.at) {
            if let Some(s) = Sense::find(&word) {
                found = Some(s);
            } else if !matches!(
                word.as_str(),
                "large"
                    | "medium"
                    | "small"
                    | "extra"
                    | "packed"
                    | "lightly"
                    | "loosely"
                    | "firmly"
                    | "tightly"
                    | "sized"
                    | "heaped"
                    | "thick"
                    | "thin"
                    | "fat"
                    | "big"
            ) {
                break;
            }
            self.at += 1;
            self.skip_sign(&['-']);
        }
        if self.at > before {
            let here = self.at;
            if self.unit().is_some() {
                self.at = here;
                if let Some(s) = found {
                    *sense = s;
                }
            } else {
                self.at = before;
            }
        }
    }

    /// The end of a range, when one follows: '3-4', '3 to 4', '3 or 4', 'between 3 and 4'.
    fn range_end(&mut self, low: f64, between: bool) -> Result<Option<f64>, MeasureError> {
        let before = self.at;
        let sign = self.skip_sign(&['-', '–', '—', '‐', '‑', '−']);
        let linked = sign
            || self.skip_word(if between {
                &["and", "to"]
            } else {
                &["to", "or"]
            });
        if !linked {
            return Ok(None);
        }
        match self.number()? {
            Some(high) if high >= low => Ok(Some(high)),
            Some(high) => Err(MeasureError::Backwards { low, high }),
            None => {
                self.at = before;
                Ok(None)
            }
        }
    }

    /// Units that are said without a number: 'pinch of salt', 'knob of butter'.
    fn bare_unit(&mut self, sense: &mut Sense, start: usize) -> Result<Part, MeasureError> {
        self.filled(sense);
        if let Some(unit) = self.unit()
            && (unit.is_approximate()
                || (unit.kind() == Kind::Count && self.word_at(self.at).as_deref() == Some("of")))
        {
            return Ok(Part {
                low: 1.0,
                high: 1.0,
                unit,
                each: None,
            });
        }
        self.at = start;
        let found = self.peek().map_or("nothing".to_owned(), |t| {
            self.text[t.start..].trim().to_owned()
        });
        Err(MeasureError::NotANumber { found })
    }

    /// A thing that is sold full: '7 g sachet'.
    fn holder(&mut self) -> Option<Unit> {
        let before = self.at;
        let found = self.unit().filter(|unit| {
            matches!(
                unit,
                Unit::Count(
                    Thing::Packet
                        | Thing::Tin
                        | Thing::Jar
                        | Thing::Bottle
                        | Thing::Bag
                        | Thing::Carton
                        | Thing::Block
                        | Thing::Pot
                        | Thing::Envelope
                )
            )
        });
        if found.is_none() {
            self.at = before;
        }
        found
    }

    fn packed(&mut self, number: f64) -> Option<Part> {
        let before = self.at;
        let bracket = self.skip_sign(&['(']);
        let times = !bracket && (self.skip_sign(&['×', '*']) || self.skip_word(&["x"]));
        let inside = self.number().ok().flatten();
        if let Some(each) = inside.filter(|n| (0.0..=MOST).contains(n)) {
            self.skip_sign(&['-']);
            if let Some(unit) = self.unit().filter(|u| u.kind() != Kind::Count)
                && (!bracket || self.skip_sign(&[')']))
            {
                let thing = self.unit().filter(|u| u.kind() == Kind::Count);
                if times || thing.is_some() {
                    let unit_of_all = thing.unwrap_or(Unit::Count(Thing::Piece));
                    return Some(Part {
                        low: number,
                        high: number,
                        unit: unit_of_all,
                        each: Some((each, unit)),
                    });
                }
            }
        }
        self.at = before;
        None
    }

    /// The same amount in another measure: '(250 g)', '/9 oz', 'or 9 oz'.
    fn courtesy(&mut self) -> Vec<Part> {
        let before = self.at;
        let bracket = self.skip_sign(&['(', '[']);
        let linked = bracket || self.skip_sign(&['/', '=', '|']) || self.skip_word(&["or"]);
        if !linked {
            return Vec::new();
        }
        let mut sense = self.sense();
        let mut parts = Vec::new();
        while let Ok(part) = self.part(&mut sense) {
            if part.unit == Unit::Count(Thing::Piece) || parts.len() > 3 {
                parts.clear();
                break;
            }
            parts.push(part);
            self.skip_sign(&['+']);
        }
        if parts.is_empty() || (bracket && !self.skip_sign(&[')', ']'])) {
            self.at = before;
            return Vec::new();
        }
        parts
    }

    /// The longest run of words that is a unit, from three words down to one.
    fn unit(&mut self) -> Option<Unit> {
        let from = if self.is_sign(self.at, &['-']) && self.word_at(self.at + 1).is_some() {
            self.at + 1
        } else {
            self.at
        };
        for length in (1..=3).rev() {
            let Some(last) = self.tokens.get(from + length - 1) else {
                continue;
            };
            if !self.tokens[from..from + length]
                .iter()
                .all(|t| matches!(t.what, What::Word(_)))
            {
                continue;
            }
            let written = &self.text[self.tokens[from].start..last.end];
            if let Ok(unit) = Unit::find(written, self.region) {
                self.at = from + length;
                return Some(unit);
            }
        }
        None
    }

    /// A number in figures or words; `None` (and no step forward) where there is none.
    fn number(&mut self) -> Result<Option<f64>, MeasureError> {
        let Some(token) = self.peek() else {
            return Ok(None);
        };
        let base = match token.what {
            What::Broken(found) => {
                return Err(MeasureError::DivisionByZero {
                    found: found.to_owned(),
                });
            }
            What::Number(n) => {
                self.at += 1;
                n
            }
            What::Word(_) => match self.spoken() {
                Some(n) => n,
                None => return Ok(None),
            },
            What::Sign(_) => return Ok(None),
        };
        let with_half = base + self.and_fraction().unwrap_or(0.0);
        let dozen = self.skip_word(&["dozen"]);
        Ok(Some(if dozen { with_half * 12.0 } else { with_half }))
    }

    /// 'and a half', 'and three quarters', '& 1/2' after a whole number.
    fn and_fraction(&mut self) -> Option<f64> {
        let before = self.at;
        if self.skip_word(&["and"])
            || self.skip_sign(&['&'])
            || (self.is_sign(before, &['-']) && self.and_after_hyphen())
        {
            self.skip_sign(&['-']);
            if let Some(Token {
                what: What::Number(n),
                ..
            }) = self.peek()
                && n < 1.0
            {
                self.at += 1;
                return Some(n);
            }
            if let Some(n) = self.fraction() {
                return Some(n);
            }
        }
        self.at = before;
        None
    }

    /// 'And a half' behind a unit: 'a litre and a half'. 'A cup and a half teaspoon' is two amounts.
    fn half_more(&mut self) -> f64 {
        let before = self.at;
        let said = self
            .word_at(before + 1)
            .is_some_and(|w| matches!(w.as_str(), "a" | "one" | "two" | "three"));
        if said
            && self.word_at(before).as_deref() == Some("and")
            && let Some(more) = self.and_fraction()
        {
            let here = self.at;
            // 'A tablespoon and a quarter of a teaspoon': the quarter is of another unit.
            let of = self.skip_word(&["of"]);
            let another = self.skip_word(&["a", "an"]);
            if self.unit().is_none() && (of || !another) {
                self.at = here;
                return more;
            }
            self.at = here;
        }
        self.at = before;
        0.0
    }

    fn and_after_hyphen(&mut self) -> bool {
        if self.word_at(self.at + 1).as_deref() == Some("and") {
            self.at += 2;
            return true;
        }
        false
    }

    /// 'half', 'a quarter', 'three quarters', 'two thirds'; no step forward where there is none.
    fn fraction(&mut self) -> Option<f64> {
        let before = self.at;
        let top = match self.word_at(self.at).as_deref() {
            Some("a" | "an") => {
                self.at += 1;
                Some(1.0)
            }
            Some(word) => match words::word(word) {
                Some(Word::Add(n)) if (1.0..16.0).contains(&n) => {
                    self.at += 1;
                    Some(n)
                }
                _ => None,
            },
            None => None,
        };
        self.skip_sign(&['-']);
        if let Some(part) = self
            .word_at(self.at)
            .as_deref()
            .and_then(words::fraction_word)
        {
            self.at += 1;
            return Some(top.unwrap_or(1.0) * part);
        }
        self.at = before;
        None
    }

    /// A number in words.
    fn spoken(&mut self) -> Option<f64> {
        if let Some(part) = self.fraction() {
            let before = self.at;
            // 'three quarters of a teaspoon', 'half an ounce', 'half a dozen'
            let of = self.skip_word(&["of"]);
            if !self.skip_word(&["a", "an", "one"]) && of {
                self.at = before;
            }
            return Some(part);
        }
        match self.word_at(self.at)?.as_str() {
            "couple" => {
                self.at += 1;
                self.skip_word(&["of"]);
                return Some(2.0);
            }
            "few" | "several" => {
                self.at += 1;
                return Some(3.0);
            }
            "dozen" => return Some(1.0),
            "a" | "an" => {
                self.at += 1;
                if self
                    .word_at(self.at)
                    .as_deref()
                    .and_then(words::word)
                    .is_some_and(|w| matches!(w, Word::Times(_)))
                {
                    return self.whole(1.0);
                }
                if self
                    .word_at(self.at)
                    .is_some_and(|w| w == "couple" || w == "few")
                {
                    return self.spoken();
                }
                return Some(1.0);
            }
            _ => {}
        }
        self.whole(0.0)
    }

    /// A whole or decimal number in words: 'two hundred and fifty', 'two fifty', 'two point five'.
    fn whole(&mut self, start: f64) -> Option<f64> {
        let mut total = 0.0;
        let mut group = start;
        let mut last = start;
        let mut any = start > 0.0;
        let begin = self.at;
        loop {
            let before = self.at;
            let Some(word) = self.next_number_word(any, last) else {
                break;
            };
            match word {
                Word::Add(n) if !any || last >= 100.0 || (last >= 20.0 && n > 0.0 && n < 10.0) => {
                    group += n;
                    last = n;
                }
                // 'two fifty', 'one twenty'
                Word::Add(n) if (1.0..10.0).contains(&last) && group == last && n >= 10.0 => {
                    group = group * 100.0 + n;
                    last = n;
                }
                Word::Add(_) => {
                    self.at = before;
                    break;
                }
                Word::Times(100.0) => {
                    group = group.max(1.0) * 100.0;
                    last = 100.0;
                }
                Word::Times(n) => {
                    total += group.max(1.0) * n;
                    group = 0.0;
                    last = n;
                }
            }
            any = true;
        }
        if !any || (self.at == begin && start == 0.0) {
            return None;
        }
        let mut value = total + group;
        if self.word_at(self.at).as_deref() == Some("point") {
            let mut at = self.at + 1;
            let mut place = 0.1;
            let mut tail = String::new();
            while let Some(Word::Add(digit)) = self.word_at(at).as_deref().and_then(words::word)
                && digit < 10.0
            {
                tail.push_str(&print::number(digit, 0));
                place *= 0.1;
                at += 1;
            }
            if place < 0.1 {
                value = format!("{value:.0}.{tail}").parse().unwrap_or(value);
                self.at = at;
            }
        }
        Some(value)
    }

    /// Takes the next number word, over a hyphen, and over 'and' after a hundred or a thousand.
    fn next_number_word(&mut self, any: bool, last: f64) -> Option<Word> {
        let mut at = self.at;
        if any
            && (self.is_sign(at, &['-'])
                || (last >= 100.0 && self.word_at(at).as_deref() == Some("and")))
        {
            at += 1;
        }
        let word = words::word(self.word_at(at)?.as_str())?;
        if self
            .word_at(at + 1)
            .is_some_and(|w| words::fraction_word(&w).is_some() && w.ends_with('s'))
            && any
        {
            return None;
        }
        self.at = at + 1;
        Some(word)
    }
}
