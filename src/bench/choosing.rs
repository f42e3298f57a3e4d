//! 'Butter or margarine?': what is taken where the formula leaves a choice.

use super::Bench;
use super::effect::Effect;
use super::words;
use crate::order::{Food, IngredientId, Order};
use crate::understand::{Understood, name_words};

/// Words beside a name that change nothing.
const BESIDE: [&str; 5] = ["the", "some", "please", "instead", "okay"];

impl Bench {
    /// A bare name while a choice is called answers it; elsewhere it asks how much.
    pub(super) fn as_choice(&self, understood: Understood, said: &str) -> Understood {
        let Some(at) = self.dish().called().map(|at| self.dish().ingredient(at)) else {
            return understood;
        };
        let i = &self.formula().ingredients[at];
        let call = name_words(&self.options.name);
        let mut words = name_words(said);
        words.retain(|word| !BESIDE.contains(&word.as_str()) && !call.contains(word));
        if !i.or.is_empty() && words == ["other", "one"] {
            return Understood::Order(Order::Choose {
                ingredient: None,
                take: None,
            });
        }
        let all = || std::iter::once(&i.name).chain(&i.or);
        let named = all().find(|name| !i.or.is_empty() && name_words(name) == words);
        named.map_or(understood, |name| {
            Understood::Order(Order::Choose {
                ingredient: Some(i.id.as_str().into()),
                take: Some(name.as_str().into()),
            })
        })
    }

    /// Takes one of what may be taken for an ingredient; without a name the next of them after the one that is taken.
    pub(super) fn choose(
        &mut self,
        ingredient: Option<IngredientId>,
        take: Option<Food>,
        out: &mut Vec<Effect>,
    ) {
        let called = || Some(self.dish().ingredient(self.dish().called()?));
        let at = match &ingredient {
            Some(id) => self.written().find(id),
            None => called(),
        };
        let Some(at) = at else {
            self.tell(out, "There is nothing to choose here.");
            return;
        };
        let written = &self.written().ingredients[at];
        let names = std::iter::once(&written.name).chain(&written.or);
        let mut all: Vec<String> = names.cloned().collect();
        if all.len() < 2 {
            let text = format!(
                "The formula names nothing else for the {}. Ask what to use instead, and I will tell you what I know.",
                all[0]
            );
            self.tell(out, &text);
            return;
        }
        // As long as nothing was taken, it is the written one.
        let now = &self.formula().ingredients[at].name;
        let taken = all.iter().position(|name| name == now);
        all.rotate_left(taken.unwrap_or(0));
        let name = take.map_or_else(|| all[1].clone(), String::from);
        if !self.dish_mut().take(at, &name) {
            self.tell(out, &format!("The formula does not name {name} for that."));
            return;
        }
        let name = self.formula().ingredients[at].name.clone();
        let text = match self.dish().called() {
            Some(called) if self.dish().ingredient(called) == at => self.call_words(called),
            _ => format!("{}: {}.", words::capital(&name), self.amount_words(at, 1.0)),
        };
        self.tell(out, &text);
    }
}
