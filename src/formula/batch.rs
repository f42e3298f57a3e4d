//! A formula at today's size: scaled amounts, baker's percentages, and what does not scale in a straight line.

use super::model::{Formula, Ingredient};
use crate::measure::tin::{Shape, Size};
use crate::measure::words::{self, Style, capital, counted};
use crate::measure::{Amount, Mass, Region, Unit, print, round_to, say};
use crate::order::ScaleBy;

/// Hydrations that a change may ask for, in percent of flour.
const HYDRATION: std::ops::RangeInclusive<f64> = 30.0..=120.0;
/// Factors that a batch may have.
const FACTOR: std::ops::RangeInclusive<f64> = 0.01..=1000.0;

/// A formula with today's mass of each ingredient.
#[derive(Debug, Clone, PartialEq)]
pub struct Batch {
    factor: f64,
    /// Masses in grams, in the formula's order.
    grams: Vec<f64>,
    /// How the size was asked for, as said: `one and a half times`.
    by: String,
    /// What the cook should know of this size.
    notes: Vec<String>,
}

/// Why a formula cannot be made in the size asked for.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{0}")]
pub struct ScaleError(pub String);

impl Batch {
    /// The formula as written.
    pub fn as_written(formula: &Formula) -> Self {
        let grams = formula
            .ingredients
            .iter()
            .map(|i| i.mass.as_grams())
            .collect();
        Self {
            factor: 1.0,
            grams,
            by: String::new(),
            notes: Vec::new(),
        }
    }

    /// The formula scaled as asked, always from the formula as written.
    ///
    /// # Errors
    /// A sentence for the cook when the size is out of range or the formula lacks what it is measured by.
    pub fn scaled(formula: &Formula, by: &ScaleBy) -> Result<Self, ScaleError> {
        let written = Self::as_written(formula);
        let fail = |what: &str| Err(ScaleError(what.to_owned()));
        let (factor, words) = match by {
            ScaleBy::AsWritten => return Ok(written),
            ScaleBy::Factor(f) => (*f, say_times(*f)),
            ScaleBy::Portions(n) => (n / formula.makes.portions, format!("for {}", number(*n))),
            ScaleBy::Flour(mass) => {
                let flour = written.flour(formula).as_grams();
                if flour <= 0.0 {
                    return fail("this formula names no flour to scale by");
                }
                (
                    mass.as_grams() / flour,
                    format!("on {} of flour", say::exact_mass(*mass)),
                )
            }
            ScaleBy::Dough(mass) => (
                mass.as_grams() / written.dough(formula).as_grams(),
                format!("{} in all", say::exact_mass(*mass)),
            ),
            ScaleBy::Pieces { count, each, baked } => {
                let loss = if *baked {
                    formula.makes.loss_percent
                } else {
                    0.0
                };
                let words = format!(
                    "{} pieces of {}{}",
                    number(*count),
                    say::exact_mass(*each),
                    if *baked { " baked" } else { "" }
                );
                let dough = count * each.as_grams() / (1.0 - loss / 100.0);
                (dough / written.dough(formula).as_grams(), words)
            }
            ScaleBy::Limit { ingredient, have } => {
                let Some(at) = formula.find(ingredient) else {
                    return Err(ScaleError(format!(
                        "there is no {ingredient} in this formula"
                    )));
                };
                let needs = written.grams[at];
                if needs <= 0.0 {
                    return Err(ScaleError(format!("the formula weighs no {ingredient}")));
                }
                let name = &formula.ingredients[at].name;
                (
                    have.as_grams() / needs,
                    format!("with {} of {name}", say::exact_mass(*have)),
                )
            }
            ScaleBy::Tin { shape, size_cm } => {
                let Some(own) = &formula.tin else {
                    return fail("this formula names no tin to scale from");
                };
                let to = Size::new(*shape, size_cm).ok();
                let Some(to) = to else {
                    return fail("I need a tin's shape and its sizes in centimetres");
                };
                (own.ratio_to(to).factor, format!("for {}", tin_words(&to)))
            }
            ScaleBy::Hydration(percent) => return written.with_hydration(formula, *percent),
        };
        if !factor.is_finite() || !FACTOR.contains(&factor) {
            return fail(
                "that size is out of reach: I can make from a hundredth to a thousand times the formula",
            );
        }
        let mut batch = written.times(factor);
        batch.by = words;
        batch.notes = notes(formula, &batch, by);
        Ok(batch)
    }

    /// This batch made larger or smaller by a factor.
    pub fn times(&self, factor: f64) -> Self {
        let grams = self.grams.iter().map(|g| g * factor).collect();
        Self {
            factor: self.factor * factor,
            grams,
            by: self.by.clone(),
            notes: self.notes.clone(),
        }
    }

    fn with_hydration(mut self, formula: &Formula, percent: f64) -> Result<Self, ScaleError> {
        if !HYDRATION.contains(&percent) {
            return Err(ScaleError(
                "I can set a hydration from thirty to a hundred and twenty percent".into(),
            ));
        }
        let flour = self.flour(formula).as_grams();
        let waters: Vec<usize> = (0..self.grams.len())
            .filter(|i| formula.ingredients[*i].is_water)
            .collect();
        let now: f64 = waters.iter().map(|i| self.grams[*i]).sum();
        if flour <= 0.0 || now <= 0.0 {
            return Err(ScaleError(
                "this formula has no flour and water to set a hydration by".into(),
            ));
        }
        let ratio = flour * percent / 100.0 / now;
        for i in &waters {
            self.grams[*i] *= ratio;
        }
        let names: Vec<&str> = waters
            .iter()
            .map(|i| formula.ingredients[*i].name.as_str())
            .collect();
        let water = say::exact_mass(Mass::grams(waters.iter().map(|i| self.grams[*i]).sum()));
        self.by = format!("at {} percent hydration", number(percent));
        self.notes = vec![format!("Only the {} moves: {water}.", names.join(" and "))];
        Ok(self)
    }

    /// Today's size over the written one.
    pub fn factor(&self) -> f64 {
        self.factor
    }

    /// How the size was asked for; empty as written.
    pub fn by(&self) -> &str {
        &self.by
    }

    /// What the cook should know of this size.
    pub fn notes(&self) -> &[String] {
        &self.notes
    }

    /// Today's mass of the ingredient at this place in the formula; nothing for a place that is not there.
    pub fn mass(&self, ingredient: usize) -> Mass {
        Mass::grams(self.grams.get(ingredient).copied().unwrap_or(0.0))
    }

    /// Today's flour.
    pub fn flour(&self, formula: &Formula) -> Mass {
        self.sum(formula, |i| i.is_flour)
    }

    /// Today's water, as far as it is called water.
    pub fn water(&self, formula: &Formula) -> Mass {
        self.sum(formula, |i| i.is_water)
    }

    /// Everything that goes into the dough or the pot.
    pub fn dough(&self, formula: &Formula) -> Mass {
        self.sum(formula, |i| !i.apart)
    }

    /// The mass after baking or cooking.
    pub fn cooked(&self, formula: &Formula) -> Mass {
        Mass::grams(self.dough(formula).as_grams() * (1.0 - formula.makes.loss_percent / 100.0))
    }

    fn sum(&self, formula: &Formula, keep: impl Fn(&Ingredient) -> bool) -> Mass {
        let sum = formula
            .ingredients
            .iter()
            .zip(&self.grams)
            .filter(|(i, _)| keep(i))
            .map(|(_, g)| g)
            .sum();
        Mass::grams(sum)
    }

    /// Baker's percentage of an ingredient: its mass over all flour. None without flour.
    pub fn percent(&self, formula: &Formula, ingredient: usize) -> Option<f64> {
        let flour = self.flour(formula).as_grams();
        (flour > 0.0).then(|| self.grams.get(ingredient).copied().unwrap_or(0.0) / flour * 100.0)
    }

    /// Water over flour, in percent. None without flour or water.
    pub fn hydration(&self, formula: &Formula) -> Option<f64> {
        let (flour, water) = (
            self.flour(formula).as_grams(),
            self.water(formula).as_grams(),
        );
        (flour > 0.0 && water > 0.0).then(|| water / flour * 100.0)
    }

    /// Today's portions.
    pub fn portions(&self, formula: &Formula) -> f64 {
        formula.makes.portions * self.factor
    }

    /// How many of a counted ingredient today: (number, what one is called).
    pub fn count<'f>(&self, formula: &'f Formula, ingredient: usize) -> Option<(f64, &'f str)> {
        let written = formula.ingredients.get(ingredient)?;
        let (n, each) = written.count.as_ref()?;
        let one = written.mass.as_grams() / n;
        (one > 0.0).then(|| (self.mass(ingredient).as_grams() / one, each.as_str()))
    }

    /// The household measure at today's size, printed; the author's words as written.
    pub fn household(
        &self,
        formula: &Formula,
        ingredient: usize,
        region: Region,
    ) -> Option<String> {
        let i = formula.ingredients.get(ingredient)?;
        let written = i.household.as_deref()?;
        let ratio = self.mass(ingredient).as_grams() / i.mass.as_grams();
        if (ratio - 1.0).abs() < 1e-9 || !ratio.is_finite() {
            return Some(written.to_owned());
        }
        match Amount::parse(written, region).ok()?.parts.as_slice() {
            [part] => Some(household(part.middle() * ratio, part.unit, region)),
            _ => None,
        }
    }
}

/// So many of a household measure, to steps that the kitchen has: spoons and cups go over into one another.
fn household(x: f64, unit: Unit, here: Region) -> String {
    match (unit, unit.region()) {
        (Unit::Teaspoon(_) | Unit::Tablespoon(_) | Unit::Cup(_), Some(whose)) => {
            print::in_spoons_or_cups(x * unit.size(), whose, here)
        }
        _ => print::of_unit(round_to(x, 0.25).max(0.25), unit),
    }
}

fn number(x: f64) -> String {
    words::number(x, Style::Kitchen)
}

/// `a round tin of twenty centimetres`.
fn tin_words(tin: &Size) -> String {
    let side = |cm: f64| words::number(cm, Style::Scale);
    match tin.shape {
        Shape::Round => format!("a round tin of {} centimetres", side(tin.length_cm)),
        shape => {
            let kind = if shape == Shape::Loaf {
                "loaf tin"
            } else {
                "tin"
            };
            format!(
                "a {kind} of {} by {} centimetres",
                side(tin.length_cm),
                side(tin.width_cm)
            )
        }
    }
}

/// `one and a half times`, `twice`, `half`.
fn say_times(f: f64) -> String {
    if f == 2.0 {
        "twice the formula".into()
    } else if f == 0.5 {
        "half the formula".into()
    } else if f == 1.0 {
        "the formula as written".into()
    } else {
        format!("{} times the formula", number(f))
    }
}

/// What does not scale in a straight line.
fn notes(formula: &Formula, batch: &Batch, by: &ScaleBy) -> Vec<String> {
    let mut notes = Vec::new();
    let f = batch.factor;
    for (at, i) in formula.ingredients.iter().enumerate() {
        let Some((n, each)) = batch.count(formula, at) else {
            continue;
        };
        let off = (n - n.round()).abs();
        if off > 0.02 && each == "egg" {
            let whole = n.ceil().max(1.0);
            let weigh = say::exact_mass(batch.mass(at));
            notes.push(format!(
                "{}: beat {}, and weigh {weigh}.",
                capital(&counted(n, "egg", "eggs", Style::Kitchen)),
                number(whole),
            ));
        } else if off > 0.02 {
            notes.push(format!(
                "{} is not a whole number: weigh {}.",
                capital(&i.name),
                say::exact_mass(batch.mass(at))
            ));
        }
    }
    if f >= 4.0 || f <= 0.25 {
        for at in 0..formula.ingredients.len() {
            let name = formula.ingredients[at].table.to_lowercase();
            if name.contains("yeast")
                || name.contains("salt") && formula.ingredients[at].mass.as_grams() < 100.0
            {
                notes.push(format!(
                    "At this size the {} is only a guide: {}.",
                    formula.ingredients[at].name,
                    if name.contains("yeast") {
                        "a big dough holds its warmth and rises faster, a small one slower"
                    } else {
                        "taste, where it can be tasted safely"
                    },
                ));
            }
        }
    }
    match by {
        ScaleBy::Tin { size_cm, .. } if size_cm.len() < 3 => {
            notes.push("I took the depth to be the same. In another depth the oven time changes: look early.".into());
        }
        ScaleBy::Tin { .. } => {
            notes.push("In another depth the oven time changes: look early.".into());
        }
        _ if formula.tin.is_some() && !(0.85..=1.15).contains(&f) => {
            notes.push("The tin in the formula is for the written size: use more tins, or another one, and look early.".into());
        }
        _ => {}
    }
    if f >= 2.0 && batch.dough(formula).as_grams() > 1500.0 {
        let litres = (batch.dough(formula).as_grams() * 3.0 / 1000.0).ceil();
        notes.push(format!("Take a bowl of {} litres or more.", number(litres)));
    }
    notes
}
