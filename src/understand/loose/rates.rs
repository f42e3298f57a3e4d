//! Amounts in free words: so much for so many, tins, gelatine, eggs, swaps, portions, one unit in another.

use super::fact::{Fact, What};
use super::heard::Heard;
use super::into::wanted;
use super::item::Item;
use super::{kitchen, size};
use crate::ask::{self, EggPart, Question};
use crate::measure::{Gelatine, Kind, Region, Unit, ingredients};
use crate::order::UnitSymbol;
use crate::swap;

/// Grams in a packet of powdered gelatine: common practice.
const PACKET_G: f64 = 7.0;

/// One tin and another, and what changes with them.
pub(super) fn tins(h: &Heard) -> Option<Question> {
    let shaped = h.any(&["round", "square", "rectangle", "loaftin", "ring", "tin"]);
    let lengths = h.facts_of(|f| f.what == What::Length);
    let other = |f: &Fact| {
        matches!(
            f.what,
            What::Percent | What::Heat(_) | What::Time | What::Ratio(_)
        )
    };
    if !shaped || h.facts.iter().any(other) || h.any(&["gelatine", "divide"]) {
        return None;
    }
    // 'It holds 8 cups, mine holds 12': by what they hold.
    let volumes = h.facts_of(|f| f.what == What::Volume && f.stuff.is_none());
    let times = h.has("~multiply")
        || h.says_any(&[
            "how many times",
            "multiply",
            "scale by",
            "scale up",
            "scale it by",
            "by how much",
            "factor",
            "times the",
        ]);
    if let [a, b] = volumes[..]
        && times
    {
        let (from, to) = in_order(h, a.at, b.at, (a.level(), b.level()));
        return Some(Question::RuleOfThree {
            amount: 1.0,
            unit: UnitSymbol::NONE,
            base: from,
            wanted: to,
            what: Some("times as much".into()),
        });
    }
    if lengths.is_empty() {
        return None;
    }
    let amount = |f: &&Fact| {
        f.is_amount()
            || f.what == What::Thing
            || f.what == What::Bare && f.of(&["egg", "yolk", "white", "people", "leaf"])
    };
    let amounts: Vec<&Fact> = h.facts.iter().filter(amount).collect();
    // 'Two round 6-inch tins': so many of them.
    let many_tins = |f: &&Fact| {
        f.what == What::Bare
            && (f.of(&["round", "square", "rectangle", "loaftin", "tin"])
                || matches!(h.items.get(f.at + 1), Some(Item::Length(_))))
            && (1.0..=6.0).contains(&f.n)
            && f.n.fract() == 0.0
            && lengths.len() >= 2
            && !matches!(h.items.get(f.at + 1), Some(Item::Tag("~by")))
    };
    let counts: Vec<&Fact> = h.facts.iter().filter(many_tins).collect();
    let mut items = h.items.clone();
    for fact in counts.iter().chain(&amounts) {
        items[fact.at] = Item::Tag("~of");
    }
    let alone = h.with_items(items);
    let Question::Tins {
        from,
        to: Some(to),
        shape,
    } = size::compared(&alone)?
    else {
        return (amounts.is_empty())
            .then(|| size::compared(&alone))
            .flatten();
    };
    let sized: Vec<usize> = alone
        .facts
        .iter()
        .filter(|f| f.what == What::Length || f.what == What::Bare)
        .map(|f| f.at)
        .collect();
    let last = *sized.last()?;
    let times_of = |at: usize| {
        counts
            .iter()
            .rfind(|c| c.at < at && c.at + 4 > at)
            .map_or(1.0, |c| c.n)
    };
    // 'How many times bigger' is more than once, 'what fraction' is less.
    let turned = |ratio: f64| {
        let more = h.says_any(&[
            "bigger",
            "larger",
            "greater",
            "times more",
            "more batter",
            "more mixture",
        ]);
        let less = h.says_any(&[
            "smaller",
            "fraction",
            "times less",
            "less batter",
            "less mixture",
        ]);
        more && !less && ratio < 1.0 || less && !more && ratio > 1.0
    };
    let each = in_order(h, sized[0], last, (times_of(sized[0]), times_of(last)));
    let (mut from, mut to) = in_order(h, sized[0], last, (from, to));
    if amounts.is_empty() && turned(to.area_cm2() / from.area_cm2()) {
        (from, to) = (to, from);
    }
    if each != (1.0, 1.0) {
        let (amount, unit, what) = match amounts[..] {
            [] => (1.0, String::new(), Some("times as much")),
            [one] if one.is_amount() => (one.n, one.unit.clone()?, one.stuff),
            _ => return None,
        };
        let question = Question::RuleOfThree {
            amount,
            unit: unit.parse().ok()?,
            base: each.0 * from.area_cm2(),
            wanted: each.1 * to.area_cm2(),
            what: what.map(Into::into),
        };
        return Some(if unit.is_empty() {
            question
        } else {
            wanted(h, question, &unit)
        });
    }
    match amounts[..] {
        [] => Some(Question::Tins {
            from,
            to: Some(to),
            shape,
        }),
        [one] if one.what != What::Thing => {
            let (a, b) = match (from.volume(), to.volume()) {
                (Some(a), Some(b)) => (a.as_millilitres(), b.as_millilitres()),
                _ => (from.area_cm2(), to.area_cm2()),
            };
            let unit = one.unit.clone().unwrap_or_default();
            let question = Question::RuleOfThree {
                amount: one.n,
                unit: unit.parse().ok()?,
                base: a,
                wanted: b,
                what: one.stuff.or(one.noun.and_then(many)).map(Into::into),
            };
            Some(if unit.is_empty() {
                question
            } else {
                wanted(h, question, &unit)
            })
        }
        _ => None,
    }
}

/// Which of two is the recipe's and which the cook's: the cook's comes second, but where only the first one is said to
/// be there.
fn in_order<T: Copy>(h: &Heard, first: usize, second: usize, pair: (T, T)) -> (T, T) {
    let own = |from: usize, to: usize| h.items[from..to].contains(&Item::Tag("~own"));
    let recipe = |from: usize, to: usize| h.items[from..to].contains(&Item::Tag("~recipe"));
    let start = |at: usize| {
        (0..at)
            .rev()
            .find(|&i| h.items[i] == Item::Stop || i < at && h.items[i].is_number())
            .map_or(0, |i| i + 1)
    };
    let (a, b) = (start(first), start(second).max(first + 1));
    // 'My dish was 30 by 20, the new one is 35 by 25'.
    let gone = h.says_any(&["was", "were", "old", "used to be"]) && h.says_any(&["new", "now"]);
    if own(a, first) && !recipe(a, first) && !own(b.min(second), second) && !gone {
        (pair.1, pair.0)
    } else {
        pair
    }
}

/// What is counted, said of many.
fn many(noun: &str) -> Option<&'static str> {
    Some(match noun {
        "egg" => "eggs",
        "yolk" => "yolks",
        "white" => "whites",
        "leaf" => "leaves",
        "piece" => "pieces",
        "tin" => "tins",
        _ => return None,
    })
}

/// Gelatine by leaf, powder and strength.
pub(super) fn gelatine(h: &Heard) -> Option<Question> {
    let strengths = h.strengths();
    // 'How much will six gold leaves set'.
    let leaves = h.has("leaf") && h.has("set") && !strengths.is_empty();
    if !(leaves || h.has("gelatine") || h.words.iter().any(|w| w.starts_with("gelatin"))) {
        return None;
    }
    let leaf = strengths.iter().find(|s| **s != "powder").copied();
    let facts: Vec<&Fact> = h
        .facts
        .iter()
        .filter(|f| !(f.what == What::Bare && f.n == 1.0 && f.noun.is_none()))
        .collect();
    let blooms: Vec<&&Fact> = facts
        .iter()
        .filter(|f| f.what == What::Bare && (f.of(&["bloom"]) || f.n >= 80.0))
        .collect();
    let rest: Vec<&&Fact> = facts
        .iter()
        .filter(|f| !(f.what == What::Bare && (f.of(&["bloom"]) || f.n >= 80.0)))
        .collect();
    let make = |number: f64, unit: &str, from: &str, to: &str| {
        Some(Question::Gelatine {
            number,
            unit: unit.parse().ok()?,
            from: from.into(),
            to: to.into(),
        })
    };
    if h.has("bloom") {
        let [amount] = rest[..] else {
            return None;
        };
        let number = amount.grams()?;
        let bloom = |f: &Fact| format!("{}", f.n);
        return match (&blooms[..], leaf) {
            // The strength beside the amount is what is known.
            ([a, b], _) => {
                let (from, to) = if a.at.abs_diff(amount.at) <= b.at.abs_diff(amount.at) {
                    (a, b)
                } else {
                    (b, a)
                };
                make(number, "g", &bloom(from), &bloom(to))
            }
            _ => None,
        };
    }
    let [one] = rest[..] else {
        return None;
    };
    let volume = one.what == What::Volume && one.grams().is_some();
    let asks_volume = h
        .unit()
        .and_then(|u| Unit::find(&u, Region::Metric).ok())
        .is_some_and(|u| u.kind() == Kind::Volume && (u.size() > 30.0 || u.size() == 1.0))
        || h.says_any(&[
            "how much liquid",
            "how much water",
            "how much milk",
            "how much cream",
        ]);
    if volume {
        let powder = leaf.is_none()
            && !h.has("leaf")
            && (strengths.contains(&"powder") || h.unit().as_deref() == Some("g"));
        let by = if powder {
            "powder"
        } else {
            leaf.unwrap_or("gold")
        };
        let size = Unit::find(one.unit.as_deref()?, Region::Metric)
            .ok()?
            .size();
        return make(one.n * size, "ml", by, by);
    }
    let (number, unit, powder) = match one.what {
        What::Mass => (
            one.grams()?,
            "g",
            !h.has("leaf") || strengths.contains(&"powder"),
        ),
        What::Thing if one.unit.as_deref() == Some("packet") => (one.n * PACKET_G, "g", true),
        What::Bare if one.of(&["leaf"]) || h.has("leaf") => (one.n, "sheet", false),
        _ => return None,
    };
    if asks_volume {
        let from = if powder {
            "powder"
        } else {
            leaf.unwrap_or("gold")
        };
        let question = make(number, unit, from, "set")?;
        return Some(wanted(h, question, "ml"));
    }
    let packet = one.what == What::Thing;
    let (from, to) = match (&strengths[..], unit) {
        ([from, to], _) => (*from, *to),
        // A packet in grams.
        (_, "g")
            if packet && h.unit().as_deref() == Some("g") && !h.has("leaf") && leaf.is_none() =>
        {
            ("powder", "powder")
        }
        _ if powder
            && (packet || strengths.contains(&"powder"))
            && (h.has("leaf") || leaf.is_some()) =>
        {
            ("powder", leaf.unwrap_or("gold"))
        }
        (["powder"], "sheet") => ("gold", "powder"),
        // What so many leaves weigh.
        ([kind], "sheet") if h.unit().as_deref() == Some("g") => {
            return Some(Question::Times {
                factor: number,
                number: Gelatine::find(kind)?.leaf_g?,
                unit: UnitSymbol::GRAM,
            });
        }
        _ => return None,
    };
    let question = make(number, unit, from, to)?;
    Some(match h.unit() {
        Some(asked) if asked != "packet" => wanted(h, question, "g"),
        _ => question,
    })
}

/// Plain flour made self-raising.
pub(super) fn self_raising(h: &Heard) -> Option<Question> {
    if !h.has("selfraising")
        || h.facts
            .iter()
            .any(|f| f.what != What::Bare && !f.is_amount() || f.what == What::Bare && f.n != 1.0)
    {
        return None;
    }
    let amounts = h.facts_of(|f| f.is_amount() && (f.stuff.is_none() || f.of_flour()));
    let [one] = amounts[..] else {
        return None;
    };
    if h.facts_of(Fact::is_amount).len() > 1 {
        return None;
    }
    let unit = h.of_region(one.unit.as_deref()?);
    let unit = Unit::find(&unit, Region::Metric).ok()?;
    let measured = unit.kind() == Kind::Volume;
    let flour_g = if measured {
        one.n
            * unit.size()
            * ingredients()
                .find(one.stuff.unwrap_or("plain flour"))?
                .g_per_ml?
    } else {
        one.grams()?
    };
    let salted = h.stuffs().iter().any(|s| s.contains("salt"));
    let american =
        (h.said("rising") || salted || h.says_any(&["ap", "all purpose"])) && !h.has("uk");
    let region = american.then_some(Region::Us).or(h.region());
    let question = Question::SelfRaising { flour_g, region };
    // Who measures the flour by the cup measures the powder by the spoon.
    if measured && h.unit().is_none() {
        return Some(Question::Into {
            of: Box::new(question),
            unit: UnitSymbol::TEASPOON,
        });
    }
    Some(wanted(h, question, "g"))
}

/// Eggs by number or weight.
pub(super) fn eggs(h: &Heard) -> Option<Question> {
    let parts = ["egg", "yolk", "white"];
    let egg = |name: &str| ["egg", "egg white", "egg yolk"].contains(&name);
    if !h.any(&parts)
        || h.any(&["people", "tin", "stage", "fry", "loss", "core"])
        || h.stuffs().iter().any(|s| !egg(s))
    {
        return None;
    }
    let sizes: Vec<&str> = h
        .items
        .iter()
        .filter_map(|i| {
            if let Item::Named("size", name) = i {
                Some(*name)
            } else {
                None
            }
        })
        .collect();
    // 'My eggs are 45 grams each: how many for 315'.
    if let [each, all] = h.facts_of(|f| f.what == What::Mass)[..]
        && h.facts.len() == 2
        && h.has("~howmany")
        && h.has("~each")
        && !h.has("yolk")
        && !h.has("white")
    {
        let (a, b) = (each.grams()?, all.grams()?);
        return Some(Question::PiecesFrom {
            dough_g: Some(a.max(b)),
            each_g: a.min(b),
        });
    }
    if sizes.len() > 1
        || h.facts.len() > 1
        || h.says_any(&[
            "chocolate",
            "scotch",
            "easter",
            "flax",
            "duck",
            "quail",
            "goose",
        ])
    {
        return None;
    }
    let shell = h.has("shell")
        && !h.says_any(&[
            "no shells",
            "no shell",
            "without shells",
            "out of the shell",
            "cracked",
        ]);
    let part = match (h.has("yolk"), h.has("white"), shell) {
        (true, false, _) => EggPart::Yolk,
        (false, true, _) => EggPart::White,
        (false, false, true) => EggPart::Shell,
        (false, false, false) => EggPart::Whole,
        _ => return None,
    };
    let question = |number, mass_g| Question::Eggs {
        number,
        mass_g,
        part,
        size: sizes.first().map(|s| (*s).into()),
        region: h.region(),
    };
    let weighs = h.has("~weigh") || h.unit().is_some() || h.has("~howmuch");
    match h.facts[..] {
        [] if weighs => Some(wanted(h, question(Some(1.0), None), "g")),
        [
            Fact {
                n,
                what: What::Bare,
                ..
            },
        ] if weighs => Some(wanted(h, question(Some(n), None), "g")),
        [ref one]
            if one.what == What::Mass
                && (h.has("~howmany")
                    || h.says_any(&["eggs is", "eggs are", "in eggs"])
                    || matches!(h.items.first(), Some(Item::Tag(part)) if parts.contains(part))
                        && h.has("~for")) =>
        {
            Some(question(None, one.grams()))
        }
        _ => None,
    }
}

/// One thing for another: what has the amount goes out.
pub(super) fn swap(h: &Heard) -> Option<Question> {
    let [one] = &h.facts[..] else {
        return None;
    };
    let of = one.stuff?;
    let yeast = of.contains("yeast");
    let swaps = yeast
        || h.has("swap")
        || h.says_any(&[
            "only have",
            "only got",
            "i have",
            "i've got",
            "only had",
            "have only",
            "equal",
            "got only",
            "run out",
            "ran out",
        ]);
    if !swaps
        || !(one.is_amount() || one.what == What::Thing)
        || h.any(&["dough", "percent", "people"])
    {
        return None;
    }
    let mut found: Vec<&str> = Vec::new();
    for name in h.stuffs() {
        if name != of && !found.contains(&name) && swap::find(of, name).is_ok() {
            found.push(name);
        }
    }
    let [with] = found[..] else {
        return None;
    };
    // One packet of dried yeast weighs seven grams.
    let (number, unit) = match one.unit.as_deref()? {
        "packet" => (one.n * 7.0, "g".to_owned()),
        unit => (one.n, h.of_region(unit)),
    };
    let question = Question::Swap {
        of: of.into(),
        with: Some(with.into()),
        number: Some(number),
        unit: unit.parse().ok(),
    };
    Some(wanted(h, question, "g"))
}

/// 'A tin is 400 grams, what do six weigh': so many times what one of them is.
pub(super) fn of_each(h: &Heard) -> Option<Question> {
    let amounts = h.facts_of(Fact::is_amount);
    let counts = h.facts_of(|f| f.what == What::Bare && f.n != 1.0);
    let ones = h.facts_of(|f| f.what == What::Bare && f.n == 1.0);
    let ([amount], [count]) = (&amounts[..], &counts[..]) else {
        return None;
    };
    let noun = [
        "tin", "tins", "can", "cans", "jar", "jars", "bag", "bags", "pack", "packs", "bottle",
        "bottles", "tub", "tubs", "carton", "cartons", "box", "boxes", "punnet", "punnets",
    ]
    .chunks(2)
    .find(|pair| {
        h.says_any(&[
            &format!("a {}", pair[0]),
            &format!("one {}", pair[0]),
            &format!("each {}", pair[0]),
            &format!("# {}", pair[0]),
        ]) && h.says_any(&[&format!("# {}", pair[1])])
    });
    let asks = h.any(&["~howmuch", "~weigh", "~total"]);
    if noun.is_none()
        || !asks
        || amounts.len() + counts.len() + ones.len() != h.facts.len()
        || count.n.fract() != 0.0
        || h.any(&["divide", "people", "dough"])
    {
        return None;
    }
    let unit = amount.unit.clone()?;
    Some(wanted(
        h,
        Question::Times {
            factor: count.n,
            number: amount.n,
            unit: unit.parse().ok()?,
        },
        &unit,
    ))
}

/// How much for so many people.
pub(super) fn portion(h: &Heard) -> Option<Question> {
    let asks = h.any(&["~howmuch", "~howmany", "people"])
        || h.words.len() <= 6
        || h.unit().is_some()
        || h.says_any(&["what weight", "what amount"]);
    let one = h.says_any(&[
        "per person",
        "per head",
        "a head",
        "a person",
        "each person",
        "per serving",
        "per portion",
        "a portion",
        "one person",
        "for one",
        "a serving",
        "per adult",
        "per # person",
        "per # head",
        "per # serving",
    ]);
    let counts: Vec<&Fact> = h.facts.iter().filter(|f| !(f.n == 1.0 && one)).collect();
    if !asks || h.facts.iter().any(|f| f.what != What::Bare) {
        return None;
    }
    // 'How many grams each for six': one of them.
    let of_one = h.says_any(&["each", "per person", "per head"]);
    let people = match counts[..] {
        [] if one => 1.0,
        [count] if of_one && count.of(&["people"]) => 1.0,
        [count]
            if count
                .noun
                .is_none_or(|n| n == "people" || n == "piece" && one)
                && count.n >= 1.0 =>
        {
            let said = h.has("people") || h.has("~for") || h.says_any(&["feed", "guests", "of us"]);
            if !said {
                return None;
            }
            count.n
        }
        _ => return None,
    };
    if h.has("pastawater") || h.says_any(&["recipe", "leftover"]) {
        return None;
    }
    let food = ask::portion_of(&h.words)?;
    let side = h.says_any(&[
        "side",
        "as a side",
        "starter",
        "accompaniment",
        "alongside",
        "side dish",
    ]);
    let question = Question::Portion {
        food: food.into(),
        people,
        side,
    };
    Some(wanted(h, question, "g"))
}

/// How alike two numbers are counted: nothing where they are not.
fn alike(a: &Fact, b: &Fact) -> u32 {
    let counts = |f: &Fact| matches!(f.what, What::Bare);
    if a.stuff.is_some() && a.stuff == b.stuff && (a.what == b.what || counts(a) || counts(b)) {
        return 5;
    }
    if a.noun.is_some() && a.noun == b.noun {
        return 5;
    }
    if a.stuff.is_some() && b.stuff.is_some()
        || a.noun.is_some() && b.noun.is_some() && counts(a) && counts(b)
    {
        return 0;
    }
    let named = |f: &Fact| f.stuff.is_some() || f.noun.is_some();
    match (counts(a), counts(b)) {
        (true, true) if a.stuff.is_some() || b.stuff.is_some() => 1,
        (true, true) => 3 + u32::from(a.of(&["people"]) || b.of(&["people"])),
        (false, false) if a.what == b.what => {
            if named(a) || named(b) {
                2
            } else {
                3
            }
        }
        (true, false) | (false, true) => {
            let (count, other) = if counts(a) { (a, b) } else { (b, a) };
            u32::from(!named(count) && !matches!(other.what, What::Thing))
        }
        _ => 0,
    }
}

/// So much for so many, and then for how many else.
pub(super) fn rule_of_three(h: &Heard) -> Option<Question> {
    let counted = |f: &Fact| {
        matches!(
            f.what,
            What::Mass | What::Volume | What::Thing | What::Bare | What::Time
        )
    };
    if !h.facts.iter().all(counted) || !(3..=6).contains(&h.facts.len()) || h.any(&["ice", "bloom"])
    {
        return None;
    }
    // 'Four to one': parts, and no rate.
    let in_parts = h
        .items
        .windows(3)
        .any(|three| matches!(three, [Item::Number(_), Item::Tag("~to"), Item::Number(_)]));
    if in_parts && !h.has("parts") {
        return None;
    }
    // 'Two kilos feed eight' is of people.
    let fed = h.has("feed") && h.any(&["starter", "seed", "preferment"]);
    if fed || h.any(&["raise", "hydration", "percent", "loss"]) {
        return None;
    }
    if h.facts.iter().filter(|f| f.what == What::Time).count() > 0 && !h.any(&["people", "piece"]) {
        return None;
    }
    let facts = &h.facts;
    // What is asked for by its name is the amount: 'how many eggs for 420'.
    let wants = h.wants();
    let named = |f: &Fact| {
        wants
            .first()
            .is_some_and(|w| f.stuff == Some(*w) || f.noun == Some(*w))
    };
    let sought = (facts.iter().filter(|f| named(f)).count() == 1)
        .then(|| facts.iter().position(named))
        .flatten();
    let mut best: Option<(u32, usize, usize)> = None;
    let mut tied = false;
    for i in 0..facts.len() {
        for j in i + 1..facts.len() {
            let score = alike(&facts[i], &facts[j]);
            if score == 0 || sought == Some(i) || sought == Some(j) {
                continue;
            }
            match best {
                Some((top, ..)) if score < top => {}
                Some((top, ..)) if score == top => tied = true,
                _ => {
                    best = Some((score, i, j));
                    tied = false;
                }
            }
        }
    }
    let (score, mut i, mut j) = best?;
    let more = facts.len() > 3;
    // '350 of flour wants 7 of yeast, 500 wants how much': the word between the two tells which is for which.
    if tied
        && let [a, b, c] = &facts[..]
        && c.stuff.is_none()
        && c.noun.is_none()
    {
        let has = |tags: &[&str]| {
            h.items[a.at..b.at]
                .iter()
                .any(|item| matches!(item, Item::Tag(t) if tags.contains(t)))
        };
        match (has(&["~takes", "~want"]), has(&["~for", "~per"])) {
            (true, false) => (i, j) = (0, 2),
            (false, true) => (i, j) = (1, 2),
            _ => return None,
        }
        tied = alike(&facts[i], c) == 0;
    }
    if tied || more && score < 4 {
        return None;
    }
    let amounts: Vec<&Fact> = facts
        .iter()
        .enumerate()
        .filter(|(at, _)| *at != i && *at != j)
        .map(|(_, f)| f)
        .collect();
    if amounts.iter().any(|f| f.what == What::Time) {
        return None;
    }
    let (first, second) = (&facts[i], &facts[j]);
    // What stands behind 'how much' in its clause is what it is asked for.
    let asked_at = h
        .items
        .iter()
        .rposition(|i| matches!(i, Item::Tag("~howmuch" | "~howmany" | "~which")));
    let behind = asked_at.and_then(|at| {
        let next = facts.iter().find(|f| f.at > at)?;
        let same = !h.items[at..next.at]
            .iter()
            .any(|i| matches!(i, Item::Stop | Item::Tag("~if")));
        same.then_some(next)
    });
    // A clause, and what stands behind 'if', hangs together.
    let part = |at: usize| {
        h.items[..at]
            .iter()
            .filter(|i| matches!(i, Item::Stop | Item::Tag("~if")))
            .count()
    };
    let near = |f: &Fact| {
        amounts
            .iter()
            .map(|a| part(f.at).abs_diff(part(a.at)))
            .min()
    };
    // 'For ten people how much rice, 500 grams serve four': the first is asked for where the question stands behind it.
    let early = asked_at
        .is_some_and(|at| first.at < at && amounts.iter().all(|a| at < a.at && a.at < second.at));
    let (base, goal) = match behind {
        Some(next) if next == first => (second, first),
        Some(next) if next == second => (first, second),
        _ if near(second) < near(first) || early => (second, first),
        _ => (first, second),
    };
    // '2 parts of oil to 1 of vinegar, 180 ml of oil': the parts are of what is measured.
    if let [amount] = amounts[..]
        && base.unit.is_none()
        && amount.unit.is_none()
        && let Some(unit) = goal.unit.clone()
    {
        let question = Question::RuleOfThree {
            amount: amount.n,
            unit: unit.parse().ok()?,
            base: base.n,
            wanted: goal.n,
            what: amount.stuff.map(Into::into),
        };
        return (base.n > 0.0 && goal.what != What::Thing).then(|| wanted(h, question, &unit));
    }
    // '450 ml of oil at 3 parts of oil to 1 of vinegar': the parts are the measure.
    let (base, goal) = if h.has("parts") && base.unit.is_some() && goal.unit.is_none() {
        (goal, base)
    } else {
        (base, goal)
    };
    if let [amount] = amounts[..]
        && h.has("parts")
        && base.unit.is_none()
        && amount.unit.is_none()
        && let Some(unit) = goal.unit.clone()
    {
        let question = Question::RuleOfThree {
            amount: amount.n,
            unit: unit.parse().ok()?,
            base: base.n,
            wanted: goal.n,
            what: amount.stuff.map(Into::into),
        };
        return (base.n > 0.0).then(|| wanted(h, question, &unit));
    }
    // Sides of a tin are no rate.
    let sides = |pair: &[Item]| pair[0].is_number() && pair[1] == Item::Tag("~by");
    if h.items.windows(2).filter(|pair| sides(pair)).count() > 1 {
        return None;
    }
    let (mut from, to) = (base.level(), goal.level());
    if base.unit.is_some() && goal.unit.is_none() {
        from = base.n;
    } else if base.unit.is_none() && goal.unit.is_some() {
        return None;
    }
    if base.unit.is_some() && goal.unit.is_none() && base.what == What::Thing {
        return None;
    }
    if from <= 0.0 || base.what != goal.what && goal.what != What::Bare {
        return None;
    }
    let one = |amount: &Fact| {
        let egg = amount.stuff.is_some_and(|s| s.contains("egg"));
        let of_them = amount.stuff.is_some_and(|name| {
            h.items
                .windows(2)
                .any(|pair| pair[0] == Item::Tag("~howmany") && pair[1] == Item::Stuff(name))
        });
        let weighed = amount.what == What::Bare
            && !of_them
            && amount.noun.is_none()
            && (base.what == What::Mass || amount.stuff.is_some() && !egg);
        // '80 ml of vinegar to 240 of oil': the same unit.
        let measured = amount.what == What::Bare
            && !of_them
            && base.what == What::Volume
            && (amount.stuff.is_some() && !egg || amount.of(&["~oil"]));
        let unit = amount.unit.clone().unwrap_or_else(|| {
            if measured {
                base.unit.clone().unwrap_or_default()
            } else if weighed {
                "g".to_owned()
            } else {
                String::new()
            }
        });
        let question = Question::RuleOfThree {
            amount: amount.n,
            unit: unit.parse().ok()?,
            base: from,
            wanted: to,
            what: amount.stuff.or(amount.noun.and_then(many)).map(Into::into),
        };
        Some(if unit.is_empty() || more {
            question
        } else {
            wanted(h, question, &unit)
        })
    };
    match amounts[..] {
        [amount] => one(amount),
        _ => Some(Question::Together {
            each: amounts.into_iter().map(one).collect::<Option<_>>()?,
        }),
    }
}

/// 'Rice to urad dal': the one that is known and the one that is not, in their order.
fn beside_unknown(h: &Heard) -> Option<Vec<Option<&'static str>>> {
    h.items.windows(3).find_map(|three| match three {
        [Item::Stuff(name), Item::Tag("~to" | "~and"), Item::Unknown] => {
            Some(vec![Some(*name), None])
        }
        [Item::Unknown, Item::Tag("~to" | "~and"), Item::Stuff(name)] => {
            Some(vec![None, Some(*name)])
        }
        _ => None,
    })
}

/// So much in parts of several things: 'three parts oil to one part vinegar'.
pub(super) fn parts(h: &Heard) -> Option<Question> {
    let totals = h.facts_of(super::fact::Fact::is_amount);
    let shares = h.facts_of(|f| f.what == What::Bare);
    let [total] = totals[..] else {
        return None;
    };
    let [first, .., last] = shares[..] else {
        return None;
    };
    let ratio = h.any(&["parts"])
        || h.items[first.at..last.at].contains(&Item::Tag("~to"))
        || first.at + 1 == last.at
        || h.says("ratio");
    if shares.len() < 2
        || shares.len() + 1 != h.facts.len()
        || !ratio
        || h.any(&["people", "raise", "hydration"])
        || shares.iter().any(|f| {
            f.stuff.is_some() && f.stuff == total.stuff || f.noun.is_some() && f.noun == total.noun
        })
    {
        return None;
    }
    let mut names: Vec<Option<&'static str>> = shares
        .iter()
        .map(|f| f.stuff.or((f.noun == Some("~oil")).then_some("oil")))
        .collect();
    // 'Rice and dal four to one', '2:1 sugar to water': the names stand apart, in the same order.
    if names.iter().any(Option::is_none) || first.at + 1 == last.at {
        let named = |items: &[Item]| {
            let of = items.iter().filter_map(|item| match item {
                Item::Stuff(name) => Some(*name),
                _ => None,
            });
            let mut names: Vec<&'static str> = of.collect();
            names.dedup();
            names
        };
        let behind = named(&h.items[last.at..]);
        let mut apart = if first.at + 1 == last.at && behind.len() == shares.len() {
            behind
        } else {
            named(&h.items)
        };
        apart.dedup();
        let firsts: Vec<&str> = apart.into_iter().take(shares.len()).collect();
        names = if firsts.len() == shares.len() {
            firsts.into_iter().map(Some).collect()
        } else if let Some(one) =
            beside_unknown(h).filter(|_| shares.len() == 2 && total.stuff.is_none())
        {
            one
        } else {
            vec![None; shares.len()]
        };
    }
    // One of them is asked for, and which share is its own is not known.
    let asks = h.count(|i| matches!(i, Item::Tag("~howmuch")));
    if names.iter().any(Option::is_none) && asks == 1 && !h.has("~each") {
        // What is asked for has no name that is known, and only one of the two has none.
        let [a, b] = names[..] else { return None };
        let unknown = h
            .items
            .windows(2)
            .any(|two| matches!(two, [Item::Tag("~howmuch"), Item::Unknown]));
        let one = match (a, b) {
            (None, Some(_)) => 0,
            (Some(_), None) => 1,
            _ => return None,
        };
        if !unknown || total.stuff.is_some() {
            return None;
        }
        let unit = total.unit.clone()?;
        let question = Question::RuleOfThree {
            amount: total.n,
            unit: unit.parse().ok()?,
            base: shares.iter().map(|f| f.n).sum(),
            wanted: shares[one].n,
            what: None,
        };
        return Some(wanted(h, question, &unit));
    }
    let all: f64 = shares.iter().map(|f| f.n).sum();
    let unit = total.unit.clone()?;
    // 'Rice to water 1 to 1.5, and I have 360 grams of rice': what is known is one of them, and the other is asked for.
    if let Some(known) = total
        .stuff
        .and_then(|s| names.iter().position(|n| *n == Some(s)))
    {
        let [a, b] = names[..] else {
            return None;
        };
        let (other, name) = if known == 0 { (1, b) } else { (0, a) };
        let question = Question::RuleOfThree {
            amount: total.n,
            unit: unit.parse().ok()?,
            base: shares[known].n,
            wanted: shares[other].n,
            what: name.map(Into::into),
        };
        return (shares[known].n > 0.0 && a != b).then(|| wanted(h, question, &unit));
    }
    let each = shares
        .iter()
        .zip(&names)
        .map(|(share, name)| {
            let question = Question::RuleOfThree {
                amount: total.n,
                unit: unit.parse().ok()?,
                base: all,
                wanted: share.n,
                what: name.map(Into::into),
            };
            Some(wanted(h, question, &unit))
        })
        .collect::<Option<_>>()?;
    Some(Question::Together { each })
}

/// Everything by half, by two, by three.
pub(super) fn scaled(h: &Heard) -> Option<Question> {
    let amounts = h.facts_of(super::fact::Fact::is_amount);
    let shares = h.facts_of(|f| f.what == What::Bare);
    if amounts.is_empty()
        || amounts.len() > 5
        || amounts.len() + shares.len() != h.facts.len()
        || h.unit().is_some() && amounts.len() == 1 && shares.is_empty()
    {
        return None;
    }
    // 'A cup and a half of sugar' beside the cocoa that is asked about.
    let of_another = shares
        .iter()
        .any(|f| f.stuff.is_some() && amounts.iter().all(|a| a.stuff != f.stuff));
    if h.any(&["rise", "people", "dough", "starter"]) || of_another {
        return None;
    }
    let word = [
        ("double", 2.0),
        ("doubled", 2.0),
        ("doubling", 2.0),
        ("twice", 2.0),
        ("triple", 3.0),
        ("treble", 3.0),
        ("tripling", 3.0),
        ("tripled", 3.0),
        ("quadruple", 4.0),
        ("halve", 0.5),
        ("halved", 0.5),
        ("halving", 0.5),
    ]
    .into_iter()
    .find(|(w, _)| h.said(w))
    .map(|(_, f)| f);
    let factor = match (word, &shares[..]) {
        (Some(factor), []) => factor,
        (None, [one])
            if one.n < 1.0
                && (h.says_any(&[
                    "in #",
                    "by #",
                    "# the",
                    "make #",
                    "of the recipe",
                    "# of",
                    "# this",
                    "# batch",
                    "# a batch",
                    "in half",
                    "by half",
                    "half the",
                    "half of",
                    "half this",
                    "half a batch",
                    "make half",
                    "cut",
                    "by a",
                ])) =>
        {
            one.n
        }
        (None, [one])
            if h.says_any(&["# times", "times #", "times the", "by #", "times as much"]) =>
        {
            one.n
        }
        (None, [one]) if one.noun.is_none() && h.says_any(&["times"]) => one.n,
        _ => return None,
    };
    let each: Vec<Question> = amounts
        .iter()
        .map(|f| {
            Some(match f.stuff {
                Some(name) => Question::RuleOfThree {
                    amount: f.n,
                    unit: f.unit.as_deref()?.parse().ok()?,
                    base: 1.0,
                    wanted: factor,
                    what: Some(name.into()),
                },
                None => Question::Times {
                    factor,
                    number: f.n,
                    unit: f.unit.as_deref()?.parse().ok()?,
                },
            })
        })
        .collect::<Option<_>>()?;
    if each.len() > 1 {
        return Some(Question::Together { each });
    }
    let unit = amounts[0].unit.as_deref()?;
    each.into_iter()
        .next()
        .map(|question| wanted(h, question, unit))
}

/// Ten grams of salt for a litre of pasta water; otherwise amounts in another unit.
pub(super) fn convert(h: &Heard) -> Option<Question> {
    let pasta = [
        "pasta",
        "spaghetti",
        "penne",
        "macaroni",
        "linguine",
        "noodles",
        "tagliatelle",
        "fusilli",
    ];
    if h.has("pastawater") || h.says_any(&pasta) && h.says("water") {
        let water = h.facts_of(|f| f.what == What::Volume && f.stuff.is_none_or(|s| s == "water"));
        if let ([water], true, 1) = (
            &water[..],
            h.asks_for("salt") || h.words.iter().any(|w| w.starts_with("salt")),
            h.facts.len(),
        ) {
            return Some(wanted(
                h,
                Question::RuleOfThree {
                    amount: ask::pasta_salt_g(),
                    unit: UnitSymbol::GRAM,
                    base: 1000.0,
                    wanted: water.level(),
                    what: Some("salt".into()),
                },
                "g",
            ));
        }
    }
    let apart = [
        "people",
        "halves",
        "feed",
        "divide",
        "left",
        "ice",
        "percent",
        "hydration",
        "dough",
        "gelatine",
        "selfraising",
        "rise",
        "stage",
        "fry",
        "pastawater",
    ];
    // 'The scale reads 1 pound 9 for the dough, in grams': the weight alone is turned.
    let weight = |tag: &str| {
        tag == "dough"
            && h.facts.len() == 1
            && h.stuffs().is_empty()
            && !h.any(&["baked", "loss", "oven", "piece"])
    };
    // 'Half a pound of self-raising in grams': a weight is a weight.
    let weights = h.facts.iter().all(|f| f.what == What::Mass)
        && h.unit()
            .and_then(|u| Unit::find(&u, Region::Metric).ok())
            .is_some_and(|u| u.kind() == Kind::Mass);
    let plain = |tag: &str| tag == "selfraising" && weights && h.stuffs().len() < 2;
    if kitchen::beside(h)
        || apart
            .iter()
            .any(|tag| h.has(tag) && !weight(tag) && !plain(tag))
    {
        return None;
    }
    kitchen::converted(h)
}
