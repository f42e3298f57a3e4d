//! A formula at today's size: scaled amounts, baker's percentages, and what does not scale in a straight line.

use super::edit::Edit;
use super::model::{Formula, Ingredient};
use super::quantity::Quantity;
use crate::measure::tin::{Shape, Size};
use crate::measure::words::{self, Style, capital, counted};
use crate::measure::{Amount, Kind, Mass, Region, Unit, print, round_to, say};
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
    /// What was asked for, so that one wish keeps another.
    asked: Asked,
}

/// The wishes that a size is made of.
#[derive(Debug, Clone, PartialEq)]
struct Asked {
    /// So much flour, so many pieces and the like.
    size: Option<ScaleBy>,
    /// Times that, or times the formula.
    times: f64,
    /// Another hydration, in percent.
    hydration: Option<f64>,
    /// Parts of the dish that are made so many times as they are written.
    parts: Vec<(String, f64)>,
    /// No more than there is: an ingredient's place, and how much of it there is.
    limit: Option<(usize, Mass)>,
}

impl Asked {
    /// How many times the part of an ingredient is made.
    fn times_of(&self, i: &Ingredient) -> f64 {
        let of = |(part, _): &&(String, f64)| i.part.as_ref() == Some(part);
        self.parts.iter().find(of).map_or(1.0, |(_, times)| *times)
    }
}

/// `twice`, `half`, `three times`.
fn part_times(times: f64) -> String {
    match times {
        2.0 => "twice".to_owned(),
        0.5 => "half".to_owned(),
        n => format!("{} times", number(n)),
    }
}

impl Default for Asked {
    fn default() -> Self {
        Self {
            size: None,
            times: 1.0,
            hydration: None,
            parts: Vec::new(),
            limit: None,
        }
    }
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
            asked: Asked::default(),
        }
    }

    /// The formula scaled as asked, from the formula as written.
    ///
    /// # Errors
    /// A sentence for the cook when the size is out of range or the formula lacks what it is measured by.
    pub fn scaled(formula: &Formula, by: &ScaleBy) -> Result<Self, ScaleError> {
        Self::as_written(formula).then(formula, by)
    }

    /// One wish more: a size keeps the hydration and the limit, and they keep the size; 'double it' doubles what was
    /// asked for. Only 'as written' lets go of all.
    ///
    /// # Errors
    /// As [`Batch::scaled`].
    pub fn then(&self, formula: &Formula, by: &ScaleBy) -> Result<Self, ScaleError> {
        let mut asked = self.asked.clone();
        match by {
            ScaleBy::AsWritten => asked = Asked::default(),
            ScaleBy::Factor(f) => asked.times = *f,
            ScaleBy::Hydration(percent) => asked.hydration = Some(*percent),
            ScaleBy::Limit { ingredient, have } => {
                let at = formula.find(ingredient).ok_or_else(|| {
                    ScaleError(format!("there is no {ingredient} in this formula"))
                })?;
                asked.limit = Some((at, *have));
            }
            ScaleBy::Part { part, times } => {
                let of = |i: &Ingredient| i.part.as_deref() == Some(&**part);
                if !formula.ingredients.iter().any(of) {
                    return Err(ScaleError(format!("this dish has no {part} of its own")));
                }
                if !times.is_finite() || !FACTOR.contains(times) {
                    return Err(ScaleError(format!("that much {part} is out of reach")));
                }
                asked.parts.retain(|(name, _)| *name != **part);
                asked.parts.push((part.to_string(), *times));
                asked.parts.retain(|(_, times)| *times != 1.0);
            }
            size => {
                asked.size = Some(size.clone());
                asked.times = 1.0;
            }
        }
        Self::of(formula, asked)
    }

    /// The same wishes for the formula as it was edited.
    ///
    /// # Errors
    /// Where they cannot be had of it.
    pub fn carried(&self, is: &Formula, edit: &Edit) -> Result<Self, ScaleError> {
        let mut asked = self.asked.clone();
        if asked == Asked::default() {
            return Ok(Self::as_written(is));
        }
        if let Some((at, _)) = &mut asked.limit {
            *at = edit.ingredient(*at).ok_or_else(|| {
                ScaleError("the ingredient that there is only so much of is gone".to_owned())
            })?;
        }
        Self::of(is, asked)
    }

    fn of(formula: &Formula, asked: Asked) -> Result<Self, ScaleError> {
        let mut written = Self::as_written(formula);
        for (at, i) in formula.ingredients.iter().enumerate() {
            written.grams[at] *= asked.times_of(i);
        }
        if let Some(percent) = asked.hydration {
            written = written.with_hydration(formula, percent)?;
        }
        let (size, mut words) = match &asked.size {
            None => (1.0, Vec::new()),
            Some(size) => {
                let (factor, words) = written.factor_for(formula, size)?;
                (factor, vec![words])
            }
        };
        let alone = asked.hydration.is_none() && asked.parts.is_empty();
        if asked.times != 1.0 || (words.is_empty() && alone) {
            let plain = words.is_empty();
            words.push(say_times(asked.times, plain));
        }
        let mut factor = size * asked.times;
        if let Some((at, have)) = asked.limit {
            let needs = written.grams[at];
            let name = &formula.ingredients[at].name;
            if needs <= 0.0 {
                return Err(ScaleError(format!("the formula weighs no {name}")));
            }
            // Never more than was wanted: what there is only takes away.
            // Of a range the most is reckoned with.
            let high = formula.ingredients[at].spread.map_or(1.0, |(_, high)| high);
            let most = have.as_grams() / (needs * high);
            if most < factor {
                factor = most;
                words = vec![format!("with {} of {name}", say::exact_mass(have))];
            } else {
                words.push(format!("{} of {name} are enough", say::exact_mass(have)));
            }
        }
        if !factor.is_finite() || !FACTOR.contains(&factor) {
            return Err(ScaleError(
                "that size is out of reach: I can make from a hundredth to a thousand times the formula".into(),
            ));
        }
        for (part, times) in &asked.parts {
            words.push(format!("{} the {part}", part_times(*times)));
        }
        let mut batch = written.times(factor);
        batch.asked = asked.clone();
        let mut notes = notes(formula, &batch, asked.size.as_ref());
        if matches!(asked.size, Some(ScaleBy::Dough(_) | ScaleBy::Pieces { .. })) {
            notes.extend(left_out(formula));
        }
        if let Some(percent) = asked.hydration {
            words.retain(|w| w != "the formula as written");
            words.push(format!("at {} percent hydration", number(percent)));
            notes.insert(0, batch.moved(formula));
        } else if asked == Asked::default() {
            words.clear();
        }
        batch.by = words.join(", ");
        batch.notes = notes;
        batch.asked = asked;
        Ok(batch)
    }

    /// By what the written size grows, and how that is said.
    fn factor_for(&self, formula: &Formula, by: &ScaleBy) -> Result<(f64, String), ScaleError> {
        let fail = |what: &str| Err(ScaleError(what.to_owned()));
        let by_sum = matches!(by, ScaleBy::Dough(_) | ScaleBy::Pieces { .. });
        if by_sum && self.dough(formula).as_grams() <= 0.0 {
            return fail("nothing in this formula has a mass to scale by");
        }
        Ok(match by {
            ScaleBy::Portions(n) => (n / formula.makes.portions, format!("for {}", number(*n))),
            ScaleBy::Flour(mass) => {
                let flour = self.flour(formula).as_grams();
                if flour <= 0.0 {
                    return fail("this formula names no flour to scale by");
                }
                (
                    mass.as_grams() / flour,
                    format!("on {} of flour", say::exact_mass(*mass)),
                )
            }
            ScaleBy::Dough(mass) => (
                mass.as_grams() / self.dough(formula).as_grams(),
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
                (dough / self.dough(formula).as_grams(), words)
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
            ScaleBy::AsWritten
            | ScaleBy::Factor(_)
            | ScaleBy::Hydration(_)
            | ScaleBy::Part { .. }
            | ScaleBy::Limit { .. } => (1.0, String::new()),
        })
    }

    /// This batch made larger or smaller by a factor.
    pub fn times(&self, factor: f64) -> Self {
        let grams = self.grams.iter().map(|g| g * factor).collect();
        Self {
            factor: self.factor * factor,
            grams,
            by: self.by.clone(),
            notes: self.notes.clone(),
            asked: self.asked.clone(),
        }
    }

    /// As it was wished for, and larger or smaller by a factor.
    ///
    /// # Errors
    /// As [`Batch::scaled`].
    pub fn larger(&self, formula: &Formula, by: f64) -> Result<Self, ScaleError> {
        let mut asked = self.asked.clone();
        asked.times *= by;
        Self::of(formula, asked)
    }

    /// This batch with other masses of some ingredients: what really went in.
    pub fn with_masses(&self, masses: impl IntoIterator<Item = (usize, Mass)>) -> Self {
        let mut batch = self.clone();
        for (at, mass) in masses {
            if let Some(grams) = batch.grams.get_mut(at) {
                *grams = mass.as_grams();
            }
        }
        batch
    }

    fn with_hydration(mut self, formula: &Formula, percent: f64) -> Result<Self, ScaleError> {
        if !HYDRATION.contains(&percent) {
            return Err(ScaleError(
                "I can set a hydration from thirty to a hundred and twenty percent".into(),
            ));
        }
        let flour = self.flour(formula).as_grams();
        let waters = moving_waters(formula);
        let water = |of: &Self, at: &[usize]| -> f64 { at.iter().map(|i| of.grams[*i]).sum() };
        let now = water(&self, &waters);
        // The water of a preferment stays as its flour wants it.
        let ahead = self.water(formula).as_grams() - now;
        let wanted = flour * percent / 100.0 - ahead;
        if flour <= 0.0 || now <= 0.0 {
            return Err(ScaleError(
                "this formula has no flour and water to set a hydration by".into(),
            ));
        }
        if wanted <= 0.0 {
            return Err(ScaleError(
                "the preferment alone has more water than that".into(),
            ));
        }
        for i in &waters {
            self.grams[*i] *= wanted / now;
        }
        Ok(self)
    }

    /// `Only the water moves: three hundred and sixty grams.`
    fn moved(&self, formula: &Formula) -> String {
        let waters = moving_waters(formula);
        let names: Vec<&str> = waters
            .iter()
            .map(|i| formula.ingredients[*i].name.as_str())
            .collect();
        let water = say::exact_mass(Mass::grams(waters.iter().map(|i| self.grams[*i]).sum()));
        format!("Only the {} moves: {water}.", names.join(" and "))
    }

    /// Today's size over the written one.
    pub fn factor(&self) -> f64 {
        self.factor
    }

    /// How many times a part of the dish is made, beside the size of the whole.
    pub fn part_times(&self, part: &str) -> f64 {
        let of = self.asked.parts.iter().find(|(name, _)| name == part);
        of.map_or(1.0, |(_, times)| *times)
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

    /// The mass of what is to be kept.
    pub(super) fn sum(&self, formula: &Formula, keep: impl Fn(&Ingredient) -> bool) -> Mass {
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
        Some((n * self.ratio(written, ingredient), each.as_str()))
    }

    /// Today's amount of an ingredient over the written one.
    fn ratio(&self, written: &Ingredient, at: usize) -> f64 {
        let mass = written.mass.as_grams();
        if mass > 0.0 {
            self.mass(at).as_grams() / mass
        } else {
            self.factor * self.asked.times_of(written)
        }
    }

    /// How much of an ingredient, or of part of it, today: what can be said of it and no more. Nothing for a place that
    /// is not there.
    pub fn quantity<'f>(
        &self,
        formula: &'f Formula,
        ingredient: usize,
        part: f64,
    ) -> Option<Quantity<'f>> {
        let written = formula.ingredients.get(ingredient)?;
        let (low, high) = written.spread.unwrap_or((1.0, 1.0));
        let mass = self.mass(ingredient).times(part);
        Some(Quantity {
            count: self
                .count(formula, ingredient)
                .map(|(n, one)| (n * part * low, n * part * high, one)),
            mass: (mass.as_grams() > 0.0).then(|| (mass.times(low), mass.times(high))),
            words: written.words.as_deref(),
        })
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
        let ratio = self.ratio(i, ingredient);
        let read = Amount::parse(written, region).ok()?;
        // One list, one kind of spoons and cups: those of this kitchen.
        let here = |unit: Unit| unit.region().is_none_or(|whose| whose == region);
        if (ratio - 1.0).abs() < 1e-9 && read.parts.iter().all(|part| here(part.unit)) {
            return Some(written.to_owned());
        }
        if !ratio.is_finite() {
            return Some(written.to_owned());
        }
        match read.parts.as_slice() {
            [part] => household(part.middle() * ratio, part.unit, region),
            _ => None,
        }
    }
}

/// So many of a household measure, to steps that the kitchen has: spoons and cups go over into one another.
fn household(x: f64, unit: Unit, here: Region) -> Option<String> {
    match unit {
        Unit::Teaspoon(_) | Unit::Tablespoon(_) | Unit::Cup(_) => {
            print::in_spoons_or_cups(x * unit.size(), here)
        }
        _ => {
            let near = round_to(x, 0.25).max(0.25);
            ((near - x).abs() <= x * say::SPOON_SHARE).then(|| print::of_unit(near, unit))
        }
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

/// `one and a half times the formula`, `twice the formula`; of another size only `twice`.
fn say_times(f: f64, plain: bool) -> String {
    let times = if f == 2.0 {
        "twice".to_owned()
    } else if f == 0.5 {
        "half".to_owned()
    } else if f == 1.0 {
        return "the formula as written".into();
    } else {
        format!("{} times", number(f))
    };
    if plain {
        format!("{times} the formula")
    } else {
        format!("and {times} that")
    }
}

/// The waters that a change of hydration moves. One that goes in with a flour of its own before the dough's last water is
/// a preferment's, and stays.
fn moving_waters(formula: &Formula) -> Vec<usize> {
    let all: Vec<usize> = (0..formula.ingredients.len())
        .filter(|i| formula.ingredients[*i].is_water)
        .collect();
    let first_step = |i: usize| formula.steps.iter().position(|s| s.part_of(i) > 0.0);
    let last = all.iter().filter_map(|i| first_step(*i)).max();
    let ahead = |water: usize| {
        let step = first_step(water);
        step < last
            && step.is_some_and(|at| {
                formula.ingredients.iter().enumerate().any(|(flour, i)| {
                    i.is_flour && (formula.steps[at].part_of(flour) - 1.0).abs() < 1e-9
                })
            })
    };
    all.iter().copied().filter(|i| !ahead(*i)).collect()
}

/// The one ingredient that a typed name means; where two flours are called so, it asks which.
///
/// # Errors
/// A sentence that names them, or that there is none.
pub fn one_named(formula: &Formula, name: &str) -> Result<usize, ScaleError> {
    let said = name.trim().to_lowercase();
    let exact = |i: &Ingredient| i.id == said || i.name.to_lowercase() == said;
    let named = |i: &Ingredient| {
        let words = |text: &str| text.to_lowercase().split_whitespace().any(|w| w == said);
        words(&i.name) || i.also.iter().any(|a| a.to_lowercase() == said)
    };
    let all: Vec<usize> = (0..formula.ingredients.len())
        .filter(|at| named(&formula.ingredients[*at]) || exact(&formula.ingredients[*at]))
        .collect();
    // 'Flour' is one of them by its id, and still the others are flour as well.
    let one_word = !said.contains(' ');
    match all.as_slice() {
        [_, _, ..] if one_word => {
            let names: Vec<&str> = all
                .iter()
                .map(|at| formula.ingredients[*at].name.as_str())
                .collect();
            Err(ScaleError(format!(
                "there is more than one {said} in this formula: say {}",
                names.join(" or ")
            )))
        }
        _ => formula
            .find(name)
            .or(all.first().copied())
            .ok_or_else(|| ScaleError(format!("there is no {name} in this formula"))),
    }
}

/// What a sum of masses leaves out: `The sum leaves out what has no mass: onion.`
pub(super) fn left_out(formula: &Formula) -> Option<String> {
    let names: Vec<&str> = formula.without_mass().map(|i| i.name.as_str()).collect();
    (!names.is_empty())
        .then(|| format!("The sum leaves out what has no mass: {}.", names.join(", ")))
}

/// What does not scale in a straight line.
fn notes(formula: &Formula, batch: &Batch, by: Option<&ScaleBy>) -> Vec<String> {
    let mut notes = Vec::new();
    let f = batch.factor;
    for (at, i) in formula.ingredients.iter().enumerate() {
        let Some((n, each)) = batch.count(formula, at) else {
            continue;
        };
        let off = (n - n.round()).abs();
        let weighed = batch.mass(at).as_grams() > 0.0;
        let measure = Unit::find(each, Region::Metric).is_ok_and(|u| u.kind() != Kind::Count);
        if i.spread.is_some() || measure {
            continue;
        }
        if off > 0.02 && !weighed {
            notes.push(format!(
                "{} is not a whole number: about {}.",
                capital(&i.name),
                number(round_to(n, 0.25).max(0.25))
            ));
        } else if off > 0.02 && each == "egg" {
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
        Some(ScaleBy::Tin { size_cm, .. }) if size_cm.len() < 3 => {
            notes.push("I took the depth to be the same. In another depth the oven time changes: look early.".into());
        }
        Some(ScaleBy::Tin { .. }) => {
            notes.push("In another depth the oven time changes: look early.".into());
        }
        _ if formula.tin.is_some() && f < 0.85 => {
            notes.push(
                "The tin is for the written size: take a smaller one, and look early.".into(),
            );
        }
        _ if formula.tin.is_some() && f > 1.15 => {
            notes.push(
                "The tin is for the written size: take more or another, and look early.".into(),
            );
        }
        _ => {}
    }
    if f >= 2.0 && batch.dough(formula).as_grams() > 1500.0 {
        let litres = (batch.dough(formula).as_grams() * 3.0 / 1000.0).ceil();
        notes.push(format!("Take a bowl of {} litres or more.", number(litres)));
    }
    notes
}
