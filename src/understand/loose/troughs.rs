//! Sums of the dough trough in free words: every number must have its place, whatever else is said.

use super::fact::{Fact, What, is_flour};
use super::heard::Heard;
use super::heats::celsius;
use super::into::{on_scale, wanted};
use super::item::Item;
use crate::ask::{Question, Share};
use crate::dough::Preferment;
use crate::order::{FeedPart, UnitSymbol};

/// Doughs that go ahead.
const AHEAD: [&str; 5] = ["poolish", "biga", "sponge", "starter", "preferment"];

fn water_at(percent: f64) -> Vec<Share> {
    vec![Share {
        name: "water".into(),
        percent,
    }]
}

/// Is Fahrenheit meant? By a scale that is named, or by numbers that no kitchen has in Celsius.
fn in_fahrenheit(h: &Heard, heats: &[&Fact]) -> bool {
    let named = |s: &'static str| {
        h.scales().contains(&s) || heats.iter().any(|f| f.what == What::Heat(Some(s)))
    };
    named("f") || !named("c") && !heats.is_empty() && heats.iter().all(|f| f.n >= 45.0)
}

fn is_heat(f: &Fact) -> bool {
    matches!(f.what, What::Heat(_) | What::Bare)
}

/// What a piece says about whose heat a number is.
fn role(item: &Item) -> Option<&'static str> {
    match item {
        Item::Tag(t @ ("room" | "friction" | "tap")) => Some(*t),
        Item::Tag("~want" | "dough" | "final") => Some("dough"),
        Item::Tag("starter" | "poolish" | "biga" | "sponge" | "preferment") => Some("ahead"),
        Item::Stuff(name) if is_flour(name) => Some("flour"),
        Item::Stuff("water") => Some("water"),
        _ => None,
    }
}

/// Every heat with the word right beside it, before or behind; nothing where one has none.
fn heats_beside_roles<'a>(h: &Heard, heats: &[&'a Fact]) -> Option<Vec<(&'static str, &'a Fact)>> {
    let mut used: Vec<usize> = Vec::new();
    let mut out: Vec<(&'static str, &'a Fact)> = Vec::new();
    for fact in heats {
        let before = (0..fact.at)
            .rev()
            .find(|&i| h.items[i] != Item::Tag("~at") && h.items[i] != Item::Tag("~temp"));
        let place = [before, Some(fact.at + 1)]
            .into_iter()
            .flatten()
            .filter(|i| !used.contains(i))
            .find(|&i| h.items.get(i).and_then(role).is_some_and(|r| r != "water"))?;
        let name = role(&h.items[place])?;
        if out.iter().any(|(other, _)| *other == name) {
            return None;
        }
        used.push(place);
        out.push((name, *fact));
    }
    Some(out)
}

/// Every heat with whose it is: the nearest word before it in its clause, else behind it.
fn heats_with_roles<'a>(h: &Heard, heats: &[&'a Fact]) -> Option<Vec<(&'static str, &'a Fact)>> {
    if let Some(beside) = heats_beside_roles(h, heats) {
        return Some(beside);
    }
    let mut out: Vec<(&str, &Fact)> = Vec::new();
    let mut used: Vec<usize> = Vec::new();
    let stops = |i: usize| h.items[i] == Item::Stop || h.items[i].is_number();
    // All are named the same way round where the first number of the question is named before.
    let first = heats.first()?.at;
    let named_first = (0..first)
        .rev()
        .take_while(|&i| h.items[i] != Item::Stop)
        .any(|i| role(&h.items[i]).is_some_and(|r| r != "water"));
    for fact in heats {
        let before = (0..fact.at)
            .rev()
            .take_while(|&i| !stops(i))
            .filter(|i| !used.contains(i))
            .find(|&i| role(&h.items[i]).is_some());
        let after = (fact.at + 1..h.items.len())
            .take_while(|&i| !stops(i))
            .find(|&i| role(&h.items[i]).is_some());
        let place = if named_first {
            before.or(after)
        } else {
            after.or(before)
        }?;
        let mut name = role(&h.items[place])?;
        // 'Want the dough at', 'target dough temperature': one and the same; 'mixer friction' is no dough.
        if name == "water" {
            let other = (0..fact.at)
                .rev()
                .take_while(|&i| !stops(i))
                .find_map(|i| role(&h.items[i]).filter(|r| *r != "water"));
            name = other.unwrap_or("water");
        }
        used.push(place);
        out.push((name, *fact));
    }
    Some(out)
}

/// Water for a dough that is to be so warm.
pub(super) fn water_temperature(h: &Heard) -> Option<Question> {
    let heats: Vec<&Fact> = h.facts_of(is_heat);
    let tells = h.any(&["friction", "byhand"]) || h.any(&["room"]) && h.any(&["dough", "~want"]);
    if !tells || heats.len() < 2 || heats.len() != h.facts.len() || h.any(&["ice", "rise"]) {
        return None;
    }
    let f = in_fahrenheit(h, &heats);
    let mut found = heats_with_roles(h, &heats)?;
    let mut take = |name: &str| {
        let all: Vec<f64> = found
            .iter()
            .filter(|(r, _)| *r == name)
            .map(|(_, f)| f.n)
            .collect();
        found.retain(|(r, _)| *r != name);
        match all[..] {
            [] => Some(None),
            [n] => Some(Some(n)),
            _ => None,
        }
    };
    let scale = f.then_some("f");
    let c = |n: Option<f64>| n.map(|n| celsius(n, scale));
    let dough_c = c(take("dough")?);
    let room_c = c(take("room")?);
    let flour_c = c(take("flour")?);
    let preferment_c = c(take("ahead")?);
    let tap_c = c(take("tap")?);
    let friction = take("friction")?.map(|n| if f { n / 1.8 } else { n });
    let water_c = c(take("water")?);
    if !found.is_empty() {
        return None;
    }
    let friction_c = friction.or_else(|| h.has("byhand").then_some(0.0));
    // 'It came out at 27 with the water at 30': the friction is asked for.
    if let (Some(water_c), None) = (water_c, friction) {
        return Some(on_scale(
            scale,
            Question::Friction {
                dough_c: dough_c?,
                flour_c: flour_c?,
                room_c: room_c?,
                water_c,
                preferment_c,
            },
        ));
    }
    if dough_c.is_none() || room_c.is_none() && flour_c.is_none() || water_c.is_some() {
        return None;
    }
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

/// So much of the water as ice.
pub(super) fn ice(h: &Heard) -> Option<Question> {
    if !h.has("ice") || h.any(&["stage", "gelatine"]) {
        return None;
    }
    let mut water: Vec<&Fact> = h.facts_of(Fact::is_amount);
    let heats: Vec<&Fact> =
        h.facts_of(|f| is_heat(f) && f.n != 1.0 || matches!(f.what, What::Heat(_)));
    let all = water.len() + heats.len() == h.facts.len();
    // 'Ice included in the five kilos': what is said twice is one thing.
    water.dedup_by(|a, b| a.n == b.n && a.unit == b.unit);
    if water.len() > 1 || heats.len() != 2 || !all {
        return None;
    }
    let scale = in_fahrenheit(h, &heats).then_some("f");
    let (a, b) = (celsius(heats[0].n, scale), celsius(heats[1].n, scale));
    let water_g = match water[..] {
        [] => None,
        [one] => Some(
            Fact {
                stuff: None,
                ..one.clone()
            }
            .grams()?,
        ),
        _ => return None,
    };
    Some(wanted(
        h,
        Question::Ice {
            water_g,
            tap_c: a.max(b),
            water_c: a.min(b),
        },
        "g",
    ))
}

/// A rise with more or less yeast: so much less, so much longer.
fn with_other_yeast(h: &Heard) -> Option<Question> {
    let [time] = h.facts_of(|f| f.what == What::Time)[..] else {
        return None;
    };
    let others = h.facts_of(|f| f.what != What::Time);
    let factor = match others[..] {
        [part] if part.what == What::Bare && (0.2..1.0).contains(&part.n) => 1.0 / part.n,
        [] if h.says_any(&["double the yeast", "twice the yeast", "twice as much yeast"]) => 0.5,
        _ => return None,
    };
    let of_yeast = h.says_any(&[
        "# the yeast",
        "# of the yeast",
        "# as much yeast",
        "half the yeast",
        "half as much yeast",
        "half of the yeast",
    ]) || others.is_empty();
    (of_yeast && h.any(&["rise", "long", "dough"])).then_some(Question::Times {
        factor,
        number: time.n,
        unit: UnitSymbol::MINUTE,
    })
}

/// A rise in another room.
pub(super) fn rise(h: &Heard) -> Option<Question> {
    if let Some(question) = with_other_yeast(h) {
        return Some(question);
    }
    let times = h.facts_of(|f| f.what == What::Time);
    let heats: Vec<&Fact> = h.facts_of(is_heat);
    let rises = h.any(&["rise", "dough", "halves", "starter", "room", "long"]);
    if times.len() != 1
        || heats.len() != 2
        || h.facts.len() != 3
        || !rises
        || h.any(&["ice", "gas", "core"])
    {
        return None;
    }
    // 'It doubles each ten degrees' is another sum, and so is an oven.
    let scale = in_fahrenheit(h, &heats).then_some("f");
    let c = |f: &Fact| celsius(f.n, scale);
    if heats.iter().any(|f| !(-2.0..=50.0).contains(&c(f))) {
        return None;
    }
    let time = times[0];
    // The known time goes with the heat of its own clause, else with the nearest.
    let far = |f: &Fact| (f.clause != time.clause, f.at.abs_diff(time.at));
    let (known, asked) = if far(heats[0]) <= far(heats[1]) {
        (heats[0], heats[1])
    } else {
        (heats[1], heats[0])
    };
    Some(Question::RiseAt {
        room_c: c(asked),
        minutes: Some(time.n),
        at_c: Some(c(known)),
        halves_per_c: None,
    })
}

/// Feeding: parts of flour and water for one of starter.
pub(super) fn feed(h: &Heard) -> Option<Question> {
    let ratios = h.facts_of(|f| matches!(f.what, What::Ratio(_)));
    let amounts = h.facts_of(|f| f.is_amount() || f.what == What::Bare);
    let [
        Fact {
            n: water,
            what: What::Ratio(flour),
            ..
        },
    ] = ratios[..]
    else {
        return fed(h);
    };
    if !h.any(&["feed", "starter", "seed", "preferment"])
        || amounts.is_empty()
        || amounts.len() + 1 != h.facts.len()
    {
        return None;
    }
    let asks_seed = h.wants_first("seed")
        || h.says_any(&[
            "how much seed",
            "how much ripe",
            "how much old starter",
            "how much starter to begin",
            "how much starter and",
            "how much levain and",
        ])
        || h.wants_first("starter") && !h.has("~total");
    let asks_water = h.wants_first("water");
    let asks_flour =
        h.wants_first("flour") || !asks_water && h.apart().first().is_some_and(|s| is_flour(s));
    let first = if asks_seed {
        Some("seed")
    } else if asks_water {
        Some("water")
    } else if asks_flour {
        Some("flour")
    } else if h.has("~total")
        || h.says_any(&[
            "end up",
            "come to",
            "will i have",
            "do i get",
            "in the jar",
            "is there when",
            "is there then",
        ])
    {
        Some("all")
    } else {
        None
    };
    let grams: Vec<f64> = amounts
        .iter()
        .map(|f| f.grams_or_bare())
        .collect::<Option<_>>()?;
    // What is wanted is named before the number: 'I need 300 grams of levain'. Several numbers make it up.
    let place = amounts[0].at;
    let before = h.items[..place]
        .iter()
        .rev()
        .take_while(|i| **i != Item::Stop && !i.is_number());
    let told = before
        .clone()
        .any(|i| matches!(i, Item::Tag("~want" | "~total")))
        || h.says_any(&[
            "building", "to build", "build me", "i build", "build #", "making #",
        ]);
    let kept = amounts[0].of(&["seed"])
        || h.says_any(&[
            "i have",
            "i kept",
            "kept",
            "keep",
            "i've",
            "from",
            "leftover",
            "of starter kept",
            "feed",
            "feeding",
        ]) && !told;
    let wants = grams.len() > 1 || asks_seed || told || !kept && first.is_none() && h.has("~want");
    // Whether so much is there or is to come of it was not said.
    if !wants && !kept && !amounts[0].of(&["starter", "seed"]) {
        return None;
    }
    Some(wanted(
        h,
        Question::Feed {
            seed_g: (!wants).then(|| grams[0]),
            wanted_g: wants.then(|| grams.iter().sum()),
            flour: *flour,
            water: *water,
            first: first.map(|part| match part {
                "water" => FeedPart::Water,
                "flour" => FeedPart::Flour,
                "all" => FeedPart::All,
                _ => FeedPart::Seed,
            }),
        },
        "g",
    ))
}

/// A starter that was fed with so much flour and so much water: what there is of it then.
fn fed(h: &Heard) -> Option<Question> {
    let whole = h.has("~total")
        || h.says_any(&["end up", "will i have", "do i have", "do i get", "come to"]);
    let [a, b, c] = &h.facts[..] else {
        return None;
    };
    let find = |is: &dyn Fn(&Fact) -> bool| [a, b, c].into_iter().find(|f| is(f));
    let seed = find(&|f| f.of(&["starter", "seed"]))?.grams_or_bare()?;
    let flour = find(&|f| f.of_flour())?.grams_or_bare()?;
    let water = find(&|f| f.stuff == Some("water"))?.grams_or_bare()?;
    (whole && seed > 0.0 && !h.any(&["hydration", "percent"])).then(|| {
        wanted(
            h,
            Question::Feed {
                seed_g: Some(seed),
                wanted_g: None,
                flour: flour / seed,
                water: water / seed,
                first: Some(FeedPart::All),
            },
            "g",
        )
    })
}

/// The kind's own hydration, where one is named and no other is said.
fn own_hydration(h: &Heard) -> Option<f64> {
    [
        ("poolish", Preferment::Poolish.hydration()),
        ("biga", Preferment::Biga.hydration()),
        ("sponge", Preferment::Sponge.hydration()),
        ("starter", 100.0),
    ]
    .into_iter()
    .find(|(tag, _)| h.has(tag))
    .map(|(_, hydration)| hydration)
}

/// The same with grams where flour or water stand with a bare number.
fn in_grams(h: &Heard) -> Option<Heard> {
    let bare = h.facts_of(|f| f.what == What::Bare && (f.of_flour() || f.stuff == Some("water")));
    if bare.is_empty() {
        return None;
    }
    let mut items = h.items.clone();
    for fact in bare {
        items[fact.at] = Item::Amount(fact.n, "g".to_owned());
    }
    Some(h.with_items(items))
}

/// Flour that goes ahead, and its water.
pub(super) fn preferment(h: &Heard) -> Option<Question> {
    let weighed = in_grams(h);
    let h = weighed.as_ref().unwrap_or(h);
    let ahead =
        h.any(&AHEAD) || h.says_any(&["in advance", "goes ahead", "go ahead", "prefermented"]);
    let percents = h.facts_of(|f| f.what == What::Percent || f.of(&["hydration"]));
    let masses = h.facts_of(Fact::is_amount);
    // 'How much poolish is 250 of flour and 250 of water'.
    if let [a, b] = masses[..]
        && h.facts.len() == 2
        && (AHEAD.iter().any(|kind| h.wants_first(kind)) || h.wants().is_empty() && h.any(&AHEAD))
        && h.any(&["~howmuch", "~weigh", "~total"])
        && !h.any(&["hydration", "percent", "left", "final"])
    {
        let (flour, water) = if a.of_flour() { (a, b) } else { (b, a) };
        let flour_g = flour.of_flour().then(|| flour.grams()).flatten()?;
        let water_g = (water.stuff == Some("water"))
            .then(|| water.grams())
            .flatten()?;
        let question = Question::DoughMass {
            flour_g: Some(flour_g),
            shares: water_at(water_g / flour_g * 100.0),
        };
        return Some(wanted(h, question, "g"));
    }
    let [mass] = masses[..] else {
        return None;
    };
    if !ahead
        || percents.len() + 1 != h.facts.len()
        || percents.len() > 2
        || h.any(&["loss", "left", "raise"])
        // A sponge of butter and sugar is a cake.
        || h.apart().iter().any(|s| ["butter", "sugar", "egg"].iter().any(|of| s.contains(of)))
    {
        return None;
    }
    // A starter among the percentages of a dough is one of its parts.
    let of_dough = |f: &&Fact| f.stuff.is_some_and(|s| s != "water" && !is_flour(s));
    if percents.len() > 1
        && percents.iter().any(|f| f.of(&AHEAD))
        && (percents.iter().any(of_dough) || !percents.iter().any(|f| f.of(&["hydration"])))
    {
        return None;
    }
    let asks = |name: &str| h.asks_for(name);
    let names_part = h.wants().iter().any(|w| *w == "water" || is_flour(w));
    let of_kind = AHEAD.iter().any(|kind| h.wants_first(kind))
        && (h.has("~weigh") || h.any(&["~total", "~howmuch"]) && !names_part);
    let whole = (h.has("~total")
        || h.has("~weigh")
        || h.says_any(&["whole thing", "whole lot", "all of it"]))
        && !h.wants().iter().any(|w| *w == "water" || is_flour(w))
        || of_kind;
    // Flour and water in so much of it.
    if mass.stuff.is_none() && h.any(&AHEAD) && (mass.of(&AHEAD) || percents.len() < 2) {
        let percent = match percents[..] {
            [] => own_hydration(h)?,
            [one] if !one.of_flour() => one.n,
            _ => return None,
        };
        let flour = asks("flour") || h.apart().iter().any(|s| is_flour(s));
        let water = asks("water");
        return (flour || water).then(|| {
            wanted(
                h,
                Question::InStarter {
                    starter_g: mass.grams().unwrap_or_default(),
                    percent,
                    water: water
                        && !h.wants_first("flour")
                        && !h.asked_each().first().is_some_and(|s| is_flour(s)),
                },
                "g",
            )
        });
    }
    // 'A poolish with 400 grams of water, how much flour'.
    if mass.stuff == Some("water") && asks("flour") {
        let percent = match percents[..] {
            [] => own_hydration(h)?,
            [one] if one.stuff.is_none() || one.stuff == Some("water") => one.n,
            _ => return None,
        };
        let part_g = mass.grams()?;
        return Some(wanted(h, Question::FlourFor { part_g, percent }, "g"));
    }
    if mass.stuff.is_some_and(|s| !is_flour(s)) {
        return None;
    }
    let grams = mass.grams()?;
    let of_water = |f: &Fact| f.of(&["hydration"]) || f.stuff == Some("water");
    let hydration = percents.iter().find(|f| of_water(f)).map(|f| f.n);
    let others: Vec<&&Fact> = percents.iter().filter(|f| !of_water(f)).collect();
    let (share, hydration) = match (&others[..], hydration) {
        ([one], Some(hydration)) => (Some(one.n), hydration),
        // 'A biga at 45 percent, how much water': of water; '30 percent of the flour': of flour.
        ([one], None)
            if asks("water")
                && !one.of_flour()
                && !h.says_any(&["of the flour", "of my flour", "of flour in the"]) =>
        {
            (None, one.n)
        }
        // 'A sponge of 500 of flour at 60 percent, in all': no share is so large.
        ([one], None)
            if whole
                && one.n >= 45.0
                && h.items.get(one.at.wrapping_sub(1)) == Some(&Item::Tag("~at")) =>
        {
            (None, one.n)
        }
        ([one], None) => (Some(one.n), own_hydration(h).unwrap_or(100.0)),
        ([], Some(hydration)) => (None, hydration),
        ([], None) => (None, own_hydration(h)?),
        _ => return None,
    };
    let flour_g = grams * share.unwrap_or(100.0) / 100.0;
    let question = if asks("water") {
        Question::WaterForFlour {
            flour_g: Some(flour_g),
            percent: hydration,
        }
    } else if whole && !h.wants_first("flour") {
        Question::DoughMass {
            flour_g: Some(flour_g),
            shares: water_at(hydration),
        }
    } else {
        Question::PercentOf {
            percent: share?,
            grams,
        }
    };
    Some(wanted(h, question, "g"))
}

/// Water that is still to be added when some has gone ahead.
pub(super) fn water_left(h: &Heard) -> Option<Question> {
    let still = h.any(&["left", "final"])
        || h.says_any(&[
            "still",
            "on the day",
            "rest of the water",
            "to add",
            "already",
            "goes in",
            "go in",
            "more water",
            "more flour",
            "left to add",
            "rest",
            "the rest",
            "remaining",
            "what remains",
        ]);
    // Only water is spoken of: 'what is left to pour in'.
    let of_water = !h.stuffs().is_empty() && h.stuffs().iter().all(|s| *s == "water");
    let asked = if h.asks_for("water") {
        "water"
    } else if h.asks_for("flour") {
        "flour"
    } else if of_water {
        "water"
    } else {
        return None;
    };
    if !h.any(&AHEAD) || !still {
        return None;
    }
    let behind = |f: &Fact, tags: [&'static str; 2]| {
        tags.iter()
            .enumerate()
            .all(|(i, tag)| h.items.get(f.at + 1 + i) == Some(&Item::Tag(tag)))
    };
    // '200 of that is in the levain', 'my sponge took 360'.
    let of_that = |f: &Fact| {
        of_water
            && f.stuff.is_none()
            && (behind(f, ["~of", "~in"])
                || (f.what == What::Bare || f.is_amount() && f.noun.is_none())
                    && h.clause_of(f)
                        .iter()
                        .any(|i| matches!(i, Item::Tag(tag) if AHEAD.contains(tag))))
    };
    // '250 of each': so much flour and so much water.
    let of_each = |f: &Fact| f.stuff.is_none() && behind(f, ["~of", "~each"]);
    let amount = |f: &Fact| f.is_amount() || f.what == What::Bare;
    let flours = h.facts_of(|f| amount(f) && (f.of_flour() || of_each(f)));
    let waters =
        h.facts_of(|f| amount(f) && (f.stuff == Some("water") || of_that(f) || of_each(f)));
    let doughs = h.facts_of(|f| f.is_amount() && f.of(&AHEAD) && f.stuff.is_none() && !of_that(f));
    let levels = h.facts_of(|f| f.what == What::Percent);
    let each = h.facts_of(|f| amount(f) && of_each(f)).len();
    if flours.len() + waters.len() + doughs.len() + levels.len() != h.facts.len() + each {
        return None;
    }
    let most = |facts: &[&Fact]| {
        facts
            .iter()
            .filter_map(|f| f.grams_or_bare())
            .fold(0.0, f64::max)
    };
    let least = |facts: &[&Fact]| {
        facts
            .iter()
            .filter_map(|f| f.grams_or_bare())
            .fold(f64::INFINITY, f64::min)
    };
    let flour_g = most(&flours);
    let (water_g, ahead_water_g, ahead_flour_g) = match (&waters[..], &doughs[..], &levels[..]) {
        ([_, _], [], []) => (
            most(&waters),
            least(&waters),
            if flours.len() == 2 {
                least(&flours)
            } else {
                0.0
            },
        ),
        ([one], [], [level]) if flour_g > 0.0 => {
            (flour_g * level.n / 100.0, one.grams_or_bare()?, 0.0)
        }
        ([one], [dough], levels) => {
            let hydration = match levels {
                [] => own_hydration(h)?,
                [level] => level.n,
                _ => return None,
            };
            let flour = dough.grams()? * 100.0 / (100.0 + hydration);
            (one.grams_or_bare()?, dough.grams()? - flour, flour)
        }
        ([], [dough], []) if flour_g > 0.0 && asked == "flour" => {
            let flour = dough.grams()? * 100.0 / (100.0 + own_hydration(h)?);
            (dough.grams()? - flour, dough.grams()? - flour, flour)
        }
        ([], [dough], [level]) if flour_g > 0.0 => {
            let flour = dough.grams()? * 100.0 / (100.0 + own_hydration(h)?);
            (flour_g * level.n / 100.0, dough.grams()? - flour, flour)
        }
        _ => return None,
    };
    let of = Question::FinalDough {
        flour_g: flour_g.max(ahead_flour_g),
        water_g,
        ahead_flour_g,
        ahead_water_g,
    };
    Some(wanted(h, only(of, asked), "g"))
}

/// One part of an answer that has several.
fn only(of: Question, name: &str) -> Question {
    Question::Part {
        of: Box::new(of),
        name: name.into(),
    }
}

/// Dough and what comes out of the oven.
pub(super) fn baked(h: &Heard) -> Option<Question> {
    let percents = h.facts_of(|f| f.what == What::Percent);
    let masses = h.facts_of(|f| f.what == What::Mass);
    let counts = h.facts_of(|f| f.what == What::Bare);
    if masses.len() + percents.len() + counts.len() != h.facts.len() || !h.stuffs().is_empty() {
        return None;
    }
    let lost = h.has("loss")
        || h.says_any(&[
            "came out",
            "comes out",
            "went in",
            "goes in",
            "shrinks",
            "evaporates",
        ]);
    let after = h.has("baked")
        || h.says_any(&[
            "after the oven",
            "out of the oven",
            "finished",
            "end up",
            "ends up",
        ]);
    let bench = h.says_any(&["bench loss", "extra", "waste", "scrap", "trimming", "allow"]);
    // 'Went in at 1050, came out at 910': what share was lost.
    if let [a, b] = &h.facts[..]
        && !masses.is_empty()
        && percents.is_empty()
        && lost
        && (h.has("percent") || h.has("loss"))
    {
        // '1.2 kilos went in, 1.05 came out': the same unit.
        let unit = |f: &Fact, other: &Fact| Fact {
            what: What::Mass,
            unit: f.unit.clone().or(other.unit.clone()),
            ..f.clone()
        };
        let (first, between) = (a.at, &h.items[a.at + 1..b.at]);
        let (a, b) = (unit(a, b).grams()?, unit(b, a).grams()?);
        // 'It lost 90 of 720'.
        let lost = first > 0 && h.items[first - 1] == Item::Tag("loss");
        if lost && between == [Item::Tag("~of")] && a < b / 2.0 {
            return Some(Question::LossIs {
                dough_g: b,
                baked_g: b - a,
            });
        }
        let (dough_g, baked_g) = (a.max(b), a.min(b));
        // No dough loses half of itself.
        return (a != b && baked_g > dough_g / 2.0)
            .then_some(Question::LossIs { dough_g, baked_g });
    }
    let ([mass], [percent]) = (&masses[..], &percents[..]) else {
        return None;
    };
    let known = lost || bench || after && h.any(&["dough", "oven"]);
    if !known || percent.n >= 60.0 {
        return None;
    }
    let counts: Vec<&&Fact> = counts.iter().filter(|f| f.n > 1.0).collect();
    let count = match counts[..] {
        [] => 1.0,
        [one] if one.n.fract() == 0.0 && h.has("piece") => one.n,
        _ => return None,
    };
    let grams = mass.grams()? * count;
    // So much more is made for what stays on the bench.
    if bench && !h.any(&["baked", "oven"]) {
        let on_top = h.says_any(&["extra", "more", "on top", "plus", "add"]);
        let question = if on_top {
            Question::Times {
                factor: 1.0 + percent.n / 100.0,
                number: grams,
                unit: UnitSymbol::GRAM,
            }
        } else {
            Question::DoughFor {
                baked_g: grams,
                loss_percent: Some(percent.n),
            }
        };
        return Some(wanted(h, question, "g"));
    }
    // Which of the two is known: the dough where the number is of dough, the loaf where it is of what is baked.
    let near = |from: usize, to: usize| {
        h.items[from..to]
            .iter()
            .any(|i| matches!(i, Item::Tag("baked")))
    };
    let stop = |i: &Item| *i == Item::Stop;
    let clause_end = h.items[mass.at..]
        .iter()
        .position(stop)
        .map_or(h.items.len(), |p| mass.at + p);
    let dough_asked = h.wants().contains(&"dough")
        || h.says_any(&[
            "what do i scale",
            "in the tin",
            "into the tin",
            "scale at",
            "scale to",
            "scale them at",
            "scale them to",
            "dough needed",
            "scale the dough",
            "scale it at",
            "do i scale",
            "scaling weight",
            "dough weight",
            "raw weight",
            "how much dough",
            "weigh raw",
            "weight of dough",
            "weigh out",
            "before baking",
            "before it goes in",
            "do i need to scale",
            "should i scale",
            "go in at",
            "dough must i",
            "dough do i",
            "of dough",
            "dough piece",
        ]) && !mass.of(&["dough"]);
    let of_baked = mass.of(&["baked"])
        || near(mass.at, clause_end.min(mass.at + 5)) && !mass.of(&["dough"])
        || h.says_any(&[
            "finished loaf of",
            "end up with",
            "want a",
            "want an",
            "to get a",
            "to get an",
            "i want",
            "need a",
        ]);
    let baked_asked = h
        .wants()
        .iter()
        .any(|w| *w == "baked" || *w == "piece" || *w == "oven")
        || h.says_any(&[
            "finished weight",
            "final weight",
            "baked weight",
            "loaf weight",
            "end weight",
            "weigh baked",
            "come out",
            "weigh after",
        ]);
    let dough_known = mass.of(&["dough"]) || h.says_any(&["g dough", "of dough"]) && !dough_asked;
    let question = match (dough_asked && !dough_known, baked_asked || dough_known) {
        (true, _) => Question::DoughFor {
            baked_g: grams,
            loss_percent: Some(percent.n),
        },
        (false, true) => Question::BakedMass {
            dough_g: Some(grams),
            loss_percent: Some(percent.n),
        },
        (false, false) if of_baked && h.has("dough") => Question::DoughFor {
            baked_g: grams,
            loss_percent: Some(percent.n),
        },
        _ => return None,
    };
    Some(wanted(h, question, "g"))
}

/// Dough and its pieces.
pub(super) fn pieces(h: &Heard) -> Option<Question> {
    let masses = h.facts_of(|f| f.what == What::Mass);
    let counts = h.facts_of(|f| f.what == What::Bare);
    let portions = h.says_any(&["portions", "servings"]);
    let known_stuff = portions || h.stuffs().iter().all(|s| ["water", "flour"].contains(s));
    if masses.len() + counts.len() != h.facts.len()
        || !known_stuff
        || h.any(&["loss", "gelatine", "leaf"])
        || !portions && h.has("people")
    {
        return None;
    }
    let counted = portions || h.any(&["piece", "divide", "dough"]);
    match (&masses[..], &counts[..]) {
        ([a, b], []) if counted && (h.has("~howmany") || h.says_any(&["how many"])) => {
            let (a, b) = (a.grams()?, b.grams()?);
            (h.unit().is_none() || h.has("piece")).then_some(Question::PiecesFrom {
                dough_g: Some(a.max(b)),
                each_g: a.min(b),
            })
        }
        // 'If every ball is 250, how many from two kilos': the bare number is of grams.
        ([mass], [each]) if h.has("~howmany") && h.unit().is_none() => {
            (counted && h.has("~each") && each.n >= 10.0).then_some(Question::PiecesFrom {
                dough_g: Some(mass.grams()?),
                each_g: each.n,
            })
        }
        ([mass], [count])
            if counted
                && count.n > 0.0
                && count.n.fract() == 0.0
                && !h.wants().contains(&"piece") =>
        {
            // Shared out, or added up: by the words, else by which of them is the dough.
            let shared = h.has("divide")
                || h.says_any(&[
                    "into",
                    "split",
                    "each one weigh",
                    "each piece",
                    "per piece",
                    "each roll weigh",
                    "how heavy is each",
                    "each weigh",
                ])
                || mass.of(&["dough"]) && h.has("~each");
            let added = !shared && (h.says_any(&["each", "apiece", "at", "of"]) || h.has("~total"));
            let factor = match (shared, added) {
                (true, _) => 1.0 / count.n,
                (false, true) => count.n,
                _ => return None,
            };
            let unit = mass.unit.clone()?;
            let question = Question::Times {
                factor,
                number: mass.n,
                unit: unit.parse().ok()?,
            };
            let asks = h.any(&[
                "~howmuch", "~total", "~weigh", "dough", "divide", "~each", "~which",
            ]);
            asks.then(|| wanted(h, question, &unit))
        }
        _ => None,
    }
}

/// A formula in parts of a hundred: 'flour 100, water 64, salt 2', with its numbers as the percentages that they are.
fn in_percents(h: &Heard) -> Option<Heard> {
    let bare = |f: &Fact| f.what == What::Bare && f.stuff.is_some();
    let hundred = h
        .facts
        .iter()
        .find(|f| bare(f) && f.of_flour() && f.n == 100.0);
    let named = h.facts_of(|f| bare(f) && !f.of_flour());
    let said = h.says_any(&[
        "all percent",
        "all in percent",
        "all percents",
        "in percent",
    ]);
    if named.is_empty() || h.facts_of(Fact::of_flour).len() > 1 || hundred.is_none() && !said {
        return None;
    }
    let mut items = h.items.clone();
    for fact in &named {
        items[fact.at] = Item::Percent(fact.n);
    }
    if let Some(hundred) = hundred {
        items[hundred.at] = Item::Tag("~of");
    }
    Some(h.with_items(items))
}

/// What a percentage is of: water where only the hydration is named.
fn share_of(f: &Fact) -> Option<&'static str> {
    match (f.stuff, f.noun) {
        (Some(name), _) => Some(name),
        (None, Some("hydration")) => Some("water"),
        (None, Some("egg")) => Some("egg"),
        (None, Some("~oil")) => Some("oil"),
        (None, Some(noun)) => AHEAD.into_iter().find(|kind| *kind == noun),
        _ => None,
    }
}

/// Baker's percentages, brines and the like.
pub(super) fn shares(h: &Heard) -> Option<Question> {
    let as_percents = in_percents(h);
    let h = as_percents.as_ref().unwrap_or(h);
    let level = |f: &Fact| f.what == What::Percent || f.what == What::Bare && f.of(&["hydration"]);
    let percents = h.facts_of(level);
    // '250 of flour': a number without a unit is of grams where its thing is named.
    let weighed =
        |f: &Fact| f.is_amount() || f.what == What::Bare && !level(f) && f.stuff.is_some();
    let masses: Vec<Fact> = h
        .facts_of(weighed)
        .into_iter()
        .map(|f| match f.unit {
            None => Fact {
                what: What::Mass,
                unit: Some("g".to_owned()),
                ..f.clone()
            },
            Some(_) => f.clone(),
        })
        .collect();
    let counts = h.facts_of(|f| f.what == What::Bare && !level(f) && !weighed(f));
    if masses.is_empty() || percents.len() + masses.len() + counts.len() != h.facts.len() {
        return None;
    }
    if h.any(&["gelatine", "raise", "feed"])
        || h.has("egg") && percents.is_empty()
        || h.says_any(&["from # to #", "from # percent to"])
    {
        return None;
    }
    let flours: Vec<&Fact> = masses.iter().filter(|f| f.of_flour()).collect();
    let others: Vec<&Fact> = masses.iter().filter(|f| !f.of_flour()).collect();
    let sum = |facts: &[&Fact]| facts.iter().map(|f| f.grams()).sum::<Option<f64>>();
    // 'Of flour 250 in the sponge and 1250 in the whole, what percent went ahead'.
    if let (true, [one], [other]) = (percents.is_empty(), &masses[..], &counts[..])
        && one.of_flour()
        && h.any(&AHEAD)
        && h.has("percent")
        && one.grams()? < other.n
    {
        return Some(Question::PercentIs {
            part_g: one.grams()?,
            whole_g: other.n,
        });
    }
    if percents.is_empty() {
        return counts
            .is_empty()
            .then(|| percent_is(h, &flours, &others))
            .flatten();
    }
    let asked = h.apart();
    let wants = h.wants();
    let asks = |name: &str| h.asks_for(name);
    let asks_flour = wants.first().is_some_and(|w| is_flour(w))
        || wants.is_empty() && asked.len() == 1 && is_flour(asked[0]);
    let named: Vec<(Option<&'static str>, f64)> =
        percents.iter().map(|f| (share_of(f), f.n)).collect();
    let list = || -> Option<Vec<Share>> {
        let lone = named.len() == 1;
        // 'Salt and yeast for five kilos of flour, 2 and 0.8 percent': the names stand apart, in the same order.
        let names: Vec<&str> = asked.iter().copied().filter(|s| !is_flour(s)).collect();
        if named.len() > 1 && names.len() == named.len() && named.iter().all(|(n, _)| n.is_none()) {
            return Some(
                names
                    .into_iter()
                    .zip(&named)
                    .map(|(name, (_, percent))| Share {
                        name: name.into(),
                        percent: *percent,
                    })
                    .collect(),
            );
        }
        named
            .iter()
            .map(|(name, percent)| {
                let name = name.filter(|n| !is_flour(n)).or((lone
                    && (h.any(&["hydration", "dough"]) || asked.contains(&"water")))
                .then_some("water"))?;
                Some(Share {
                    name: name.into(),
                    percent: *percent,
                })
            })
            .collect()
    };
    // A dough of so much, or of so many pieces: the flour in it, or what else is asked for.
    let dough_g = match (&others[..], &counts[..], flours.is_empty()) {
        ([dough], [], true)
            if dough.stuff.is_none() && (dough.of(&["dough", "piece"]) || h.has("dough")) =>
        {
            dough.grams()
        }
        ([each], [count], true)
            if each.stuff.is_none() && count.n.fract() == 0.0 && h.has("piece") =>
        {
            Some(each.grams()? * count.n)
        }
        _ => None,
    };
    if let Some(dough_g) = dough_g {
        let shares = list()?;
        let question = Question::FlourInDough {
            dough_g,
            shares: shares.clone(),
        };
        let part = wants
            .iter()
            .copied()
            .find(|w| shares.iter().any(|s| s.name == *w));
        // 'How much flour and how much water': both are told.
        let both = h.asked_each().len() > 1;
        let question = match part {
            Some(name) if !asks_flour && !both => only(question, name),
            _ => question,
        };
        let tells = asks_flour
            || part.is_some()
            || asked.iter().any(|s| is_flour(s))
            || h.says_any(&["each", "how much of each", "work out"]);
        return tells.then(|| wanted(h, question, "g"));
    }
    if !counts.is_empty() {
        return None;
    }
    if !flours.is_empty() {
        // What is known beside the flour would be left out.
        if !others.is_empty() {
            return None;
        }
        let flour_g = sum(&flours)?;
        let whole = h.says_any(&[
            "all the dough",
            "whole dough",
            "dough weigh",
            "dough weight",
            "weight of dough",
            "total dough",
            "how much dough",
            "dough in total",
            "dough will",
            "dough does",
            "dough do",
            "dough is",
        ]) || named.len() > 1
            && wants.iter().all(|w| ["dough", "piece"].contains(w))
            && h.says_any(&[
                "the lot",
                "the whole lot",
                "everything",
                "all of it",
                "the whole thing",
                "whole batch",
                "lot weigh",
                "it weigh",
                "that weigh",
                "this weigh",
                "total weight",
                "weight in total",
                "weigh in all",
            ])
            || wants.first() == Some(&"dough") && named.len() > 1
            || h.has("~total") && h.has("dough") && wants.first() != Some(&"water")
            || named.len() > 1
                && asked.is_empty()
                && (h.has("~total") || h.says_any(&["make", "come to", "add up to"]));
        if whole {
            return Some(wanted(
                h,
                Question::DoughMass {
                    flour_g: Some(flour_g),
                    shares: list()?,
                },
                "g",
            ));
        }
        let question = match named[..] {
            [(name, percent)] => {
                let name = name.filter(|n| !is_flour(n)).or_else(|| {
                    wants
                        .iter()
                        .copied()
                        .find(|w| !is_flour(w))
                        .or(asked.first().copied())
                });
                let water = name == Some("water")
                    || name == Some("hydration")
                    || name.is_none() && h.has("hydration");
                if water && !wants.first().is_some_and(|w| is_flour(w)) {
                    Question::WaterForFlour {
                        flour_g: Some(flour_g),
                        percent,
                    }
                } else {
                    Question::PercentOf {
                        percent,
                        grams: flour_g,
                    }
                }
            }
            _ => {
                let all = list()?;
                // One of several is asked for by its name.
                let one = match wants[..] {
                    [name] => all
                        .iter()
                        .find(|s| s.name == name || name == "hydration" && s.name == "water"),
                    _ => None,
                };
                match one {
                    Some(share) if share.name == "water" => Question::WaterForFlour {
                        flour_g: Some(flour_g),
                        percent: share.percent,
                    },
                    Some(share) => Question::PercentOf {
                        percent: share.percent,
                        grams: flour_g,
                    },
                    None => Question::Shares {
                        flour_g: Some(flour_g),
                        shares: all,
                    },
                }
            }
        };
        return Some(wanted(h, question, "g"));
    }
    // No flour is given: it is asked for, or the percentage is of what is given.
    let [(name, percent)] = named[..] else {
        return None;
    };
    // 'How much flour is in 150 grams of it at 50 percent hydration'.
    let inside = h.has("~inside")
        || h.says_any(&[
            "of it", "in it", "in that", "hiding", "of which", "is in", "are in",
        ]);
    if let [it] = others[..]
        && it.stuff.is_none()
        && name == Some("water")
        && (asks_flour || inside && asks("water"))
    {
        return Some(wanted(
            h,
            Question::InStarter {
                starter_g: it.grams()?,
                percent,
                water: !asks_flour,
            },
            "g",
        ));
    }
    if asks_flour && let [part] = others[..] {
        let same = name.is_none() || name == part.stuff || name == Some("water");
        return (part.stuff.is_some() && same)
            .then(|| part.grams())
            .flatten()
            .map(|part_g| wanted(h, Question::FlourFor { part_g, percent }, "g"));
    }
    let salted = asks("salt")
        || name.is_some_and(|n| n.contains("salt"))
        || h.says_any(&["brine", "salt", "cure"]);
    let of_it = h.says_any(&["percent of", "percent of the", "percentage of"]);
    if salted
        && others
            .iter()
            .all(|f| f.stuff.is_none_or(|s| !s.contains("salt")))
        || of_it && others.len() == 1
        || name.is_some() && others.len() == 1 && others[0].stuff != name
    {
        let grams = others
            .iter()
            .map(|f| {
                f.grams()
                    .or_else(|| (f.what == What::Volume).then(|| f.level()))
            })
            .sum::<Option<f64>>()?;
        return Some(wanted(h, Question::PercentOf { percent, grams }, "g"));
    }
    None
}

/// What percent one weight is of another, and what hydration a dough has.
fn percent_is(h: &Heard, flours: &[&Fact], others: &[&Fact]) -> Option<Question> {
    if !h.any(&["percent", "hydration"]) {
        return None;
    }
    let grams = |facts: &[&Fact]| facts.iter().map(|f| f.grams()).sum::<Option<f64>>();
    let starters: Vec<&Fact> = others
        .iter()
        .copied()
        .filter(|f| f.of(&["starter"]))
        .collect();
    let rest: Vec<&Fact> = others
        .iter()
        .copied()
        .filter(|f| !f.of(&["starter"]))
        .collect();
    let seasons = |f: &Fact| {
        f.stuff
            .is_some_and(|s| s.contains("salt") || s.contains("sugar") || s.contains("yeast"))
    };
    if let ([], [a, b]) = (flours, others) {
        let (part, whole) = match (seasons(a), seasons(b)) {
            (true, false) => (a, b),
            (false, true) => (b, a),
            _ => return None,
        };
        return Some(Question::PercentIs {
            part_g: part.grams()?,
            whole_g: whole.grams()?,
        });
    }
    // '100 grams of rye in 400 of flour, what percent is rye': of all of it, or of both together.
    if let ([a, b], []) = (flours, others)
        && h.has("percent")
        && a.stuff != b.stuff
        && let Some(part) = [a, b]
            .into_iter()
            .find(|f| h.wants().last() == f.stuff.as_ref())
        && !h.any(&AHEAD)
    {
        let other = if std::ptr::eq(part, a) { b } else { a };
        let (part_g, other_g) = (part.grams()?, other.grams()?);
        let (first, last) = (a.at.min(b.at), a.at.max(b.at));
        let inside = h.has("~total")
            || h.items[first..last]
                .iter()
                .any(|i| matches!(i, Item::Tag("~in" | "~inside" | "~from")));
        let whole_g = if inside { other_g } else { part_g + other_g };
        return (part_g < whole_g).then_some(Question::PercentIs { part_g, whole_g });
    }
    // Of two flours, one went ahead: it is the part.
    if let ([a, b], []) = (flours, others)
        && h.any(&AHEAD)
    {
        let (a, b) = (a.grams()?, b.grams()?);
        return (a != b).then_some(Question::PercentIs {
            part_g: a.min(b),
            whole_g: a.max(b),
        });
    }
    if flours.is_empty() {
        return None;
    }
    let whole_g = grams(flours)?;
    let hydration = h.has("hydration");
    let part: Vec<&Fact> = if hydration {
        rest.iter()
            .copied()
            .filter(|f| f.stuff == Some("water") || f.stuff.is_none())
            .collect()
    } else {
        let wants = h.wants();
        let named: Vec<&Fact> = rest
            .iter()
            .copied()
            .filter(|f| f.stuff.is_some_and(|s| wants.contains(&s)))
            .collect();
        if named.len() == 1 {
            named
        } else {
            rest.clone()
        }
    };
    let [part] = part[..] else {
        return None;
    };
    // Milk and eggs are wet as well, by a share that is not reckoned here.
    let wet = [
        "milk", "egg", "cream", "yoghurt", "yogurt", "juice", "beer", "pumpkin", "potato", "banana",
    ];
    if hydration
        && rest
            .iter()
            .any(|f| f.stuff.is_some_and(|s| wet.iter().any(|w| s.contains(w))))
    {
        return None;
    }
    match starters[..] {
        [] => Some(Question::PercentIs {
            part_g: part.grams()?,
            whole_g,
        }),
        [one] if hydration => Some(Question::HydrationOf {
            flour_g: whole_g,
            water_g: part.grams()?,
            starter_g: one.grams()?,
            starter_percent: 100.0,
        }),
        _ => None,
    }
}
