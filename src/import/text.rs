//! Plain text and Markdown: which lines are ingredients, which are steps, and what the others are.

use super::draft::{Entry, Found};
use super::words::{length, words};
use super::{line, tidy};

/// What the lines below a heading are.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Place {
    Head,
    Ingredients,
    Steps,
    Notes,
    Equipment,
    Skip,
}

/// Headings and what stands below them. A heading may go on: `Ingredients (serves 4)`.
#[rustfmt::skip]
const HEADINGS: [(&str, Place); 47] = [
    ("shopping", Place::Ingredients), ("zutaten", Place::Ingredients), ("ingrédients", Place::Ingredients),
    ("zubereitung", Place::Steps), ("préparation", Place::Steps), ("step by step", Place::Steps),
    ("you want", Place::Ingredients), ("you will want", Place::Ingredients),
    ("ingredients", Place::Ingredients), ("ingredient list", Place::Ingredients),
    ("ingredience", Place::Ingredients), ("ingrediants", Place::Ingredients), ("ingedients", Place::Ingredients),
    ("you will need", Place::Ingredients), ("you'll need", Place::Ingredients), ("you need", Place::Ingredients),
    ("what you need", Place::Ingredients), ("what you'll need", Place::Ingredients),
    ("what you will need", Place::Ingredients), ("shopping list", Place::Ingredients),
    ("formula", Place::Ingredients), ("method", Place::Steps), ("methode", Place::Steps),
    ("directions", Place::Steps), ("instructions", Place::Steps), ("preparation", Place::Steps),
    ("preparation method", Place::Steps), ("procedure", Place::Steps), ("process", Place::Steps),
    ("steps", Place::Steps), ("how to make it", Place::Steps), ("how to make", Place::Steps),
    ("what to do", Place::Steps), ("to make", Place::Steps), ("mode", Place::Steps), ("here's how", Place::Steps),
    ("notes", Place::Notes), ("note", Place::Notes), ("tips", Place::Notes), ("tip", Place::Notes),
    ("cook's notes", Place::Notes), ("storage", Place::Notes), ("to store", Place::Notes),
    ("equipment", Place::Equipment), ("special equipment", Place::Equipment), ("nutrition", Place::Skip),
    ("comments", Place::Skip),
];

/// A line without the signs of lists and headings, and what they were.
struct Line<'t> {
    text: &'t str,
    heading: usize,
    bullet: bool,
    numbered: bool,
}

fn strip(raw: &str) -> Line<'_> {
    let mut text = raw.trim().trim_start_matches('>').trim();
    let heading = text.bytes().take_while(|b| *b == b'#').count();
    text = text.trim_matches('#').trim();
    let mut bullet = false;
    for mark in [
        "- [ ]", "- [x]", "* [ ]", "[ ]", "☐", "▢", "•", "·", "◦", "‣", "▪", "●", "- ", "* ", "+ ",
        "– ", "— ",
    ] {
        if let Some(rest) = text.strip_prefix(mark) {
            (bullet, text) = (true, rest.trim());
        }
    }
    let mut numbered = false;
    let after_step = ["step ", "Step ", "STEP "]
        .iter()
        .find_map(|s| text.strip_prefix(s));
    let from = after_step.unwrap_or(text);
    let digits = from.bytes().take_while(u8::is_ascii_digit).count();
    if (1..=2).contains(&digits) {
        let rest = &from[digits..];
        let next = rest.chars().next();
        let good = match next {
            Some('.' | ')') => {
                rest[1..].starts_with([' ', '\t', '*'])
                    || rest[1..].starts_with(char::is_alphabetic)
            }
            Some(':' | '-' | '–' | '—' | ' ') | None => after_step.is_some(),
            _ => false,
        };
        // '1 Rub the butter into the flour'
        let bare = rest.strip_prefix(' ').is_some_and(|rest| {
            let mut words = rest.split_whitespace();
            let (first, second) = (
                words.next().unwrap_or_default(),
                words.next().unwrap_or_default(),
            );
            first.starts_with(char::is_uppercase)
                && words.count() >= 3
                && (super::step::begins(&first.to_lowercase(), &second.to_lowercase())
                    || first == "For" && second == "the")
        });
        if good || bare {
            numbered = true;
            text = rest.trim_start_matches(['.', ')', ':', '-', '–', '—', ' ', '\t']);
        }
    }
    Line {
        text,
        heading,
        bullet,
        numbered,
    }
}

/// A step without its number or bullet.
pub(super) fn unnumbered(raw: &str) -> &str {
    let line = strip(raw);
    if line.heading > 0 { raw } else { line.text }
}

/// Text without the signs of stress: `**Bake**`, `_golden_`.
fn unstressed(text: &str) -> String {
    let mut out = text.replace("**", "").replace("__", "");
    for mark in ['*', '_', '`'] {
        if out.matches(mark).count() >= 2 {
            out = out.replace(mark, "");
        }
    }
    out.replace('\\', "")
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

/// What a heading begins, and what stands behind it on its line.
fn heading(line: &str) -> Option<(Place, String)> {
    let bare = line.trim_matches(['*', '_', '=', '-', ' ', '~']).trim();
    let lower = bare.to_lowercase().replace('’', "'");
    let slip = |word: &str| word.len() > 5 && line::near(lower.trim_end_matches(':'), word);
    if let Some((_, place)) = HEADINGS.iter().find(|(word, _)| slip(word)) {
        return Some((*place, String::new()));
    }
    if let Some(place) = label(&lower) {
        return Some((place, String::new()));
    }
    // 'You'll want a big onion, a thumb of ginger, 3 cloves garlic'
    for lead in [
        "you'll want ",
        "you will want ",
        "you'll need ",
        "you will need ",
        "you need ",
        "u need ",
    ] {
        if let Some(list) = lower.strip_prefix(lead)
            && line::split_list(list).len() > 1
            && line::is_measured(list)
        {
            let from = bare.len().checked_sub(list.len())?;
            return Some((Place::Ingredients, bare.get(from..)?.to_owned()));
        }
    }
    let found = HEADINGS
        .iter()
        .filter(|(word, _)| lower.starts_with(word))
        .max_by_key(|(word, _)| word.len())?;
    let rest = bare.get(found.0.len()..)?;
    let trimmed = rest.trim_start_matches(['*', '_']).trim();
    let plain = trimmed.is_empty() || trimmed == ":";
    if plain {
        return Some((found.1, String::new()));
    }
    // 'Ingredients: 200 g flour, 2 eggs', 'Ingredients (serves 4)', 'Ingredients for the dough:'
    if let Some(inside) = trimmed.strip_prefix([':', '–', '—', '-']) {
        // 'Preparation: 15 minutes' tells a time.
        let all = words(inside);
        if length(&all, 0).is_some_and(|(_, end)| all.len() <= end + 3) {
            return None;
        }
        return Some((found.1, inside.trim_start_matches('*').trim().to_owned()));
    }
    if trimmed.starts_with('(')
        || trimmed.starts_with("for ") && found.1 == Place::Ingredients && trimmed.len() < 50
    {
        return Some((found.1, trimmed.trim_end_matches(':').to_owned()));
    }
    None
}

/// A short line by itself that names what stands below it, in words of its own: 'What u need', 'Do like this:'.
fn label(lower: &str) -> Option<Place> {
    let bare = lower.trim_end_matches([':', '!', '.', '…', ' ', '-', '–', '—']);
    let bare = bare.strip_prefix("the ").unwrap_or(bare);
    let all: Vec<&str> = bare
        .split(|c: char| !c.is_alphanumeric() && c != '\'')
        .filter(|w| !w.is_empty())
        .collect();
    if all.is_empty()
        || all.len() > 6
        || bare.contains(|c: char| c.is_ascii_digit() || ",;".contains(c))
    {
        return None;
    }
    let begins = |any: &[&str]| {
        any.iter().any(|lead| {
            bare.starts_with(lead) && !bare[lead.len()..].starts_with(char::is_alphanumeric)
        })
    };
    let last = all[all.len() - 1];
    if begins(&[
        "you will need",
        "you'll need",
        "you need",
        "u need",
        "u will need",
        "what you need",
        "what u need",
        "what you'll need",
        "what you will need",
        "what you want",
        "you will want",
        "you'll want",
        "what to buy",
        "what to get",
        "what goes in",
        "what's in it",
        "shopping list",
        "parts list",
        "grocery list",
        "things you need",
        "stuff you need",
        "get these",
        "get this",
        "take",
        "gather",
        "buy",
        "bill of materials",
        "materials",
        "components",
        "what i use",
        "what we need",
        "thing to prepare",
        "things to prepare",
        "for this you need",
        "what you'll want",
        "mise en place",
        "have ready",
    ]) && (all.len() > 1
        || matches!(bare, "materials" | "components" | "take" | "gather" | "buy"))
        || matches!(last, "ingredients" | "ingredient") && all.len() <= 4
        || all[0] == "ingredients" && all.len() <= 3
    {
        return Some(Place::Ingredients);
    }
    if begins(&[
        "what you do",
        "what u do",
        "what to do",
        "do this",
        "do like this",
        "do it like this",
        "how to",
        "how you",
        "how i",
        "how it",
        "how we",
        "here's how",
        "heres how",
        "to make it",
        "to make",
        "way of",
        "mode of",
        "manner of",
        "now do",
        "making it",
        "let's cook",
        "let's make",
        "what happens",
        "what i do",
        "what we do",
        "then do",
        "here's what",
        "cooking instructions",
        "the making",
        "do so",
        "putting it together",
        "putting together",
        "working method",
        "this is how",
        "so it goes",
        "order of work",
        "work order",
    ]) && lower.len() < 45
        && (all.len() > 2 || lower.ends_with(':') || !begins(&["to make"]))
        || matches!(
            last,
            "method"
                | "methode"
                | "directions"
                | "instructions"
                | "procedure"
                | "assembly"
                | "technique"
                | "workflow"
                | "preparation"
        ) && all.len() <= 3
        || all[0] == "method" && all.len() <= 4
    {
        return Some(Place::Steps);
    }
    if begins(&[
        "comments",
        "leave a comment",
        "leave a reply",
        "you might also like",
        "you may also like",
        "related",
        "more recipes",
        "share this",
        "about the author",
        "reviews",
        "what people said",
        "newsletter",
        "subscribe",
        "other recipes",
        "see also",
    ]) || last == "comments" && all.len() <= 2
    {
        return Some(Place::Skip);
    }
    if begins(&[
        "cook's note",
        "cooks note",
        "good to know",
        "hints",
        "variations",
        "make ahead",
        "to freeze",
        "substitutions",
        "serving suggestion",
        "storing",
        "leftovers",
    ]) && all.len() <= 4
    {
        return Some(Place::Notes);
    }
    None
}

/// What parts of dishes are called, where nothing else marks their heading. Nobody buys them as such.
#[rustfmt::skip]
const PARTS: [&str; 22] = [
    "dough", "topping", "filling", "sauce", "crust", "glaze", "icing", "marinade", "dressing", "base", "starter",
    "poolish", "levain", "preferment", "biga", "sponge", "soaker", "frosting", "crumble", "streusel", "garnish",
    "batter",
];

/// `For the dough:`, `DOUGH`, `### Dough`: a part of the dish.
pub(super) fn part_of(raw: &str, marked: bool) -> Option<String> {
    let bare = raw.trim().trim_matches(['*', '_', '=', ' ', '#']).trim();
    let bare = bare.trim_start_matches(['-', '–', '—', ' ']);
    // 'ROUGH PUFF PASTRY (one quantity)'
    let unbracketed = bare
        .strip_suffix(')')
        .and_then(|b| b.split_once(" ("))
        .map(|(b, _)| b);
    let bare = unbracketed
        .filter(|b| *b == b.to_uppercase())
        .unwrap_or(bare);
    let stem = bare
        .strip_suffix(':')
        .unwrap_or(bare)
        .trim_matches(['*', '_', ' ']);
    let lower = stem.to_lowercase();
    let count = stem.split_whitespace().count();
    if stem.is_empty()
        || count > 6
        || stem.contains(|c: char| c.is_ascii_digit() || ",;.!?".contains(c))
    {
        return None;
    }
    let named = [
        "for the ",
        "for ",
        "to make the ",
        "to finish",
        "to serve",
        "the ",
    ]
    .iter()
    .find_map(|lead| {
        lower
            .strip_prefix(lead)
            .map(|rest| (rest.to_owned(), *lead))
    });
    let capitals =
        stem.chars().any(char::is_alphabetic) && stem == stem.to_uppercase() && stem.len() > 3;
    let last = lower.rsplit(' ').next().unwrap_or_default();
    let common = count <= 3
        && PARTS.contains(&last)
        && !raw.trim().starts_with(['-', '*', '•'])
        && stem.starts_with(char::is_uppercase);
    let alone = [
        "to serve",
        "to finish",
        "to garnish",
        "to decorate",
        "to assemble",
        "for serving",
        "for dusting",
        "for frying",
    ]
    .contains(&lower.as_str());
    let stressed = raw.trim().starts_with("**") && raw.trim().trim_end_matches(':').ends_with("**");
    if !(bare.ends_with(':')
        || raw.trim().ends_with(":**")
        || marked
        || capitals
        || stressed
        || alone
        || common)
    {
        return None;
    }
    Some(match named {
        Some((rest, "to finish" | "to serve")) if rest.is_empty() => lower,
        Some((rest, _)) if !rest.is_empty() => rest,
        _ => lower,
    })
}

/// `Serves 4`, `Prep: 20 min`, `Source: ...`: what the whole dish is told by. True where the line was one.
fn meta(line: &str, found: &mut Found) -> bool {
    let lower = line.to_lowercase();
    let lower = lower.trim_start_matches(['(', '*', '_']).trim();
    let after = |lead: &str| lower.strip_prefix(lead).map(str::to_owned);
    let short = line.split_whitespace().count() <= 12;
    if short
        && ([
            "serves",
            "makes",
            "yield",
            "servings",
            "portions",
            "feeds",
            "enough for",
            "for about",
            "quantity:",
            "cuts into ",
            "serving",
        ]
        .iter()
        .any(|lead| lower.starts_with(lead))
            || lower.starts_with("ergibt")
            || lower.starts_with("for ")
                && lower.contains("people") | lower.contains("person") | lower.contains("pers.")
            || lower.ends_with("servings") | lower.ends_with("portions")
                && lower.split_whitespace().count() <= 3)
    {
        let pieces = line.split(['|', '•', '·', ';']);
        let pieces = pieces.flat_map(|piece| piece.split(". "));
        for piece in pieces
            .flat_map(|piece| piece.split("  "))
            .filter(|p| !p.trim().is_empty())
        {
            let lower = piece.to_lowercase();
            if lower.contains("min") | lower.contains("hour") | lower.contains("prep") {
                found.times.push(piece.trim().to_owned());
            } else {
                found.makes.push(piece.trim().to_owned());
            }
        }
        return true;
    }
    let times = [
        "prep",
        "cook time",
        "cooking time",
        "total time",
        "time:",
        "ready in",
        "cook:",
        "bake:",
        "bake time",
        "baking time",
        "total:",
        "active",
        "rest:",
        "chill time",
        "proving:",
        "cooking:",
    ];
    if short
        && times.iter().any(|lead| lower.starts_with(lead))
        && words(lower)
            .iter()
            .any(|w| w.text.starts_with(|c: char| c.is_ascii_digit()))
    {
        found.times.push(line.to_owned());
        for piece in line.split(['|', '•', '·', ';', ',']) {
            let p = piece.trim().to_lowercase();
            if p.starts_with("serves") || p.starts_with("makes") {
                found.makes.push(piece.trim().to_owned());
            }
        }
        return true;
    }
    for lead in [
        "source:",
        "from:",
        "adapted from",
        "recipe by",
        "author:",
        "by:",
    ] {
        if let Some(rest) = after(lead) {
            let at = line.len() - rest.len().min(line.len());
            found
                .source
                .push(line.get(at..).unwrap_or(line).trim().to_owned());
            return true;
        }
    }
    if ["to:", "subject:", "sent:", "date:", "cc:"]
        .iter()
        .any(|lead| lower.starts_with(lead))
        && found.ingredients.is_empty()
    {
        found.rest.push(line.to_owned());
        return true;
    }
    for lead in ["tags:", "keywords:", "category:", "categories:"] {
        if let Some(rest) = after(lead) {
            found.tags.extend(
                rest.split(',')
                    .map(|t| t.trim().to_owned())
                    .filter(|t| !t.is_empty()),
            );
            return true;
        }
    }
    if lower.starts_with("keeps ")
        || lower.starts_with("storage:")
        || lower.starts_with("store ") && short
    {
        found.keeps = Some(line.to_owned());
        return true;
    }
    false
}

/// A row of a Markdown table, as a line; nothing for its rule. Without a bar in front its neighbour is to be one as well.
fn table_row(lines: &[&str], at: usize) -> Option<Vec<String>> {
    let inner = lines[at].trim();
    let bars = inner.matches('|').count();
    let beside = [at.checked_sub(1), Some(at + 1)]
        .into_iter()
        .flatten()
        .any(|k| lines.get(k).is_some_and(|l| l.matches('|').count() == bars));
    if bars == 0 || !(inner.starts_with('|') || bars >= 2 && beside) {
        return None;
    }
    let cells: Vec<String> = inner
        .trim_matches('|')
        .split('|')
        .map(|c| unstressed(c.trim()))
        .collect();
    Some(cells)
}

/// A line that reads as an instruction.
fn is_instruction(text: &str) -> bool {
    let count = text.split_whitespace().count();
    let ends = text.trim_end().ends_with(['.', '!']);
    // 'Butter the size of a hazelnut'
    if text.contains("the size of") && count <= 8 {
        return false;
    }
    let first = text
        .split_whitespace()
        .next()
        .unwrap_or_default()
        .to_lowercase();
    let second = text
        .split_whitespace()
        .nth(1)
        .unwrap_or_default()
        .to_lowercase();
    let second = second.trim_matches(|c: char| !c.is_alphabetic());
    // 'Sour: mix, 28 °C, 14-16 h.'
    if let Some((head, doing)) = text.split_once(": ")
        && head.split_whitespace().count() <= 3
        && !head.contains(|c: char| c.is_ascii_digit())
        && (ends || takes_time(doing))
    {
        let word = |n: usize| {
            let word = doing.split_whitespace().nth(n).unwrap_or_default();
            word.trim_matches(|c: char| !c.is_alphabetic())
                .to_lowercase()
        };
        if super::step::begins(&word(0), &word(1)) {
            return true;
        }
    }
    // 'Brown beef w onions 10 mins'
    if super::step::does(&first) && count >= 4 && takes_time(text) {
        return true;
    }
    let verb = super::step::begins(first.trim_matches(|c: char| !c.is_alphabetic()), second);
    // 'Cream shortening and sugar. Add eggs and beat well.'
    let later = text.split(". ").skip(1).any(|sentence| {
        let mut words = sentence.split_whitespace().map(str::to_lowercase);
        let (first, second) = (
            words.next().unwrap_or_default(),
            words.next().unwrap_or_default(),
        );
        super::step::begins(&first, &second)
    });
    verb && count >= 4 && !line::ends_with_amount(text) || ends && (later || count > 12)
}

/// A length of time stands in it.
fn takes_time(text: &str) -> bool {
    let all = words(text);
    (0..all.len()).any(|at| length(&all, at).is_some())
}

/// How much of a text is read, in bytes.
const MOST: usize = 200_000;
/// How far up and down a line's neighbours are looked at.
const NEAR: usize = 60;

/// Of a text that is longer than any recipe the part around the first word of ingredients, and how much is left out.
fn around_recipe(text: &str) -> (&str, usize) {
    if text.len() <= MOST {
        return (text, 0);
    }
    let word = super::seek::find(text.as_bytes(), b"ingredient", 0).unwrap_or(0);
    let near = |mut at: usize| {
        while !text.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let from = near(word.saturating_sub(MOST / 4));
    let part = &text[from..near((from + MOST).min(text.len()))];
    (part, text.len() - part.len())
}

/// The lines of the paragraph around one, or the nearest of them.
fn paragraph(lines: &[&str], at: usize) -> (usize, usize) {
    let (low, high) = (at.saturating_sub(NEAR), (at + NEAR).min(lines.len()));
    let from = lines[low..at]
        .iter()
        .rposition(|l| l.trim().is_empty())
        .map_or(low, |i| low + i + 1);
    let to = lines[at..high]
        .iter()
        .position(|l| l.trim().is_empty())
        .map_or(high, |i| at + i);
    (from, to)
}

/// Sorts the lines of a text. `title` is what the page calls itself.
pub(super) fn read(text: &str, title: Option<&str>) -> Found {
    let (text, left) = around_recipe(text);
    let (tidied, scanned) = tidy::lines(text);
    let mut found = Found {
        scanned,
        ..Found::default()
    };
    if left > 0 {
        found.rest.push(format!(
            "The source goes on for {left} letters that were not read."
        ));
    }
    let lines: Vec<&str> = tidied.iter().map(String::as_str).collect();
    let has = |place: Place| {
        lines
            .iter()
            .any(|raw| heading(strip(raw).text).is_some_and(|(p, _)| p == place))
    };
    let (has_list, has_method) = (has(Place::Ingredients), has(Place::Steps));
    let mut place = Place::Head;
    let mut part: Option<String> = None;
    // So many ingredients stood before its heading.
    let mut part_since = usize::MAX;
    let mut paragraph_open = false;
    let mut table: Option<Vec<String>> = None;
    let mut about: Vec<(usize, String)> = Vec::new();
    let mut front = false;
    for (at, raw) in lines.iter().enumerate() {
        let line = strip(raw);
        if raw.trim().is_empty() {
            paragraph_open = false;
            table = None;
            continue;
        }
        // Rules and the fences of a front matter.
        if raw.trim().len() >= 3 && raw.trim().chars().all(|c| "-=*_~".contains(c)) {
            front = at == 0 && raw.trim() == "---" || front && raw.trim() != "---";
            continue;
        }
        let clean = unstressed(line.text);
        if clean.is_empty() {
            continue;
        }
        if front && clean.contains(':') {
            let (key, value) = clean.split_once(':').unwrap_or((&clean, ""));
            let value = value.trim().trim_matches(['"', '\'']);
            match key.trim().to_lowercase().as_str() {
                "title" | "name" => value.clone_into(&mut found.name),
                "servings" | "yield" | "serves" | "makes" => found.makes.push(value.to_owned()),
                "tags" | "keywords" | "category" => {
                    found.tags.extend(
                        value
                            .trim_matches(['[', ']'])
                            .split(',')
                            .map(|t| t.trim().to_owned()),
                    );
                }
                "source" | "author" | "url" => found.source.push(value.to_owned()),
                _ => found.rest.push(clean.clone()),
            }
            continue;
        }
        if let Some((next, rest)) =
            heading(line.text).filter(|_| !(line.numbered && place == Place::Steps))
        {
            place = next;
            part = None;
            paragraph_open = false;
            if rest.is_empty() {
                // A heading in words of its own is kept as a comment.
                let lower = clean.to_lowercase();
                if !HEADINGS
                    .iter()
                    .any(|(word, _)| lower.trim_end_matches([':', ' ']) == *word)
                {
                    found.rest.push(clean.clone());
                }
                continue;
            }
            let rest = unstressed(&rest);
            if rest.starts_with('(') {
                let inside = rest.trim_matches(['(', ')']).to_owned();
                if !meta(&inside, &mut found) {
                    found.rest.push(inside);
                }
            } else if let Some(name) = rest
                .strip_prefix("for ")
                .filter(|_| next == Place::Ingredients)
            {
                let name = name.strip_prefix("the ").unwrap_or(name);
                if words(name)
                    .first()
                    .is_some_and(|w| w.text.starts_with(|c: char| c.is_ascii_digit()))
                {
                    found.makes.push(name.to_owned());
                } else {
                    part = Some(name.to_lowercase());
                }
            } else {
                match next {
                    Place::Ingredients => {
                        found
                            .ingredients
                            .extend(line::split_list(&rest).into_iter().map(|text| Entry {
                                title: None,
                                part: None,
                                text,
                            }));
                    }
                    Place::Steps => {
                        found.steps.push(Entry {
                            title: None,
                            part: None,
                            text: rest,
                        });
                        paragraph_open = true;
                    }
                    Place::Equipment => found
                        .equipment
                        .extend(rest.split(',').map(|t| t.trim().to_owned())),
                    _ => found.notes.push(rest),
                }
            }
            continue;
        }
        if found.name.is_empty()
            && place == Place::Head
            && title.is_none()
            && !meta(&clean, &mut found)
        {
            found.name = clean;
            continue;
        }
        if line.heading == 1 && place == Place::Head {
            found.name = clean;
            continue;
        }
        // 'Here you go, finally dug it out.' is no name where one stands in capitals below.
        let is_talk = |text: &str| {
            text.ends_with(['.', '!', ',', ':']) || text.split_whitespace().count() > 8
        };
        if place == Place::Head
            && title.is_none()
            && is_talk(&found.name)
            && clean.len() > 4
            && (2..=8).contains(&clean.split_whitespace().count())
            && clean == clean.to_uppercase()
            && !clean.contains(|c: char| c.is_ascii_digit() || c == ':')
        {
            about.push((at, std::mem::replace(&mut found.name, clean)));
            continue;
        }
        // Below the steps only a short line tells how many it feeds.
        let feeds = [
            "serves ", "feeds ", "makes ", "yields ", "serves: ", "makes: ",
        ]
        .iter()
        .any(|lead| clean.to_lowercase().starts_with(lead))
            && clean.split_whitespace().count() <= 6
            && words(&clean)
                .iter()
                .take(3)
                .any(|w| w.text.starts_with(|c: char| c.is_numeric()));
        if (place != Place::Steps || feeds && !line.numbered) && meta(&clean, &mut found) {
            continue;
        }
        if let Some(cells) = table_row(&lines, at) {
            if cells.iter().all(|c| c.chars().all(|c| "-: ".contains(c))) {
                continue;
            }
            match &table {
                None => {
                    table = Some(cells.iter().map(|c| c.to_lowercase()).collect());
                    let titles = [
                        "ingredient",
                        "amount",
                        "weight",
                        "percent",
                        "%",
                        "quantity",
                        "gram",
                        "baker",
                    ];
                    let figures = cells
                        .iter()
                        .any(|c| c.starts_with(|c: char| c.is_numeric()));
                    let is_title = |c: &String| {
                        let c = c.to_lowercase();
                        titles.iter().any(|t| c.contains(t))
                            || ["g", "kg", "oz", "ml"].contains(&c.as_str())
                    };
                    if !figures && cells.iter().any(is_title) {
                        // The head of a table may name the part: 'Levain | % | g'.
                        let own = cells[0].to_lowercase();
                        let common = [
                            "ingredient",
                            "item",
                            "name",
                            "commodity",
                            "material",
                            "amount",
                            "quantity",
                            "weight",
                            "what",
                            "formula",
                        ];
                        if !own.is_empty()
                            && !common.iter().any(|c| own.contains(c))
                            && cells.len() > 1
                            && !own.contains('%')
                        {
                            part = Some(own);
                        }
                        if place == Place::Head {
                            place = Place::Ingredients;
                        }
                        continue;
                    }
                    found.ingredients.push(Entry {
                        title: None,
                        part: part.clone(),
                        text: line::of_cells(&cells, &[]),
                    });
                }
                Some(titles) => {
                    let text = line::of_cells(&cells, titles);
                    if cells[0].to_lowercase().starts_with("total") {
                        found.rest.push(text);
                    } else {
                        found.ingredients.push(Entry {
                            title: None,
                            part: part.clone(),
                            text,
                        });
                    }
                }
            }
            continue;
        }
        let marked = line.heading > 0;
        // 'For the pastry', and what is measured below it.
        let small = clean.to_lowercase();
        let count = clean.split_whitespace().count();
        let for_the = (small.starts_with("for the ") && count <= 6
            || small.starts_with("for ") && count <= 3 && !clean.contains(|c: char| c.is_ascii_digit())
            // 'RUB'
            || clean.len() == 3 && clean.bytes().all(|b| b.is_ascii_uppercase()))
            && measures_below(&lines, at);
        if let Some(name) = part_of(raw, marked || for_the).filter(|_| !line.numbered)
            && (!line.bullet || raw.trim().ends_with(':'))
            && matches!(place, Place::Ingredients | Place::Steps | Place::Head)
            && (place != Place::Head
                || marked
                || for_the
                || raw.trim().ends_with(':')
                || PARTS.contains(&name.as_str())
                || raw.trim() == raw.trim().to_uppercase() && measures_below(&lines, at))
        {
            // A heading that is no part of the dish ends what stood before.
            let known = found
                .ingredients
                .iter()
                .any(|e| e.part.as_deref() == Some(&name));
            if place == Place::Steps
                && marked
                && !known
                && !found.steps.is_empty()
                && line.heading <= 2
            {
                place = Place::Skip;
                found.rest.push(clean);
            } else {
                part = Some(name);
                part_since = found.ingredients.len();
                paragraph_open = false;
                if place == Place::Head && !has_list {
                    place = Place::Ingredients;
                }
            }
            continue;
        }
        // 'Yaji: 1 cup peanuts, 1 tbsp ginger': a part and its list.
        if matches!(place, Place::Head | Place::Ingredients)
            && let Some((head, list)) = clean.split_once(": ")
            && head.split_whitespace().count() <= 3
            && !head.contains(|c: char| c.is_ascii_digit())
            && line::is_measured(list)
            && let all = line::split_list(list)
            && all.len() > 1
        {
            place = Place::Ingredients;
            found.ingredients.extend(all.into_iter().map(|text| Entry {
                title: None,
                part: Some(head.to_lowercase()),
                text,
            }));
            continue;
        }
        // How a letter ends.
        let signs = [
            "love,",
            "best,",
            "cheers,",
            "regards,",
            "kind regards",
            "best wishes",
            "xx",
            "sent from my",
        ];
        if !found.steps.is_empty()
            && clean.split_whitespace().count() <= 5
            && signs
                .iter()
                .any(|sign| clean.to_lowercase().starts_with(sign))
        {
            found.rest.push(clean);
            continue;
        }
        // What a mail answers to.
        if clean.starts_with("On ") && clean.ends_with(" wrote:") && !found.steps.is_empty() {
            place = Place::Skip;
            found.rest.push(clean);
            continue;
        }
        match place {
            Place::Head if has_list => about.push((at, clean)),
            Place::Head | Place::Ingredients => {
                let instruction = is_instruction(&clean) && !line::has_amount_first(&clean);
                if place == Place::Head && instruction && !has_list && found.ingredients.is_empty()
                {
                    unmeasured(&lines, at, &mut about, &mut found);
                }
                if (line.numbered || instruction)
                    && (!has_method
                        || line.numbered && instruction && !found.ingredients.is_empty())
                    && (place == Place::Ingredients
                        || !found.ingredients.is_empty()
                        || line.numbered
                        || has_list)
                    && (instruction || line.numbered && !line::has_amount_first(&clean))
                {
                    place = Place::Steps;
                    // A heading right above it is that of the steps.
                    if part_since != found.ingredients.len() {
                        part = None;
                    }
                    found.steps.push(Entry {
                        title: None,
                        part: part.clone(),
                        text: clean,
                    });
                    paragraph_open = true;
                } else if place == Place::Head
                    && !line::has_amount_first(&clean)
                    && !line.bullet
                    && !line::ends_with_amount(&clean)
                    && found.ingredients.is_empty()
                {
                    about.push((at, clean));
                } else if place == Place::Ingredients
                    && !has_method
                    && !found.ingredients.is_empty()
                    && is_label(&lines, at)
                {
                    place = Place::Steps;
                    part = None;
                    found.rest.push(clean);
                } else {
                    if place == Place::Head {
                        list_before(&lines, at, &mut about, &mut found);
                    }
                    place = Place::Ingredients;
                    // A line that was broken: '(' is still open, or it begins in the middle.
                    let open = found
                        .ingredients
                        .last()
                        .is_some_and(|e| e.text.matches('(').count() > e.text.matches(')').count());
                    if open && let Some(last) = found.ingredients.last_mut() {
                        last.text = format!("{} {clean}", last.text);
                        continue;
                    }
                    for text in line::split_list(&clean) {
                        found.ingredients.push(Entry {
                            title: None,
                            part: part.clone(),
                            text,
                        });
                    }
                }
            }
            Place::Steps => {
                let ended = found
                    .steps
                    .last()
                    .is_none_or(|s| s.text.ends_with(['.', '!', ':', ')']));
                let goes_on = goes_on(&lines, at);
                let own_line = all_small(&lines, at) && !goes_on;
                let alone = is_instruction(&clean) && !goes_on;
                if line.numbered
                    || line.bullet
                    || !paragraph_open
                    || alone
                    || own_line
                    || ended && clean.starts_with(char::is_uppercase) && numbered_before(&lines, at)
                {
                    found.steps.push(Entry {
                        title: None,
                        part: part.clone(),
                        text: clean,
                    });
                } else if let Some(last) = found.steps.last_mut() {
                    last.text = format!("{} {clean}", last.text);
                }
                paragraph_open = true;
            }
            Place::Notes => {
                let lower = clean.to_lowercase();
                if found.keeps.is_none()
                    && (lower.contains("keeps ")
                        || lower.contains("keep for")
                        || lower.starts_with("store "))
                    && clean.len() < 120
                {
                    found.keeps = Some(clean);
                } else {
                    found.notes.push(clean);
                }
            }
            Place::Equipment => found.equipment.push(clean),
            Place::Skip => found.rest.push(clean),
        }
    }
    if let Some(title) = title.filter(|_| found.name.is_empty()) {
        title.clone_into(&mut found.name);
    }
    if found.makes.is_empty() {
        // 'Shortbread (makes 24)', 'chili for 12', 'it serves about six'
        let of_name = how_many(&found.name, true);
        let lines = about
            .iter()
            .map(|(_, text)| text)
            .chain(&found.times)
            .chain(&found.notes);
        let lines = lines
            .chain(found.steps.iter().map(|s| &s.text))
            .chain(&found.rest);
        let said = of_name.or_else(|| lines.take(400).find_map(|line| how_many(line, false)));
        found.makes.extend(said);
    }
    let about: Vec<String> = about.into_iter().map(|(_, text)| text).collect();
    found.about = about.join(" ");
    if found.steps.is_empty() && found.ingredients.is_empty() && !found.about.is_empty() {
        let all = std::mem::take(&mut found.about);
        found.steps.push(Entry {
            title: None,
            part: None,
            text: all,
        });
    }
    if found.ingredients.is_empty() {
        if found.steps.is_empty() || found.steps.iter().all(|s| s.text.len() < 40) {
            return found;
        }
        let all: Vec<String> = found.steps.iter().map(|s| s.text.clone()).collect();
        found.ingredients = line::in_prose(&all.join(" "))
            .into_iter()
            .map(|text| Entry {
                title: None,
                part: None,
                text,
            })
            .collect();
    }
    if found.steps.is_empty() && is_instruction(&found.about) {
        found.steps.push(Entry {
            title: None,
            part: None,
            text: std::mem::take(&mut found.about),
        });
    }
    found
}

/// Where a line tells how many the dish feeds or makes, these words. A name may say no more than `for six`.
fn how_many(text: &str, is_name: bool) -> Option<String> {
    if text.len() > 2000 {
        return None;
    }
    let all = words(text);
    (0..all.len()).find_map(|at| {
        let is_for = all[at].is(&["for", "pour", "für"]);
        let tells = all[at].is(&["serves", "makes", "feeds", "yields", "ergibt"])
            || all[at].is(&["into"]) && at > 0 && all[at - 1].is(&["cuts"])
            || all[at].is(&["make"]) && at > 0 && all[at - 1].is(&["can"]);
        if !tells && !is_for {
            return None;
        }
        let skip = all[at + 1..]
            .iter()
            .take_while(|w| {
                w.is(&[
                    "about",
                    "approx",
                    "approximately",
                    "around",
                    "roughly",
                    ".",
                    ":",
                    "up",
                    "to",
                    "the",
                ])
            })
            .count();
        let from = at + 1 + skip;
        let (.., end) = super::words::range(&all, from)?;
        if length(&all, from).is_some() {
            return None;
        }
        let last = all[from..all.len().min(end + 3)].iter().any(|w| {
            w.is(&[
                "people",
                "persons",
                "person",
                "servings",
                "portions",
                "hungry",
                "guests",
                "us",
                "personnes",
                "personen",
            ])
        });
        let ends = all.get(end).is_none_or(|w| w.is(&[")", "(", ",", "."]));
        if is_for && !(last || is_name && ends) {
            return None;
        }
        let stop = all.len().min(end + 4);
        Some(text[all[at].start..all[stop - 1].end].to_owned())
    })
}

/// The next line is an ingredient with its amount.
fn measures_below(lines: &[&str], at: usize) -> bool {
    lines[at + 1..]
        .iter()
        .find(|l| !l.trim().is_empty())
        .is_some_and(|l| {
            let text = strip(l).text;
            text.starts_with('|') || line::has_amount_first(text) || line::ends_with_amount(text)
        })
}

/// A short line by itself, and what stands below it is an instruction: 'On the day'.
fn is_label(lines: &[&str], at: usize) -> bool {
    let clean = unstressed(strip(lines[at]).text);
    let short = clean.split_whitespace().count() <= 6
        && !clean.contains(|c: char| c.is_ascii_digit() || ",.;(".contains(c))
        && !strip(lines[at]).bullet;
    let before = at == 0 || lines[at - 1].trim().is_empty();
    let Some(next) = (at + 1..lines.len()).find(|k| !lines[*k].trim().is_empty()) else {
        return false;
    };
    let after = strip(lines[next]);
    let below = unstressed(after.text);
    let instructs = is_instruction(&below) && !line::has_amount_first(&below) || after.numbered;
    short && instructs && (before || clean.ends_with(':'))
}

/// The lines above the first amount that stand in its own paragraph are ingredients as well.
fn list_before(lines: &[&str], at: usize, about: &mut Vec<(usize, String)>, found: &mut Found) {
    let (from, _) = paragraph(lines, at);
    let here = about
        .iter()
        .position(|(n, _)| *n >= from)
        .unwrap_or(about.len());
    let few =
        |text: &str| text.split_whitespace().count() <= 7 && !text.ends_with(['.', '!', ':', '?']);
    if from > 0 && about[here..].iter().all(|(_, text)| few(text)) {
        let moved = about.split_off(here);
        found
            .ingredients
            .extend(moved.into_iter().map(|(_, text)| Entry {
                title: None,
                part: None,
                text,
            }));
    }
}

/// Before the first instruction a paragraph of short lines is a list, though nothing in it is measured.
fn unmeasured(lines: &[&str], at: usize, about: &mut Vec<(usize, String)>, found: &mut Found) {
    let Some(last) = lines[..at].iter().rposition(|l| !l.trim().is_empty()) else {
        return;
    };
    let from = lines[..last]
        .iter()
        .rposition(|l| l.trim().is_empty())
        .map_or(0, |i| i + 1);
    if last + 1 - from >= 3 && from > 0 {
        list_before(lines, last + 1, about, found);
    }
}

/// This line goes on with the sentence of the line above it.
fn goes_on(lines: &[&str], at: usize) -> bool {
    if is_wrapped(lines, at) {
        return true;
    }
    let Some(above) = at.checked_sub(1).map(|k| lines[k].trim()) else {
        return false;
    };
    let small = |line: &str| strip(line).text.starts_with(char::is_lowercase);
    let (from, to) = paragraph(lines, at);
    let mixed = lines[from..to]
        .iter()
        .any(|l| strip(l).text.starts_with(char::is_uppercase));
    !above.is_empty()
        && !above.ends_with(['.', '!', ':', '?'])
        && small(lines[at])
        && !strip(lines[at]).bullet
        && (mixed || above.ends_with([',', '-']))
}

/// Notes typed in small letters: each line of the paragraph is a thought of its own.
fn all_small(lines: &[&str], at: usize) -> bool {
    let (from, to) = paragraph(lines, at);
    to - from >= 3
        && lines[from..to].iter().all(|l| {
            let text = strip(l).text;
            !text.starts_with(char::is_uppercase) && !text.ends_with([',', '-'])
        })
}

/// The lines around here are broken at a width: all but the last are about as long.
fn is_wrapped(lines: &[&str], at: usize) -> bool {
    let (from, to) = paragraph(lines, at);
    let lens: Vec<usize> = lines[from..to.saturating_sub(1).max(from)]
        .iter()
        .map(|l| l.chars().count())
        .collect();
    let (least, most) = (
        lens.iter().min().copied().unwrap_or(0),
        lens.iter().max().copied().unwrap_or(0),
    );
    least * 4 > most * 3 && most >= 40
}

/// The lines here are one step each: the one before stands on a line of its own and ends as a sentence.
fn numbered_before(lines: &[&str], at: usize) -> bool {
    lines[..at]
        .iter()
        .rev()
        .take(NEAR)
        .take_while(|l| !l.trim().is_empty())
        .all(|l| l.trim().ends_with(['.', '!', ':', ')']) || heading(l).is_some())
}
