//! Cautions that attach themselves to a step from what it uses and what it does.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use serde::{Deserialize, Serialize};

use super::DEFERS;
use super::phrase::Words;
use super::scene::{Pattern, Scene};
use super::temperature::{self, Core};
use crate::measure::Region;

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
    /// The sentence; `{hot}` and `{cool}` stand for the limits of the region.
    say: String,
    /// Where it comes from.
    pub source: String,
}

impl Caution {
    /// The sentence, and who has the last word where that is not the cook.
    pub fn spoken(&self, region: Region) -> String {
        let say = temperature::fill_limits(&self.say, region);
        match self.kind {
            CautionKind::Burn | CautionKind::Cut => say,
            CautionKind::Food => format!("{say} {DEFERS}"),
            CautionKind::Allergy => format!("{say} {}", super::DEFERS_ALLERGY),
            CautionKind::Infant => format!("{say} Ask a doctor or your local health service."),
        }
    }
}

/// What the program adds to a step: a caution, or how hot its food must get.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Danger {
    /// A caution of the table.
    Caution(&'static Caution),
    /// The core temperature of the food of this class.
    Core(&'static Core),
}

impl Danger {
    /// Its name: `hot-oven`; of a temperature that of the food: `poultry`.
    pub fn id(self) -> &'static str {
        match self {
            Self::Caution(caution) => &caution.id,
            Self::Core(core) => &core.id,
        }
    }

    /// The sentence, with the values of the region.
    pub fn spoken(self, region: Region) -> String {
        match self {
            Self::Caution(caution) => caution.spoken(region),
            Self::Core(core) => format!("{} {DEFERS}", core.done_at(region)),
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
    when: Vec<String>,
    say: String,
    source: String,
}

struct Rule {
    caution: Caution,
    when: Vec<Pattern>,
}

fn rules() -> &'static [Rule] {
    static RULES: OnceLock<Vec<Rule>> = OnceLock::new();
    RULES.get_or_init(|| {
        let file: File = toml::from_str(include_str!("../../shared/tables/cautions.toml"))
            .expect("the shipped table of cautions is read by a test of every build");
        file.caution
            .into_iter()
            .map(|row| Rule {
                when: row
                    .when
                    .into_iter()
                    .map(|text| Pattern::read(text.leak()))
                    .collect(),
                caution: Caution {
                    id: row.id,
                    kind: row.kind,
                    say: row.say,
                    source: file.sources.get(&row.source).cloned().unwrap_or(row.source),
                },
            })
            .collect()
    })
}

/// The dangers of one step: what it uses (as named) and its text. In the order of the table: hands first, then food, then
/// how hot it must get, of all its foods the hottest and no other.
pub fn dangers_in(used: &[&str], text: &str) -> Vec<Danger> {
    let scene = Scene::of(used, text);
    let core = temperature::core_in(&scene).map(|(core, _)| Danger::Core(core));
    cautions_of(&scene)
        .map(Danger::Caution)
        .chain(core)
        .collect()
}

fn cautions_of(scene: &Scene) -> impl Iterator<Item = &'static Caution> {
    rules()
        .iter()
        .filter(|rule| rule.when.iter().any(|pattern| scene.fits(pattern)))
        .map(|rule| &rule.caution)
}

/// One step of a formula, as the cautions see it.
#[derive(Debug)]
pub struct StepSeen<'a> {
    /// What it uses, as named.
    pub used: Vec<&'a str>,
    /// Its text.
    pub text: &'a str,
    /// The author's own cautions.
    pub given: &'a [String],
}

/// The dangers that the author did not write of, for each step: each caution once in a bake, where it first comes; of one
/// food only the hottest temperature, where it is first wanted.
pub fn dangers_of(steps: &[StepSeen]) -> Vec<Vec<Danger>> {
    let scenes: Vec<Scene> = steps.iter().map(|s| Scene::of(&s.used, s.text)).collect();
    let cores: Vec<_> = scenes.iter().map(temperature::core_in).collect();
    let mut said: Vec<&str> = Vec::new();
    steps
        .iter()
        .zip(&scenes)
        .enumerate()
        .map(|(at, (step, scene))| {
            let given: Vec<Words> = step.given.iter().map(|g| Words::of(g)).collect();
            let is_given = |text: &str| {
                let words = Words::of(text);
                given.iter().any(|g| g.shares(&words) >= ENOUGH_SHARED)
            };
            let mut here: Vec<Danger> = Vec::new();
            for caution in cautions_of(scene) {
                let new = !said.contains(&caution.id.as_str());
                if new && !is_given(&caution.say) {
                    here.push(Danger::Caution(caution));
                }
                if new {
                    said.push(&caution.id);
                }
            }
            if let Some((core, of)) = &cores[at] {
                // Another step that wants it hotter, or as hot and before, says it.
                let said_elsewhere = cores.iter().enumerate().any(|(other, there)| {
                    there.as_ref().is_some_and(|(hotter, same)| {
                        other != at
                            && temperature::is_one_thing(of, same)
                            && (hotter.celsius > core.celsius
                                || hotter.celsius == core.celsius && other < at)
                    })
                });
                if !said_elsewhere && !is_given(&core.done_at(Region::Us)) {
                    here.push(Danger::Core(core));
                }
            }
            here
        })
        .collect()
}

/// A caution by its name in the table: `honey`.
pub fn caution(id: &str) -> Option<&'static Caution> {
    rules()
        .iter()
        .map(|rule| &rule.caution)
        .find(|c| c.id == id)
}

/// Two cautions that share so many words of weight are about the same thing.
const ENOUGH_SHARED: usize = 2;

#[cfg(test)]
mod tests {
    use super::{Danger, StepSeen, dangers_in, dangers_of};
    use crate::measure::Region;

    fn ids(used: &[&str], text: &str) -> Vec<&'static str> {
        dangers_in(used, text).into_iter().map(Danger::id).collect()
    }

    #[test]
    fn cautions_where_the_hand_is_about_to_do_it() {
        for (used, text, wanted) in [
            (
                &[][..],
                "Turn the tin round and bake ten minutes more.",
                &["hot-oven"][..],
            ),
            (&["carrot"], "Blend the soup until smooth.", &["blend-hot"]),
            (&["carrot"], "Blend the cooled soup until smooth.", &[]),
            (
                &["garlic", "olive oil"],
                "Cover with oil and keep in a jar.",
                &["garlic-oil"],
            ),
            (&["honey"], "Stir in the honey for the baby.", &["honey"]),
            (&["chicken stock"], "Add the stock and cook.", &[]),
            (
                &["chicken stock", "chicken"],
                "Roast the chicken.",
                &["poultry"],
            ),
            (&["chicken"], "Let the chicken legs brown.", &["poultry"]),
            (&[], "Slice the roast chicken into the salad.", &[]),
            (&["salt"], "Season to taste.", &[]),
            (
                &["carrots"],
                "Cut the carrots to the size of a walnut.",
                &[],
            ),
            (
                &["strong white flour"],
                "Turn the dough out onto a floured bench.",
                &[],
            ),
            (
                &["plain flour", "eggs"],
                "Lick the cake mixture off the spoon.",
                &["raw-flour", "raw-egg"],
            ),
        ] {
            assert_eq!(ids(used, text), wanted, "{text}");
        }
    }

    #[test]
    fn of_several_temperatures_the_hottest_once() {
        assert_eq!(
            ids(&[], "Stuff the chicken with sausage meat and roast it."),
            ["stuffed"]
        );
        assert_eq!(
            ids(&[], "Fry the bacon, then the beef mince, then the steak."),
            ["minced"]
        );
        let step = |text| StepSeen {
            used: vec!["minced beef"],
            text,
            given: &[],
        };
        let steps = [
            step("Brown the beef mince."),
            step("Form the mince into meatballs and fry them."),
            step("Leave the sauce on the counter to cool, and in the fridge overnight."),
            step("Cool the sauce on the worktop."),
        ];
        let all: Vec<Vec<&str>> = dangers_of(&steps)
            .into_iter()
            .map(|list| list.into_iter().map(Danger::id).collect())
            .collect();
        assert_eq!(all, [vec!["minced"], vec![], vec!["cooling"], vec![]]);
    }

    #[test]
    fn food_defers_to_the_authority() {
        for danger in dangers_in(
            &["chicken", "rice"],
            "Roast the chicken, leave the rice overnight.",
        ) {
            assert!(
                danger.spoken(Region::Uk).contains("authority"),
                "{}",
                danger.id()
            );
        }
    }

    #[test]
    fn what_the_author_said_is_not_said_twice() {
        let told = |given: &str| {
            let given = [given.to_owned()];
            let step = StepSeen {
                used: Vec::new(),
                text: "Turn the tin and bake on.",
                given: &given,
            };
            dangers_of(&[step])[0].len()
        };
        assert_eq!(told("Careful, the tin is hot."), 0);
        assert_eq!(told("The knife is sharp."), 1);
    }
}
