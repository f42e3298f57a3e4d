//! Sums that are told as so much for each: chains of them, and what a rate of the asker's own makes of an amount.

use super::fact::{Fact, What};
use super::heard::Heard;
use super::into::wanted;
use super::item::Item;
use crate::ask::Question;
use crate::measure::{Kind, Region, Unit};
use crate::order::UnitSymbol;

/// What is made ahead of the dough.
const AHEAD: [&str; 3] = ["starter", "poolish", "biga"];
/// Words that make a number one for each.
const EACH: [&str; 3] = ["~each", "~per", "~for"];

/// Is it a spoon or a cup?
fn is_spoon(unit: &str) -> bool {
    ["tsp", "tbsp", "cup"].contains(&unit.rsplit(' ').next().unwrap_or_default())
}

/// 'My salt is 10 grams a tablespoon': what the asker says of a measure goes before what the table says.
pub(super) fn stated(h: &Heard) -> Option<Question> {
    let rate = h.facts.iter().find_map(|mass| {
        if mass.what != What::Mass {
            return None;
        }
        let rest = &h.items[mass.at + 1..];
        let (unit, past) = match rest {
            [Item::Tag("~per"), Item::Amount(n, unit), ..] if *n == 1.0 => (unit, 2),
            [Item::Amount(n, unit), ..] if *n == 1.0 => (unit, 1),
            [Item::Tag("~each" | "~per"), Item::Unit(unit), ..] => (unit, 2),
            [Item::Unit(unit), ..] => (unit, 1),
            _ => return None,
        };
        let of_another = matches!(
            rest.get(past..),
            Some([Item::Tag("~of"), Item::Stuff(_), ..] | [Item::Stuff(_), ..])
        );
        (is_spoon(unit) && !of_another && mass.stuff.is_none()).then(|| (mass, unit.clone()))
    });
    let (mass, unit) = rate?;
    let is_rate = |f: &Fact| f.at == mass.at || f.at > mass.at && f.at <= mass.at + 2 && f.n == 1.0;
    let others = h.facts_of(|f| !is_rate(f));
    let [one] = others[..] else { return None };
    let own: UnitSymbol = unit.parse().ok()?;
    match one.what {
        What::Volume if one.unit.as_deref() == Some(unit.as_str()) => {
            let own = mass.unit.clone()?;
            let question = Question::RuleOfThree {
                amount: mass.n,
                unit: own.parse().ok()?,
                base: 1.0,
                wanted: one.n,
                what: None,
            };
            Some(question)
        }
        What::Mass => Some(Question::RuleOfThree {
            amount: 1.0,
            unit: own,
            base: mass.grams()?,
            wanted: one.grams()?,
            what: None,
        }),
        _ => None,
    }
}

/// 'My eggs weigh six ounces: the butter, the sugar and the flour are each how much': the same weight in another unit.
pub(super) fn equal_weights(h: &Heard) -> Option<Question> {
    let [one] = &h.facts[..] else { return None };
    let equal = h.has("~each") && h.has("egg")
        || h.says_any(&[
            "equal weight",
            "equal weights",
            "same weight",
            "weight of the eggs",
        ]);
    let (apart, to) = (h.apart(), h.unit()?);
    (one.what == What::Mass && equal && apart.len() >= 2 && h.asked_each().is_empty())
        .then_some(())?;
    Some(Question::Convert {
        number: one.n,
        from: one.unit.as_deref()?.parse().ok()?,
        to: to.parse().ok()?,
        ingredient: None,
    })
}

/// Is this number said to be for one of something?
fn for_each(h: &Heard, fact: &Fact) -> bool {
    h.clause_of(fact)
        .iter()
        .any(|i| matches!(i, Item::Tag(tag) if EACH[..2].contains(tag)))
        || matches!(
            h.items.get(fact.at + 1..),
            Some(
                [Item::Tag("~for"), Item::Number(1.0), ..]
                    | [_, Item::Tag("~for"), Item::Number(1.0), ..]
            )
        )
        || h.clause_of(fact).windows(3).any(|three| {
            matches!(
                three,
                [
                    Item::Tag("~for"),
                    Item::Number(1.0),
                    Item::Tag("people" | "~plate")
                ]
            )
        })
}

/// 'For 180 people, each takes four and each of them has 22 grams': so many times so many times so much.
pub(super) fn chain(h: &Heard) -> Option<Question> {
    let idle = |f: &Fact| f.what == What::Bare && f.n == 1.0;
    let facts = h.facts_of(|f| !idle(f));
    let masses: Vec<&&Fact> = facts.iter().filter(|f| f.is_amount()).collect();
    let counts: Vec<&&Fact> = facts.iter().filter(|f| f.what == What::Bare).collect();
    if masses.len() + counts.len() != facts.len()
        || h.any(&[
            "hydration",
            "percent",
            "loss",
            "feed",
            "tin",
            "left",
            "raise",
            "ice",
        ])
    {
        return None;
    }
    let whole = |f: &Fact| f.n.fract() == 0.0 && f.n >= 2.0;
    let counted = ["people", "piece", "~plate"];
    let asks_count = h.has("~howmany") && h.unit().is_none();
    match (&counts[..], &masses[..]) {
        ([many, few], [each]) => {
            // The name of what each of them takes may be known to nobody.
            let unnamed = few.of(&["~food"])
                || few.noun.is_none()
                    && few.stuff.is_none()
                    && h.items.get(few.at + 1) == Some(&Item::Unknown);
            let people = many.of(&["people", "~plate"]) && (few.of(&["piece"]) || unnamed);
            let total = h.any(&["~total", "~howmuch"]) || h.unit().is_some();
            let rated = for_each(h, few) || h.says_any(&["everybody", "everyone", "each one"]);
            if !people || !rated || !for_each(h, each) || !total || asks_count {
                return None;
            }
            let unit = each.unit.clone()?;
            let question = Question::Times {
                factor: many.n * few.n,
                number: each.n,
                unit: unit.parse().ok()?,
            };
            Some(wanted(h, question, &unit))
        }
        // 'An ounce and a quarter on each plate, 48 plates'.
        ([many], [each])
            if whole(many)
                && many.of(&counted)
                && for_each(h, each)
                && !h.any(&["divide", "dough"])
                && (h.unit().is_some() || h.any(&["~total", "~howmuch"])) =>
        {
            let unit = each.unit.clone()?;
            let question = Question::Times {
                factor: many.n,
                number: each.n,
                unit: unit.parse().ok()?,
            };
            Some(wanted(h, question, &unit))
        }
        // '120 grams for each of 85 guests, and an egg is 50 grams'.
        ([many], [each, one])
            if whole(many) && many.of(&["people", "~plate"]) && for_each(h, each) =>
        {
            let is_egg = |f: &Fact| {
                matches!(
                    h.items.get(..f.at),
                    Some([.., Item::Number(1.0) | Item::Tag("~each"), Item::Tag("egg")])
                )
            };
            (is_egg(one) && !is_egg(each)).then_some(())?;
            Some(Question::RuleOfThree {
                amount: many.n,
                unit: UnitSymbol::NONE,
                base: one.grams()?,
                wanted: each.grams()?,
                what: Some("eggs".into()),
            })
        }
        _ => None,
    }
}

/// Where 'how many' is asked and both are of one measure: so much in all, and so much in each.
pub(super) fn out_of(h: &Heard) -> Option<Question> {
    let masses = h.facts_of(|f| f.what == What::Mass);
    let [a, b] = masses[..] else { return None };
    let others = h.facts.len() - masses.len();
    let (small, large) = if a.grams()? < b.grams()? {
        (a, b)
    } else {
        (b, a)
    };
    let leaves = h.has("leaf") && others == 0;
    let eggs = h.has("egg") && for_each(h, small) && !h.any(&["yolk", "white", "people"]);
    // 'One crate has 30 eggs' beside what each weighs.
    let beside = h
        .facts_of(|f| f.what == What::Bare && (f.n == 1.0 || f.of(&["egg"])))
        .len()
        == others;
    let asks = h.has("~howmany") && h.unit().is_none();
    if !asks || !(leaves || eggs && beside) || h.any(&["percent", "dough", "tin"]) && !eggs {
        return None;
    }
    Some(Question::PiecesFrom {
        dough_g: Some(large.grams()?),
        each_g: small.grams()?,
    })
}

/// 'Fifty kilos of flour, 168 percent of it in all, buns of 65 grams': how many.
pub(super) fn pieces_of_flour(h: &Heard) -> Option<Question> {
    let [a, b, c] = &h.facts[..] else { return None };
    let find = |is: &dyn Fn(&Fact) -> bool| [a, b, c].into_iter().find(|f| is(f));
    let flour = find(&|f| f.is_amount() && f.of_flour())?;
    let level = find(&|f| f.what == What::Percent && f.n > 100.0)?;
    let each = find(&|f| f.what == What::Mass && f.at != flour.at)?;
    let all =
        h.any(&["~total", "dough", "formula"]) || h.says_any(&["everything", "the lot", "sum"]);
    (all && h.has("~howmany") && h.has("piece") && h.unit().is_none()).then_some(())?;
    Some(Question::PiecesFrom {
        dough_g: Some(flour.grams()? * level.n / 100.0),
        each_g: each.grams()?,
    })
}

/// 'Twenty minutes to the pound and twenty over': how long for so many pounds.
pub(super) fn time_by_weight(h: &Heard) -> Option<Question> {
    let times = h.facts_of(|f| f.what == What::Time);
    let rate = *times.iter().find(|f| {
        matches!(
            h.items.get(f.at + 1..),
            Some(
                [Item::Tag("~per"), Item::Amount(..), ..]
                    | [
                        Item::Tag("~for" | "~each"),
                        Item::Tag("~each"),
                        Item::Amount(..),
                        ..
                    ]
                    | [Item::Unit(_) | Item::Amount(..), ..]
            )
        )
    })?;
    // 'Twenty minutes to the pound', '45 minutes a kilo'.
    let (per_at, per_g) = match h.items.get(rate.at + 1) {
        Some(Item::Unit(unit)) => {
            let unit = Unit::find(unit, Region::Metric).ok()?;
            (unit.kind() == Kind::Mass).then_some((rate.at + 1, unit.size()))?
        }
        _ => {
            let per = h
                .facts
                .iter()
                .find(|f| f.at > rate.at && f.what == What::Mass)?;
            (per.at, per.grams()?)
        }
    };
    let weights = h.facts_of(|f| f.what == What::Mass && f.at != per_at);
    let [weight] = weights[..] else { return None };
    let mut over = 0.0;
    for fact in h.facts_of(|f| ![rate.at, per_at, weight.at].contains(&f.at)) {
        let more = h.items[..fact.at].last() == Some(&Item::Tag("~and"));
        let is_time = fact.what == What::Time
            || fact.what == What::Bare && fact.noun.is_none() && fact.stuff.is_none();
        if !more
            || !is_time
            || over > 0.0
            || !h.says_any(&["over", "extra", "more", "on top", "at the end", "plus"])
        {
            return None;
        }
        over = fact.n;
    }
    let asks = h.any(&["long", "~total"]) || h.says_any(&["how long", "minutes"]);
    if !asks || rate.n <= 0.0 {
        return None;
    }
    Some(Question::Times {
        factor: weight.grams()? / per_g + over / rate.n,
        number: rate.n,
        unit: UnitSymbol::MINUTE,
    })
}

/// More water for a dough that stands at one hydration and is to come to another; the number behind 'to' is of percent.
pub(super) fn more_water(h: &Heard) -> Option<Question> {
    let percents = h.facts_of(|f| f.what == What::Percent);
    let weights = h.facts_of(|f| f.is_amount() && f.of_flour());
    let bare = h.facts_of(|f| f.what == What::Bare && f.noun.is_none() && f.stuff.is_none());
    let more = h.has("~more") || h.says_any(&["extra", "add", "top up"]);
    if !more || !h.asks_for("water") || percents.len() + weights.len() + bare.len() != h.facts.len()
    {
        return None;
    }
    let ([weight], (a, b)) = (
        &weights[..],
        match (&percents[..], &bare[..]) {
            ([a, b], []) => (a.n, b.n),
            ([a], [b]) if h.items[..b.at].last() == Some(&Item::Tag("~to")) => (a.n, b.n),
            _ => return None,
        },
    ) else {
        return None;
    };
    if !(30.0..150.0).contains(&a) || !(30.0..150.0).contains(&b) || b <= a {
        return None;
    }
    let question = Question::MoreWater {
        flour_g: Some(weight.grams()?),
        from: a,
        to: b,
    };
    Some(wanted(h, question, "g"))
}

/// A starter brought to another hydration by flour or water alone.
pub(super) fn starter_changed(h: &Heard) -> Option<Question> {
    let masses = h.facts_of(|f| f.what == What::Mass);
    let levels = h.facts_of(|f| f.what == What::Percent);
    let ([all], [from, to]) = (&masses[..], &levels[..]) else {
        return None;
    };
    if h.facts.len() != 3
        || !(all.of(&AHEAD) || all.noun.is_none() && all.stuff.is_none() && h.any(&AHEAD))
        || from.n <= 0.0
        || to.n <= 0.0
    {
        return None;
    }
    if !h.says_any(&[
        "add",
        "adding",
        "to add",
        "without taking",
        "mix in",
        "more",
        "extra",
    ]) {
        return None;
    }
    let flour = all.grams()? / (1.0 + from.n / 100.0);
    let water = all.grams()? - flour;
    let (more, what) = if to.n < from.n && h.asks_for("flour") {
        (water / (to.n / 100.0) - flour, "flour")
    } else if to.n > from.n && h.asks_for("water") {
        (flour * to.n / 100.0 - water, "water")
    } else {
        return None;
    };
    let question = Question::RuleOfThree {
        amount: all.grams()?,
        unit: UnitSymbol::GRAM,
        base: all.grams()?,
        wanted: more,
        what: Some(what.into()),
    };
    Some(wanted(h, question, "g"))
}

/// 'The butter brings 1.5 percent of salt, 400 grams of it, and the dough has 26 in all': what is still to be added.
pub(super) fn still_to_add(h: &Heard) -> Option<Question> {
    let levels = h.facts_of(|f| f.what == What::Percent);
    let masses = h.facts_of(|f| f.what == What::Mass);
    let ([level], [a, b]) = (&levels[..], &masses[..]) else {
        return None;
    };
    let still = h.any(&["~more", "left"]) || h.says_any(&["still", "add", "on top"]);
    let name = level.stuff?;
    if h.facts.len() != 3 || !still || !h.has("~total") || !h.asks_for(name) {
        return None;
    }
    let (total, part) = match (a.stuff == Some(name), b.stuff == Some(name)) {
        (true, false) => (a, b),
        (false, true) => (b, a),
        _ => return None,
    };
    let within = part.grams()? * level.n / 100.0;
    let all = total.grams()?;
    (within < all).then_some(())?;
    let question = Question::RuleOfThree {
        amount: all,
        unit: UnitSymbol::GRAM,
        base: all,
        wanted: all - within,
        what: Some(name.into()),
    };
    Some(wanted(h, question, "g"))
}

/// 'A third of my nine kilos of flour goes into a poolish with its own weight of water, the dough is at 70 percent': the
/// water for the rest.
pub(super) fn water_after(h: &Heard) -> Option<Question> {
    let flours = h.facts_of(|f| f.is_amount() && f.of_flour());
    let shares = h.facts_of(|f| {
        f.what == What::Bare && f.n < 1.0
            || f.what == What::Percent && matches!(h.items.get(f.at + 1), Some(Item::Tag("~of")))
    });
    let levels = h.facts_of(|f| f.what == What::Percent && !shares.iter().any(|s| s.at == f.at));
    let ([flour], [share], [level]) = (&flours[..], &shares[..], &levels[..]) else {
        return None;
    };
    let equal = h.says_any(&[
        "its own weight",
        "its weight",
        "the same weight",
        "equal weight",
        "as much water",
        "equal water",
        "equal parts",
    ]);
    let ahead = h.any(&["poolish", "sponge", "preferment", "starter"]);
    let asks = h.any(&["left", "final", "~more"]) && h.asks_for("water");
    if h.facts.len() != 3 || !equal || !ahead || !asks {
        return None;
    }
    let part = if share.what == What::Percent {
        share.n / 100.0
    } else {
        share.n
    };
    let water = level.n / 100.0 - part;
    (water > 0.0).then_some(())?;
    let unit = flour.unit.clone()?;
    let is_mass = Unit::find(&unit, Region::Metric).is_ok_and(|u| u.kind() == Kind::Mass);
    is_mass.then_some(())?;
    let question = Question::RuleOfThree {
        amount: flour.n,
        unit: unit.parse().ok()?,
        base: 1.0,
        wanted: water,
        what: Some("water".into()),
    };
    Some(wanted(h, question, &unit))
}
