//! Finding things in a formula.

use super::model::{Cue, Formula, Ingredient, Step, TimerSpec};
use crate::measure::singular;
use crate::safety::Contents;
use crate::time::Span;

impl Formula {
    /// The names that are spelt for the ear, and how.
    pub fn spelt(&self) -> Vec<(String, String)> {
        let spelt = |i: &Ingredient| Some((i.name.clone(), i.say.clone()?));
        self.ingredients.iter().filter_map(spelt).collect()
    }

    /// The place of the ingredient with this id, name or alias.
    pub fn find(&self, name: &str) -> Option<usize> {
        let name = name.trim().to_lowercase();
        let by = |f: &dyn Fn(&Ingredient) -> bool| self.ingredients.iter().position(f);
        by(&|i| i.id == name)
            .or_else(|| by(&|i| i.name.to_lowercase() == name))
            .or_else(|| by(&|i| i.also.iter().any(|a| a.to_lowercase() == name)))
            .or_else(|| self.by_kind(&name))
    }

    /// The one ingredient that the tables know by this name, or that is a kind of it: mature cheddar, asked for as
    /// cheddar. Of several kinds none is taken.
    fn by_kind(&self, name: &str) -> Option<usize> {
        let all = || self.ingredients.iter().enumerate();
        let whole = singular(&name.replace('-', " "));
        let is_kind = |i: &Ingredient| {
            let own = singular(&i.name.to_lowercase());
            own.strip_suffix(&whole)
                .is_some_and(|kind| kind.is_empty() || kind.ends_with(' '))
        };
        let kinds: Vec<usize> = all()
            .filter(|(_, i)| is_kind(i))
            .map(|(at, _)| at)
            .collect();
        let rows: Vec<usize> = all()
            .filter(|(_, i)| i.table.to_lowercase() == name)
            .map(|(at, _)| at)
            .collect();
        match (rows.as_slice(), kinds.as_slice()) {
            (_, [_, _, ..]) => None,
            ([row, ..], _) => Some(*row),
            ([], kind) => kind.first().copied(),
        }
    }

    /// Every timer that a step offers, with the index of its step.
    pub fn timers(&self) -> impl Iterator<Item = (usize, &TimerSpec)> {
        let steps = self.steps.iter().enumerate();
        steps.flat_map(|(at, step)| step.timers.iter().map(move |timer| (at, timer)))
    }

    /// Everything has a mass, so that a sum leaves nothing out: what has none, by name.
    pub fn without_mass(&self) -> impl Iterator<Item = &Ingredient> {
        let counts = |i: &&Ingredient| !i.apart && i.words.is_none();
        let all = self.ingredients.iter().filter(counts);
        all.filter(|i| i.mass.as_grams() <= 0.0)
    }

    /// A step after this one uses the oven.
    pub(crate) fn oven_comes_after(&self, step: usize) -> bool {
        self.steps.iter().skip(step + 1).any(|s| s.oven_c.is_some())
    }

    /// What the whole formula contains, as far as allergens and ways of eating go: its ingredients, and what only its
    /// steps name.
    pub fn contents(&self) -> Contents {
        let mut all = Contents::default();
        for i in &self.ingredients {
            let others: Vec<&str> = [i.table.as_str()]
                .into_iter()
                .chain(i.also.iter().map(String::as_str))
                .collect();
            all.add(&i.name, &others, &i.allergens);
            // Until the cook has chosen, it may be any of them.
            for other in &i.or {
                all.add_choice(other);
            }
        }
        // A step that says 'butter' means what was taken in its place.
        let untaken: Vec<&str> = self
            .ingredients
            .iter()
            .flat_map(|i| i.untaken.iter().map(String::as_str))
            .collect();
        for step in &self.steps {
            all.add_from_text(&step.text, &untaken);
        }
        all
    }
}

impl Step {
    /// The part of an ingredient that goes in here, 0 when none does.
    pub fn part_of(&self, ingredient: usize) -> f64 {
        self.uses
            .iter()
            .filter(|u| u.ingredient == ingredient)
            .map(|u| u.part)
            .sum()
    }

    /// Here the oven is lit for a later step: a timer named for the oven, and nothing goes into it.
    pub fn lights_oven(&self) -> bool {
        self.oven_c.is_none() && self.timers.iter().any(|t| names_oven(&t.name))
    }
}

impl TimerSpec {
    /// The same timer with another length. A cue counted from the end keeps its distance from the end; one that the
    /// new length does not hold is left out.
    pub fn lasting(&self, lasts: Span) -> Self {
        let at = |cue: &Cue| match cue.left {
            Some(left) => Span::millis(lasts.as_millis().saturating_sub(left.as_millis())),
            None => cue.at,
        };
        let mut cues: Vec<Cue> = self
            .cues
            .iter()
            .filter(|cue| cue.left.unwrap_or(cue.at) < lasts)
            .map(|cue| Cue {
                at: at(cue),
                ..cue.clone()
            })
            .collect();
        cues.sort_by_key(|cue| cue.at);
        Self {
            lasts,
            most: self.most.filter(|most| *most > lasts),
            cues,
            ..self.clone()
        }
    }
}

/// Does a name or a cue speak of the oven?
pub(crate) fn names_oven(text: &str) -> bool {
    text.split(|c: char| !c.is_alphanumeric())
        .any(|word| word.eq_ignore_ascii_case("oven"))
}

/// A step's text with each `{id}` filled in by `amount`; a place that names nothing stays as it stands.
pub fn fill(text: &str, mut amount: impl FnMut(&str) -> Option<String>) -> String {
    let mut out = String::with_capacity(text.len() + 32);
    let mut rest = text;
    while let Some(open) = rest.find('{') {
        let (before, after) = rest.split_at(open);
        out.push_str(before);
        let Some(close) = after.find('}') else {
            out.push_str(after);
            return out;
        };
        match amount(&after[1..close]) {
            Some(words) => out.push_str(&words),
            None => out.push_str(&after[..=close]),
        }
        rest = &after[close + 1..];
    }
    out.push_str(rest);
    out
}

/// The ids named in a step's text.
pub(super) fn places(text: &str) -> Vec<String> {
    let mut ids = Vec::new();
    fill(text, |id| {
        ids.push(id.to_owned());
        None
    });
    ids
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_filled_and_odd_braces_left() {
        let fill = |t: &str| fill(t, |id| (id == "salt").then(|| "10 g".to_owned()));
        assert_eq!(fill("Add {salt} of salt."), "Add 10 g of salt.");
        assert_eq!(fill("{salt}{salt}"), "10 g10 g");
        assert_eq!(fill("Add {pepper}."), "Add {pepper}.");
        assert_eq!(fill("An open { brace"), "An open { brace");
        assert_eq!(fill("crème {salt} à côté"), "crème 10 g à côté");
    }

    #[test]
    fn what_is_the_only_kind_of_a_thing_is_found_by_it() {
        let text = "name = \"Pie\"\n[makes]\npieces = 1\npiece = \"pie\"\nportions = 4\n\
            [[ingredient]]\nid = \"a\"\nname = \"mature cheddar\"\namount = \"100 g\"\n\
            [[ingredient]]\nid = \"b\"\nname = \"red onions\"\namount = \"100 g\"\n\
            [[ingredient]]\nid = \"c\"\nname = \"white onions\"\namount = \"100 g\"\n\
            [[step]]\ntitle = \"Mix\"\ntext = \"Mix.\"\nuses = [\"a\", \"b\", \"c\"]\n";
        let f = super::super::read("pie", text).expect("a formula");
        assert_eq!(f.find("cheddar"), Some(0));
        assert_eq!(f.find("onion"), None, "which of them?");
        assert_eq!(f.find("ed onions"), None);
        assert_eq!(f.find("red-onion"), Some(1));
    }
}
