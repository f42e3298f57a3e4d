//! What the whole formula is scaled by.

use serde::{Deserialize, Serialize};
use strum::{IntoStaticStr, VariantNames};

use super::meant::meant;
use super::measures::Measure::{Centimetres, Percent, Things, Times};
use super::refs::{IngredientId, PartName};
use crate::measure::Mass;
use crate::measure::tin::Shape;

meant! {
    /// What the whole formula is scaled by.
    #[derive(Debug, Clone, PartialEq, Serialize, Deserialize, IntoStaticStr, VariantNames)]
    #[serde(rename_all = "snake_case")]
    #[strum(serialize_all = "snake_case")]
    pub enum ScaleBy {
        /// Back to the formula as written.
        AsWritten,
        /// A factor of the formula as written.
        Factor(f64 => Times),
        /// So many portions.
        Portions(f64 => Things("portions")),
        /// Total flour.
        Flour(Mass),
        /// Total dough.
        Dough(Mass),
        /// So many pieces of a mass each: of dough, or baked.
        Pieces {
            /// How many.
            count: f64 => Things("pieces"),
            /// Mass of each.
            each: Mass,
            /// The mass is that after baking.
            #[serde(default, skip_serializing_if = "std::ops::Not::not")]
            baked: bool,
        },
        /// No more than this of an ingredient.
        Limit {
            /// The ingredient.
            ingredient: IngredientId,
            /// What there is of it.
            have: Mass,
        },
        /// One part of the dish alone, so many times as it is written.
        Part {
            /// Which part.
            part: PartName,
            /// How many times.
            times: f64 => Times,
        },
        /// Another tin; sizes in centimetres. Two numbers: rectangle or loaf; one: round (diameter).
        Tin {
            /// Its shape.
            shape: Shape,
            /// Sizes in centimetres: length and width, or diameter, then depth when known.
            size_cm: Vec<f64> => Centimetres,
        },
        /// Another hydration, in percent of flour; the water moves.
        Hydration(f64 => Percent),
    }
}
