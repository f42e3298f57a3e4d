//! Quantity questions, and their answers from real computation.

mod answer;
mod bakery;
mod convert;
mod error;
mod heat;
mod instead;
mod nearest;
mod round;

pub use crate::order::{Keeping, Question};
pub use answer::{Answer, Context};
pub use error::AskError;
pub use nearest::{EXAMPLES, nearest};

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
        Question::SafeTemperature { food } => heat::safe(food),
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
        } => bakery::rise(*room_c, *minutes, *at_c, context),
        Question::PiecesFrom { dough_g, each_g } => bakery::pieces(*dough_g, *each_g, context),
        Question::PercentIs { part_g, whole_g } => bakery::percent_is(*part_g, *whole_g),
        Question::Preferment {
            kind,
            percent,
            flour_g,
            hydration,
        } => bakery::preferment(kind, *percent, *flour_g, *hydration, context),
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
        Question::Keep { how } => heat::keep(*how),
        Question::Caution { about } => heat::caution(about),
    }?;
    Ok(answer.in_sentences())
}
