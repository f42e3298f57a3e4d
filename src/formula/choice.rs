//! 'Butter or margarine': a formula with one of them taken.

use super::model::{Formula, Ingredient};
use super::read::add_dangers;
use crate::measure::ingredients as table;

impl Formula {
    /// The formula with one of what may be taken for an ingredient; nothing where that may not be taken. What it holds, the
    /// cautions and the names follow; the mass stays, as the author writes 'as much of it'.
    pub fn taking(&self, at: usize, name: &str) -> Option<Self> {
        let i = self.ingredients.get(at)?;
        let all = || std::iter::once(&i.name).chain(&i.or);
        let same = |other: &&String| other.trim().eq_ignore_ascii_case(name.trim());
        let taken = all().find(same).filter(|_| !i.or.is_empty())?.clone();
        let untaken = all().filter(|other| **other != taken).cloned().collect();
        let mut formula = self.clone();
        formula.ingredients[at] = if taken == i.name {
            Ingredient {
                or: Vec::new(),
                untaken,
                ..i.clone()
            }
        } else {
            let row = table().find(&taken);
            Ingredient {
                table: row.map_or_else(|| taken.clone(), |row| row.name.clone()),
                name: taken,
                or: Vec::new(),
                untaken,
                // What the author told of the written one is true of that one alone.
                also: Vec::new(),
                say: None,
                allergens: Vec::new(),
                household: None,
                ..i.clone()
            }
        };
        for step in &mut formula.steps {
            step.dangers.clear();
        }
        add_dangers(&mut formula.steps, &formula.ingredients);
        Some(formula)
    }
}

#[cfg(test)]
mod tests {
    use crate::safety::Law;

    const PIE: &str = "name = \"Pie\"\n[makes]\nportions = 4\npiece = \"pie\"\n[[ingredient]]\nid = \"fat\"\nname = \"butter\"\n\
        amount = \"100 g\"\nor = [\"margarine\", \"zorkberry fat\"]\nallergens = [\"milk\"]\n[[step]]\ntitle = \"Melt\"\n\
        text = \"Melt the butter.\"\nuses = [\"fat\"]\n";

    #[test]
    fn what_it_holds_follows_what_is_taken() {
        let pie = super::super::read("pie", PIE).expect("a formula");
        let line = |f: &super::Formula| f.contents().line(Law::Eu);
        assert!(line(&pie).contains("milk"));
        let with = pie.taking(0, "Margarine").expect("it may be taken");
        assert_eq!(
            (
                with.ingredients[0].name.as_str(),
                with.ingredients[0].mass.as_grams()
            ),
            ("margarine", 100.0)
        );
        assert!(!line(&with).contains("contains milk"), "{}", line(&with));
        assert!(line(&pie.taking(0, "butter").expect("itself")).contains("contains milk"));
        // What no table knows may hold anything.
        let odd = pie.taking(0, "zorkberry fat").expect("it may be taken");
        assert!(
            line(&odd).contains("not known: zorkberry fat"),
            "{}",
            line(&odd)
        );
        assert!(pie.taking(0, "lard").is_none());
        assert!(
            with.taking(0, "butter").is_none(),
            "chosen once: the dish keeps the written one"
        );
    }
}
