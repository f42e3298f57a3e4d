//! An edited formula: which step and which ingredient of the old one is which of the new one.

use super::model::{Formula, Step};

/// What became of the steps and ingredients of a formula.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Edit {
    steps: Vec<Option<usize>>,
    ingredients: Vec<Option<usize>>,
}

impl Edit {
    /// From the formula as it was to the formula as it is. Ingredients are known by their ids, steps by their titles.
    pub fn between(was: &Formula, is: &Formula) -> Self {
        let there = |id: &str| is.ingredients.iter().position(|i| i.id == id);
        Self {
            steps: steps(was, is),
            ingredients: was.ingredients.iter().map(|i| there(&i.id)).collect(),
        }
    }

    /// Where a step of the old formula is now; nothing where it is gone.
    pub fn step(&self, was: usize) -> Option<usize> {
        self.steps.get(was).copied().flatten()
    }

    /// Where an ingredient of the old formula is now; nothing where it is gone.
    pub fn ingredient(&self, was: usize) -> Option<usize> {
        self.ingredients.get(was).copied().flatten()
    }

    /// A step of the new formula that the old one had not.
    pub fn is_new_step(&self, is: usize) -> bool {
        !self.steps.contains(&Some(is))
    }

    /// An ingredient of the new formula that the old one had not.
    pub fn is_new_ingredient(&self, is: usize) -> bool {
        !self.ingredients.contains(&Some(is))
    }
}

/// Steps by their titles, the first of a title for the first. One whose title alone was changed is known by its place
/// behind the same step and by what it says or uses.
fn steps(was: &Formula, is: &Formula) -> Vec<Option<usize>> {
    let mut taken = vec![false; is.steps.len()];
    let mut out: Vec<Option<usize>> = Vec::new();
    for step in &was.steps {
        let same = |at: &usize| !taken[*at] && is.steps[*at].title == step.title;
        let at = (0..is.steps.len()).find(same);
        at.inspect(|at| taken[*at] = true);
        out.push(at);
    }
    let uses = |formula: &Formula, step: &Step| -> Vec<String> {
        let ids = step.uses.iter();
        ids.map(|u| formula.ingredients[u.ingredient].id.clone())
            .collect()
    };
    for at in 0..out.len() {
        let behind = match at {
            0 => Some(0),
            _ => out[at - 1].map(|before| before + 1),
        };
        let Some(there) =
            behind.filter(|there| out[at].is_none() && taken.get(*there) == Some(&false))
        else {
            continue;
        };
        let (old, new) = (&was.steps[at], &is.steps[there]);
        let used = uses(was, old);
        if old.text == new.text || !used.is_empty() && used == uses(is, new) {
            taken[there] = true;
            out[at] = Some(there);
        }
    }
    out
}
