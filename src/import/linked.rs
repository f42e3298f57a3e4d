//! Recipes as linked data: `application/ld+json` in all its shapes.

use std::collections::HashMap;

use serde_json::{Map, Value};

use super::draft::{Entry, Found};
use super::html;
use super::seek::find;

/// How deep links by `@id` are followed.
const DEEP: usize = 12;

/// The scripts of linked data in a page, without reading the page.
pub(super) fn scripts(html: &str) -> Vec<&str> {
    let bytes = html.as_bytes();
    let mut out = Vec::new();
    let mut at = 0;
    while let Some(found) = find(bytes, b"<script", at) {
        let Some(open) = bytes[found..].iter().position(|b| *b == b'>') else {
            break;
        };
        let body = found + open + 1;
        let tag = &bytes[found..body];
        let end = find(bytes, b"</script", body).unwrap_or(bytes.len());
        if find(tag, b"ld+json", 0).is_some() {
            out.extend(html.get(body..end));
        }
        at = end.max(body);
    }
    out
}

/// Reads JSON as pages have it: comments and CDATA around it, line breaks inside strings, commas too many.
pub(super) fn json(text: &str) -> Option<Value> {
    let text = text.trim().trim_start_matches('\u{feff}');
    let text = text
        .trim_start_matches("<!--")
        .trim_end_matches("-->")
        .trim();
    let text = text
        .trim_start_matches("//")
        .trim_start_matches("<![CDATA[")
        .trim_end_matches("//]]>")
        .trim_end_matches("]]>")
        .trim();
    let text = text.trim_end_matches(';');
    if let Ok(value) = serde_json::from_str(text) {
        return Some(value);
    }
    let mut mended = String::with_capacity(text.len());
    let (mut inside, mut escaped) = (false, false);
    for c in text.chars() {
        match c {
            '"' if !escaped => inside = !inside,
            '\n' | '\r' | '\t' if inside => {
                mended.push_str(if c == '\n' { "\\n" } else { " " });
                escaped = false;
                continue;
            }
            c if inside && c.is_control() => continue,
            ']' | '}' if !inside => {
                let stem = mended.trim_end();
                if stem.ends_with(',') {
                    mended.truncate(stem.len() - 1);
                }
            }
            _ => {}
        }
        escaped = inside && c == '\\' && !escaped;
        mended.push(c);
    }
    serde_json::from_str(&mended).ok()
}

/// The recipe with most in it, of all that stand in these data.
pub(super) fn recipe(data: &[Value]) -> Option<Found> {
    let mut recipes: Vec<&Map<String, Value>> = Vec::new();
    for value in data {
        walk(value, &mut |map| {
            if is_type(map, "Recipe") {
                recipes.push(map);
            }
        });
    }
    let links = Links {
        by_id: collect(data),
    };
    let mut all: Vec<Found> = recipes
        .iter()
        .map(|map| links.read(map))
        .filter(Found::is_recipe)
        .collect();
    let best = (0..all.len()).max_by_key(|at| {
        (
            all[*at].ingredients.len() + all[*at].steps.len(),
            usize::MAX - at,
        )
    })?;
    let others: Vec<String> = (0..all.len())
        .filter(|at| *at != best && all[*at].name != all[best].name)
        .map(|at| format!("The page has another recipe: {}", all[at].name))
        .collect();
    let mut found = all.swap_remove(best);
    found.rest.extend(others);
    Some(found)
}

fn collect(data: &[Value]) -> HashMap<&str, &Map<String, Value>> {
    let mut by_id = HashMap::new();
    for value in data {
        walk(value, &mut |map| {
            if let Some(id) = map.get("@id").and_then(Value::as_str)
                && map.len() > 1
            {
                by_id.entry(id).or_insert(map);
            }
        });
    }
    by_id
}

fn walk<'v>(value: &'v Value, each: &mut impl FnMut(&'v Map<String, Value>)) {
    match value {
        Value::Array(all) => all.iter().for_each(|v| walk(v, each)),
        Value::Object(map) => {
            each(map);
            map.values().for_each(|v| walk(v, each));
        }
        _ => {}
    }
}

fn is_type(map: &Map<String, Value>, name: &str) -> bool {
    let is = |v: &Value| {
        v.as_str()
            .is_some_and(|t| t.rsplit(['/', '#', ':']).next() == Some(name))
    };
    match map.get("@type").or_else(|| map.get("type")) {
        Some(Value::Array(all)) => all.iter().any(is),
        Some(one) => is(one),
        None => false,
    }
}

struct Links<'v> {
    by_id: HashMap<&'v str, &'v Map<String, Value>>,
}

impl Links<'_> {
    /// A map, or the one that it only points to.
    fn full<'m>(&'m self, map: &'m Map<String, Value>) -> &'m Map<String, Value> {
        let id = map
            .get("@id")
            .and_then(Value::as_str)
            .filter(|_| map.len() == 1);
        id.and_then(|id| self.by_id.get(id).copied()).unwrap_or(map)
    }

    /// Every text of a value: strings, `@value`, `text`, `name`.
    fn texts(&self, value: &Value, deep: usize) -> Vec<String> {
        if deep > DEEP {
            return Vec::new();
        }
        match value {
            Value::String(s) => vec![html::plain(s)],
            Value::Number(n) => vec![n.to_string()],
            Value::Array(all) => all.iter().flat_map(|v| self.texts(v, deep + 1)).collect(),
            Value::Object(map) => {
                let map = self.full(map);
                if let Some(said) = in_english(map) {
                    return self.texts(said, deep + 1);
                }
                // An amount of money, or of anything else.
                if let (Some(value), Some(unit)) = (
                    map.get("value"),
                    map.get("currency").or_else(|| map.get("unitText")),
                ) {
                    let said = [self.texts(value, deep + 1), self.texts(unit, deep + 1)].concat();
                    return vec![said.join(" ")];
                }
                let keys = [
                    "@value",
                    "text",
                    "name",
                    "description",
                    "itemListElement",
                    "url",
                    "@list",
                ];
                keys.iter()
                    .find_map(|k| map.get(*k))
                    .map_or_else(Vec::new, |v| self.texts(v, deep + 1))
            }
            _ => Vec::new(),
        }
    }

    fn first(&self, value: Option<&Value>) -> Option<String> {
        value.and_then(|v| self.texts(v, 0).into_iter().find(|t| !t.trim().is_empty()))
    }

    fn read(&self, map: &Map<String, Value>) -> Found {
        let mut found = Found::default();
        for (key, value) in map {
            let key = key.rsplit(['/', '#', ':']).next().unwrap_or(key);
            match key {
                "name" => found.name = self.first(Some(value)).unwrap_or_default(),
                "headline" | "alternateName" => {
                    let text = self.first(Some(value)).unwrap_or_default();
                    if !text.is_empty() {
                        found.rest.push(text);
                    }
                }
                "description" => found.about = self.texts(value, 0).join(" "),
                "recipeYield" | "yield" => found.makes = self.yields(value),
                "recipeIngredient" | "ingredients" | "ingredient" | "supply" => {
                    self.ingredients(value, &mut found.ingredients, 0);
                }
                "recipeInstructions" | "step" | "instructions" => {
                    self.steps(value, None, &mut found.steps, 0);
                }
                "author" | "publisher" | "creator" | "url" | "isBasedOn" | "citation"
                | "copyrightHolder" | "sourceOrganization" => {
                    found
                        .source
                        .extend(self.texts(value, 0).into_iter().take(3));
                }
                "keywords" | "recipeCategory" | "recipeCuisine" => {
                    found.tags.extend(
                        self.texts(value, 0)
                            .iter()
                            .flat_map(|t| t.split(','))
                            .map(|t| t.trim().to_owned()),
                    );
                }
                "tool" => found.equipment.extend(self.texts(value, 0)),
                "prepTime" | "cookTime" | "totalTime" | "performTime" => {
                    if let Some(text) = self.first(Some(value)) {
                        let what = match key {
                            "prepTime" => "preparation",
                            "cookTime" | "performTime" => "cooking",
                            _ => "in all",
                        };
                        match super::yields::iso(&text) {
                            Some(said) => found.times.push(format!("{what} {said}")),
                            None => found.times.push(format!("{what} {text}")),
                        }
                    }
                }
                "image" | "thumbnailUrl" => {
                    if found.picture.is_none() {
                        found.picture = match value {
                            Value::Object(map) => self.first(self.full(map).get("url")),
                            Value::Array(all) => all.iter().find_map(|v| match v {
                                Value::Object(map) => self.first(self.full(map).get("url")),
                                v => self.first(Some(v)),
                            }),
                            v => self.first(Some(v)),
                        };
                    }
                }
                "nutrition" => {
                    if let Value::Object(map) = value {
                        for (k, v) in self.full(map).iter().filter(|(k, _)| !k.starts_with('@')) {
                            found
                                .rest
                                .push(format!("{k}: {}", self.texts(v, 0).join(" ")));
                        }
                    }
                }
                "cookingMethod"
                | "suitableForDiet"
                | "estimatedCost"
                | "comment"
                | "recipeNotes"
                | "notes"
                | "disambiguatingDescription" => {
                    found.notes.extend(self.texts(value, 0));
                }
                // What the page is, who liked it, and what is shown beside it: nobody cooks by that.
                "@context"
                | "@type"
                | "@id"
                | "type"
                | "mainEntityOfPage"
                | "isPartOf"
                | "potentialAction"
                | "inLanguage"
                | "mainEntity"
                | "aggregateRating"
                | "review"
                | "reviews"
                | "interactionStatistic"
                | "interactionCount"
                | "commentCount"
                | "datePublished"
                | "dateModified"
                | "dateCreated"
                | "uploadDate"
                | "video"
                | "speakable"
                | "isAccessibleForFree"
                | "hasPart"
                | "identifier"
                | "sameAs"
                | "copyrightYear"
                | "wordCount"
                | "contentRating"
                | "@reverse"
                | "thumbnail"
                | "license"
                | "offers" => {}
                _ => {
                    let said = self.texts(value, 0).join(", ");
                    if !said.is_empty() && said.len() < 500 {
                        found.rest.push(format!("{key}: {said}"));
                    }
                }
            }
        }
        found.source.dedup();
        // Several pages put the recipe's lines into one string each.
        if found.ingredients.len() == 1 && found.ingredients[0].text.contains('\n') {
            let text = found.ingredients.remove(0).text;
            found.ingredients = section_lines(&text);
        }
        let split: Vec<Entry> = std::mem::take(&mut found.ingredients)
            .into_iter()
            .flat_map(|e| {
                let lines: Vec<Entry> = e
                    .text
                    .lines()
                    .map(|l| Entry {
                        title: None,
                        part: e.part.clone(),
                        text: l.trim().to_owned(),
                    })
                    .collect();
                lines
            })
            .filter(|e| !e.text.is_empty())
            .collect();
        found.ingredients = headed(split);
        found
    }

    fn yields(&self, value: &Value) -> Vec<String> {
        match value {
            Value::Object(map) => {
                let map = self.full(map);
                let n = self
                    .first(map.get("value").or_else(|| map.get("minValue")))
                    .unwrap_or_default();
                let to = self
                    .first(map.get("maxValue"))
                    .map(|to| format!("-{to}"))
                    .unwrap_or_default();
                let unit = self
                    .first(
                        map.get("unitText")
                            .or_else(|| map.get("unitCode"))
                            .or_else(|| map.get("name")),
                    )
                    .unwrap_or_default();
                if n.is_empty() && to.is_empty() {
                    return self.texts(value, 0);
                }
                vec![format!("{n}{to} {}", of_code(&unit)).trim().to_owned()]
            }
            Value::Array(all) => all.iter().flat_map(|v| self.yields(v)).collect(),
            v => self.texts(v, 0),
        }
    }

    fn ingredients(&self, value: &Value, out: &mut Vec<Entry>, deep: usize) {
        if deep > DEEP {
            return;
        }
        match value {
            Value::Array(all) => all.iter().for_each(|v| self.ingredients(v, out, deep + 1)),
            Value::Object(map) => {
                let map = self.full(map);
                if let Some(items) = map.get("itemListElement").or_else(|| map.get("@list")) {
                    let part = self.first(map.get("name")).map(|n| n.to_lowercase());
                    let from = out.len();
                    self.ingredients(items, out, deep + 1);
                    for entry in &mut out[from..] {
                        entry.part = entry.part.take().or_else(|| part.clone());
                    }
                    return;
                }
                if let Some(said) = map.get("@value").or_else(|| in_english(map)) {
                    return self.ingredients(said, out, deep + 1);
                }
                let name = self
                    .first(
                        map.get("name")
                            .or_else(|| map.get("item"))
                            .or_else(|| map.get("text"))
                            .or_else(|| map.get("@value")),
                    )
                    .unwrap_or_default();
                let amount = map
                    .get("requiredQuantity")
                    .or_else(|| map.get("amount"))
                    .or_else(|| map.get("quantity"));
                let amount = match amount {
                    Some(v @ Value::Object(_)) => self.yields(v).join(" "),
                    Some(v) => self.texts(v, 0).join(" "),
                    None if map.contains_key("value") => {
                        self.yields(value).join(" ").replace(&name, "")
                    }
                    None => String::new(),
                };
                let unit = self.first(map.get("unit")).unwrap_or_default();
                let text = [amount, unit, name].join(" ");
                out.push(Entry {
                    title: None,
                    part: None,
                    text: text.split_whitespace().collect::<Vec<_>>().join(" "),
                });
            }
            v => out.extend(self.texts(v, 0).into_iter().map(|text| Entry {
                title: None,
                part: None,
                text,
            })),
        }
    }

    fn steps(&self, value: &Value, part: Option<&str>, out: &mut Vec<Entry>, deep: usize) {
        if deep > DEEP {
            return;
        }
        match value {
            Value::Array(all) => all.iter().for_each(|v| self.steps(v, part, out, deep + 1)),
            Value::String(s) => {
                let text = html::plain(s);
                out.extend(step_lines(&text).into_iter().map(|text| Entry {
                    title: None,
                    part: part.map(str::to_owned),
                    text,
                }));
            }
            Value::Object(map) => {
                let map = self.full(map);
                if let Some(said) = in_english(map) {
                    self.steps(said, part, out, deep + 1);
                    return;
                }
                let name = self.first(map.get("name"));
                let inner = map
                    .get("itemListElement")
                    .or_else(|| map.get("steps"))
                    .or_else(|| map.get("@list"))
                    .or_else(|| map.get("step"));
                if let Some(inner) = inner {
                    if is_type(map, "HowToStep") {
                        // Directions and tips of one step.
                        let texts = self.direction_texts(inner);
                        let own = self.first(map.get("text"));
                        let all: Vec<String> = own.into_iter().chain(texts).collect();
                        let (title, text) = with_name(name, all.join(" "));
                        out.push(Entry {
                            title,
                            part: part.map(str::to_owned),
                            text,
                        });
                        return;
                    }
                    let section = name.map(|n| n.trim_end_matches(':').to_lowercase());
                    let section = section.map(|n| {
                        n.strip_prefix("for the ")
                            .or_else(|| n.strip_prefix("make the "))
                            .map_or(n.clone(), str::to_owned)
                    });
                    self.steps(inner, section.as_deref().or(part), out, deep + 1);
                    return;
                }
                let text = self.first(
                    map.get("text")
                        .or_else(|| map.get("description"))
                        .or_else(|| map.get("@value")),
                );
                match (text, name, map.get("item")) {
                    (Some(text), name, _) => {
                        let lines = step_lines(&text);
                        let several = lines.len() > 1;
                        for (n, line) in lines.into_iter().enumerate() {
                            let (title, text) = if n == 0 && !several {
                                with_name(name.clone(), line)
                            } else {
                                (None, line)
                            };
                            out.push(Entry {
                                title,
                                part: part.map(str::to_owned),
                                text,
                            });
                        }
                    }
                    (None, _, Some(item)) => self.steps(item, part, out, deep + 1),
                    (None, Some(name), None) => out.push(Entry {
                        title: None,
                        part: part.map(str::to_owned),
                        text: name,
                    }),
                    (None, None, None) => {}
                }
            }
            _ => {}
        }
    }

    fn direction_texts(&self, value: &Value) -> Vec<String> {
        match value {
            Value::Array(all) => all.iter().flat_map(|v| self.direction_texts(v)).collect(),
            v => self.texts(v, 0),
        }
    }
}

/// Of a text in several languages the English one, else the first: `{ "de": "...", "en": "..." }`.
fn in_english(map: &Map<String, Value>) -> Option<&Value> {
    let is_language = |key: &String| {
        let main = key.split('-').next().unwrap_or_default();
        key == "@none"
            || (2..=3).contains(&main.len()) && main.bytes().all(|b| b.is_ascii_lowercase())
    };
    let plain = |v: &Value| v.is_string() || v.is_array() || v.is_object();
    if map.is_empty()
        || map.contains_key("url")
        || !map.iter().all(|(key, v)| is_language(key) && plain(v))
    {
        return None;
    }
    let english = map.iter().find(|(key, _)| key.starts_with("en"));
    english.or_else(|| map.iter().next()).map(|(_, v)| v)
}

/// The unit of a UN/CEFACT common code, as `unitCode` has it (Recommendation 20, from memory).
fn of_code(code: &str) -> &str {
    match code {
        "GRM" => "g",
        "KGM" => "kg",
        "MLT" => "ml",
        "CLT" => "cl",
        "DLT" => "dl",
        "LTR" => "l",
        "ONZ" => "oz",
        "LBR" => "lb",
        "C62" | "EA" | "H87" | "NMP" => "",
        code => code,
    }
}

/// The name of a step is its heading, where it is a short one; else it stands before the text, unless that begins with it.
fn with_name(name: Option<String>, text: String) -> (Option<String>, String) {
    let Some(name) = name.filter(|n| !n.is_empty()) else {
        return (None, text);
    };
    let stem = name.trim_end_matches(['.', '…', ' ', ':']);
    let lower = stem.to_lowercase();
    let numbered = lower.starts_with("step ") || lower.chars().all(|c| c.is_ascii_digit());
    let short =
        stem.split_whitespace().count() <= 12 && !stem.contains(|c: char| c.is_ascii_digit());
    let begins = text.to_lowercase().starts_with(&lower);
    if numbered || begins && (!short || text.len() < stem.len() + 3) {
        return (None, text);
    }
    if short && !text.trim().is_empty() {
        return (Some(stem.to_owned()), text);
    }
    (None, format!("{stem}. {text}"))
}

/// Steps that stand in one string: one a line, unless the lines are broken at a width.
pub(super) fn step_lines(text: &str) -> Vec<String> {
    let own: Vec<&str> = text
        .lines()
        .map(str::trim)
        .filter(|l| l.chars().any(char::is_alphanumeric))
        .collect();
    let whole = |l: &&str| {
        l.ends_with(['.', '!', ')', ':', '?', '"']) && l.starts_with(|c: char| !c.is_lowercase())
    };
    if own.len() > 1 && own.iter().filter(|l| whole(l)).count() * 5 >= own.len() * 4 {
        return own
            .iter()
            .map(|l| super::text::unnumbered(l).to_owned())
            .filter(|l| !l.is_empty())
            .collect();
    }
    let found = super::text::read(&format!("x\n\nMethod\n{text}"), Some("x"));
    let mut lines: Vec<String> = found.steps.iter().map(|e| e.text.clone()).collect();
    if lines.is_empty()
        || found.ingredients.len() + found.notes.len() + found.rest.len() + found.makes.len() > 0
    {
        lines = own
            .iter()
            .map(|l| super::text::unnumbered(l).to_owned())
            .filter(|l| !l.is_empty())
            .collect();
    }
    lines
}

fn section_lines(text: &str) -> Vec<Entry> {
    headed(
        text.lines()
            .map(|l| Entry {
                title: None,
                part: None,
                text: l.trim().to_owned(),
            })
            .filter(|e| !e.text.is_empty())
            .collect(),
    )
}

/// Lines such as 'For the dough:' are the part of those below.
pub(super) fn headed(entries: Vec<Entry>) -> Vec<Entry> {
    let mut part = None;
    let mut out = Vec::new();
    for entry in entries {
        let text = entry.text.trim().trim_start_matches('#').trim();
        let colon = text.ends_with(':');
        if let Some(name) = super::text::part_of(text, false).filter(|_| {
            colon || text.to_lowercase().starts_with("for the ") || text == text.to_uppercase()
        }) {
            part = Some(name);
            continue;
        }
        out.push(Entry {
            title: None,
            part: entry.part.or_else(|| part.clone()),
            text: entry.text,
        });
    }
    out
}
