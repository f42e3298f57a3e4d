//! A formula in memory: checked, complete, at its written size.

use crate::measure::Mass;
use crate::measure::tin::Size;
use crate::safety::Danger;
use crate::time::Span;

/// A whole formula.
#[derive(Debug, Clone, PartialEq)]
pub struct Formula {
    /// Its name as printed and spoken.
    pub name: String,
    /// One or two sentences about it.
    pub about: String,
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

/// What a formula makes as written.
#[derive(Debug, Clone, PartialEq)]
pub struct Makes {
    /// Portions (people or helpings).
    pub portions: f64,
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
#[derive(Debug, Clone, PartialEq)]
pub struct Ingredient {
    /// Short id, unique in the formula: `flour`.
    pub id: String,
    /// Name as printed and spoken: `strong white flour`.
    pub name: String,
    /// Other ways to say it, lower case.
    pub also: Vec<String>,
    /// Name in the ingredient tables; the name itself when the author gave none.
    pub table: String,
    /// Mass as written.
    pub mass: Mass,
    /// Where the author wrote a count: (number, what one is called), as in 2 eggs.
    pub count: Option<(f64, String)>,
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
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// A short heading: `first rise`.
    pub title: String,
    /// What to do, as text with `{ingredient}` places for amounts.
    pub text: String,
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
#[derive(Debug, Clone, PartialEq)]
pub struct TimerSpec {
    /// Spoken name.
    pub name: String,
    /// Length.
    pub lasts: Span,
    /// Cues inside it, in order of time.
    pub cues: Vec<Cue>,
    /// It ends on a look: at its time the program asks this.
    pub look: Option<String>,
    /// It runs while the work goes on: nobody waits for it.
    pub alongside: bool,
    /// It waits in the cold: its time does not follow the kitchen.
    pub cold: bool,
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
