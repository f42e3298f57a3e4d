//! 'How much fresh yeast for 7 grams of dried', 'what can I use instead of butter'.

use super::convert::{again_in, mass_from};
use super::error::within;
use super::round::spoken;
use super::{Answer, AnswerPart, AskError, Context};
use crate::measure::words::capital;
use crate::measure::{Mass, Region, SayOptions, Unit, Volume, ingredients, print, say};
use crate::safety::Allergen;
use crate::swap::{self, Exchange, Measured, Swap};

/// At most so many swaps are read out.
const READ_OUT: usize = 4;

pub(super) fn swap(
    of: &str,
    with: Option<&str>,
    number: Option<f64>,
    unit: Option<&str>,
    context: &Context,
) -> Result<Answer, AskError> {
    if let Some(with) = with {
        let found = swap::find(of, with)?;
        // Leaves are counted, powder is weighed.
        let leaves = found.with.iter().any(|w| w.name == "leaf gelatine");
        if let (true, "gelatine powder", Some((mass, _))) = (
            leaves,
            found.of.as_str(),
            amount_of(found, of, number, unit, context)?,
        ) {
            return super::gelatine::gelatine(mass.as_grams(), "g", "powder", "gold");
        }
        return one(swap::find(of, with)?, of, number, unit, context);
    }
    let options = swap::options(of)?;
    match options.as_slice() {
        [only] => one(only, of, number, unit, context),
        several => list(several, of, number, unit, context),
    }
}

/// What turns plain flour into self raising. The American kind has salt in it.
pub(super) fn self_raising(
    flour_g: f64,
    region: Region,
    context: &Context,
) -> Result<Answer, AskError> {
    within("flour in grams", flour_g, 0.1, 1_000_000.0)?;
    let cups = flour_g / 125.0;
    // By the level teaspoon of each, as the table weighs it.
    let spoons = |name: &str, n: f64| -> Result<Measured, AskError> {
        let (mass, _) = mass_from(n, Unit::Teaspoon(Region::Us), name)?;
        Ok(Measured {
            name: name.to_owned(),
            mass,
        })
    };
    let mut parts = vec![spoons("baking powder", 1.5 * cups)?];
    if region == Region::Us {
        parts.push(spoons("salt", 0.25 * cups)?);
    }
    let said: Vec<String> = parts.iter().map(|p| short_part(p, context)).collect();
    let salt = if region == Region::Us {
        "; and a quarter of a teaspoon of salt a cup"
    } else {
        ""
    };
    Ok(Answer {
        value: parts[0].mass.as_grams(),
        high: None,
        unit: "g".to_owned(),
        parts: parts
            .iter()
            .map(|p| AnswerPart::grams(&p.name, p.mass))
            .collect(),
        words: format!("{}, sifted in well", said.join(" and ")),
        sum: format!("{} g / 125 g x 1.5 teaspoons", print::number(flour_g, 1)),
        source: format!(
            "common practice: one and a half teaspoons of baking powder to a cup of flour{salt}"
        ),
    })
}

/// How much goes out: what the cook said, else what the formula holds.
fn amount_of(
    swap: &Swap,
    of: &str,
    number: Option<f64>,
    unit: Option<&str>,
    context: &Context,
) -> Result<Option<(Mass, Option<Unit>)>, AskError> {
    if let Some(number) = number {
        within("number", number, 0.0, 1_000_000.0)?;
        let unit = match unit {
            Some(unit) => Unit::find(unit, context.region)?,
            None if swap.of == "egg" => Unit::Count(crate::measure::Thing::Egg),
            None => Unit::Gram,
        };
        let (mass, _) = mass_from(number, unit, &swap.of)?;
        return Ok(Some((mass, Some(unit))));
    }
    let held = context.mass_of(of).or_else(|| context.mass_of(&swap.of));
    Ok(held.map(|mass| (mass, None)))
}

fn one(
    swap: &Swap,
    of: &str,
    number: Option<f64>,
    unit: Option<&str>,
    context: &Context,
) -> Result<Answer, AskError> {
    let amount = amount_of(swap, of, number, unit, context)?;
    // Without an amount the ratio is said for a hundred grams, or for ten of what goes in by the pinch.
    let (mass, asked_in) = amount.unwrap_or((
        Mass::grams(if is_small(&swap.of) { 10.0 } else { 100.0 }),
        None,
    ));
    let parts = swap.instead_of(mass);
    let mut words = String::new();
    if amount.is_none() {
        words.push_str(&format!("for {} of {}: ", say::exact_mass(mass), swap.of));
    }
    words.push_str(&parts_in_words(swap, &parts, asked_in, context));
    let out = swap.take_out_for(mass);
    if !out.is_empty() {
        let out: Vec<String> = out.iter().map(|m| short_part(m, context)).collect();
        words.push_str(&format!("; take out {}", out.join(" and ")));
    }
    words.push_str(&format!("; {}", swap.changes));
    let exchange = swap.allergens(context.law, held(context));
    if !exchange.takes_away.is_empty() {
        words.push_str(&format!(
            "; it takes the {} out",
            spoken_list(&exchange.takes_away)
        ));
    }
    if !exchange.may_keep.is_empty() {
        words.push_str(&format!(
            "; it may still contain {}: read the packet",
            spoken_list(&exchange.may_keep)
        ));
    }
    let first_said = allergens_first(&exchange, context);
    if !first_said.is_empty() {
        words = format!("{first_said} {}", capital(&words));
    }
    let first = parts.first().map_or(0.0, |m| m.mass.as_grams());
    let listed = parts
        .iter()
        .map(|m| AnswerPart::grams(&m.name, m.mass))
        .chain(
            out.iter()
                .map(|m| AnswerPart::grams(&format!("take out {}", m.name), m.mass)),
        )
        .collect();
    Ok(Answer {
        value: first,
        high: None,
        parts: listed,
        unit: "g".to_owned(),
        words,
        sum: sum(swap, mass, &parts),
        source: swap.source.clone(),
    })
}

fn list(
    options: &[&Swap],
    of: &str,
    number: Option<f64>,
    unit: Option<&str>,
    context: &Context,
) -> Result<Answer, AskError> {
    let mut said = Vec::new();
    let mut sums = Vec::new();
    let mut warnings = Vec::new();
    // What brings nothing new comes first.
    let mut ordered = options.to_vec();
    // Who has no egg has no white of one.
    let same = format!("{of} ");
    if ordered.len() > 1 {
        ordered.retain(|swap| !swap.with.iter().any(|part| part.name.starts_with(&same)));
    }
    let exchange = |swap: &Swap| swap.allergens(context.law, held(context));
    ordered.sort_by_key(|swap| {
        let told = exchange(swap);
        (told.keeps.len(), told.brings.len(), told.may_bring.len())
    });
    // 'Egg white for egg' helps nobody who must not have egg: where others would, it is said.
    let rid = ordered.iter().any(|swap| exchange(swap).keeps.is_empty());
    let mut still = Vec::new();
    for swap in ordered.into_iter().take(READ_OUT) {
        let told = exchange(swap);
        if rid && !told.keeps.is_empty() {
            still.push(format!(
                "{} still contains {}",
                swap.with_words(),
                spoken_list(&told.keeps)
            ));
        }
        for (verb, new) in [
            ("brings in", &told.brings),
            ("may bring in", &told.may_bring),
        ] {
            if !new.is_empty() {
                warnings.push(format!("{} {verb} {}", swap.with_words(), spoken_list(new)));
            }
        }
        if let Some((mass, _)) = amount_of(swap, of, number, unit, context)? {
            let parts = swap.instead_of(mass);
            said.push(
                parts
                    .iter()
                    .map(|part| short_part(part, context))
                    .collect::<Vec<_>>()
                    .join(" with "),
            );
            sums.push(sum(swap, mass, &parts));
        } else {
            said.push(swap.with_words());
            sums.push(swap.with_words());
        }
    }
    let last = said.pop().unwrap_or_default();
    let list = if said.is_empty() {
        last
    } else {
        format!("{}, or {last}", said.join(", "))
    };
    let list = match still.as_slice() {
        [] => list,
        still => format!("{list}. {}", capital(&still.join(", and "))),
    };
    let words = if warnings.is_empty() {
        list
    } else {
        format!(
            "careful, allergens: {}. {}",
            warnings.join(", "),
            capital(&list)
        )
    };
    Ok(Answer {
        value: options.len() as f64,
        high: None,
        parts: Vec::new(),
        unit: "swaps".to_owned(),
        words,
        sum: sums.join("; "),
        source: options
            .first()
            .map_or_else(String::new, |s| s.source.clone()),
    })
}

fn held(context: &Context) -> &[String] {
    context.allergens.as_deref().unwrap_or_default()
}

/// An allergen that the formula did not have is said before anything else.
fn allergens_first(exchange: &Exchange, context: &Context) -> String {
    let mut said = Vec::new();
    if !exchange.brings.is_empty() {
        let names = spoken_list(&exchange.brings);
        said.push(if context.allergens.is_some() {
            format!("that brings in {names}, which the formula does not contain.")
        } else {
            format!("that brings in {names}.")
        });
    }
    if !exchange.may_bring.is_empty() {
        let names = spoken_list(&exchange.may_bring);
        said.push(format!("that may bring in {names}: read the packet."));
    }
    said.iter()
        .map(|s| capital(s))
        .collect::<Vec<_>>()
        .join(" ")
}

fn spoken_list(list: &[Allergen]) -> String {
    let spoken: Vec<&str> = list.iter().map(|a| a.spoken.as_str()).collect();
    spoken.join(" and ")
}

fn is_small(name: &str) -> bool {
    [
        "yeast",
        "salt",
        "baking powder",
        "soda",
        "gelatine",
        "vanilla",
        "tartar",
        "dried",
        "garlic",
        "fresh",
        "ginger",
    ]
    .iter()
    .any(|word| name.contains(word))
}

fn parts_in_words(
    swap: &Swap,
    parts: &[Measured],
    asked_in: Option<Unit>,
    context: &Context,
) -> String {
    parts
        .iter()
        .map(|part| {
            if swap.by_volume()
                && let Some(spoons) = part.spoons(context.region)
            {
                return format!("about {spoons} of {}", part.name);
            }
            if parts.len() > 1 || swap.by_volume() {
                return short_part(part, context);
            }
            match asked_in.and_then(|unit| again_in(part.mass, unit, &part.name, context)) {
                // Asked in spoons, answered in spoons: the grams are as rough.
                Some(spoons) => format!(
                    "{spoons} of {}, {}",
                    part.name,
                    spoken(part.mass.as_grams(), Unit::Gram, true, &context.say()).words
                ),
                None => say_part(part, context),
            }
        })
        .collect::<Vec<_>>()
        .join(" with ")
}

fn say_part(part: &Measured, context: &Context) -> String {
    let row = ingredients().find(&part.name);
    let how = SayOptions {
        g_per_ml: row.and_then(|i| i.g_per_ml),
        ..context.say()
    };
    say::mass_of(part.mass, &part.name, &how)
}

/// One of several parts, short: 'three quarters of a level teaspoon of baking powder' where the scale is too coarse and
/// a spoon is not, else 'about' so many grams.
fn short_part(part: &Measured, context: &Context) -> String {
    let g = part.mass.as_grams();
    let shown = part.mass.to_step(context.scale_step_g);
    if (shown.as_grams() - g).abs() <= g * say::SILENT_SHARE {
        return say_part(part, context);
    }
    let density = ingredients().find(&part.name).and_then(|i| i.g_per_ml);
    let spoons =
        density.and_then(|d| say::level_spoons(Volume::millilitres(g / d), context.region));
    match spoons {
        Some(spoons) => format!("{spoons} of {}", part.name),
        None if shown.as_grams() > 0.0 => {
            format!("about {} of {}", say::exact_mass(shown), part.name)
        }
        None => say_part(part, context),
    }
}

fn sum(swap: &Swap, mass: Mass, parts: &[Measured]) -> String {
    let lines: Vec<String> = swap
        .with
        .iter()
        .zip(parts)
        .map(|(other, part)| {
            let ratio = match (other.per_gram, other.per_volume) {
                (Some(r), _) => format!("x {}", print::number(r, 4)),
                (None, Some(r)) => format!("x {} by volume", print::number(r, 4)),
                (None, None) => String::new(),
            };
            format!(
                "{} {ratio} = {} of {}",
                print::mass(mass),
                print::mass(part.mass),
                part.name
            )
        })
        .collect();
    lines.join(" + ")
}
