//! The one short question between readings.

use crate::order::alike::{Said, SlotValue};
use crate::order::{Order, Situation, describe};

/// The question between readings: `did you say fifteen or fifty minutes?`, `the strong white flour or the rye flour?`.
pub fn question_between(readings: &[Order], here: &Situation) -> String {
    let said = sentences(readings, here);
    match (told_apart(readings, &said), said.as_slice()) {
        (_, []) => "Say that again, please?".to_string(),
        (_, [one]) => format!("Do you mean: {one}?"),
        (Apart::Values(values), _) => format!("Did you say {}?", one_of(&values)),
        (Apart::Words { head, tail }, many) => {
            let close: Vec<String> = many.iter().map(|s| named(&words(s), head, tail)).collect();
            format!("Did you say {}?", or(&close))
        }
        (Apart::Sentences, many) => format!("Do you mean: {}?", or(many)),
    }
}

/// The question about several orders in one breath: `do you mean: take back the last thing, and start a timer for ten minutes?`.
pub fn question_of_all(orders: &[Order], here: &Situation) -> String {
    format!("Do you mean: {}?", sentences(orders, here).join(", and "))
}

fn sentences(readings: &[Order], here: &Situation) -> Vec<String> {
    readings.iter().map(|r| describe(r, here)).collect()
}

/// What tells readings apart.
enum Apart {
    /// One value of one order, whole.
    Values(Vec<Said>),
    /// A few words within their sentences, between so many at the front and so many at the end that are the same.
    Words {
        /// At the front.
        head: usize,
        /// At the end.
        tail: usize,
    },
    /// Only the whole sentences do.
    Sentences,
}

fn told_apart(readings: &[Order], said: &[String]) -> Apart {
    let same_kind = readings
        .windows(2)
        .all(|two| two[0].name() == two[1].name());
    if readings.len() < 2 || !same_kind {
        return Apart::Sentences;
    }
    let values: Vec<Vec<Said>> = readings.iter().map(values).collect();
    let slots = values[0].len();
    if values.iter().any(|v| v.len() != slots) {
        return Apart::Sentences;
    }
    let differs = |at: &usize| values.iter().any(|v| v[*at] != values[0][*at]);
    let mut apart: Vec<usize> = (0..slots).filter(differs).collect();
    // A number and its unit are one value, whichever of them it is that sounds alike.
    if let [first, second] = apart[..]
        && values.iter().all(|v| v[first].counts_in(&v[second]))
    {
        apart.pop();
    }
    let in_sentence = |at: &usize| matches!(values[0][*at], Said::InSentence(_));
    if let [at] = apart[..]
        && !in_sentence(&at)
    {
        return Apart::Values(values.into_iter().map(|mut v| v.swap_remove(at)).collect());
    }
    // A sentence that is cut anywhere else could leave a number without its unit.
    if !apart.iter().all(in_sentence) {
        return Apart::Sentences;
    }
    let many: Vec<Vec<String>> = said.iter().map(|s| words(s)).collect();
    let (head, tail) = common(&many);
    let telling = |w: &Vec<String>| (1..=4).contains(&(w.len() - tail - head));
    if many.iter().all(telling) {
        Apart::Words { head, tail }
    } else {
        Apart::Sentences
    }
}

/// The values of an order, in order.
fn values(order: &Order) -> Vec<Said> {
    let (mut order, mut all) = (order.clone(), Vec::new());
    order.visit(&mut |value| all.push(value.said()));
    all
}

/// Values side by side; what all have around their number is said once.
fn one_of(values: &[Said]) -> String {
    let parts = |said: &Said| match said {
        Said::Measured { number, unit } => (String::new(), number.clone(), format!(" {unit}")),
        Said::Numbered { before, number } => (format!("{before} "), number.clone(), String::new()),
        _ => (String::new(), said.whole(), String::new()),
    };
    let all: Vec<_> = values.iter().map(parts).collect();
    let (before, _, after) = &all[0];
    if all.iter().all(|(b, _, a)| (b, a) == (before, after)) {
        let numbers: Vec<String> = all.iter().map(|(_, number, _)| number.clone()).collect();
        format!("{before}{}{after}", or(&numbers))
    } else {
        or(&values.iter().map(Said::whole).collect::<Vec<_>>())
    }
}

/// The telling words of each reading, each with its index: what the cook may answer to `question_between`.
pub(super) fn answers(readings: &[Order], here: &Situation) -> Vec<(Vec<String>, usize)> {
    let said = sentences(readings, here);
    let telling: Vec<Vec<String>> = match told_apart(readings, &said) {
        Apart::Values(values) => values.iter().map(Said::short_and_whole).collect(),
        Apart::Words { .. } | Apart::Sentences => {
            let many: Vec<Vec<String>> = said.iter().map(|s| words(s)).collect();
            let (head, tail) = if many.len() > 1 {
                common(&many)
            } else {
                (0, 0)
            };
            let cut = |w: &Vec<String>| {
                let end = w.len() - tail;
                vec![
                    w[head..end].join(" "),
                    w[head..(end + 1).min(w.len())].join(" "),
                ]
            };
            many.iter().map(cut).collect()
        }
    };
    let each = said.iter().zip(telling).enumerate();
    each.flat_map(|(i, (whole, mut all))| {
        all.push(whole.clone());
        all.into_iter()
            .map(|words| super::text::name_words(&words))
            .filter(|words| !words.is_empty())
            .map(move |words| (words, i))
    })
    .collect()
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
    use crate::order::Question;
    use crate::order::UnitSymbol;
    use crate::time::{ClockTime, HalfDay, Span};

    fn asked(order: &Order) -> String {
        let other = order.sounds_like().expect("it sounds like something");
        question_between(&[order.clone(), other], &Situation::default())
    }

    #[test]
    fn the_question_names_both() {
        let fifteen = Order::StartTimer {
            lasts: Some(Span::minutes(15)),
            name: None,
        };
        assert_eq!(asked(&fifteen), "Did you say fifteen or fifty minutes?");
        let spoons = Order::Ask(Question::Convert {
            number: 2.0,
            from: UnitSymbol::TEASPOON,
            to: UnitSymbol::OUNCE,
            ingredient: None,
        });
        assert_eq!(
            asked(&spoons),
            "Did you say two teaspoons or two tablespoons?"
        );
        assert_eq!(Order::Next.sounds_like(), None);
    }

    #[test]
    fn a_cue_at_fifteen_minutes_is_asked_about_as_a_timer_is() {
        let cue = |at, left| Order::AddCue {
            say: "turn the tin".to_owned(),
            at,
            left,
            timer: None,
        };
        let minutes = |n| Some(Span::minutes(n));
        for order in [cue(minutes(15), None), cue(None, minutes(15))] {
            assert_eq!(asked(&order), "Did you say fifteen or fifty minutes?");
        }
    }

    #[test]
    fn a_clock_time_is_named_whole() {
        let eat = |hour, minute| Order::EatAt {
            at: ClockTime {
                hour,
                minute,
                half: HalfDay::Said,
            },
        };
        assert_eq!(
            asked(&eat(19, 30)),
            "Did you say half past seven in the evening or seven thirteen in the evening?"
        );
        let six = question_between(&[eat(19, 30), eat(18, 30)], &Situation::default());
        assert_eq!(
            six,
            "Did you say half past seven in the evening or half past six in the evening?"
        );
        assert_eq!(eat(19, 0).sounds_like(), None);
    }
}
