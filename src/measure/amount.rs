//! Amounts as they are written and said: '1 lb 3 oz', '2 1/2 cups', '3-4 cloves', 'a scant cup', 'a knob of'.

use std::fmt;

use super::scan::{Token, What, scan};
use super::words::{self, Word};
use super::{Ingredient, Kind, Mass, MeasureError, Region, Thing, Unit, Volume, print};

/// The largest number that an amount may hold; a kitchen has no million of anything.
const MOST: f64 = 1_000_000.0;

/// How the measure was filled, or how sure the writer was.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Sense {
    /// As it says; level.
    #[default]
    Exact,
    /// 'about', 'roughly', '~'.
    About,
    /// A little less than full: a twentieth less (common practice).
    Scant,
    /// A little more than full: a twentieth more (common practice).
    Generous,
    /// A rounded spoon: a quarter more (common practice).
    Rounded,
    /// A heaped spoon: half as much again (common practice).
    Heaped,
}

impl Sense {
    /// What it does to the amount (common practice, no source).
    pub fn factor(self) -> f64 {
        match self {
            Self::Exact | Self::About => 1.0,
            Self::Scant => 0.95,
            Self::Generous => 1.05,
            Self::Rounded => 1.25,
            Self::Heaped => 1.5,
        }
    }

    fn find(word: &str) -> Option<Self> {
        Some(match word {
            "level" | "flat" => Self::Exact,
            "scant" | "scanty" => Self::Scant,
            "generous" | "good" | "big" => Self::Generous,
            "rounded" => Self::Rounded,
            "heaped" | "heaping" => Self::Heaped,
            _ => return None,
        })
    }

    fn word(self) -> &'static str {
        match self {
            Self::Exact => "",
            Self::About => "about ",
            Self::Scant => "scant ",
            Self::Generous => "generous ",
            Self::Rounded => "rounded ",
            Self::Heaped => "heaped ",
        }
    }
}

/// One number with one unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Part {
    /// The number; the lower one of a range.
    pub low: f64,
    /// The upper number of a range; the same as `low` otherwise.
    pub high: f64,
    /// Of what.
    pub unit: Unit,
    /// What each one holds: 400 g for '2 x 400 g tins'.
    pub each: Option<(f64, Unit)>,
}

impl Part {
    /// The number, or the middle of the range.
    pub fn middle(self) -> f64 {
        f64::midpoint(self.low, self.high)
    }
}

/// An amount: one part or a sum of parts, and the same again in another unit where the author gave it.
#[derive(Debug, Clone, PartialEq)]
pub struct Amount {
    /// Parts that are added: '1 lb 3 oz', '200 ml + 2 tbsp'. Never empty.
    pub parts: Vec<Part>,
    /// How full, how sure.
    pub sense: Sense,
    /// The same amount in another measure, as a courtesy: '(250 g)', '/9 oz'.
    pub also: Vec<Part>,
}

impl Amount {
    /// Reads a whole amount. A bare cup or spoon is the region's own.
    ///
    /// # Errors
    /// Says what stood there, and for an unknown unit the nearest one.
    ///
    /// ```
    /// use commis::measure::{Amount, Region};
    /// assert_eq!(Amount::parse("1 lb 3 oz", Region::Metric)?.mass(None)?.as_grams(), 538.640_939_375);
    /// let wrong = Amount::parse("7 gg", Region::Metric).unwrap_err();
    /// assert_eq!(wrong.to_string(), r#"amount "7 gg": unknown unit "gg"; did you mean "g"?"#);
    /// # Ok::<(), commis::measure::MeasureError>(())
    /// ```
    pub fn parse(text: &str, region: Region) -> Result<Self, MeasureError> {
        let tokens = scan(text);
        if tokens.is_empty() {
            return Err(MeasureError::Empty);
        }
        let mut reader = Reader {
            text,
            tokens: &tokens,
            at: 0,
            region,
        };
        let amount = reader.amount().map_err(|e| e.in_amount(text))?;
        reader.skip_word(&["of"]);
        let Some(token) = reader.peek() else {
            return Ok(amount);
        };
        let rest = text[token.start..].trim();
        let one_bare = matches!(
            amount.parts.last(),
            Some(Part {
                unit: Unit::Count(Thing::Piece),
                ..
            })
        );
        let wrong = match token.what {
            What::Word(word) if one_bare && reader.at > 0 && !reader.said_piece() => {
                match Unit::find(rest, region) {
                    Err(MeasureError::UnknownUnit { near: None, .. }) | Ok(_) => {
                        Unit::find(word, region)
                            .err()
                            .unwrap_or(MeasureError::LeftOver {
                                found: rest.to_owned(),
                            })
                    }
                    Err(e) => e,
                }
            }
            _ => MeasureError::LeftOver {
                found: rest.to_owned(),
            },
        };
        Err(wrong.in_amount(text))
    }

    /// Reads the amount at the start of an ingredient line and gives what follows it.
    ///
    /// # Errors
    /// As [`Amount::parse`]; a line without an amount is an error too.
    pub fn parse_prefix(text: &str, region: Region) -> Result<(Self, &str), MeasureError> {
        let tokens = scan(text);
        if tokens.is_empty() {
            return Err(MeasureError::Empty);
        }
        let mut reader = Reader {
            text,
            tokens: &tokens,
            at: 0,
            region,
        };
        let amount = reader.amount().map_err(|e| e.in_amount(text))?;
        reader.skip_word(&["of"]);
        let rest = reader.peek().map_or("", |t| &text[t.start..]);
        Ok((amount, rest.trim()))
    }

    /// So many grams, millilitres, pieces: one part, exact.
    pub fn of(number: f64, unit: Unit) -> Self {
        Self {
            parts: vec![Part {
                low: number,
                high: number,
                unit,
                each: None,
            }],
            sense: Sense::Exact,
            also: Vec::new(),
        }
    }

    /// True where the amount is not a sharp one: a range, 'about', a pinch.
    pub fn is_approximate(&self) -> bool {
        self.sense != Sense::Exact
            || self
                .parts
                .iter()
                .any(|p| p.low < p.high || p.unit.is_approximate())
    }

    /// The number and the name of one, where the author counted: (2, "egg").
    pub fn count(&self) -> Option<(f64, String)> {
        match self.parts.as_slice() {
            [part] if part.unit.kind() == Kind::Count => {
                Some((part.middle(), part.unit.symbol().to_owned()))
            }
            _ => None,
        }
    }

    /// The mass. Volumes need the ingredient's density, counts its piece mass; a range counts as its middle. A mass
    /// that the author gave beside it ('2 cups (250 g)') is taken at its word.
    ///
    /// # Errors
    /// [`MeasureError::NoDensity`] or [`MeasureError::NoPiece`] where the table has no answer.
    pub fn mass(&self, of: Option<&Ingredient>) -> Result<Mass, MeasureError> {
        if !self.also.is_empty()
            && self.parts.iter().any(|p| p.unit.kind() != Kind::Mass)
            && self.also.iter().all(|p| p.unit.kind() == Kind::Mass)
        {
            return sum(&self.also, |p| part_mass(p, of));
        }
        Ok(sum(&self.parts, |p| part_mass(p, of))?.times(self.sense.factor()))
    }

    /// The volume, by the same rules.
    ///
    /// # Errors
    /// [`MeasureError::NoDensity`] or [`MeasureError::NoPiece`] where the table has no answer.
    pub fn volume(&self, of: Option<&Ingredient>) -> Result<Volume, MeasureError> {
        if self
            .parts
            .iter()
            .all(|p| p.unit.kind() == Kind::Volume && p.each.is_none())
        {
            let ml: f64 = self.parts.iter().map(|p| p.middle() * p.unit.size()).sum();
            return Ok(Volume::millilitres(ml * self.sense.factor()));
        }
        let mass = self.mass(of)?;
        let density = of
            .and_then(|i| i.g_per_ml)
            .ok_or_else(|| MeasureError::NoDensity {
                ingredient: of.map(|i| i.name.clone()),
                from: "grams".to_owned(),
                to: "millilitres".to_owned(),
            })?;
        Ok(Volume::millilitres(mass.as_grams() / density))
    }
}

fn sum(
    parts: &[Part],
    each: impl Fn(&Part) -> Result<Mass, MeasureError>,
) -> Result<Mass, MeasureError> {
    parts
        .iter()
        .try_fold(Mass::ZERO, |total, part| Ok(total.plus(each(part)?)))
}

fn part_mass(part: &Part, of: Option<&Ingredient>) -> Result<Mass, MeasureError> {
    if let Some((number, unit)) = part.each {
        let one = Part {
            low: number,
            high: number,
            unit,
            each: None,
        };
        return Ok(part_mass(&one, of)?.times(part.middle()));
    }
    // A knob of butter and a knob of ginger differ: the table's own piece comes first.
    if let Some(g) = of.and_then(|i| i.piece_named(part.unit.symbol())) {
        return Ok(Mass::grams(part.middle() * g));
    }
    match part.unit.kind() {
        Kind::Mass => Ok(Mass::grams(part.middle() * part.unit.size())),
        Kind::Volume => of
            .and_then(|i| i.g_per_ml)
            .map(|d| Mass::grams(part.middle() * part.unit.size() * d))
            .ok_or_else(|| MeasureError::NoDensity {
                ingredient: of.map(|i| i.name.clone()),
                from: part.unit.plural().to_owned(),
                to: "grams".to_owned(),
            }),
        Kind::Count => Err(MeasureError::NoPiece {
            ingredient: of.map(|i| i.name.clone()),
            piece: part.unit.singular().to_owned(),
        }),
    }
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.sense.word())?;
        for (i, part) in self.parts.iter().enumerate() {
            if i > 0 {
                f.write_str(" + ")?;
            }
            let bare = part.unit == Unit::Count(Thing::Piece) && part.each.is_none();
            if part.low < part.high {
                write!(f, "{}-", print::number(part.low, 3))?;
            }
            match part.each {
                Some((number, unit)) => {
                    write!(
                        f,
                        "{} x {}",
                        print::number(part.high, 3),
                        print::of_unit(number, unit)
                    )?;
                    if part.unit != Unit::Count(Thing::Piece) {
                        write!(f, " {}", part.unit.plural())?;
                    }
                }
                None if bare => f.write_str(&print::number(part.high, 3))?,
                None => f.write_str(&print::of_unit(part.high, part.unit))?,
            }
        }
        Ok(())
    }
}

/// Reads an amount from tokens; each function takes what it understands and otherwise leaves its place alone.
struct Reader<'a> {
    text: &'a str,
    tokens: &'a [Token<'a>],
    at: usize,
    region: Region,
}

impl<'a> Reader<'a> {
    fn peek(&self) -> Option<Token<'a>> {
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

    fn skip_word(&mut self, words: &[&str]) -> bool {
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
    fn said_piece(&self) -> bool {
        self.at
            .checked_sub(1)
            .and_then(|at| self.word_at(at))
            .is_some_and(|w| Unit::find(&w, self.region) == Ok(Unit::Count(Thing::Piece)))
    }

    fn amount(&mut self) -> Result<Amount, MeasureError> {
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
        if self.skip_word(&["between"]) && !matches!(self.peek(), Some(_)) {
            return Err(MeasureError::NotANumber {
                found: "between".to_owned(),
            });
        }
        let between = self.at > start;
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
            "few" => {
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
        while let Some(word) = self.next_number_word(any, last) {
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
                    self.at -= 1;
                    break;
                }
                Word::Times(hundred) if hundred == 100.0 => {
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

#[cfg(test)]
mod tests {
    use super::{Amount, Sense};
    use crate::measure::{Region, Thing, Unit};

    fn grams(text: &str) -> f64 {
        Amount::parse(text, Region::Metric)
            .unwrap_or_else(|e| panic!("{e}"))
            .mass(None)
            .unwrap()
            .as_grams()
    }

    fn ml(text: &str, region: Region) -> f64 {
        Amount::parse(text, region)
            .unwrap_or_else(|e| panic!("{e}"))
            .volume(None)
            .unwrap()
            .as_millilitres()
    }

    #[test]
    fn masses_as_written() {
        for (text, value) in [
            ("500 g", 500.0),
            ("500g", 500.0),
            ("1.25 kg", 1250.0),
            ("1,5 kg", 1500.0),
            ("1,250 g", 1250.0),
            ("¾ oz", 0.75 * 28.349_523_125),
            ("1 lb 3 oz", 453.592_37 + 3.0 * 28.349_523_125),
            ("2 x 400 g tins", 800.0),
            ("2 400g tins", 800.0),
            ("1 (400 g) tin", 400.0),
            ("half a kilo", 500.0),
            ("two and a half grams", 2.5),
            ("one thousand two hundred and fifty grams", 1250.0),
            ("one kilo two fifty", 1250.0),
            ("one kilo fifty", 1050.0),
            ("two kilos and five grams", 2005.0),
            ("two point five grams", 2.5),
            ("zero point four grams", 0.4),
            ("a quarter of a gram", 0.25),
            ("ten and a half grams", 10.5),
            ("twenty-five grams", 25.0),
            ("a hundred grams", 100.0),
            ("two fifty grams", 250.0),
            ("about 30 g", 30.0),
            ("30-40 g", 35.0),
            ("between 30 and 40 g", 35.0),
        ] {
            assert!(
                (grams(text) - value).abs() < 1e-9,
                "{text}: {}",
                grams(text)
            );
        }
    }

    #[test]
    fn volumes_as_written() {
        for (text, value) in [
            ("2 1/2 cups", 625.0),
            ("1½ tsp", 7.5),
            ("1 1/2 tsp", 7.5),
            ("200 ml + 2 tbsp", 230.0),
            ("two tablespoons and a teaspoon", 35.0),
            ("three quarters of a teaspoon", 3.75),
            ("one and a third cups", 250.0 * 4.0 / 3.0),
            ("an eighth of a teaspoon", 0.625),
            ("half a teaspoon", 2.5),
            ("a scant cup", 237.5),
            ("1 heaped tsp", 7.5),
            ("1 cup plus 2 tbsp", 280.0),
            ("1 T", 15.0),
            ("1 t", 5.0),
            ("2 us cups", 473.176_473),
            ("1 UK pint", 568.261_25),
            ("3 fl. oz.", 3.0 * 28.413_062_5),
            ("one and a half litres", 1500.0),
        ] {
            let found = ml(text, Region::Metric);
            assert!((found - value).abs() < 1e-9, "{text}: {found}");
        }
        assert_eq!(ml("1 tbsp", Region::Au), 20.0);
        assert_eq!(ml("1 cup", Region::Us), 236.588_236_5);
    }

    #[test]
    fn counts_and_measures_by_feel() {
        let cloves = Amount::parse("3-4 cloves", Region::Uk).unwrap();
        assert_eq!((cloves.parts[0].low, cloves.parts[0].high), (3.0, 4.0));
        assert_eq!(cloves.parts[0].unit, Unit::Count(Thing::Clove));
        assert_eq!(cloves.count(), Some((3.5, "clove".into())));
        assert_eq!(
            Amount::parse("2", Region::Uk).unwrap().count(),
            Some((2.0, "piece".into()))
        );
        assert_eq!(
            Amount::parse("half a dozen eggs", Region::Uk)
                .unwrap()
                .count(),
            Some((6.0, "egg".into()))
        );
        assert_eq!(
            Amount::parse("two large eggs", Region::Uk).unwrap().count(),
            Some((2.0, "egg".into()))
        );
        let knob = Amount::parse("a knob of", Region::Uk).unwrap();
        assert!(knob.is_approximate());
        assert_eq!(knob.mass(None).unwrap().as_grams(), 15.0);
        assert_eq!(
            Amount::parse("a scant cup", Region::Uk).unwrap().sense,
            Sense::Scant
        );
        assert_eq!(
            Amount::parse("~2 tbsp", Region::Uk).unwrap().sense,
            Sense::About
        );
    }

    #[test]
    fn both_measures_are_kept() {
        let both = Amount::parse("2 cups (250 g)", Region::Us).unwrap();
        assert_eq!(both.mass(None).unwrap().as_grams(), 250.0);
        assert_eq!(grams("250g/9oz"), 250.0);
    }

    #[test]
    fn the_rest_of_a_line_is_given_back() {
        let (amount, rest) =
            Amount::parse_prefix("1 lb 3 oz strong flour, sifted", Region::Uk).unwrap();
        assert_eq!(amount.parts.len(), 2);
        assert_eq!(rest, "strong flour, sifted");
        let (amount, rest) = Amount::parse_prefix("2 large onions", Region::Uk).unwrap();
        assert_eq!(amount.count(), Some((2.0, "piece".into())));
        assert_eq!(rest, "large onions");
        let (_, rest) = Amount::parse_prefix("1 tsp salt and pepper", Region::Uk).unwrap();
        assert_eq!(rest, "salt and pepper");
    }

    #[test]
    fn what_is_wrong_is_said() {
        for (text, message) in [
            ("", "expected an amount, found nothing"),
            (
                "7 gg",
                r#"amount "7 gg": unknown unit "gg"; did you mean "g"?"#,
            ),
            (
                "2 teaspons",
                r#"amount "2 teaspons": unknown unit "teaspons"; did you mean "teaspoons"?"#,
            ),
            (
                "5 zorkmids",
                r#"amount "5 zorkmids": unknown unit "zorkmids""#,
            ),
            ("some", r#"amount "some": expected a number, found "some""#),
            (
                "1/0 cup",
                r#"amount "1/0 cup": expected a fraction that can be divided, found "1/0""#,
            ),
            (
                "4-3 cloves",
                r#"amount "4-3 cloves": expected a range from small to large, found 4 to 3"#,
            ),
            (
                "5 g flour",
                r#"amount "5 g flour": expected the end of the amount, found "flour""#,
            ),
            (
                "9999999 g",
                r#"amount "9999999 g": amount: expected 0 to 1000000, found 9999999"#,
            ),
            ("-5 g", r#"amount "-5 g": expected a number, found "-5 g""#),
        ] {
            assert_eq!(
                Amount::parse(text, Region::Metric).unwrap_err().to_string(),
                message
            );
        }
    }
}
