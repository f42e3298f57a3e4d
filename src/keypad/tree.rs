//! The strokes and the lists of all orders, as they were declared, and what each asks for next.

use std::collections::HashMap;
use std::sync::LazyLock;

use crate::measure::words::capital;
use crate::order::keys::{
    Answer, Answers, Before, Branch, Choices, Keys, Kind, Node, Path, Slot, Stroke,
};
use crate::order::{Key, Order, Situation, all_keys, describe};

/// Everything that is declared.
pub(super) static KEYS: LazyLock<Keys> = LazyLock::new(all_keys);

/// The nodes by where they stand.
static NODES: LazyLock<HashMap<&'static str, &'static Branch>> =
    LazyLock::new(|| KEYS.branches.iter().map(|b| (b.at, b)).collect());

/// What choosing an item does.
pub(super) enum Then {
    /// Goes on with another node, which begins with these answers.
    Open(String, Vec<Answer>),
    /// Is an answer to the present node.
    Keep(Answer),
    /// Is an order.
    Do(Order),
    /// Is the reading that was meant, counted from nought.
    Pick(usize),
}

/// One item of a list.
pub(super) struct Item {
    pub(super) says: String,
    pub(super) then: Then,
}

/// What a node needs next.
pub(super) enum Ask {
    /// One of these.
    Pick { title: String, items: Vec<Item> },
    /// A number; where it is optional, Enter alone leaves it out.
    Number {
        prompt: &'static str,
        optional: bool,
    },
    /// Nothing: this is the order.
    Do(Order),
    /// It cannot go on: why.
    Refuse(String),
}

/// The stroke of a key here: the one of the most pressing place that knows it.
pub(super) fn stroke(before: Before, key: Key, here: &Situation) -> Option<&'static Stroke> {
    let of_key = |s: &&Stroke| s.before == before && s.key == key && s.place.holds(here);
    KEYS.strokes.iter().filter(of_key).min_by_key(|s| s.place)
}

/// What a key does here, in words; nothing where it does nothing.
pub(super) fn meaning(before: Before, key: Key, n: &str, here: &Situation) -> Option<String> {
    stroke(before, key, here).map(|s| s.meaning.replace("{n}", n))
}

/// The fixed items of a list, by their numbers.
pub(super) fn children(at: &str) -> Vec<&'static Branch> {
    let number = |branch: &Branch| -> Option<u32> {
        let last = branch.at.strip_prefix(at)?.strip_prefix(' ')?;
        last.parse().ok()
    };
    let mut all: Vec<(u32, &Branch)> = KEYS
        .branches
        .iter()
        .filter_map(|b| Some((number(b)?, b)))
        .collect();
    all.sort_by_key(|(n, _)| *n);
    all.into_iter().map(|(_, branch)| branch).collect()
}

/// What a node needs next, with these answers so far.
pub(super) fn ask(at: &str, answers: &[Answer], here: &Situation) -> Ask {
    match NODES.get(at).map(|branch| &branch.node) {
        Some(Node::List { title, each }) => list(at, title, *each, answers, here),
        Some(Node::Path(path)) => next(at, path, answers, here),
        None => readings(here),
    }
}

fn list(
    at: &str,
    title: &str,
    each: Option<fn(&Situation) -> Choices>,
    answers: &[Answer],
    here: &Situation,
) -> Ask {
    let fixed = children(at);
    // An item that was added is called by its own name.
    let title = if title.is_empty() {
        let name = match answers.first() {
            Some(Answer::Ingredient(id)) => here.ingredient(id),
            Some(Answer::Dish(id)) => here.dish(*id),
            Some(Answer::Timer(id)) => {
                let timer = here.timers.iter().find(|timer| timer.id == *id);
                timer.map_or("", |timer| &timer.name)
            }
            _ => "",
        };
        if name.is_empty() {
            return Ask::Refuse("That is no longer there.".to_owned());
        }
        format!("{}.", capital(name))
    } else {
        title.to_owned()
    };
    let mut items: Vec<Item> = fixed
        .iter()
        .map(|branch| Item {
            says: branch.says.to_owned(),
            then: Then::Open(branch.at.to_owned(), answers.to_vec()),
        })
        .collect();
    match each.map(|each| each(here)) {
        Some(Err(why)) if items.is_empty() => return Ask::Refuse(why),
        Some(Ok(added)) => items.extend(added.into_iter().map(|(says, answer)| Item {
            says,
            then: Then::Open(format!("{at} #"), vec![answer]),
        })),
        Some(Err(_)) | None => {}
    }
    Ask::Pick { title, items }
}

/// The first slot that has no answer yet, or the order. An order below an item that was added begins with that item.
fn next(at: &str, path: &Path, answers: &[Answer], here: &Situation) -> Ask {
    let (given, said) = answers.split_at(at.matches('#').count().min(answers.len()));
    let (mut all, mut said) = (given.to_vec(), said.iter());
    for slot in &path.slots {
        if slot.when.is_some_and(|when| !when(&Answers(&all))) {
            all.push(Answer::Nothing);
            continue;
        }
        match said.next() {
            Some(answer) => all.push(answer.clone()),
            None => return wanted(slot, here),
        }
    }
    match (path.order)(&Answers(&all), here) {
        Ok(order) => Ask::Do(order),
        Err(why) => Ask::Refuse(why),
    }
}

fn wanted(slot: &Slot, here: &Situation) -> Ask {
    match slot.kind {
        Kind::Number { optional } => Ask::Number {
            prompt: slot.prompt,
            optional,
        },
        Kind::OneOf(choices) => match choices(here) {
            Err(why) => Ask::Refuse(why),
            Ok(choices) => Ask::Pick {
                title: slot.prompt.to_owned(),
                items: choices
                    .into_iter()
                    .map(|(says, answer)| Item {
                        says,
                        then: Then::Keep(answer),
                    })
                    .collect(),
            },
        },
    }
}

fn readings(here: &Situation) -> Ask {
    if here.readings().is_empty() {
        return Ask::Refuse("I have not asked anything.".to_owned());
    }
    let mut items: Vec<Item> = here
        .readings()
        .iter()
        .enumerate()
        .map(|(at, order)| Item {
            says: describe(order, here),
            then: Then::Pick(at),
        })
        .collect();
    items.push(Item {
        says: "none of these".to_owned(),
        then: Then::Do(Order::No),
    });
    Ask::Pick {
        title: "Which did you mean?".to_owned(),
        items,
    }
}
