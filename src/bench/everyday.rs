//! What dishes that are made together are called: as short as a cook would say it, and none for two.

use crate::formula::Formula;
use crate::understand::name_words;

/// After these comes what is with a dish, not the dish: `fish pie with a potato top`.
const JOINS: [&str; 5] = ["with", "of", "in", "for", "on"];
/// By themselves these name no dish.
const TOO_PLAIN: [&str; 5] = ["bake", "roast", "dish", "one", "recipe"];

/// The everyday name of each: a nickname that its author gave, else the end of its name that no other has: `loaf` and
/// `soup`; of two loaves `tin loaf` and `spelt loaf`.
pub(super) fn everyday(formulas: &[&Formula]) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for (at, formula) in formulas.iter().enumerate() {
        let others = formulas
            .iter()
            .enumerate()
            .filter(|(other, _)| *other != at);
        let others: Vec<Vec<String>> = others.flat_map(|(_, f)| ways(f)).collect();
        let fits = |way: &&Vec<String>| {
            !others.contains(way) && !TOO_PLAIN.contains(&way.join(" ").as_str())
        };
        let own = ways(formula);
        let mut name = own
            .iter()
            .find(fits)
            .or(own.last())
            .map_or_else(|| "dish".to_owned(), |way| way.join(" "));
        let same = names.iter().filter(|n| **n == name).count() as u64;
        if same > 0 {
            let number = crate::measure::words::cardinal(same + 1);
            name = format!("{name} {number}");
        }
        names.push(name);
    }
    names
}

/// All that a dish may be called: its nicknames, then its name from its last word on, the shortest first.
fn ways(formula: &Formula) -> Vec<Vec<String>> {
    let mut all: Vec<Vec<String>> = formula.told.also.iter().map(|n| name_words(n)).collect();
    let words = name_words(&formula.name);
    let joined = words.iter().position(|w| JOINS.contains(&w.as_str()));
    let head = &words[..joined.filter(|at| *at > 0).unwrap_or(words.len())];
    all.extend((0..head.len()).rev().map(|from| head[from..].to_vec()));
    all.push(words.clone());
    for way in &mut all {
        if way.len() > 1 && way[0] == "the" {
            way.remove(0);
        }
    }
    all.retain(|way| !way.is_empty());
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(of: &[(&str, &str)]) -> Vec<String> {
        let formula = |(name, also): &(&str, &str)| {
            let mut formula = Formula {
                name: (*name).to_owned(),
                ..Formula::default()
            };
            formula.told.also = also
                .split(',')
                .filter(|a| !a.is_empty())
                .map(str::to_owned)
                .collect();
            formula
        };
        let all: Vec<Formula> = of.iter().map(formula).collect();
        everyday(&all.iter().collect::<Vec<_>>())
    }

    #[test]
    fn as_short_as_tells_them_apart() {
        assert_eq!(
            names(&[
                ("Seeded tin loaf", ""),
                ("Autumn vegetable soup", ""),
                ("Fish pie with a potato top", "")
            ]),
            ["loaf", "soup", "pie"]
        );
        assert_eq!(
            names(&[("Seeded tin loaf", ""), ("Spelt loaf with a levain", "")]),
            ["tin loaf", "spelt loaf"]
        );
        assert_eq!(
            names(&[("White bean soup", ""), ("Vegetable soup", "the usual")]),
            ["bean soup", "usual"]
        );
        assert_eq!(
            names(&[("Lentil and walnut bake", ""), ("Baked custard", "")]),
            ["walnut bake", "custard"]
        );
        assert_eq!(names(&[("Soup", ""), ("Soup", "")]), ["soup", "soup two"]);
    }
}
