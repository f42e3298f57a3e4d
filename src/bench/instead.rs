//! What to use instead: first what the formula itself allows, then what the table of swaps knows.

use super::Bench;
use super::effect::Effect;
use super::words;
use crate::ask::{self, Question};
use crate::formula::Ingredient;
use crate::measure::ingredients;
use crate::safety;

/// A food by its name in the tables.
fn row(name: &str) -> Option<&'static str> {
    ingredients().find(name).map(|row| row.name.as_str())
}

/// It is called so.
fn is_called(name: &str, food: &str) -> bool {
    name.eq_ignore_ascii_case(food) || row(name).is_some() && row(name) == row(food)
}

/// The ingredient is called so.
fn is(i: &Ingredient, food: &str) -> bool {
    let names = [&i.name, &i.id, &i.table].into_iter().chain(&i.also);
    names.into_iter().any(|name| is_called(name, food))
}

fn or_words(names: &[String]) -> String {
    match names {
        [most @ .., last] if !most.is_empty() => format!("{} or {last}", most.join(", ")),
        _ => names.concat(),
    }
}

impl Bench {
    /// The answer to what may be used instead.
    pub(super) fn instead(&mut self, question: &Question, out: &mut Vec<Effect>) {
        let Question::Swap {
            of, with, number, ..
        } = question
        else {
            return;
        };
        let own = number
            .is_none()
            .then(|| self.allowed(of, with.as_deref()))
            .flatten();
        let known = ask::answer(question, &self.context());
        let text = match (own, known) {
            (Some((own, true)), _) => own,
            (Some((own, false)), Ok(known)) => {
                format!("{own} Or: {}", words::lower_first(&known.words))
            }
            (Some((own, false)), Err(_)) => own,
            (None, Ok(known)) => known.words,
            (None, Err(error)) => self.no_swap(of, with.as_deref(), &error.to_string()),
        };
        self.tell(out, &text);
    }

    /// What the formula itself allows, and whether that is all there is to say.
    fn allowed(&self, of: &str, with: Option<&str>) -> Option<(String, bool)> {
        let all = &self.written().ingredients;
        let other = with.unwrap_or(of);
        // What is named as the other is what the cook has.
        let of_other = |(_, i): &(usize, &Ingredient)| i.or.iter().any(|or| is_called(or, other));
        let named = |(_, i): &(usize, &Ingredient)| is(i, of);
        // So many pods are no amount of extract.
        let at = |at: usize| {
            let i = &all[at];
            if i.count.is_none() && i.words.is_none() {
                format!(", {}", self.amount_words(at, 1.0))
            } else {
                String::new()
            }
        };
        let both = all
            .iter()
            .enumerate()
            .find(|one| of_other(one) && (with.is_none() || named(one) || Some(of) == with));
        if let Some((i, ingredient)) = both {
            let text = format!(
                "Yes: the formula allows {other} for the {}{}.",
                ingredient.name,
                at(i)
            );
            return Some((text, true));
        }
        let (i, ingredient) = all.iter().enumerate().find(named)?;
        if with.is_some() {
            return None;
        }
        match (ingredient.or.is_empty(), ingredient.optional) {
            (false, _) => Some((
                format!("The formula allows {}{}.", or_words(&ingredient.or), at(i)),
                true,
            )),
            (true, true) => Some(("You can leave it out.".to_owned(), false)),
            (true, false) => None,
        }
    }

    /// Nothing is known to be used instead.
    fn no_swap(&self, of: &str, with: Option<&str>, why: &str) -> String {
        let class = |food: &str| {
            let of = safety::safe_temperature(food, self.options.region);
            of.ok().map(|row| row.name.as_str())
        };
        let all = &self.written().ingredients;
        let has = |food: &str| all.iter().find(|i| is(i, food));
        // 'Can I use salmon instead': what it would stand for has to be guessed, and is not.
        let other = with
            .filter(|with| *with == of || has(of).is_none())
            .or((has(of).is_none()).then_some(of));
        if let Some(other) = other {
            let alike = all
                .iter()
                .find(|i| class(other).is_some() && class(&i.name) == class(other));
            return match alike {
                Some(i) => {
                    let names: Vec<String> = std::iter::once(i.name.clone())
                        .chain(i.or.clone())
                        .collect();
                    format!(
                        "The formula does not name {other}: it asks for {}.",
                        or_words(&names)
                    )
                }
                None => format!(
                    "I know of no swap with {other}. Ask what to use instead of what the formula names."
                ),
            };
        }
        if with.is_some() {
            return words::sentence(&why.replace('`', ""));
        }
        format!("I know of nothing to use instead of {of}.")
    }
}
