//! A formula in memory: checked, complete, at its written size.

use crate::measure::Mass;
use crate::measure::tin::Size;
use crate::safety::Danger;
use crate::time::Span;

/// A whole formula.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Formula {
    /// Its name as printed and spoken.
    pub name: String,
    /// One or two sentences about it.
    pub about: String,
    /// What else its author tells.
    pub told: Told,
    /// What it makes.
    pub makes: Makes,
    /// The tin, where there is one.
    pub tin: Option<Size>,
    /// The oven, where there is one.
    pub oven: Option<Oven>,
    /// Wanted dough temperature in Celsius, for doughs.
    pub dough_c: Option<f64>,
    /// Ingredients in weighing order.
    pub ingredients: Vec<Ingredient>,
    /// Steps in working order.
    pub steps: Vec<Step>,
}

/// What the author tells beside ingredients and steps.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Told {
    /// Other names that it is found by.
    pub also: Vec<String>,
    /// Where it comes from.
    pub source: Option<String>,
    /// A word of the author's own.
    pub note: Option<String>,
    /// What is needed beside the ingredients.
    pub equipment: Vec<String>,
    /// How long it keeps, and where: `three days in a tin`.
    pub keeps: Option<String>,
    /// Path of a picture, beside the file. It is never opened.
    pub picture: Option<String>,
    /// Words to find it by.
    pub tags: Vec<String>,
}

/// What a formula makes as written.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Makes {
    /// Portions (people or helpings).
    pub portions: f64,
    /// Where the author gave a range: the most portions.
    pub portions_to: Option<f64>,
    /// Number of pieces, 1 for one loaf.
    pub pieces: f64,
    /// What one piece is called: `loaf`, `roll`, `bowl`.
    pub piece: String,
    /// Mass lost in baking or cooking, percent of what went in.
    pub loss_percent: f64,
}

/// How the oven is set.
#[derive(Debug, Clone, PartialEq)]
pub struct Oven {
    /// Celsius, without fan.
    pub heat_c: f64,
    /// Time that the oven needs to get hot.
    pub lead: Span,
}

/// One ingredient at its written amount.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Ingredient {
    /// Short id, unique in the formula: `flour`.
    pub id: String,
    /// Name as printed and spoken: `strong white flour`.
    pub name: String,
    /// Other ways to say it, lower case.
    pub also: Vec<String>,
    /// How the voice is to say the name, where the author spells it for the ear.
    pub say: Option<String>,
    /// Name in the ingredient tables; the name itself when the author gave none.
    pub table: String,
    /// Mass as written, the middle of a range; nothing where no mass is known.
    pub mass: Mass,
    /// Where the author counted: (number, the middle of a range; what one is called), as in 2 eggs. Also so many of a
    /// measure whose mass nobody knows: 2 tablespoons.
    pub count: Option<(f64, String)>,
    /// Where the author gave a range: its ends over its middle.
    pub spread: Option<(f64, f64)>,
    /// What stands in place of an amount: `to taste`, `for frying`.
    pub words: Option<String>,
    /// What more of it is needed, beside the amount: `for dusting`.
    pub extra: Option<String>,
    /// How it is to be: `finely chopped`.
    pub note: Option<String>,
    /// It may be left out.
    pub optional: bool,
    /// What may be taken in its place.
    pub or: Vec<String>,
    /// What was not taken in its place, where the cook has chosen.
    pub untaken: Vec<String>,
    /// The part of the dish that it belongs to: `filling`.
    pub part: Option<String>,
    /// Household measure as written, as a courtesy: `4 cups`.
    pub household: Option<String>,
    /// Counts as flour in baker's percentages.
    pub is_flour: bool,
    /// Counts as the water that a change of hydration moves.
    pub is_water: bool,
    /// Left out of the dough's mass (for dusting, greasing, serving).
    pub apart: bool,
    /// The allergens that the author gave, by the words of EU annex II: `gluten`, `milk`...
    pub allergens: Vec<String>,
}

/// One step.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Step {
    /// A short heading: `first rise`.
    pub title: String,
    /// What to do, as text with `{ingredient}` places for amounts.
    pub text: String,
    /// A recording that is played in place of the text: its path from the formula's folder.
    pub recording: Option<String>,
    /// Ingredients that go in here.
    pub uses: Vec<Use>,
    /// This step is a weigh-up: its ingredients are called one by one.
    pub weigh_up: bool,
    /// Timers offered here.
    pub timers: Vec<TimerSpec>,
    /// The question that ends the step by a look: 'has it doubled?'.
    pub look: Option<String>,
    /// The author's cautions, spoken once, before the hand does it.
    pub cautions: Vec<String>,
    /// What the program adds to them.
    pub dangers: Vec<Danger>,
    /// Hands-on time.
    pub hands_on: Span,
    /// Uses the oven, set to this heat in Celsius.
    pub oven_c: Option<f64>,
    /// The part of the dish that it belongs to: `filling`.
    pub part: Option<String>,
    /// It is done while the wait of the step before goes on.
    pub alongside: bool,
    /// It begins no later than this after the step before is done, where the author says so.
    pub within: Option<Span>,
}

/// An ingredient, or part of it, going in at a step.
#[derive(Debug, Clone, PartialEq)]
pub struct Use {
    /// Index into `Formula::ingredients`.
    pub ingredient: usize,
    /// Part of the whole, 0 to 1.
    pub part: f64,
}

/// A timer that the formula offers.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct TimerSpec {
    /// Spoken name.
    pub name: String,
    /// Length; the shortest where the author gave a range.
    pub lasts: Span,
    /// The longest, where the author gave a range.
    pub most: Option<Span>,
    /// Cues inside it, in order of time.
    pub cues: Vec<Cue>,
    /// It ends on a look: at its time the program asks this.
    pub look: Option<String>,
    /// It runs while the work goes on: nobody waits for it.
    pub alongside: bool,
    /// It waits in the cold: its time does not follow the kitchen.
    pub cold: bool,
    /// What it is kept at, in Celsius, where the author says so: then its time does not follow the kitchen either.
    pub kept_c: Option<f64>,
}

/// A cue inside a timer.
#[derive(Debug, Clone, PartialEq)]
pub struct Cue {
    /// When, from the timer's start.
    pub at: Span,
    /// Where the author counted from the end: this much before it (`at` is then the length less this).
    pub left: Option<Span>,
    /// What is said: `turn the tin`.
    pub say: String,
}
