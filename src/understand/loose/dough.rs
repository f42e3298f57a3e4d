//! Sums of the dough trough: percentages, starters, water, ice, rise, pieces.

use super::heard::{Heard, Quantity};
use super::heats::celsius;
use super::into::wanted;
use super::item::Item;
use crate::ask::{Question, Share};
use crate::measure::{Kind, ingredients};
use crate::order::FeedPart;

const BOWL: [&str; 9] = [
    "dough",
    "hydration",
    "percent",
    "starter",
    "preferment",
    "piece",
    "formula",
    "left",
    "final",
];

fn is_flour(name: &str) -> bool {
    ingredients().find(name).is_some_and(|row| row.is_flour)
}

/// Numbers of other kinds than these.
fn beside(h: &Heard, allowed: fn(&Item) -> bool) -> bool {
    h.items
        .iter()
        .any(|item| item.is_number() && !allowed(item))
}

fn weights(item: &Item) -> bool {
    matches!(item, Item::Amount(..) | Item::Number(_))
}

fn weights_and_percents(item: &Item) -> bool {
    weights(item) || matches!(item, Item::Percent(_))
}

fn grams_of(h: &Heard, is: impl Fn(&Quantity) -> bool) -> Vec<f64> {
    h.quantities
        .iter()
        .filter(|q| is(q))
        .filter_map(Quantity::grams)
        .collect()
}

/// The one number of a list.
fn one(list: &[f64]) -> Option<f64> {
    match list {
        [n] => Some(*n),
        _ => None,
    }
}

/// Every heat that is named, in Celsius.
fn heats_of(h: &Heard) -> Vec<f64> {
    let of = |item: &Item| match item {
        Item::Heat(n, scale) => Some(celsius(*n, *scale)),
        Item::Number(n) => Some(*n),
        _ => None,
    };
    h.items.iter().filter_map(of).collect()
}

pub(super) fn rise(h: &Heard) -> Option<Question> {
    let allowed = [
        "rise", "long", "room", "halves", "rate", "dough", "baked", "same",
    ];
    let numbers = |i: &Item| matches!(i, Item::Heat(..) | Item::Number(_) | Item::Minutes(_));
    let plain = h.stuffs().iter().all(|s| s.contains("yeast"));
    // 'My dough takes 90 minutes at 25, how long at 21': heat of a room, so it is a rise and no oven.
    let in_a_room = h.any(&["dough", "room", "~takes"]) && h.has("long");
    let asked = h.has("rise") || in_a_room && heats_of(h).iter().all(|c| (0.0..=45.0).contains(c));
    if !asked || !h.only(&allowed) || beside(h, numbers) || !plain {
        return None;
    }
    let minutes: Vec<f64> = h
        .items
        .iter()
        .filter_map(|i| {
            if let Item::Minutes(m) = i {
                Some(*m)
            } else {
                None
            }
        })
        .collect();
    let minutes = one(&minutes)?;
    let known_at = h.items.iter().position(|i| matches!(i, Item::Minutes(_)))?;
    let each_at = h
        .items
        .iter()
        .position(|i| matches!(i, Item::Tag("halves")));
    let mut per = None;
    let mut heats: Vec<(usize, f64, Option<&str>)> = Vec::new();
    for (at, item) in h.items.iter().enumerate() {
        let (n, scale) = match item {
            Item::Heat(n, scale) => (*n, *scale),
            Item::Number(n) => (*n, None),
            _ => continue,
        };
        let of_rate = each_at.is_some_and(|e| at > e)
            && per.is_none()
            && h.items[each_at?..at]
                .iter()
                .any(|i| matches!(i, Item::Tag("~each" | "~per" | "~for")));
        if of_rate {
            per = Some(n);
        } else {
            heats.push((at, n, scale));
        }
    }
    if each_at.is_some() != per.is_some() {
        return None;
    }
    let f = heats.iter().any(|(_, _, s)| *s == Some("f")) || h.scales() == ["f"];
    let [a, b] = heats[..] else {
        return None;
    };
    // The heat that the known time was at stands nearest to it.
    let (at, room) = if a.0.abs_diff(known_at) <= b.0.abs_diff(known_at) {
        (a.1, b.1)
    } else {
        (b.1, a.1)
    };
    let c = |n: f64| celsius(n, f.then_some("f"));
    Some(Question::RiseAt {
        room_c: c(room),
        minutes: Some(minutes),
        at_c: Some(c(at)),
        halves_per_c: per.map(|n| if f { n / 1.8 } else { n }),
    })
}

/// So many percent of an amount, said in one breath: '20 percent of 900 grams'.
pub(super) fn percent_of(h: &Heard) -> Option<Question> {
    let allowed = [
        "percent",
        "dough",
        "starter",
        "poolish",
        "biga",
        "sponge",
        "preferment",
        "formula",
    ];
    if !h.only(&allowed) || beside(h, weights_and_percents) {
        return None;
    }
    let [q] = &h.quantities[..] else {
        return None;
    };
    let percent = one(&h.percents())?;
    let said = q.at >= 2
        && matches!(h.items[q.at - 1], Item::Tag("~of"))
        && matches!(h.items[q.at - 2], Item::Percent(_));
    let question = Question::PercentOf {
        percent,
        grams: q.grams()?,
    };
    said.then(|| wanted(h, question, "g"))
}

/// 'In all' of several weights: a dough from its flour and the rest, or a starter that was fed.
pub(super) fn all_together(h: &Heard) -> Option<Question> {
    let allowed = ["dough", "starter", "feed", "left"];
    let heavy = h.has("~weigh") && h.has("dough") && h.asked().is_empty();
    if !(h.has("~total") || heavy)
        || !h.only(&allowed)
        || beside(h, weights)
        || h.quantities.len() < 2
    {
        return None;
    }
    let flour_g = one(&grams_of(h, |q| q.stuff.is_some_and(is_flour)))?;
    let others: Option<Vec<(String, f64)>> = h
        .quantities
        .iter()
        .filter(|q| !q.stuff.is_some_and(is_flour))
        .map(|q| {
            let name = q.stuff.or(q.noun.filter(|n| *n == "starter"))?;
            Some((name.to_owned(), q.grams()?))
        })
        .collect();
    let others = others?;
    if h.any(&["starter", "feed"]) {
        let of = |name: &str| others.iter().find(|(n, _)| n == name).map(|(_, g)| *g);
        let seed = of("starter").filter(|g| *g > 0.0)?;
        let water = of("water")?;
        return (others.len() == 2).then(|| Question::Feed {
            seed_g: Some(seed),
            wanted_g: None,
            flour: flour_g / seed,
            water: water / seed,
            first: Some(FeedPart::All),
        });
    }
    let shares = others
        .into_iter()
        .map(|(name, g)| Share {
            name: name.into(),
            percent: g / flour_g * 100.0,
        })
        .collect();
    let question = Question::DoughMass {
        flour_g: Some(flour_g),
        shares,
    };
    Some(wanted(h, question, "g"))
}

pub(super) fn hydration_of(h: &Heard) -> Option<Question> {
    if !h.any(&["starter"]) || !h.has("hydration") || beside(h, weights_and_percents) {
        return None;
    }
    let flour_g = one(&grams_of(h, |q| q.stuff.is_some_and(is_flour)))?;
    let water_g = one(&grams_of(h, |q| q.stuff == Some("water")))?;
    let starter_g = one(&grams_of(h, |q| q.stuff.is_none()))?;
    let starter_percent = match h.percents()[..] {
        [] => 100.0,
        [p] => p,
        _ => return None,
    };
    (h.quantities.len() == 3 && h.only(&["starter", "hydration", "percent", "dough"])).then_some(
        Question::HydrationOf {
            flour_g,
            water_g,
            starter_g,
            starter_percent,
        },
    )
}

pub(super) fn final_dough(h: &Heard) -> Option<Question> {
    let kinds = ["poolish", "biga", "sponge", "starter", "preferment"];
    let mut allowed = BOWL.to_vec();
    allowed.extend(kinds);
    if !h.any(&kinds) || !h.any(&["left", "final"]) || !h.only(&allowed) || beside(h, weights) {
        return None;
    }
    let flours = grams_of(h, |q| q.stuff.is_some_and(is_flour));
    let waters = grams_of(h, |q| q.stuff == Some("water"));
    match (&flours[..], &waters[..]) {
        ([flour, ahead_flour], [water, ahead_water]) if h.quantities.len() == 4 => {
            Some(Question::FinalDough {
                flour_g: flour.max(*ahead_flour),
                water_g: water.max(*ahead_water),
                ahead_flour_g: flour.min(*ahead_flour),
                ahead_water_g: water.min(*ahead_water),
            })
        }
        _ => None,
    }
}

pub(super) fn baked(h: &Heard) -> Option<Question> {
    let allowed = [
        "loss", "baked", "dough", "oven", "piece", "percent", "left", "core",
    ];
    if !h.any(&["loss", "baked"])
        || !h.only(&allowed)
        || beside(h, weights_and_percents)
        || !h.stuffs().is_empty()
    {
        return None;
    }
    let loss_percent = match h.percents()[..] {
        [] if !h.has("loss") => None,
        [p] => Some(p),
        _ => return None,
    };
    let (masses, counts): (Vec<&Quantity>, Vec<&Quantity>) = h
        .quantities
        .iter()
        .partition(|q| q.kind() == Some(Kind::Mass));
    let [mass] = masses[..] else {
        return None;
    };
    let count = match counts[..] {
        [] => 1.0,
        [q] if q.unit.is_none() && q.noun == Some("piece") => q.n,
        _ => return None,
    };
    let grams = mass.mass()? * count;
    // 'How much dough for', 'dough for ten loaves': the dough is asked for.
    let dough_at = h.items.iter().position(|i| matches!(i, Item::Tag("dough")));
    let asks_dough = dough_at.is_some_and(|d| {
        d < mass.at
            && h.items[d..mass.at]
                .iter()
                .any(|i| matches!(i, Item::Tag("~for" | "~want" | "~to" | "~total" | "piece")))
    }) || h.has("~howmuch") && dough_at.is_some() && mass.noun == Some("baked");
    // 'A 400 gram baked loaf, dough weight': the weight that is said is the baked one.
    let baked_behind = h.items[mass.at + 1..]
        .iter()
        .take(3)
        .take_while(|i| matches!(i, Item::Tag("baked" | "piece" | "~of")))
        .any(|i| matches!(i, Item::Tag("baked")));
    let asks_dough = asks_dough || baked_behind && dough_at.is_some_and(|d| d != mass.at + 1);
    let question = if asks_dough {
        Question::DoughFor {
            baked_g: grams,
            loss_percent,
        }
    } else {
        Question::BakedMass {
            dough_g: Some(grams),
            loss_percent,
        }
    };
    Some(wanted(h, question, "g"))
}

pub(super) fn pieces(h: &Heard) -> Option<Question> {
    let allowed = ["piece", "dough", "divide", "people"];
    if !h.any(&["piece", "divide"]) || !h.only(&allowed) || beside(h, weights) {
        return None;
    }
    if !h.stuffs().is_empty() || h.quantities.iter().any(|q| q.n <= 0.0) || h.quantities.len() != 2
    {
        return None;
    }
    let (masses, counts): (Vec<&Quantity>, Vec<&Quantity>) = h
        .quantities
        .iter()
        .partition(|q| q.kind() == Some(Kind::Mass));
    match (&masses[..], &counts[..]) {
        ([a, b], []) if h.has("~howmany") => {
            let (a, b) = (a.mass()?, b.mass()?);
            Some(Question::PiecesFrom {
                dough_g: Some(a.max(b)),
                each_g: a.min(b),
            })
        }
        // 'If every ball is 250, how many from two kilos': the bare number is of grams.
        ([mass], [each]) if h.has("~howmany") && each.unit.is_none() && h.has("~each") => {
            Some(Question::PiecesFrom {
                dough_g: Some(mass.mass()?),
                each_g: each.n,
            })
        }
        ([mass], [count]) if count.unit.is_none() && !h.has("~howmany") => {
            let counted = h.has("piece") || h.has("divide");
            // '2.4 kilos of dough into 12 pieces' is shared out, '16 buns at 85 grams' is added up.
            let into = mass.at < count.at
                && h.items[mass.at..count.at]
                    .iter()
                    .any(|i| matches!(i, Item::Tag("~to")));
            if mass.at < count.at && !into && !h.any(&["divide", "~total"]) {
                return None;
            }
            let shared = h.has("divide") || into;
            let factor = if shared { 1.0 / count.n } else { count.n };
            let asks = h.any(&["divide", "~each", "dough", "~total", "~weigh"]);
            let question = Question::Times {
                factor,
                number: mass.n,
                unit: mass.unit.as_deref()?.parse().ok()?,
            };
            (counted && asks).then(|| wanted(h, question, mass.unit.as_deref().unwrap_or("g")))
        }
        _ => None,
    }
}

pub(super) fn more_water(h: &Heard) -> Option<Question> {
    let water = h.stuffs().contains(&"water") || h.has("hydration");
    let more = h.any(&["raise", "~more"]) || h.says_any(&["extra water", "more water"]);
    if !more || !water || !h.only(&["raise", "hydration", "dough", "percent"]) {
        return None;
    }
    let percents = h.percents();
    let flour: Vec<&Quantity> = h
        .quantities
        .iter()
        .filter(|q| q.unit.is_some() || q.stuff.is_some_and(is_flour))
        .collect();
    let bare: Vec<f64> = h
        .quantities
        .iter()
        .filter(|q| q.unit.is_none() && q.stuff.is_none())
        .map(|q| q.n)
        .collect();
    let levels: Vec<f64> = if percents.len() == 2 {
        percents
    } else {
        percents.iter().copied().chain(bare).collect()
    };
    let [a, b] = levels[..] else {
        return None;
    };
    let flour_g = match flour[..] {
        [] => None,
        [q] => Some(q.grams()?),
        _ => return None,
    };
    let question = Question::MoreWater {
        flour_g,
        from: a.min(b),
        to: a.max(b),
    };
    Some(wanted(h, question, "g"))
}
