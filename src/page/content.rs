//! What stands on the page: one list of blocks, from which every form is made.

use crate::formula::{Batch, Formula, Step, TimerSpec, fill, joined, plural};
use crate::measure::tin::{Shape, Size};
use crate::measure::words::capital;
use crate::measure::{Mass, Region, Temperature, print};
use crate::safety::Law;
use crate::time::Span;

/// A page: its title, and what stands under it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Page {
    /// The formula's name.
    pub title: String,
    /// Everything else, in the order of reading.
    pub blocks: Vec<Passage>,
}

/// One piece of a page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Passage {
    /// A heading under the title: 2 for a part of the page, 3 for a part of that.
    Heading(u8, String),
    /// A paragraph.
    Text(String),
    /// A paragraph that must not be overlooked: a caution, the allergens.
    Careful(String),
    /// A list.
    List(Vec<ListItem>),
}

/// One line of a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ListItem {
    /// How much; empty where there is no amount.
    pub amount: String,
    /// Of what.
    pub what: String,
}

impl ListItem {
    /// Both in one.
    pub fn line(&self) -> String {
        if self.amount.is_empty() {
            return self.what.clone();
        }
        format!("{} {}", self.amount, self.what)
    }
}

/// What the page is made of.
struct Source<'f> {
    formula: &'f Formula,
    batch: &'f Batch,
    step_g: f64,
    region: Region,
}

impl Page {
    /// The page of a formula at today's size, for a scale with this step in grams.
    pub fn of(formula: &Formula, batch: &Batch, step_g: f64, region: Region, law: Law) -> Self {
        let source = Source {
            formula,
            batch,
            step_g,
            region,
        };
        let mut blocks = source.opening();
        let heading = |text: &str| Passage::Heading(2, text.to_owned());
        blocks.push(heading("Allergens"));
        blocks.push(Passage::Careful(formula.contents().summary(law)));
        if !formula.told.equipment.is_empty() {
            blocks.push(heading("You need"));
            let one = |what: &String| ListItem {
                amount: String::new(),
                what: what.clone(),
            };
            blocks.push(Passage::List(
                formula.told.equipment.iter().map(one).collect(),
            ));
        }
        blocks.push(heading("Ingredients"));
        blocks.extend(source.ingredients());
        blocks.push(heading("Method"));
        for at in 0..formula.steps.len() {
            blocks.extend(source.step(at));
        }
        let told = [
            ("Keeps", &formula.told.keeps),
            ("Note", &formula.told.note),
            ("Source", &formula.told.source),
        ];
        let told: Vec<Passage> = told
            .into_iter()
            .filter_map(|(what, said)| Some(Passage::Text(format!("{what}: {}", said.as_ref()?))))
            .collect();
        if !told.is_empty() {
            blocks.push(heading("Afterwards"));
            blocks.extend(told);
        }
        Self {
            title: formula.name.clone(),
            blocks,
        }
    }
}

impl Source<'_> {
    fn opening(&self) -> Vec<Passage> {
        let f = self.formula;
        let mut out = Vec::new();
        if !f.about.is_empty() {
            out.push(Passage::Text(f.about.clone()));
        }
        let size = match self.batch.by() {
            "" => String::new(),
            by => format!("Today: {by}. "),
        };
        out.push(Passage::Text(format!("{size}Makes {}.", self.makes())));
        let tin = f.tin.as_ref().map(|tin| format!("{}.", tin_words(tin)));
        let oven = f.oven.as_ref().map(|oven| {
            let lead = length(oven.lead);
            format!(
                "Oven: {}. It needs {lead} to get hot.",
                self.heat(oven.heat_c)
            )
        });
        out.extend([tin, oven].into_iter().flatten().map(Passage::Text));
        out
    }

    /// `1 loaf, 12 portions`.
    fn makes(&self) -> String {
        let makes = &self.formula.makes;
        let factor = self.batch.factor();
        let number = |n: f64| print::number(n * factor, 1);
        let pieces = number(makes.pieces);
        let piece = if pieces == "1" {
            makes.piece.clone()
        } else {
            plural(&makes.piece)
        };
        let portions = number(makes.portions);
        let portions = match makes.portions_to {
            Some(to) => joined(&portions, &number(to)),
            None if portions == pieces => return format!("{pieces} {piece}"),
            None => portions,
        };
        let word = if portions == "1" {
            "portion"
        } else {
            "portions"
        };
        format!("{pieces} {piece}, {portions} {word}")
    }

    fn ingredients(&self) -> Vec<Passage> {
        let all = &self.formula.ingredients;
        let mut out = Vec::new();
        let mut at = 0;
        while at < all.len() {
            let part = &all[at].part;
            let to = (at..all.len())
                .find(|to| all[*to].part != *part)
                .unwrap_or(all.len());
            let named = part.as_deref().or((at > 0).then_some("the rest"));
            out.extend(named.map(|name| Passage::Heading(3, capital(name))));
            out.push(Passage::List(
                (at..to).map(|i| self.item(i, 1.0, true)).collect(),
            ));
            at = to;
        }
        let dough = self.batch.dough(self.formula);
        if dough.as_grams() > 0.0 && self.formula.without_mass().next().is_none() {
            let hydration = self
                .batch
                .hydration(self.formula)
                .map_or_else(String::new, |h| {
                    format!(", hydration {}\u{a0}%", print::number(h, 1))
                });
            out.push(Passage::Text(format!(
                "In all {}{hydration}.",
                self.mass(dough)
            )));
        }
        out.extend(self.batch.notes().iter().cloned().map(Passage::Text));
        out
    }

    /// A number and its unit are not parted at the end of a line.
    fn mass(&self, mass: Mass) -> String {
        print::grams(mass, self.step_g).replace(' ', "\u{a0}")
    }

    /// An ingredient, or part of it, with all that is said of it where it is whole.
    fn item(&self, at: usize, part: f64, whole: bool) -> ListItem {
        let i = &self.formula.ingredients[at];
        let quantity = self.batch.quantity(self.formula, at, part);
        let printed = quantity.map_or_else(String::new, |q| q.printed(|mass| self.mass(mass)));
        let counted = quantity
            .filter(crate::formula::Quantity::is_weighed)
            .and_then(|q| Some((q.printed_count()?, q.count?.2)));
        let or: String = i.or.iter().map(|or| format!(" or {or}")).collect();
        let mut what = format!("{}{or}", i.name);
        let amount = match (&i.words, &counted) {
            (Some(words), _) => {
                what += &format!(", {words}");
                String::new()
            }
            // '2 eggs (100 g)', and no '2 eggs eggs'.
            (None, Some((count, one))) => {
                what += &format!(" ({printed})");
                let named = i.name.to_lowercase().contains(one);
                let number = count
                    .rsplit_once(' ')
                    .map_or(count.as_str(), |(number, _)| number);
                if named {
                    number.to_owned()
                } else {
                    count.clone()
                }
            }
            (None, None) => printed,
        };
        if whole {
            let household = self.batch.household(self.formula, at, self.region);
            let beside = household.filter(|_| counted.is_none());
            what += &beside.map_or_else(String::new, |h| format!(" ({h})"));
            what += &i
                .note
                .as_ref()
                .map_or_else(String::new, |n| format!(", {n}"));
            what += &i
                .extra
                .as_ref()
                .map_or_else(String::new, |e| format!(", plus more {e}"));
        }
        if i.optional {
            what += ", if you like";
        }
        ListItem { amount, what }
    }

    fn step(&self, at: usize) -> Vec<Passage> {
        let step = &self.formula.steps[at];
        let before = at.checked_sub(1).map(|at| &self.formula.steps[at]);
        let part = step
            .part
            .as_ref()
            .filter(|part| before.is_none_or(|before| before.part.as_ref() != Some(part)));
        let part = part.map_or_else(String::new, |part| format!(" ({part})"));
        let mut out = vec![Passage::Heading(
            3,
            format!("{}. {}{part}", at + 1, step.title),
        )];
        out.extend(self.cautions(step).map(Passage::Careful));
        if step.alongside {
            out.push(Passage::Text("While the step before waits.".to_owned()));
        }
        out.push(Passage::Text(self.text(step)));
        if !step.uses.is_empty() {
            let uses = step.uses.iter();
            out.push(Passage::List(
                uses.map(|u| self.item(u.ingredient, u.part, false))
                    .collect(),
            ));
        }
        if let Some(heat) = step.oven_c {
            out.push(Passage::Text(format!("Oven: {}.", self.heat(heat))));
        }
        out.extend(step.timers.iter().map(|t| Passage::Text(timer_words(t))));
        out.extend(step.look.clone().map(Passage::Text));
        out
    }

    /// A step's text with today's amounts in figures.
    fn text(&self, step: &Step) -> String {
        fill(&step.text, |id| {
            let at = self.formula.ingredients.iter().position(|i| i.id == id)?;
            let part = match step.part_of(at) {
                0.0 => 1.0,
                part => part,
            };
            let quantity = self.batch.quantity(self.formula, at, part)?;
            Some(quantity.printed(|mass| self.mass(mass)))
        })
    }

    fn cautions(&self, step: &Step) -> Option<String> {
        let own = step.cautions.iter().cloned();
        let added = step.dangers.iter().map(|d| d.spoken(self.region));
        let all: Vec<String> = own.chain(added).collect();
        (!all.is_empty()).then(|| all.join(" "))
    }

    /// `220 °C (200 °C with a fan, gas 7)`; where Fahrenheit is at home, that first.
    fn heat(&self, c: f64) -> String {
        let heat = Temperature::celsius(c);
        let celsius = format!("{}\u{a0}°C", print::number(c, 0));
        if self.region == Region::Us {
            let f = (heat.as_fahrenheit() / 5.0).round() * 5.0;
            return format!("{}\u{a0}°F ({celsius})", print::number(f, 0));
        }
        let fan = format!("{}\u{a0}°C with a fan", print::number(heat.as_fan(), 0));
        let gas = heat.as_gas().map(|mark| format!(", {}", print::gas(mark)));
        format!("{celsius} ({fan}{})", gas.unwrap_or_default())
    }
}

/// `First rise: 1 h. After 40 min: Look at the dough. At the end: Has the dough doubled?`
fn timer_words(timer: &TimerSpec) -> String {
    let lasts = timer.most.map_or_else(
        || length(timer.lasts),
        |most| joined(&length(timer.lasts), &length(most)),
    );
    let mut text = format!("{}: {lasts}.", capital(&timer.name));
    if let Some(c) = timer.kept_c {
        text += &format!(" Keep it at {}\u{a0}°C.", print::number(c, 0));
    }
    for cue in &timer.cues {
        let when = match cue.left {
            Some(left) => format!("With {} left", length(left)),
            None => format!("After {}", length(cue.at)),
        };
        text += &format!(" {when}: {}.", cue.say.trim_end_matches('.'));
    }
    // The longer end of a range stands there already.
    let look = timer
        .look
        .as_deref()
        .map(|look| match look.find(" It may ") {
            Some(at) if timer.most.is_some() => &look[..at],
            _ => look,
        });
    if let Some(look) = look {
        text += &format!(" At the end: {look}");
    }
    text
}

/// `1 h 15 min`, `90 s`.
fn length(span: Span) -> String {
    let seconds = span.as_seconds();
    let (h, min, s) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    let parts: Vec<String> = [(h, "h"), (min, "min"), (s, "s")]
        .into_iter()
        .filter(|(n, _)| *n > 0)
        .map(|(n, unit)| format!("{n}\u{a0}{unit}"))
        .collect();
    parts.join("\u{a0}")
}

/// `Loaf tin, 23 × 13 × 7 cm`.
fn tin_words(tin: &Size) -> String {
    let width = match tin.shape {
        Shape::Round | Shape::Square => None,
        _ => Some(tin.width_cm),
    };
    let sides: Vec<String> = [Some(tin.length_cm), width, tin.depth_cm]
        .into_iter()
        .flatten()
        .map(|cm| print::number(cm, 1))
        .collect();
    format!(
        "{} tin, {} cm",
        capital(tin.shape.word()),
        sides.join(" × ")
    )
}
