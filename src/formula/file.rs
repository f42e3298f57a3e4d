//! The formula file as TOML: the shape that serde reads and the published JSON Schema describes.

use schemars::JsonSchema;
use serde::Deserialize;
use serde_spanned::Spanned;

/// A formula file of `commis`.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FormulaFile {
    /// Name as printed and spoken.
    #[schemars(with = "String", length(min = 1))]
    pub name: Spanned<String>,
    /// Other names that it is found by.
    #[serde(default)]
    #[schemars(with = "Vec<String>")]
    pub also: Vec<Spanned<String>>,
    /// One or two sentences about it.
    #[serde(default)]
    pub about: String,
    /// Where it comes from: a book, a person, an address. Never opened.
    pub source: Option<String>,
    /// A word of the author's own.
    pub note: Option<String>,
    /// What is needed beside the ingredients.
    #[serde(default)]
    pub equipment: Vec<String>,
    /// How long it keeps, and where: `3 days in a tin`.
    pub keeps: Option<String>,
    /// Path of a picture, beside the file. Never opened.
    pub picture: Option<String>,
    /// Words to find it by: `bread`, `sunday`.
    #[serde(default)]
    pub tags: Vec<String>,
    /// Whose spoons and cups a bare `cup` or `tbsp` is: `us`, `uk`, `metric` or `au`; `metric` when missing.
    #[schemars(with = "Option<String>")]
    pub region: Option<Spanned<String>>,
    /// What it makes as written.
    pub makes: MakesFile,
    /// The tin.
    pub tin: Option<TinFile>,
    /// The oven.
    pub oven: Option<OvenFile>,
    /// For doughs.
    pub dough: Option<DoughFile>,
    /// Ingredients in weighing order.
    #[schemars(with = "Vec<IngredientFile>", length(min = 1))]
    pub ingredient: Spanned<Vec<IngredientFile>>,
    /// Steps in working order.
    #[schemars(with = "Vec<StepFile>", length(min = 1))]
    pub step: Spanned<Vec<StepFile>>,
}

/// What a formula makes.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MakesFile {
    /// Portions (helpings); above 0.
    #[schemars(with = "f64", range(min = 0.1, max = 10000.0))]
    pub portions: Spanned<f64>,
    /// The most portions, where it makes from so many to so many.
    #[schemars(with = "Option<f64>", range(min = 0.1, max = 10000.0))]
    pub portions_to: Option<Spanned<f64>>,
    /// Pieces: 1 for one loaf; above 0.
    #[schemars(with = "Option<f64>", range(min = 0.1, max = 10000.0))]
    pub pieces: Option<Spanned<f64>>,
    /// What one piece is called: `loaf`, `roll`, `bowl`.
    pub piece: String,
    /// Mass lost in cooking, percent of what went in, 0 to 80.
    #[schemars(with = "Option<f64>", range(min = 0.0, max = 80.0))]
    pub loss_percent: Option<Spanned<f64>>,
}

/// The tin.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TinFile {
    /// `round`, `square`, `rectangle` or `loaf`.
    #[schemars(with = "String")]
    pub shape: Spanned<String>,
    /// Inside size: `23 x 13 x 7 cm`; round: `20 x 6 cm` (diameter, depth).
    #[schemars(with = "String")]
    pub size: Spanned<String>,
}

/// The oven.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OvenFile {
    /// Heat without fan: `220 C`, `425 F` or `gas 7`.
    #[schemars(with = "String")]
    pub heat: Spanned<String>,
    /// Time that it needs to get hot: `25 min`.
    #[schemars(with = "Option<String>")]
    pub lead: Option<Spanned<String>>,
}

/// For doughs.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DoughFile {
    /// Wanted dough temperature: `25 C`.
    #[schemars(with = "Option<String>")]
    pub temperature: Option<Spanned<String>>,
}

/// One ingredient.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct IngredientFile {
    /// Short id, unique in the file: lower-case letters, digits and `-`.
    #[schemars(with = "String", regex(pattern = "^[a-z][a-z0-9-]*$"))]
    pub id: Spanned<String>,
    /// Name as printed and spoken; the id when missing.
    pub name: Option<String>,
    /// Other ways to say it.
    #[serde(default)]
    pub also: Vec<String>,
    /// How the voice is to say the name, where it says it badly: `en doo ya`.
    #[schemars(with = "Option<String>")]
    pub say: Option<Spanned<String>>,
    /// Its row in the ingredient tables, when the name is not one.
    #[schemars(with = "Option<String>")]
    pub table: Option<Spanned<String>>,
    /// Amount, best by weight: `500 g`, `2 eggs`, `2-3 cloves`, `2 x 400 g tins`; or words where it is not measured:
    /// `to taste`, `for frying`, `as needed`, which is what a missing one means.
    #[schemars(with = "Option<String>")]
    pub amount: Option<Spanned<String>>,
    /// What more of it is needed: `for dusting`.
    pub extra: Option<String>,
    /// How it is to be: `finely chopped`.
    pub note: Option<String>,
    /// It may be left out.
    #[serde(default)]
    pub optional: bool,
    /// What may be taken in its place, as much of it: `margarine`.
    #[serde(default)]
    #[schemars(with = "Vec<String>")]
    pub or: Vec<Spanned<String>>,
    /// The part of the dish that it belongs to: `filling`.
    #[schemars(with = "Option<String>")]
    pub part: Option<Spanned<String>>,
    /// Household measure as a courtesy: `4 cups`.
    #[schemars(with = "Option<String>")]
    pub household: Option<Spanned<String>>,
    /// `flour` (counts as flour in percentages), `water` (moves with hydration) or `apart` (not part of the dough).
    #[schemars(with = "Option<String>")]
    pub role: Option<Spanned<String>>,
    /// Allergens by the words of Regulation (EU) No 1169/2011, annex II; added to what the tables say.
    #[serde(default)]
    #[schemars(with = "Vec<String>")]
    pub allergens: Vec<Spanned<String>>,
}

/// One step.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StepFile {
    /// Short heading.
    pub title: String,
    /// What to do; `{flour}` stands for today's amount of flour.
    #[schemars(with = "String", length(min = 1))]
    pub text: Spanned<String>,
    /// A recording (FLAC) that is played in place of the text: a path from the file's own folder downwards.
    #[schemars(with = "Option<String>")]
    pub recording: Option<Spanned<String>>,
    /// What goes in: ids, with a part before it where not all of it does: `1/2 butter`.
    #[serde(default)]
    #[schemars(with = "Vec<String>")]
    pub uses: Vec<Spanned<String>>,
    /// Call what goes in one by one, as a weigh-up.
    #[serde(default)]
    pub weigh_up: bool,
    /// Timers offered here.
    #[serde(default)]
    pub timer: Vec<TimerFile>,
    /// A question that ends the step: `Has it doubled?`.
    pub look: Option<String>,
    /// Cautions, spoken once.
    #[serde(default)]
    pub cautions: Vec<String>,
    /// Hands-on time: `10 min`; `0 min` where there is only waiting; 2 minutes when missing.
    #[schemars(with = "Option<String>")]
    pub hands_on: Option<Spanned<String>>,
    /// The step uses the oven at the formula's heat.
    #[serde(default)]
    pub oven: bool,
    /// The step uses the oven at a heat of its own: `180 C`.
    #[schemars(with = "Option<String>")]
    pub heat: Option<Spanned<String>>,
    /// The part of the dish that it belongs to: `filling`.
    #[schemars(with = "Option<String>")]
    pub part: Option<Spanned<String>>,
    /// The step is done while the wait of the step before goes on: a plan counts no time for it beside that.
    #[serde(default)]
    pub alongside: bool,
    /// The step begins no later than this after the one before is done: `10 min`, or `0 min` for at once. Where it is
    /// missing, a plan goes by the kind of the step before: at once after a boil, soon after seasoning or shaping, long
    /// after a rest in the cold.
    #[schemars(with = "Option<String>")]
    pub within: Option<Spanned<String>>,
}

/// One timer that a step offers.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TimerFile {
    /// Spoken name: `first rise`.
    #[schemars(with = "String", length(min = 1))]
    pub name: Spanned<String>,
    /// Length: `1 h 15 min`; or from so long to so long: `30-40 min`, `8 to 16 h`.
    #[schemars(with = "String")]
    pub lasts: Spanned<String>,
    /// What is asked when its time has come: `Has it doubled?`.
    pub look: Option<String>,
    /// It runs while the work goes on, and nobody waits for it: kneading, an oven getting hot. A plan counts only the
    /// step's hands-on time.
    #[serde(default)]
    pub alongside: bool,
    /// It waits in the fridge or another cold place, so that its time does not follow the kitchen; a name such as `cold
    /// rise` or `chill` says so as well.
    #[serde(default)]
    pub cold: bool,
    /// What it waits at, where that is no room: `4 C` for a fridge, `30 C` for a warm cupboard. Its time does not follow
    /// the kitchen.
    #[schemars(with = "Option<String>")]
    pub kept_at: Option<Spanned<String>>,
    /// Cues inside it.
    #[serde(default)]
    pub cue: Vec<CueFile>,
}

/// One cue inside a timer: exactly one of `at` and `left`.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CueFile {
    /// Time from the timer's start: `12 min`.
    #[schemars(with = "Option<String>")]
    pub at: Option<Spanned<String>>,
    /// Time left on the timer: `10 min`.
    #[schemars(with = "Option<String>")]
    pub left: Option<Spanned<String>>,
    /// What is said: `Turn the tin`.
    #[schemars(with = "String", length(min = 1))]
    pub say: Spanned<String>,
}
