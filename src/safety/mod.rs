//! Safe temperatures, allergens and cautions. Every answer defers to the local food-safety authority; the program never
//! says that a dish is safe for a person.

mod allergen;
mod caution;
mod error;
mod phrase;
mod temperature;

pub use allergen::{
    Allergen, Finding, Law, allergen, allergens, allergens_of, is_allergen_word, unknown_names,
};
pub use caution::{Caution, CautionKind, caution, cautions_for, cautions_in, is_automatic};
pub use error::SafetyError;
pub use temperature::{
    DoneAt, EqualRow, Limit, SafeTemperature, Z_CELSIUS, done_temperature, equal_rows,
    equal_seconds, foods, limits, safe_foods, safe_temperature,
};

/// Where the last word lies, said after what is about food.
pub const DEFERS: &str = "Your local food authority has the last word.";
/// Where the last word lies about a person's allergy.
pub const DEFERS_ALLERGY: &str = "Check the labels; for an allergy, ask a doctor or a dietitian.";
