//! Cautions that attach themselves to a step from what it uses and what it does.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde::{Deserialize, Serialize};

use super::DEFERS;
use super::phrase::Words;

/// What a caution is about, and so who has the last word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum CautionKind {
    /// Heat on hands and faces.
    Burn,
    /// Blades and machines.
    Cut,
    /// Food that makes ill.
    Food,
    /// Allergy.
    Allergy,
    /// Small children.
    Infant,
}

/// A caution for a step.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Caution {
    /// Its name: `hot-oven`.
    pub id: String,
    /// What it is about.
    pub kind: CautionKind,
    /// The sentence.
    pub say: String,
    /// Where it comes from.
    pub source: String,
}

impl Caution {
    /// The sentence, and who has the last word where that is not the cook.
    pub fn spoken(&self) -> String {
        match self.kind {
            CautionKind::Burn | CautionKind::Cut => self.say.clone(),
            CautionKind::Food => format!("{} {DEFERS}", self.say),
            CautionKind::Allergy => format!("{} {}", self.say, super::DEFERS_ALLERGY),
            CautionKind::Infant => {
                format!("{} Ask a doctor or your local health service.", self.say)
            }
        }
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    sources: BTreeMap<String, String>,
    caution: Vec<Row>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    id: String,
    kind: CautionKind,
    ingredients: Vec<String>,
    actions: Vec<String>,
    unless: Vec<String>,
    say: String,
    source: String,
}

struct Rule {
    caution: Caution,
    ingredients: Vec<Words>,
    actions: Vec<Words>,
    /// Takes its own place out of sight.
    hides: Vec<Words>,
    /// Silences the caution.
    silences: Vec<Words>,
}

fn rules() -> &'static [Rule] {
    static RULES: OnceLock<Vec<Rule>> = OnceLock::new();
    RULES.get_or_init(|| {
        let file: File = toml::from_str(include_str!("../../shared/tables/cautions.toml"))
            .expect("the shipped table of cautions is read by a test of every build");
        let words = |list: &[String]| list.iter().map(|w| Words::of(w)).collect::<Vec<_>>();
        file.caution
            .into_iter()
            .map(|row| {
                let ingredients = words(&row.ingredients);
                let actions = words(&row.actions);
                let (hides, silences) = words(&row.unless).into_iter().partition(|phrase| {
                    ingredients
                        .iter()
                        .chain(&actions)
                        .any(|word| phrase.has(word))
                });
                let source = file.sources.get(&row.source).cloned().unwrap_or(row.source);
                let caution = Caution {
                    id: row.id,
                    kind: row.kind,
                    say: row.say,
                    source,
                };
                Rule {
                    caution,
                    ingredients,
                    actions,
                    hides,
                    silences,
                }
            })
            .collect()
    })
}

impl Rule {
    fn fits(&self, used: &[Words], text: &Words) -> bool {
        let hide = |words: &Words| self.hides.iter().fold(words.clone(), Words::without);
        if self
            .silences
            .iter()
            .any(|s| text.has(s) || used.iter().any(|u| u.has(s)))
        {
            return false;
        }
        let text = hide(text);
        let named = |word: &Words| text.has(word) || used.iter().any(|u| hide(u).has(word));
        (self.ingredients.is_empty() || self.ingredients.iter().any(named))
            && (self.actions.is_empty() || self.actions.iter().any(|action| text.has(action)))
    }
}

/// The cautions of a step: what it uses (as named) and its text. In the order of the table: hands first, then food.
pub fn cautions_in(used: &[&str], text: &str) -> Vec<&'static Caution> {
    let used: Vec<Words> = used.iter().map(|name| Words::of(name)).collect();
    let text = Words::of(text);
    rules()
        .iter()
        .filter(|rule| rule.fits(&used, &text))
        .map(|rule| &rule.caution)
        .collect()
}

/// A caution by its name in the table: `honey`.
pub fn caution(id: &str) -> Option<&'static Caution> {
    rules()
        .iter()
        .map(|rule| &rule.caution)
        .find(|c| c.id == id)
}

/// The cautions that a step's author forgot, as spoken: those of the step, less what one of the author's own already
/// says.
pub fn cautions_for(used: &[&str], text: &str, given: &[String]) -> Vec<String> {
    let given: Vec<Words> = given.iter().map(|g| Words::of(g)).collect();
    cautions_in(used, text)
        .into_iter()
        .filter(|caution| {
            let said = Words::of(&caution.say);
            !given.iter().any(|g| g.shares(&said) >= ENOUGH_SHARED)
        })
        .map(Caution::spoken)
        .collect()
}

/// Two cautions that share so many words of weight are about the same thing.
const ENOUGH_SHARED: usize = 2;

/// True for a caution that was added by the program and not by a formula's author.
pub fn is_automatic(text: &str) -> bool {
    rules().iter().any(|rule| rule.caution.spoken() == text)
}

#[cfg(test)]
mod tests {
    use super::{cautions_for, cautions_in, is_automatic};

    fn ids(used: &[&str], text: &str) -> Vec<&'static str> {
        cautions_in(used, text)
            .into_iter()
            .map(|c| c.id.as_str())
            .collect()
    }

    #[test]
    fn cautions_where_the_hand_is_about_to_do_it() {
        assert_eq!(
            ids(&[], "Turn the tin round and bake ten minutes more."),
            ["hot-oven"]
        );
        assert_eq!(
            ids(
                &["olive oil", "onion"],
                "Heat the oil and fry the onions gently."
            ),
            ["hot-oil"]
        );
        assert_eq!(
            ids(&["carrot"], "Blend the soup until smooth."),
            ["blend-hot"]
        );
        assert_eq!(
            ids(&["carrot"], "Blend the cooled soup until smooth."),
            Vec::<&str>::new()
        );
        assert_eq!(
            ids(&["garlic", "olive oil"], "Cover with oil and keep."),
            ["garlic-oil"]
        );
        assert_eq!(ids(&["honey"], "Stir in the honey."), ["honey"]);
        assert_eq!(
            ids(&["chicken stock"], "Add the stock and cook."),
            Vec::<&str>::new()
        );
        assert!(ids(&["chicken stock", "chicken"], "Roast the chicken.").contains(&"poultry"));
        assert_eq!(
            ids(&["plain flour", "eggs"], "Do not taste the batter."),
            ["raw-flour", "raw-egg"]
        );
        assert_eq!(ids(&["salt"], "Season to taste."), Vec::<&str>::new());
        let cut = "Cut the carrots to the size of a walnut.";
        assert_eq!(ids(&["carrots"], cut), Vec::<&str>::new());
        assert_eq!(ids(&["walnuts"], cut), ["whole-nuts"]);
        assert_eq!(
            ids(
                &["strong white flour"],
                "Turn the dough out onto a floured bench."
            ),
            Vec::<&str>::new()
        );
    }

    #[test]
    fn food_defers_to_the_authority() {
        let honey = cautions_in(&["honey"], "");
        assert!(honey[0].spoken().contains("doctor"));
        for caution in cautions_in(&["chicken", "rice"], "Roast the chicken, cool the rice.") {
            assert!(caution.spoken().contains("authority"), "{}", caution.id);
        }
    }

    #[test]
    fn what_the_author_said_is_not_said_twice() {
        let text = "Turn the tin and bake on.";
        assert_eq!(cautions_for(&[], text, &[]).len(), 1);
        assert!(cautions_for(&[], text, &["Mind, the tin is hot.".to_owned()]).is_empty());
        assert_eq!(
            cautions_for(&[], text, &["The knife is sharp.".to_owned()]).len(),
            1
        );
        assert!(is_automatic(&cautions_for(&[], text, &[])[0]));
        assert!(!is_automatic("Mind, the tin is hot."));
    }
}
