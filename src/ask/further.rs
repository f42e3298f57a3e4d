//! Further sums that the arithmetic answers, beside the questions that can be spoken.

use serde::{Deserialize, Serialize};

/// One further question; as `Question`, numbers are as said.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "question", rename_all = "snake_case")]
pub enum Further {
    /// 'what percent is 360 of 600'.
    PercentIs {
        /// The part in grams.
        part_g: f64,
        /// The whole (the flour) in grams.
        whole_g: f64,
    },
    /// 'how long at 65 degrees inside': time in place of heat (Celsius).
    SafeTime {
        /// The core temperature.
        core_c: f64,
    },
    /// 'how long can it stay out', 'how hot must I hold it', 'how do I cool soup'.
    Keep {
        /// What the cook wants to do with it.
        how: Keeping,
    },
    /// 'a poolish with 30 percent of 900 grams of flour'.
    Preferment {
        /// `poolish`, `biga`, `sponge` or `levain`.
        kind: String,
        /// Share of the flour in percent.
        percent: f64,
        /// Flour of the whole dough in grams; the formula's own when missing.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        flour_g: Option<f64>,
        /// Hydration of a levain in percent; 100 when missing.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        hydration: Option<f64>,
    },
    /// 'what will 900 grams of dough weigh baked'.
    BakedMass {
        /// Dough in grams; the formula's own when missing.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        dough_g: Option<f64>,
        /// Loss in percent; the formula's own when missing, else 12.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        loss_percent: Option<f64>,
    },
    /// 'my dough came out at 27 with flour 20, room 22 and water 30': the mixer's friction (Celsius).
    Friction {
        /// What the dough came out at.
        dough_c: f64,
        /// Flour.
        flour_c: f64,
        /// Room.
        room_c: f64,
        /// Water.
        water_c: f64,
        /// Preferment, when there was one.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        preferment_c: Option<f64>,
    },
}

/// What is to be done with cooked food.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Keeping {
    /// Held hot for service.
    Hot,
    /// Held cold.
    Cold,
    /// Cooled down for keeping.
    Cool,
    /// Left out on the table.
    Out,
}
