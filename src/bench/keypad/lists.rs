//! The spoken lists: what is rare is chosen from a list that is read one item at a time, and what an item still needs
//! is asked for one thing at a time.

use serde::{Deserialize, Serialize};

use super::place::Place;
use super::sums::{self, Sum};
use crate::ask::{Keeping, Question};
use crate::measure::Mass;
use crate::measure::tin::Shape;
use crate::measure::words::capital;
use crate::order::{Food, IngredientId, TimerRef, UnitSymbol};
use crate::time::{ClockTime, HalfDay, Span};
use crate::understand::{Intent, ScaleBy};

/// A list, or an order that is being put together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum Task {
    // Lists.
    Top,
    Readings,
    Amounts,
    Ingredients,
    Ingredient,
    Clock,
    Timers,
    Timer,
    Size,
    Questions,
    DoughSums,
    Safety,
    Voice,
    Facts,
    Session,
    // Orders.
    AmountIn,
    Limit,
    EatAt,
    NeedsLonger,
    NewTimer,
    Lengthen,
    Shorten,
    LengthenWhich,
    ShortenWhich,
    Rename,
    Cue,
    Factor,
    Portions,
    Flour,
    Dough,
    Pieces,
    BakedPieces,
    Tin,
    NewHydration,
    Contains,
    Convert,
    Length,
    Temperature,
    Swap,
    WaterForFlour,
    PercentOf,
    WaterTemperature,
    RiseAt,
    SafeTemperature,
    PiecesFrom,
    MassOf,
    PercentIs,
    Preferment,
    BakedMass,
    DoughFor,
    Friction,
    SafeTime,
    Cautions,
    TroughSums,
    KitchenSums,
    OtherSums,
    Sum(Sum),
}

/// What choosing an item does.
pub(super) enum Then {
    /// Goes on with another task that begins with these answers.
    Open(Task, Vec<String>),
    /// Is an answer to the present task.
    Keep(String),
    /// Is an order.
    Do(Intent),
    /// Is the reading that was meant, counted from nought.
    Pick(usize),
}

/// One item of a list.
pub(super) struct Item {
    pub says: String,
    pub then: Then,
}

/// What a task needs next.
pub(super) enum Ask {
    /// One of these.
    Pick { title: String, items: Vec<Item> },
    /// A number; where it is optional, Enter alone leaves it out.
    Number { prompt: String, optional: bool },
    /// Nothing: this is the order.
    Do(Intent),
    /// It cannot go on: why.
    Refuse(String),
}

const UNITS: &[(&str, &str, bool)] = &[
    // (symbol, spoken, is a mass)
    ("g", "grams", true),
    ("ml", "millilitres", false),
    ("cup", "cups", false),
    ("tsp", "teaspoons", false),
    ("tbsp", "tablespoons", false),
    ("oz", "ounces", true),
    ("fl oz", "fluid ounces", false),
    ("lb", "pounds", true),
    ("kg", "kilograms", true),
    ("l", "litres", false),
];

const DEGREES: &[(&str, &str)] = &[
    ("Celsius", "c"),
    ("Fahrenheit", "f"),
    ("gas mark", "gas"),
    ("Celsius with fan", "fan"),
];

/// The fourteen of Regulation (EU) No 1169/2011, annex II, as they are said.
const ALLERGENS: &[&str] = &[
    "gluten",
    "milk",
    "eggs",
    "nuts",
    "peanuts",
    "sesame",
    "soya",
    "fish",
    "crustaceans",
    "molluscs",
    "celery",
    "mustard",
    "lupin",
    "sulphites",
];

const FOODS: &[&str] = &[
    "chicken",
    "minced meat",
    "pork",
    "beef",
    "lamb",
    "fish",
    "egg dishes",
    "stuffing",
    "leftovers",
];

const TIMER_NAMES: &[&str] = &[
    "first rise",
    "second rise",
    "rest",
    "bake",
    "boil",
    "simmer",
    "soak",
    "chill",
    "cool",
    "grill",
];

const CUES: &[&str] = &[
    "turn the tin",
    "look",
    "stir it",
    "heat the oven",
    "take the lid off",
    "take it out",
    "fold the dough",
];

const SWAPS: &[&str] = &[
    "instant yeast",
    "active dried yeast",
    "fresh yeast",
    "butter",
    "milk",
    "buttermilk",
    "egg",
    "self-raising flour",
    "caster sugar",
];

/// What to mind, as said, and its name in the table of cautions.
const CAUTIONS: &[(&str, &str)] = &[
    ("honey and infants", "honey"),
    ("nuts and small children", "whole-nuts"),
    ("raw flour", "raw-flour"),
    ("raw egg", "raw-egg"),
    ("garlic in oil", "garlic-oil"),
    ("herbs in oil", "herbs-oil"),
    ("cooked rice", "rice-cooling"),
    ("dried kidney beans", "kidney-beans"),
    ("raw poultry", "raw-poultry"),
    ("frozen meat and fish", "thaw"),
];

const THINGS: &[&str] = &["egg", "egg white", "egg yolk", "clove of garlic"];

fn do_(says: &str, intent: Intent) -> Item {
    Item {
        says: says.to_owned(),
        then: Then::Do(intent),
    }
}

fn keeping(says: &str, how: Keeping) -> Item {
    do_(says, Intent::Ask(Question::Keep { how }))
}

fn open(says: &str, task: Task) -> Item {
    Item {
        says: says.to_owned(),
        then: Then::Open(task, Vec::new()),
    }
}

fn open_with(says: &str, task: Task, answer: &str) -> Item {
    Item {
        says: says.to_owned(),
        then: Then::Open(task, vec![answer.to_owned()]),
    }
}

fn keep(says: &str, answer: &str) -> Item {
    Item {
        says: says.to_owned(),
        then: Then::Keep(answer.to_owned()),
    }
}

pub(super) fn pick(title: &str, items: Vec<Item>) -> Ask {
    Ask::Pick {
        title: title.to_owned(),
        items,
    }
}

pub(super) fn words(title: &str, list: &[&str]) -> Ask {
    pick(title, list.iter().map(|w| keep(w, w)).collect())
}

fn units(title: &str) -> Ask {
    pick(
        title,
        UNITS.iter().map(|(s, said, _)| keep(said, s)).collect(),
    )
}

/// What an amount can be turned into: spoons of both sizes as well.
fn into_units(title: &str) -> Ask {
    let mut items: Vec<Item> = UNITS.iter().map(|(s, said, _)| keep(said, s)).collect();
    items.push(keep("spoons, large and small", "spoons"));
    pick(title, items)
}

pub(super) fn pairs(title: &str, list: &[(&str, &str)]) -> Ask {
    pick(
        title,
        list.iter().map(|(says, is)| keep(says, is)).collect(),
    )
}

pub(super) fn number(prompt: &str) -> Ask {
    Ask::Number {
        prompt: prompt.to_owned(),
        optional: false,
    }
}

pub(super) fn number_or_none(prompt: &str) -> Ask {
    Ask::Number {
        prompt: prompt.to_owned(),
        optional: true,
    }
}

fn is_mass(symbol: &str) -> bool {
    UNITS.iter().any(|(s, _, mass)| *s == symbol && *mass)
}

/// Reads a number as typed; anything else is zero, which no caller accepts.
pub(super) fn value(text: &str) -> f64 {
    text.parse::<f64>().unwrap_or(0.0)
}

pub(super) fn maybe(text: &str) -> Option<f64> {
    (!text.is_empty()).then(|| value(text))
}

/// Minutes as typed, to the nearest millisecond.
pub(super) fn minutes(text: &str) -> Span {
    Span::millis((value(text) * 60_000.0).round().max(0.0) as u64)
}

fn named(text: &str) -> Option<String> {
    (!text.is_empty()).then(|| text.to_owned())
}

/// Reads `1930`, `730` or `19.30` as a clock time. Four digits are the twenty-four-hour clock; with fewer, an hour
/// from 1 to 12 is the next such time.
pub(super) fn clock(text: &str) -> Option<ClockTime> {
    let digits: String = text.chars().filter(char::is_ascii_digit).collect();
    let (hour, minute) = match (text.split_once('.'), digits.len()) {
        (Some((h, m)), _) if m.len() == 2 => (h.parse().ok()?, m.parse().ok()?),
        (None, 1 | 2) => (digits.parse().ok()?, 0),
        (None, 3) => (digits[..1].parse().ok()?, digits[1..].parse().ok()?),
        (None, 4) => (digits[..2].parse().ok()?, digits[2..].parse().ok()?),
        _ => return None,
    };
    if hour > 23_u8 || minute > 59_u8 {
        return None;
    }
    let unsaid = digits.len() < 4 && (1..=12).contains(&hour);
    Some(ClockTime {
        hour,
        minute,
        half: if unsaid {
            HalfDay::Unsaid
        } else {
            HalfDay::Said
        },
    })
}

fn ingredients(title: &str, place: &Place, then: impl Fn(&str) -> Then) -> Ask {
    if place.ingredients.is_empty() {
        return Ask::Refuse("There is no ingredient list here.".to_owned());
    }
    let items = place
        .ingredients
        .iter()
        .enumerate()
        .map(|(i, id)| Item {
            says: place.ingredient_name(i).to_owned(),
            then: then(id),
        })
        .collect();
    pick(title, items)
}

fn timers(title: &str, place: &Place) -> Ask {
    if place.timers.is_empty() {
        return Ask::Refuse("No timer is running.".to_owned());
    }
    pick(title, place.timers.iter().map(|t| keep(t, t)).collect())
}

fn readings(place: &Place) -> Ask {
    if place.readings.is_empty() {
        return Ask::Refuse("Nothing waits for an answer.".to_owned());
    }
    let reading = |(i, says): (usize, &String)| Item {
        says: says.clone(),
        then: Then::Pick(i),
    };
    let mut items: Vec<Item> = place.readings.iter().enumerate().map(reading).collect();
    items.push(do_("none of these", Intent::No));
    pick("Which did you mean?", items)
}

fn size(by: ScaleBy) -> Ask {
    Ask::Do(Intent::Scale { by })
}

pub(super) fn question(question: Question) -> Ask {
    Ask::Do(Intent::Ask(question))
}

fn refuse_clock() -> Ask {
    Ask::Refuse(
        "That is no time of day. Four digits: one nine three zero is half past seven in the evening.".to_owned(),
    )
}

/// What `task` needs next, with `answers` so far.
pub(super) fn ask(task: Task, answers: &[String], place: &Place) -> Ask {
    let answers: Vec<&str> = answers.iter().map(String::as_str).collect();
    match task {
        Task::Top
        | Task::Clock
        | Task::Size
        | Task::Questions
        | Task::DoughSums
        | Task::Safety
        | Task::Voice
        | Task::Facts
        | Task::Session => fixed(task),
        Task::Readings => readings(place),
        Task::Amounts => ingredients("How much of which?", place, |id| {
            Then::Do(Intent::HowMuch {
                ingredient: id.into(),
                part: None,
                unit: None,
            })
        }),
        Task::Ingredients => ingredients("Which ingredient?", place, |id| {
            Then::Open(Task::Ingredient, vec![id.to_owned()])
        }),
        Task::Ingredient => ingredient(&answers, place),
        Task::Timers => every_timer(place),
        Task::Timer => one_timer(&answers),
        Task::EatAt | Task::NeedsLonger | Task::NewTimer | Task::Rename | Task::Cue => {
            time_order(task, &answers)
        }
        Task::Lengthen | Task::Shorten | Task::LengthenWhich | Task::ShortenWhich => {
            change_timer(task, &answers, place)
        }
        Task::Limit
        | Task::Factor
        | Task::Portions
        | Task::Flour
        | Task::Dough
        | Task::Pieces
        | Task::BakedPieces
        | Task::Tin
        | Task::NewHydration => size_order(task, &answers, place),
        Task::AmountIn | Task::Contains => fact_order(task, &answers),
        Task::TroughSums => sums::of_the_trough(),
        Task::KitchenSums => sums::of_the_kitchen(),
        Task::OtherSums => sums::others(),
        Task::Sum(sum) => sums::ask(sum, &answers),
        _ => quantity(task, &answers, place),
    }
}

fn fixed(task: Task) -> Ask {
    match task {
        Task::Top => pick(
            "The lists. Dot goes on, Enter chooses.",
            vec![
                do_("what can be done here", Intent::Help),
                do_("the whole step", Intent::ReadStep),
                open("one ingredient", Task::Ingredients),
                open("the clock and the plan", Task::Clock),
                open("timers", Task::Timers),
                open("the size", Task::Size),
                open("questions", Task::Questions),
                open("the voice", Task::Voice),
                open("about this formula", Task::Facts),
                open("listening and leaving", Task::Session),
            ],
        ),
        Task::Clock => pick(
            "The clock.",
            vec![
                do_("what is next", Intent::NextOnClock),
                do_("what time it is", Intent::TellTime),
                open("this needs longer", Task::NeedsLonger),
                do_("when to start", Intent::WhenStart),
                open("when to eat", Task::EatAt),
                do_("when it is ready", Intent::ReadyWhen { timer: None }),
            ],
        ),
        Task::Size => pick(
            "The size.",
            vec![
                open("so many times", Task::Factor),
                open("so many portions", Task::Portions),
                open("so much flour", Task::Flour),
                open("so much dough", Task::Dough),
                open("pieces of a weight", Task::Pieces),
                open("only so much of one ingredient", Task::Limit),
                open("another tin", Task::Tin),
                open("another hydration", Task::NewHydration),
                do_(
                    "as written",
                    Intent::Scale {
                        by: ScaleBy::AsWritten,
                    },
                ),
                open("pieces of a baked weight", Task::BakedPieces),
            ],
        ),
        Task::Questions => pick(
            "Questions.",
            vec![
                open("turn an amount into another unit", Task::Convert),
                open("turn an oven heat into another scale", Task::Temperature),
                open("what to use instead", Task::Swap),
                open("what a thing weighs", Task::MassOf),
                open("dough sums", Task::DoughSums),
                open("food safety", Task::Safety),
                open("centimetres and inches", Task::Length),
                open("flour, water and starter", Task::TroughSums),
                open("kitchen sums", Task::KitchenSums),
                open("other sums", Task::OtherSums),
            ],
        ),
        Task::DoughSums => pick(
            "Dough sums.",
            vec![
                open("water temperature for a dough", Task::WaterTemperature),
                open("how long the rise takes in this room", Task::RiseAt),
                open("water for so much flour", Task::WaterForFlour),
                open("so many percent of a weight", Task::PercentOf),
                open("what percent one weight is of another", Task::PercentIs),
                open("a poolish, biga, sponge or levain", Task::Preferment),
                open("how many pieces from a dough", Task::PiecesFrom),
                open("what a dough weighs baked", Task::BakedMass),
                open("how much dough for a baked weight", Task::DoughFor),
                open("the friction of the mixer", Task::Friction),
            ],
        ),
        Task::Safety => pick(
            "Food safety.",
            vec![
                open("how hot food must be inside", Task::SafeTemperature),
                open("how long at a lower heat inside", Task::SafeTime),
                keeping("how hot to hold food", Keeping::Hot),
                keeping("how cold to keep food", Keeping::Cold),
                keeping("how to cool food", Keeping::Cool),
                keeping("how long food can stay out", Keeping::Out),
                open("what to mind", Task::Cautions),
            ],
        ),
        Task::Voice => pick(
            "The voice.",
            vec![
                do_("louder", Intent::Louder),
                do_("quieter", Intent::Quieter),
                do_("slower", Intent::Slower),
                do_("faster", Intent::Faster),
                do_("higher", Intent::Higher),
                do_("lower", Intent::Lower),
                do_("fewer words", Intent::Briefer),
                do_("more words", Intent::Fuller),
                do_("spell the last answer", Intent::Spell),
            ],
        ),
        Task::Facts => pick(
            "This formula.",
            vec![
                do_("its ingredients", Intent::ReadIngredients),
                do_("its allergens", Intent::Allergens),
                open("does it hold a certain thing", Task::Contains),
                do_("its hydration", Intent::Hydration),
                do_("how many steps are left", Intent::StepsLeft),
                do_("how hot the oven should be", Intent::OvenHeat),
                do_("what we are making, and its size", Intent::TodaysSize),
            ],
        ),
        _ => pick(
            "Listening and leaving.",
            vec![
                do_("listen to me", Intent::StartListening),
                do_("stop listening, keys only", Intent::StopListening),
                do_("what the chimes mean", Intent::ExplainChimes),
                do_("leave", Intent::Goodbye),
                do_("am I heard, and is anything missing", Intent::Troubles),
                do_("what I heard last", Intent::WhatHeard),
            ],
        ),
    }
}

fn ingredient(answers: &[&str], place: &Place) -> Ask {
    let id = answers.first().copied().unwrap_or_default();
    let it = || IngredientId::from(id);
    let how = |part| Intent::HowMuch {
        ingredient: it(),
        part,
        unit: None,
    };
    pick(
        &format!("{}.", capital(&place.said(id))),
        vec![
            do_("how much", how(None)),
            do_("has it gone in", Intent::HaveAdded { ingredient: it() }),
            do_("it is in", Intent::MarkAdded { ingredient: it() }),
            do_(
                "it is not in after all",
                Intent::UnmarkAdded { ingredient: it() },
            ),
            do_("half of it", how(Some(0.5))),
            do_("a third of it", how(Some(1.0 / 3.0))),
            open_with("its amount in another unit", Task::AmountIn, id),
            open_with("I have only so much", Task::Limit, id),
            open_with("what to use instead", Task::Swap, &place.said(id)),
        ],
    )
}

fn every_timer(place: &Place) -> Ask {
    // What is always there comes first, so that its number is always the same.
    let mut items = vec![
        open("a new timer", Task::NewTimer),
        do_("stop them all", Intent::StopAllTimers),
    ];
    items.extend(place.timers.iter().map(|t| open_with(t, Task::Timer, t)));
    pick("Timers.", items)
}

fn one_timer(answers: &[&str]) -> Ask {
    let name = answers.first().copied().unwrap_or_default();
    let timer = || named(name).map(TimerRef::Said);
    pick(
        &format!("{}.", capital(name)),
        vec![
            do_("time left", Intent::TimeLeft { timer: timer() }),
            open_with("more time", Task::Lengthen, name),
            open_with("less time", Task::Shorten, name),
            do_("when it is ready", Intent::ReadyWhen { timer: timer() }),
            do_("hold it", Intent::PauseTimer { timer: timer() }),
            do_("let it run on", Intent::ResumeTimer { timer: timer() }),
            do_("start it again", Intent::RestartTimer { timer: timer() }),
            do_("stop it", Intent::StopTimer { timer: timer() }),
            open_with("another name", Task::Rename, name),
            open_with("a cue in it", Task::Cue, name),
        ],
    )
}

fn time_order(task: Task, answers: &[&str]) -> Ask {
    match (task, answers) {
        (Task::EatAt, []) => number("At what time, in four digits?"),
        (Task::EatAt, [at, ..]) => {
            clock(at).map_or_else(refuse_clock, |at| Ask::Do(Intent::EatAt { at }))
        }
        (Task::NeedsLonger, []) => number_or_none("How many minutes longer?"),
        (Task::NeedsLonger, [by, ..]) => Ask::Do(Intent::NeedsLonger {
            by: named(by).map(|by| minutes(&by)),
        }),
        (Task::NewTimer, []) => number("How many minutes?"),
        (Task::NewTimer, [_]) => {
            let mut items = vec![keep("no name", "")];
            items.extend(TIMER_NAMES.iter().map(|w| keep(w, w)));
            pick("Called what?", items)
        }
        (Task::NewTimer, [lasts, name, ..]) => Ask::Do(Intent::StartTimer {
            lasts: Some(minutes(lasts)),
            name: named(name),
        }),
        (Task::Cue, [_]) => pick(
            "Counted from where?",
            vec![
                keep("from its start", "start"),
                keep("before its end", "end"),
            ],
        ),
        (Task::Cue, [_, _]) => number("How many minutes?"),
        (Task::Cue, [_, _, _]) => words("What shall I say?", CUES),
        (Task::Cue, [timer, from, span, say, ..]) => {
            let span = minutes(span);
            let from_end = *from == "end";
            Ask::Do(Intent::AddCue {
                say: (*say).to_owned(),
                at: (!from_end).then_some(span),
                left: from_end.then_some(span),
                timer: named(timer).map(TimerRef::Said),
            })
        }
        (_, [name, new, ..]) => Ask::Do(Intent::RenameTimer {
            timer: named(name).map(TimerRef::Said),
            name: (*new).to_owned(),
        }),
        _ => words("Called what?", TIMER_NAMES),
    }
}

fn change_timer(task: Task, answers: &[&str], place: &Place) -> Ask {
    match (task, answers) {
        (Task::LengthenWhich, [_]) => timers("More time for which?", place),
        (Task::ShortenWhich, [_]) => timers("Less time for which?", place),
        (Task::LengthenWhich, [by, timer, ..]) | (Task::Lengthen, [timer, by, ..]) => {
            Ask::Do(Intent::AddTime {
                by: minutes(by),
                timer: named(timer).map(TimerRef::Said),
            })
        }
        (Task::ShortenWhich, [by, timer, ..]) | (Task::Shorten, [timer, by, ..]) => {
            Ask::Do(Intent::TakeTime {
                by: minutes(by),
                timer: named(timer).map(TimerRef::Said),
            })
        }
        (Task::Shorten, _) => number("How many minutes less?"),
        _ => number("How many minutes more?"),
    }
}

fn size_order(task: Task, answers: &[&str], place: &Place) -> Ask {
    match (task, answers) {
        (Task::Factor, []) => number("How many times?"),
        (Task::Factor, [by, ..]) => size(ScaleBy::Factor(value(by))),
        (Task::Portions, []) => number("For how many?"),
        (Task::Portions, [n, ..]) => size(ScaleBy::Portions(value(n))),
        (Task::Flour, []) => number("How many grams of flour?"),
        (Task::Flour, [g, ..]) => size(ScaleBy::Flour(Mass::grams(value(g)))),
        (Task::Dough, []) => number("How many grams of dough?"),
        (Task::Dough, [g, ..]) => size(ScaleBy::Dough(Mass::grams(value(g)))),
        (Task::Pieces | Task::BakedPieces, []) => number("How many pieces?"),
        (Task::Pieces, [_]) => number("How many grams each?"),
        (Task::BakedPieces, [_]) => number("How many grams each, baked?"),
        (Task::Pieces | Task::BakedPieces, [count, each, ..]) => size(ScaleBy::Pieces {
            count: value(count),
            each: Mass::grams(value(each)),
            baked: task == Task::BakedPieces,
        }),
        (Task::Limit, []) => ingredients("Only so much of which?", place, |id| {
            Then::Keep(id.to_owned())
        }),
        (Task::Limit, [_]) => number("How many grams do you have?"),
        (Task::Limit, [id, have, ..]) => size(ScaleBy::Limit {
            ingredient: (*id).into(),
            have: Mass::grams(value(have)),
        }),
        (Task::Tin, []) => words("What shape?", &["round", "square", "rectangle", "loaf"]),
        (Task::Tin, ["round"]) => number("How many centimetres across?"),
        (Task::Tin, ["square"]) => number("How many centimetres each side?"),
        (Task::Tin, [_]) => number("How many centimetres long?"),
        (Task::Tin, ["rectangle" | "loaf", _]) => number("How many centimetres wide?"),
        (Task::Tin, ["round" | "square", _] | [_, _, _]) if answers.len() < sizes(answers) => {
            number_or_none("How deep?")
        }
        (Task::Tin, [shape, sizes @ ..]) => size(ScaleBy::Tin {
            shape: Shape::find(shape).unwrap_or(Shape::Round),
            size_cm: sizes.iter().filter_map(|s| maybe(s)).collect(),
        }),
        (_, []) => number("What hydration, in percent?"),
        (_, [percent, ..]) => size(ScaleBy::Hydration(value(percent))),
    }
}

/// How many answers a tin takes, its shape included.
fn sizes(answers: &[&str]) -> usize {
    if matches!(answers.first(), Some(&("round" | "square"))) {
        3
    } else {
        4
    }
}

fn fact_order(task: Task, answers: &[&str]) -> Ask {
    match (task, answers) {
        (Task::AmountIn, [id, unit, ..]) => Ask::Do(Intent::HowMuch {
            ingredient: (*id).into(),
            part: None,
            unit: named(unit).map(UnitSymbol::from),
        }),
        (Task::AmountIn, _) => into_units("In what?"),
        (_, [what, ..]) => Ask::Do(Intent::Contains {
            what: (*what).into(),
            absent: false,
        }),
        _ => words("Does it hold what?", ALLERGENS),
    }
}

fn quantity(task: Task, answers: &[&str], place: &Place) -> Ask {
    match (task, answers) {
        (Task::Convert, []) => number("How many?"),
        (Task::Convert, [_]) => units("Of what unit?"),
        (Task::Convert, [_, _]) => into_units("Into what?"),
        (Task::Convert, [_, from, to]) if is_mass(from) != is_mass(to) => {
            let mut items: Vec<Item> = (0..place.ingredients.len())
                .map(|i| place.ingredient_name(i))
                .map(|n| keep(n, n))
                .collect();
            let common = [
                "flour",
                "caster sugar",
                "butter",
                "milk",
                "water",
                "honey",
                "salt",
                "rolled oats",
            ];
            items.extend(
                common
                    .iter()
                    .filter(|w| !place.ingredient_names.iter().any(|n| n == *w))
                    .map(|w| keep(w, w)),
            );
            pick("Of which ingredient?", items)
        }
        (Task::Convert, [n, from, to, rest @ ..]) => question(Question::Convert {
            number: value(n),
            from: (*from).into(),
            to: (*to).into(),
            ingredient: rest.first().and_then(|i| named(i)).map(Food::from),
        }),
        (Task::Length, []) => number("How many?"),
        (Task::Length, [_]) => pairs(
            "Which way?",
            &[
                ("centimetres into inches", "cm"),
                ("inches into centimetres", "inch"),
            ],
        ),
        (Task::Length, [n, from, ..]) => question(Question::Convert {
            number: value(n),
            from: (*from).into(),
            to: if *from == "cm" { "inch" } else { "cm" }.into(),
            ingredient: None,
        }),
        (Task::Temperature, []) => number("What heat?"),
        (Task::Temperature, [_]) => pairs("On what scale?", DEGREES),
        (Task::Temperature, [_, _]) => pairs("Into what?", DEGREES),
        (Task::Temperature, [n, from, to, ..]) => question(Question::ConvertTemperature {
            number: value(n),
            from: (*from).into(),
            to: (*to).into(),
        }),
        (Task::Swap, []) => {
            let mut items: Vec<Item> = (0..place.ingredients.len())
                .map(|i| place.ingredient_name(i))
                .map(|n| keep(n, n))
                .collect();
            items.extend(
                SWAPS
                    .iter()
                    .filter(|w| !place.ingredient_names.iter().any(|n| n == *w))
                    .map(|w| keep(w, w)),
            );
            pick("Instead of what?", items)
        }
        (Task::Swap, [_]) => number_or_none("How many grams of it?"),
        (Task::Swap, [of, g, ..]) => question(Question::Swap {
            of: (*of).into(),
            with: None,
            number: maybe(g),
            unit: named(g).map(|_| "g".into()),
        }),
        (Task::WaterForFlour, []) => number("At how many percent?"),
        (Task::WaterForFlour, [_]) => number_or_none("For how many grams of flour?"),
        (Task::WaterForFlour, [percent, flour, ..]) => question(Question::WaterForFlour {
            flour_g: maybe(flour),
            percent: value(percent),
        }),
        (Task::PercentOf, []) => number("How many percent?"),
        (Task::PercentOf, [_]) => number("Of how many grams?"),
        (Task::PercentOf, [percent, grams, ..]) => question(Question::PercentOf {
            percent: value(percent),
            grams: value(grams),
        }),
        (Task::WaterTemperature, []) => number("How warm is the room, in Celsius?"),
        (Task::WaterTemperature, [_]) => {
            number_or_none("How warm is the flour, if not as the room?")
        }
        (Task::WaterTemperature, [_, _]) => {
            number_or_none("How warm should the dough be, if not as written?")
        }
        (Task::WaterTemperature, [room, flour, dough, ..]) => {
            question(Question::WaterTemperature {
                dough_c: maybe(dough),
                flour_c: maybe(flour),
                room_c: maybe(room),
                preferment_c: None,
                friction_c: None,
                tap_c: None,
            })
        }
        (Task::RiseAt, []) => number("How warm is the room, in Celsius?"),
        (Task::RiseAt, [_]) => number_or_none("How many minutes are written, if not this step's?"),
        (Task::RiseAt, [room, min, ..]) => question(Question::RiseAt {
            room_c: value(room),
            minutes: maybe(min),
            at_c: None,
            halves_per_c: None,
        }),
        (Task::SafeTemperature, [food, ..]) => question(Question::SafeTemperature {
            food: (*food).into(),
        }),
        (Task::SafeTemperature, _) => words("Which food?", FOODS),
        (Task::PiecesFrom, []) => number("How many grams is one piece?"),
        (Task::PiecesFrom, [_]) => number_or_none("From how many grams of dough, if not this one?"),
        (Task::PiecesFrom, [each, dough, ..]) => question(Question::PiecesFrom {
            dough_g: maybe(dough),
            each_g: value(each),
        }),
        (Task::PercentIs, []) => number("How many grams is the part?"),
        (Task::PercentIs, [_]) => number("Of how many grams?"),
        (Task::PercentIs, [part, whole, ..]) => question(Question::PercentIs {
            part_g: value(part),
            whole_g: value(whole),
        }),
        (Task::Preferment, []) => words("Which?", &["poolish", "biga", "sponge", "levain"]),
        (Task::Preferment, [_]) => number("With how many percent of the flour?"),
        (Task::Preferment, [_, _]) => number_or_none("Of how many grams of flour, if not this?"),
        (Task::Preferment, ["levain", _, _]) => {
            number_or_none("At what hydration, if not a hundred percent?")
        }
        (Task::Preferment, [kind, percent, flour, rest @ ..]) => question(Question::Preferment {
            kind: (*kind).to_owned(),
            percent: value(percent),
            flour_g: maybe(flour),
            hydration: rest.first().and_then(|h| maybe(h)),
        }),
        (Task::BakedMass, []) => number_or_none("How many grams of dough, if not this one?"),
        (Task::BakedMass, [dough, ..]) => question(Question::BakedMass {
            dough_g: maybe(dough),
            loss_percent: None,
        }),
        (Task::DoughFor, []) => number("How many grams baked, in all?"),
        (Task::DoughFor, [baked, ..]) => question(Question::DoughFor {
            baked_g: value(baked),
            loss_percent: None,
        }),
        (Task::Friction, []) => number("What did the dough come out at, in Celsius?"),
        (Task::Friction, [_]) => number("How warm was the flour?"),
        (Task::Friction, [_, _]) => number("How warm was the room?"),
        (Task::Friction, [_, _, _]) => number("How warm was the water?"),
        (Task::Friction, [_, _, _, _]) => {
            number_or_none("How warm was the preferment, if there was one?")
        }
        (Task::Friction, [dough, flour, room, water, preferment, ..]) => {
            question(Question::Friction {
                dough_c: value(dough),
                flour_c: value(flour),
                room_c: value(room),
                water_c: value(water),
                preferment_c: maybe(preferment),
            })
        }
        (Task::SafeTime, []) => number("How many degrees Celsius inside?"),
        (Task::SafeTime, [core, ..]) => question(Question::SafeTime {
            core_c: value(core),
        }),
        (Task::Cautions, []) => pairs("What to mind.", CAUTIONS),
        (Task::Cautions, [about, ..]) => question(Question::Caution {
            about: (*about).to_owned(),
        }),
        (_, []) => number("How many of them?"),
        (_, [_]) => words("Of what?", THINGS),
        (_, [n, what, ..]) => question(Question::MassOf {
            number: value(n),
            ingredient: (*what).into(),
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn clock_times_as_typed() {
        let at = |hour, minute, half| Some(ClockTime { hour, minute, half });
        assert_eq!(clock("1930"), at(19, 30, HalfDay::Said));
        assert_eq!(clock("730"), at(7, 30, HalfDay::Unsaid));
        assert_eq!(clock("0730"), at(7, 30, HalfDay::Said));
        assert_eq!(clock("7"), at(7, 0, HalfDay::Unsaid));
        assert_eq!(clock("19"), at(19, 0, HalfDay::Said));
        assert_eq!(clock("19.30"), at(19, 30, HalfDay::Said));
        assert_eq!(clock("7.30"), at(7, 30, HalfDay::Unsaid));
        for bad in ["", "2460", "2400", "760", "12345", "7.3", ".", "1.2.3"] {
            assert_eq!(clock(bad), None, "`{bad}`");
        }
    }
}
