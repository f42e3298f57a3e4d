//! A typed question taken apart into its pieces.

use super::fact::{Fact, facts};
use super::food::{is_fried, knows};
use super::item::Item;
use super::own;
use super::words::{FILLERS, TAGS};
use crate::measure::{CM_PER_INCH, Kind, NamedHeat, Region, Unit, ingredients};
use crate::order::slots::Value;
use crate::understand::lexicon::Lexicon;
use crate::understand::matcher::Matcher;
use crate::understand::text::{Token, tokens};

/// Longer ones are talk.
const LONGEST: usize = 60;

/// More words that are not known than this, or than known ones, and the whole is not understood.
const MOST_TALK: usize = 4;

/// What begins with one of these is not to be reckoned with.
const PASSED_OVER: [&str; 5] = ["ignore", "ignoring", "forget", "disregard", "disregarding"];

/// Ways of saying by what is not there, each in a word of its own.
const SETTLED: &[(&str, &str)] = &[
    ("without using the fan", "conventional"),
    ("not using the fan", "conventional"),
    ("not the fan", "conventional"),
    ("not a fan", "conventional"),
    ("not on fan", "conventional"),
    ("not fan", "conventional"),
    ("non-fan", "conventional"),
    ("no fan", "conventional"),
    ("fan off", "conventional"),
    ("isn't fan", "conventional"),
    ("isn't a fan", "conventional"),
    ("not convection", "conventional"),
    ("non-convection", "conventional"),
    ("no convection", "conventional"),
    ("without convection", "conventional"),
    ("out of their shells", "shelled"),
    ("out of its shell", "shelled"),
    ("out of the shells", "shelled"),
    ("no shells", "shelled"),
    ("without the shell", "shelled"),
    ("without its shell", "shelled"),
    ("without their shells", "shelled"),
    ("without shell", "shelled"),
    ("not in the shell", "shelled"),
    ("out of the shell", "shelled"),
    ("without a fan", "conventional"),
    ("without the fan", "conventional"),
    ("without fan", "conventional"),
    ("without a mixer", "by hand"),
    ("without its packet", ""),
    ("1st ", "first "),
    ("2nd ", "second "),
    ("plain flour-and-water dough", "dough"),
    ("the two amounts", "the amounts"),
    ("the two quantities", "the amounts"),
    ("flour-and-water dough", "dough"),
    ("flour and water dough", "dough"),
    ("half flour half water", "equal parts"),
    ("half flour, half water", "equal parts"),
    ("half flour and half water", "equal parts"),
    ("no shell", "shelled"),
    ("three-times rule", "rule"),
    ("three times rule", "rule"),
    ("four-times rule", "rule"),
    ("rule of three", "rule"),
    ("one for one", "straight"),
    ("one-for-one", "straight"),
    ("like for like", "straight"),
    (" a day ", " "),
    (" a day,", ","),
    (" per day ", " "),
    (" a week ", " "),
    ("mine's", "mine is"),
    ("oven knob", "oven dial"),
    ("sister in law", "sister"),
    ("brother in law", "brother"),
    ("mother in law", "grandmother"),
];

fn settled(text: &str) -> String {
    let text = text.to_lowercase();
    SETTLED
        .iter()
        .fold(text, |text, (said, meant)| text.replace(said, meant))
}

/// The rule of thumb for the water's heat is named by how many heats there are: 'times four'.
fn without_rule_of_thumb(text: String) -> String {
    if !["mixer", "friction", "machine"]
        .iter()
        .any(|w| text.contains(w))
    {
        return text;
    }
    [
        "times four",
        "times three",
        "times 4",
        "times 3",
        "x4",
        "x 4",
        "x3",
        "x 3",
    ]
    .iter()
    .fold(text, |text, said| text.replace(said, ""))
}

/// 'Two 7 gram sachets': so many times what one holds.
fn with_packets(items: Vec<Item>) -> Vec<Item> {
    let mut used: Vec<usize> = Vec::new();
    let mut out: Vec<Item> = Vec::with_capacity(items.len());
    for (at, item) in items.iter().enumerate() {
        if used.contains(&at) {
            continue;
        }
        // 'One 7 g fast action sachet'.
        let behind = at + 1 + usize::from(matches!(items.get(at + 1), Some(Item::Stuff(_))));
        let packet = matches!(items.get(behind), Some(Item::Unit(u)) if u == "packet")
            || matches!(items.get(at + 1), Some(Item::Tag("tin" | "~holder")));
        // 'Two tins of 400 grams'.
        let holders = |i: &Item| matches!(i, Item::Tag("tin" | "~holder"));
        if let ([.., Item::Number(n), holder, Item::Tag("~of")], Item::Amount(each, unit)) =
            (out.as_slice(), item)
            && holders(holder)
            && n.fract() == 0.0
            && *n < 50.0
        {
            let all = Item::Amount(n * each, unit.clone());
            out.truncate(out.len() - 3);
            out.push(all);
            continue;
        }
        // 'Two sachets (7 g each)'.
        if let ([.., counted, Item::Stop], Item::Amount(each, unit)) = (out.as_slice(), item)
            && let Some(n) = match counted {
                Item::Amount(n, of) if of == "packet" => Some(*n),
                _ => None,
            }
            && items.get(at + 1) == Some(&Item::Tag("~each"))
        {
            let all = Item::Amount(n * each, unit.clone());
            out.truncate(out.len() - 2);
            out.push(all);
            used.push(at + 1);
            if items.get(at + 2) == Some(&Item::Stop) {
                used.push(at + 2);
            }
            continue;
        }
        // 'One packet of yeast, that is 7 grams': the same once more.
        let alone = matches!(items.get(at + 1), None | Some(Item::Stop));
        if let (
            [
                ..,
                Item::Amount(_, of),
                Item::Tag("~of"),
                Item::Stuff(_),
                Item::Stop,
            ]
            | [.., Item::Amount(_, of), Item::Stuff(_), Item::Stop],
            Item::Amount(_, unit),
        ) = (out.as_slice(), item)
            && of == "packet"
            && unit == "g"
            && alone
        {
            let packet = out.iter().rposition(Item::is_number);
            if let Some(packet) = packet {
                out[packet] = item.clone();
                continue;
            }
        }
        match (out.last(), item) {
            (Some(Item::Number(n)), Item::Amount(each, unit))
                if packet && n.fract() == 0.0 && *n < 50.0 =>
            {
                let all = Item::Amount(n * each, unit.clone());
                out.pop();
                out.push(all);
                // The packet is counted; nothing is asked in packets.
                if matches!(items.get(behind), Some(Item::Unit(_))) {
                    used.push(behind);
                }
            }
            _ => out.push(item.clone()),
        }
    }
    out
}

/// 'Teaspoon of soda weight in grams': without any number the measure of the thing is one.
fn with_a_one(mut items: Vec<Item>) -> Vec<Item> {
    let units = items.iter().filter(|i| matches!(i, Item::Unit(_))).count();
    if units < 1 || items.iter().any(Item::is_number) {
        return items;
    }
    let one = (0..items.len()).find(|&at| {
        let next = match items.get(at + 1) {
            Some(Item::Tag("~of")) => items.get(at + 2),
            next => next,
        };
        matches!(items[at], Item::Unit(_)) && matches!(next, Some(Item::Stuff(_)))
    });
    let weighed = units > 1 || items.contains(&Item::Tag("~weigh"));
    if let Some(at) = one.filter(|_| weighed)
        && let Item::Unit(unit) = &items[at]
        && unit != "spoons"
        // 'How many grams of flour' asks for grams.
        && !matches!(at.checked_sub(1).map(|i| &items[i]), Some(Item::Tag("~howmany")))
    {
        items[at] = Item::Amount(1.0, unit.clone());
    }
    items
}

/// 'How many 5 ml teaspoons': what each measure holds is no amount.
fn without_sizes(items: Vec<Item>) -> Vec<Item> {
    let mut out: Vec<Item> = Vec::with_capacity(items.len());
    for item in items {
        if let ([.., Item::Tag("~howmany"), Item::Amount(ml, of)], Item::Unit(unit)) =
            (out.as_slice(), &item)
            && of == "ml"
        {
            // A tablespoon of 20 ml is Australian.
            let unit = if *ml == 20.0 && unit == "tbsp" {
                "au tbsp".to_owned()
            } else {
                unit.clone()
            };
            out.pop();
            out.push(Item::Unit(unit));
            continue;
        }
        out.push(item);
    }
    out
}

/// 'Butter in tablespoons, six of them': so many of the unit that stands before.
fn of_them(mut items: Vec<Item>) -> Vec<Item> {
    let them = (1..items.len()).find(|&at| {
        matches!(items[at - 1], Item::Number(_))
            && items[at] == Item::Tag("~of")
            && matches!(
                items.get(at + 1),
                None | Some(Item::Stop | Item::Tag("~which" | "~in" | "~weigh" | "~to"))
            )
    });
    let unit = them.and_then(|at| {
        let units: Vec<usize> = (0..at)
            .filter(|&i| matches!(items[i], Item::Unit(_)))
            .collect();
        let numbers = items.iter().filter(|i| i.is_number()).count();
        match units[..] {
            [one] if numbers == 1 => Some((at, one)),
            _ => None,
        }
    });
    if let Some((at, one)) = unit
        && let (Item::Number(n), Item::Unit(unit)) = (items[at - 1].clone(), items[one].clone())
    {
        items[at - 1] = Item::Amount(n, unit);
        items.remove(at);
        items.remove(one);
    }
    items
}

/// 'One kilo 350': grams behind the kilos.
fn with_grams_behind(items: Vec<Item>) -> Vec<Item> {
    let mut out: Vec<Item> = Vec::with_capacity(items.len());
    for (at, item) in items.iter().enumerate() {
        let counted = matches!(
            items.get(at + 1),
            Some(Item::Tag("piece" | "people" | "~by") | Item::Number(_))
        );
        match (out.last_mut(), item) {
            (Some(Item::Amount(kilos, unit)), Item::Number(grams))
                if unit == "kg"
                    && !counted
                    && (50.0..1000.0).contains(grams)
                    && kilos.fract() == 0.0 =>
            {
                *kilos += grams / 1000.0;
            }
            _ => out.push(item.clone()),
        }
    }
    out
}

/// A number that a question gives, with what it is of.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Quantity {
    /// How much.
    pub(super) n: f64,
    /// Its unit, where one was said.
    pub(super) unit: Option<String>,
    /// The ingredient beside it.
    pub(super) stuff: Option<&'static str>,
    /// The telling word beside it: `piece`, `dough`, `people`.
    pub(super) noun: Option<&'static str>,
    /// Its place among the pieces.
    pub(super) at: usize,
}

impl Quantity {
    /// What its unit measures.
    pub(super) fn kind(&self) -> Option<Kind> {
        let unit = self.unit.as_deref()?;
        Unit::find(unit, Region::Metric).ok().map(Unit::kind)
    }

    /// Grams; a bare number counts as grams, and water by volume weighs what it measures.
    pub(super) fn grams(&self) -> Option<f64> {
        let Some(unit) = self.unit.as_deref() else {
            return Some(self.n);
        };
        let unit = Unit::find(unit, Region::Metric).ok()?;
        match unit.kind() {
            Kind::Mass => Some(self.n * unit.size()),
            Kind::Volume if self.stuff.is_none_or(|s| s == "water") => Some(self.n * unit.size()),
            Kind::Volume => {
                let row = ingredients().find(self.stuff?)?;
                Some(self.n * unit.size() * row.g_per_ml?)
            }
            Kind::Count => None,
        }
    }

    /// Grams, where a unit of mass was said.
    pub(super) fn mass(&self) -> Option<f64> {
        (self.kind() == Some(Kind::Mass))
            .then(|| self.grams())
            .flatten()
    }
}

/// A question as its pieces.
pub(super) struct Heard {
    pub(super) items: Vec<Item>,
    pub(super) quantities: Vec<Quantity>,
    /// The numbers, each with what it is of.
    pub(super) facts: Vec<Fact>,
    /// The words as they were typed, lower case.
    pub(super) words: Vec<String>,
    /// The same in one line, a space before and behind; a number is `#`.
    pub(super) text: String,
    /// A word is there that may turn a question round.
    pub(super) turned: bool,
    /// A word is there that makes a number none to reckon with.
    pub(super) absurd: bool,
}

impl Heard {
    /// Takes a text apart. Nothing when a word of it is not known.
    pub(super) fn of(text: &str, lexicon: &Lexicon) -> Option<Self> {
        let mut items = Vec::new();
        let mut words = Vec::new();
        let text = without_rule_of_thumb(settled(text));
        let says = |word: &str| text.contains(word);
        let kinds = ["fresh", "instant", "dried", "active", "fast action"];
        let yeast = says("yeast")
            || kinds[1..].iter().any(|k| says(k) && *k != "dried")
                && kinds.iter().filter(|k| says(k)).count() > 1;
        let (mut turned, mut absurd) = (false, false);
        for clause in clauses(&text) {
            let tokens = counted(tokens(&clause));
            // 'Ignore the salt', 'never mind the tin'.
            if tokens
                .first()
                .is_some_and(|t| PASSED_OVER.contains(&t.word()))
            {
                continue;
            }
            if words.len() + tokens.len() > LONGEST {
                return None;
            }
            words.extend(tokens.iter().map(|t| t.word().to_owned()));
            let read = Reader::new(lexicon, &tokens, yeast).all();
            // Chatter beside the question: a clause with a strange word in it and nothing to reckon with.
            let strange = read.contains(&Item::Unknown);
            let telling = read.iter().any(|item| match item {
                Item::Unknown => false,
                Item::Tag("~food" | "~inside" | "~temp") => true,
                Item::Tag(tag) => !tag.starts_with('~') && !["room", "core"].contains(tag),
                _ => true,
            });
            turned |= tokens.iter().any(|t| BARRED.contains(&t.word()));
            absurd |= tokens.iter().any(|t| ABSURD.contains(&t.word()));
            // What is asked for by a word that is not known is no chatter.
            let asks = |item: &Item| matches!(item, Item::Tag("~howmuch" | "~howmany"));
            if !strange || telling || read.iter().any(asks) {
                items.extend(read);
                items.push(Item::Stop);
            }
        }
        items.pop();
        let items = with_grams_behind(with_packets(of_them(items)));
        let said = |w: &String| {
            if w.is_empty() {
                "#".to_owned()
            } else {
                w.clone()
            }
        };
        let text = format!(" {} ", words.iter().map(said).collect::<Vec<_>>().join(" "));
        let items = own::with_shares_behind(own::without_idle(items, &text));
        let (items, measure) = own::without_sizes_told(items);
        let items = with_ratios(without_glosses(with_a_one(items)));
        let mut items = own::with_own_measure(items, measure.as_ref());
        let whose = |item: &Item| matches!(item, Item::Tag("us" | "uk" | "au" | "metric"));
        if own::is_american(&text, &items) && !items.iter().any(whose) {
            items = own::with_american(items);
        }
        let quantities = quantities(&items);
        let facts = facts(&items);
        Some(Self {
            items,
            quantities,
            facts,
            words,
            text,
            turned,
            absurd,
        })
    }

    /// The same question with other pieces.
    pub(super) fn with_items(&self, items: Vec<Item>) -> Self {
        Self {
            quantities: quantities(&items),
            facts: facts(&items),
            items,
            words: self.words.clone(),
            text: self.text.clone(),
            turned: self.turned,
            absurd: self.absurd,
        }
    }

    /// Was this telling word said?
    pub(super) fn has(&self, tag: &str) -> bool {
        self.items
            .iter()
            .any(|item| matches!(item, Item::Tag(t) if *t == tag))
    }

    /// Was any of them said?
    pub(super) fn any(&self, tags: &[&str]) -> bool {
        tags.iter().any(|tag| self.has(tag))
    }

    /// No telling word but these and those that may always stand, and none that is not known.
    pub(super) fn only(&self, tags: &[&str]) -> bool {
        self.strange() == 0 && self.told_only(tags)
    }

    /// No telling word but these and those that may always stand.
    pub(super) fn told_only(&self, tags: &[&str]) -> bool {
        self.items.iter().all(|item| match item {
            Item::Tag(tag) => tag.starts_with('~') || tags.contains(tag),
            _ => true,
        })
    }

    /// How many words are not known where the name of a thing belongs: behind an amount or 'of', or before an
    /// ingredient. Elsewhere a few words more are only talk around the question.
    pub(super) fn strange(&self) -> usize {
        let all = self.count(|item| *item == Item::Unknown);
        let known = self.count(|item| !matches!(item, Item::Unknown | Item::Stop));
        if all > MOST_TALK.min(known) {
            return all;
        }
        let in_place = |at: usize| {
            let before = at.checked_sub(1).and_then(|i| self.items.get(i));
            matches!(before, Some(Item::Amount(..) | Item::Tag("~of")))
                || matches!(self.items.get(at + 1), Some(Item::Stuff(_)))
        };
        (0..self.items.len())
            .filter(|&at| self.items[at] == Item::Unknown && in_place(at))
            .count()
    }

    /// Was this word typed?
    pub(super) fn said(&self, word: &str) -> bool {
        self.words.iter().any(|w| w == word)
    }

    /// How many pieces are of a kind.
    pub(super) fn count(&self, of: fn(&Item) -> bool) -> usize {
        self.items.iter().filter(|item| of(item)).count()
    }

    /// The numbers of percent, in order.
    pub(super) fn percents(&self) -> Vec<f64> {
        let of = |item: &Item| match item {
            Item::Percent(n) => Some(*n),
            _ => None,
        };
        self.items.iter().filter_map(of).collect()
    }

    /// Ingredients that stand with no number of their own, in order.
    pub(super) fn asked(&self) -> Vec<&'static str> {
        let mut taken: Vec<&str> = self.quantities.iter().filter_map(|q| q.stuff).collect();
        let mut asked = Vec::new();
        for item in &self.items {
            if let Item::Stuff(name) = item {
                match taken.iter().position(|t| t == name) {
                    Some(at) => {
                        taken.remove(at);
                    }
                    None if !asked.contains(name) => asked.push(*name),
                    None => {}
                }
            }
        }
        asked
    }

    /// Every ingredient that is named.
    pub(super) fn stuffs(&self) -> Vec<&'static str> {
        let of = |item: &Item| match item {
            Item::Stuff(name) => Some(*name),
            _ => None,
        };
        self.items.iter().filter_map(of).collect()
    }

    /// The unit in which the answer is wanted; nothing where several are named.
    pub(super) fn unit(&self) -> Option<String> {
        let mut found: Option<String> = None;
        // 'It is in ounces: 14 oz of flour, grams?': what is given in a unit is wanted in the other.
        let given = |unit: &String| {
            self.quantities
                .iter()
                .any(|q| q.unit.as_ref() == Some(unit))
        };
        let others = self
            .items
            .iter()
            .any(|i| matches!(i, Item::Unit(u) if !given(u)));
        for item in &self.items {
            if let Item::Unit(unit) = item {
                if others && given(unit) {
                    continue;
                }
                // 'I have only spoons, how many tablespoons': the narrower word tells.
                let vague = unit == "spoons" && self.count(|i| matches!(i, Item::Unit(_))) > 1;
                if self.declares(unit).is_some() || vague {
                    continue;
                }
                // 'How many cups, American cups': the one that says whose they are.
                let plain = |u: &str| u.rsplit(' ').next().map(ToOwned::to_owned);
                match found.as_ref().filter(|f| *f != unit) {
                    Some(f) if plain(f) != plain(unit) => return None,
                    Some(f) if f.len() > unit.len() => {}
                    _ => found = Some(unit.clone()),
                }
            }
        }
        found.map(|unit| self.of_region(&unit))
    }

    /// '..., US cups': whose the cups of the question are, where another unit is asked for.
    fn declares(&self, unit: &str) -> Option<Region> {
        let (whose, rest) = unit.split_once(' ')?;
        let region = Region::find(whose)?;
        let counted = self
            .quantities
            .iter()
            .any(|q| q.unit.as_deref() == Some(rest));
        let others = self.count(|i| matches!(i, Item::Unit(_))) > 1;
        (counted && others).then_some(region)
    }

    /// A unit as the region that was named has it.
    pub(super) fn of_region(&self, unit: &str) -> String {
        let Ok(found) = Unit::find(unit, Region::Metric) else {
            return unit.to_owned();
        };
        let own = unit
            .split_once(' ')
            .is_some_and(|(first, _)| Region::find(first).is_some());
        match self.region() {
            Some(region) if !own && found.region().is_some() => {
                found.in_region(region).full_symbol()
            }
            _ => unit.to_owned(),
        }
    }

    /// The one region that was named apart from a unit.
    pub(super) fn region(&self) -> Option<Region> {
        let named: Vec<Region> = [
            ("us", Region::Us),
            ("uk", Region::Uk),
            ("au", Region::Au),
            ("metric", Region::Metric),
        ]
        .into_iter()
        .filter(|(tag, _)| self.has(tag))
        .map(|(_, region)| region)
        .chain(self.items.iter().filter_map(|item| match item {
            Item::Unit(unit) => self.declares(unit),
            _ => None,
        }))
        .collect();
        match named.as_slice() {
            [one] => Some(*one),
            [] if self.says_any(&["american", "america"]) => Some(Region::Us),
            _ => None,
        }
    }

    /// The strengths of gelatine that are named, each once.
    pub(super) fn strengths(&self) -> Vec<&'static str> {
        let mut once: Vec<&str> = Vec::new();
        for item in &self.items {
            if let Item::Named("leaf", name) = item
                && !once.contains(name)
            {
                once.push(name);
            }
        }
        once
    }

    /// The scales that are named without a number.
    pub(super) fn scales(&self) -> Vec<&'static str> {
        let of = |item: &Item| match item {
            Item::Scale(scale) => Some(*scale),
            _ => None,
        };
        self.items.iter().filter_map(of).collect()
    }

    /// A name from a small table.
    pub(super) fn named(&self, kind: &str) -> Option<&'static str> {
        self.items.iter().find_map(|item| match item {
            Item::Named(k, name) if *k == kind => Some(*name),
            _ => None,
        })
    }
}

/// Words that turn a question round: what has one is declined.
const BARRED: [&str; 12] = [
    "minus", "negative", "not", "without", "never", "except", "nor", "neither", "isn", "less",
    "unless", "zero",
];

/// Words that make a number none to reckon with.
const ABSURD: [&str; 6] = ["minus", "negative", "zero", "unless", "except", "infinite"];

/// Before 'one' these tell which, and not how many.
const SUCH: [&str; 27] = [
    "new",
    "old",
    "second",
    "hotel",
    "cold",
    "us",
    "uk",
    "american",
    "british",
    "english",
    "imperial",
    "australian",
    "aussie",
    "metric",
    "normal",
    "ordinary",
    "conventional",
    "regular",
    "standard",
    "static",
    "big",
    "bigger",
    "small",
    "smaller",
    "square",
    "round",
    "other",
];

/// Words that deny what stands behind them.
const NOT: [&str; 6] = ["not", "no", "non", "without", "never", "isn't"];

/// Words of small numbers, for those that are said with a dozen or before a unit and a half.
const SMALL: [&str; 13] = [
    "", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
    "twelve",
];

/// 'Two dozen' and 'a stick and a half' as the numbers that they are.
fn counted(tokens: Vec<Token>) -> Vec<Token> {
    let number = |token: Option<&Token>| match token? {
        Token::Number(n) => Some(*n),
        Token::Word(w) if w == "a" || w == "an" => Some(1.0),
        Token::Word(w) if !w.is_empty() => SMALL.iter().position(|s| s == w).map(|n| n as f64),
        _ => None,
    };
    let mut out: Vec<Token> = Vec::with_capacity(tokens.len());
    let mut at = 0;
    while at < tokens.len() {
        let word = |i: usize| tokens.get(i).map_or("", Token::word);
        if word(at) == "dozen" {
            let many = number(out.last());
            let half = many == Some(1.0) && out.len() > 1 && out[out.len() - 2].word() == "half";
            for _ in 0..usize::from(many.is_some()) + usize::from(half) {
                out.pop();
            }
            out.push(Token::Number(
                12.0 * if half { 0.5 } else { many.unwrap_or(1.0) },
            ));
            at += 1;
            continue;
        }
        // 'Per litre', 'to the litre', 'for each person': of one.
        let rate = match (word(at), word(at + 1)) {
            ("per", _) => 1,
            ("to", "the" | "a" | "each" | "every") | ("for", "each" | "every") => 2,
            _ => 0,
        };
        let of = word(at + rate);
        if rate > 0
            && (unit(of).is_some() && !of.ends_with('s')
                || rate == 2 && word(at) == "for"
                || of == "person"
                || of == "head")
            && !of.is_empty()
        {
            out.push(Token::Word("per".to_owned()));
            out.push(Token::Number(1.0));
            at += rate;
            continue;
        }
        let article = usize::from(word(at + 2) == "a");
        // 'A cup and three quarters'.
        let (share, past) = match (word(at + 2 + article), word(at + 3 + article)) {
            ("half", _) => (0.5, 3),
            ("quarter", _) => (0.25, 3),
            ("third", _) => (1.0 / 3.0, 3),
            ("three", "quarters") => (0.75, 4),
            ("two", "thirds") => (2.0 / 3.0, 4),
            _ => match tokens.get(at + 2) {
                Some(Token::Number(n)) if *n < 1.0 => (*n, 3),
                _ => (0.0, 0),
            },
        };
        let is_unit = || {
            word(at) == "hour"
                || word(at) == "hours"
                || unit(word(at)).is_some()
                || word(at) == "stick"
        };
        if share > 0.0
            && word(at + 1) == "and"
            && is_unit()
            && let Some(n) = number(out.last())
        {
            out.pop();
            out.push(Token::Number(n + share));
            out.push(tokens[at].clone());
            at += past + article;
            continue;
        }
        out.push(tokens[at].clone());
        at += 1;
    }
    out
}

/// '250 ml metric cup of flour': the unit behind an amount only says what holds it.
fn without_glosses(items: Vec<Item>) -> Vec<Item> {
    let mut out: Vec<Item> = Vec::with_capacity(items.len());
    for (at, item) in items.iter().enumerate() {
        let gloss = matches!(item, Item::Unit(_))
            && matches!(out.last(), Some(Item::Amount(..)))
            && matches!(items.get(at + 1), Some(Item::Tag("~of")));
        if !gloss {
            out.push(item.clone());
        }
    }
    out
}

/// The text in its clauses: a mark and a space or the end part them, the comma or point inside a number does not.
fn clauses(text: &str) -> Vec<String> {
    let plain: String = text
        .to_lowercase()
        .chars()
        .map(|c| match c {
            'é' | 'è' | 'ê' => 'e',
            'â' | 'à' => 'a',
            'ï' => 'i',
            'û' => 'u',
            c => c,
        })
        .collect();
    let mut out = vec![String::new()];
    let chars: Vec<char> = plain.chars().collect();
    for (at, &c) in chars.iter().enumerate() {
        let ends = chars.get(at + 1).is_none_or(|next| next.is_whitespace());
        if matches!(c, '(' | ')' | '=') || matches!(c, ',' | '.' | ';' | '?' | '!' | ':') && ends {
            out.push(String::new());
        } else if let Some(last) = out.last_mut() {
            last.push(c);
        }
    }
    out.retain(|clause| !clause.trim().is_empty());
    out
}

/// Three numbers side by side are a ratio: 1:2:2, one to four to four.
fn with_ratios(items: Vec<Item>) -> Vec<Item> {
    let mut out: Vec<Item> = Vec::with_capacity(items.len());
    let mut at = 0;
    while at < items.len() {
        let mut numbers = Vec::new();
        let mut end = at;
        while let Some(item) = items.get(end) {
            match item {
                Item::Number(n) => numbers.push(*n),
                Item::Tag("~to") if !numbers.is_empty() => {}
                _ => break,
            }
            end += 1;
        }
        if let [seed, flour, water] = numbers[..]
            && seed > 0.0
        {
            out.push(Item::Ratio(flour / seed, water / seed));
            at = end;
        } else {
            out.push(items[at].clone());
            at += 1;
        }
    }
    out
}

/// What may stand beside a number and tell what it is of.
const NOUNS: [&str; 15] = [
    "~oil",
    "selfraising",
    "piece",
    "people",
    "dough",
    "starter",
    "poolish",
    "biga",
    "sponge",
    "preferment",
    "baked",
    "egg",
    "yolk",
    "white",
    "leaf",
];

fn quantities(items: &[Item]) -> Vec<Quantity> {
    let mut out = Vec::new();
    for clause in split(items) {
        let numbers = |item: &Item| matches!(item, Item::Amount(..) | Item::Number(_));
        let noun = |item: Option<&Item>| match item {
            Some(Item::Stuff(name)) => Some((Some(*name), None)),
            Some(Item::Tag(tag)) if NOUNS.contains(tag) => Some((None, Some(*tag))),
            _ => None,
        };
        let range = clause.0..clause.1;
        let first = range.clone().find(|&i| items[i].is_number());
        let last = range.clone().rfind(|&i| items[i].is_number());
        let beside = |at: usize, step: isize| {
            let mut i = at;
            loop {
                i = i.checked_add_signed(step)?;
                if !range.contains(&i) {
                    return None;
                }
                match &items[i] {
                    Item::Tag("~of" | "~weigh" | "~total" | "~at" | "parts") => {}
                    item => return noun(Some(item)),
                }
            }
        };
        // 'Flour 450 and water 315' names the thing first, '450 of flour and 315 of water' last.
        let is_asked = |at: usize| {
            at > range.start + 1
                && matches!(items[at - 2], Item::Tag("~howmuch" | "~howmany" | "~which"))
                && beside(at, 1).is_some()
        };
        let named_before =
            |at: usize| at > range.start && noun(Some(&items[at - 1])).is_some() && !is_asked(at);
        let before =
            first.is_some_and(named_before) && last.is_some_and(|l| beside(l, 1).is_none());
        for at in range.clone() {
            if !numbers(&items[at]) {
                continue;
            }
            let (n, unit) = match &items[at] {
                Item::Amount(n, unit) => (*n, Some(unit.clone())),
                Item::Number(n) => (*n, None),
                _ => continue,
            };
            let found = if before {
                beside(at, -1)
            } else {
                beside(at, 1)
            };
            let (stuff, tag) = found.unwrap_or((None, None));
            out.push(Quantity {
                n,
                unit,
                stuff,
                noun: tag,
                at,
            });
        }
    }
    out
}

/// Where the clauses begin and end.
fn split(items: &[Item]) -> Vec<(usize, usize)> {
    let mut out = Vec::new();
    let mut from = 0;
    for (at, item) in items.iter().enumerate() {
        if *item == Item::Stop {
            out.push((from, at));
            from = at + 1;
        }
    }
    out.push((from, items.len()));
    out
}

struct Reader<'a> {
    matcher: Matcher<'a>,
    tokens: &'a [Token],
    yeast: bool,
}

impl<'a> Reader<'a> {
    fn new(lexicon: &'a Lexicon, tokens: &'a [Token], yeast: bool) -> Self {
        Self {
            matcher: Matcher::new(lexicon, tokens),
            tokens,
            yeast,
        }
    }

    fn all(mut self) -> Vec<Item> {
        let mut out = Vec::new();
        let mut at = 0;
        while at < self.tokens.len() {
            let (end, item) = self.one(at);
            let denies = NOT.contains(&self.word(at)) && item == Some(Item::Unknown);
            if let Some(past) = denies.then(|| self.denied(end)).flatten() {
                at = past;
                continue;
            }
            if denies && self.denies_a_number(end) {
                out.push(Item::Tag("~denied"));
            }
            // 'The American one', 'US ones', 'in a normal one'.
            let such = at
                .checked_sub(1)
                .is_some_and(|i| SUCH.contains(&self.word(i)));
            if !(such && item == Some(Item::Number(1.0))) {
                out.extend(item);
            }
            at = end.max(at + 1);
        }
        without_sizes(out)
    }

    /// Where the small words behind a 'not' end.
    fn past_small(&self, at: usize) -> usize {
        (at..)
            .find(|&i| {
                !["the", "a", "an", "any", "in", "on", "using", "of", "for"].contains(&self.word(i))
            })
            .unwrap_or(at)
    }

    /// What is not meant is no piece of the question: 'not gas', 'no salt', 'not American ones'. Where it ends.
    fn denied(&mut self, at: usize) -> Option<usize> {
        let at = self.past_small(at);
        let (end, item) = self.one(at);
        matches!(
            item?,
            Item::Scale(_)
                | Item::Unit(_)
                | Item::LengthUnit(_)
                | Item::Stuff(_)
                | Item::Tag("us" | "uk" | "au" | "metric" | "round" | "square" | "normal")
        )
        .then_some(end)
    }

    /// 'Not 200': which number is meant then is not ours to say.
    fn denies_a_number(&mut self, at: usize) -> bool {
        let at = self.past_small(at);
        self.one(at).1.is_some_and(|item| item.is_number())
    }

    fn word(&self, at: usize) -> &str {
        self.tokens.get(at).map_or("", Token::word)
    }

    fn phrase(&self, at: usize, len: usize) -> Option<String> {
        let span = self.tokens.get(at..at + len)?;
        let words: Vec<&str> = span.iter().map(Token::word).collect();
        (!words.contains(&"")).then(|| words.join(" "))
    }

    /// The piece that begins here and where it ends; a word that tells nothing is no piece.
    fn one(&mut self, at: usize) -> (usize, Option<Item>) {
        // 'The first fry' of chips is no number.
        if self
            .phrase(at, 2)
            .is_some_and(|p| FIRST_FRY.contains(&p.as_str()))
        {
            return (at + 2, Some(Item::Tag("firstfry")));
        }
        if self
            .phrase(at, 2)
            .is_some_and(|p| SECOND_FRY.contains(&p.as_str()))
        {
            return (at + 2, Some(Item::Tag("fry")));
        }
        if let Some((end, item)) = self.gas(at).or_else(|| self.number(at)) {
            return (end, Some(item));
        }
        let mut found: Option<(usize, Option<Item>)> = None;
        for len in (1..=5).rev() {
            let Some(phrase) = self.phrase(at, len) else {
                continue;
            };
            let item = self
                .small_table(&phrase, at, len)
                .or_else(|| tag(&phrase))
                .or_else(|| self.scale(&phrase, at))
                .or_else(|| unit(&phrase))
                .or_else(|| self.stuff(&phrase));
            if item.is_some() {
                found = Some((at + len, item));
                break;
            }
            if FILLERS.contains(&phrase.as_str()) {
                found = Some((at + len, None));
                break;
            }
        }
        found.unwrap_or_else(|| {
            let food = (1..=3).find(|len| {
                self.phrase(at, *len)
                    .is_some_and(|p| knows(&p) || is_fried(&p))
            });
            match food {
                Some(len) => (at + len, Some(Item::Tag("~food"))),
                None => (at + 1, Some(Item::Unknown)),
            }
        })
    }

    fn gas(&mut self, at: usize) -> Option<(usize, Item)> {
        let fan_number = self.word(at) == "fan" && self.plain_number(at + 2).is_some();
        let after = match (self.word(at), self.word(at + 1)) {
            ("gas", "mark" | "marks") => at + 2,
            ("gas" | "regulo" | "mark", _) => at + 1,
            ("fan", "oven") if fan_number => at + 2,
            ("fan", _) => at + 1,
            _ => return None,
        };
        let scale = if self.word(at) == "fan" { "fan" } else { "gas" };
        match self.plain_number(after) {
            Some((end, n)) if !self.measured(end) => Some((end, Item::Heat(n, Some(scale)))),
            _ if self.word(at) == "mark" => None,
            _ if self.word(after) == "oven" => Some((after + 1, Item::Scale(scale))),
            _ => Some((after, Item::Scale(scale))),
        }
    }

    /// Does a unit stand here?
    fn measured(&self, at: usize) -> bool {
        unit(self.word(at)).is_some()
    }

    fn plain_number(&mut self, at: usize) -> Option<(usize, f64)> {
        let (end, value) = self.matcher.longest("number", at)?;
        match value {
            Value::Num(n) => Some((end, n)),
            _ => None,
        }
    }

    fn number(&mut self, at: usize) -> Option<(usize, Item)> {
        let amount = self.matcher.longest("amount", at);
        let lasts = self.matcher.longest("duration", at);
        let plain = self.plain_number(at);
        let past = plain.map_or(at, |(end, _)| end);
        if let Some((end, Value::Span(span))) = lasts
            && end > past
        {
            return Some((end, Item::Minutes(span.as_seconds() as f64 / 60.0)));
        }
        // 'Half a stick'.
        let article = |end: usize, n: f64| n < 1.0 && matches!(self.word(end), "a" | "an");
        let plain = plain.map(|(end, n)| (end + usize::from(article(end, n)), n));
        if let Some((end, n)) = plain
            && let Some(found) = self.after_number(end, n)
        {
            return Some(found);
        }
        if let Some((end, Value::Amount(n, unit))) = amount
            && end > past
        {
            return Some((end, Item::Amount(n, unit.to_owned())));
        }
        let (end, n) = plain?;
        if let Some(Item::Unit(unit)) = unit(self.word(end)) {
            return Some((end + 1, Item::Amount(n, unit)));
        }
        Some((end, Item::Number(n)))
    }

    /// What a number is of, where it is no mass, volume or time.
    fn after_number(&mut self, end: usize, n: f64) -> Option<(usize, Item)> {
        let (one, two) = (self.word(end).to_owned(), self.word(end + 1).to_owned());
        if ["american", "us"].contains(&one.as_str())
            && [
                "stick",
                "sticks",
                "packet",
                "packets",
                "envelope",
                "envelopes",
                "sachet",
            ]
            .contains(&two.as_str())
        {
            return self.after_number(end + 1, n);
        }
        match (one.as_str(), two.as_str()) {
            ("percent" | "pc", _) => return Some((end + 1, Item::Percent(n))),
            ("per", "cent") => return Some((end + 2, Item::Percent(n))),
            ("cm" | "cms" | "centimetre" | "centimetres" | "centimeter" | "centimeters", _) => {
                return Some((end + 1, Item::Length(n)));
            }
            ("mm" | "millimetre" | "millimetres", _) => {
                return Some((end + 1, Item::Length(n / 10.0)));
            }
            ("inch" | "inches" | "ins", _) => {
                return Some((end + 1, Item::Length(n * CM_PER_INCH)));
            }
            ("degree" | "degrees" | "deg", _) => {
                let (at, scale) = match scale_word(&two) {
                    Some(scale) => (end + 2, Some(scale)),
                    None => (end + 1, None),
                };
                let fan = self.word(at) == "fan";
                let scale = if fan { Some("fan") } else { scale };
                return Some((at + usize::from(fan), Item::Heat(n, scale)));
            }
            ("celsius" | "centigrade" | "c", "fan") => {
                return Some((end + 2, Item::Heat(n, Some("fan"))));
            }
            // Cups are also written c, but a cup is of something.
            ("c", _) if n < 5.0 && self.stuff_at(end + 1) => {
                return Some((end + 1, Item::Amount(n, "cup".to_owned())));
            }
            (word, _) => {
                if let Some(scale) = scale_word(word) {
                    return Some((end + 1, Item::Heat(n, Some(scale))));
                }
            }
        }
        let counted = ["stick", "packet", "clove"];
        if ENVELOPE.contains(&one.as_str()) {
            return Some((end + 1, Item::Amount(n, "packet".to_owned())));
        }
        let unit = Unit::find(&one, Region::Metric).ok()?;
        (counted.contains(&unit.symbol()))
            .then(|| (end + 1, Item::Amount(n, unit.symbol().to_owned())))
    }

    fn stuff_at(&self, at: usize) -> bool {
        let at = if self.word(at) == "of" { at + 1 } else { at };
        (1..=4).any(|len| {
            self.phrase(at, len)
                .is_some_and(|p| self.stuff(&p).is_some())
        })
    }

    fn scale(&self, phrase: &str, at: usize) -> Option<Item> {
        let found = scale_word(phrase)?;
        // 'c' and 'f' alone, after 'in' or at the end.
        let alone = phrase.len() == 1;
        let next = self.word(at + 1);
        (!alone || !["cup", "of"].contains(&next)).then_some(Item::Scale(found))
    }

    fn small_table(&self, phrase: &str, at: usize, len: usize) -> Option<Item> {
        if let Some(stage) = NamedHeat::find(NamedHeat::sugar_stages(), phrase) {
            return Some(Item::Named("stage", &stage.name));
        }
        if let Some(word) = NamedHeat::find(NamedHeat::oven_words(), phrase)
            && self.word(at + len) == "oven"
        {
            return Some(Item::Named("oven", &word.name));
        }
        let named = match phrase {
            "bronze" => Item::Named("leaf", "bronze"),
            "silver" => Item::Named("leaf", "silver"),
            "gold" => Item::Named("leaf", "gold"),
            "platinum" => Item::Named("leaf", "platinum"),
            "powder" | "powdered" | "granules" => Item::Named("leaf", "powder"),
            "small" => Item::Named("size", "small"),
            "medium" => Item::Named("size", "medium"),
            "large" => Item::Named("size", "large"),
            "extra large" | "very large" | "xl" => Item::Named("size", "very large"),
            "jumbo" => Item::Named("size", "jumbo"),
            "dried fast action" | "fast action dried" | "fast acting" | "instant dried"
            | "dried instant" | "instant dry" | "quick yeast" | "rapid rise" => {
                Item::Stuff("instant yeast")
            }
            "dried active" | "active dry" | "active dried" | "dry yeast" | "dried yeast"
            | "active" => Item::Stuff("active dried yeast"),
            "osmotolerant" | "easy bake" | "easy blend" | "fast action" | "osmotolerant yeast"
            | "easy bake yeast" => Item::Stuff("instant yeast"),
            "instant" if self.yeast => Item::Stuff("instant yeast"),
            "fresh" if self.yeast => Item::Stuff("fresh yeast"),
            "dried" if self.yeast => Item::Stuff("active dried yeast"),
            "envelope" | "envelopes" => Item::Unit("packet".to_owned()),
            "kosher" => Item::Stuff("kosher salt"),
            "flaky" | "flakey" | "flakes of salt" => Item::Stuff("sea salt flakes"),
            "wholemeal" => Item::Stuff("wholemeal flour"),
            "rye" => Item::Stuff("rye flour"),
            "strong white" | "strong white bread" => return stuff_named("bread flour"),
            "strong wholemeal" => return stuff_named("wholemeal flour"),
            "white flour" | "ap flour" | "ap" | "all purpose" | "plain" => {
                Item::Stuff("plain flour")
            }
            "granulated" => Item::Stuff("granulated sugar"),
            "raw rice" | "uncooked rice" | "dry rice" => {
                return ingredients().find("rice").map(|row| Item::Stuff(&row.name));
            }
            _ => return None,
        };
        Some(named)
    }

    fn stuff(&self, phrase: &str) -> Option<Item> {
        let edge = |w: Option<&str>| w.is_some_and(|w| EDGES.contains(&w));
        let mut words = phrase.split(' ');
        let first = words.next();
        if edge(first) || edge(words.next_back()) {
            return None;
        }
        // Gelatine is read by its leaves and strengths.
        if phrase.contains("gelatin") {
            return None;
        }
        let row = ingredients().find(phrase)?;
        // The size of an egg tells, so that it is read by itself.
        let egg = ["egg", "egg white", "egg yolk"].contains(&row.name.as_str());
        (!egg || !phrase.contains(' ')).then_some(Item::Stuff(&row.name))
    }
}

/// An ingredient by a name that the table has.
fn stuff_named(name: &str) -> Option<Item> {
    ingredients().find(name).map(|row| Item::Stuff(&row.name))
}

/// Other words for a packet.
const ENVELOPE: [&str; 4] = ["envelope", "envelopes", "packet", "packets"];

/// Chips are fried twice.
const FIRST_FRY: [&str; 4] = ["first fry", "first frying", "first time", "1st fry"];
const SECOND_FRY: [&str; 3] = ["second fry", "second frying", "2nd fry"];

/// Words that the name of an ingredient neither begins nor ends with here.
const EDGES: [&str; 14] = [
    "the",
    "a",
    "an",
    "of",
    "at",
    "my",
    "some",
    "cold",
    "hot",
    "warm",
    "room",
    "temperature",
    "good",
    "quality",
];

fn tag(phrase: &str) -> Option<Item> {
    TAGS.iter()
        .find(|(_, words)| words.contains(&phrase))
        .map(|(tag, _)| Item::Tag(tag))
}

fn scale_word(word: &str) -> Option<&'static str> {
    Some(match word {
        "c" | "celsius" | "centigrade" => "c",
        "f" | "fahrenheit" => "f",
        "fan" | "convection" | "fan oven" | "convection oven" => "fan",
        _ => return None,
    })
}

fn unit(phrase: &str) -> Option<Item> {
    match phrase {
        "cm" | "cms" | "centimetre" | "centimetres" | "centimeters" => {
            return Some(Item::LengthUnit("cm"));
        }
        "inch" | "inches" => return Some(Item::LengthUnit("inch")),
        "spoons" | "spoonfuls" => return Some(Item::Unit("spoons".to_owned())),
        // Letters and words that mean something else as often.
        "t" | "c" | "l" | "pt" | "st" | "whole" | "each" | "ea" | "bar" | "box" | "pod" | "ear"
        | "head" | "cake" => {
            return None;
        }
        _ => {}
    }
    let found = Unit::find(phrase, Region::Metric).ok()?;
    let own = phrase
        .split_once(' ')
        .is_some_and(|(first, _)| Region::find(first).is_some());
    let counted =
        found.kind() == Kind::Count && !["stick", "packet", "clove"].contains(&found.symbol());
    (!counted).then(|| {
        Item::Unit(if own {
            found.full_symbol()
        } else {
            found.symbol().to_owned()
        })
    })
}
