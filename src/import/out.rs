//! A formula given out: as linked data of schema.org, and as Markdown.

use serde_json::{Value, json};

use crate::formula::{Batch, Formula, Quantity, Step, fill};
use crate::measure::print as printed;
use crate::time::Span;

/// An ingredient in one line: amount, name, note, choice.
fn line(f: &Formula, batch: &Batch, at: usize) -> String {
    let i = &f.ingredients[at];
    let quantity = batch.quantity(f, at, 1.0);
    // Of things that are only counted the weight is that of all of them.
    let mut weight = String::new();
    let amount = quantity.map_or_else(String::new, |q| match q.printed_count() {
        Some(count) if is_of_itself(&q, &i.name) => {
            if q.is_weighed() {
                weight = format!(" ({} in all)", q.printed(printed::mass));
            }
            let end = count
                .find(|c: char| c.is_alphabetic() && !count.contains(" to "))
                .unwrap_or(count.len());
            let end = if count.contains(" to ") {
                count
                    .rfind(|c: char| c.is_ascii_digit())
                    .map_or(count.len(), |at| at + 1)
            } else {
                end
            };
            count[..end].trim().to_owned()
        }
        Some(count) if q.is_weighed() => format!("{count} ({})", q.printed(printed::mass)),
        Some(count) => count,
        None => q.printed(printed::mass),
    });
    let household = i
        .household
        .as_ref()
        .filter(|_| i.count.is_none())
        .map_or(String::new(), |h| format!(" ({h})"));
    let or: String = i.or.iter().map(|o| format!(" or {o}")).collect();
    // 'Butter or margarine, for the top': what it is for holds for each of them.
    let (name, purpose) = match i.name.split_once(" for the ") {
        Some((name, purpose)) if !or.is_empty() => (name, format!(", for the {purpose}")),
        _ => (i.name.as_str(), String::new()),
    };
    let note = i.note.iter().map(|n| format!(", {n}")).collect::<String>();
    let note = format!("{purpose}{note}");
    let extra = i
        .extra
        .iter()
        .map(|e| format!(", plus extra {e}"))
        .collect::<String>();
    let like = if i.optional { " (optional)" } else { "" };
    match i.words.as_deref() {
        Some("as needed") => format!("{name}{or}{note}{extra}{like}"),
        Some(words) if words.starts_with("for ") || words.starts_with("to ") => {
            format!("{name}{or} {words}{note}{extra}{like}")
        }
        Some(words) => format!("{name}{or}, {words}{note}{extra}{like}"),
        None => format!("{amount}{household} {name}{or}{weight}{note}{extra}{like}"),
    }
}

/// What is counted is the thing itself: two onions, three egg yolks.
fn is_of_itself(q: &Quantity, name: &str) -> bool {
    let unit = q.count.map_or("", |(.., one)| one);
    let last = |text: &str| {
        text.split_whitespace()
            .last()
            .map(super::line::one)
            .unwrap_or_default()
    };
    q.is_bare() || last(unit) == last(name)
}

/// A step in plain words, with its amounts, its cautions, and the times that its text does not say.
fn text(f: &Formula, batch: &Batch, step: &Step) -> String {
    let mut text = fill(&step.text, |id| {
        let at = f.find(id)?;
        let part = if step.part_of(at) > 0.0 {
            step.part_of(at)
        } else {
            1.0
        };
        batch
            .quantity(f, at, part)
            .map(|q| q.printed(printed::mass))
    });
    // Those that whoever reads the text would not find.
    let mut read: Vec<(Span, Option<Span>)> = super::step::read(&text)
        .timers
        .iter()
        .map(|t| (t.lasts.from, t.lasts.to))
        .collect();
    for timer in &step.timers {
        if let Some(at) = read.iter().position(|r| *r == (timer.lasts, timer.most)) {
            read.remove(at);
            continue;
        }
        let lasts = super::words::written(super::words::Lasts {
            from: timer.lasts,
            to: timer.most,
        });
        text.push_str(&format!(
            " {}: {lasts}.",
            crate::measure::words::capital(&timer.name)
        ));
    }
    if let Some(heat) = step
        .oven_c
        .map(|c| printed::number(c, 0))
        .filter(|heat| !text.contains(heat.as_str()))
    {
        text.push_str(&format!(" In the oven at {heat} °C."));
    }
    for caution in &step.cautions {
        text.push_str(&format!(" {caution}"));
    }
    text
}

fn makes(f: &Formula) -> String {
    let portions = printed::number(f.makes.portions, 1);
    f.makes.portions_to.map_or_else(
        || portions.clone(),
        |to| format!("{portions}-{}", printed::number(to, 1)),
    )
}

/// As a `Recipe` of schema.org, in JSON-LD.
pub fn linked(f: &Formula) -> Value {
    let batch = Batch::as_written(f);
    let mut ingredients: Vec<String> = Vec::new();
    let mut part: Option<&String> = None;
    for at in 0..f.ingredients.len() {
        let own = f.ingredients[at].part.as_ref();
        if own != part
            && let Some(name) = own
        {
            ingredients.push(format!("For the {name}:"));
        }
        part = own;
        ingredients.push(line(f, &batch, at));
    }
    let step =
        |s: &Step| json!({ "@type": "HowToStep", "name": s.title, "text": text(f, &batch, s) });
    let mut steps: Vec<Value> = Vec::new();
    let mut at = 0;
    while at < f.steps.len() {
        let part = &f.steps[at].part;
        let to = f.steps[at..]
            .iter()
            .position(|s| s.part != *part)
            .map_or(f.steps.len(), |n| at + n);
        let inside: Vec<Value> = f.steps[at..to].iter().map(step).collect();
        match part {
            Some(name) => steps
                .push(json!({ "@type": "HowToSection", "name": name, "itemListElement": inside })),
            None => steps.extend(inside),
        }
        at = to;
    }
    let pieces = printed::number(f.makes.pieces, 1);
    let mut out = json!({
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": f.name,
        "recipeYield": [format!("{} servings", makes(f)), format!("{pieces} {}", f.makes.piece)],
        "recipeIngredient": ingredients,
        "recipeInstructions": steps,
    });
    let mut put = |key: &str, value: &str| {
        if !value.is_empty() {
            out[key] = json!(value);
        }
    };
    put("description", &f.about);
    put("comment", f.told.note.as_deref().unwrap_or_default());
    put("isBasedOn", f.told.source.as_deref().unwrap_or_default());
    put("image", f.told.picture.as_deref().unwrap_or_default());
    put("keywords", &f.told.tags.join(", "));
    if !f.told.equipment.is_empty() {
        out["tool"] = json!(f.told.equipment);
    }
    out
}

/// As Markdown.
pub fn markdown(f: &Formula) -> String {
    let batch = Batch::as_written(f);
    let mut out = format!("# {}\n\n", f.name);
    if !f.about.is_empty() {
        out += &format!("{}\n\n", f.about);
    }
    out += &format!("Serves {}\n", makes(f));
    if let Some(source) = &f.told.source {
        out += &format!("\nSource: {source}\n");
    }
    out += "\n## Ingredients\n\n";
    let mut part: Option<&String> = None;
    for at in 0..f.ingredients.len() {
        let own = f.ingredients[at].part.as_ref();
        if own != part
            && let Some(name) = own
        {
            out += &format!("\n### {}\n\n", crate::measure::words::capital(name));
        }
        part = own;
        out += &format!("- {}\n", line(f, &batch, at));
    }
    out += "\n## Method\n\n";
    for (n, step) in f.steps.iter().enumerate() {
        out += &format!("{}. {}\n", n + 1, text(f, &batch, step));
    }
    if !f.told.equipment.is_empty() {
        out += &format!("\n## Equipment\n\n{}\n", f.told.equipment.join(", "));
    }
    let told: Vec<&str> = [&f.told.note, &f.told.keeps]
        .into_iter()
        .flatten()
        .map(String::as_str)
        .collect();
    if !told.is_empty() {
        out += &format!("\n## Notes\n\n{}\n", told.join("\n\n"));
    }
    out
}
