//! What is lost and what is left of it, strengths that are made weaker or stronger, and amounts that are added up.

use super::fact::{Fact, What};
use super::heard::Heard;
use super::into::wanted;
use super::item::Item;
use crate::ask::{Question, Share};
use crate::measure::{Kind, Region, Unit};
use crate::order::UnitSymbol;

/// What is made ahead of a dough.
const AHEAD: [&str; 5] = ["poolish", "biga", "sponge", "starter", "preferment"];

/// So much of `amount` as `wanted` is of `base`.
fn of_it(h: &Heard, amount: &Fact, base: f64, goal: f64, what: Option<&str>) -> Option<Question> {
    let unit = amount.unit.clone()?;
    let question = Question::RuleOfThree {
        amount: amount.n,
        unit: unit.parse().ok()?,
        base,
        wanted: goal,
        what: what.map(Into::into),
    };
    (base > 0.0 && goal >= 0.0).then(|| wanted(h, question, &unit))
}

/// Is it a question of dough or of what is baked of it?
fn of_dough(h: &Heard) -> bool {
    h.any(&["dough", "hydration", "baked", "feed"]) || h.any(&AHEAD)
}

/// 'I lose 18 percent peeling and need 4 kilos peeled, what do I buy', '58 percent of the leg comes off as meat'.
pub(super) fn bought(h: &Heard) -> Option<Question> {
    let shares = h.facts_of(|f| f.what == What::Percent);
    let [share] = shares[..] else { return None };
    let begins = |with: &str| h.words.iter().any(|w| w.starts_with(with));
    let kept = begins("yield")
        || h.says_any(&[
            "comes off as",
            "come off as",
            "comes out as",
            "usable",
            "is usable",
            "i get back",
            "edible",
            "of it is meat",
            "is meat",
            "is edible",
            "ends up as",
            "makes it to the plate",
        ]);
    let lost = h.has("loss")
        || ["peel", "trim", "wast", "shrink", "bone", "gut"]
            .iter()
            .any(|with| begins(with));
    if !(kept || lost) || of_dough(h) || !(0.0..100.0).contains(&share.n) {
        return None;
    }
    let keep = if kept { share.n } else { 100.0 - share.n };
    let buys = h.says_any(&[
        "buy",
        "order",
        "purchase",
        "start with",
        "start from",
        "get in",
        "do i peel",
        "to peel",
        "should i peel",
        "untrimmed",
        "unpeeled",
        "raw weight",
        "before peeling",
        "before trimming",
        "raw do i",
        "bring in",
        "must i take",
        "do i need to take",
        "whole fish",
    ]);
    let gets = h.any(&["left"])
        || h.says_any(&[
            "do i get",
            "will i get",
            "do i have",
            "will i have",
            "end up with",
            "do we get",
            "usable",
            "comes off",
            "how many full plates",
            "after trimming",
            "after peeling",
            "once peeled",
            "once trimmed",
            "cooked weight",
            "how many plates",
            "how many portions",
            "does that give",
            "does it give",
            "feed",
        ]);
    let masses = h.facts_of(|f| f.what == What::Mass);
    let counts = h.facts_of(|f| f.what == What::Bare && f.n != 1.0);
    let idle = h.facts_of(|f| f.what == What::Bare && f.n == 1.0).len();
    if masses.len() + counts.len() + 1 + idle != h.facts.len() {
        return None;
    }
    match (&masses[..], &counts[..]) {
        ([one], []) if buys => of_it(h, one, keep, 100.0, one.stuff),
        ([one], []) if gets => of_it(h, one, 100.0, keep, one.stuff),
        // 'At 180 grams a plate how many plates'.
        ([a, b], []) if h.has("~howmany") && !buys => {
            let (a, b) = (a.grams()?, b.grams()?);
            Some(Question::PiecesFrom {
                dough_g: Some(a.max(b) * keep / 100.0),
                each_g: a.min(b),
            })
        }
        // 'For 60 at 150 grams each, what do I buy'.
        ([each], [count]) if buys && count.n.fract() == 0.0 => {
            let all = Fact {
                n: each.n * count.n,
                ..(*each).clone()
            };
            of_it(h, &all, keep, 100.0, each.stuff)
        }
        _ => None,
    }
}

/// 'An eight percent brine by total weight, with four litres of water': the salt is a share of both together.
pub(super) fn brine(h: &Heard) -> Option<Question> {
    let shares = h.facts_of(|f| f.what == What::Percent);
    let waters = h.facts_of(Fact::is_amount);
    let ([share], [water]) = (&shares[..], &waters[..]) else {
        return None;
    };
    let by_total = h.says_any(&[
        "total weight",
        "by total",
        "of the total",
        "finished brine",
        "of the finished",
        "weight of the brine",
        "of the whole brine",
        "total brine",
    ]);
    let of_water = matches!(water.stuff, None | Some("water"));
    if h.facts.len() != 2 || !by_total || !of_water || of_dough(h) || share.n >= 40.0 {
        return None;
    }
    let salt = h.asks_for("salt") || h.words.iter().any(|w| w.starts_with("salt"));
    let grams = Fact {
        n: water.grams()?,
        unit: Some("g".to_owned()),
        ..(*water).clone()
    };
    (salt && !h.wants_first("water"))
        .then(|| of_it(h, &grams, 100.0 - share.n, share.n, Some("salt")))
        .flatten()
}

/// '200 ml at 25 percent, needed at 5: how much water'; '1.5 kilos of 50 percent syrup, needed at 65: how much sugar'.
pub(super) fn strength(h: &Heard) -> Option<Question> {
    if of_dough(h) || h.any(&["loss", "raise"]) || h.stuffs().iter().any(|s| s.contains("flour")) {
        return None;
    }
    let levels = h.facts_of(|f| f.what == What::Percent);
    let amounts = h.facts_of(Fact::is_amount);
    let [all] = amounts[..] else { return None };
    let parts_in_a_million =
        h.facts_of(|f| f.what == What::Bare && h.items.get(f.at + 1) == Some(&Item::Unknown));
    // '200 ppm from a bottle of 5 percent'.
    if let ([level], [few]) = (&levels[..], &parts_in_a_million[..])
        && h.says("# ppm")
        && h.facts.len() == 3
    {
        return of_it(h, all, level.n * 10_000.0, few.n, None);
    }
    if let [a, b, c] = levels[..]
        && h.facts.len() == 4
    {
        return blended(h, all, [a, b, c]);
    }
    let [from, to] = levels[..] else { return None };
    if h.facts.len() != 3 || !(0.0..100.0).contains(&from.n) || !(0.0..100.0).contains(&to.n) {
        return None;
    }
    let begins = |with: &str| h.words.iter().any(|w| w.starts_with(with));
    let named = begins("dilut")
        || begins("strength")
        || begins("stronger")
        || begins("weaker")
        || begins("concentrat")
        || h.any(&["~want"])
        || h.says_any(&["down to", "up to", "make it", "bring it"]);
    if !named || from.n <= 0.0 || to.n <= 0.0 {
        return None;
    }
    // 'I want two litres at 5 percent': what is measured is what is to come.
    let made = h.says_any(&[
        "want # ", "need # ", "make # ", "for # ", "wants #", "needs #",
    ]) && !h.says_any(&["have #", "have got #", "got #", "i've #", "from #"]);
    let asks_water = h.asks_for("water") || h.says_any(&["how much water"]);
    let solid = ["sugar", "salt"]
        .into_iter()
        .find(|s| h.wants().iter().any(|w| w.contains(s)));
    match (from.n > to.n, asks_water, solid) {
        (true, true, None) if made => of_it(h, all, from.n, from.n - to.n, Some("water")),
        (true, true, None) => of_it(h, all, to.n, from.n - to.n, Some("water")),
        (true, false, None) if made => of_it(h, all, from.n, to.n, None),
        (false, false, Some(solid)) if !made => {
            of_it(h, all, 100.0 - to.n, to.n - from.n, Some(solid))
        }
        _ => None,
    }
}

/// '35 percent cream and 3.5 percent milk, a litre at 10: how much of the cream'.
fn blended(h: &Heard, all: &Fact, levels: [&Fact; 3]) -> Option<Question> {
    let goals: Vec<&Fact> = levels
        .iter()
        .copied()
        .filter(|f| f.clause == all.clause && f.stuff.is_none())
        .collect();
    let [goal] = goals[..] else { return None };
    let kinds: Vec<&Fact> = levels.into_iter().filter(|f| f.at != goal.at).collect();
    let wants = h.wants();
    let asked = *kinds
        .iter()
        .find(|f| f.stuff.is_some() && f.stuff == wants.first().copied())?;
    let other = *kinds.iter().find(|f| f.at != asked.at)?;
    let (low, high) = (asked.n.min(other.n), asked.n.max(other.n));
    (low < goal.n && goal.n < high && asked.stuff != other.stuff).then_some(())?;
    of_it(
        h,
        all,
        (asked.n - other.n).abs(),
        (goal.n - other.n).abs(),
        asked.stuff,
    )
}

/// 'Two cups, three tablespoons and 150 ml of milk, add it up in ml'.
pub(super) fn added_up(h: &Heard) -> Option<Question> {
    let sums = h.has("~total")
        || h.says_any(&[
            "add up",
            "adds up",
            "add it up",
            "add them up",
            "tot it up",
            "tot up",
            "tot them up",
            "sum",
            "sums",
            "and another",
            "on top",
            "come to",
            "all in",
            "added together",
        ]);
    let to = h.unit()?;
    let unit = Unit::find(&to, Region::Metric).ok()?;
    if !sums
        || h.facts.len() < 2
        || !h.facts.iter().all(Fact::is_amount)
        || of_dough(h)
        || h.any(&["left", "tin", "people", "piece", "divide", "~each", "~per"])
    {
        return None;
    }
    let mut names: Vec<&str> = h.facts.iter().filter_map(|f| f.stuff).collect();
    names.dedup();
    if names.len() > 1 || h.apart().iter().any(|name| !names.contains(name)) {
        return None;
    }
    let name = names.first().copied();
    let sum: f64 = h
        .facts
        .iter()
        .map(|f| {
            let own = Unit::find(f.unit.as_deref()?, Region::Metric).ok()?;
            if own.kind() == unit.kind() {
                return Some(f.n * own.factor_to(unit).ok()?);
            }
            let named = Fact {
                stuff: Some(name?),
                ..f.clone()
            };
            (unit.kind() == Kind::Mass)
                .then(|| named.grams().map(|g| g / unit.size()))
                .flatten()
        })
        .sum::<Option<f64>>()?;
    Some(Question::Convert {
        number: sum,
        from: to.parse().ok()?,
        to: to.parse().ok()?,
        ingredient: name.map(Into::into),
    })
}

/// 'A tablespoon of table salt at 6 grams the teaspoon, mine is 2.8 grams the teaspoon': as many of mine.
pub(super) fn two_rates(h: &Heard) -> Option<Question> {
    let measure = |at: usize| {
        let next = match h.items.get(at + 1) {
            Some(Item::Tag("~per" | "~each" | "~to" | "~at")) => h.items.get(at + 2),
            next => next,
        };
        match next {
            Some(Item::Unit(unit)) => Some(unit.clone()),
            Some(Item::Amount(n, unit)) if *n == 1.0 => Some(unit.clone()),
            _ => None,
        }
        .filter(|u| ["tsp", "tbsp", "cup"].contains(&u.rsplit(' ').next().unwrap_or_default()))
    };
    let rates: Vec<(&Fact, String)> = h
        .facts
        .iter()
        .filter(|f| matches!(f.what, What::Mass | What::Bare))
        .filter_map(|f| Some((f, measure(f.at)?)))
        .collect();
    let [(first, unit), (second, other)] = &rates[..] else {
        return None;
    };
    let taken = |f: &Fact| {
        rates
            .iter()
            .any(|(r, _)| f.at == r.at || f.n == 1.0 && f.at > r.at && f.at <= r.at + 2)
    };
    let amounts = h.facts_of(|f| !taken(f));
    let [amount] = amounts[..] else { return None };
    let both = |f: &Fact| f.what == What::Mass;
    if amount.what != What::Volume || unit != other || !(both(first) || both(second)) {
        return None;
    }
    let own = Unit::find(unit, Region::Metric).ok()?;
    let said = Unit::find(amount.unit.as_deref()?, Region::Metric).ok()?;
    let n = amount.n * said.factor_to(own).ok()?;
    let question = Question::RuleOfThree {
        amount: n,
        unit: unit.parse().ok()?,
        base: second.n,
        wanted: first.n,
        what: None,
    };
    (second.n > 0.0 && h.has("~howmany")).then(|| wanted(h, question, unit))
}

/// 'Cut five one way and three the other, what does each weigh'.
pub(super) fn in_a_grid(h: &Heard) -> Option<Question> {
    let masses = h.facts_of(|f| f.what == What::Mass);
    // 'One way' counts nothing.
    let counts = h.facts_of(|f| f.what == What::Bare && f.n != 1.0);
    let ones = h.facts_of(|f| f.what == What::Bare && f.n == 1.0).len();
    let ([all], [a, b]) = (&masses[..], &counts[..]) else {
        return None;
    };
    let crossed = h.says_any(&[
        "one way",
        "# across",
        "# by #",
        "# along",
        "rows of #",
        "# rows",
    ]);
    let each = h.any(&["~each", "~weigh", "piece"]);
    let whole = |f: &Fact| f.n.fract() == 0.0 && f.n >= 1.0;
    if h.facts.len() != 3 + ones || !crossed || !each || !whole(a) || !whole(b) {
        return None;
    }
    let unit = all.unit.clone()?;
    let question = Question::Times {
        factor: 1.0 / (a.n * b.n),
        number: all.n,
        unit: unit.parse().ok()?,
    };
    Some(wanted(h, question, &unit))
}

/// '85 guests, two and a half each and ten percent extra'.
pub(super) fn guests_and_some(h: &Heard) -> Option<Question> {
    let shares = h.facts_of(|f| f.what == What::Percent);
    let [share] = shares[..] else { return None };
    let many = *h
        .facts_of(|f| f.what == What::Bare && f.of(&["people", "~plate"]) && f.n > 1.0)
        .first()?;
    let rates = h
        .facts_of(|f| f.at != many.at && f.at != share.at && !(f.what == What::Bare && f.n == 1.0));
    let [rate] = rates[..] else { return None };
    let each = h.any(&["~each", "~per"])
        || h.says_any(&[
            "a head",
            "per head",
            "per person",
            "each",
            "apiece",
            "a guest",
        ]);
    let more = h.has("~more") || h.says_any(&["spare", "on top", "for safety", "over", "buffer"]);
    if !each || !more || of_dough(h) {
        return None;
    }
    let all = many.n * (1.0 + share.n / 100.0);
    match rate.what {
        What::Bare => Some(Question::RuleOfThree {
            amount: (rate.n * all - 1e-9).ceil(),
            unit: UnitSymbol::NONE,
            base: 1.0,
            wanted: 1.0,
            what: Some("pieces".into()),
        }),
        What::Mass | What::Volume => of_it(h, rate, 1.0, all, rate.stuff),
        _ => None,
    }
}

/// 'A syrup of two of sugar to one of water, what strength in percent': the first or what is asked for, of both.
pub(super) fn share_of_parts(h: &Heard) -> Option<Question> {
    let [a, b] = &h.facts[..] else { return None };
    let part = |f: &Fact| {
        f.stuff.is_some() && (f.what == What::Bare || f.what == a.what && f.unit == a.unit)
    };
    let asks =
        h.has("percent") && h.says_any(&["strength", "syrup", "brine", "solution", "how strong"]);
    if !asks
        || !part(a)
        || !part(b)
        || a.stuff == b.stuff
        || of_dough(h)
        || a.of_flour()
        || b.of_flour()
    {
        return None;
    }
    let wants = h.wants();
    let is_asked = |f: &Fact| wants.iter().any(|w| f.stuff == Some(*w));
    let share = if is_asked(b) && !is_asked(a) { b } else { a };
    (share.n > 0.0).then_some(Question::PercentIs {
        part_g: share.n,
        whole_g: a.n + b.n,
    })
}

/// Flour and water, each by its number, of grams where nothing else is said.
fn flour_and_water(h: &Heard) -> Option<(f64, f64)> {
    let flours = h.facts_of(Fact::of_flour);
    let waters = h.facts_of(|f| f.stuff == Some("water"));
    let ([flour], [water]) = (&flours[..], &waters[..]) else {
        return None;
    };
    Some((flour.grams_or_bare()?, water.grams_or_bare()?))
}

/// '240 grams of levain at 50 percent into 900 of flour and 600 of water': the hydration of all of it.
pub(super) fn with_levain(h: &Heard) -> Option<Question> {
    let (flour_g, water_g) = flour_and_water(h)?;
    let levels = h.facts_of(|f| f.what == What::Percent);
    let starters = h.facts_of(|f| f.what == What::Mass && f.stuff.is_none());
    let ([level], [starter]) = (&levels[..], &starters[..]) else {
        return None;
    };
    let ones = h.facts_of(|f| f.what == What::Bare && f.n == 1.0).len();
    if h.facts.len() != 4 + ones || !h.has("hydration") || !h.any(&["starter", "preferment"]) {
        return None;
    }
    Some(Question::HydrationOf {
        flour_g,
        water_g,
        starter_g: starter.grams()?,
        starter_percent: level.n,
    })
}

/// 'Too slack: 1100 of flour and 850 of water, how much more flour brings it to 68 percent'.
pub(super) fn mended(h: &Heard) -> Option<Question> {
    let (flour_g, water_g) = flour_and_water(h)?;
    let levels = h.facts_of(|f| f.what == What::Percent || f.of(&["hydration"]));
    let [level] = levels[..] else { return None };
    let more = h.has("~more") || h.says_any(&["extra", "add", "top up"]);
    if h.facts.len() != 3 || !more || h.any(&AHEAD) || !(30.0..150.0).contains(&level.n) {
        return None;
    }
    let now = water_g / flour_g * 100.0;
    let (amount, what) = if h.asks_for("flour") && level.n < now {
        (water_g / level.n * 100.0 - flour_g, "flour")
    } else if h.asks_for("water") && level.n > now {
        (flour_g * level.n / 100.0 - water_g, "water")
    } else {
        return None;
    };
    let question = Question::RuleOfThree {
        amount: flour_g,
        unit: UnitSymbol::GRAM,
        base: flour_g,
        wanted: amount,
        what: Some(what.into()),
    };
    Some(wanted(h, question, "g"))
}

/// '48 baps at 85 grams, water 62, salt 2, fat 5: how much flour'.
pub(super) fn flour_of_pieces(h: &Heard) -> Option<Question> {
    let each = h.facts_of(|f| f.what == What::Mass);
    let counts = h.facts_of(|f| f.what == What::Bare && f.of(&["piece"]));
    let ([each], [count]) = (&each[..], &counts[..]) else {
        return None;
    };
    let levels = h.facts_of(|f| {
        f.at != count.at && matches!(f.what, What::Bare | What::Percent) && f.n <= 120.0
    });
    let named = levels.iter().filter(|f| f.stuff.is_some()).count();
    if levels.len() + 2 != h.facts.len()
        || named < 2
        || !levels.iter().any(|f| f.stuff == Some("water"))
        || !h.asks_for("flour")
        || levels.iter().any(|f| f.of_flour())
    {
        return None;
    }
    let shares = levels
        .iter()
        .map(|f| Share {
            name: f.stuff.unwrap_or("other").into(),
            percent: f.n,
        })
        .collect();
    let question = Question::FlourInDough {
        dough_g: each.grams()? * count.n,
        shares,
    };
    Some(wanted(h, question, "g"))
}

/// '10 kilos of flour, 20 percent of it in a poolish at 100, overall hydration 68: the water that is left'.
pub(super) fn water_for_the_rest(h: &Heard) -> Option<Question> {
    let flours = h.facts_of(|f| f.is_amount() && (f.of_flour() || f.stuff.is_none()));
    let levels =
        h.facts_of(|f| f.what == What::Percent || f.what == What::Bare && f.of(&["hydration"]));
    let [flour] = flours[..] else { return None };
    let asks = (h.any(&["left", "final"]) || h.says_any(&["still", "to add", "the rest"]))
        && h.asks_for("water");
    if !asks || !h.any(&AHEAD) || levels.len() + 1 != h.facts.len() {
        return None;
    }
    let overall = |f: &&Fact| {
        let clause = h.clause_of(f);
        let has = |tags: &[&str]| {
            clause
                .iter()
                .any(|i| matches!(i, Item::Tag(tag) if tags.contains(tag)))
        };
        has(&["~total", "dough", "formula"]) && !has(&AHEAD)
    };
    let of_flour = |f: &&Fact| {
        f.of_flour() || matches!(h.items.get(f.at + 1), Some(Item::Tag("~of" | "preferment")))
    };
    let wholes: Vec<&Fact> = levels.iter().copied().filter(overall).collect();
    let [whole] = wholes[..] else { return None };
    let others: Vec<&Fact> = levels.into_iter().filter(|f| f.at != whole.at).collect();
    let (share, own) = match others[..] {
        [share] => (share, 100.0),
        [a, b] if of_flour(&a) && !of_flour(&b) => (a, b.n),
        [a, b] if of_flour(&b) && !of_flour(&a) => (b, a.n),
        _ => return None,
    };
    let own = if others.len() == 1 && h.has("biga") {
        crate::dough::Preferment::Biga.hydration()
    } else {
        own
    };
    let flour_g = flour.grams()?;
    let ahead_flour_g = flour_g * share.n / 100.0;
    let of = Question::FinalDough {
        flour_g,
        water_g: flour_g * whole.n / 100.0,
        ahead_flour_g,
        ahead_water_g: ahead_flour_g * own / 100.0,
    };
    let question = Question::Part {
        of: Box::new(of),
        name: "water".into(),
    };
    Some(wanted(h, question, "g"))
}
