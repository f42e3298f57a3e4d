//! 'Water in', where the formula has two waters: the one that the step at hand wants is meant.

use super::Bench;
use super::taken::Taken;
use crate::order::{IngredientId, Order};
use crate::understand::{Understood, name_words};

/// Words of names that name nothing.
const SMALL: [&str; 7] = ["the", "for", "of", "in", "and", "a", "on"];

impl Bench {
    /// What was taken from words, with what the step at hand wants in place of what another step wants.
    pub(super) fn as_wanted_here(&self, taken: Taken, said: &str) -> Taken {
        let said = name_words(said);
        let all = |orders: Vec<Order>| -> Vec<Order> {
            let each = orders.into_iter();
            each.map(|o| self.order_wanted_here(o, &said)).collect()
        };
        match taken {
            Taken::Order { order } => Taken::Order {
                order: self.order_wanted_here(order, &said),
            },
            Taken::Orders { orders } => Taken::Orders {
                orders: all(orders),
            },
            Taken::AllOf { orders, question } => match all(orders.clone()) {
                same if same == orders => Taken::AllOf { question, orders },
                orders => self.all_of(orders),
            },
            Taken::OneOf { readings, question } => match all(readings.clone()) {
                same if same == readings => Taken::OneOf { question, readings },
                readings => self.one_of(readings),
            },
            other => other,
        }
    }

    /// Between several that may have gone in, the one that is wanted here.
    pub(super) fn one_wanted_here(&self, understood: Understood, said: &str) -> Understood {
        let Understood::Doubt { readings, .. } = &understood else {
            return understood;
        };
        let said = name_words(said);
        let is_mark = |o: &Order| matches!(o, Order::MarkAdded { also, .. } if also.is_empty());
        if !readings.iter().all(is_mark) {
            return understood;
        }
        let mut here = readings.iter().map(|o| {
            let order = self.order_wanted_here(o.clone(), &said);
            self.is_wanted_here(&order).then_some(order)
        });
        match here.next().flatten() {
            Some(first) if here.all(|o| o.as_ref() == Some(&first)) => Understood::Order(first),
            _ => understood,
        }
    }

    fn is_wanted_here(&self, order: &Order) -> bool {
        let Order::MarkAdded { ingredient, .. } = order else {
            return false;
        };
        let found = self.formula().find(ingredient);
        found.is_some_and(|i| self.open_here().contains(&i))
    }

    fn order_wanted_here(&self, order: Order, said: &[String]) -> Order {
        match order {
            Order::MarkAdded { ingredient, also } => Order::MarkAdded {
                ingredient: self.wanted_here(ingredient, said),
                also: also
                    .into_iter()
                    .map(|id| self.wanted_here(id, said))
                    .collect(),
            },
            Order::PutIn { ingredient, mass } => Order::PutIn {
                ingredient: self.wanted_here(ingredient, said),
                mass,
            },
            other => other,
        }
    }

    /// What the step at hand names and is not in.
    fn open_here(&self) -> Vec<usize> {
        let Some(step) = self.step().filter(|_| !self.is_finished()) else {
            return Vec::new();
        };
        let open = self.dish().uses_not_in(step).into_iter();
        open.map(|u| self.dish().ingredient((step, u))).collect()
    }

    fn wanted_here(&self, id: IngredientId, said: &[String]) -> IngredientId {
        let all = &self.formula().ingredients;
        let (Some(named), Some(step)) = (self.formula().find(&id), self.step()) else {
            return id;
        };
        if self.formula().steps[step]
            .uses
            .iter()
            .any(|u| u.ingredient == named)
        {
            return id;
        }
        let own = name_words(&all[named].name);
        let whole = own.iter().all(|w| said.contains(w));
        let fits = |i: &usize| {
            let name = name_words(&all[*i].name);
            // 'Milk' alone names no milk for the top.
            if whole {
                own.iter().all(|w| name.contains(w))
            } else {
                let told = |w: &&String| !SMALL.contains(&w.as_str());
                name.iter()
                    .filter(told)
                    .any(|w| own.contains(w) && said.contains(w))
            }
        };
        let mut open = self.open_here().into_iter().filter(fits);
        match (open.next(), open.next()) {
            (Some(one), None) => all[one].id.as_str().into(),
            _ => id,
        }
    }
}
