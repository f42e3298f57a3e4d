//! Heat in free words: ovens, boiled sugar, oil, and the middle of food.

use super::fact::{Fact, What};
use super::food::{core_of, fried_foods, knows, safe, same_food};
use super::heard::Heard;
use super::heats::celsius;
use super::into::on_scale;
use super::item::Item;
use crate::ask::Question;
use crate::order::UnitSymbol;

/// Fahrenheit beyond this is no reading of a Celsius oven.
const HOTTEST_C: f64 = 275.0;

/// Where a piece of one kind stands.
fn places(h: &Heard, is: impl Fn(&Item) -> bool) -> Vec<usize> {
    (0..h.items.len()).filter(|&at| is(&h.items[at])).collect()
}

/// The scale that the answer is wanted on: one that is named apart from a number.
fn scale(h: &Heard) -> Option<&'static str> {
    h.scales()
        .into_iter()
        .rfind(|s| matches!(*s, "c" | "f" | "gas"))
}

/// How far the nearest of some places is.
fn nearest(places: &[usize], at: usize) -> usize {
    places
        .iter()
        .map(|p| p.abs_diff(at))
        .min()
        .unwrap_or(usize::MAX)
}

/// The heats of a question and nothing else that is a number; a number without a unit may be one.
fn only_heats(h: &Heard) -> Option<Vec<&Fact>> {
    let heat = |f: &Fact| matches!(f.what, What::Heat(_) | What::Bare);
    (!h.facts.is_empty() && h.facts.iter().all(heat)).then(|| h.facts.iter().collect())
}

/// One heat, and the oven or the scale that it is wanted for.
pub(super) fn convert(h: &Heard) -> Option<Question> {
    let heats = only_heats(h)?;
    let fans = places(h, |i| {
        matches!(i, Item::Scale("fan") | Item::Heat(_, Some("fan")))
    });
    let normals = places(h, |i| matches!(i, Item::Tag("normal")));
    let of_food = h.any(&[
        "dough", "rise", "ice", "friction", "room", "tap", "gelatine", "people",
    ]) || h.says_any(&["rare", "safe", "water"]);
    if of_food || h.says_any(&["too hot", "too low", "hotter", "cooler by", "difference"]) {
        return None;
    }
    let scales = h.scales();
    let one = |fact: &Fact| -> Option<Question> {
        let said = match fact.what {
            What::Heat(scale) => scale,
            _ => None,
        };
        // 'Fahrenheit 350 in gas': a scale before a bare number is its own.
        let (own, rest): (Option<&str>, Vec<&str>) = match said {
            Some(s) => (
                Some(s),
                scales
                    .iter()
                    .copied()
                    .filter(|r| *r != s && *r != "fan")
                    .collect(),
            ),
            None => {
                let kinds: Vec<&str> = scales.iter().copied().filter(|s| *s != "fan").collect();
                match kinds[..] {
                    [from, to] if from != to => (Some(from), vec![to]),
                    _ => (None, kinds),
                }
            }
        };
        let to = match rest[..] {
            [] => None,
            [one, ..] if rest.iter().all(|r| *r == one) => Some(one),
            _ => return None,
        };
        // 'Convection at 325, so conventional': what stands before the number is its own.
        let (fan_far, normal_far) = (nearest(&fans, fact.at), nearest(&normals, fact.at));
        let before = |places: &[usize]| places.iter().any(|p| *p < fact.at);
        let from_fan = said == Some("fan")
            || !fans.is_empty()
                && !normals.is_empty()
                && (fan_far < normal_far
                    || fan_far == normal_far && before(&fans) && !before(&normals));
        let make = |number: f64, from: &str, to: &str| {
            Some(Question::ConvertTemperature {
                number,
                from: from.parse().ok()?,
                to: to.parse().ok()?,
            })
        };
        let fahrenheit = own == Some("f") || own.is_none() && fact.n > HOTTEST_C;
        if from_fan {
            let number = fact.n;
            return match (to, fahrenheit) {
                (Some(to), _) if to != "c" || own == Some("fan") => make(number, "fan", to),
                (_, true) => make(number, "fan", "f"),
                _ => make(number, "fan", "c"),
            };
        }
        let from = own.or((!fans.is_empty()).then_some(if fahrenheit { "f" } else { "c" }))?;
        if !fans.is_empty() {
            let on_fan = make(fact.n, from, "fan")?;
            let into = to
                .or((from == "f").then_some("f"))
                .filter(|to| matches!(*to, "c" | "f"));
            return Some(match into {
                Some(to) if to == "f" || from == "f" => Question::Into {
                    of: Box::new(on_fan),
                    unit: to.parse().ok()?,
                },
                _ => on_fan,
            });
        }
        // 'Four hundred Fahrenheit for my English cousin'.
        let of_whom = match (h.any(&["uk", "au", "metric"]), h.has("us")) {
            (true, false) if from == "f" => Some("c"),
            (false, true) if from == "c" => Some("f"),
            _ => None,
        };
        let to = to.or(of_whom).or((from == "gas").then_some("c"))?;
        (from != to).then(|| make(fact.n, from, to)).flatten()
    };
    match heats[..] {
        [fact] => {
            let asked = h.facts.len() == 1;
            asked.then(|| one(fact)).flatten()
        }
        _ if heats.len() <= 4 && heats.iter().all(|f| matches!(f.what, What::Heat(Some(_)))) => {
            let each: Vec<Question> = heats.iter().map(|f| one(f)).collect::<Option<_>>()?;
            Some(Question::Together { each })
        }
        _ => None,
    }
}

/// A word for an oven.
pub(super) fn oven_word(h: &Heard) -> Option<Question> {
    let heat = |f: &Fact| {
        matches!(
            f.what,
            What::Heat(_) | What::Percent | What::Mass | What::Volume | What::Time
        )
    };
    if h.facts.iter().any(heat) {
        return None;
    }
    let named = h.named("oven")?;
    let question = Question::OvenWord { word: named.into() };
    let fan = h.scales().contains(&"fan") && !h.said("no") && !h.has("normal");
    if fan {
        return Some(Question::Into {
            of: Box::new(question),
            unit: UnitSymbol::FAN,
        });
    }
    Some(on_scale(scale(h), question))
}

/// What is boiled to which stage.
pub(super) fn stage(h: &Heard) -> Option<Question> {
    let number = |f: &&Fact| matches!(f.what, What::Heat(_)) || f.what == What::Bare && f.n > 90.0;
    let heats: Vec<&Fact> = h.facts.iter().filter(number).collect();
    let amounts = h
        .facts
        .iter()
        .any(|f| f.is_amount() || f.what == What::Percent);
    if amounts {
        return None;
    }
    let sugar = h.has("stage")
        || h.says_any(&[
            "sugar",
            "syrup",
            "candy",
            "confectioner",
            "boil",
            "boiled",
            "cook",
            "caramel",
        ]);
    match (h.named("stage"), &heats[..]) {
        (Some(stage), []) => {
            // 'Caramel' is also a taste; its stage is asked for by its heat.
            let hot = h.has("~temp")
                || h.says_any(&["hot", "thermometer", "degrees", "stage"])
                || scale(h).is_some();
            (hot && !h.any(&["egg", "gelatine", "people"])).then(|| {
                on_scale(
                    scale(h),
                    Question::SugarStage {
                        stage: stage.into(),
                    },
                )
            })
        }
        (None, [one]) if sugar && (h.has("stage") || h.says_any(&["which ball", "what ball"])) => {
            let said = match one.what {
                What::Heat(scale) => scale,
                _ => h.scales().first().copied(),
            };
            Some(Question::StageAt {
                sugar_c: celsius(one.n, said.or((one.n > 185.0).then_some("f"))),
            })
        }
        _ => None,
    }
}

/// Fat, and what goes into it.
pub(super) fn frying(h: &Heard) -> Option<Question> {
    let fat = h.has("~oil")
        || h.says_any(&[
            "chip pan", "fat", "lard", "dripping", "fryer", "deep fat", "oil",
        ]);
    let hot = h.has("~temp")
        || h.says_any(&["hot", "degrees", "warm", "thermometer"])
        || scale(h).is_some();
    let fries = h.any(&["fry", "firstfry"]);
    let amounts = h
        .facts
        .iter()
        .any(|f| !(f.what == What::Bare && f.n <= 2.0));
    let inside = h.says_any(&[
        "inside", "middle", "internal", "core", "centre", "center", "thickest",
    ]);
    if !hot || !fat && !fries || amounts || inside || h.says("how much") || h.has("stage") {
        return None;
    }
    let to = scale(h);
    let food = |food: Option<&str>| {
        let food = food.map(Into::into);
        Some(on_scale(to, Question::Frying { food }))
    };
    let potato = [
        "chip", "chips", "fries", "potato", "potatoes", "frites", "wedges",
    ];
    let chips = h.words.iter().any(|w| potato.contains(&w.as_str()));
    let first = h.has("firstfry")
        || h.says_any(&[
            "first go",
            "first round",
            "first time",
            "first fry",
            "first frying",
            "first bath",
            "first dip",
            "first stage",
        ]);
    if first && chips {
        return food(Some("the first fry of chips"));
    }
    let known = |w: &str| {
        fried_foods()
            .find(|(name, _)| same_food(name, w))
            .map(|(_, row)| row)
    };
    let mut rows: Vec<&str> = Vec::new();
    for (at, word) in h.words.iter().enumerate() {
        let pair = h.words.get(at + 1).map(|next| format!("{word} {next}"));
        // 'Frying' is also a name of most things.
        let row = pair.as_deref().and_then(known).or_else(|| known(word));
        if let Some(row) =
            row.filter(|_| !word.starts_with("fry") && word != "food" && word != "deep")
            && !rows.contains(&row)
        {
            rows.push(row);
        }
    }
    // Batter, vegetables and the like tell less than the dish that they are in.
    if rows.len() > 1 {
        rows.retain(|row| *row != "most things");
    }
    match rows[..] {
        [] if h.any(&["piece", "~food", "egg"])
            || !h.stuffs().iter().all(|s| s.contains("oil") || *s == "lard") =>
        {
            None
        }
        [] => (fries || h.says_any(&["deep", "fryer"]))
            .then(|| food(None))
            .flatten(),
        [one] => food(Some(one)),
        // 'Fish and chips: how hot for the fish'.
        _ => {
            let mut meant = rows.iter().filter(|row| {
                fried_foods().any(|(name, of)| {
                    of == **row
                        && h.says_any(&[&format!("for the {name}"), &format!("for my {name}")])
                })
            });
            let one = meant.next()?;
            meant.next().is_none().then(|| food(Some(one))).flatten()
        }
    }
}

/// Words for how much a steak is done, with the name of its row.
const DONENESS: [(&str, &str); 7] = [
    ("medium rare", "medium rare steak"),
    ("medium well", "medium well done steak"),
    ("well done", "well done steak"),
    ("blue", "blue steak"),
    ("rare", "rare steak"),
    ("pink", "medium rare steak"),
    ("medium", "medium steak"),
];

/// How long a core temperature is to be held.
pub(super) fn hold(h: &Heard) -> Option<Question> {
    let asks = h.says_any(&[
        "how long",
        "how many minutes",
        "for how many",
        "minutes must",
        "minutes should",
        "how many seconds",
    ]);
    let inside =
        h.says_any(INSIDE) || h.says_any(&["hold", "held", "keep it", "safe", "stay there"]);
    match h.facts[..] {
        [
            Fact {
                n,
                what: What::Heat(scale),
                ..
            },
        ] if asks && inside && scale != Some("gas") && scale != Some("fan") => {
            let core_c = celsius(n, scale);
            (60.0..=80.0)
                .contains(&core_c)
                .then_some(Question::SafeTime { core_c })
        }
        _ => None,
    }
}

/// Words for the middle of food.
const INSIDE: &[&str] = &[
    "internal",
    "inside",
    "core",
    "middle",
    "centre",
    "center",
    "thickest",
    "out of the oven",
];

/// The middle of food.
pub(super) fn core(h: &Heard) -> Option<Question> {
    let numbers = |f: &&Fact| !(f.what == What::Time || f.what == What::Bare && f.n <= 3.0);
    let hot = h.has("~temp")
        || h.says_any(&[
            "how hot",
            "degrees",
            "thermometer",
            "probe",
            "internal",
            "core",
            "inside temp",
            "read",
            "reading",
            "middle",
            "thickest",
        ])
        || scale(h).is_some();
    let done = h.any(&["core", "reheat", "~inside", "left"])
        || h.says_any(&[
            "middle",
            "centre",
            "center",
            "thickest",
            "safe",
            "done",
            "cooked",
            "probe",
            "rare",
            "medium",
            "well done",
            "pulled",
            "pink",
            "rested",
            "hot should",
            "eat",
            "out of the oven",
            "pull",
            "warm through",
        ]);
    let elsewhere = (h.has("oven")
        || h.any(&[
            "fry", "stage", "room", "friction", "ice", "~oil", "rise", "tin", "tap",
        ]))
        && !h.says_any(INSIDE);
    if h.facts.iter().any(|f| numbers(&f))
        || !hot
        || !done
        || elsewhere
        || h.says("oven temperature")
    {
        return None;
    }
    // 'Is this chicken safe to eat' asks for a promise that no table can give.
    let to = scale(h);
    if h.has("reheat") || h.says_any(&["warm up leftovers", "leftovers", "heat up", "warm through"])
    {
        return Some(on_scale(to, safe("leftovers")));
    }
    if h.says_any(&[
        "pulled pork",
        "for pulling",
        "to pull",
        "pulling",
        "pull apart",
        "pulls apart",
        "falls apart",
        "falling apart",
        "to shred",
        "shreds",
        "pullable",
    ]) && h.says_any(&["pork", "shoulder", "brisket", "butt", "lamb", "beef"])
    {
        return Some(on_scale(to, safe("pulled pork")));
    }
    let red = [
        "steak", "steaks", "beef", "lamb", "sirloin", "ribeye", "rump", "fillet", "joint", "rib",
        "duck",
    ];
    let is_red = h.words.iter().any(|w| red[..10].contains(&w.as_str()));
    if is_red
        && !h.says_any(&["mince", "minced", "ground", "burger", "burgers"])
        && let Some((_, row)) = DONENESS.iter().find(|(said, _)| h.says(said))
    {
        return Some(on_scale(to, safe(row)));
    }
    let mut found: Option<String> = None;
    let mut end = 0;
    for at in 0..h.words.len() {
        // 'Not minced' is no mince.
        let denied = at > 0 && ["not", "isn't", "no", "never"].contains(&h.words[at - 1].as_str());
        if at < end || denied {
            continue;
        }
        let longest = (1..=4)
            .rev()
            .filter_map(|len| Some((at + len, h.words.get(at..at + len)?.join(" "))))
            // 'Roasting a chicken': what is done is no food.
            .find(|(_, name)| {
                !name
                    .split(' ')
                    .next()
                    .is_some_and(|w| w.ends_with("ing") && w != "stuffing")
                    && knows(name)
            });
        if let Some((past, name)) = longest {
            end = past;
            // Of two foods the one with the stricter heat is not ours to choose, unless they are the same.
            match &found {
                Some(other) if core_of(other) != core_of(&name) => return None,
                Some(_) => {}
                None => found = Some(name),
            }
        }
    }
    Some(on_scale(to, safe(&found?)))
}
