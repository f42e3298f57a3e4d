//! Where the cook is, as far as the meaning of words and keys goes. The bench gives it out; nobody writes in it.

use std::sync::Arc;

use super::order::Order;
use super::refs::{DishRef, IngredientId, TimerRef};

/// Where the session stands.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Situation {
    /// An alarm is ringing.
    pub ringing: bool,
    /// What the program has asked.
    pub asked: Asked,
    /// Ingredients are being called one by one.
    pub weighing: bool,
    /// This step offers a timer that has not been started.
    pub offered: bool,
    /// The timers that run, are held or ring, the next due first.
    pub timers: Vec<TimerHere>,
    /// The formula's ingredients in weighing order.
    pub ingredients: Vec<IngredientHere>,
    /// The current step from 1; 0 before the first.
    pub step: usize,
    /// The titles of the steps.
    pub steps: Vec<String>,
    /// The parts of the dish: filling, sauce.
    pub parts: Vec<String>,
    /// How many pieces the formula makes as written.
    pub pieces: f64,
    /// The dishes that are made, where there are several.
    pub dishes: Vec<DishHere>,
    /// The titles of the book.
    pub book: Arc<Vec<String>>,
}

/// One of several dishes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DishHere {
    /// Which.
    pub id: DishRef,
    /// Its everyday name, as said: `soup`.
    pub name: String,
}

/// What waits for an answer.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Asked {
    /// Nothing.
    #[default]
    Nothing,
    /// A question for yes or no.
    YesOrNo,
    /// A question that ends on a look: 'has it doubled?'.
    Look,
    /// Which of these was meant.
    Which(Vec<Order>),
    /// For how long; the answer is a number of minutes.
    HowLong,
}

/// A timer that can be named now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TimerHere {
    /// Its id.
    pub id: u32,
    /// Its name as said.
    pub name: String,
}

/// One of the formula's ingredients.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct IngredientHere {
    /// Its id.
    pub id: IngredientId,
    /// Its name as said.
    pub name: String,
    /// Its name in the tables; its own where it stands in none.
    pub table: String,
}

impl Situation {
    /// The first step has been reached.
    pub fn started(&self) -> bool {
        self.step > 0
    }

    /// The readings between which the cook is to choose.
    pub fn readings(&self) -> &[Order] {
        match &self.asked {
            Asked::Which(readings) => readings,
            _ => &[],
        }
    }

    /// A question waits that yes, no or a choice answers.
    pub fn is_asking(&self) -> bool {
        !matches!(self.asked, Asked::Nothing | Asked::HowLong)
    }

    /// How an ingredient is said, by its id; other names stand for themselves.
    pub fn ingredient<'s>(&'s self, id: &'s str) -> &'s str {
        let known = self.ingredients.iter().find(|here| here.id == id);
        known.map_or(id, |here| &here.name)
    }

    /// What a dish is called.
    pub fn dish(&self, which: DishRef) -> &str {
        let known = self.dishes.iter().find(|here| here.id == which);
        known.map_or("other dish", |here| &here.name)
    }

    /// What a timer is called.
    pub fn timer<'s>(&'s self, which: &'s TimerRef) -> &'s str {
        match which {
            TimerRef::Said(words) => words,
            TimerRef::Id(id) => {
                let known = self.timers.iter().find(|here| here.id == *id);
                known.map_or("other", |here| &here.name)
            }
        }
    }
}
