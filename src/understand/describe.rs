//! What was understood, in a few words: for `do you mean ... or ...?`.

use crate::measure::Mass;
use crate::order::{Food, Keeping, Order, Question, ScaleBy, TimerRef};

use super::lexicon::Lexicon;
use super::numbers::{say_amount, say_number, say_ordered};
use crate::measure::spoken_time::say_clock;

/// The meaning of an intent in a few words, as the end of `do you mean ...?`.
pub fn describe(intent: &Order, lexicon: &Lexicon) -> String {
    let of = |id: &str| format!("the {}", lexicon.printed(id));
    let timer = |which: &Option<TimerRef>| match which {
        Some(which) => format!("the {} timer", lexicon.timer_said(which)),
        None => "the timer".to_string(),
    };
    match intent {
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
        Order::OvenHeat => "how hot the oven should be".into(),
        Order::WeighNext => "what to weigh next".into(),
        Order::Done => "it is done".into(),
        Order::HaveAdded { ingredient } => format!("have you added {}", of(ingredient)),
        Order::MarkAdded { ingredient } => format!("you have added {}", of(ingredient)),
        Order::UnmarkAdded { ingredient } => format!("you have not added {}", of(ingredient)),
        Order::LeftToAdd => "what is left to add".into(),
        Order::HowMuch {
            ingredient,
            part,
            unit,
        } => {
            let part = part.map_or_else(String::new, |p| format!("{} of ", say_number(p)));
            let unit = unit
                .as_deref()
                .map_or_else(String::new, |u| format!(" in {}", many(u)));
            format!("how much is {part}{}{unit}", of(ingredient))
        }
        Order::Ask(question) => asked(question),
        Order::Contains { what, absent } if *absent => {
            format!("is it free of {}", lexicon.printed(what))
        }
        Order::Contains { what, .. } => format!("is there {} in it", lexicon.printed(what)),
        Order::Allergens => "the allergens".into(),
        Order::Hydration => "the hydration".into(),
        Order::TodaysSize => "what we are making".into(),
        Order::Scale { by } => scaled(by, lexicon),
        Order::StartTimer { lasts, name } => {
            let lasts = lasts.map_or_else(String::new, |l| format!(" for {}", say_ordered(l)));
            let name = name
                .as_deref()
                .map_or_else(String::new, |n| format!(" called {n}"));
            format!("start a timer{lasts}{name}")
        }
        Order::StartOffered => "start the timer of this step".into(),
        Order::TimeLeft { timer: t } => format!("how long is left on {}", timer(t)),
        Order::ReadyWhen { timer: t } => format!("when is {} due", timer(t)),
        Order::AddTime { by, timer: t } => format!("add {} to {}", say_ordered(*by), timer(t)),
        Order::TakeTime { by, timer: t } => format!("take {} off {}", say_ordered(*by), timer(t)),
        Order::PauseTimer { timer: t } => format!("pause {}", timer(t)),
        Order::ResumeTimer { timer: t } => format!("let {} run on", timer(t)),
        Order::RestartTimer { timer: t } => format!("start {} again", timer(t)),
        Order::AddCue {
            say,
            at,
            left,
            timer: t,
        } => match (at, left) {
            (Some(at), _) => format!("{say} after {} of {}", say_ordered(*at), timer(t)),
            (None, left) => {
                let left = left.map_or_else(String::new, say_ordered);
                format!("{say} with {left} left on {}", timer(t))
            }
        },
        Order::RenameTimer { timer: t, name } => format!("call {} {name}", timer(t)),
        Order::StopTimer { timer: t } => format!("stop {}", timer(t)),
        Order::StopAllTimers => "stop all timers".into(),
        Order::StopChime => "stop the chime".into(),
        Order::NextOnClock => "what is next on the clock".into(),
        Order::TellTime => "what time it is".into(),
        Order::EatAt { at } => format!("eat at {}", say_clock(*at)),
        Order::WhenStart => "when to start".into(),
        Order::NeedsLonger { by: None } => "it needs longer".into(),
        Order::NeedsLonger { by: Some(by) } => format!("it needs {} longer", say_ordered(*by)),
        Order::Yes => "yes".into(),
        Order::No => "no".into(),
        Order::NotYet => "not yet".into(),
        Order::Louder => "louder".into(),
        Order::Quieter => "quieter".into(),
        Order::Slower => "slower".into(),
        Order::Faster => "faster".into(),
        Order::Higher => "a higher voice".into(),
        Order::Lower => "a lower voice".into(),
        Order::Briefer => "fewer words".into(),
        Order::Fuller => "more words".into(),
        Order::StopTalking => "stop talking".into(),
        Order::StopListening => "stop listening".into(),
        Order::StartListening => "listen again".into(),
        Order::WhatHeard => "what I heard".into(),
        Order::Troubles => "is anything wrong".into(),
        Order::Help => "what you can say".into(),
        Order::ExplainChimes => "what the chimes mean".into(),
        Order::Goodbye => "goodbye".into(),
    }
}

fn many(unit: &str) -> String {
    match unit {
        "gas" => "gas mark".to_string(),
        "fan" => "a fan oven".to_string(),
        "c" => "celsius".to_string(),
        "f" => "fahrenheit".to_string(),
        _ => super::numbers::unit_words(unit)
            .map_or(unit, |(_, many)| many)
            .to_string(),
    }
}

fn mass(mass: Mass) -> String {
    say_amount(mass.as_grams(), "g")
}

fn asked(question: &Question) -> String {
    let of = |what: &Option<Food>| {
        what.as_deref()
            .map_or_else(String::new, |w| format!(" of {w}"))
    };
    match question {
        Question::Convert {
            number,
            from,
            to,
            ingredient,
        } => {
            format!(
                "what is {}{} in {}",
                say_amount(*number, from),
                of(ingredient),
                many(to)
            )
        }
        Question::ConvertTemperature { number, from, to } => {
            let heat = if from == "gas" {
                format!("gas {}", say_number(*number))
            } else {
                format!("{} {}", say_number(*number), many(from))
            };
            format!("what is {heat} in {}", many(to))
        }
        Question::Swap { of, with: None, .. } => format!("what to use instead of {of}"),
        Question::Swap {
            of,
            with: Some(with),
            number,
            unit,
        } => {
            let amount = number.map_or_else(String::new, |n| {
                format!("{} of ", say_amount(n, unit.as_deref().unwrap_or_default()))
            });
            format!("{with} instead of {amount}{of}")
        }
        Question::WaterForFlour { flour_g, percent } => {
            let flour = flour_g.map_or_else(
                || "the flour".to_string(),
                |g| format!("{} of flour", say_amount(g, "g")),
            );
            format!("the water for {flour} at {} percent", say_number(*percent))
        }
        Question::PercentOf { percent, grams } => format!(
            "{} percent of {}",
            say_number(*percent),
            say_amount(*grams, "g")
        ),
        Question::WaterTemperature { .. } => "how warm the water should be".to_string(),
        Question::RiseAt { room_c, .. } => {
            format!("how long the rise takes at {} degrees", say_number(*room_c))
        }
        Question::SafeTemperature { food } => format!("how hot {food} should be inside"),
        Question::PiecesFrom { dough_g, each_g } => {
            let dough = dough_g.map_or_else(|| "the dough".to_string(), |g| say_amount(g, "g"));
            format!(
                "how many pieces of {} from {dough}",
                say_amount(*each_g, "g")
            )
        }
        Question::MassOf { number, ingredient } => {
            format!("the weight of {} {ingredient}", say_number(*number))
        }
        Question::PercentIs { part_g, whole_g } => format!(
            "what percent {} is of {}",
            say_amount(*part_g, "g"),
            say_amount(*whole_g, "g")
        ),
        Question::Preferment { kind, percent, .. } => {
            format!("a {kind} of {} percent", say_number(*percent))
        }
        Question::BakedMass { .. } => "what it weighs baked".to_string(),
        Question::DoughFor { baked_g, .. } => {
            format!("the dough for {} baked", say_amount(*baked_g, "g"))
        }
        Question::Friction { .. } => "the friction of your mixer".to_string(),
        Question::SafeTime { core_c } => {
            format!("how long at {} degrees inside", say_number(*core_c))
        }
        Question::Keep { how } => match how {
            Keeping::Hot => "how hot to hold it",
            Keeping::Cold => "how cold to keep it",
            Keeping::Cool => "how to cool it",
            Keeping::Out => "how long it can stay out",
        }
        .to_string(),
        Question::Caution { about } => format!("the caution about {}", about.replace('-', " ")),
        Question::Into { of, unit } => format!("{} in {}", asked(of), many(unit)),
        Question::Together { each } => {
            let each: Vec<String> = each.iter().map(asked).collect();
            each.join(", and ")
        }
        Question::RuleOfThree {
            amount,
            unit,
            base,
            wanted,
            ..
        } => format!(
            "what {} for {} is for {}",
            say_amount(*amount, unit),
            say_number(*base),
            say_number(*wanted)
        ),
        Question::Times {
            factor,
            number,
            unit,
        } => format!(
            "{} times {}",
            say_number(*factor),
            say_amount(*number, unit)
        ),
        Question::FlourFor { part_g, percent } => format!(
            "the flour of which {} is {} percent",
            say_amount(*part_g, "g"),
            say_number(*percent)
        ),
        Question::FlourInDough { dough_g, .. } => {
            format!("the flour in {} of dough", say_amount(*dough_g, "g"))
        }
        Question::DoughMass { .. } => "what all the dough weighs".to_string(),
        Question::Shares { .. } => "shares of the flour".to_string(),
        Question::MoreWater { from, to, .. } => format!(
            "the water from {} to {} percent",
            say_number(*from),
            say_number(*to)
        ),
        Question::HydrationOf { .. } => "the hydration with the starter".to_string(),
        Question::InStarter { starter_g, .. } => {
            format!("what is in {} of starter", say_amount(*starter_g, "g"))
        }
        Question::Feed { flour, water, .. } => format!(
            "feeding one to {} to {}",
            say_number(*flour),
            say_number(*water)
        ),
        Question::FinalDough { .. } => "what is left for the dough".to_string(),
        Question::Ice { tap_c, water_c, .. } => format!(
            "the ice from {} to {} degrees",
            say_number(*tap_c),
            say_number(*water_c)
        ),
        Question::LossIs { .. } => "what was lost in baking".to_string(),
        Question::Tins { to: Some(_), .. } => "one tin beside another".to_string(),
        Question::Tins { shape: Some(_), .. } => "a tin as large".to_string(),
        Question::Tins { .. } => "what the tin holds".to_string(),
        Question::Eggs { .. } => "eggs by their size".to_string(),
        Question::SelfRaising { flour_g, .. } => {
            format!("{} of flour made self raising", say_amount(*flour_g, "g"))
        }
        Question::SugarStage { stage } => format!("how hot sugar is at {stage}"),
        Question::StageAt { sugar_c } => format!("sugar at {} degrees", say_number(*sugar_c)),
        Question::Frying { .. } => "how hot the oil should be".to_string(),
        Question::OvenWord { word } => format!("how hot a {word} oven is"),
        Question::Gelatine { .. } => "gelatine of another strength".to_string(),
    }
}

fn scaled(by: &ScaleBy, lexicon: &Lexicon) -> String {
    match by {
        ScaleBy::AsWritten => "the formula as written".to_string(),
        ScaleBy::Factor(f) => format!("make it {} times", say_number(*f)),
        ScaleBy::Portions(n) => format!("make it for {}", say_number(*n)),
        ScaleBy::Flour(m) => format!("make it with {} of flour", mass(*m)),
        ScaleBy::Dough(m) => format!("make {} of dough", mass(*m)),
        ScaleBy::Pieces { count, each, baked } => format!(
            "make {} pieces of {}{}",
            say_number(*count),
            mass(*each),
            if *baked { " baked" } else { "" }
        ),
        ScaleBy::Limit { ingredient, have } => format!(
            "you only have {} of the {}",
            mass(*have),
            lexicon.printed(ingredient)
        ),
        ScaleBy::Tin { shape, size_cm } => {
            let sizes: Vec<String> = size_cm.iter().map(|s| say_number(*s)).collect();
            format!(
                "a {} tin of {} centimetres",
                shape.word(),
                sizes.join(" by ")
            )
        }
        ScaleBy::Hydration(p) => format!("make it {} percent hydration", say_number(*p)),
    }
}
