//! The weigh-up over all dishes: how much of something goes in in all, and what several dishes take.

use super::Bench;
use super::effect::Effect;
use super::words;
use crate::measure::Mass;
use crate::timer::DishId;

/// What one dish takes of something.
struct Share {
    dish: DishId,
    ingredient: usize,
    mass: Mass,
}

impl Bench {
    /// `Four hundred grams of onions in all: two hundred for the soup and two hundred for the pie.`
    pub(super) fn in_all(&mut self, what: &str, out: &mut Vec<Effect>) {
        let mut shares: Vec<Share> = Vec::new();
        for dish in self.dishes.on() {
            let Some(made) = self.dishes.get(dish) else {
                continue;
            };
            let formula = made.formula();
            let wanted = what.to_lowercase();
            let is_it = |i: &crate::formula::Ingredient| {
                i.table.to_lowercase() == wanted
                    || i.name.to_lowercase() == wanted
                    || i.also.iter().any(|a| a.to_lowercase() == wanted)
            };
            let of_table = formula.ingredients.iter().position(is_it);
            let found = of_table.or_else(|| formula.find(what));
            shares.extend(found.map(|ingredient| Share {
                dish,
                ingredient,
                mass: made.batch().mass(ingredient),
            }));
        }
        let text = match shares.as_slice() {
            [] => format!("No dish takes {what}."),
            [one] => {
                let amount = self.while_at(one.dish, |b| b.named_amount(one.ingredient, 1.0));
                let amount = words::capital(&amount);
                if self.dishes.are_several() {
                    format!("{amount}, for {} alone.", self.dishes.the(one.dish))
                } else {
                    format!("{amount}.")
                }
            }
            several => self.sum_words(several),
        };
        self.tell(out, &text);
    }

    /// All that more than one dish takes.
    pub(super) fn weigh_all(&mut self, out: &mut Vec<Effect>) {
        let mut tables: Vec<(String, Vec<Share>)> = Vec::new();
        for dish in self.dishes.on() {
            let Some(made) = self.dishes.get(dish) else {
                continue;
            };
            for (ingredient, i) in made.formula().ingredients.iter().enumerate() {
                let share = Share {
                    dish,
                    ingredient,
                    mass: made.batch().mass(ingredient),
                };
                let table = i.table.to_lowercase();
                match tables.iter_mut().find(|(t, _)| *t == table) {
                    Some((_, shares)) => shares.push(share),
                    None => tables.push((table, vec![share])),
                }
            }
        }
        tables.retain(|(_, shares)| shares.iter().any(|s| s.dish != shares[0].dish));
        let sums: Vec<String> = tables
            .iter()
            .map(|(_, shares)| self.sum_words(shares))
            .collect();
        let text = if sums.is_empty() {
            "No two dishes take the same.".to_owned()
        } else {
            format!(
                "{} Everything else goes into one dish only.",
                sums.join(" ")
            )
        };
        self.tell(out, &text);
    }

    fn sum_words(&mut self, shares: &[Share]) -> String {
        let name = |bench: &Self, share: &Share| {
            let dish = bench.dishes.get(share.dish);
            dish.map_or_else(String::new, |d| {
                d.formula().ingredients[share.ingredient].name.clone()
            })
        };
        let first = name(self, &shares[0]);
        let unknown = |s: &&Share| s.mass.as_grams() <= 0.0;
        let total: f64 = shares.iter().map(|s| s.mass.as_grams()).sum();
        let mut each: Vec<String> = Vec::new();
        for share in shares {
            let (dish, i) = (share.dish, share.ingredient);
            let amount = self.while_at(dish, |b| {
                if share.mass.as_grams() > 0.0 {
                    b.say_mass(share.mass)
                } else {
                    b.amount_words(i, 1.0)
                }
            });
            let own = name(self, share);
            let what = if own == first {
                String::new()
            } else {
                format!(" of {own}")
            };
            each.push(format!("{amount}{what} for {}", self.dishes.the(dish)));
        }
        let each = words::list(&each);
        if shares.iter().any(|s| unknown(&s)) {
            // A sum that leaves something out is none.
            return format!("{}: {each}.", words::capital(&first));
        }
        let sum = self.say_mass(Mass::grams(total));
        format!("{} of {first} in all: {each}.", words::capital(&sum))
    }
}
