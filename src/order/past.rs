//! What the bake log remembers, what it is to remember, and the plan for another hour.

use super::book::{Book, Build};
use super::keys::{Keys, number, number_or_none, one_of, pairs};
use super::order::Order;
use super::place::Place;
use super::said::{say_amount, say_ordered};
use super::situation::Situation;
use super::slots::{Caps, Value};
use crate::measure::spoken_time::say_clock;

macro_rules! past {
    ([$next:ident $($rest:ident)*] $($before:tt)*) => {
        $next! {
        [$($rest)*] $($before)*
        /// What was done the last time.
        LastTime,
        /// How long it took the last time.
        LastTook,
        /// How much water went in the last time.
        LastWater,
        /// Something to know before the next bake.
        Note {
            /// What.
            text: String,
        },
        /// What is said next is kept as a note, with its sound.
        MakeNote,
        /// The notes of this session, or of the last bake, are played.
        PlayNotes,
        /// How it was.
        ItWas {
            /// `too dry`.
            how: String,
        },
        /// What would be if everything was to be ready at another hour.
        WhatIfEatAt {
            /// When.
            at: ClockTime,
        },
        /// The guests come later, by half an hour where nobody says by how much.
        GuestsLate {
            /// By how much.
            by: Option<Span>,
        },
        /// The cook is behind with what is being done, by ten minutes where nobody says by how much.
        IAmBehind {
            /// By how much.
            by: Option<Span>,
        },
        }
    };
}

/// How it may have been.
const HOW: [&str; 14] = [
    "good",
    "very good",
    "not good",
    "too dry",
    "too wet",
    "too salty",
    "too sweet",
    "too dark",
    "too pale",
    "too dense",
    "raw in the middle",
    "cooked too long",
    "burnt",
    "without taste",
];

pub(super) fn lay(g: &mut Book) {
    g.say(
        "last_time",
        &[
            "what did i do last time",
            "how (did it go|was it) last time",
            "what happened last time",
            "what do you (know|remember) (of|about) last time",
            "tell me about (last time|the last time|the last bake)",
        ],
        |_, _| Some(Order::LastTime),
    );
    g.say(
        "last_took",
        &[
            "how long did (it|this) take last time",
            "how long (was|were) it last time",
            "how long did (i|we) need last time",
            "how long did the last (one|bake) take",
        ],
        |_, _| Some(Order::LastTook),
    );
    g.say(
        "last_water",
        &[
            "how much water did i (use|take|put in) last time",
            "how much water was (it|in it) last time",
            "how much water went in last time",
            "how wet was it last time",
        ],
        |_, _| Some(Order::LastWater),
    );
    g.say(
        "make_note",
        &[
            "(make|take) a note",
            "make (me|us) a note",
            "i want to (make|take) a note",
            "let me make a note",
            "take this down",
        ],
        |_, _| Some(Order::MakeNote),
    );
    g.say(
        "play_notes",
        &[
            "play (my|the) (note|notes) [again]",
            "play back (my|the) (note|notes)",
            "read [me] (my|the) (note|notes)",
            "what did i note [last time]",
            "what are my notes",
        ],
        |_, _| Some(Order::PlayNotes),
    );
    g.say(
        "note_amount",
        &[
            "note [that] next time <m:mass> less [of] <i:the_own>",
            "make a note next time <m:mass> less [of] <i:the_own>",
            "remember [that] next time <m:mass> less [of] <i:the_own>",
            "next time <m:mass> less [of] <i:the_own>",
        ],
        |c, here| note(c, "less", here),
    );
    g.say(
        "note_more",
        &[
            "note [that] next time <m:mass> more [of] <i:the_own>",
            "make a note next time <m:mass> more [of] <i:the_own>",
            "remember [that] next time <m:mass> more [of] <i:the_own>",
            "next time <m:mass> more [of] <i:the_own>",
        ],
        |c, here| note(c, "more", here),
    );
    g.say(
        "note_longer",
        &[
            "note [that] next time <d:duration> longer",
            "make a note next time <d:duration> longer",
            "remember [that] next time <d:duration> longer",
            "next time <d:duration> longer",
        ],
        |c, _| {
            let text = format!("next time {} longer", say_ordered(c.span("d")?));
            Some(Order::Note { text })
        },
    );
    g.say(
        "note_shorter",
        &[
            "note [that] next time <d:duration> shorter",
            "make a note next time <d:duration> shorter",
            "remember [that] next time <d:duration> shorter",
            "next time <d:duration> shorter",
        ],
        |c, _| {
            let text = format!("next time {} shorter", say_ordered(c.span("d")?));
            Some(Order::Note { text })
        },
    );
    g.lay(
        "how_it_was",
        HOW.iter()
            .map(|how| (*how, Build::Const(Value::Sym(how))))
            .collect(),
    );
    g.say(
        "it_was",
        &[
            "it was [a bit|a little] <h:how_it_was>",
            "it (came|turned) out [a bit|a little] <h:how_it_was>",
            "this time it was [a bit|a little] <h:how_it_was>",
            "note [that] it was [a bit|a little] <h:how_it_was>",
        ],
        |c, _| Some(Order::ItWas { how: c.text("h")? }),
    );
    g.say(
        "what_if_eat_at",
        &[
            "what if (we|i) eat at <a:clock>",
            "what if (it|dinner|lunch|supper|everything) is [ready] at <a:clock>",
            "could (we|i) eat at <a:clock>",
            "what would change if (we|i) eat at <a:clock>",
        ],
        |c, _| Some(Order::WhatIfEatAt { at: c.clock("a")? }),
    );
    g.say(
        "guests_late",
        &[
            "(the|my|our) guests are [running] late [by <b:duration>]",
            "(the|my|our) guests are <b:duration> late",
            "(the|my|our) guests (come|will come|are coming) <b:duration> later",
            "(we|i) eat <b:duration> later",
        ],
        |c, _| Some(Order::GuestsLate { by: c.span("b") }),
    );
    g.say(
        "i_am_behind",
        &[
            "i am [running] behind [by <b:duration>]",
            "(i am|we are) <b:duration> behind",
            "i am not keeping up",
            "i can not keep up",
        ],
        |c, _| Some(Order::IAmBehind { by: c.span("b") }),
    );
}

fn note(c: &Caps, how: &str, here: &Situation) -> Option<Order> {
    let (grams, ingredient) = (c.mass("m")?.as_grams(), c.text::<String>("i")?);
    let (amount, name) = (say_amount(grams, "g"), here.ingredient(&ingredient));
    let text = format!("next time {amount} {how} {name}");
    Some(Order::Note { text })
}

/// How an order of this family is described back.
pub(super) fn describe(order: &Order) -> Option<String> {
    Some(match order {
        Order::LastTime => "what you did last time".into(),
        Order::LastTook => "how long it took last time".into(),
        Order::LastWater => "how much water you used last time".into(),
        Order::Note { text } => format!("a note, {text}"),
        Order::MakeNote => "make a note".into(),
        Order::PlayNotes => "your notes".into(),
        Order::ItWas { how } => format!("it was {how}"),
        Order::WhatIfEatAt { at } => format!("what would change if you ate at {}", say_clock(*at)),
        Order::GuestsLate { by: None } => "the guests are late".into(),
        Order::GuestsLate { by: Some(by) } => format!("the guests are {} late", say_ordered(*by)),
        Order::IAmBehind { by: None } => "you are behind".into(),
        Order::IAmBehind { by: Some(by) } => format!("you are {} behind", say_ordered(*by)),
        _ => return None,
    })
}

/// It only asks.
pub(super) fn asks(order: &Order) -> bool {
    matches!(
        order,
        Order::LastTime
            | Order::LastTook
            | Order::LastWater
            | Order::PlayNotes
            | Order::WhatIfEatAt { .. }
    )
}

/// The keys of this family.
pub(super) fn keys(k: &mut Keys) {
    k.list(
        ". 4 9 3",
        "last time, and next time",
        "Last time, and next time.",
    );
    k.item(
        ". 4 9 3 1",
        "what I did last time",
        "what you did last time",
        |_, _| Ok(Order::LastTime),
    );
    k.item(
        ". 4 9 3 2",
        "how long it took last time",
        "how long it took last time",
        |_, _| Ok(Order::LastTook),
    );
    k.item(
        ". 4 9 3 3",
        "how much water went in last time",
        "how much water you used last time",
        |_, _| Ok(Order::LastWater),
    );
    k.path(
        ". 4 9 3 4",
        "less water next time",
        vec![number("How many grams less?")],
        |a, _| {
            let grams = say_amount(a.number(0), "g");
            Ok(Order::Note {
                text: format!("next time {grams} less water"),
            })
        },
    );
    k.path(
        ". 4 9 3 5",
        "longer next time",
        vec![number("How many minutes longer?")],
        |a, _| {
            let text = format!("next time {} longer", say_ordered(a.minutes(0)));
            Ok(Order::Note { text })
        },
    );
    k.path(
        ". 4 9 3 6",
        "shorter next time",
        vec![number("How many minutes shorter?")],
        |a, _| {
            let text = format!("next time {} shorter", say_ordered(a.minutes(0)));
            Ok(Order::Note { text })
        },
    );
    k.path(
        ". 4 9 3 7",
        "how it was",
        vec![one_of("How was it?", |_| pairs(&HOW.map(|how| (how, how))))],
        |a, _| {
            Ok(Order::ItWas {
                how: a.word(0).unwrap_or_default().to_owned(),
            })
        },
    );
    k.path(
        ". 4 9 3 8",
        "what if we eat at another hour",
        vec![number("At what time, in four digits?")],
        |a, _| match super::clock::typed_clock(a.typed(0)) {
            Some(at) => Ok(Order::WhatIfEatAt { at }),
            None => Err(super::clock::NO_TIME_OF_DAY.to_owned()),
        },
    );
    k.path(
        ". 4 9 3 9",
        "the guests are late",
        vec![number_or_none("By how many minutes?")],
        |a, _| {
            Ok(Order::GuestsLate {
                by: a.maybe(0).map(|_| a.minutes(0)),
            })
        },
    );
    k.path(
        ". 4 9 3 10",
        "I am behind",
        vec![number_or_none("By how many minutes?")],
        |a, _| {
            Ok(Order::IAmBehind {
                by: a.maybe(0).map(|_| a.minutes(0)),
            })
        },
    );
    k.item(
        ". 4 9 4",
        "a note in your own voice",
        "make a note",
        |_, _| Ok(Order::MakeNote),
    );
    k.item(". 4 9 5", "what you noted", "your notes", |_, _| {
        Ok(Order::PlayNotes)
    });
    k.show(
        ". 4 9 3 4 1 0 Enter",
        Place::Step,
        "a note for next time, 10 grams less water",
    );
    k.show(". 4 9 3 7 1", Place::Step, "it was good");
    k.show(
        ". 4 9 3 8 1 9 3 0 Enter",
        Place::Step,
        "what if we eat at half past seven in the evening",
    );
    k.show(
        ". 4 9 3 9 3 0 Enter",
        Place::Step,
        "the guests are 30 minutes late",
    );
    k.show(". 4 9 3 0 1 0 Enter", Place::Step, "I am 10 minutes behind");
}
