//! What a question says of its own measures, whose cups they are, and the numbers that reckon nothing.

use super::item::Item;
use crate::ask::Question;
use crate::measure::{Region, Unit};
use crate::order::{Order, UnitSymbol};
use crate::understand::text::{Token, tokens};

/// Words of those who write American, and measure in American cups.
const AMERICAN: [&str; 24] = [
    "all purpose flour",
    "ap flour",
    "all purpose",
    "packed brown sugar",
    "packed light brown",
    "packed dark brown",
    "confectioners sugar",
    "confectioners' sugar",
    "powdered sugar",
    "heavy cream",
    "half and half",
    "graham cracker",
    "graham crackers",
    "cornstarch",
    "leveled",
    "cake flour",
    "self rising",
    "crisco",
    "molasses",
    "semisweet",
    "cups shortening",
    "cup shortening",
    "sticks of butter",
    "stick of butter",
];

/// Does an American write? By the words of the trade or by what the oven is set to.
pub(super) fn is_american(text: &str, items: &[Item]) -> bool {
    AMERICAN.iter().any(|w| text.contains(&format!(" {w} ")))
        || items.iter().any(|item| {
            matches!(item, Item::Heat(_, Some("f")) | Item::Scale("f"))
                || matches!(item, Item::Amount(_, unit) if unit == "stick")
        })
}

/// The order of a text with its cups as its writer has them.
pub(in crate::understand) fn as_written(order: Order, text: &str) -> Order {
    let words = tokens(text);
    let said: Vec<&str> = words.iter().map(Token::word).collect();
    let american = is_american(&format!(" {} ", said.join(" ")), &[]);
    let others = [
        "metric",
        "english",
        "imperial",
        "australian",
        "uk",
        "british",
    ];
    match order {
        Order::Ask(Question::Convert {
            number,
            from,
            to,
            ingredient,
        }) if american && !said.iter().any(|w| others.contains(w)) => {
            let own = |unit: UnitSymbol| {
                if unit == UnitSymbol::CUP {
                    "us cup".parse().unwrap_or(unit)
                } else {
                    unit
                }
            };
            Order::Ask(Question::Convert {
                number,
                from: own(from),
                to: own(to),
                ingredient,
            })
        }
        order => order,
    }
}

/// The cups, pints and quarts of an American are American ones, where nobody says otherwise.
pub(super) fn with_american(mut items: Vec<Item>) -> Vec<Item> {
    for item in &mut items {
        if let Item::Amount(_, unit) | Item::Unit(unit) = item
            && ["cup", "pint", "quart", "gallon", "fl oz"].contains(&unit.as_str())
            && let Ok(found) = Unit::find(unit, Region::Metric)
        {
            *unit = found.in_region(Region::Us).full_symbol();
        }
    }
    items
}

/// What one of these measures holds in millilitres, by common standards: what is said to hold much more or less is no
/// such measure.
fn usual_ml(unit: &str) -> Option<(f64, f64)> {
    Some(match unit.rsplit(' ').next()? {
        "cup" => (180.0, 300.0),
        "tbsp" => (12.0, 21.0),
        "tsp" => (3.5, 6.5),
        _ => return None,
    })
}

/// A measure whose size the asker tells: 'the 15 ml spoon', 'cup is 240 ml', '3 teaspoons of 5 ml'.
pub(super) struct OwnMeasure {
    /// Its last word: `cup`.
    unit: String,
    ml: f64,
}

/// Takes what tells the size of a measure out of the pieces.
pub(super) fn without_sizes_told(items: Vec<Item>) -> (Vec<Item>, Option<OwnMeasure>) {
    let given = |unit: &str| {
        items.iter().any(|item| match item {
            Item::Amount(_, u) | Item::Unit(u) => u.rsplit(' ').next() == Some(unit),
            _ => false,
        })
    };
    // 'A spoon of 15 ml' is the one of the two that is of that size.
    let of_size = |ml: f64| {
        ["cup", "tbsp", "tsp"].into_iter().find(|unit| {
            given(unit) && usual_ml(unit).is_some_and(|(low, high)| (low..=high).contains(&ml))
        })
    };
    let measure = |item: Option<&Item>, unit: &str| match item {
        Some(Item::Unit(u)) => u.rsplit(' ').next() == Some(unit),
        Some(Item::Tag("~spoon")) => unit != "cup",
        _ => false,
    };
    for at in 0..items.len() {
        let Item::Amount(ml, of) = &items[at] else {
            continue;
        };
        if of != "ml" {
            continue;
        }
        let Some(unit) = of_size(*ml) else { continue };
        let next = items.get(at + 1);
        let before = at.checked_sub(1).map(|i| &items[i]);
        let (from, to) = match (before, next) {
            // 'Three teaspoons of 5 ml': the number before is of them.
            (Some(Item::Tag("~of" | "~at")), _)
                if at > 1
                    && matches!(&items[at - 2], Item::Amount(_, u) if u.rsplit(' ').next() == Some(unit)) =>
            {
                (at - 1, at + 1)
            }
            // 'The 250 ml measuring cup', 'the 15 ml spoon'.
            (Some(Item::Tag("~and" | "~in" | "~by")), next) if measure(next, unit) => {
                (at - 1, at + 2)
            }
            (None | Some(Item::Stop), next)
                if measure(next, unit) && matches!(items.get(at + 2), None | Some(Item::Stop)) =>
            {
                (at, at + 2)
            }
            // 'My cup holds 240 ml'.
            (Some(Item::Tag("volume" | "~weigh" | "~of" | "~takes")), None | Some(Item::Stop))
                if at > 1 && measure(items.get(at - 2), unit) =>
            {
                (at - 2, at + 1)
            }
            // 'Cup is 240 ml', '(spoon 15 ml)'.
            (Some(_), None | Some(Item::Stop)) if measure(before, unit) => (at - 1, at + 1),
            _ => continue,
        };
        let own = OwnMeasure {
            unit: unit.to_owned(),
            ml: *ml,
        };
        let mut rest = items.clone();
        rest.drain(from..to);
        rest.dedup_by(|a, b| *a == Item::Stop && *b == Item::Stop);
        return (rest, Some(own));
    }
    (items, None)
}

/// The amounts in the asker's own measure, as millilitres.
pub(super) fn with_own_measure(mut items: Vec<Item>, own: Option<&OwnMeasure>) -> Vec<Item> {
    let Some(own) = own else { return items };
    for item in &mut items {
        if let Item::Amount(n, unit) = item
            && unit.rsplit(' ').next() == Some(own.unit.as_str())
        {
            *n *= own.ml;
            "ml".clone_into(unit);
        }
    }
    items
}

/// Numbers that reckon nothing: 'one batch makes 36 rolls', 'one 500 gram block', 'one of those ovens', 'of that 12'.
pub(super) fn without_idle(items: Vec<Item>, text: &str) -> Vec<Item> {
    let repeats = text.contains(" of that # ") || text.contains(" of those # ");
    let checks = [" near ", " close to ", " nearly "]
        .iter()
        .any(|said| text.contains(said));
    let mut out: Vec<Item> = Vec::with_capacity(items.len());
    let mut at = 0;
    while let Some(item) = items.get(at) {
        let next = items.get(at + 1);
        let after = items.get(at + 2);
        let skip = match item {
            Item::Number(1.0) => match (next, after) {
                (Some(Item::Amount(..)), _) => 1,
                (Some(Item::Tag("~of")), Some(Item::Scale(_) | Item::Tag("oven" | "tin"))) => 2,
                // 'One batch does 36 rolls'.
                (
                    Some(Item::Tag("piece" | "tin" | "formula" | "~recipe")),
                    Some(Item::Number(_)),
                ) => 2,
                // 'One tray of 24 scones'.
                (Some(Item::Tag("piece" | "tin")), Some(Item::Tag("~of")))
                    if matches!(items.get(at + 3), Some(Item::Number(_))) =>
                {
                    3
                }
                _ => 0,
            },
            Item::Number(n) if repeats => {
                let said = out
                    .iter()
                    .any(|i| matches!(i, Item::Amount(m, _) if m == n));
                usize::from(said)
            }
            // 'Is he near two?'
            Item::Number(_) if checks => {
                let alone = |i: Option<&Item>| matches!(i, None | Some(Item::Stop));
                let from = out
                    .iter()
                    .rposition(|i| *i == Item::Stop)
                    .map_or(0, |i| i + 1);
                let empty = out[from..].iter().all(|i| *i == Item::Unknown);
                if empty && alone(next) {
                    out.truncate(from);
                    1
                } else {
                    0
                }
            }
            _ => 0,
        };
        if skip == 0 {
            out.push(item.clone());
            at += 1;
        } else {
            at += skip;
        }
    }
    out.dedup_by(|a, b| *a == Item::Stop && *b == Item::Stop);
    out
}

/// 'A pint and a half of stock': a measure without a number of its own is one and the share behind.
pub(super) fn with_shares_behind(mut items: Vec<Item>) -> Vec<Item> {
    for at in 0..items.len().saturating_sub(2) {
        let starts = at == 0 || matches!(items[at - 1], Item::Stop | Item::Tag("~of" | "~which"));
        if let (Item::Unit(unit), Item::Tag("~and"), Item::Number(share)) =
            (&items[at], &items[at + 1], &items[at + 2])
            && starts
            && *share < 1.0
        {
            items[at] = Item::Amount(1.0 + share, unit.clone());
            items.drain(at + 1..at + 3);
            break;
        }
    }
    items
}
