//! Safe temperatures, allergens and cautions. Every answer defers to the local food-safety authority; the program never
//! says that a dish is safe for a person.

mod caution;
mod contents;
mod error;
mod keeping;
mod law;
mod matter;
mod name;
mod phrase;
mod scene;
mod temperature;
mod text;
mod vocabulary;

pub use caution::{Caution, CautionKind, Danger, StepSeen, caution, dangers_in, dangers_of};
pub use contents::{Contents, Finding, Item, State, Wish};
pub use error::SafetyError;
pub use keeping::{Kept, kept};
pub use law::{Allergen, Law, allergen, allergens, is_allergen_word, topic};
pub use matter::Matters;
pub use name::{NameContents, read_name};
pub use temperature::{
    Core, DoneAt, EqualRow, Limit, SafeTemperature, Z_CELSIUS, done_temperature, equal_rows,
    equal_seconds, foods, limit, limits, safe_temperature, steak_done,
};

/// Where the last word lies, said after what is about food.
pub const DEFERS: &str = "Your local food authority has the last word.";
/// Where the last word lies about a person's allergy.
pub const DEFERS_ALLERGY: &str = "Check the labels; for an allergy, ask a doctor or a dietitian.";

/// 'salt, yeast and water'.
fn list(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}
