//! Moving through the steps, and hearing things again.

use super::book::{Book, give, way};
use super::key::Key;
use super::keys::{Before, Keys, Press, one_of, titles};
use super::order::Order;
use super::place::Place;
use super::refs::StepId;
use super::said::say_number;
use super::slots::{Caps, Value};

macro_rules! moving {
    ([$next:ident $($rest:ident)*] $($before:tt)*) => {
        $next! {
        [$($rest)*] $($before)*
        /// Go to the next step (or, while weighing up, the next ingredient).
        Next,
        /// Go back one step (or, while weighing up, take back what was just called in).
        Back,
        /// Say the last answer again; `slowly` slows the voice for this once.
        Repeat {
            /// Say it slowly.
            slowly: bool,
        },
        /// Say the last few things again, the oldest first.
        RepeatLast {
            /// How many, from 1.
            count: u32 => Things("things"),
        },
        /// Spell the name in the last answer letter by letter, and its numbers digit by digit.
        Spell,
        /// Which step, of how many, and what is running.
        WhereAmI,
        /// What the next step will be, without going there.
        WhatNext,
        /// How many steps remain.
        StepsLeft,
        /// Go to a step by its number, from 1.
        GoToStep {
            /// The step's number, from 1.
            step: StepId,
        },
        /// Read the scaled ingredient list.
        ReadIngredients,
        /// Read the whole current step, cautions included.
        ReadStep,
        /// What is left of the last long answer.
        More,
        /// How hot the oven should be.
        OvenHeat,
        /// What a step says, without going there.
        TellStep {
            /// The step.
            step: StepId,
        },
        /// The names of the steps.
        StepNames,
        /// How to tell that this step is ready: its look.
        HowToTell,
        }
    };
}

pub(super) fn lay(g: &mut Book) {
    numbers(g);
    steps(g);
    again(g);
    reading(g);
}

/// Steps are numbered from one and counted below a hundred.
fn numbers(g: &mut Book) {
    g.lay(
        "step_number",
        vec![way("<+:below_hundred>|<+:digits_whole>", |c, _| {
            Some(Value::Num(c.sum("+")))
        })],
    );
    let ordinals = [
        "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth",
        "tenth", "eleventh", "twelfth",
    ];
    g.lay(
        "ordinal",
        ordinals
            .iter()
            .enumerate()
            .map(|(i, w)| give(w, Value::Num(i as f64 + 1.0)))
            .collect(),
    );
}

fn steps(g: &mut Book) {
    g.say(
        "next",
        &[
            "next",
            "next (step|one|ingredient|please)",
            "the next (step|one)",
            "go on",
            "go to the next (step|one)",
            "go forward",
            "move on",
            "carry on",
            "continue",
            "forward",
            "skip [this|it|=this =one]",
            "skip this step",
            "keep going",
            "give me the next (step|one)",
            "on to the next [step|one]",
            "let us (begin|get started|get going|get cooking)",
            "(i am|we are) ready to (start|begin)",
            "(start|begin) cooking",
            "!=proceed|=onwards|=on =we =go|=begin|=off =we =go",
        ],
        |_, _| Some(Order::Next),
    );
    g.say(
        "back",
        &[
            "back",
            "go back [one|a step|one step]",
            "[the] previous step",
            "go to the previous step",
            "one step back",
            "step back",
            "back (up|one) [step]",
            "the step before",
            "before that",
            "!=previous|=previous =one",
        ],
        |_, _| Some(Order::Back),
    );
    g.say(
        "go_to_step",
        &[
            "[go|jump|skip] [back|forward|on] to step [number] <n:step_number>",
            "step [number] <n:step_number>",
            "take me to step <n:step_number>",
            "read [me] step <n:step_number>",
            "show [me] step <n:step_number>",
            "start [from|at] step <n:step_number>",
            "(go|jump|skip) [back|forward|on] to [the] <s:step_name> [step]",
            "take me to [the] <s:step_name> [step]",
            "go to the <n:ordinal> step|the <n:ordinal> step",
        ],
        |c, _| Some(Order::GoToStep { step: step_of(c)? }),
    );
    g.say(
        "tell_step",
        &[
            "what is step [number] <n:step_number>",
            "what (is|happens) in step <n:step_number>",
            "what does step [number] <n:step_number> say",
            "what do i do in step <n:step_number>",
            "read out step <n:step_number>",
            "what (is|happens) in the <s:step_name> step|what does the <s:step_name> step say",
            "what is the <n:ordinal> step",
        ],
        |c, _| Some(Order::TellStep { step: step_of(c)? }),
    );
    g.say(
        "step_names",
        &[
            "what are the steps [called]",
            "(list|name|read|tell) [me] [all] the steps",
            "[what are] the names of the steps",
            "what steps are there",
        ],
        |_, _| Some(Order::StepNames),
    );
    g.say(
        "how_to_tell",
        &[
            "how (do|can|will) i (tell|know|see) [when|if|that] (it|this|the dough) is (ready|done|risen|baked|finished|right)",
            "how (do|can|will) i (tell|know)",
            "how (should|will|does) (it|this) look",
            "what (should|will|does) (it|this) look like",
            "what (am i|do i) (looking|look) for",
            "what (should|must) i look for",
        ],
        |_, _| Some(Order::HowToTell),
    );
    g.say(
        "where_am_i",
        &[
            "where am i",
            "where are we",
            "which step am i on|which step is this|which step are we on",
            "what step am i on|what step is this|what step are we on",
            "where was i",
            "where did i (get to|stop)",
            "what am i doing",
            "how far am i|how far have i got",
            "[i am back] what did i miss|=what =have =i =missed",
            "i am back",
        ],
        |_, _| Some(Order::WhereAmI),
    );
    g.say(
        "what_next",
        &[
            "what is next",
            "what next",
            "what comes next",
            "what do i do next",
            "what is the next step",
            "what (is|comes) after this",
            "what will i do next",
            "and then|=and =after =that|=then =what",
            "what happens next",
            "what do i do first|what should i do first",
            "what is (first|the first thing|the first step)|what comes first",
            "(where|how) do i (start|begin)",
        ],
        |_, _| Some(Order::WhatNext),
    );
    g.say(
        "steps_left",
        &[
            "how many steps [are] (left|to go)",
            "how many more steps [are there]",
            "how many steps remain",
            "how many steps are there [left]",
            "how many steps do i have left",
            "how much is left to do",
            "how much more is there to do",
            "how far to go|how far to the end",
            "am i (nearly|almost) (done|there)",
        ],
        |_, _| Some(Order::StepsLeft),
    );
}

/// The step said, by its number or its name.
fn step_of(c: &Caps) -> Option<StepId> {
    let named = || c.text::<String>("s")?.parse().ok();
    c.num("n").map(|n| n as u32).or_else(named).map(StepId)
}

fn again(g: &mut Book) {
    g.say(
        "repeat",
        &[
            "repeat [that|it]",
            "again",
            "say (that|it) again",
            "once more|one more time",
            "what did you say",
            "what was that",
            "come again",
            "tell me again",
            "pardon [me]",
            "sorry",
            "i did not (hear|catch|get) (that|you|it)",
            "repeat the last (answer|one)",
            "!=what|=huh|=eh|=excuse =me|=i =missed =that",
            "run that by me again",
        ],
        |_, _| Some(Order::Repeat { slowly: false }),
    );
    g.say(
        "repeat_slowly",
        &[
            "(again|repeat [that|it]) [but] (slower|slowly|more slowly)",
            "say (that|it) [again] (slower|slowly|more slowly)",
            "slowly",
            "once more slowly",
            "slower again",
            "tell me again slowly",
            "repeat slowly",
            "say it again but slower",
        ],
        |_, _| Some(Order::Repeat { slowly: true }),
    );
    g.say(
        "repeat_last",
        &[
            "(repeat|say|tell me|read) [again] the last <n:below_hundred> [things|answers] [again]",
            "what (are|=were) the last <n:below_hundred> [things|answers]",
            "what (are|=were) the last <n:below_hundred> (things|answers) you said",
            "the last <n:below_hundred> (things|answers)",
            "!the last <n:digits_whole> (things|answers)",
            "!repeat the last <n:digits_whole>",
        ],
        |c, _| {
            Some(Order::RepeatLast {
                count: c.num("n")? as u32,
            })
        },
    );
    g.say(
        "spell",
        &[
            "spell (it|that|this)",
            "spell",
            "how is (that|it) (spelled|=spelt)",
            "how do you spell (that|it|this)",
            "spell that [word] [for me]",
            "letter by letter",
            "spell it out",
        ],
        |_, _| Some(Order::Spell),
    );
}

fn reading(g: &mut Book) {
    g.say(
        "read_ingredients",
        &[
            "(read|list|tell me|give me) [me] [all] [of] the ingredients",
            "[what are] the ingredients",
            "what are all the ingredients",
            "ingredients",
            "the list of ingredients|ingredient list|the ingredient list",
            "what goes (in|into) (it|this)",
            "what is in (it|this)",
            "what do i need",
            "what [ingredients] do i need [for this]",
            "read [me] the (list|=shopping =list)",
        ],
        |_, _| Some(Order::ReadIngredients),
    );
    g.say(
        "read_step",
        &[
            "read [me] (the|this) [whole|full|=entire] step",
            "read (the|this) step again",
            "read it [all]",
            "read everything",
            "the whole step",
            "read (that|this) out",
            "what is this step",
            "what do i do [in this step|here|now]",
            "what now",
            "what is the step",
            "tell me the [whole] step",
            "what does (this|the) step say",
            "read all of it",
        ],
        |_, _| Some(Order::ReadStep),
    );
    g.say(
        "more",
        &[
            "more",
            "[tell me] the rest",
            "[and] the rest of it",
            "read on",
            "go on reading",
            "(say|tell me) more",
        ],
        |_, _| Some(Order::More),
    );
    g.say(
        "oven_heat",
        &[
            "how hot (is|should) the oven [be]",
            "what temperature (is|should) the oven [be]",
            "what is the oven (temperature|heat|set to)",
            "[what is] the oven temperature",
            "how hot does the oven need to be",
            "what do i set the oven to",
            "what should (i set the oven to|the oven be)",
            "what (heat|temperature) do i bake (at|it at)",
            "how hot do i bake it",
        ],
        |_, _| Some(Order::OvenHeat),
    );
}

/// How an order of this family is described back.
pub(super) fn describe(order: &Order) -> Option<String> {
    Some(match order {
        Order::Next => "the next step".into(),
        Order::Back => "the step before".into(),
        Order::Repeat { slowly: false } => "say it again".into(),
        Order::Repeat { slowly: true } => "say it again slowly".into(),
        Order::RepeatLast { count } => {
            format!("say the last {} again", say_number((*count).into()))
        }
        Order::Spell => "spell it".into(),
        Order::WhereAmI => "where you are".into(),
        Order::WhatNext => "what comes next".into(),
        Order::StepsLeft => "how many steps are left".into(),
        Order::GoToStep { step } => format!("go to step {}", say_number(step.0.into())),
        Order::ReadIngredients => "read the ingredients".into(),
        Order::ReadStep => "read the whole step".into(),
        Order::More => "the rest of the last answer".into(),
        Order::OvenHeat => "how hot the oven should be".into(),
        Order::TellStep { step } => format!("what is in step {}", say_number(step.0.into())),
        Order::StepNames => "the names of the steps".into(),
        Order::HowToTell => "how to tell when it is ready".into(),
        _ => return None,
    })
}

/// It only asks.
pub(super) fn asks(order: &Order) -> bool {
    matches!(
        order,
        Order::Repeat { .. }
            | Order::RepeatLast { .. }
            | Order::Spell
            | Order::WhereAmI
            | Order::WhatNext
            | Order::StepsLeft
            | Order::ReadIngredients
            | Order::ReadStep
            | Order::More
            | Order::OvenHeat
            | Order::TellStep { .. }
            | Order::StepNames
            | Order::HowToTell
    )
}

/// The keys of this family.
pub(super) fn keys(k: &mut Keys) {
    k.key(Key::Enter, Place::Start, "begins", |_, _| {
        Press::Order(Order::Next)
    });
    k.key(
        Key::Enter,
        Place::Step,
        "goes on to the next step",
        |_, _| Press::Order(Order::Next),
    );
    k.show("Enter", Place::Step, "go on");
    k.key(Key::Plus, Place::Step, "says it again", |_, _| {
        Press::Order(Order::Repeat { slowly: false })
    });
    k.show("+", Place::Step, "again");
    k.key(
        Key::Minus,
        Place::Weighing,
        "takes the last one back, or goes back a step",
        |_, _| Press::Order(Order::Back),
    );
    k.show("-", Place::Weighing, "back by one: it is not in");
    k.key(Key::Minus, Place::Step, "goes back a step", |_, _| {
        Press::Order(Order::Back)
    });
    k.show("-", Place::Step, "back");
    k.stroke(
        Before::Nought,
        Key::Enter,
        Place::Step,
        "tells what is next, without going there",
        |_, _| Press::Order(Order::WhatNext),
    );
    k.show(
        "0 Enter",
        Place::Step,
        "what comes next, without going there",
    );
    k.stroke(
        Before::Nought,
        Key::Plus,
        Place::Step,
        "says it again slowly",
        |_, _| Press::Order(Order::Repeat { slowly: true }),
    );
    k.show("0 +", Place::Step, "again, slowly");
    k.stroke(
        Before::Nought,
        Key::Minus,
        Place::Step,
        "tells where we are",
        |_, _| Press::Order(Order::WhereAmI),
    );
    k.show("0 -", Place::Step, "where are we");
    k.stroke(
        Before::NoughtAndNumber,
        Key::Plus,
        Place::Step,
        "says the last {n} things again",
        |n, _| {
            Press::Order(Order::RepeatLast {
                count: n.parse().unwrap_or(1),
            })
        },
    );
    k.show("0 3 +", Place::Step, "the last 3 things again");
    k.stroke(
        Before::Number,
        Key::Enter,
        Place::Step,
        "goes to step {n}",
        |n, _| match n.parse() {
            Ok(step) => Press::Order(Order::GoToStep { step: StepId(step) }),
            Err(_) => Press::Say(format!("There is no step {n}; steps are whole numbers.")),
        },
    );
    k.show("6 Enter", Place::Step, "go to step 6");
    k.item(". 2", "the whole step", "the whole step", |_, _| {
        Ok(Order::ReadStep)
    });
    k.item(
        ". 8 10",
        "the rest of the last answer",
        "the rest of a long answer",
        |_, _| Ok(Order::More),
    );
    k.item(
        ". 8 9",
        "spell the last answer",
        "spell the last answer",
        |_, _| Ok(Order::Spell),
    );
    k.list(". 9", "about this formula", "This formula.");
    k.item(". 9 1", "its ingredients", "the ingredients", |_, _| {
        Ok(Order::ReadIngredients)
    });
    k.item(
        ". 9 5",
        "how many steps are left",
        "how many steps are left",
        |_, _| Ok(Order::StepsLeft),
    );
    k.item(
        ". 9 6",
        "how hot the oven should be",
        "how hot the oven should be",
        |_, _| Ok(Order::OvenHeat),
    );
    k.item(
        ". 9 8",
        "the names of the steps",
        "the names of the steps",
        |_, _| Ok(Order::StepNames),
    );
    k.path(
        ". 9 9",
        "what is in a step",
        vec![one_of("Which step?", titles)],
        |a, _| {
            Ok(Order::TellStep {
                step: StepId(a.number(0) as u32),
            })
        },
    );
    k.show(
        ". 9 9 5",
        Place::Step,
        "what is in the fifth step, without going there",
    );
    k.item(
        ". 9 10",
        "how to tell when it is ready",
        "how to tell when it is ready",
        |_, _| Ok(Order::HowToTell),
    );
}
