//! What sounds alike, and the one short question that settles it.

use serde_json::Value as Json;

use super::describe::describe;
use super::lexicon::Lexicon;
use crate::order::Order;

/// The reading that sounds most like this one, when there is one: thirteen and thirty to nineteen and ninety,
/// teaspoon and tablespoon, grams and kilograms. For a hearing of low confidence: ask, and do nothing yet.
pub fn confusable(intent: &Order) -> Option<Order> {
    let mut tree = serde_json::to_value(intent).ok()?;
    let changed = swap_number(&mut tree, "") || swap_unit(&mut tree, "");
    changed.then(|| serde_json::from_value(tree).ok()).flatten()
}

/// The number that sounds like this one: its last two digits are a teen or a full ten.
fn sound_alike(n: f64) -> Option<f64> {
    if n.fract() != 0.0 || !(13.0..10_000.0).contains(&n) {
        return None;
    }
    let tail = n % 100.0;
    if (13.0..=19.0).contains(&tail) {
        return Some(n - tail + (tail - 10.0) * 10.0);
    }
    (tail % 10.0 == 0.0 && (30.0..=90.0).contains(&tail)).then(|| n - tail + tail / 10.0 + 10.0)
}

/// Changes the first number that has a sound-alike.
fn swap_number(tree: &mut Json, key: &str) -> bool {
    match tree {
        Json::Number(_) => {
            let Some(n) = tree.as_f64() else { return false };
            // Spans are in milliseconds: what was said is the largest whole unit.
            let unit = match key {
                "lasts" | "by" if n % 3_600_000.0 == 0.0 => 3_600_000.0,
                "lasts" | "by" if n % 60_000.0 == 0.0 => 60_000.0,
                "lasts" | "by" => 1000.0,
                _ => 1.0,
            };
            let Some(other) = sound_alike(n / unit) else {
                return false;
            };
            let other = other * unit;
            *tree = if tree.is_u64() {
                Json::from(other as u64)
            } else {
                Json::from(other)
            };
            true
        }
        Json::Object(map) => map.iter_mut().any(|(k, v)| swap_number(v, k)),
        Json::Array(list) => list.iter_mut().any(|v| swap_number(v, key)),
        _ => false,
    }
}

/// Changes the first unit that has a sound-alike.
fn swap_unit(tree: &mut Json, key: &str) -> bool {
    match tree {
        Json::String(unit) if ["unit", "from", "to"].contains(&key) => {
            let other = match unit.as_str() {
                "tsp" => "tbsp",
                "tbsp" => "tsp",
                "g" => "kg",
                "kg" => "g",
                _ => return false,
            };
            *unit = other.to_string();
            true
        }
        Json::Object(map) => map.iter_mut().any(|(k, v)| swap_unit(v, k)),
        Json::Array(list) => list.iter_mut().any(|v| swap_unit(v, key)),
        _ => false,
    }
}

/// The question between readings: `did you say fifteen or fifty?`, `the strong white flour or the rye flour?`.
pub fn question_between(readings: &[Order], lexicon: &Lexicon) -> String {
    let said: Vec<Vec<String>> = readings
        .iter()
        .map(|r| words(&describe(r, lexicon)))
        .collect();
    match said.as_slice() {
        [] => "Say that again, please?".to_string(),
        [one] => format!("Do you mean: {}?", one.join(" ")),
        many => {
            let same_kind = readings.iter().all(|r| r.name() == readings[0].name());
            let (head, tail) = common(many);
            let telling: Vec<String> = many
                .iter()
                .map(|w| w[head..w.len() - tail].join(" "))
                .collect();
            if same_kind
                && telling
                    .iter()
                    .all(|t| !t.is_empty() && t.split(' ').count() <= 4)
            {
                let close: Vec<String> = many.iter().map(|w| named(w, head, tail)).collect();
                format!("Did you say {}?", or(&close))
            } else {
                let whole: Vec<String> = many.iter().map(|w| w.join(" ")).collect();
                format!("Do you mean: {}?", or(&whole))
            }
        }
    }
}

/// The telling words of each reading, each with its index: what the cook may answer to `question_between`.
pub(super) fn answers(readings: &[Order], lexicon: &Lexicon) -> Vec<(Vec<String>, usize)> {
    let said: Vec<Vec<String>> = readings
        .iter()
        .map(|r| words(&describe(r, lexicon)))
        .collect();
    let (head, tail) = if said.len() > 1 {
        common(&said)
    } else {
        (0, 0)
    };
    let mut out = Vec::new();
    for (i, all) in said.iter().enumerate() {
        let telling = super::text::name_words(&all[head..all.len() - tail].join(" "));
        let longer =
            super::text::name_words(&all[head..(all.len() - tail + 1).min(all.len())].join(" "));
        let whole = super::text::name_words(&all.join(" "));
        out.extend(
            [telling, longer, whole]
                .into_iter()
                .filter(|w| !w.is_empty())
                .map(|w| (w, i)),
        );
    }
    out
}

fn words(text: &str) -> Vec<String> {
    text.split(' ').map(str::to_string).collect()
}

/// How many words all readings share at the front and at the end.
fn common(said: &[Vec<String>]) -> (usize, usize) {
    let shortest = said.iter().map(Vec::len).min().unwrap_or(0);
    let head = (0..shortest)
        .take_while(|i| said.iter().all(|w| w[*i] == said[0][*i]))
        .count();
    let from_end = |w: &Vec<String>, i: usize| w[w.len() - 1 - i].clone();
    let tail = (0..shortest - head)
        .take_while(|i| {
            said.iter()
                .all(|w| from_end(w, *i) == from_end(&said[0], *i))
        })
        .count();
    (head, tail)
}

/// The telling words; after a `the`, with the noun that follows.
fn named(words: &[String], head: usize, tail: usize) -> String {
    let end = words.len() - tail;
    if head > 0 && words[head - 1] == "the" {
        return format!("the {}", words[head..(end + 1).min(words.len())].join(" "));
    }
    words[head..end].join(" ")
}

fn or(list: &[String]) -> String {
    match list {
        [] => String::new(),
        [one] => one.clone(),
        [head @ .., last] => format!("{} or {last}", head.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::order::{Question, StepId};
    use crate::time::Span;

    #[test]
    fn sound_alikes_come_in_pairs() {
        for (a, b) in [
            (13.0, 30.0),
            (15.0, 50.0),
            (19.0, 90.0),
            (115.0, 150.0),
            (317.0, 370.0),
            (1014.0, 1040.0),
        ] {
            assert_eq!(sound_alike(a), Some(b));
            assert_eq!(sound_alike(b), Some(a));
        }
        for n in [0.0, 1.0, 10.0, 12.0, 20.0, 25.0, 100.0, 13.5, 210.0] {
            assert_eq!(sound_alike(n), None, "{n}");
        }
    }

    #[test]
    fn the_question_names_both() {
        let lexicon = Lexicon::without_formula();
        let fifteen = Order::StartTimer {
            lasts: Some(Span::minutes(15)),
            name: None,
        };
        let other = confusable(&fifteen).unwrap();
        assert_eq!(
            other,
            Order::StartTimer {
                lasts: Some(Span::minutes(50)),
                name: None
            }
        );
        assert_eq!(
            question_between(&[fifteen, other], &lexicon),
            "Did you say fifteen or fifty?"
        );
        let spoons = Order::Ask(Question::Convert {
            number: 2.0,
            from: "tsp".into(),
            to: "oz".into(),
            ingredient: None,
        });
        let other = confusable(&spoons).unwrap();
        assert_eq!(
            question_between(&[spoons, other], &lexicon),
            "Did you say teaspoons or tablespoons?"
        );
        assert_eq!(confusable(&Order::Next), None);
        assert_eq!(
            confusable(&Order::GoToStep { step: StepId(14) }),
            Some(Order::GoToStep { step: StepId(40) })
        );
    }
}
