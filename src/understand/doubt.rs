//! The one short question between readings.

use crate::order::{Order, Situation, describe};

/// The question between readings: `did you say fifteen or fifty?`, `the strong white flour or the rye flour?`.
pub fn question_between(readings: &[Order], here: &Situation) -> String {
    let question = bound_question(readings, here);
    question.replace('\u{a0}', " ")
}

/// The question about several orders in one breath: `do you mean: take back the last thing, and start a timer for ten minutes?`.
pub fn question_of_all(orders: &[Order], here: &Situation) -> String {
    let said: Vec<String> = orders.iter().map(|o| describe(o, here)).collect();
    format!("Do you mean: {}?", said.join(", and ")).replace('\u{a0}', " ")
}

fn bound_question(readings: &[Order], here: &Situation) -> String {
    let said: Vec<Vec<String>> = readings.iter().map(|r| words(&describe(r, here))).collect();
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
pub(super) fn answers(readings: &[Order], here: &Situation) -> Vec<(Vec<String>, usize)> {
    let said: Vec<Vec<String>> = readings.iter().map(|r| words(&describe(r, here))).collect();
    let (head, tail) = if said.len() > 1 {
        common(&said)
    } else {
        (0, 0)
    };
    let mut out = Vec::new();
    for (i, all) in said.iter().enumerate() {
        let telling = plain(&all[head..all.len() - tail]);
        let longer = plain(&all[head..(all.len() - tail + 1).min(all.len())]);
        let whole = plain(all);
        out.extend(
            [telling, longer, whole]
                .into_iter()
                .filter(|w| !w.is_empty())
                .map(|w| (w, i)),
        );
    }
    out
}

fn plain(words: &[String]) -> Vec<String> {
    super::text::name_words(&words.join(" ").replace('\u{a0}', " "))
}

/// The words, of which the bound ones stay together.
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
        assert_eq!(asked(&fifteen), "Did you say fifteen or fifty?");
        let spoons = Order::Ask(Question::Convert {
            number: 2.0,
            from: "tsp".into(),
            to: "oz".into(),
            ingredient: None,
        });
        assert_eq!(asked(&spoons), "Did you say teaspoons or tablespoons?");
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
            assert_eq!(asked(&order), "Did you say fifteen or fifty?");
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
