//! Pages: microdata, RDFa and microformats, and the text of a page without any of them.

use scraper::{ElementRef, Html, Selector};

use super::draft::{Entry, Found};
use super::html::{block_text, shallow};
use super::{linked, text, yields};

/// A page's recipe. Nothing that it points to is followed.
pub(super) fn read(html: &str) -> Found {
    let data: Vec<_> = linked::scripts(html)
        .into_iter()
        .filter_map(linked::json)
        .collect();
    if let Some(found) = linked::recipe(&data) {
        return found;
    }
    let page = Html::parse_document(&shallow(around_recipe(html)));
    let marked = [MICRODATA, RDFA, FORMAT, OLD_FORMAT]
        .iter()
        .find_map(|marks| marked(&page, marks));
    if let Some(found) = marked {
        return found;
    }
    bare(&page)
}

/// Pages up to this are read whole, in bytes.
const WHOLE: usize = 3 << 20;

/// Of a page that is longer than any recipe the part around the first word of ingredients.
fn around_recipe(html: &str) -> &str {
    if html.len() <= WHOLE {
        return html;
    }
    let at = super::seek::find(html.as_bytes(), b"ingredient", 0).unwrap_or(0);
    let near = |mut at: usize| {
        while !html.is_char_boundary(at) {
            at -= 1;
        }
        at
    };
    let (from, to) = (
        near(at.saturating_sub(WHOLE / 8)),
        near((at + WHOLE / 2).min(html.len())),
    );
    let part = &html[from..to];
    // It may begin inside a script.
    let place = |what: &[u8]| super::seek::find(part.as_bytes(), what, 0);
    match place(b"</script") {
        Some(end) if place(b"<script").is_none_or(|begin| begin > end) => &part[end..],
        _ => part,
    }
}

/// How a kind of mark-up names things.
struct Marks {
    recipe: &'static str,
    /// The attribute with the property's name, or the prefix of a class.
    property: &'static str,
    classes: bool,
}

const MICRODATA: Marks = Marks {
    recipe: r#"[itemtype*="schema.org/Recipe"], [itemtype*="data-vocabulary.org/Recipe"]"#,
    property: "itemprop",
    classes: false,
};
const RDFA: Marks = Marks {
    recipe: r#"[typeof~="Recipe"], [typeof~="schema:Recipe"], [typeof*="schema.org/Recipe"], [typeof~="v:Recipe"]"#,
    property: "property",
    classes: false,
};
const FORMAT: Marks = Marks {
    recipe: ".h-recipe",
    property: "class",
    classes: true,
};
const OLD_FORMAT: Marks = Marks {
    recipe: ".hrecipe",
    property: "class",
    classes: true,
};

impl Marks {
    /// The properties that an element has, by their plain names.
    fn of<'e>(&self, element: &ElementRef<'e>) -> Vec<&'e str> {
        let value = element.value().attr(self.property).or_else(|| {
            if self.property == "property" {
                element.value().attr("rel")
            } else {
                None
            }
        });
        let words = value.unwrap_or_default().split_whitespace();
        words
            .filter_map(|w| {
                let w = w.rsplit(['/', '#', ':']).next().unwrap_or(w);
                if self.classes {
                    w.strip_prefix("p-")
                        .or_else(|| w.strip_prefix("e-"))
                        .or_else(|| w.strip_prefix("dt-"))
                        .or_else(|| w.strip_prefix("u-"))
                        .or(Some(w))
                } else {
                    Some(w)
                }
            })
            .collect()
    }
}

fn marked(page: &Html, marks: &Marks) -> Option<Found> {
    let recipe = page.select(&Selector::parse(marks.recipe).ok()?).next()?;
    let mut found = Found::default();
    let mut title = false;
    let mut stack = vec![(recipe, None::<String>)];
    while let Some((element, part)) = stack.pop() {
        let mut part = part;
        let mut whole = false;
        for property in marks.of(&element).into_iter().filter(|_| element != recipe) {
            let said = || value_of(&element);
            match property {
                "name" | "fn" if !title && !nested(&element, &recipe) => {
                    found.name = said();
                    title = true;
                }
                "description" | "summary" => found.about = said(),
                "recipeIngredient" | "ingredients" | "ingredient" => {
                    let entries: Vec<Entry> = lines_of(&element)
                        .into_iter()
                        .map(|text| Entry {
                            title: None,
                            part: part.clone(),
                            text,
                        })
                        .collect();
                    found.ingredients.extend(entries);
                    whole = true;
                }
                "recipeInstructions" | "instructions" | "instruction" => {
                    let section = element
                        .value()
                        .attr("itemtype")
                        .or(element.value().attr("typeof"))
                        .unwrap_or_default();
                    if section.contains("HowToSection") {
                        part = heading_in(&element, marks);
                    } else if !section.contains("ItemList") {
                        instructions(&element, part.as_deref(), &mut found);
                        whole = true;
                    }
                }
                "itemListElement" | "step" if !section_of(&element).contains("Section") => {
                    instructions(&element, part.as_deref(), &mut found);
                    whole = true;
                }
                "itemListElement" => part = heading_in(&element, marks),
                "recipeYield" | "yield" => found.makes.push(said()),
                "author" | "publisher" | "url" => {
                    found.source.push(said());
                    whole = true;
                }
                "prepTime" | "cookTime" | "totalTime" | "duration" => {
                    let what = match property {
                        "prepTime" => "preparation",
                        "cookTime" => "cooking",
                        _ => "in all",
                    };
                    let raw = said();
                    found
                        .times
                        .push(format!("{what} {}", yields::iso(&raw).unwrap_or(raw)));
                }
                "keywords" | "recipeCategory" | "recipeCuisine" | "category" => found
                    .tags
                    .extend(said().split(',').map(|t| t.trim().to_owned())),
                "tool" => found.equipment.push(said()),
                "image" | "photo" => {
                    found.picture.get_or_insert_with(said);
                }
                "notes" | "note" | "comment" => found.notes.push(said()),
                "nutrition" => {
                    let said = lines_of(&element).join(" ");
                    found.rest.push(said);
                    whole = true;
                }
                _ => {}
            }
        }
        if whole {
            continue;
        }
        // In order of the page: what is pushed last is read first.
        let children: Vec<_> = element.children().filter_map(ElementRef::wrap).collect();
        stack.extend(
            children
                .into_iter()
                .rev()
                .map(|child| (child, part.clone())),
        );
    }
    found.ingredients = linked::headed(found.ingredients);
    found.is_recipe().then_some(found)
}

fn section_of<'e>(element: &ElementRef<'e>) -> &'e str {
    element
        .value()
        .attr("itemtype")
        .or(element.value().attr("typeof"))
        .unwrap_or_default()
}

fn heading_in(element: &ElementRef, marks: &Marks) -> Option<String> {
    let named = element
        .descendants()
        .filter_map(ElementRef::wrap)
        .find(|e| marks.of(e).contains(&"name"))?;
    let name = value_of(&named).trim_end_matches(':').to_lowercase();
    Some(
        name.strip_prefix("for the ")
            .map_or(name.clone(), str::to_owned),
    )
}

/// It belongs to something inside the recipe: its author, its pictures.
fn nested(element: &ElementRef, recipe: &ElementRef) -> bool {
    element
        .ancestors()
        .take_while(|a| a.id() != recipe.id())
        .filter_map(ElementRef::wrap)
        .any(|a| a.value().attr("itemscope").is_some() || a.value().attr("typeof").is_some())
}

fn instructions(element: &ElementRef, part: Option<&str>, found: &mut Found) {
    let lines = lines_of(element).join("\n");
    let under = Selector::parse("h2, h3, h4, strong, b")
        .ok()
        .filter(|s| element.select(s).next().is_some());
    if under.is_some() || part.is_some() {
        let read = text::read(&format!("x\n\nMethod\n{}", block_text(*element)), Some("x"));
        found.steps.extend(read.steps.into_iter().map(|e| Entry {
            title: None,
            part: e.part.or_else(|| part.map(str::to_owned)),
            text: e.text,
        }));
        found.notes.extend(read.notes);
        found.rest.extend(read.rest);
        return;
    }
    found
        .steps
        .extend(linked::step_lines(&lines).into_iter().map(|text| Entry {
            title: None,
            part: None,
            text,
        }));
}

/// The value of an element: what its attributes say, or its text.
fn value_of(element: &ElementRef) -> String {
    let of = |name| element.value().attr(name);
    let said = match element.value().name() {
        "meta" => of("content"),
        "time" => of("datetime"),
        "img" => of("src"),
        "a" | "link" if element.text().all(|t| t.trim().is_empty()) => of("href"),
        "data" | "meter" => of("value").filter(|_| element.text().all(|t| t.trim().is_empty())),
        _ => of("content"),
    };
    said.map_or_else(
        || {
            element
                .text()
                .collect::<String>()
                .split_whitespace()
                .collect::<Vec<_>>()
                .join(" ")
        },
        str::to_owned,
    )
}

fn lines_of(element: &ElementRef) -> Vec<String> {
    if element.value().name() == "meta" {
        return vec![value_of(element)];
    }
    let text = block_text(*element);
    text.lines()
        .map(|l| l.trim().to_owned())
        .filter(|l| !l.is_empty())
        .collect()
}

/// A page without mark-up: its text, with its heading as the name.
fn bare(page: &Html) -> Found {
    let of = |selector: &str| {
        let s = Selector::parse(selector).ok()?;
        page.select(&s)
            .map(|e| value_of(&e))
            .find(|t| !t.is_empty())
    };
    let title = of("h1").or_else(|| of("title"));
    let text = block_text(page.root_element());
    let mut found = text::read(&text, Some(title.as_deref().unwrap_or("Recipe")));
    if let Some(title) = of("h1").or(title) {
        found.name = title;
    }
    found
}
