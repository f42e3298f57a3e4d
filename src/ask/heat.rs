//! Oven marks, safe core temperatures, holding and cooling.

use super::{Answer, AnswerPart, AskError, Keeping};
use crate::measure::words::{Style, counted};
use crate::measure::{GasMark, Heat, Region, Temperature, print, say};
use crate::safety::{self, DEFERS, SafetyError};

const SCALE: &str = "NIST SP 811 (2008), appendix B: F = 1.8 C + 32";
const GAS: &str = "common practice: the printed gas-mark table";
const FAN: &str = "common practice: a fan oven is set 20 degrees lower";

const CONVECTION: &str =
    "common practice where ovens are in Fahrenheit: a convection oven is set 25 degrees lower";
/// What a convection oven that is marked in Fahrenheit is set lower.
const CONVECTION_F: f64 = 25.0;
/// No fan oven is set hotter than this in Celsius: the number is one of Fahrenheit.
const FAN_MOST_C: f64 = 260.0;

/// So many degrees Fahrenheit on a convection oven.
pub(super) fn on_convection(fahrenheit: f64) -> Answer {
    in_fahrenheit(fahrenheit, -CONVECTION_F, " on a convection oven")
}

fn in_fahrenheit(number: f64, more: f64, on: &str) -> Answer {
    let value = number + more;
    let sign = if more < 0.0 { '-' } else { '+' };
    Answer {
        value,
        high: None,
        parts: Vec::new(),
        unit: Heat::F.symbol().to_owned(),
        words: format!("{} Fahrenheit{on}", say::degrees(value)),
        sum: format!("{} F {sign} {CONVECTION_F}", print::number(number, 0)),
        source: CONVECTION.to_owned(),
    }
}

fn scale(word: &str) -> Result<Heat, AskError> {
    Heat::find(word).ok_or_else(|| AskError::UnknownWord {
        expected: "celsius, fahrenheit, gas or fan",
        found: word.to_owned(),
    })
}

/// 'what is 220 celsius in fahrenheit', 'gas mark for 190', 'what is gas seven in celsius'.
pub(super) fn convert(number: f64, from: &str, to: &str) -> Result<Answer, AskError> {
    let (from, to) = (scale(from)?, scale(to)?);
    if from == Heat::Fan && number > FAN_MOST_C {
        let without = in_fahrenheit(number, CONVECTION_F, " without the fan");
        return match to {
            Heat::F => Ok(without),
            _ => convert(without.value, Heat::F.symbol(), to.symbol()),
        };
    }
    let known = Temperature::of(number, from)?;
    let n = print::number(number, 2);
    let mut sources = Vec::new();
    let mut sum = match from {
        Heat::C => format!("{n} C"),
        Heat::F => {
            sources.push(SCALE);
            format!("({n} F - 32) / 1.8")
        }
        Heat::Gas => {
            sources.push(GAS);
            format!("gas {n}")
        }
        Heat::Fan => {
            sources.push(FAN);
            format!("{n} C fan + 20")
        }
    };
    let value = match to {
        Heat::C => known.as_celsius(),
        // The table prints Fahrenheit beside each mark as well: it is not worked out from the rounded Celsius.
        Heat::F if from == Heat::Gas => {
            sum.push_str(", printed");
            GasMark::number(number)?.fahrenheit()
        }
        Heat::F => {
            sources.push(SCALE);
            sum = format!("1.8 x {sum} + 32");
            known.as_fahrenheit()
        }
        Heat::Fan => {
            sources.push(FAN);
            sum.push_str(" - 20");
            known.as_fan()
        }
        Heat::Gas => {
            sources.push(GAS);
            let mark = known.as_gas().ok_or(AskError::NoGasMark {
                celsius: known.as_celsius(),
            })?;
            sum.push_str(&format!(
                ", nearest printed {} C",
                print::number(mark.printed_celsius(), 0)
            ));
            mark.as_number()
        }
    };
    sources.dedup();
    if sources.is_empty() {
        sources.push("definition");
    }
    let words = match to {
        Heat::Gas => say::temperature(known, to).unwrap_or_default(),
        Heat::C if from == Heat::C => format!("{} degrees", say::degrees(value)),
        Heat::C => format!("{} Celsius", say::degrees(value)),
        Heat::F => format!("{} Fahrenheit", say::degrees(value)),
        Heat::Fan => format!("{} degrees on a fan oven", say::degrees(value)),
    };
    Ok(Answer {
        value,
        high: None,
        parts: Vec::new(),
        unit: to.symbol().to_owned(),
        words,
        sum,
        source: sources.join("; "),
    })
}

/// 'how hot should chicken be inside'.
pub(super) fn safe(food: &str, region: Region) -> Result<Answer, AskError> {
    // A loaf is done by its core too, and the trade has a number for it; that is quality, not safety.
    if let Some(done) = safety::done_temperature(food) {
        return Ok(Answer {
            value: done.low_celsius,
            high: Some(done.high_celsius),
            parts: Vec::new(),
            unit: "c".to_owned(),
            words: done.words(),
            sum: "as practised".to_owned(),
            source: done.source.clone(),
        });
    }
    // How a steak is liked is taste; what is safe is said with it.
    if let Some(done) = safety::steak_done(food) {
        let cut = safety::safe_temperature("steak", region)?;
        return Ok(Answer {
            value: done.low_celsius,
            high: Some(done.high_celsius),
            parts: Vec::new(),
            unit: "c".to_owned(),
            words: format!(
                "{}, when it has rested: that is taste. What is safe is {}. {DEFERS}",
                done.words(),
                cut.heat_words()
            ),
            sum: "as practised".to_owned(),
            source: format!("{}; {}", done.source, cut.source),
        });
    }
    let row = safety::safe_temperature(food, region)?;
    let part = |name: &str, value, unit: &str| AnswerPart {
        name: name.to_owned(),
        value,
        unit: unit.to_owned(),
    };
    let times = [
        ("held", row.seconds.map(|s| s / 60.0)),
        ("rest", row.rest_minutes),
    ];
    let times: Vec<AnswerPart> = times
        .into_iter()
        .filter_map(|(name, minutes)| Some(part(name, minutes?, "min")))
        .collect();
    let parts = if times.is_empty() {
        Vec::new()
    } else {
        std::iter::once(part("inside", row.celsius, "c"))
            .chain(times)
            .collect()
    };
    Ok(Answer {
        value: row.celsius,
        high: None,
        parts,
        unit: "c".to_owned(),
        words: row.words(),
        sum: format!(
            "{} C as printed, {} F as printed",
            print::number(row.celsius, 0),
            print::number(row.fahrenheit, 0)
        ),
        source: row.source.clone(),
    })
}

/// 'how long at 65 degrees inside'. The time said is rounded up, never down.
pub(super) fn time_at(core_c: f64) -> Result<Answer, AskError> {
    let seconds = safety::equal_seconds(Temperature::celsius(core_c))?;
    let words = if seconds >= 120.0 {
        counted((seconds / 60.0).ceil(), "minute", "minutes", Style::Scale)
    } else {
        counted(seconds.ceil(), "second", "seconds", Style::Scale)
    };
    let printed = safety::equal_rows()
        .iter()
        .find(|row| row.celsius == core_c);
    let (sum, source) = match printed {
        Some(row) => ("as printed".to_owned(), row.source.clone()),
        None => (
            format!(
                "120 s x 10 ^ ((70 - {}) / {})",
                print::number(core_c, 1),
                safety::Z_CELSIUS
            ),
            "computed from 70 C for 2 minutes, UK Food Standards Agency, with 7.5 C a decade"
                .to_owned(),
        ),
    };
    Ok(Answer {
        value: seconds,
        high: None,
        parts: Vec::new(),
        unit: "s".to_owned(),
        words: format!(
            "{words} at {} degrees inside. {DEFERS}",
            crate::measure::words::number(core_c, Style::Scale)
        ),
        sum,
        source,
    })
}

/// Holding and cooling.
pub(super) fn keep(how: Keeping, region: Region) -> Result<Answer, AskError> {
    let names: &[&str] = match how {
        Keeping::Hot => &["hold hot"],
        Keeping::Cold => &["hold cold"],
        Keeping::Cool => &["cool first", "cool then"],
        Keeping::Out => &["left out"],
    };
    let rows: Vec<_> = names
        .iter()
        .filter_map(|n| safety::limit(n, region))
        .collect();
    let first = rows.first().ok_or_else(|| SafetyError::UnknownFood {
        food: names.join(" "),
    })?;
    let words: Vec<&str> = rows.iter().map(|l| l.say.as_str()).collect();
    let (value, unit) = match (how, first.hours) {
        (Keeping::Cool | Keeping::Out, Some(hours)) => (hours, "h"),
        _ => (first.celsius, "c"),
    };
    Ok(Answer {
        value,
        high: None,
        parts: Vec::new(),
        unit: unit.to_owned(),
        words: format!("{}. {DEFERS}", words.join(", ")),
        sum: "as printed".to_owned(),
        source: first.source.clone(),
    })
}

/// What the table of cautions says: 'is honey safe for a baby'.
pub(super) fn caution(about: &str, region: Region) -> Result<Answer, AskError> {
    let caution = safety::caution(about).ok_or_else(|| AskError::UnknownWord {
        expected: "a caution of the table",
        found: about.to_owned(),
    })?;
    Ok(Answer {
        value: 1.0,
        high: None,
        parts: Vec::new(),
        unit: "caution".to_owned(),
        words: caution.spoken(region),
        sum: "as the table of cautions has it".to_owned(),
        source: caution.source.clone(),
    })
}
