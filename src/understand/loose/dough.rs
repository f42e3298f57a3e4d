//! Sums of the dough trough: percentages, starters, water, ice, rise, pieces.

use super::heard::{Heard, Quantity};
use super::heats::celsius;
use super::into::{on_scale, wanted};
use super::item::Item;
use crate::ask::{Question, Share};
use crate::dough::Preferment;
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

fn flour_said(h: &Heard) -> bool {
    h.stuffs().iter().any(|s| is_flour(s))
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

/// Water temperature: every number has the thing whose temperature it is before it, or after it.
pub(super) fn water_temperature(h: &Heard) -> Option<Question> {
    let allowed = [
        "room",
        "friction",
        "byhand",
        "dough",
        "tap",
        "starter",
        "poolish",
        "biga",
        "sponge",
        "preferment",
        "core",
    ];
    let tells = h.any(&["room", "friction", "byhand"]) && (flour_said(h) || h.has("room"));
    let numbers = |i: &Item| matches!(i, Item::Heat(..) | Item::Number(_));
    if !tells || !h.only(&allowed) || beside(h, numbers) || h.has("ice") {
        return None;
    }
    let scales = h.scales();
    let f = scales.contains(&"f")
        || h.items
            .iter()
            .any(|i| matches!(i, Item::Heat(_, Some("f"))));
    let scale = if f { Some("f") } else { None };
    let role = |item: &Item| match item {
        Item::Tag(t @ ("room" | "friction" | "dough" | "tap")) => Some(*t),
        Item::Tag("~want") => Some("dough"),
        Item::Tag("starter" | "poolish" | "biga" | "sponge" | "preferment") => Some("ahead"),
        Item::Stuff(name) if is_flour(name) => Some("flour"),
        Item::Stuff("water") => Some("water"),
        _ => None,
    };
    let value = |item: &Item| match item {
        Item::Heat(n, _) | Item::Number(n) => Some(*n),
        _ => None,
    };
    let first_role = h
        .items
        .iter()
        .position(|i| role(i).is_some_and(|r| r != "water"))?;
    let first_number = h.items.iter().position(|i| value(i).is_some())?;
    let before = first_role < first_number;
    let mut found: Vec<(&str, f64)> = Vec::new();
    let mut last: Option<&str> = None;
    let mut pending: Option<f64> = None;
    for item in &h.items {
        if let Some(r) = role(item) {
            if let Some(n) = pending.take() {
                found.push((r, n));
            } else if r != "water" {
                last = Some(r);
            }
        } else if let Some(n) = value(item) {
            if before {
                found.push((last.take()?, n));
            } else {
                pending = Some(n);
            }
        }
    }
    if pending.is_some() {
        return None;
    }
    let mut take = |name: &str| {
        let all: Vec<f64> = found
            .iter()
            .filter(|(r, _)| *r == name)
            .map(|(_, n)| *n)
            .collect();
        found.retain(|(r, _)| *r != name);
        match all[..] {
            [] => Some(None),
            [n] => Some(Some(n)),
            _ => None,
        }
    };
    let c = |n: Option<f64>| n.map(|n| celsius(n, scale));
    let dough_c = c(take("dough")?);
    let room_c = c(take("room")?);
    let flour_c = c(take("flour")?);
    let preferment_c = c(take("ahead")?);
    let tap_c = c(take("tap")?);
    let friction = take("friction")?.map(|n| if f { n / 1.8 } else { n });
    if !found.is_empty() || dough_c.is_none() || room_c.is_none() {
        return None;
    }
    let friction_c = friction.or_else(|| h.has("byhand").then_some(0.0));
    let question = Question::WaterTemperature {
        dough_c,
        flour_c,
        room_c,
        preferment_c,
        friction_c,
        tap_c,
    };
    Some(on_scale(scale, question))
}

pub(super) fn ice(h: &Heard) -> Option<Question> {
    let numbers = |i: &Item| matches!(i, Item::Heat(..) | Item::Amount(..) | Item::Number(_));
    let plain = h.stuffs().iter().all(|s| *s == "water");
    if !h.has("ice") || !h.only(&["ice", "tap", "room", "dough"]) || beside(h, numbers) || !plain {
        return None;
    }
    let mut water: Vec<f64> = Vec::new();
    let mut heats: Vec<(f64, Option<&str>)> = Vec::new();
    for item in &h.items {
        match item {
            Item::Heat(n, scale) => heats.push((*n, *scale)),
            Item::Number(n) => heats.push((*n, None)),
            _ => {}
        }
    }
    for q in h.quantities.iter().filter(|q| q.unit.is_some()) {
        water.push(q.grams()?);
    }
    let f = heats.iter().any(|(_, s)| *s == Some("f")) || h.scales() == ["f"];
    let heats: Vec<f64> = heats
        .iter()
        .map(|(n, _)| celsius(*n, f.then_some("f")))
        .collect();
    let [a, b] = heats[..] else {
        return None;
    };
    let water_g = match water[..] {
        [] => None,
        [g] => Some(g),
        _ => return None,
    };
    let question = Question::Ice {
        water_g,
        tap_c: a.max(b),
        water_c: a.min(b),
    };
    Some(wanted(h, question, "g"))
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

pub(super) fn feed(h: &Heard) -> Option<Question> {
    let allowed = [
        "feed",
        "seed",
        "starter",
        "left",
        "dough",
        "piece",
        "double",
        "preferment",
    ];
    let numbers = |i: &Item| weights(i) || matches!(i, Item::Ratio(..));
    if !h.only(&allowed) || beside(h, numbers) || !h.any(&["feed", "starter", "seed"]) {
        return None;
    }
    let ratios: Vec<(f64, f64)> = h
        .items
        .iter()
        .filter_map(|i| {
            if let Item::Ratio(f, w) = i {
                Some((*f, *w))
            } else {
                None
            }
        })
        .collect();
    let [(flour, water)] = ratios[..] else {
        return None;
    };
    let grams = grams_of(h, |_| true);
    if grams.is_empty() || grams.len() != h.quantities.len() {
        return None;
    }
    let asked = h.asked();
    let asks_seed = h.has("seed") || (asked.is_empty() && h.has("~howmuch") && h.has("~want"));
    let first = match asked.first() {
        None if h.has("~total") && !asks_seed => Some(FeedPart::All),
        Some(&"water") => Some(FeedPart::Water),
        Some(_) => Some(FeedPart::Flour),
        None if asks_seed => Some(FeedPart::Seed),
        None => None,
    };
    // What is wanted is asked for, or made up of parts; what there is to feed is one number.
    // 'I want 300 grams of levain' tells what is to come of it; 'how much flour do I need' does not.
    let place = |tag: &str| {
        h.items
            .iter()
            .position(|i| matches!(i, Item::Tag(t) if *t == tag))
    };
    let told = place("~want").is_some_and(|want| {
        want < h.quantities[0].at && place("~howmuch").is_none_or(|asks| asks > want)
    });
    let wants = told || grams.len() > 1 || h.has("seed") || (h.has("~want") && asked.is_empty());
    let question = if wants {
        Question::Feed {
            seed_g: None,
            wanted_g: Some(grams.iter().sum()),
            flour,
            water,
            first,
        }
    } else {
        Question::Feed {
            seed_g: grams.first().copied(),
            wanted_g: None,
            flour,
            water,
            first,
        }
    };
    Some(wanted(h, question, "g"))
}

/// Flour and water in a starter, a preferment or a dough of flour and water alone.
pub(super) fn in_starter(h: &Heard) -> Option<Question> {
    let kinds = [
        "starter",
        "poolish",
        "biga",
        "sponge",
        "preferment",
        "dough",
    ];
    let mut allowed = kinds.to_vec();
    allowed.extend(["hydration", "percent", "parts"]);
    if !h.any(&kinds) || !h.only(&allowed) || beside(h, weights_and_percents) {
        return None;
    }
    let percent = match h.percents()[..] {
        [] if !h.has("dough") => own_hydration(h)?,
        [one] if !h.has("dough") || h.has("hydration") => one,
        _ => return None,
    };
    let [q] = plain_quantities(h)[..] else {
        return None;
    };
    // 'A poolish of 300 grams of flour' is another sum.
    let of_it = q.stuff.is_none() && q.noun.is_none_or(|n| kinds.contains(&n));
    let asked = h.asked();
    let water = match asked[..] {
        ["water"] => true,
        [flour] if is_flour(flour) => false,
        [a, b] if h.has("starter") => (a == "water") && is_flour(b),
        _ => return None,
    };
    if !of_it || h.has("dough") && !water {
        return None;
    }
    let question = Question::InStarter {
        starter_g: q.grams()?,
        percent,
        water,
    };
    Some(wanted(h, question, "g"))
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

pub(super) fn loss(h: &Heard) -> Option<Question> {
    if !h.has("loss")
        || !h.only(&["loss", "baked", "dough", "percent", "oven", "piece"])
        || beside(h, weights)
    {
        return None;
    }
    match grams_of(h, |_| true)[..] {
        // No dough loses half of itself.
        [a, b]
            if h.has("percent")
                && a != b
                && a.min(b) > a.max(b) / 2.0
                && h.quantities.len() == 2 =>
        {
            Some(Question::LossIs {
                dough_g: a.max(b),
                baked_g: a.min(b),
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

pub(super) fn self_raising(h: &Heard) -> Option<Question> {
    let plain = |q: &Quantity| q.stuff.is_none_or(is_flour);
    if !h.has("selfraising")
        || !h.only(&["selfraising", "percent", "swap", "raise"])
        || beside(h, weights_and_percents)
    {
        return None;
    }
    let [flour] = &h.quantities[..] else {
        return None;
    };
    let others = h
        .stuffs()
        .iter()
        .all(|s| is_flour(s) || *s == "baking powder" || s.contains("salt"));
    if !plain(flour) || !others {
        return None;
    }
    let flour_g = match flour.kind()? {
        Kind::Volume => flour.n * volume_grams(h, flour)?,
        _ => flour.grams()?,
    };
    match h.percents()[..] {
        [] => {
            // The American kind is called self rising and has salt in it.
            let american = h.said("rising") || h.stuffs().iter().any(|s| s.contains("salt"));
            let region = american
                .then_some(crate::measure::Region::Us)
                .or(h.region());
            Some(wanted(h, Question::SelfRaising { flour_g, region }, "g"))
        }
        [percent] => Some(wanted(
            h,
            Question::PercentOf {
                percent,
                grams: flour_g,
            },
            "g",
        )),
        _ => None,
    }
}

/// Grams of flour in one of a quantity's unit.
fn volume_grams(h: &Heard, q: &Quantity) -> Option<f64> {
    let unit = h.of_region(q.unit.as_deref()?);
    let unit = crate::measure::Unit::find(&unit, crate::measure::Region::Metric).ok()?;
    let row = ingredients().find(q.stuff.unwrap_or("plain flour"))?;
    Some(unit.size() * row.g_per_ml?)
}

/// 'What percent is 16 of 640', 'flour is 450, water is 315, hydration': the part is what is not flour, or the smaller.
pub(super) fn percent_is(h: &Heard) -> Option<Question> {
    let allowed = [
        "percent",
        "hydration",
        "dough",
        "sponge",
        "poolish",
        "biga",
        "starter",
        "preferment",
    ];
    let asks = h.any(&["percent", "hydration"]) && h.percents().is_empty();
    if !asks || !h.only(&allowed) || beside(h, weights) || h.quantities.len() != 2 {
        return None;
    }
    let [a, b] = &h.quantities[..] else {
        return None;
    };
    let (ga, gb) = (a.grams()?, b.grams()?);
    let flour = |q: &Quantity| q.stuff.is_some_and(is_flour);
    let (part_g, whole_g) = match (flour(a), flour(b)) {
        (true, false) => (gb, ga),
        (false, true) => (ga, gb),
        _ => {
            // 'Percent of 640 is 16' and 'percent is 16 of 640': what stands behind 'of' is the whole.
            let of = |q: &Quantity| q.at > 0 && matches!(h.items[q.at - 1], Item::Tag("~of"));
            match (of(a), of(b)) {
                (true, false) => (gb, ga),
                (false, true) => (ga, gb),
                _ => return None,
            }
        }
    };
    Some(Question::PercentIs { part_g, whole_g })
}

/// '20 grams of salt is 2 percent, how much flour', 'flour for 350 of water at 70 percent'.
pub(super) fn flour_for(h: &Heard) -> Option<Question> {
    if !h.only(&["hydration", "percent", "dough"]) || beside(h, weights_and_percents) {
        return None;
    }
    let asked = h.asked();
    let [q] = &h.quantities[..] else {
        return None;
    };
    let percent = one(&h.percents())?;
    let part = q.stuff.is_some_and(|s| !is_flour(s));
    let asks_flour = asked.len() == 1 && is_flour(asked[0]);
    if !part || !asks_flour || q.noun == Some("dough") {
        return None;
    }
    let question = Question::FlourFor {
        part_g: q.grams()?,
        percent,
    };
    Some(wanted(h, question, "g"))
}

/// Percent numbers with what they are of; water where nothing is named beside `hydration`.
fn named_shares(h: &Heard) -> Option<Vec<Share>> {
    let mut shares = Vec::new();
    let clause = |i: &Item| matches!(i, Item::Stop | Item::Tag("~and"));
    for (at, item) in h.items.iter().enumerate() {
        let percent = match item {
            Item::Percent(n) => *n,
            // 'Hydration 70': the word says that it is a percentage.
            Item::Number(n) if at > 0 && matches!(h.items[at - 1], Item::Tag("hydration")) => *n,
            _ => continue,
        };
        let name = |item: &Item| match item {
            Item::Stuff(name) if !is_flour(name) => Some(*name),
            Item::Tag("hydration") => Some("water"),
            _ => None,
        };
        let after = h.items[at + 1..]
            .iter()
            .take_while(|i| !clause(i))
            .take(2)
            .find_map(name);
        let before = h.items[..at]
            .iter()
            .rev()
            .take_while(|i| !clause(i))
            .take(2)
            .find_map(name);
        shares.push((after, before, percent));
    }
    // All are named the same way round.
    let all_after = shares.iter().all(|(after, _, _)| after.is_some());
    let lone = shares.len() == 1;
    shares
        .into_iter()
        .map(|(after, before, percent)| {
            let name = if all_after { after } else { before.or(after) };
            let name = name.or_else(|| lone.then_some("water"))?;
            Some(Share {
                name: name.into(),
                percent,
            })
        })
        .collect()
}

/// The numbers that are no percentages: those behind `hydration` are.
fn plain_quantities(h: &Heard) -> Vec<&Quantity> {
    h.quantities
        .iter()
        .filter(|q| {
            let level =
                q.unit.is_none() && q.at > 0 && matches!(h.items[q.at - 1], Item::Tag("hydration"));
            !level
        })
        .collect()
}

/// Dough from flour, and flour from dough, at one or several percentages.
pub(super) fn dough_sums(h: &Heard) -> Option<Question> {
    if !h.any(&["dough", "piece"])
        || !h.only(&["dough", "hydration", "percent", "piece"])
        || beside(h, weights_and_percents)
    {
        return None;
    }
    let shares = named_shares(h)?;
    if shares.is_empty() || (shares.len() > 1 && shares.iter().any(|s| s.name.is_empty())) {
        return None;
    }
    let quantities = plain_quantities(h);
    // 'Eight bagels of 110 grams': the dough of all of them.
    if let [count, each] = quantities[..]
        && count.noun == Some("piece")
        && count.unit.is_none()
        && each.mass().is_some()
        && h.asked().iter().any(|s| is_flour(s))
    {
        let question = Question::FlourInDough {
            dough_g: count.n * each.mass()?,
            shares,
        };
        return Some(wanted(h, question, "g"));
    }
    let [q] = quantities[..] else {
        return None;
    };
    let grams = q.mass().or_else(|| q.unit.is_none().then_some(q.n))?;
    let of_dough = q.noun == Some("dough")
        || h.items[..q.at]
            .iter()
            .rev()
            .take(2)
            .any(|i| matches!(i, Item::Tag("dough")));
    if q.stuff.is_some_and(is_flour) {
        let asked = h.asked();
        // 'How much water for a dough of 500 grams of flour at 70 percent'.
        if asked == ["water"] && !h.has("~weigh") && shares.len() == 1 {
            let question = Question::WaterForFlour {
                flour_g: Some(grams),
                percent: shares[0].percent,
            };
            return Some(wanted(h, question, "g"));
        }
        let question = Question::DoughMass {
            flour_g: Some(grams),
            shares,
        };
        return Some(wanted(h, question, "g"));
    }
    if of_dough && q.stuff.is_none() && flour_said(h) {
        let question = Question::FlourInDough {
            dough_g: grams,
            shares,
        };
        return Some(wanted(h, question, "g"));
    }
    None
}

/// The kinds of preferment, for what they hold without a word.
fn own_hydration(h: &Heard) -> Option<f64> {
    [
        ("poolish", Preferment::Poolish),
        ("biga", Preferment::Biga),
        ("sponge", Preferment::Sponge),
    ]
    .into_iter()
    .find(|(tag, _)| h.has(tag))
    .map(|(_, kind)| kind.hydration())
}

/// So many percent of a flour, of one thing or of several.
pub(super) fn shares(h: &Heard) -> Option<Question> {
    let allowed = [
        "hydration",
        "percent",
        "dough",
        "poolish",
        "biga",
        "sponge",
        "preferment",
        "formula",
        "piece",
        "starter",
    ];
    if !h.only(&allowed) || beside(h, weights_and_percents) {
        return None;
    }
    let quantities = plain_quantities(h);
    let [q] = quantities[..] else {
        return None;
    };
    let flour_g = q.mass().or_else(|| q.unit.is_none().then_some(q.n))?;
    let flour = q.stuff.is_none_or(is_flour);
    if !flour {
        return None;
    }
    let asked = h.asked();
    let percents = h.percents();
    // 'Poolish with 250 of flour, how much water'.
    if percents.is_empty() && plain_quantities(h).len() == h.quantities.len() {
        let percent = own_hydration(h)?;
        return (asked == ["water"] && q.stuff.is_some()).then(|| {
            wanted(
                h,
                Question::WaterForFlour {
                    flour_g: Some(flour_g),
                    percent,
                },
                "g",
            )
        });
    }
    let shares = named_shares(h)?;
    let split = h.any(&["poolish", "biga", "sponge", "preferment", "starter"]);
    match &shares[..] {
        // 30 percent of a kilo goes ahead; 'biga of 400 of flour at 55 percent, how much water'.
        [share] if split => {
            let of_water = asked == ["water"] && q.stuff.is_some();
            let question = if of_water {
                Question::WaterForFlour {
                    flour_g: Some(flour_g),
                    percent: share.percent,
                }
            } else {
                Question::PercentOf {
                    percent: share.percent,
                    grams: flour_g,
                }
            };
            let tells = of_water || asked.iter().all(|s| is_flour(s));
            tells.then(|| wanted(h, question, "g"))
        }
        [share] if share.name == "water" && q.stuff.is_some() => {
            let question = Question::WaterForFlour {
                flour_g: Some(flour_g),
                percent: share.percent,
            };
            let others = asked.iter().all(|s| *s == "water");
            let other_flour = h.stuffs().iter().filter(|s| is_flour(s)).count() > 1;
            (others && !other_flour && (h.has("hydration") || asked == ["water"]))
                .then(|| wanted(h, question, "g"))
                .or_else(|| {
                    (other_flour || asked.is_empty()).then(|| {
                        wanted(
                            h,
                            Question::PercentOf {
                                percent: share.percent,
                                grams: flour_g,
                            },
                            "g",
                        )
                    })
                })
        }
        [share] if asked.len() <= 1 => Some(wanted(
            h,
            Question::PercentOf {
                percent: share.percent,
                grams: flour_g,
            },
            "g",
        )),
        [_, ..] if q.stuff.is_some() => Some(wanted(
            h,
            Question::Shares {
                flour_g: Some(flour_g),
                shares,
            },
            "g",
        )),
        _ => None,
    }
}
