//! Answers: value, words, the sum behind it and its source.

use serde::Serialize;

use super::Question;
use crate::measure::{Amount, Heat, Kind, Region, Temperature, Unit, ingredients, say};

/// What the arithmetic may take from the kitchen.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Context {
    /// Whose cups and spoons.
    pub region: Region,
    /// The smallest step that the scale shows, in grams.
    pub scale_step_g: f64,
    /// The formula's flour at today's size.
    pub flour_g: Option<f64>,
    /// The formula's dough at today's size.
    pub dough_g: Option<f64>,
    /// The dough temperature that the formula wants, Celsius.
    pub dough_c: Option<f64>,
    /// The room, Celsius.
    pub room_c: Option<f64>,
    /// The rise at hand, as the formula gives it.
    pub rise_minutes: Option<f64>,
}

/// One answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Answer {
    /// The number.
    pub value: f64,
    /// Its unit.
    pub unit: String,
    /// As spoken.
    pub words: String,
    /// How it was computed.
    pub sum: String,
    /// Where the values in it come from.
    pub source: String,
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct AskError(String);

/// Answers a question.
///
/// # Errors
/// A sentence for the cook: what is missing, or that this cannot be done yet.
pub fn answer(question: &Question, context: &Context) -> Result<Answer, AskError> {
    let fail = |e: &dyn std::fmt::Display| AskError(e.to_string());
    match question {
        Question::Convert {
            number,
            from,
            to,
            ingredient,
        } => {
            let from = Unit::find(from, context.region).map_err(|e| fail(&e))?;
            let to = Unit::find(to, context.region).map_err(|e| fail(&e))?;
            convert(*number, from, to, ingredient.as_deref())
        }
        Question::ConvertTemperature { number, from, to } => {
            let heat = |s: &str| {
                Heat::find(s)
                    .ok_or_else(|| AskError(format!("expected c, f, gas or fan, found `{s}`")))
            };
            let (from, to) = (heat(from)?, heat(to)?);
            let t = Temperature::of(*number, from).map_err(|e| fail(&e))?;
            let words = say::temperature(t, to)
                .ok_or_else(|| AskError("that is outside the gas marks".to_owned()))?;
            let value = match to {
                Heat::F => t.as_fahrenheit(),
                Heat::Fan => t.as_fan(),
                Heat::Gas => t
                    .as_gas()
                    .map_or(f64::NAN, crate::measure::GasMark::as_number),
                Heat::C => t.as_celsius(),
            };
            Ok(Answer {
                value,
                unit: to.symbol().to_owned(),
                words: capital(&words) + ".",
                sum: format!("{} C", t.as_celsius()),
                source: "definition; gas marks and fan ovens: common practice, no source"
                    .to_owned(),
            })
        }
        _ => Err(AskError("I cannot work that out yet".to_owned())),
    }
}

fn convert(number: f64, from: Unit, to: Unit, of: Option<&str>) -> Result<Answer, AskError> {
    let fail = |e: &dyn std::fmt::Display| AskError(e.to_string());
    let amount = Amount::of(number, from);
    let row = of.and_then(|name| ingredients().find(name));
    if let (Some(name), None) = (of, row)
        && from.kind() != to.kind()
    {
        return Err(AskError(format!(
            "I do not know how heavy {name} is in a spoon"
        )));
    }
    let (value, about) = if from.kind() == to.kind() {
        (number * from.factor_to(to).map_err(|e| fail(&e))?, false)
    } else if to.kind() == Kind::Mass {
        (
            amount.mass(row).map_err(|e| fail(&e))?.as_grams() / to.size(),
            true,
        )
    } else {
        (
            amount.volume(row).map_err(|e| fail(&e))?.as_millilitres() / to.size(),
            true,
        )
    };
    let said = say::in_unit(round(value), to);
    let words = format!(
        "{}{said}{}.",
        if about { "about " } else { "" },
        row.map_or(String::new(), |r| format!(" of {}", r.name))
    );
    Ok(Answer {
        value,
        unit: to.symbol().to_owned(),
        words: capital(&words),
        sum: format!("{number} {} = {value} {}", from.symbol(), to.symbol()),
        source: row
            .filter(|_| about)
            .map_or("NIST SP 811, appendix B".to_owned(), |r| {
                r.density_source.clone()
            }),
    })
}

/// To a precision that a cook can use: three figures.
fn round(x: f64) -> f64 {
    let step = 10f64.powi((x.abs().max(1e-9).log10().floor() as i32) - 2);
    if x >= 100.0 {
        x.round()
    } else {
        (x / step).round() * step
    }
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |c| {
        c.to_uppercase().collect::<String>() + chars.as_str()
    })
}

/// Questions that can be answered, the nearest first.
pub fn nearest(text: &str) -> Vec<String> {
    let mut known = vec![
        "how many grams in two cups of caster sugar",
        "what is 220 celsius in fahrenheit",
        "gas mark for 190",
        "how many ounces is 500 grams",
    ];
    known.sort_by(|a, b| strsim::jaro_winkler(b, text).total_cmp(&strsim::jaro_winkler(a, text)));
    known.into_iter().map(str::to_owned).collect()
}
