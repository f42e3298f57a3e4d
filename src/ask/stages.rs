//! 'How hot is soft ball', 'how hot should the oil be for doughnuts', 'what is a moderate oven'.

use super::{Answer, AskError};
use crate::measure::words::capital;
use crate::measure::{GasMark, Heat, NamedHeat, Temperature, print, say};

/// 'One hundred and twelve to one hundred and sixteen Celsius, two hundred and thirty four to … Fahrenheit'.
fn range(row: &NamedHeat) -> String {
    let ends = |to: fn(f64) -> f64| {
        let [low, high] = row.celsius.map(|c| say::degrees(to(c)));
        if low == high {
            low
        } else {
            format!("{low} to {high}")
        }
    };
    format!(
        "{} Celsius, {} Fahrenheit",
        ends(|c| c),
        ends(|c| Temperature::celsius(c).as_fahrenheit())
    )
}

fn answer(row: &NamedHeat, words: String) -> Answer {
    let [low, high] = row.celsius;
    Answer {
        value: low,
        high: (high > low).then_some(high),
        unit: "c".to_owned(),
        parts: Vec::new(),
        words,
        sum: "as practised".to_owned(),
        source: row.source.clone(),
    }
}

pub(super) fn sugar(stage: &str) -> Result<Answer, AskError> {
    let row =
        NamedHeat::find(NamedHeat::sugar_stages(), stage).ok_or_else(|| AskError::UnknownWord {
            expected: "a stage of sugar such as soft ball or hard crack",
            found: stage.to_owned(),
        })?;
    let words = format!(
        "{} for {}. Boiling sugar burns badly: careful",
        range(row),
        row.name
    );
    Ok(answer(row, words))
}

pub(super) fn stage_at(sugar_c: f64) -> Result<Answer, AskError> {
    let rows: Vec<&NamedHeat> = NamedHeat::sugar_stages()
        .iter()
        .filter(|row| !row.is_use)
        .collect();
    let (least, most) = (rows[0].celsius[0], rows[rows.len() - 1].celsius[1]);
    super::error::within("boiling sugar in celsius", sugar_c, least, most)?;
    let inside = rows
        .iter()
        .find(|row| (row.celsius[0]..=row.celsius[1]).contains(&sugar_c));
    let words = match inside {
        Some(row) => capital(&row.name),
        None => {
            let below = rows.iter().rev().find(|row| row.celsius[1] < sugar_c);
            let above = rows.iter().find(|row| row.celsius[0] > sugar_c);
            let name = |row: Option<&&NamedHeat>| row.map_or_else(String::new, |r| r.name.clone());
            format!("between {} and {}", name(below), name(above))
        }
    };
    Ok(Answer {
        value: sugar_c,
        high: None,
        unit: "c".to_owned(),
        parts: Vec::new(),
        words: format!("{words}. Boiling sugar burns badly: careful"),
        sum: "as practised".to_owned(),
        source: rows[0].source.clone(),
    })
}

pub(super) fn frying(food: Option<&str>) -> Result<Answer, AskError> {
    let rows = NamedHeat::fried_foods();
    let row = NamedHeat::find(rows, food.unwrap_or("most things")).ok_or_else(|| {
        AskError::UnknownWord {
            expected: "a food that is deep fried",
            found: food.unwrap_or_default().to_owned(),
        }
    })?;
    let note = row
        .note
        .as_ref()
        .map_or_else(String::new, |note| format!("; {note}"));
    let words = format!(
        "{} for {}{note}. Never leave hot oil alone",
        range(row),
        row.name
    );
    Ok(answer(row, words))
}

pub(super) fn oven(word: &str) -> Result<Answer, AskError> {
    let row =
        NamedHeat::find(NamedHeat::oven_words(), word).ok_or_else(|| AskError::UnknownWord {
            expected: "a word for an oven such as slow, moderate or hot",
            found: word.to_owned(),
        })?;
    let marks: Vec<String> = row
        .gas
        .iter()
        .flatten()
        .filter_map(|n| GasMark::number(*n).ok())
        .map(|mark| print::gas(mark).replace("gas ", ""))
        .collect();
    let gas = match marks.as_slice() {
        [low, high] if low != high => format!(", gas mark {low} to {high}"),
        [mark, ..] => format!(", gas mark {mark}"),
        [] => String::new(),
    };
    Ok(answer(row, format!("{}{gas}", range(row))))
}

/// The gas mark that the table prints beside an oven's word.
pub(super) fn oven_gas(word: &str) -> Option<[f64; 2]> {
    NamedHeat::find(NamedHeat::oven_words(), word)?.gas
}

/// The temperature in another scale, for an answer that is wanted so.
pub(super) fn in_scale(celsius: f64, to: Heat) -> Option<f64> {
    let t = Temperature::celsius(celsius);
    match to {
        Heat::C => Some(celsius),
        Heat::F => Some(t.as_fahrenheit()),
        Heat::Fan => Some(t.as_fan()),
        Heat::Gas => t.as_gas().map(GasMark::as_number),
    }
}

#[cfg(test)]
mod tests {
    use super::{frying, in_scale, oven, stage_at, sugar};
    use crate::measure::{Heat, NamedHeat};

    #[test]
    fn stages_go_up_and_are_found() {
        for rows in [NamedHeat::sugar_stages(), NamedHeat::oven_words()] {
            for pair in rows.windows(2) {
                assert!(pair[0].celsius[0] < pair[1].celsius[0], "{}", pair[1].name);
            }
        }
        assert_eq!(sugar("soft ball").unwrap().value, 112.0);
        assert_eq!(sugar("Hard Crack").unwrap().high, Some(154.0));
        assert!(sugar("very hard").is_err());
        assert!(stage_at(114.0).unwrap().words.starts_with("Soft ball"));
        assert!(
            stage_at(117.0)
                .unwrap()
                .words
                .starts_with("between soft ball and firm ball")
        );
        assert!(stage_at(90.0).is_err());
        assert!(frying(None).unwrap().value >= 160.0);
        assert!(frying(Some("ice cream")).is_err());
    }

    #[test]
    fn the_words_of_an_oven_agree_with_the_gas_marks() {
        for row in NamedHeat::oven_words() {
            let said = oven(&row.name).unwrap();
            let mark = in_scale(said.value, Heat::Gas).unwrap();
            assert_eq!(Some(mark), row.gas.map(|g| g[0]), "{}", row.name);
        }
    }
}
