//! Amounts of the kitchen: one unit into another, eggs, gelatine, swaps, the rule of three.

use super::heard::{Heard, Quantity};
use super::into::wanted;
use super::item::Item;
use crate::ask::Question;
use crate::measure::{Kind, Region, Unit};
use crate::swap;

fn weights(item: &Item) -> bool {
    matches!(item, Item::Amount(..) | Item::Number(_))
}

pub(super) fn beside(h: &Heard) -> bool {
    h.items.iter().any(|item| {
        item.is_number() && !weights(item) || matches!(item, Item::Scale(_) | Item::LengthUnit(_))
    })
}

pub(super) fn gelatine(h: &Heard) -> Option<Question> {
    if !h.only(&["gelatine", "leaf", "swap", "equal", "set"])
        || !h.any(&["gelatine", "leaf"])
        || beside(h)
    {
        return None;
    }
    let strengths = h.strengths();
    let mass = |q: &Quantity| q.kind() == Some(Kind::Mass);
    match &h.quantities[..] {
        // So many leaves at so much each.
        [leaves, each]
            if leaves.unit.is_none()
                && mass(each)
                && h.any(&["~each", "~at", "~total", "~weigh"]) =>
        {
            if h.has("~howmany") {
                return None;
            }
            Some(Question::Times {
                factor: leaves.n,
                number: each.n,
                unit: each.unit.as_deref()?.parse().ok()?,
            })
        }
        // So many grams in leaves of so much each.
        [all, each] if mass(all) && mass(each) && h.has("~howmany") && h.has("leaf") => {
            let (a, b) = (all.mass()?, each.mass()?);
            Some(Question::PiecesFrom {
                dough_g: Some(a.max(b)),
                each_g: a.min(b),
            })
        }
        [q] => {
            let (unit, number) = match (q.kind(), q.unit.is_some()) {
                (Some(Kind::Mass), _) => ("g", q.mass()?),
                (Some(Kind::Volume), _) if h.any(&["set", "~for"]) => ("ml", q.grams()?),
                (None, false) if q.noun == Some("leaf") || h.has("leaf") => ("sheet", q.n),
                _ => return None,
            };
            let leaf = strengths.iter().find(|s| **s != "powder").copied();
            let (from, to) = match (&strengths[..], unit) {
                // Powder and leaves of a kind that was not said: those of the shops, gold.
                (["powder", ..] | [_, "powder"] | [_], "g" | "sheet")
                    if strengths.contains(&"powder") && h.has("leaf") && strengths.len() < 3 =>
                {
                    let leaf = leaf.unwrap_or("gold");
                    if unit == "sheet" {
                        (leaf, "powder")
                    } else {
                        ("powder", leaf)
                    }
                }
                ([], "ml") => ("gold", "gold"),
                ([one], "ml") => (*one, *one),
                ([from, to], _) => (*from, *to),
                _ => return None,
            };
            let (from, to) = (from.to_owned(), to.to_owned());
            let own = if unit == "ml" { "sheet" } else { "g" };
            let question = Question::Gelatine {
                number,
                unit: unit.parse().ok()?,
                from: from.into(),
                to: to.into(),
            };
            Some(match h.unit() {
                Some(_) if unit != "ml" => wanted(h, question, own),
                _ => question,
            })
        }
        _ => None,
    }
}

/// One thing instead of another, with its amount: the amount is of what goes out.
pub(super) fn swap(h: &Heard) -> Option<Question> {
    if beside(h) || !h.only(&["swap", "equal", "us", "uk", "au", "metric"]) {
        return None;
    }
    let [q] = &h.quantities[..] else {
        return None;
    };
    let of = q.stuff?;
    let asked = h.asked();
    let [with] = asked[..] else {
        return None;
    };
    swap::find(of, with).ok()?;
    let unit = h.of_region(q.unit.as_deref()?);
    let question = Question::Swap {
        of: of.into(),
        with: Some(with.into()),
        number: Some(q.n),
        unit: unit.parse().ok(),
    };
    Some(wanted(h, question, "g"))
}

/// Amounts in the unit that is wanted, whatever else is said.
pub(super) fn converted(h: &Heard) -> Option<Question> {
    if h.quantities.is_empty() {
        return None;
    }
    // Pounds of anything are so many kilos; between weights and measures the thing must be known.
    let kinds_meet = |unit: &str| {
        let to = Unit::find(unit, Region::Metric).ok().map(Unit::kind);
        h.quantities
            .iter()
            .all(|q| q.kind().is_some() && q.kind() == to)
    };
    // What is not known is said as it was typed.
    let typed = (h.strange() == 1)
        .then(|| h.words.iter().position(|w| w == "of"))
        .flatten()
        .and_then(|at| h.words.get(at + 1).cloned());
    if h.strange() > 0 && !h.unit().is_some_and(|u| kinds_meet(&u)) {
        return None;
    }
    // 'A kilo of which'; a bare number has no unit to come from.
    if h.quantities
        .iter()
        .any(|q| q.unit.is_none() && q.noun != Some("egg"))
    {
        return None;
    }
    let units = h.count(|i| matches!(i, Item::Unit(_)));
    let to = match h.unit() {
        Some(unit) => unit,
        None if units == 0 && h.has("~weigh") => "g".to_owned(),
        None => return None,
    };
    let mut stuffs = h.stuffs();
    stuffs.dedup();
    // 'A spoon of salt (table salt)': said twice.
    let mut asked = h.asked();
    asked.retain(|name| h.quantities.iter().all(|q| q.stuff != Some(*name)));
    // 'Stock for the barley': what it is for is not what is measured.
    let purpose = |name: &str| {
        h.items
            .windows(2)
            .any(|two| two[0] == Item::Tag("~for") && matches!(two[1], Item::Stuff(s) if s == name))
    };
    if h.quantities.iter().all(|q| q.stuff.is_some()) {
        asked.retain(|name| !purpose(name));
    }
    let region_of = |unit: &str| h.of_region(unit);
    // 'How many cups of flour is 500 grams': the one thing that is named.
    let lone = match (&asked[..], h.quantities.len()) {
        ([], _) => None,
        ([one], 1) if h.quantities[0].stuff.is_none() => Some(*one),
        _ => return None,
    };
    let each: Vec<Question> = h
        .quantities
        .iter()
        .map(|q| {
            Some(Question::Convert {
                number: q.n,
                from: region_of(q.unit.as_deref()?).parse().ok()?,
                to: to.parse().ok()?,
                ingredient: q
                    .stuff
                    .or(lone)
                    .or((q.noun == Some("~oil")).then_some("vegetable oil"))
                    .or(typed.as_deref().filter(|_| h.quantities.len() == 1))
                    .map(Into::into),
            })
        })
        .collect::<Option<_>>()?;
    match &each[..] {
        [_] => each.into_iter().next(),
        // 'A cup and two tablespoons of flour': the first is of the same thing and measured alike.
        [a, b] => {
            let (first, second) = (&h.quantities[0], &h.quantities[1]);
            // '7 ounces plus 3', 'two pounds and three ounces'.
            let between = &h.items[first.at + 1..second.at];
            let joined = between == [Item::Tag("~and")];
            // Another clause that asks is about another thing.
            let asks =
                |i: &Item| matches!(i, Item::Tag("~which" | "~howmuch" | "~howmany" | "~if"));
            if between.contains(&Item::Stop) && between.iter().any(asks) {
                return None;
            }
            let alone = first.stuff.is_none() && second.stuff.is_none();
            let plus = alone && joined && (h.said("plus") || first.unit != second.unit);
            let unnamed = first.stuff.is_none() && first.noun.is_none();
            let unknown = between.contains(&Item::Unknown);
            let sum = first.kind() == second.kind()
                && !unknown
                && (unnamed && second.stuff.is_some() || plus);
            if sum {
                added(a, b)
            } else {
                Some(Question::Together { each })
            }
        }
        _ => Some(Question::Together { each }),
    }
}

/// Two measures of one thing as one of the first.
fn added(a: &Question, b: &Question) -> Option<Question> {
    let (
        Question::Convert {
            number, from, to, ..
        },
        Question::Convert {
            number: more,
            from: other,
            ingredient,
            ..
        },
    ) = (a, b)
    else {
        return None;
    };
    let unit = |u: &str| Unit::find(u, Region::Metric).ok();
    let factor = unit(other)?.factor_to(unit(from)?).ok()?;
    Some(Question::Convert {
        number: number + more * factor,
        from: *from,
        to: *to,
        ingredient: ingredient.clone(),
    })
}

/// 'A third of 450 grams', 'double 175 grams', 'three times 85 grams'.
pub(super) fn times(h: &Heard) -> Option<Question> {
    if beside(h)
        || !h.only(&["halves", "divide", "people", "tin"])
        || h.items.iter().any(|i| matches!(i, Item::Unit(_)))
    {
        return None;
    }
    let double = h.said("double") || h.said("twice");
    match &h.quantities[..] {
        [q] if double && h.has("halves") => Some(Question::Times {
            factor: 2.0,
            number: q.n,
            unit: q.unit.as_deref()?.parse().ok()?,
        }),
        [f, q] if f.unit.is_none() && q.unit.is_some() && q.at > f.at => {
            let share = matches!(h.items.get(f.at + 1), Some(Item::Tag("~of"))) && f.n < 1.0;
            let times = h.said("times") || f.n < 1.0 && h.has("~fill");
            (share || times).then(|| {
                Some(Question::Times {
                    factor: f.n,
                    number: q.n,
                    unit: q.unit.as_deref()?.parse().ok()?,
                })
            })?
        }
        [q, f] if f.unit.is_none() && q.unit.is_some() && f.n > 0.0 && h.has("divide") => {
            Some(Question::Times {
                factor: 1.0 / f.n,
                number: q.n,
                unit: q.unit.as_deref()?.parse().ok()?,
            })
        }
        _ => None,
    }
}
