//! Whether food is done, and whether it is still good, in whatever words.

use super::said::Said;
use crate::order::{KeptHow, Order, Question};
use crate::understand::lexicon::Lexicon;
use crate::understand::spans::{FoundKind, FoundValue, Mention, spans};

/// What a sentence names: a food as it was said, a number, a length of time.
struct Named {
    food: Option<String>,
    heat_c: Option<f64>,
    minutes: Option<f64>,
}

impl Named {
    fn of(text: &str, lexicon: &Lexicon) -> Self {
        let (words, found) = spans(text, lexicon);
        let foods = found
            .iter()
            .filter(|m| matches!(m.kind, FoundKind::Food | FoundKind::Own | FoundKind::Stuff));
        let longest = foods.max_by_key(|m| (m.to - m.from, usize::MAX - m.from));
        let food = longest.map(|m| words[m.from..m.to].join(" "));
        let heats = found.iter().filter_map(celsius);
        let minutes = found.iter().find_map(|m| match (&m.kind, &m.value) {
            (FoundKind::Duration, FoundValue::Number(ms)) => Some(ms / 60_000.0),
            _ => None,
        });
        Self {
            food,
            heat_c: heats.fold(None, |most, c| Some(most.map_or(c, |m: f64| m.max(c)))),
            minutes,
        }
    }
}

/// A heat that food may have inside; a number that no food reaches in Celsius is one of Fahrenheit.
fn celsius(found: &Mention) -> Option<f64> {
    let (n, scale) = match (&found.kind, &found.value) {
        (FoundKind::Heat, FoundValue::Amount(n, scale)) => (*n, *scale),
        (FoundKind::Number, FoundValue::Number(n)) => (*n, None),
        _ => return None,
    };
    let fahrenheit = scale == Some("f") || n > 110.0;
    let c = if fahrenheit { (n - 32.0) / 1.8 } else { n };
    (30.0..=110.0)
        .contains(&c)
        .then_some((c * 10.0).round() / 10.0)
}

const MEASURES: &[&str] = &[
    "grams",
    "gram",
    "g",
    "kilos",
    "kilo",
    "minutes",
    "minute",
    "hours",
    "hour",
    "percent",
    "litres",
    "millilitres",
    "ml",
    "seconds",
    "oven",
    "dough",
    "water",
    "room",
    "kitchen",
    "fridge",
    "oil",
    "flour",
    "sugar",
    "syrup",
    "jam",
    "caramel",
    "gas",
    "people",
    "portions",
    "timer",
    "how",
    "what",
    "when",
    "oz",
    "ounces",
    "pounds",
    "half",
    "proof",
    "set",
    "make",
];
const INSIDE: &[&str] = &[
    "inside",
    "middle",
    "core",
    "centre",
    "center",
    "thermometer",
    "probe",
    "thickest",
    "internal",
];
const DONE: &[&str] = &[
    "done", "safe", "cooked", "ready", "enough", "ok", "okay", "fine", "good", "through",
];

pub(super) fn read(said: &Said, text: &str, lexicon: &Lexicon) -> Option<Order> {
    let named = Named::of(text, lexicon);
    let question = heat(said, &named)
        .or_else(|| left_out(said, &named))
        .or_else(|| frozen(said, &named))
        .or_else(|| kept(said, &named))
        .or_else(|| hot_tin(said));
    question.or_else(|| reads(said, &named))
}

fn heat(said: &Said, named: &Named) -> Option<Order> {
    let (food, core_c) = (named.food.clone()?, named.heat_c?);
    let asked = said.has(DONE) || said.has(INSIDE);
    (asked && !said.has(MEASURES)).then(|| {
        Order::Ask(Question::SafeAt {
            food: food.into(),
            core_c,
        })
    })
}

/// What the thermometer shows, where no food is named.
fn reads(said: &Said, named: &Named) -> Option<Order> {
    let core_c = named.heat_c?;
    let asks = said.has(DONE) && said.has(&["is", "it", "at"]) && said.has(&["degrees"]);
    (named.food.is_none() && (said.has(INSIDE) || asks) && !said.has(MEASURES))
        .then_some(Order::CoreReads { core_c })
}

fn left_out(said: &Said, named: &Named) -> Option<Order> {
    let stood = said.has(&[
        "left", "been", "was", "were", "stood", "sat", "sitting", "standing", "forgot", "lying",
        "stayed",
    ]);
    let out = said.has(&["out", "counter", "worktop", "side", "windowsill"])
        || said.says(&[
            "on the table",
            "on the bench",
            "at room temperature",
            "room temperature",
            "in the car",
            "not in the fridge",
        ]);
    let long = said.has(&["overnight", "yesterday"])
        || said.says(&[
            "all night",
            "all day",
            "last night",
            "this morning",
            "since lunch",
            "since breakfast",
            "the whole night",
            "the whole day",
            "for hours",
            "since dinner",
            "too long",
        ])
        || named.minutes.is_some()
            && said.has(&["eat", "safe", "good", "ok", "okay", "fine", "still", "use"]);
    let work = said.has(&[
        "timer", "oven", "butter", "step", "put", "take", "took", "rise", "prove", "starter",
        "poolish", "levain", "yeast",
    ]);
    if !(stood && out && long) || work {
        return None;
    }
    Some(Order::Ask(Question::LeftOut {
        food: named.food.clone().map(Into::into),
        minutes: named.minutes.filter(|_| !said.has(&["overnight", "night"])),
    }))
}

fn frozen(said: &Said, named: &Named) -> Option<Order> {
    let frozen = said.has(&["frozen", "unthawed"])
        || said.says(&["not thawed", "not defrosted", "rock hard from the freezer"]);
    let asks = said.has(&[
        "can", "use", "still", "cook", "straight", "from", "could", "solid", "forgot", "yet", "not",
    ]);
    let told = said.has(&["in", "added", "instead", "how", "much", "many", "pea"]);
    (frozen && asks && !told).then(|| {
        let food = named
            .food
            .clone()
            .map(|food| food.trim_start_matches("frozen ").to_owned());
        Order::Ask(Question::FromFrozen {
            food: food.filter(|food| food != "frozen").map(Into::into),
        })
    })
}

fn kept(said: &Said, named: &Named) -> Option<Order> {
    let can = said.has(&[
        "can", "could", "does", "do", "will", "may", "how", "is", "should",
    ]);
    let freezer = said.has(&["freeze", "freezes", "freezer", "freezing", "freezable"])
        && !said.says(&[
            "not freezer",
            "not the freezer",
            "not in the freezer",
            "not frozen",
        ]);
    let warms = said.has(&["reheat", "reheated", "reheating", "rewarm"])
        || said.then(
            &["warm", "heat", "warmed", "heated"],
            &["tomorrow", "later", "again", "leftovers"],
            5,
        );
    let ahead = said.has(&[
        "make", "made", "prepare", "prepared", "prep", "assemble", "bake", "cook", "do",
    ]) && (said.has(&["ahead", "beforehand", "advance"])
        || said.says(&[
            "day before",
            "night before",
            "in the morning",
            "the evening before",
            "for tomorrow",
            "tomorrow instead",
        ]))
        && !said.has(&["when", "timer", "what"]);
    let keep = said
        .at(&["keep", "keeps", "last", "lasts", "stored", "store"])
        .is_some_and(|at| {
            let next = said.word(at + 1);
            let days = said.says(&["how long", "how many days", "for how long"])
                || said.says(&["until tomorrow", "till tomorrow", "for tomorrow"]);
            days && !next.ends_with("ing")
                && !said.has(&[
                    "hot", "warm", "covered", "boiling", "timer", "oven", "time", "stirring",
                    "alarm", "take", "took", "did",
                ])
        });
    let how = if freezer && !said.has(&["from", "took", "out"]) {
        KeptHow::Freeze
    } else if warms {
        KeptHow::Reheat
    } else if keep {
        KeptHow::Keep
    } else if ahead {
        KeptHow::Ahead
    } else {
        return None;
    };
    can.then(|| {
        Order::Ask(Question::Keeps {
            food: named.food.clone().map(|food| kept_as(said, food).into()),
            how,
        })
    })
}

/// What is raw or minced keeps for less: that is part of the food.
fn kept_as(said: &Said, food: String) -> String {
    let mut words = Vec::new();
    if said.has(&["raw", "uncooked"]) && !food.contains("raw") {
        words.push("raw");
    }
    let meat = ["beef", "pork", "lamb", "veal", "chicken", "turkey", "meat"];
    if said.has(&["mince", "minced", "ground"])
        && !food.contains("mince")
        && meat.iter().any(|m| food.contains(m))
    {
        words.push("minced");
    }
    words.push(&food);
    words.join(" ")
}

/// 'The tin is hot, how do I get it out.'
fn hot_tin(said: &Said) -> Option<Order> {
    let tin = said.has(&["tin", "tray", "pan", "dish", "pot", "casserole"]);
    let lift =
        said.has(&["out", "lift", "carry", "hold", "grab", "move"]) && said.has(&["how", "with"]);
    (tin && lift && said.has(&["hot"]) && !said.has(&["long", "much", "many", "how hot"])).then(
        || {
            Order::Ask(Question::Caution {
                about: "hot-oven".into(),
            })
        },
    )
}
