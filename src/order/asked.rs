//! Questions of quantity, described back.

use super::question::{Keeping, KeptHow, Question};
use super::refs::Food;
use super::said::{say_amount, say_number, unit_words};

/// The name of many of a unit, or of a scale of heat.
pub(super) fn many(unit: &str) -> String {
    match unit {
        "gas" => "gas mark".to_string(),
        "fan" => "a fan oven".to_string(),
        "c" => "celsius".to_string(),
        "f" => "fahrenheit".to_string(),
        _ => unit_words(unit).map_or(unit, |(_, many)| many).to_string(),
    }
}

/// The question in a few words.
pub(super) fn asked(question: &Question) -> String {
    let of = |what: &Option<Food>| {
        what.as_deref()
            .map_or_else(String::new, |w| format!(" of {w}"))
    };
    let it = |what: &Option<Food>| what.as_deref().unwrap_or("it").to_owned();
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
        Question::SafeAt { food, core_c } => {
            format!("whether {food} is done at {} degrees", say_number(*core_c))
        }
        Question::LeftOut { food, .. } => format!("whether {} that was left out is good", it(food)),
        Question::Keeps { food, how } => match how {
            KeptHow::Keep => format!("how long {} keeps", it(food)),
            KeptHow::Freeze => format!("whether to freeze {}", it(food)),
            KeptHow::Reheat => format!("how to warm {} up", it(food)),
            KeptHow::Ahead => format!("whether to make {} ahead", it(food)),
        },
        Question::FromFrozen { food } => format!("how to use {} from the freezer", it(food)),
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
            let kind: &str = kind.into();
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
        Question::Portion { food, people, .. } => {
            format!("how much {food} for {}", say_number(*people))
        }
        Question::Part { of, name } => format!("the {name} of {}", asked(of)),
    }
}
