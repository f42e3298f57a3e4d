//! The questions that the arithmetic answers, as one closed type.

use serde::{Deserialize, Serialize};
use strum::{IntoStaticStr, VariantNames};

use super::refs::{Food, UnitSymbol};

/// One quantity question. Numbers are as the cook said them; units are symbols of `measure`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, IntoStaticStr, VariantNames)]
#[serde(tag = "question", rename_all = "snake_case")]
#[strum(serialize_all = "snake_case")]
pub enum Question {
    /// 'how many grams in two cups of caster sugar', 'what is 12 ounces in grams'.
    Convert {
        /// How many of `from`.
        number: f64,
        /// Unit that is known.
        from: UnitSymbol,
        /// Unit that is wanted.
        to: UnitSymbol,
        /// Of what, as spoken; needed only between mass and volume.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        ingredient: Option<Food>,
    },
    /// 'what is 220 celsius in fahrenheit', 'gas mark for 190', 'what is gas seven in celsius'.
    ConvertTemperature {
        /// The number said.
        number: f64,
        /// `c`, `f`, `gas` or `fan`.
        from: UnitSymbol,
        /// `c`, `f`, `gas` or `fan`.
        to: UnitSymbol,
    },
    /// 'how much fresh yeast for 7 grams of dried', 'what can I use instead of butter'.
    Swap {
        /// What the formula says, as spoken.
        of: Food,
        /// What the cook has, when said.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        with: Option<Food>,
        /// How much of `of`, when said.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        number: Option<f64>,
        /// The unit of `number`.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        unit: Option<UnitSymbol>,
    },
    /// 'how much water for 900 grams of flour at 68 percent'.
    WaterForFlour {
        /// Flour in grams; the formula's own when missing.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        flour_g: Option<f64>,
        /// Hydration in percent of flour.
        percent: f64,
    },
    /// 'what is 2 percent of 900 grams'.
    PercentOf {
        /// Percent.
        percent: f64,
        /// Grams.
        grams: f64,
    },
    /// 'water temperature for dough at 25 with flour 21 and room 23' (Celsius).
    WaterTemperature {
        /// Dough temperature wanted; the formula's own when missing.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        dough_c: Option<f64>,
        /// Flour temperature; the room's when missing.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        flour_c: Option<f64>,
        /// Room temperature.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        room_c: Option<f64>,
        /// Preferment temperature, when there is one.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        preferment_c: Option<f64>,
        /// Friction of mixing in degrees; by hand it is zero.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        friction_c: Option<f64>,
        /// Tap water, for the ice sum.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        tap_c: Option<f64>,
    },
    /// 'how long will the rise take at 18 degrees' (Celsius).
    RiseAt {
        /// The room now.
        room_c: f64,
        /// The time that the formula gives, in minutes; the formula's own when missing, else the answer is a multiple.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        minutes: Option<f64>,
        /// The room that the time was given for; 21 when missing.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        at_c: Option<f64>,
    },
    /// 'how hot should chicken be inside'.
    SafeTemperature {
        /// The food as spoken.
        food: Food,
    },
    /// 'how many 95 gram rolls from two kilos of dough'.
    PiecesFrom {
        /// Dough in grams; the formula's own when missing.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        dough_g: Option<f64>,
        /// Mass of one piece in grams.
        each_g: f64,
    },
    /// 'how much does an egg weigh', 'how heavy is a clove of garlic'.
    MassOf {
        /// How many.
        number: f64,
        /// What, as spoken.
        ingredient: Food,
    },
    /// 'what percent is 360 of 600', 'what hydration is 360 grams of water on 600 of flour'.
    PercentIs {
        /// The part in grams.
        part_g: f64,
        /// The whole (the flour) in grams.
        whole_g: f64,
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
    /// 'how much dough for an 800 gram loaf'.
    DoughFor {
        /// Baked mass of all pieces together, in grams.
        baked_g: f64,
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
    /// 'how long at 65 degrees is as safe as 70 for two minutes' (Celsius).
    SafeTime {
        /// The core temperature.
        core_c: f64,
    },
    /// 'how long can it stay out', 'how hot must I hold it', 'how do I cool soup'.
    Keep {
        /// What the cook wants to do with it.
        how: Keeping,
    },
    /// 'is honey safe for a baby', 'can I keep garlic in oil', 'can I taste the raw dough'.
    Caution {
        /// The caution's name in the table: `honey`, `garlic-oil`, `raw-flour`.
        about: String,
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
