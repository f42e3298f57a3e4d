//! Quantity questions, and their answers from real computation.

mod answer;
mod bakery;
mod convert;
mod eggs;
mod error;
mod gelatine;
mod heat;
mod instead;
mod keeping;
mod levain;
mod nearest;
mod portions;
mod round;
mod stages;
mod sums;
mod tins;

pub use crate::order::{EggPart, Keeping, KeptHow, Question, Share};
pub use answer::{Answer, AnswerPart, AskedDish, Context};
pub use error::AskError;
pub use nearest::{EXAMPLES, nearest};
pub use portions::{pasta_salt_g, portion_of};

/// Answers one question.
///
/// # Errors
/// [`AskError`] says what is missing or why there is no answer, in words that can be spoken.
///
/// ```
/// use commis::ask::{Context, Question, answer};
/// let question = Question::WaterForFlour { flour_g: Some(900.0), percent: 68.0 };
/// let answer = answer(&question, &Context::default())?;
/// assert_eq!(answer.value, 612.0);
/// assert_eq!(answer.words, "Six hundred and twelve grams of water.");
/// # Ok::<(), commis::ask::AskError>(())
/// ```
pub fn answer(question: &Question, context: &Context) -> Result<Answer, AskError> {
    let answer = match question {
        Question::Convert {
            number,
            from,
            to,
            ingredient,
        } => convert::convert(*number, from, to, ingredient.as_deref(), context),
        Question::MassOf { number, ingredient } => convert::mass_of(*number, ingredient, context),
        Question::ConvertTemperature { number, from, to } => heat::convert(*number, from, to),
        Question::SafeTemperature { food } => heat::safe(food, context.region),
        Question::SafeAt { food, core_c } => keeping::safe_at(food, *core_c, context.region),
        Question::LeftOut { food, minutes } => {
            keeping::left_out(food.as_deref(), *minutes, context.region)
        }
        Question::Keeps { food, how } => keeping::keeps(food.as_deref(), *how, context),
        Question::FromFrozen { food } => keeping::from_frozen(food.as_deref(), context.region),
        Question::Swap {
            of,
            with,
            number,
            unit,
        } => instead::swap(of, with.as_deref(), *number, unit.as_deref(), context),
        Question::WaterForFlour { flour_g, percent } => {
            bakery::water_for_flour(*flour_g, *percent, context)
        }
        Question::PercentOf { percent, grams } => bakery::percent_of(*percent, *grams, context),
        Question::WaterTemperature { .. } => bakery::water_temperature(question, context),
        Question::RiseAt {
            room_c,
            minutes,
            at_c,
            halves_per_c,
        } => bakery::rise(*room_c, *minutes, *at_c, *halves_per_c, context),
        Question::PiecesFrom { dough_g, each_g } => bakery::pieces(*dough_g, *each_g, context),
        Question::PercentIs { part_g, whole_g } => bakery::percent_is(*part_g, *whole_g),
        Question::Preferment {
            kind,
            percent,
            flour_g,
            hydration,
        } => bakery::preferment(*kind, *percent, *flour_g, *hydration, context),
        Question::BakedMass {
            dough_g,
            loss_percent,
        } => bakery::baked(*dough_g, *loss_percent, context),
        Question::DoughFor {
            baked_g,
            loss_percent,
        } => bakery::dough_for(*baked_g, *loss_percent, context),
        Question::Friction { .. } => bakery::friction(question),
        Question::SafeTime { core_c } => heat::time_at(*core_c),
        Question::Keep { how } => heat::keep(*how, context.region),
        Question::Caution { about } => heat::caution(about, context.region),
        Question::Into { of, unit } => sums::into(of, unit, context),
        Question::Together { each } => sums::together(each, context),
        Question::RuleOfThree {
            amount,
            unit,
            base,
            wanted,
            what,
        } => sums::rule_of_three(*amount, unit, *base, *wanted, what.as_deref(), context),
        Question::Times {
            factor,
            number,
            unit,
        } => sums::times(*factor, *number, unit, context),
        Question::FlourFor { part_g, percent } => levain::flour_for(*part_g, *percent, context),
        Question::FlourInDough { dough_g, shares } => {
            levain::flour_in_dough(*dough_g, shares, context)
        }
        Question::DoughMass { flour_g, shares } => levain::dough_mass(*flour_g, shares, context),
        Question::Shares { flour_g, shares } => levain::shares(*flour_g, shares, context),
        Question::MoreWater { flour_g, from, to } => {
            levain::more_water(*flour_g, *from, *to, context)
        }
        Question::HydrationOf {
            flour_g,
            water_g,
            starter_g,
            starter_percent,
        } => levain::hydration_of(*flour_g, *water_g, *starter_g, *starter_percent),
        Question::InStarter {
            starter_g,
            percent,
            water,
        } => levain::in_starter(*starter_g, *percent, *water, context),
        Question::Feed {
            seed_g,
            wanted_g,
            flour,
            water,
            first,
        } => levain::feed(*seed_g, *wanted_g, *flour, *water, *first, context),
        Question::FinalDough {
            flour_g,
            water_g,
            ahead_flour_g,
            ahead_water_g,
        } => levain::final_dough(*flour_g, *water_g, *ahead_flour_g, *ahead_water_g, context),
        Question::Ice {
            water_g,
            tap_c,
            water_c,
        } => levain::ice(*water_g, *tap_c, *water_c, context),
        Question::LossIs { dough_g, baked_g } => levain::loss_is(*dough_g, *baked_g),
        Question::Tins { from, to, shape } => tins::tins(*from, *to, *shape),
        Question::Eggs {
            number,
            mass_g,
            part,
            size,
            region,
        } => eggs::eggs(*number, *mass_g, *part, size.as_deref(), *region, context),
        Question::SelfRaising { flour_g, region } => {
            instead::self_raising(*flour_g, region.unwrap_or(context.region), context)
        }
        Question::SugarStage { stage } => stages::sugar(stage),
        Question::StageAt { sugar_c } => stages::stage_at(*sugar_c),
        Question::Frying { food } => stages::frying(food.as_deref()),
        Question::OvenWord { word } => stages::oven(word),
        Question::Gelatine {
            number,
            unit,
            from,
            to,
        } => gelatine::gelatine(*number, unit, from, to),
        Question::Portion { food, people, side } => {
            portions::portion(food, *people, *side, context)
        }
        Question::Part { of, name } => sums::part(of, name, context),
    }?;
    Ok(answer.in_sentences())
}
