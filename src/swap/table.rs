//! The table of swaps.

use std::sync::OnceLock;

use serde::{Deserialize, Serialize};

use super::SwapError;
use crate::measure::{Mass, Region, TableIngredient, Unit, Volume, ingredients, say};
use crate::safety::{Allergen, Contents, Law, State, allergens};

/// One swap.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Swap {
    /// What the formula says, by its name in the ingredient table.
    pub of: String,
    /// What goes in instead; often one thing, sometimes two together.
    pub with: Vec<Other>,
    /// What comes out of the dough in exchange.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub take_out: Vec<Other>,
    /// What changes in the result.
    pub changes: String,
    /// Where it comes from.
    pub source: String,
}

/// What goes in, for one gram (or one spoon) of what goes out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Other {
    /// By its name in the ingredient table.
    pub name: String,
    /// Grams for one gram.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub per_gram: Option<f64>,
    /// Spoons for one spoon.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub per_volume: Option<f64>,
}

/// What a swap does to the allergens of a formula.
#[derive(Debug, Clone, PartialEq)]
pub struct Exchange {
    /// Those that come in.
    pub brings: Vec<Allergen>,
    /// Those that may come in: the packet tells.
    pub may_bring: Vec<Allergen>,
    /// Those that surely go with what goes out; something else may still hold them.
    pub takes_away: Vec<Allergen>,
    /// Those that the new thing may hold as well.
    pub may_keep: Vec<Allergen>,
    /// Those that the new thing has as well: egg white for egg.
    pub keeps: Vec<Allergen>,
}

/// So much of one thing.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Measured {
    /// Its name.
    pub name: String,
    /// How much.
    pub mass: Mass,
}

#[derive(Deserialize)]
struct File {
    swap: Vec<Swap>,
}

/// Every swap.
pub fn all() -> &'static [Swap] {
    static TABLE: OnceLock<Vec<Swap>> = OnceLock::new();
    TABLE.get_or_init(shipped)
}

fn shipped() -> Vec<Swap> {
    toml::from_str::<File>(include_str!("../../shared/tables/swaps.toml"))
        .expect("the shipped table of swaps is read by a test of every build")
        .swap
}

/// Every swap for something, by any of its names.
///
/// # Errors
/// [`SwapError::NoneFor`] where nothing is listed.
pub fn options(of: &str) -> Result<Vec<&'static Swap>, SwapError> {
    let names = meant(of);
    let found: Vec<&Swap> = all()
        .iter()
        .filter(|swap| names.contains(&swap.of.as_str()))
        .collect();
    if found.is_empty() {
        Err(SwapError::NoneFor { of: of.to_owned() })
    } else {
        Ok(found)
    }
}

/// The swap from one thing to another.
///
/// # Errors
/// [`SwapError::NoneFor`] where nothing is listed for it, [`SwapError::NotWith`] where only other things are.
pub fn find(of: &str, with: &str) -> Result<&'static Swap, SwapError> {
    let options = options(of)?;
    let wanted = meant(with);
    options
        .iter()
        .find(|swap| {
            swap.with
                .iter()
                .any(|other| wanted.contains(&other.name.as_str()))
        })
        .copied()
        .ok_or_else(|| SwapError::NotWith {
            of: of.to_owned(),
            with: with.to_owned(),
            listed: options.iter().map(|swap| swap.with_words()).collect(),
        })
}

/// The table's names for what a cook calls it; several where a short word leaves it open: 'dried' and 'fresh' are
/// yeasts where yeasts are spoken of, 'oil' is any oil.
fn meant(said: &str) -> Vec<&'static str> {
    let said = said.trim().to_lowercase();
    match said.as_str() {
        "fresh" => return vec!["fresh yeast"],
        "dried" | "dry" | "active" => return vec!["active dried yeast", "instant yeast"],
        "instant" | "fast action" | "easy bake" => return vec!["instant yeast"],
        "yeast" => return vec!["instant yeast", "active dried yeast", "fresh yeast"],
        "kosher" => return vec!["kosher salt"],
        "oil" => return vec!["vegetable oil", "olive oil", "rapeseed oil", "coconut oil"],
        "starter" => return vec!["sourdough starter"],
        _ => {}
    }
    ingredients()
        .find(&said)
        .map(|row| vec![row.name.as_str()])
        .unwrap_or_default()
}

impl Swap {
    /// What goes in, in words: 'whole milk with lemon juice'.
    pub fn with_words(&self) -> String {
        self.with
            .iter()
            .map(|o| o.name.as_str())
            .collect::<Vec<_>>()
            .join(" with ")
    }

    /// What goes in for so much of what goes out.
    pub fn instead_of(&self, mass: Mass) -> Vec<Measured> {
        self.with
            .iter()
            .map(|other| other.amount(&self.of, mass))
            .collect()
    }

    /// What comes out in exchange, for so much of what goes out.
    pub fn take_out_for(&self, mass: Mass) -> Vec<Measured> {
        self.take_out
            .iter()
            .map(|other| other.amount(&self.of, mass))
            .collect()
    }

    /// What this swap does to the allergens of a formula that holds these already.
    pub fn allergens(&self, law: Law, held: &[String]) -> Exchange {
        let out = Contents::of_names([self.of.as_str()]);
        let new = Contents::of_names(self.with.iter().map(|o| o.name.as_str()));
        let is_new = |a: &Allergen| !held.contains(&a.id) && out.state(a.of) != State::Holds;
        let all = |fits: &dyn Fn(&Allergen) -> bool| {
            allergens(law).filter(|a| fits(a)).cloned().collect()
        };
        Exchange {
            brings: all(&|a| new.state(a.of) == State::Holds && is_new(a)),
            may_bring: all(&|a| {
                new.state(a.of) == State::May && is_new(a) && out.state(a.of) != State::May
            }),
            keeps: all(&|a| out.state(a.of) == State::Holds && new.state(a.of) == State::Holds),
            takes_away: all(&|a| {
                out.state(a.of) == State::Holds && new.state(a.of) == State::NoneKnown
            }),
            may_keep: all(&|a| {
                out.state(a.of) == State::Holds
                    && matches!(new.state(a.of), State::May | State::Unknown)
            }),
        }
    }

    /// True where the swap goes by the spoon.
    pub fn by_volume(&self) -> bool {
        self.with.iter().any(|other| other.per_volume.is_some())
    }
}

impl Other {
    fn amount(&self, of: &str, mass: Mass) -> Measured {
        let density = |name: &str| {
            ingredients()
                .find(name)
                .and_then(|i: &TableIngredient| i.g_per_ml)
        };
        let grams = match (self.per_gram, self.per_volume) {
            (Some(ratio), _) => mass.as_grams() * ratio,
            (None, Some(ratio)) => match (density(of), density(&self.name)) {
                (Some(from), Some(to)) => mass.as_grams() / from * ratio * to,
                _ => mass.as_grams() * ratio,
            },
            (None, None) => mass.as_grams(),
        };
        Measured {
            name: self.name.clone(),
            mass: Mass::grams(grams),
        }
    }
}

impl Measured {
    /// Spoons, for what goes by the spoon: 'a teaspoon'.
    pub fn spoons(&self, region: Region) -> Option<String> {
        let density = ingredients().find(&self.name)?.g_per_ml?;
        let volume = Volume::millilitres(self.mass.as_grams() / density);
        (volume.as_millilitres() <= 6.0 * Unit::Tablespoon(region).size())
            .then(|| say::spoons(volume, region).0)
    }
}

#[cfg(test)]
mod tests {
    use super::{all, find, options};
    use crate::measure::{Mass, ingredients};
    use crate::safety::{Allergen, Law};
    use crate::swap::SwapError;

    #[test]
    fn at_least_forty_and_each_complete() {
        assert!(all().len() >= 40, "{}", all().len());
        for swap in all() {
            assert!(ingredients().find(&swap.of).is_some(), "{}", swap.of);
            assert!(
                !swap.changes.is_empty() && !swap.source.is_empty(),
                "{}",
                swap.of
            );
            for other in swap.with.iter().chain(&swap.take_out) {
                assert!(ingredients().find(&other.name).is_some(), "{}", other.name);
                assert!(
                    other.per_gram.is_some() != other.per_volume.is_some(),
                    "{}",
                    other.name
                );
            }
        }
    }

    // Nothing goes that the new thing may still hold, and what comes in was not there.
    #[test]
    fn an_allergen_goes_only_where_the_new_thing_surely_has_none() {
        let ids = |list: Vec<Allergen>| list.into_iter().map(|a| a.id).collect::<Vec<_>>();
        let told = |of: &str, with: &str| find(of, with).unwrap().allergens(Law::Eu, &[]);
        let soya = told("whole milk", "soya milk");
        assert_eq!(ids(soya.brings), ["soybeans"]);
        assert_eq!(ids(soya.takes_away), ["milk"]);
        let margarine = told("butter", "margarine");
        assert!(margarine.takes_away.is_empty());
        assert_eq!(ids(margarine.may_keep), ["milk"]);
        assert_eq!(ids(margarine.may_bring), ["soybeans"]);
        for swap in all() {
            for name in swap.with.iter().map(|o| &o.name).chain([&swap.of]) {
                assert!(!crate::safety::read_name(name).unknown, "{name}");
            }
        }
    }

    // Common practice, no source: 7 g of instant or dried yeast is about 20 g fresh; 21 g fresh is 7 g instant.
    #[test]
    fn yeasts() {
        let grams = |of: &str, with: &str, g: f64| {
            find(of, with).unwrap().instead_of(Mass::grams(g))[0]
                .mass
                .as_grams()
        };
        assert!((grams("instant yeast", "fresh yeast", 7.0) - 21.0).abs() < 1e-9);
        assert!((grams("fresh yeast", "instant yeast", 21.0) - 7.0).abs() < 1e-9);
        assert!((grams("dried", "fresh", 7.0) - 17.5).abs() < 1e-9);
        assert!((grams("dried", "fresh", 7.0) - 20.0).abs() <= 3.0);
    }

    #[test]
    fn a_third_of_the_spoons() {
        let swap = find("fresh basil", "dried basil").unwrap();
        assert!(swap.by_volume());
        // 24 g a cup fresh is half a gram a teaspoon, dried is 0.7 g a teaspoon.
        let dried = swap.instead_of(Mass::grams(3.0 * 24.0 / 48.0))[0]
            .mass
            .as_grams();
        assert!((dried - 0.7).abs() < 0.01, "{dried}");
    }

    #[test]
    fn what_is_not_listed_is_said() {
        assert!(options("butter").unwrap().len() >= 5);
        assert_eq!(
            options("gravel"),
            Err(SwapError::NoneFor {
                of: "gravel".into()
            })
        );
        assert!(matches!(
            find("butter", "gravel"),
            Err(SwapError::NotWith { .. })
        ));
        let held = ["soybeans".to_owned()];
        let soya = find("whole milk", "soya milk").unwrap();
        assert!(soya.allergens(Law::Eu, &held).brings.is_empty());
    }
}
