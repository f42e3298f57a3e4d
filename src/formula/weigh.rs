//! The weigh-up list at today's size: what to read beside the scale.

use serde::Serialize;

use super::batch::{Batch, left_out};
use super::model::{Formula, Ingredient};
use crate::measure::{Mass, Region, print, say};
use crate::safety::{Contents, Finding, Law};

/// A whole weigh-up list.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WeighUp {
    /// The formula's name.
    pub formula: String,
    /// Today's size over the written one.
    pub factor: f64,
    /// Its lines in weighing order.
    pub lines: Vec<WeighLine>,
    /// Its parts, where it has some.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<WeighPart>,
    /// Everything that goes into the dough or the pot, in grams.
    pub total_g: f64,
    /// Mass after baking or cooking, in grams.
    pub cooked_g: f64,
    /// Water over flour in percent, for doughs.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hydration: Option<f64>,
    /// Today's portions.
    pub portions: f64,
    /// What the cook should know of this size.
    pub notes: Vec<String>,
    /// Allergens by the words of the law of the region.
    pub allergens: Vec<String>,
    /// Allergens that may be in it, as the packets say.
    pub may_hold: Vec<String>,
    /// What the program does not know: there may be anything in it.
    pub unknown: Vec<String>,
}

/// One line of it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WeighLine {
    /// The ingredient's id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// Exact grams, the middle of a range; left out where no mass is known.
    #[serde(skip_serializing_if = "is_nothing")]
    pub grams: f64,
    /// Grams as this scale can show them; left out where no mass is known.
    #[serde(skip_serializing_if = "is_nothing")]
    pub weigh_g: f64,
    /// What to take, where that is no single mass: `10 to 15 g`, `2 to 3 cloves`, `to taste`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub amount: Option<String>,
    /// What stands beside it: `finely chopped`, `plus more for dusting`, `or margarine`, `if you like`.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub beside: Vec<String>,
    /// The part of the dish that it belongs to.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub part: Option<String>,
    /// The household measure, as a courtesy.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub household: Option<String>,
    /// Baker's percentage, for doughs.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub percent: Option<f64>,
    /// What a scale shows that is not set back to nothing between ingredients.
    pub running_g: f64,
    /// Not part of the dough: for dusting, greasing, serving.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub apart: bool,
}

/// One part of a dish: its mass, and its hydration where it is a dough.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WeighPart {
    /// Its name.
    pub name: String,
    /// How many times it is made, beside the size of the whole; left out where that is once.
    #[serde(skip_serializing_if = "is_once")]
    pub times: f64,
    /// Everything of it that has a mass, in grams.
    pub total_g: f64,
    /// Water over flour in percent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hydration: Option<f64>,
}

/// The parts of the dish at today's size: the mass of each, and its hydration.
fn parts(batch: &Batch, formula: &Formula) -> Vec<WeighPart> {
    let mut names: Vec<&String> = Vec::new();
    for name in formula.ingredients.iter().filter_map(|i| i.part.as_ref()) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let one = |name: &String| {
        let of = |keep: fn(&Ingredient) -> bool| {
            batch
                .sum(formula, |i| keep(i) && i.part.as_ref() == Some(name))
                .as_grams()
        };
        let (flour, water) = (of(|i| i.is_flour), of(|i| i.is_water));
        WeighPart {
            name: name.clone(),
            times: batch.part_times(name),
            total_g: of(|i| !i.apart),
            hydration: (flour > 0.0 && water > 0.0).then(|| water / flour * 100.0),
        }
    };
    names.into_iter().map(one).collect()
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde gives a reference")]
fn is_once(times: &f64) -> bool {
    *times == 1.0
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde gives a reference")]
fn is_nothing(grams: &f64) -> bool {
    *grams <= 0.0
}

/// What the author says beside an amount.
fn beside(i: &Ingredient) -> Vec<String> {
    let or = i.or.iter().map(|other| format!("or {other}"));
    let like = i.optional.then(|| "if you like".to_owned());
    let extra = i.extra.iter().map(|extra| format!("plus more {extra}"));
    or.chain(like).chain(i.note.clone()).chain(extra).collect()
}

/// What the scale cannot show as it is, said and not passed over: `Between the steps of the scale: instant yeast 10.5 g.`
fn between_steps(lines: &[WeighLine]) -> Option<String> {
    let off: Vec<String> = lines
        .iter()
        .filter(|l| {
            l.amount.is_none() && (l.weigh_g - l.grams).abs() > l.grams * say::SILENT_SHARE + 1e-9
        })
        .map(|l| format!("{} {} g", l.name, print::number(l.grams, 2)))
        .collect();
    (!off.is_empty()).then(|| format!("Between the steps of the scale: {}.", off.join(", ")))
}

impl WeighUp {
    /// The list of a batch on a scale with this step, in grams.
    pub fn new(formula: &Formula, batch: &Batch, scale_step_g: f64, region: Region) -> Self {
        let mut running_g = 0.0;
        let mut part = &None;
        let lines: Vec<WeighLine> = formula
            .ingredients
            .iter()
            .enumerate()
            .map(|(at, i)| {
                // A part has a bowl of its own.
                if i.part != *part {
                    part = &i.part;
                    running_g = 0.0;
                }
                let quantity = batch.quantity(formula, at, 1.0);
                let grams = |mass| print::grams(mass, scale_step_g);
                let mass = batch.mass(at);
                let weigh_g = mass.to_step(scale_step_g).as_grams();
                if !i.apart {
                    running_g = Mass::grams(running_g + weigh_g)
                        .to_step(scale_step_g)
                        .as_grams();
                }
                let count = quantity
                    .filter(super::quantity::Quantity::is_weighed)
                    .and_then(|q| q.printed_count());
                WeighLine {
                    id: i.id.clone(),
                    name: i.name.clone(),
                    grams: mass.as_grams(),
                    weigh_g,
                    amount: quantity
                        .filter(|q| q.exact().is_none())
                        .map(|q| q.printed(grams)),
                    beside: beside(i),
                    part: i.part.clone(),
                    household: count.or_else(|| batch.household(formula, at, region)),
                    percent: if i.apart || mass.as_grams() <= 0.0 {
                        None
                    } else {
                        batch.percent(formula, at)
                    },
                    running_g: if i.apart { weigh_g } else { running_g },
                    apart: i.apart,
                }
            })
            .collect();
        let mut notes = batch.notes().to_vec();
        notes.extend(between_steps(&lines));
        if let Some(note) = left_out(formula)
            && !notes.contains(&note)
        {
            notes.push(note);
        }
        Self {
            formula: formula.name.clone(),
            factor: batch.factor(),
            parts: parts(batch, formula),
            lines,
            total_g: batch.dough(formula).as_grams(),
            cooked_g: batch.cooked(formula).as_grams(),
            hydration: batch.hydration(formula),
            portions: batch.portions(formula),
            notes,
            allergens: Vec::new(),
            may_hold: Vec::new(),
            unknown: Vec::new(),
        }
        .told_by(&formula.contents(), Law::of(region))
    }

    /// With its allergens by the words of a law.
    #[must_use]
    pub fn told_by(self, contents: &Contents, law: Law) -> Self {
        let ids = |found: Vec<Finding>| found.into_iter().map(|f| f.allergen.id).collect();
        Self {
            allergens: ids(contents.holds(law)),
            may_hold: ids(contents.may_hold(law)),
            unknown: contents.unknown().into_iter().map(str::to_owned).collect(),
            ..self
        }
    }

    /// As an aligned table.
    pub fn table(&self, scale_step_g: f64) -> String {
        let g = |x: f64| print::grams(Mass::grams(x), scale_step_g);
        let dough = self.lines.iter().any(|l| l.percent.is_some());
        let mut rows: Vec<[String; 5]> = vec![[
            "ingredient".into(),
            "weigh".into(),
            "about".into(),
            if dough {
                "percent".into()
            } else {
                String::new()
            },
            "scale shows".into(),
        ]];
        for l in &self.lines {
            rows.push([
                l.name.clone(),
                l.amount.clone().unwrap_or_else(|| g(l.weigh_g)),
                l.household.clone().unwrap_or_default(),
                l.percent.map(|p| print::number(p, 1)).unwrap_or_default(),
                if l.weigh_g <= 0.0 {
                    String::new()
                } else if l.apart {
                    "apart".into()
                } else {
                    g(l.running_g)
                },
            ]);
        }
        let width: Vec<usize> = (0..5)
            .map(|c| rows.iter().map(|r| r[c].chars().count()).max().unwrap_or(0))
            .collect();
        let mut out = format!(
            "{}, {} portions\n\n",
            self.formula,
            print::number(self.portions, 1)
        );
        let mut part = &None;
        for (at, r) in rows.iter().enumerate() {
            let of = at.checked_sub(1).map(|at| &self.lines[at]);
            if let Some(l) = of.filter(|l| l.part != *part) {
                part = &l.part;
                out += &format!("{}:\n", part.as_deref().unwrap_or("the rest"));
            }
            let mut line = format!("{:<1$}", r[0], width[0]);
            line += &format!("  {:>1$}", r[1], width[1]);
            line += &format!("  {:<1$}", r[2], width[2]);
            if dough {
                line += &format!("  {:>1$}", r[3], width[3]);
            }
            line += &format!("  {:>1$}", r[4], width[4]);
            if let Some(l) = of.filter(|l| !l.beside.is_empty()) {
                line = format!("{}  ({})", line.trim_end(), l.beside.join("; "));
            }
            out += line.trim_end();
            out.push('\n');
        }
        for part in &self.parts {
            let hydration = part.hydration.map_or_else(String::new, |h| {
                format!(", hydration {} %", print::number(h, 1))
            });
            let times = match print::number(part.times, 2).as_str() {
                "1" => String::new(),
                n => format!(", {n} times as written beside the rest"),
            };
            out += &format!("\n{}: {}{hydration}{times}", part.name, g(part.total_g));
        }
        out += &format!("\nin all {}", g(self.total_g));
        if (self.cooked_g - self.total_g).abs() > 0.5 {
            out += &format!(", about {} cooked", g(self.cooked_g));
        }
        if let Some(h) = self.hydration {
            out += &format!(", hydration {} %", print::number(h, 1));
        }
        out.push('\n');
        for (what, names) in [
            ("contains", &self.allergens),
            ("may contain", &self.may_hold),
            ("not known, read the packet:", &self.unknown),
        ] {
            if !names.is_empty() {
                out += &format!("{what} {}\n", names.join(", "));
            }
        }
        for n in &self.notes {
            out += n;
            out.push('\n');
        }
        out
    }

    /// One ingredient a block, wide and sparse, for a terminal set to a large font.
    pub fn large(&self, scale_step_g: f64) -> String {
        let mut out = format!("{}\n", self.formula.to_uppercase());
        for l in &self.lines {
            out += &format!(
                "\n{}\n    {}\n",
                l.name.to_uppercase(),
                l.amount
                    .clone()
                    .unwrap_or_else(|| print::grams(Mass::grams(l.weigh_g), scale_step_g))
            );
            for beside in &l.beside {
                out += &format!("    {beside}\n");
            }
        }
        for n in &self.notes {
            out += &format!("\n{n}\n");
        }
        out
    }
}
