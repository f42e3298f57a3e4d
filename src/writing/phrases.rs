//! What may be said to a question, for the ear: sentences alone, no free speech.

use super::question::AnswerKind;
use crate::measure::ingredients;
use crate::order::said::say_amount;
use crate::time::Span;
use crate::understand::name_words;
use crate::understand::numbers::{say_duration, say_number};

/// Orders that answer any question.
const ALWAYS: [&str; 9] = [
    "undo", "again", "pause", "done", "none", "nothing", "yes", "no", "as it is",
];

/// Numbers that are weighed and measured: each up to a hundred, then in steps that a scale is read to.
fn numbers() -> impl Iterator<Item = f64> {
    let steps = [
        (1, 100, 1),
        (105, 500, 5),
        (510, 1_000, 10),
        (1_050, 2_000, 50),
    ];
    steps
        .into_iter()
        .flat_map(|(from, to, by)| (from..=to).step_by(by))
        .map(f64::from)
}

/// The sentences that may answer a question of this kind, where these ingredients can be named.
pub fn phrases(kind: AnswerKind, names: &[&str]) -> Vec<String> {
    let mut out: Vec<String> = ALWAYS.map(str::to_owned).to_vec();
    let spoken = |name: &str| name_words(name).join(" ");
    match kind {
        AnswerKind::Number => out.extend((1..=100).map(|n| say_number(f64::from(n)))),
        AnswerKind::Amount => {
            out.extend(["to taste", "as needed", "a little"].map(str::to_owned));
            out.extend(numbers().flat_map(|n| [say_amount(n, "g"), say_amount(n, "ml")]));
            let small = (1..=40).map(|n| f64::from(n) / 4.0);
            out.extend(
                small.flat_map(|n| {
                    ["kg", "l", "tsp", "tbsp", "cup"].map(|unit| say_amount(n, unit))
                }),
            );
            out.extend((1..=24).map(|n| say_number(f64::from(n))));
        }
        AnswerKind::Ingredient => {
            let all = ingredients().all().iter();
            out.extend(all.map(|row| spoken(&row.name)));
            out.push("something else".to_owned());
        }
        AnswerKind::Names => {
            let names: Vec<String> = names.iter().map(|name| spoken(name)).collect();
            for (at, name) in names.iter().enumerate() {
                out.extend([
                    name.clone(),
                    format!("half the {name}"),
                    format!("the rest of the {name}"),
                ]);
                let others = names.iter().enumerate().filter(|(other, _)| *other != at);
                out.extend(others.map(|(_, other)| format!("{name} and {other}")));
            }
        }
        AnswerKind::Time => {
            let minutes = (1..=60)
                .chain((65..=180).step_by(5))
                .chain((4..=24).map(|h| h * 60));
            out.extend(minutes.map(|n| say_duration(Span::minutes(n))));
        }
        AnswerKind::Heat => {
            out.extend(
                (50..=280)
                    .step_by(5)
                    .map(|c| format!("{} degrees", say_number(f64::from(c)))),
            );
            out.extend((1..=10).map(|mark| format!("gas {}", say_number(f64::from(mark)))));
        }
        AnswerKind::Step => out.push("record".to_owned()),
        AnswerKind::Words | AnswerKind::YesNo => {}
    }
    out.sort_unstable();
    out.dedup();
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{Amount, Region};
    use crate::writing::{Answered, Writing};

    #[test]
    fn every_amount_that_can_be_heard_can_be_read() {
        for phrase in phrases(AnswerKind::Amount, &[]) {
            let is_order = ALWAYS.contains(&phrase.as_str());
            let is_words = ["to taste", "as needed", "a little"].contains(&phrase.as_str());
            assert!(
                is_order || is_words || Amount::parse(&phrase, Region::Metric).is_ok(),
                "{phrase}"
            );
        }
    }

    #[test]
    fn every_time_heat_and_number_that_can_be_heard_is_taken() {
        let begin = [
            "soup",
            "",
            "",
            "",
            "1 kg carrots",
            "done",
            "Roast the carrots.",
            "carrots",
        ];
        let (at_time, _) = Writing::after(begin);
        let (at_heat, _) = Writing::after(begin.into_iter().chain(["none"]));
        let (at_number, _) = Writing::after(["soup", ""]);
        for (writing, kind) in [
            (at_time, AnswerKind::Time),
            (at_heat, AnswerKind::Heat),
            (at_number, AnswerKind::Number),
        ] {
            assert_eq!(writing.question().kind, kind);
            for phrase in phrases(kind, &[])
                .iter()
                .filter(|p| !ALWAYS.contains(&p.as_str()))
            {
                let mut writing = writing.clone();
                let came = writing.answer(phrase);
                assert!(matches!(came, Answered::Taken(_)), "{phrase}: {came:?}");
            }
        }
    }
}
