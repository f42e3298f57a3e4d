//! What the language and the arithmetic may know of the formula on the bench.

use super::options::Options;
use crate::ask::{AskedDish, Context};
use crate::dough::{DoughRole, Percentages, Portion};
use crate::formula::{Batch, Formula};
use crate::measure::ingredients;
use crate::safety;
use crate::understand::Lexicon;

/// Words in the name of a timer that tell a rise from a bake or a rest.
const RISES: &[&str] = &[
    "rise",
    "rising",
    "prove",
    "proving",
    "proof",
    "proofing",
    "ferment",
    "fermentation",
    "bulk",
];

/// Everything that can be named: this formula's ingredients and timers, and the tables.
pub fn lexicon(formula: &Formula) -> Lexicon {
    with_tables(Lexicon::new(formula))
}

/// What can be named without a formula.
pub fn kitchen_lexicon() -> Lexicon {
    with_tables(Lexicon::without_formula())
}

fn with_tables(lexicon: Lexicon) -> Lexicon {
    lexicon
        .with_table_names(
            ingredients()
                .all()
                .iter()
                .map(|i| (i.name.clone(), i.also.clone())),
        )
        .with_foods(safety::foods())
}

/// What the arithmetic may take from the formula: flour, dough, the wanted dough temperature, the room.
pub fn ask_context(
    formula: &Formula,
    batch: &Batch,
    options: &Options,
    step: Option<usize>,
) -> Context {
    let positive = |g: f64| (g > 0.0).then_some(g);
    Context {
        region: options.region,
        law: options.law(),
        scale_step_g: options.scale_step_g,
        kilos: options.kilos,
        flour_g: positive(batch.flour(formula).as_grams()),
        water_g: positive(batch.water(formula).as_grams()),
        dough_g: positive(batch.dough(formula).as_grams()),
        dough_c: formula.dough_c,
        room_c: options.room_c,
        loss_percent: positive(formula.makes.loss_percent),
        rise: rise(formula, step),
        allergens: Some(
            formula
                .contents()
                .holds(options.law())
                .into_iter()
                .map(|found| found.allergen.id)
                .collect(),
        ),
        ingredients: formula
            .ingredients
            .iter()
            .enumerate()
            .filter(|(at, _)| batch.mass(*at).as_grams() > 0.0)
            .flat_map(|(at, i)| {
                let mass = batch.mass(at);
                [&i.name, &i.table]
                    .into_iter()
                    .chain(&i.also)
                    .map(move |name| (name.clone(), mass))
            })
            .collect(),
        dish: Some(AskedDish {
            name: formula.name.clone(),
            keeps: formula.told.keeps.clone(),
        }),
        ..Context::default()
    }
}

/// A timer of this name times a dough that rises.
pub(super) fn is_rise(timer: &str) -> bool {
    timer.split(' ').any(|w| RISES.contains(&w))
}

/// The rise at hand: this step's, else the next one's, else the first of the formula. Its name, and its minutes.
fn rise(formula: &Formula, step: Option<usize>) -> Option<(String, f64)> {
    let rises: Vec<_> = formula
        .steps
        .iter()
        .enumerate()
        .flat_map(|(at, s)| s.timers.iter().map(move |t| (at, t)))
        .filter(|(_, t)| !t.cold && t.kept_c.is_none() && is_rise(&t.name))
        .collect();
    let (_, timer) = rises
        .iter()
        .find(|(at, _)| *at >= step.unwrap_or(0))
        .or(rises.first())?;
    Some((timer.name.clone(), timer.lasts.as_seconds() as f64 / 60.0))
}

/// Hydration with the water inside milk, eggs, butter and the like, in percent of flour.
pub fn true_hydration(formula: &Formula, batch: &Batch) -> Option<f64> {
    let portions: Vec<Portion> = formula
        .ingredients
        .iter()
        .enumerate()
        .filter(|(_, i)| !i.apart || i.is_flour)
        .map(|(at, i)| Portion {
            mass: batch.mass(at),
            role: if i.is_flour {
                DoughRole::Flour
            } else if i.is_water {
                DoughRole::Water
            } else {
                let row = ingredients().find(&i.table);
                let water_percent = row.and_then(|r| r.water_percent).unwrap_or(0.0);
                DoughRole::Other { water_percent }
            },
        })
        .collect();
    Percentages::of(&portions).ok().map(|p| p.true_hydration)
}
