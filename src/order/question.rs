//! The questions that the arithmetic answers, as one closed type.

use serde::{Deserialize, Serialize};
use strum::{EnumString, IntoStaticStr, VariantNames};

use super::alike::{Said, SingleValue, SlotValue};
use super::meant::meant;
use super::measures::Measure::{
    Celsius, For, Grams, Minutes, Of, Parts, Percent, Things, ThingsNamed, Times,
};
use super::refs::{
    CautionName, EggSize, Food, GelatineStrength, OvenWord, PartName, SugarStageName,
};
use super::unit_symbol::UnitSymbol;

use crate::measure::Region;
use crate::measure::tin::{Shape, Size};

meant! {
    /// One quantity question. Numbers are as the cook said them; units are symbols of `measure`.
    #[derive(Debug, Clone, PartialEq, Serialize, Deserialize, IntoStaticStr, VariantNames)]
    #[serde(tag = "question", rename_all = "snake_case")]
    #[strum(serialize_all = "snake_case")]
    pub enum Question {
        /// 'how many grams in two cups of caster sugar', 'what is 12 ounces in grams'.
        Convert {
            /// How many of `from`.
            number: f64 => Of(*from),
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
            number: f64 => Of(*from),
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
            number: Option<f64> => unit.map_or(Things("of them"), Of),
            /// The unit of `number`.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            unit: Option<UnitSymbol>,
        },
        /// 'how much water for 900 grams of flour at 68 percent'.
        WaterForFlour {
            /// Flour in grams; the formula's own when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            flour_g: Option<f64> => Grams,
            /// Hydration in percent of flour.
            percent: f64 => Percent,
        },
        /// 'what is 2 percent of 900 grams'.
        PercentOf {
            /// Percent.
            percent: f64 => Percent,
            /// Grams.
            grams: f64 => Grams,
        },
        /// 'water temperature for dough at 25 with flour 21 and room 23' (Celsius).
        WaterTemperature {
            /// Dough temperature wanted; the formula's own when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            dough_c: Option<f64> => Celsius,
            /// Flour temperature; the room's when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            flour_c: Option<f64> => Celsius,
            /// Room temperature.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            room_c: Option<f64> => Celsius,
            /// Preferment temperature, when there is one.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            preferment_c: Option<f64> => Celsius,
            /// Friction of mixing in degrees; by hand it is zero.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            friction_c: Option<f64> => Celsius,
            /// Tap water, for the ice sum.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            tap_c: Option<f64> => Celsius,
        },
        /// 'how long will the rise take at 18 degrees' (Celsius).
        RiseAt {
            /// The room now.
            room_c: f64 => Celsius,
            /// The time that the formula gives, in minutes; the formula's own when missing, else the answer is a multiple.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            minutes: Option<f64> => Minutes,
            /// The room that the time was given for; 21 when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            at_c: Option<f64> => Celsius,
            /// Degrees for which the time halves, when the cook says so; else eight to ten.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            halves_per_c: Option<f64> => Celsius,
        },
        /// 'how hot should chicken be inside'.
        SafeTemperature {
            /// The food as spoken.
            food: Food,
        },
        /// 'is chicken done at 68 degrees' (Celsius).
        SafeAt {
            /// The food as spoken.
            food: Food,
            /// What the thermometer shows in its middle.
            core_c: f64 => Celsius,
        },
        /// 'the pie was left out overnight, can I eat it'.
        LeftOut {
            /// The food as spoken; what is made, when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            food: Option<Food>,
            /// For how long, in minutes; a night or longer when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            minutes: Option<f64> => Minutes,
        },
        /// 'how long does the soup keep', 'can I freeze it', 'can I warm it up tomorrow'.
        Keeps {
            /// The food as spoken; what is made, when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            food: Option<Food>,
            /// What the cook wants to do with it.
            how: KeptHow,
        },
        /// 'can I use frozen cod', 'the chicken is still frozen'.
        FromFrozen {
            /// The food as spoken; meat or fish, when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            food: Option<Food>,
        },
        /// 'how many 95 gram rolls from two kilos of dough'.
        PiecesFrom {
            /// Dough in grams; the formula's own when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            dough_g: Option<f64> => Grams,
            /// Mass of one piece in grams.
            each_g: f64 => Grams,
        },
        /// 'how much does an egg weigh', 'how heavy is a clove of garlic'.
        MassOf {
            /// How many.
            number: f64 => ThingsNamed(ingredient.to_string()),
            /// What, as spoken.
            ingredient: Food,
        },
        /// 'what percent is 360 of 600', 'what hydration is 360 grams of water on 600 of flour'.
        PercentIs {
            /// The part in grams.
            part_g: f64 => Grams,
            /// The whole (the flour) in grams.
            whole_g: f64 => Grams,
        },
        /// 'a poolish with 30 percent of 900 grams of flour'.
        Preferment {
            /// Which.
            kind: PrefermentKind,
            /// Share of the flour in percent.
            percent: f64 => Percent,
            /// Flour of the whole dough in grams; the formula's own when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            flour_g: Option<f64> => Grams,
            /// Hydration of a levain in percent; 100 when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            hydration: Option<f64> => Percent,
        },
        /// 'what will 900 grams of dough weigh baked'.
        BakedMass {
            /// Dough in grams; the formula's own when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            dough_g: Option<f64> => Grams,
            /// Loss in percent; the formula's own when missing, else 12.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            loss_percent: Option<f64> => Percent,
        },
        /// 'how much dough for an 800 gram loaf'.
        DoughFor {
            /// Baked mass of all pieces together, in grams.
            baked_g: f64 => Grams,
            /// Loss in percent; the formula's own when missing, else 12.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            loss_percent: Option<f64> => Percent,
        },
        /// 'my dough came out at 27 with flour 20, room 22 and water 30': the mixer's friction (Celsius).
        Friction {
            /// What the dough came out at.
            dough_c: f64 => Celsius,
            /// Flour.
            flour_c: f64 => Celsius,
            /// Room.
            room_c: f64 => Celsius,
            /// Water.
            water_c: f64 => Celsius,
            /// Preferment, when there was one.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            preferment_c: Option<f64> => Celsius,
        },
        /// 'how long at 65 degrees is as safe as 70 for two minutes' (Celsius).
        SafeTime {
            /// The core temperature.
            core_c: f64 => Celsius,
        },
        /// 'how long can it stay out', 'how hot must I hold it', 'how do I cool soup'.
        Keep {
            /// What the cook wants to do with it.
            how: Keeping,
        },
        /// 'is honey safe for a baby', 'can I keep garlic in oil', 'can I taste the raw dough'.
        Caution {
            /// The caution's name in the table: `honey`, `garlic-oil`, `raw-flour`.
            about: CautionName,
        },
        /// Any question with its answer wanted in another unit: 'how many ounces of water for 500 grams of flour at 70 percent'.
        Into {
            /// The question itself.
            of: Box<Question>,
            /// The unit that is wanted.
            unit: UnitSymbol,
        },
        /// Several at once: 'one cup of honey and two cups of oats in grams'.
        Together {
            /// Each of them.
            each: Vec<Question>,
        },
        /// 'if 500 grams takes 10 of salt what does 850 take'.
        RuleOfThree {
            /// The amount that is known.
            amount: f64 => Of(*unit),
            /// Its unit, or [`UnitSymbol::NONE`].
            #[serde(default, skip_serializing_if = "UnitSymbol::is_none")]
            unit: UnitSymbol,
            /// What it is for.
            base: f64 => For("for"),
            /// What it is wanted for, counted as `base` is.
            wanted: f64 => For("for"),
            /// What the amount is of, when said.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            what: Option<Food>,
        },
        /// 'what is one and a half times 340 grams', 'sixteen buns at 85 grams', 'a third of 450 grams'.
        Times {
            /// How many times; below one it is a share.
            factor: f64 => Times,
            /// How much once.
            number: f64 => Of(*unit),
            /// Its unit.
            unit: UnitSymbol,
        },
        /// 'how much flour for 350 grams of water at 70 percent', '20 grams of salt is 2 percent, how much flour'.
        FlourFor {
            /// What is known beside the flour, in grams.
            part_g: f64 => Grams,
            /// Its percent of the flour.
            percent: f64 => Percent,
        },
        /// 'how much flour for 1.5 kilos of dough at 62 percent with 2 percent salt'.
        FlourInDough {
            /// The dough in grams.
            dough_g: f64 => Grams,
            /// Everything but the flour, in percent of it.
            shares: Vec<Share>,
        },
        /// 'what does all the dough weigh', 'what does 800 grams of flour with 72 percent water and 2 percent salt make'.
        DoughMass {
            /// Flour in grams; the formula's dough when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            flour_g: Option<f64> => Grams,
            /// Everything but the flour, in percent of it.
            #[serde(default, skip_serializing_if = "Vec::is_empty")]
            shares: Vec<Share>,
        },
        /// 'hydration 70 and salt 2 percent on 600 grams of flour'.
        Shares {
            /// Flour in grams; the formula's own when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            flour_g: Option<f64> => Grams,
            /// What is wanted, in percent of it.
            shares: Vec<Share>,
        },
        /// 'how much more water takes 500 grams of flour from 65 to 72 percent'.
        MoreWater {
            /// Flour in grams; the formula's own when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            flour_g: Option<f64> => Grams,
            /// Hydration now, in percent.
            from: f64 => Percent,
            /// Hydration wanted, in percent.
            to: f64 => Percent,
        },
        /// 'what is the hydration with 500 grams of flour, 360 of water and 100 of starter'.
        HydrationOf {
            /// Flour in grams.
            flour_g: f64 => Grams,
            /// Water in grams.
            water_g: f64 => Grams,
            /// Starter in grams.
            starter_g: f64 => Grams,
            /// Hydration of the starter in percent.
            starter_percent: f64 => Percent,
        },
        /// 'how much flour is in 450 grams of starter at 125 percent'.
        InStarter {
            /// Starter in grams.
            starter_g: f64 => Grams,
            /// Its hydration in percent.
            percent: f64 => Percent,
            /// True: the water is asked for; else the flour.
            #[serde(default, skip_serializing_if = "std::ops::Not::not")]
            water: bool,
        },
        /// 'feed 40 grams of starter one to two to two', '200 grams of levain at one to five to five'.
        Feed {
            /// Starter to be fed, in grams.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            seed_g: Option<f64> => Grams,
            /// What is to come of it in all, in grams, where that is known instead.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            wanted_g: Option<f64> => Grams,
            /// Parts of flour for one of starter.
            flour: f64 => Parts,
            /// Parts of water for one of starter.
            water: f64 => Parts,
            /// What is asked for comes first.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            first: Option<FeedPart>,
        },
        /// 'what is left for the dough of 1000 flour and 680 water after a poolish of 300 flour and 300 water'.
        FinalDough {
            /// All flour in grams.
            flour_g: f64 => Grams,
            /// All water in grams.
            water_g: f64 => Grams,
            /// Flour that went ahead, in grams.
            ahead_flour_g: f64 => Grams,
            /// Water that went ahead, in grams.
            ahead_water_g: f64 => Grams,
        },
        /// 'how much ice for 350 grams of water from 28 to 12 degrees' (Celsius).
        Ice {
            /// All water, its ice counted in, in grams; the formula's own when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            water_g: Option<f64> => Grams,
            /// The tap.
            tap_c: f64 => Celsius,
            /// The water that is wanted.
            water_c: f64 => Celsius,
        },
        /// 'what percent did it lose, 860 grams of dough and 750 baked'.
        LossIs {
            /// Dough in grams.
            dough_g: f64 => Grams,
            /// Baked, in grams.
            baked_g: f64 => Grams,
        },
        /// 'from an eight inch round tin to a nine inch square one', 'what round tin equals a 20 centimetre square',
        /// 'what does a round tin of 20 centimetres and 5 deep hold'.
        Tins {
            /// The tin that is known.
            from: Size,
            /// The other one; missing when it is asked for.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            to: Option<Size>,
            /// The shape that is wanted instead, with the same floor; without it and the other tin, what the tin holds.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            shape: Option<Shape>,
        },
        /// 'how heavy is a large yolk', 'how many large whites in 150 grams', 'what does a medium egg weigh in its shell'.
        Eggs {
            /// How many; else `mass_g` is known.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            number: Option<f64> => Things("eggs"),
            /// Grams; else `number` is known.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            mass_g: Option<f64> => Grams,
            /// Which part.
            part: EggPart,
            /// As the box calls it: `small`, `medium`, `large`; the usual one when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            size: Option<EggSize>,
            /// Whose sizes; this kitchen's when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            region: Option<Region>,
        },
        /// 'how much baking powder makes 200 grams of plain flour self raising'.
        SelfRaising {
            /// Plain flour in grams.
            flour_g: f64 => Grams,
            /// Whose kind: the American has salt in it; this kitchen's when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            region: Option<Region>,
        },
        /// 'how hot is soft ball'.
        SugarStage {
            /// As the table calls it.
            stage: SugarStageName,
        },
        /// 'what stage is sugar at 118 degrees' (Celsius).
        StageAt {
            /// The sugar.
            sugar_c: f64 => Celsius,
        },
        /// 'how hot should the oil be for doughnuts'.
        Frying {
            /// The food as spoken; anything when missing.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            food: Option<Food>,
        },
        /// 'how hot is a moderate oven'.
        OvenWord {
            /// As the table calls it.
            word: OvenWord,
        },
        /// 'how many gold leaves for ten silver ones', 'how much gelatine sets a pint'.
        Gelatine {
            /// How many of `unit`.
            number: f64 => Of(*unit),
            /// `sheet`, `g`, or `ml` of what is to be set.
            unit: UnitSymbol,
            /// Strength of what is known: `bronze`, `silver`, `gold`, `platinum` or `powder`.
            from: GelatineStrength,
            /// Strength of what is wanted, or `set`: how much it sets.
            to: GelatineStrength,
        },
        /// 'how much pasta for six people'.
        Portion {
            /// The food as the table of portions calls it.
            food: Food,
            /// How many eat.
            people: f64 => ThingsNamed("people".to_owned()),
            /// Beside a main course.
            #[serde(default, skip_serializing_if = "std::ops::Not::not")]
            side: bool,
        },
        /// One part of an answer that has several: 'how much salt is in two kilos of dough at two percent'.
        Part {
            /// The question itself.
            of: Box<Question>,
            /// The part by its name.
            name: PartName,
        },
    }
}

/// So many percent of the flour, of one thing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Share {
    /// Of what.
    pub name: Food,
    /// Percent of the flour.
    pub percent: f64,
}

/// Part of an egg.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, IntoStaticStr)]
#[serde(rename_all = "snake_case")]
#[strum(serialize_all = "snake_case")]
pub enum EggPart {
    /// Without its shell.
    Whole,
    /// The white.
    White,
    /// The yolk.
    Yolk,
    /// In its shell.
    Shell,
}

/// What is to be done with cooked food.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, IntoStaticStr)]
#[serde(rename_all = "snake_case")]
#[strum(serialize_all = "snake_case")]
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

/// How food is kept until another day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, IntoStaticStr, EnumString)]
#[serde(rename_all = "snake_case")]
#[strum(serialize_all = "snake_case")]
pub enum KeptHow {
    /// In the fridge, or in its tin.
    Keep,
    /// Frozen.
    Freeze,
    /// Warmed up again.
    Reheat,
    /// Made before the hour.
    Ahead,
}

/// A kind of preferment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, IntoStaticStr, EnumString)]
#[serde(rename_all = "snake_case")]
#[strum(serialize_all = "snake_case")]
pub enum PrefermentKind {
    /// As much water as flour.
    Poolish,
    /// Firm.
    Biga,
    /// Of a dough's hydration.
    Sponge,
    /// Raised by a starter.
    Levain,
}

/// What is told first of the feeding of a starter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, IntoStaticStr)]
#[serde(rename_all = "snake_case")]
#[strum(serialize_all = "snake_case")]
pub enum FeedPart {
    /// What is fed.
    Seed,
    /// The flour.
    Flour,
    /// The water.
    Water,
    /// What comes of it.
    All,
}

/// A choice sounds like no other.
macro_rules! choices {
    ($($Choice:ty),*) => {
        $(impl SingleValue for $Choice {
            fn turn_alike(&mut self) -> bool {
                false
            }

            fn said(&self) -> Said {
                let word: &str = self.into();
                Said::InSentence(word.to_owned())
            }
        })*
    };
}

choices!(Keeping, KeptHow, EggPart, PrefermentKind, FeedPart);

impl SlotValue for Box<Question> {
    fn visit(&mut self, see: &mut dyn FnMut(&mut dyn SingleValue)) {
        (**self).visit(see);
    }
}

impl SlotValue for Share {
    fn visit(&mut self, see: &mut dyn FnMut(&mut dyn SingleValue)) {
        self.name.visit(see);
        super::measures::visit(&mut self.percent, Percent, see);
    }
}
