//! The keys of the orders: strokes and lists, as the families of orders write them down. `keypad` reads them once.

use serde::{Deserialize, Serialize};

use super::key::Key;
use super::order::Order;
use super::place::Place;
use super::refs::{DishRef, Food, IngredientId, TimerRef};
use super::situation::Situation;
use super::unit_symbol::UnitSymbol;
use crate::measure::Mass;
use crate::time::Span;

/// What was entered before a key.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Before {
    /// Nothing: the key by itself.
    Nothing,
    /// Nought by itself: the key then only tells.
    Nought,
    /// Nought and a number: the key tells of that one.
    NoughtAndNumber,
    /// A number: it gives the key its measure.
    Number,
}

/// What a stroke comes to.
pub(crate) enum Press {
    /// An order.
    Order(Order),
    /// Only something to say.
    Say(String),
    /// A list or an order that is still to be put together opens, with these answers to begin with.
    Open(&'static str, Vec<Answer>),
}

/// A key, alone or after a number, at one kind of place.
pub(crate) struct Stroke {
    pub(crate) before: Before,
    pub(crate) key: Key,
    pub(crate) place: Place,
    /// What it does, in words; `{n}` stands for the number.
    pub(crate) meaning: &'static str,
    /// What comes of it, from the number as typed.
    pub(crate) then: fn(&str, &Situation) -> Press,
}

/// One answer to what an order asks for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(crate) enum Answer {
    /// Left out.
    Nothing,
    /// A number as typed.
    Number(String),
    /// One of a closed set of words.
    Word(String),
    /// One of the formula's ingredients.
    Ingredient(IngredientId),
    /// One of the timers.
    Timer(u32),
    /// One of the dishes.
    Dish(DishRef),
}

/// The answers so far, read by their place.
pub(crate) struct Answers<'a>(pub(crate) &'a [Answer]);

impl Answers<'_> {
    /// The number as it was typed; empty where it was left out.
    pub(crate) fn typed(&self, at: usize) -> &str {
        match self.0.get(at) {
            Some(Answer::Number(text)) => text,
            _ => "",
        }
    }

    /// The number, where there is one.
    pub(crate) fn maybe(&self, at: usize) -> Option<f64> {
        let text = self.typed(at);
        (!text.is_empty()).then(|| value(text))
    }

    /// The number; nought, which nothing accepts, where there is none.
    pub(crate) fn number(&self, at: usize) -> f64 {
        self.maybe(at).unwrap_or_default()
    }

    /// So many grams.
    pub(crate) fn mass(&self, at: usize) -> Mass {
        Mass::grams(self.number(at))
    }

    /// So many minutes.
    pub(crate) fn minutes(&self, at: usize) -> Span {
        minutes(self.typed(at))
    }

    /// The word, where one was chosen.
    pub(crate) fn word(&self, at: usize) -> Option<&str> {
        match self.0.get(at) {
            Some(Answer::Word(word)) => Some(word),
            _ => None,
        }
    }

    /// The word as a unit.
    pub(crate) fn unit(&self, at: usize) -> UnitSymbol {
        self.word(at)
            .and_then(|word| word.parse().ok())
            .unwrap_or_default()
    }

    /// The word, or the ingredient by its name, as a food.
    pub(crate) fn food(&self, at: usize, situation: &Situation) -> Option<Food> {
        match self.0.get(at)? {
            Answer::Word(word) => Some(word.as_str().into()),
            Answer::Ingredient(id) => Some(situation.ingredient(id).into()),
            _ => None,
        }
    }

    /// The ingredient.
    pub(crate) fn ingredient(&self, at: usize) -> IngredientId {
        match self.0.get(at) {
            Some(Answer::Ingredient(id)) => id.clone(),
            _ => "".into(),
        }
    }

    /// The dish.
    ///
    /// # Errors
    /// Where it is no longer there.
    pub(crate) fn dish(&self, at: usize) -> Result<DishRef, String> {
        match self.0.get(at) {
            Some(Answer::Dish(dish)) => Ok(*dish),
            _ => Err("That is no longer there.".to_owned()),
        }
    }

    /// The timer.
    pub(crate) fn timer(&self, at: usize) -> Option<TimerRef> {
        match self.0.get(at) {
            Some(Answer::Timer(id)) => Some(TimerRef::Id(*id)),
            _ => None,
        }
    }
}

/// Reads a number as typed; anything else is nought.
pub(crate) fn value(text: &str) -> f64 {
    text.parse::<f64>().unwrap_or(0.0)
}

/// Minutes as typed, to the nearest millisecond.
pub(crate) fn minutes(text: &str) -> Span {
    Span::millis((value(text) * 60_000.0).round().max(0.0) as u64)
}

/// What can be chosen: how it is said, and the answer that it gives. Or why there is nothing to choose from.
pub(crate) type Choices = Result<Vec<(String, Answer)>, String>;

/// Something that an order still needs.
pub(crate) struct Slot {
    pub(crate) prompt: &'static str,
    pub(crate) kind: Kind,
    /// Asked only where this is so.
    pub(crate) when: Option<fn(&Answers) -> bool>,
}

/// What fills a slot.
pub(crate) enum Kind {
    /// A number; where it is optional, Enter alone leaves it out.
    Number {
        /// It may be left out.
        optional: bool,
    },
    /// One of these.
    OneOf(fn(&Situation) -> Choices),
}

impl Slot {
    /// Asked only where this is so; it counts as left out elsewhere.
    pub(crate) fn when(self, when: fn(&Answers) -> bool) -> Self {
        Self {
            when: Some(when),
            ..self
        }
    }
}

/// A number.
pub(crate) fn number(prompt: &'static str) -> Slot {
    Slot {
        prompt,
        kind: Kind::Number { optional: false },
        when: None,
    }
}

/// A number that Enter alone leaves out.
pub(crate) fn number_or_none(prompt: &'static str) -> Slot {
    Slot {
        prompt,
        kind: Kind::Number { optional: true },
        when: None,
    }
}

/// One of these.
pub(crate) fn one_of(prompt: &'static str, choices: fn(&Situation) -> Choices) -> Slot {
    Slot {
        prompt,
        kind: Kind::OneOf(choices),
        when: None,
    }
}

/// Words that stand for themselves.
pub(crate) fn words<W: AsRef<str>>(list: impl IntoIterator<Item = W>) -> Choices {
    let word = |w: W| (w.as_ref().to_owned(), Answer::Word(w.as_ref().to_owned()));
    Ok(list.into_iter().map(word).collect())
}

/// Words as said, and what each stands for.
pub(crate) fn pairs(list: &[(&str, &str)]) -> Choices {
    let pair = |(says, is): &(&str, &str)| ((*says).to_owned(), Answer::Word((*is).to_owned()));
    Ok(list.iter().map(pair).collect())
}

/// The formula's ingredients.
pub(crate) fn ingredients(situation: &Situation) -> Choices {
    let here = situation.ingredients.iter();
    let all: Vec<_> = here
        .map(|i| (i.name.clone(), Answer::Ingredient(i.id.clone())))
        .collect();
    if all.is_empty() {
        return Err("There is no ingredient list here.".to_owned());
    }
    Ok(all)
}

/// The formula's ingredients, and after them these others.
pub(crate) fn ingredients_and(situation: &Situation, others: &[&str]) -> Choices {
    let mut all = ingredients(situation).unwrap_or_default();
    let known = |word: &&&str| !situation.ingredients.iter().any(|i| i.name == **word);
    let others = others.iter().filter(known).copied();
    all.extend(words(others)?);
    Ok(all)
}

/// The parts of the dish.
pub(crate) fn parts(situation: &Situation) -> Choices {
    if situation.parts.is_empty() {
        return Err("This dish has no parts of its own.".to_owned());
    }
    let word = |part: &String| (part.clone(), Answer::Word(part.clone()));
    Ok(situation.parts.iter().map(word).collect())
}

/// The timers that run.
pub(crate) fn timers(situation: &Situation) -> Choices {
    if situation.timers.is_empty() {
        return Err("No timer is running.".to_owned());
    }
    let here = situation.timers.iter();
    Ok(here
        .map(|t| (t.name.clone(), Answer::Timer(t.id)))
        .collect())
}

/// The titles of the book.
pub(crate) fn titles_of_book(situation: &Situation) -> Choices {
    if situation.book.is_empty() {
        return Err("There is no other in the book.".to_owned());
    }
    words(situation.book.iter())
}

/// Steps by their titles.
pub(crate) fn titles(situation: &Situation) -> Choices {
    let titles = situation.steps.iter().enumerate();
    let all: Vec<_> = titles
        .map(|(at, title)| (title.clone(), Answer::Number((at + 1).to_string())))
        .collect();
    if all.is_empty() {
        return Err("There are no steps here.".to_owned());
    }
    Ok(all)
}

/// The ingredient of this number, or what to say where there is none.
pub(crate) fn numbered(
    text: &str,
    situation: &Situation,
    order: impl Fn(IngredientId) -> Order,
) -> Press {
    let at = text.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
    match at.and_then(|at| situation.ingredients.get(at)) {
        Some(here) => Press::Order(order(here.id.clone())),
        None => Press::Say(match situation.ingredients.len() {
            0 => "There is no ingredient list here.".to_owned(),
            n => format!("There is no ingredient {text}; they run from 1 to {n}."),
        }),
    }
}

/// An order that is put together from what it still needs.
pub(crate) struct Path {
    pub(crate) slots: Vec<Slot>,
    /// The order, once every slot has its answer; or why there is none.
    pub(crate) order: fn(&Answers, &Situation) -> Result<Order, String>,
}

/// What a node of the tree of lists is.
pub(crate) enum Node {
    /// A list; `each` adds an item for every timer or ingredient after the fixed ones, which leads to the node `#`.
    List {
        title: &'static str,
        each: Option<fn(&Situation) -> Choices>,
    },
    /// An order.
    Path(Path),
}

/// One node: where it stands in the tree, as `. 5 # 2` (the numbers of the items, `#` for any of the items that are
/// added), and how it is called in the list that has it.
pub(crate) struct Branch {
    pub(crate) at: &'static str,
    pub(crate) says: &'static str,
    pub(crate) node: Node,
}

/// A line of the card.
pub(crate) struct Shown {
    /// Example strokes.
    pub(crate) strokes: String,
    pub(crate) place: Place,
    pub(crate) says: &'static str,
}

/// All strokes and lists.
#[derive(Default)]
pub(crate) struct Keys {
    pub(crate) strokes: Vec<Stroke>,
    pub(crate) branches: Vec<Branch>,
    pub(crate) shown: Vec<Shown>,
}

impl Keys {
    /// A key by itself or after a number.
    pub(crate) fn stroke(
        &mut self,
        before: Before,
        key: Key,
        place: Place,
        meaning: &'static str,
        then: fn(&str, &Situation) -> Press,
    ) {
        self.strokes.push(Stroke {
            before,
            key,
            place,
            meaning,
            then,
        });
    }

    /// A key by itself, for an order without slots.
    pub(crate) fn key(
        &mut self,
        key: Key,
        place: Place,
        meaning: &'static str,
        then: fn(&str, &Situation) -> Press,
    ) {
        self.stroke(Before::Nothing, key, place, meaning, then);
    }

    /// A list.
    pub(crate) fn list(&mut self, at: &'static str, says: &'static str, title: &'static str) {
        let node = Node::List { title, each: None };
        self.branches.push(Branch { at, says, node });
    }

    /// A list that ends with an item for each of these.
    pub(crate) fn list_of(
        &mut self,
        at: &'static str,
        says: &'static str,
        title: &'static str,
        each: fn(&Situation) -> Choices,
    ) {
        let each = Some(each);
        let node = Node::List { title, each };
        self.branches.push(Branch { at, says, node });
    }

    /// An item of a list that needs nothing more, with its line on the card.
    pub(crate) fn item(
        &mut self,
        at: &'static str,
        says: &'static str,
        shown: &'static str,
        order: fn(&Answers, &Situation) -> Result<Order, String>,
    ) {
        let strokes = at.split(' ').map(|t| match t {
            "10" => "0",
            "11" => "- Enter",
            t => t,
        });
        let strokes = strokes.collect::<Vec<_>>().join(" ");
        self.path(at, says, Vec::new(), order);
        self.shown.push(Shown {
            strokes,
            place: Place::Step,
            says: shown,
        });
    }

    /// An item of a list that needs something more, or has no line on the card.
    pub(crate) fn path(
        &mut self,
        at: &'static str,
        says: &'static str,
        slots: Vec<Slot>,
        order: fn(&Answers, &Situation) -> Result<Order, String>,
    ) {
        let node = Node::Path(Path { slots, order });
        self.branches.push(Branch { at, says, node });
    }

    /// A line of the card.
    pub(crate) fn show(&mut self, strokes: &str, place: Place, says: &'static str) {
        self.shown.push(Shown {
            strokes: strokes.to_owned(),
            place,
            says,
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ask::{self, AskError, Context};
    use crate::measure::Region;
    use crate::safety::{SafetyError, topic};
    use crate::swap::SwapError;

    /// The tables have no such name.
    fn is_unknown(error: &AskError) -> bool {
        matches!(
            error,
            AskError::UnknownWord { .. }
                | AskError::UnknownIngredient { .. }
                | AskError::Safety(SafetyError::UnknownFood { .. })
                | AskError::Swap(SwapError::NoneFor { .. })
                | AskError::Measure(crate::measure::MeasureError::UnknownUnit { .. })
        )
    }

    #[test]
    fn the_tables_know_every_name_that_a_list_offers() {
        let here = Situation::default();
        let mut tried = 0;
        for branch in crate::order::all_keys().branches {
            let Node::Path(path) = branch.node else {
                continue;
            };
            let lists: Vec<Vec<Answer>> = path
                .slots
                .iter()
                .map(|slot| match slot.kind {
                    Kind::Number { .. } => vec![Answer::Number("15".to_owned())],
                    Kind::OneOf(choices) => {
                        let all = choices(&here).unwrap_or_default();
                        all.into_iter().map(|(_, answer)| answer).collect()
                    }
                })
                .collect();
            if lists.iter().any(Vec::is_empty) {
                continue;
            }
            for (at, list) in lists.iter().enumerate() {
                for choice in list {
                    let mut answers: Vec<Answer> = lists.iter().map(|l| l[0].clone()).collect();
                    answers[at] = choice.clone();
                    let order = (path.order)(&Answers(&answers), &here);
                    tried += 1;
                    match order {
                        Ok(Order::Ask(question)) => {
                            // Where one region has no such thing, another has.
                            let error = |region| {
                                let context = Context {
                                    region,
                                    ..Context::default()
                                };
                                ask::answer(&question, &context).err()
                            };
                            let unknown = |region| error(region).as_ref().is_some_and(is_unknown);
                            assert!(!Region::ALL.into_iter().all(unknown), "{question:?}");
                        }
                        Ok(Order::Contains { what, .. }) => {
                            assert!(topic(&what).is_some(), "{what}");
                        }
                        _ => {}
                    }
                }
            }
        }
        assert!(tried > 150, "{tried}");
    }
}
