//! Sums over other sums: times and shares, the rule of three, several at once, and an answer in another unit.

use super::error::within;
use super::round::spoken;
use super::{Answer, AnswerPart, AskError, Context, Question, answer, stages};
use crate::measure::words::{Style, counted};
use crate::measure::{Heat, Kind, Unit, ingredients, print, say};

const MOST: f64 = 1_000_000.0;

/// So many of a unit, or a bare number, in words.
fn said(value: f64, unit: &str, context: &Context) -> Result<(String, bool), AskError> {
    if unit == "min" {
        let whole = value.round().max(1.0);
        let exact = (whole - value).abs() < 0.01;
        return Ok((counted(whole, "minute", "minutes", Style::Scale), exact));
    }
    if unit.is_empty() {
        let near = print::number(value, 2).parse().unwrap_or(value);
        let exact = (near - value).abs() <= value.abs() * 0.001;
        return Ok((crate::measure::words::number(near, Style::Scale), exact));
    }
    let spoken = spoken(
        value,
        Unit::find(unit, context.region)?,
        false,
        &context.say(),
    );
    Ok((spoken.words, spoken.exact))
}

fn about(words: String, exact: bool) -> String {
    if exact {
        words
    } else {
        format!("about {words}")
    }
}

pub(super) fn times(
    factor: f64,
    number: f64,
    unit: &str,
    context: &Context,
) -> Result<Answer, AskError> {
    within("times", factor, 0.000_1, MOST)?;
    within("number", number, 0.0, MOST)?;
    let value = factor * number;
    let (words, exact) = said(value, unit, context)?;
    Ok(Answer {
        value,
        high: None,
        unit: unit.to_owned(),
        parts: Vec::new(),
        words: about(words, exact),
        sum: format!(
            "{} x {} {unit}",
            print::number(factor, 4),
            print::number(number, 4)
        ),
        source: "arithmetic".to_owned(),
    })
}

pub(super) fn rule_of_three(
    amount: f64,
    unit: &str,
    base: f64,
    wanted: f64,
    what: Option<&str>,
    context: &Context,
) -> Result<Answer, AskError> {
    within("amount", amount, 0.0, MOST)?;
    within("what it is for", base, 0.001, MOST)?;
    within("what it is wanted for", wanted, 0.0, MOST)?;
    let value = amount * wanted / base;
    let (words, exact) = said(value, unit, context)?;
    let counted = unit.is_empty() && what.is_some();
    let multiple = what == Some("times as much");
    let of = match what {
        Some(what) if counted => format!(" {what}"),
        Some(what) => format!(" of {what}"),
        None => String::new(),
    };
    let n = |x: f64| print::number(x, 4);
    Ok(Answer {
        value,
        high: None,
        unit: match counted {
            true if multiple => "times",
            true => "pieces",
            false => unit,
        }
        .to_owned(),
        parts: Vec::new(),
        words: format!("{}{of}", about(words, exact)),
        sum: format!("{} x {} / {}", n(amount), n(wanted), n(base)),
        source: "arithmetic".to_owned(),
    })
}

/// Several questions, each answered by its own sentence.
pub(super) fn together(each: &[Question], context: &Context) -> Result<Answer, AskError> {
    within("questions at once", each.len() as f64, 1.0, 8.0)?;
    let answers: Vec<Answer> = each
        .iter()
        .map(|question| answer(question, context))
        .collect::<Result<_, _>>()?;
    let of = |question: &Question| match question {
        Question::Convert { ingredient, .. } => {
            ingredient.as_deref().unwrap_or_default().to_owned()
        }
        Question::Eggs { .. } => "egg".to_owned(),
        Question::RuleOfThree { what, .. } => what.as_deref().unwrap_or_default().to_owned(),
        Question::MassOf { ingredient, .. } => ingredient.to_string(),
        _ => String::new(),
    };
    let parts = each
        .iter()
        .zip(&answers)
        .flat_map(|(question, a)| {
            if a.parts.is_empty() {
                vec![AnswerPart {
                    name: of(question),
                    value: a.value,
                    unit: a.unit.clone(),
                }]
            } else {
                a.parts.clone()
            }
        })
        .collect();
    let list = |of: fn(&Answer) -> &str, between: &str| {
        let mut all: Vec<&str> = answers.iter().map(of).collect();
        all.dedup();
        all.join(between)
    };
    Ok(Answer {
        value: answers[0].value,
        high: None,
        unit: answers[0].unit.clone(),
        parts,
        words: list(|a| &a.words, " "),
        sum: list(|a| &a.sum, "; "),
        source: list(|a| &a.source, "; "),
    })
}

/// One part of an answer that has several.
pub(super) fn part(of: &Question, name: &str, context: &Context) -> Result<Answer, AskError> {
    let known = answer(of, context)?;
    let part = known
        .parts
        .iter()
        .find(|part| part.name == name)
        .cloned()
        .ok_or(AskError::Missing {
            what: "what is asked for, with its percentage",
        })?;
    let (words, exact) = said(part.value, &part.unit, context)?;
    Ok(Answer {
        value: part.value,
        high: None,
        unit: part.unit.clone(),
        words: format!("{} of {name}", about(words, exact)),
        parts: vec![part],
        ..known
    })
}

/// The answer of a question in another unit.
pub(super) fn into(of: &Question, unit: &str, context: &Context) -> Result<Answer, AskError> {
    let known = answer(of, context)?;
    if let (Some(from), Some(to)) = (Heat::find(&known.unit), Heat::find(unit)) {
        return in_heat(of, known, from, to);
    }
    if known.unit == "cm" && unit == "inch" {
        return super::tins::in_inches(known);
    }
    let to = Unit::find(unit, context.region)?;
    let from = Unit::find(&known.unit, context.region)?;
    if from == to {
        return Ok(known);
    }
    let name = |part: Option<&AnswerPart>| match part {
        Some(part) => part.name.clone(),
        None => named(of),
    };
    let mut turned = Vec::new();
    let mut words = Vec::new();
    let all: Vec<Option<&AnswerPart>> = if known.parts.is_empty() {
        vec![None]
    } else {
        known.parts.iter().map(Some).collect()
    };
    for part in all {
        let (value, unit) = part.map_or((known.value, from), |p| {
            (p.value, Unit::find(&p.unit, context.region).unwrap_or(from))
        });
        let name = name(part);
        let (value, rough) = turn(value, unit, to, &name)?;
        let said = spoken(value, to, rough, &context.say());
        let of = if name.is_empty() {
            String::new()
        } else {
            format!(" of {name}")
        };
        words.push(format!("{}{of}", about(said.words, said.exact && !rough)));
        turned.push(AnswerPart {
            name,
            value,
            unit: to.symbol().to_owned(),
        });
    }
    let value = turned[0].value;
    let single = known.parts.is_empty();
    let high = known
        .high
        .filter(|_| single)
        .map(|high| turn(high, from, to, &name(None)).map(|(value, _)| value))
        .transpose()?;
    if let Some(high) = high {
        let most = spoken(high, to, true, &context.say()).words;
        let low = spoken(value, to, true, &context.say()).words;
        let of = match of {
            Question::Portion { food, .. } => format!(" of {food}"),
            _ => String::new(),
        };
        words = vec![format!("{low} to {most}{of}")];
    }
    Ok(Answer {
        value,
        high,
        unit: to.symbol().to_owned(),
        parts: if known.parts.is_empty() {
            Vec::new()
        } else {
            turned
        },
        words: words.join(" and "),
        sum: format!("{}; in {}", known.sum, to.plural()),
        source: known.source,
    })
}

/// What a question's one number is of, for its density.
fn named(of: &Question) -> String {
    match of {
        Question::WaterForFlour { .. } | Question::MoreWater { .. } => "water".to_owned(),
        Question::Swap { with, .. } => with.as_deref().unwrap_or_default().to_owned(),
        Question::RuleOfThree { what, .. } => what.as_deref().unwrap_or_default().to_owned(),
        Question::Gelatine { to, .. } if to == "powder" => "gelatine powder".to_owned(),
        Question::Part { name, .. } => name.to_string(),
        _ => String::new(),
    }
}

fn turn(value: f64, from: Unit, to: Unit, name: &str) -> Result<(f64, bool), AskError> {
    if from.kind() == to.kind() {
        return Ok((value * from.factor_to(to)?, false));
    }
    if from.kind() == Kind::Count || to.kind() == Kind::Count {
        let context = Context::default();
        let found =
            super::convert::convert(value, from.symbol(), to.symbol(), Some(name), &context)?;
        return Ok((found.value, true));
    }
    let density = ingredients().find(name).and_then(|row| row.g_per_ml);
    match (from.kind(), to.kind(), density) {
        (Kind::Mass, Kind::Volume, Some(density)) => {
            Ok((value * from.size() / density / to.size(), true))
        }
        (Kind::Volume, Kind::Mass, Some(density)) => {
            Ok((value * from.size() * density / to.size(), true))
        }
        _ => Err(AskError::OfWhat {
            from: from.plural().to_owned(),
            to: to.plural().to_owned(),
        }),
    }
}

fn in_heat(of: &Question, known: Answer, from: Heat, to: Heat) -> Result<Answer, AskError> {
    // A fan oven's number is one of Celsius.
    if let (
        Question::ConvertTemperature {
            number, from: said, ..
        },
        Heat::Fan,
        Heat::F,
    ) = (of, from, to)
        && Heat::find(said) == Some(Heat::F)
    {
        return Ok(super::heat::on_convection(*number));
    }
    let on_fan = from == Heat::Fan && matches!(to, Heat::C | Heat::F);
    if from == to || from != Heat::C && !on_fan {
        return Ok(known);
    }
    let no_mark = |celsius| AskError::NoGasMark { celsius };
    let turn = |c: f64| stages::in_scale(c, to).ok_or_else(|| no_mark(c));
    let printed = match of {
        Question::OvenWord { word } if to == Heat::Gas => stages::oven_gas(word),
        _ => None,
    };
    // A difference of degrees goes over without the shift of the scale's nought.
    let (value, high) = match (of, printed) {
        (_, Some([low, high])) => (low, (high > low).then_some(high)),
        (Question::Friction { .. }, _) if to == Heat::F => (known.value * 1.8, None),
        _ => (turn(known.value)?, known.high.map(turn).transpose()?),
    };
    let number = |x: f64| match to {
        Heat::Gas => crate::measure::words::number(x, Style::Kitchen),
        _ => say::degrees(x),
    };
    let range = match high {
        Some(high) => format!("{} to {}", number(value), number(high)),
        None => number(value),
    };
    let words = match to {
        Heat::C => format!("{range} Celsius"),
        Heat::F => format!("{range} Fahrenheit"),
        Heat::Gas => format!("gas mark {range}"),
        Heat::Fan => format!("{range} degrees on a fan oven"),
    };
    if on_fan {
        return Ok(Answer {
            value,
            unit: to.symbol().to_owned(),
            words: format!("{words} on a fan oven"),
            ..known
        });
    }
    // What was said of it besides the number still holds: that is where the cautions stand.
    let words = if to == Heat::F && known.words.contains("Fahrenheit") {
        known.words
    } else {
        format!("{words}. {}", known.words)
    };
    Ok(Answer {
        value,
        high,
        unit: to.symbol().to_owned(),
        words,
        parts: known
            .parts
            .iter()
            .map(|part| match Heat::find(&part.unit) {
                Some(Heat::C) => AnswerPart {
                    value: stages::in_scale(part.value, to).unwrap_or(part.value),
                    unit: to.symbol().to_owned(),
                    ..part.clone()
                },
                _ => part.clone(),
            })
            .collect(),
        sum: format!("{}; in {}", known.sum, to.symbol()),
        ..known
    })
}

/// So many of a thing by its name.
pub(super) fn percent_words(percent: f64) -> String {
    counted(percent, "percent", "percent", Style::Scale)
}

#[cfg(test)]
mod tests {
    use crate::ask::{Context, Question, answer};
    use crate::order::UnitSymbol;

    fn ask(question: &Question) -> crate::ask::Answer {
        answer(question, &Context::default()).unwrap()
    }

    #[test]
    fn the_rule_of_three() {
        let salt = ask(&Question::RuleOfThree {
            amount: 10.0,
            unit: UnitSymbol::GRAM,
            base: 500.0,
            wanted: 850.0,
            what: Some("salt".into()),
        });
        assert_eq!(
            (salt.value, salt.words.as_str()),
            (17.0, "Seventeen grams of salt.")
        );
    }

    #[test]
    fn several_at_once_and_in_another_unit() {
        let convert = |n: f64, from: &str, of: &str| Question::Convert {
            number: n,
            from: from.parse().unwrap(),
            to: UnitSymbol::GRAM,
            ingredient: Some(of.into()),
        };
        let both = ask(&Question::Together {
            each: vec![convert(1.0, "lb", "flour"), convert(6.0, "oz", "butter")],
        });
        assert_eq!(both.parts.len(), 2);
        assert!((both.parts[1].value - 6.0 * 28.349_523_125).abs() < 1e-9);
        assert_eq!(both.parts[1].name, "butter");
        let water = ask(&Question::Into {
            of: Box::new(Question::WaterForFlour {
                flour_g: Some(17.5 * 28.349_523_125),
                percent: 66.0,
            }),
            unit: UnitSymbol::OUNCE,
        });
        assert!((water.value - 11.55).abs() < 1e-9);
        assert_eq!(water.unit, "oz");
        let soft = ask(&Question::Into {
            of: Box::new(Question::SugarStage {
                stage: "hard crack".into(),
            }),
            unit: UnitSymbol::FAHRENHEIT,
        });
        assert!((soft.value - 300.2).abs() < 1e-9);
        let third = ask(&Question::Times {
            factor: 1.0 / 3.0,
            number: 450.0,
            unit: UnitSymbol::GRAM,
        });
        assert_eq!(third.words, "One hundred and fifty grams.");
    }
}
