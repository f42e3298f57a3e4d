//! Recipes with the right reading beside them, and how much of a reading was found.
//!
//! A file of samples has blocks: `=== name`, the source, `--- reading`, and a line for each ingredient and step.
//! `i 225g plain flour ~margarine ? @dough` is an ingredient: its amount, name, alternative, that it is optional, its part.
//! `s 25-30, 10 | butter, flour | 180` is a step: its timers in minutes, what goes in, and the oven in Celsius. `u bake 120` is
//! a timer of any step. A line that begins with `#` is a remark.

use commis::formula::{Batch, Formula, Quantity};
use commis::import::{About, Recipe};
use commis::time::Span;

/// A source, and the lines of its reading.
pub struct Sample {
    pub name: String,
    pub source: String,
    pub reading: Vec<String>,
    /// Names are to be the reading's to the letter. Strangers write 'butter' for 'soft butter'.
    pub to_the_letter: bool,
}

/// The samples of a file.
pub fn samples_in(text: &str, to_the_letter: bool) -> Vec<Sample> {
    let one = |block: &str| {
        let (name, rest) = block.split_once('\n').expect("a name");
        let (source, reading) = rest.split_once("--- reading\n").expect("a reading");
        let lines = reading.lines().map(str::trim);
        Sample {
            name: name.trim().to_owned(),
            source: source.to_owned(),
            reading: lines
                .filter(|l| !l.is_empty() && !l.starts_with('#'))
                .map(str::to_owned)
                .collect(),
            to_the_letter,
        }
    };
    let text = format!("\n{text}");
    text.split("\n=== ").skip(1).map(one).collect()
}

/// Right ones of all.
#[derive(Default, Clone, Copy)]
pub struct Share(pub usize, pub usize);

impl Share {
    fn add(&mut self, right: usize, all: usize) {
        self.0 += right;
        self.1 += all;
    }

    pub fn percent(self) -> f64 {
        self.0 as f64 / self.1.max(1) as f64 * 100.0
    }
}

/// What was found of the readings.
#[derive(Default)]
pub struct Score {
    pub lines: Share,
    pub timers: Share,
    pub uses: Share,
    pub heats: Share,
    /// Amounts that are wrong and not marked as unsure.
    pub sure_and_wrong: Vec<String>,
    /// Everything else that was read otherwise.
    pub wrong: Vec<String>,
}

impl Score {
    /// The figures in a line.
    pub fn told(&self) -> String {
        format!(
            "lines {:.1} %, timers {:.1} %, uses {:.1} %, heats {:.1} %, wrong and sure {}",
            self.lines.percent(),
            self.timers.percent(),
            self.uses.percent(),
            self.heats.percent(),
            self.sure_and_wrong.len()
        )
    }

    /// Counts one sample.
    pub fn add(&mut self, sample: &Sample, recipe: &Recipe, f: &Formula) {
        let of = |kind: &str| -> Vec<&str> {
            let lines = sample.reading.iter();
            lines
                .filter_map(|l| l.strip_prefix(kind)?.strip_prefix(' '))
                .map(str::trim)
                .collect()
        };
        self.ingredients(sample, recipe, f, &of("i"));
        self.steps(sample, f, &of("s"));
        for line in of("u") {
            let (name, lasts) = line.split_once(' ').expect("a timer");
            let found = f
                .timers()
                .any(|(_, t)| t.name.contains(name) && minutes(t.lasts) == lasts);
            self.timers.add(usize::from(found), 1);
        }
    }

    fn ingredients(&mut self, sample: &Sample, recipe: &Recipe, f: &Formula, wanted: &[&str]) {
        let parts = wanted.iter().any(|w| w.contains('@'));
        let doubts = recipe.doubts();
        let read = |w: usize, i: usize| is_line(wanted[w], f, i, sample.to_the_letter, parts);
        // Each wanted line and its found one, in order: as many as can be.
        let (n, m) = (wanted.len(), f.ingredients.len());
        let mut best = vec![vec![0_u32; m + 1]; n + 1];
        let worth = |w: usize, i: usize| {
            let (whole, amount, named) = read(w, i);
            if whole {
                4
            } else {
                2 * u32::from(named) + u32::from(amount)
            }
        };
        for w in (0..n).rev() {
            for i in (0..m).rev() {
                best[w][i] = best[w + 1][i]
                    .max(best[w][i + 1])
                    .max(best[w + 1][i + 1] + worth(w, i));
            }
        }
        let (mut w, mut i, mut right) = (0, 0, 0);
        while w < n && i < m {
            if best[w][i] == best[w + 1][i + 1] + worth(w, i) && worth(w, i) > 0 {
                let (whole, amount, _) = read(w, i);
                right += usize::from(whole);
                if !whole {
                    let q = Batch::as_written(f).quantity(f, i, 1.0);
                    let found = &f.ingredients[i];
                    self.wrong.push(format!(
                        "{}: `{}` is {q:?} `{}`, note {:?}, or {:?}, optional {}, part {:?}",
                        sample.name,
                        wanted[w],
                        found.name,
                        found.note,
                        found.or,
                        found.optional,
                        found.part
                    ));
                }
                if !amount && !doubts.iter().any(|d| d.about == About::Amount(i)) {
                    self.sure_and_wrong
                        .push(format!("{}: {}", sample.name, wanted[w]));
                }
                (w, i) = (w + 1, i + 1);
            } else if best[w][i] == best[w + 1][i] {
                self.wrong
                    .push(format!("{}: `{}` is missing", sample.name, wanted[w]));
                w += 1;
            } else {
                self.wrong.push(format!(
                    "{}: `{}` is too much",
                    sample.name, f.ingredients[i].name
                ));
                i += 1;
            }
        }
        for line in &wanted[w..n] {
            self.wrong
                .push(format!("{}: `{line}` is missing", sample.name));
        }
        for i in i..m {
            self.wrong.push(format!(
                "{}: `{}` is too much",
                sample.name, f.ingredients[i].name
            ));
        }
        self.lines.add(right, n.max(m));
    }

    fn steps(&mut self, sample: &Sample, f: &Formula, wanted: &[&str]) {
        if wanted.is_empty() {
            return;
        }
        let wanted: Vec<Step> = wanted.iter().map(|w| Step::wanted(w)).collect();
        let found: Vec<Step> = f.steps.iter().map(|s| Step::found(s, f)).collect();
        let (n, m) = (wanted.len(), found.len());
        // One step may be cut in several, and several may be one.
        let groups = |w: usize, i: usize| {
            let several = (2..=6).flat_map(|k| [(1, k), (k, 1)]);
            [(1, 1), (1, 0), (0, 1)]
                .into_iter()
                .chain(several)
                .filter(move |(a, b)| w + a <= n && i + b <= m)
        };
        let count = |w: usize, i: usize, a: usize, b: usize| {
            Step::compare(&wanted, w..w + a, &found, i..i + b)
        };
        let mut best = vec![vec![0_i64; m + 1]; n + 1];
        for w in (0..=n).rev() {
            for i in (0..=m).rev() {
                let all = groups(w, i).filter(|(a, b)| a + b > 0);
                best[w][i] = all
                    .map(|(a, b)| best[w + a][i + b] + count(w, i, a, b).worth(a, b))
                    .max()
                    .unwrap_or(0);
            }
        }
        let (mut w, mut i) = (0, 0);
        while w < n || i < m {
            let (a, b) = groups(w, i)
                .find(|(a, b)| best[w][i] == best[w + a][i + b] + count(w, i, *a, *b).worth(*a, *b))
                .expect("one of them is best");
            let compared = count(w, i, a, b);
            self.timers.add(compared.timers.0, compared.timers.1);
            self.uses.add(compared.uses.0, compared.uses.1);
            self.heats.add(compared.heats.0, compared.heats.1);
            if !compared.is_right() {
                self.wrong.push(format!(
                    "{}: steps {:?} are\n        {:?}",
                    sample.name,
                    &wanted[w..w + a],
                    &found[i..i + b]
                ));
            }
            (w, i) = (w + a, i + b);
        }
    }
}

/// What a step has, as the reading says it or as it was found.
#[derive(Debug, Clone)]
struct Step {
    timers: Vec<String>,
    uses: Option<Vec<String>>,
    heat: Option<f64>,
    text: String,
}

#[derive(Default, Clone, Copy)]
struct Compared {
    timers: Share,
    uses: Share,
    heats: Share,
}

impl Compared {
    fn worth(self, a: usize, b: usize) -> i64 {
        let of = |s: Share| 2 * s.0 as i64 - s.1 as i64;
        let apart =
            (a.max(1) - 1 + b.max(1) - 1 + usize::from(a == 0) + usize::from(b == 0)) as i64;
        4 * (of(self.timers) + of(self.uses) + of(self.heats)) - apart
    }

    fn is_right(self) -> bool {
        [self.timers, self.uses, self.heats]
            .iter()
            .all(|s| s.0 == s.1)
    }
}

impl Step {
    fn wanted(line: &str) -> Self {
        let cells: Vec<&str> = line.split('|').map(str::trim).collect();
        let list = |cell: &str| -> Vec<String> {
            cell.split(',')
                .map(|t| t.trim().to_lowercase())
                .filter(|t| !t.is_empty() && t != "-")
                .collect()
        };
        Self {
            timers: list(cells[0]),
            uses: cells.get(1).map(|c| list(c)).filter(|c| !c.is_empty()),
            heat: cells.get(2).and_then(|c| c.parse().ok()),
            text: String::new(),
        }
    }

    fn found(step: &commis::formula::Step, f: &Formula) -> Self {
        let lasts = |t: &commis::formula::TimerSpec| {
            t.most.map_or_else(
                || minutes(t.lasts),
                |most| format!("{}-{}", minutes(t.lasts), minutes(most)),
            )
        };
        let names = step.uses.iter().map(|u| {
            let i = &f.ingredients[u.ingredient];
            format!(
                "{} {} {}",
                i.name,
                i.table,
                i.note.as_deref().unwrap_or_default()
            )
            .to_lowercase()
        });
        Self {
            timers: step.timers.iter().map(lasts).collect(),
            uses: Some(names.collect()),
            heat: step.oven_c,
            text: step.text.to_lowercase(),
        }
    }

    /// What of the wanted steps the found ones have. What is named again and goes in no more is no other use; it is one
    /// where the step speaks of a part.
    fn compare(
        all: &[Step],
        wanted: std::ops::Range<usize>,
        found: &[Step],
        own: std::ops::Range<usize>,
    ) -> Compared {
        const PART: [&str; 14] = [
            "half",
            "halves",
            "rest",
            "remaining",
            "remainder",
            "third",
            "thirds",
            "quarter",
            "quarters",
            "most",
            "reserved",
            "little",
            "other",
            "some",
        ];
        let mut out = Compared::default();
        let flat = |steps: &[Step]| -> Vec<String> {
            steps
                .iter()
                .flat_map(|s| s.timers.iter().cloned())
                .collect()
        };
        let (a, b) = (flat(&all[wanted.clone()]), flat(&found[own.clone()]));
        out.timers = Share(in_order(&a, &b), a.len().max(b.len()));
        if all[wanted.clone()].iter().any(|s| s.uses.is_some()) {
            let used: Vec<&String> = found[own.clone()]
                .iter()
                .flat_map(|s| s.uses.iter().flatten())
                .collect();
            let names: Vec<&String> = all[wanted.clone()]
                .iter()
                .flat_map(|s| s.uses.iter().flatten())
                .collect();
            let text: Vec<&str> = found[own.clone()].iter().map(|s| s.text.as_str()).collect();
            let text = text.join(" ");
            let text: Vec<&str> = text
                .split(|c: char| !c.is_alphabetic())
                .filter(|w| !w.is_empty())
                .collect();
            // 'Half of the milk', 'the remaining butter'.
            let part = |name: &str| {
                let last = plain_words(name).pop().unwrap_or_default();
                let is = |w: &&str| plain_words(w).iter().any(|w| is_word(w, &last));
                let at = text.iter().position(is).unwrap_or(0);
                text[at.saturating_sub(5)..at]
                    .iter()
                    .any(|w| PART.contains(w))
            };
            for name in &names {
                let here = used.iter().any(|u| is_meant(name, u));
                let before = found[..own.start]
                    .iter()
                    .flat_map(|s| s.uses.iter().flatten())
                    .any(|u| is_meant(name, u))
                    && all[..wanted.start]
                        .iter()
                        .flat_map(|s| s.uses.iter().flatten())
                        .any(|n| is_meant(n, name) || is_meant(name, n));
                if here || !before || part(name) {
                    out.uses.add(usize::from(here), 1);
                }
            }
            let more = used
                .iter()
                .filter(|u| !names.iter().any(|n| is_meant(n, u)))
                .count();
            out.uses.add(0, more);
        }
        for heat in all[wanted].iter().filter_map(|s| s.heat) {
            // A step that lights the oven has the heat of the next one that uses it.
            let near = |s: &Step| s.heat.is_some_and(|c| (c - heat).abs() <= 6.0);
            let next = found[own.start..].iter().find(|s| s.heat.is_some());
            let right = found[own.clone()].iter().any(near) || next.is_some_and(near);
            out.heats.add(usize::from(right), 1);
        }
        out
    }
}

/// How many of these stand in those, in this order.
fn in_order(a: &[String], b: &[String]) -> usize {
    let mut best = vec![vec![0; b.len() + 1]; a.len() + 1];
    for i in (0..a.len()).rev() {
        for k in (0..b.len()).rev() {
            best[i][k] = if a[i] == b[k] {
                best[i + 1][k + 1] + 1
            } else {
                best[i + 1][k].max(best[i][k + 1])
            };
        }
    }
    best[0][0]
}

fn minutes(span: Span) -> String {
    let n = (span.as_seconds() as f64 / 6.0).round() / 10.0;
    format!("{n}")
}

/// Words of size are no part of a name, and these tell nothing.
const SIZE: [&str; 9] = [
    "large", "medium", "small", "big", "of", "and", "the", "a", "in",
];

fn plain_words(text: &str) -> Vec<String> {
    text.to_lowercase()
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty() && !SIZE.contains(w))
        .map(|w| {
            w.strip_suffix('s')
                .filter(|s| s.len() > 2)
                .unwrap_or(w)
                .to_owned()
        })
        .collect()
}

/// The same word, but for a slip of the pen.
fn is_word(a: &str, b: &str) -> bool {
    let slips = match a.chars().count() {
        0..=3 => 0,
        4..=7 => 1,
        _ => 2,
    };
    a == b || slips > 0 && strsim::damerau_levenshtein(a, b) <= slips
}

/// A step's word for an ingredient means this name: `bread` is breadcrumbs.
fn is_meant(word: &str, name: &str) -> bool {
    let own = plain_words(name);
    let joined: String = own.concat();
    let short: String = plain_words(word).concat();
    joined == short
        || plain_words(word).iter().all(|w| {
            own.iter().any(|o| {
                is_word(w, o)
                    || w.len() > 3 && (o.starts_with(w.as_str()) || o.ends_with(w.as_str()))
            })
        })
}

/// A name is the reading's: its last word stands in the name, the others in the name or the note, and not much else.
fn is_name(wanted: &str, i: &commis::formula::Ingredient) -> bool {
    let (want, own) = (plain_words(wanted), plain_words(&i.name));
    let table = plain_words(&i.table);
    let note = plain_words(&format!(
        "{} {} {}",
        i.note.as_deref().unwrap_or_default(),
        i.words.as_deref().unwrap_or_default(),
        i.household.as_deref().unwrap_or_default()
    ));
    if want.concat() == own.concat() || want == table {
        return true;
    }
    let has = |list: &[String], w: &String| list.iter().any(|o| is_word(w, o));
    let Some(last) = want.last() else {
        return false;
    };
    (has(&own, last) || has(&table, last))
        && want
            .iter()
            .all(|w| has(&own, w) || has(&table, w) || has(&note, w))
        && i.name
            .split_whitespace()
            .filter(|o| {
                let o = plain_words(o);
                !o.is_empty() && !o.iter().any(|o| has(&want, o))
            })
            .count()
            <= 2
        && !i.name.contains(',')
}

/// What the reading says of an amount: `30g`, `156-175g` (anything between), `2clove`, `3`, `words`.
fn is_amount(wanted: &str, found: &Quantity, to_the_letter: bool) -> bool {
    if wanted == "words" {
        let few = [
            "pinch", "handful", "knob", "dash", "thumb", "drop", "splash", "sprig", "glug",
            "drizzle", "grind", "grating",
        ];
        return match found.count {
            Some((.., one)) => !to_the_letter && few.contains(&one),
            None => found.mass.is_none(),
        };
    }
    let end = wanted.find(char::is_alphabetic).unwrap_or(wanted.len());
    let (figures, unit) = wanted.split_at(end);
    let (low, high) = figures.split_once('-').unwrap_or((figures, figures));
    let (low, high): (f64, f64) = (
        low.parse().expect("a number"),
        high.parse().expect("a number"),
    );
    let within = |a: f64, b: f64, off: f64| a >= low * (1.0 - off) && b <= high * (1.0 + off);
    let weighs = |off| {
        found
            .mass
            .is_some_and(|(a, b)| within(a.as_grams(), b.as_grams(), off))
    };
    match unit {
        // Of a thing that the tables do not know the measure stands as it is written; it has to be one that could weigh so.
        "g" => {
            weighs(0.01)
                || !to_the_letter
                    && millilitres(found).is_some_and(|(a, b)| {
                        (0.1..=1.8).contains(&(low / a.max(0.01)))
                            && (0.1..=1.8).contains(&(high / b.max(0.01)))
                    })
        }
        "ml" => weighs(0.1) || millilitres(found).is_some_and(|(a, b)| within(a, b, 0.02)),
        "" => found.count.is_some_and(|(a, b, _)| within(a, b, 0.001)),
        unit => found
            .count
            .is_some_and(|(a, b, one)| one == unit && within(a, b, 0.001)),
    }
}

/// An amount that is a measure of volume.
fn millilitres(found: &Quantity) -> Option<(f64, f64)> {
    let (a, b, one) = found.count?;
    let ml = match one {
        "litre" => 1000.0,
        "decilitre" => 100.0,
        "centilitre" => 10.0,
        "millilitre" => 1.0,
        "cup" => 240.0,
        "tablespoon" => 15.0,
        "dessertspoon" => 10.0,
        "teaspoon" => 5.0,
        "pint" => 568.26,
        "gill" => 142.07,
        "fluid ounce" => 29.0,
        _ => return None,
    };
    Some((a * ml, b * ml))
}

/// Whether a found ingredient is the wanted line as a whole, whether its amount is, and its name.
fn is_line(
    wanted: &str,
    f: &Formula,
    at: usize,
    to_the_letter: bool,
    parts: bool,
) -> (bool, bool, bool) {
    let (amount, rest) = wanted.split_once(' ').expect("an amount and a name");
    let marked = |mark: char| {
        rest.split(' ')
            .find_map(|w| w.strip_prefix(mark))
            .map(|w| w.replace('_', " "))
    };
    let name: Vec<&str> = rest
        .split(' ')
        .filter(|w| !w.starts_with(['~', '?', '@']))
        .collect();
    let name = name.join(" ");
    let i = &f.ingredients[at];
    let quantity = Batch::as_written(f)
        .quantity(f, at, 1.0)
        .expect("it is there");
    let household = i
        .household
        .as_deref()
        .filter(|_| !to_the_letter && amount.ends_with("ml"));
    let as_volume = household.and_then(|h| {
        let read = commis::measure::Amount::parse(h, commis::measure::Region::Metric).ok()?;
        let part = read.parts.first().filter(|_| read.parts.len() == 1)?;
        let one = part.unit.singular();
        Some(Quantity {
            count: Some((part.low, part.high, one)),
            mass: None,
            words: None,
        })
    });
    let amount = is_amount(amount, &quantity, to_the_letter)
        || as_volume.is_some_and(|q| is_amount(amount, &q, false));
    let named = if to_the_letter {
        i.name.eq_ignore_ascii_case(&name)
    } else {
        is_name(&name, i)
    };
    let or = match marked('~') {
        Some(or) => i.or.iter().any(|o| o == &or || is_meant(&or, o)),
        None => i.or.is_empty() || !to_the_letter,
    };
    let whole = amount
        && named
        && or
        && i.optional == rest.split(' ').any(|w| w == "?")
        && (!parts || i.part == marked('@'));
    (whole, amount, named)
}
