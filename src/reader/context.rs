//! What a strict reading means in its situation: a fragment leans on what was said or asked before.

use super::situation::{AskedKind, Printed, ReaderSituation};
use crate::order::{Order, TimerRef};
use crate::time::Span;

/// A sentence does not end on these: it was broken off, and nothing was answered yet.
const DANGLING: &[&str] = &[
    "it's", "that's", "they're", "there's", "he's", "she's", "i'm", "we're", "the", "a", "an",
    "and", "but", "or", "because", "if", "my", "well",
];
const YES: &[&str] = &["yes", "yeah", "yep", "yup", "aye", "ok", "okay"];
/// Words of a question about what is in it.
const CONTENTS: &[&str] = &[
    "contain", "contains", "any", "in", "have", "has", "there", "free",
];
const AMOUNT: &[&str] = &["how", "much", "many", "weigh", "amount", "weight"];

/// The order that these words are in their situation; nothing where they were broken off before they answered.
pub fn leaning(order: Order, text: &str, situation: &ReaderSituation) -> Option<Order> {
    let lower = text.to_lowercase().replace('\u{2019}', "'");
    let words: Vec<&str> = lower
        .split_whitespace()
        .map(|w| w.trim_matches(|c: char| !c.is_alphanumeric() && c != '\''))
        .collect();
    let cut_off = |w: &&str| DANGLING.contains(w) && (words.len() > 1 || w.contains('\''));
    if order.is_answer() && words.last().is_some_and(cut_off) {
        return None;
    }
    let says = |list: &[&str]| words.iter().any(|w| list.contains(w));
    let running = !situation.timers.is_empty() || situation.rings.is_some();
    match order {
        // 'Put ten minutes on' where nothing runs that they could be more of.
        Order::AddTime { by, timer: None }
            if !running && !says(&["more", "another", "extra", "longer", "add"]) =>
        {
            return Some(Order::StartTimer {
                lasts: Some(by),
                name: None,
            });
        }
        // 'Put forty five minutes for the pasta', where no pasta is timed.
        Order::AddTime {
            by,
            timer: Some(TimerRef::Said(name)),
        } if named_timer(&name.split(' ').collect::<Vec<_>>(), situation).is_none()
            && named_timer(&words, situation).is_none()
            && !says(&["more", "another", "extra", "longer", "add", "further"]) =>
        {
            return Some(Order::StartTimer {
                lasts: Some(by),
                name: Some(name),
            });
        }
        // 'One second' asks for patience.
        Order::StartTimer {
            lasts: Some(lasts),
            name: None,
        } if lasts == Span::seconds(1) && !is_asked_how_long(situation) => {
            return Some(Order::HangOn);
        }
        // 'Tell me step five' does not go there.
        Order::GoToStep { step } if words.first() == Some(&"tell") => {
            return Some(Order::TellStep { step });
        }
        // 'Ten minutes' to 'has the dough doubled?'.
        Order::StartTimer {
            lasts: by @ Some(_),
            name: None,
        } if words.len() <= 4
            && situation
                .asked
                .as_ref()
                .is_some_and(|a| a.kind == AskedKind::Look)
            && !says(&["timer", "set", "start", "clock"]) =>
        {
            return Some(Order::NeedsLonger { by });
        }
        Order::Next if situation.weighing.is_some() && says(&["ingredient"]) => {
            return Some(Order::WeighNext);
        }
        _ => {}
    }
    let asked = situation.asked.as_ref();
    // 'Yes, stop it' to 'stop the timer?', and 'yes, golden' to 'is it golden?'.
    let agrees = words.first().is_some_and(|w| YES.contains(w)) && words.len() <= 4;
    let only_words = matches!(
        order,
        Order::StopTalking | Order::Done | Order::HowMuch { .. } | Order::StartOffered
    );
    if agrees
        && only_words
        && !order.is_answer()
        && asked.is_some_and(|a| matches!(a.kind, AskedKind::Confirm | AskedKind::Look))
    {
        return Some(Order::Yes);
    }
    let last = situation.last.as_ref().and_then(|l| l.order.as_ref());
    let last = last.map_or("", |o| o.intent.as_str());
    // 'And the onions?' after 'how long for the rice?', where onions have a timer.
    let bare = words.len() <= 4 && !says(AMOUNT) && !says(CONTENTS);
    if bare
        && matches!(order, Order::HowMuch { .. } | Order::Contains { .. })
        && let Some(timer) = named_timer(&words, situation).map(TimerRef::Said)
    {
        match last {
            "time_left" => return Some(Order::TimeLeft { timer: Some(timer) }),
            "time_gone" => return Some(Order::TimeGone { timer: Some(timer) }),
            "ready_when" => return Some(Order::ReadyWhen { timer: Some(timer) }),
            _ => {}
        }
    }
    let Order::HowMuch {
        ingredient,
        part: None,
        unit: None,
    } = &order
    else {
        return Some(order);
    };
    if says(AMOUNT) {
        return Some(order);
    }
    if let Some(asked) = asked.filter(|a| a.kind == AskedKind::Which) {
        let named = |o: &&Printed| o.text("ingredient") == Some(&**ingredient);
        let mut meant = asked.readings.iter().filter(named);
        if let Some(reading) = meant.next()
            && meant.next().is_none()
        {
            return reading.order().or(Some(order));
        }
    }
    // 'And the water?' after 'have I added the salt?' asks the same of another thing, and no amount.
    Some(if last == "have_added" {
        Order::HaveAdded {
            ingredient: ingredient.clone(),
        }
    } else {
        order
    })
}

/// The program has asked for how long.
fn is_asked_how_long(s: &ReaderSituation) -> bool {
    let asked = s.asked.as_ref();
    asked.is_some_and(|a| a.kind == AskedKind::HowLong)
}

/// The timer that is live and is named by one of the words.
fn named_timer(words: &[&str], s: &ReaderSituation) -> Option<String> {
    let mut live = s.timers.iter().map(|t| &t.name).chain(&s.rings);
    let is_said = |part: &str| words.iter().any(|w| part == *w || plural_of(part, w));
    live.find(|name| name.split(' ').any(is_said)).cloned()
}

/// 'The other one', after one of two timers was asked about.
pub(super) fn other(words: &[String], s: &ReaderSituation) -> Option<Printed> {
    if words.len() > 5 || !words.windows(2).any(|w| w == ["the", "other"]) {
        return None;
    }
    let last = s.last.as_ref()?.order.as_ref()?;
    if !["time_left", "time_gone", "ready_when"].contains(&last.intent.as_str()) {
        return None;
    }
    let told = last.text("timer")?;
    let live = s.timers.iter().map(|t| &t.name).chain(&s.rings);
    let mut others = live.filter(|name| *name != told);
    let name = others.next()?;
    if others.next().is_some() {
        return None;
    }
    let mut order = Printed::new(&last.intent);
    order.slots.insert("timer".to_owned(), name.as_str().into());
    Some(order)
}

fn plural_of(a: &str, b: &str) -> bool {
    let (short, long) = if a.len() < b.len() { (a, b) } else { (b, a) };
    short.len() > 2
        && (long.strip_suffix('s') == Some(short) || long.strip_suffix("es") == Some(short))
}

#[cfg(test)]
mod tests {
    use super::super::{Last, ReaderQuestion, Running};
    use super::*;
    use crate::order::IngredientId;

    fn amount(of: &str) -> Order {
        Order::HowMuch {
            ingredient: IngredientId::from(of),
            part: None,
            unit: None,
        }
    }

    fn after(order: Order) -> ReaderSituation {
        ReaderSituation {
            last: Some(Last {
                said: "So it is.".to_owned(),
                order: Some(Printed::from(&order)),
            }),
            ..ReaderSituation::default()
        }
    }

    #[test]
    fn a_fragment_asks_what_was_asked_before() {
        let salt = Order::HaveAdded {
            ingredient: "salt".into(),
        };
        let water = Order::HaveAdded {
            ingredient: "water".into(),
        };
        let s = after(salt);
        assert_eq!(leaning(amount("water"), "and the water", &s), Some(water));
        assert_eq!(
            leaning(amount("water"), "and how much water", &s),
            Some(amount("water"))
        );
        let mut s = after(Order::TimeLeft { timer: None });
        let onions = leaning(amount("onion"), "and the onions", &s);
        assert_eq!(onions, Some(amount("onion")), "no timer of that name");
        s.timers.push(Running {
            name: "onions".to_owned(),
            left_ms: 1,
            total_ms: 2,
            paused: false,
        });
        assert_eq!(
            leaning(amount("onion"), "and the onions", &s),
            Some(Order::TimeLeft {
                timer: Some(TimerRef::Said("onions".to_owned()))
            })
        );
    }

    #[test]
    fn a_question_is_answered_in_its_own_words() {
        let asked = |kind, readings: Vec<Order>| ReaderSituation {
            asked: Some(ReaderQuestion {
                kind,
                question: "Which?".to_owned(),
                timer: None,
                order: None,
                readings: readings.iter().map(Printed::from).collect(),
            }),
            ..ReaderSituation::default()
        };
        let mark = |of: &str| Order::MarkAdded {
            ingredient: of.into(),
            also: Vec::new(),
        };
        let s = asked(AskedKind::Which, vec![mark("rice"), mark("pepper")]);
        assert_eq!(leaning(amount("rice"), "the rice", &s), Some(mark("rice")));
        let s = asked(AskedKind::Confirm, vec![]);
        assert_eq!(
            leaning(Order::StopTalking, "yes stop it", &s),
            Some(Order::Yes)
        );
        assert_eq!(
            leaning(Order::StopTalking, "stop", &s),
            Some(Order::StopTalking)
        );
    }

    #[test]
    fn what_is_broken_off_answers_nothing() {
        let s = ReaderSituation::default();
        for text in ["it's", "well it's", "yes but", "it is the"] {
            assert_eq!(leaning(Order::Yes, text, &s), None, "{text}");
        }
        assert_eq!(leaning(Order::Yes, "yes it is", &s), Some(Order::Yes));
    }
}
