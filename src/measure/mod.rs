//! Quantities as a cook handles them: mass, volume, temperature, counts, and how they are read and said.
//!
//! Values are kept as `f64` in one base unit (grams, millilitres, degrees Celsius, centimetres). Unit factors are the
//! exact decimal definitions, so one conversion errs by at most two roundings (relative error below 3e-16) and a round
//! trip by below 1e-15; a test drives a thousand round trips through every unit to show that nothing drifts.

mod amount;
mod egg;
mod error;
mod gelatine;
mod ingredient;
mod length;
mod line;
mod mass;
mod named_heat;
pub mod print;
mod region;
pub mod say;
mod scan;
pub mod spoken_time;
mod temperature;
pub mod tin;
mod unit;
mod volume;
pub mod words;

pub use amount::{Amount, Part, Sense};
pub use egg::Egg;
pub use error::MeasureError;
pub use gelatine::{Gelatine, Jelly, Powder};
pub(crate) use ingredient::singular;
pub use ingredient::{Ingredients, Piece, TableIngredient, ingredients};
pub use length::{CM_PER_INCH, Length};
pub use line::IngredientLine;
pub use mass::Mass;
pub use named_heat::NamedHeat;
pub use region::Region;
pub use say::SayOptions;
#[cfg(feature = "program")]
pub(crate) use scan::vulgar;
pub use temperature::{GasMark, Heat, Temperature};
pub use unit::{Kind, Thing, Unit};
pub use volume::Volume;

/// Rounds to the nearest multiple of a step, half up; a step that is not positive changes nothing.
pub(crate) fn round_to(value: f64, step: f64) -> f64 {
    if step > 0.0 && step.is_finite() {
        // Dividing by the step's reciprocal keeps 0.1 steps on the nearest double of the printed decimal.
        let per = 1.0 / step;
        if (per - per.round()).abs() < 1e-9 {
            (value * per.round()).round() / per.round()
        } else {
            (value / step).round() * step
        }
    } else {
        value
    }
}
