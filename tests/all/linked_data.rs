//! Every construct that schema.org's `Recipe` and its kin document and that bears on cooking (schema.org Recipe, HowTo,
//! HowToStep, HowToSection, QuantitativeValue, NutritionInformation; from memory). What is kept is looked for in the
//! formula; the rest is dropped knowingly, and named in `DROPPED`.

use commis::formula::{Formula, read};
use commis::import::{self, Recipe};
use serde_json::{Value, json};

fn taken(value: &Value) -> (Recipe, Formula) {
    let recipe =
        import::read(value.to_string().as_bytes(), "x").unwrap_or_else(|e| panic!("{e}: {value}"));
    let toml = recipe.toml();
    let formula = read("x", &toml).unwrap_or_else(|e| panic!("{}", e.explained(&toml)));
    (recipe, formula)
}

/// A recipe with this in place of, or beside, its plain parts.
fn with(more: Value) -> Value {
    let mut all = json!({
        "@context": "https://schema.org", "@type": "Recipe", "name": "Porridge", "recipeYield": "2 servings",
        "recipeIngredient": ["100 g rolled oats", "500 ml milk", "salt"],
        "recipeInstructions": ["Simmer the oats in the milk for 5 minutes.", "Add the salt."],
    });
    for (key, value) in more.as_object().expect("an object") {
        all[key] = value.clone();
    }
    all
}

fn names(f: &Formula) -> Vec<&str> {
    f.ingredients.iter().map(|i| i.name.as_str()).collect()
}

#[test]
fn ingredients_stand_in_many_shapes() {
    let three = ["rolled oats", "milk", "salt"];
    for shape in [
        json!({ "recipeIngredient": "100 g rolled oats\n500 ml milk\nsalt" }),
        json!({ "recipeIngredient": { "@list": ["100 g rolled oats", "500 ml milk", "salt"] } }),
        json!({ "recipeIngredient": { "@type": "ItemList", "itemListElement": [
            { "@type": "ListItem", "position": 1, "name": "100 g rolled oats" },
            { "@type": "ListItem", "position": 2, "item": { "name": "500 ml milk" } }, "salt"] } }),
        json!({ "recipeIngredient": [{ "@value": "100 g rolled oats", "@language": "en" }, { "@value": "500 ml milk" }, "salt"] }),
        json!({ "recipeIngredient": null, "ingredients": ["100 g rolled oats", "500 ml milk", "salt"] }),
        json!({ "recipeIngredient": [], "supply": [
            { "@type": "HowToSupply", "name": "rolled oats", "requiredQuantity": "100 g" },
            { "@type": "HowToSupply", "name": "milk", "requiredQuantity": { "@type": "QuantitativeValue", "value": 500, "unitCode": "MLT" } },
            "salt"] }),
        json!({ "recipeIngredient": [
            { "@type": "PropertyValue", "name": "rolled oats", "value": 100, "unitText": "g" },
            { "@type": "QuantitativeValue", "name": "milk", "value": "500", "unitText": "ml" }, { "name": "salt" }] }),
        json!({ "schema:recipeIngredient": null, "recipeIngredient": ["<b>100&nbsp;g</b> rolled oats", "500 ml&nbsp;milk", "salt"] }),
    ] {
        let (_, f) = taken(&with(shape.clone()));
        assert_eq!(f.ingredients.len(), 3, "{shape}: {:?}", names(&f));
        for (name, wanted) in names(&f).iter().zip(three) {
            assert!(name.contains(wanted), "{shape}: {name}");
        }
        assert_eq!(f.ingredients[0].mass.as_grams(), 100.0, "{shape}");
        assert!(
            (f.ingredients[1].mass.as_grams() - 515.0).abs() < 5.0,
            "{shape}"
        );
    }
}

#[test]
fn instructions_stand_in_many_shapes() {
    let (a, b) = (
        "Simmer the oats in the milk for 5 minutes.",
        "Add the salt.",
    );
    let step = |text: &str| json!({ "@type": "HowToStep", "text": text });
    for shape in [
        json!(format!("{a} {b}")),
        json!(format!("{a}\n{b}")),
        json!(format!("<ol><li>{a}</li><li>{b}</li></ol>")),
        json!(format!("1. {a}\n2. {b}")),
        json!([a, b]),
        json!([[a], [b]]),
        json!([step(a), step(b)]),
        json!({ "@type": "ItemList", "itemListElement": [step(a), step(b)] }),
        json!({ "@type": "ItemList", "itemListElement": [{ "@type": "ListItem", "position": 1, "item": step(a) }, { "@type": "ListItem", "item": step(b) }] }),
        json!({ "@type": "HowToSection", "name": "All", "itemListElement": [step(a), step(b)] }),
        json!([{ "@type": "HowToSection", "name": "Cook", "itemListElement": [step(a)] }, { "@type": "HowToSection", "name": "Season", "itemListElement": { "@type": "HowToStep", "text": b } }]),
        json!([{ "@type": "HowToStep", "itemListElement": [{ "@type": "HowToDirection", "text": a }, { "@type": "HowToTip", "text": "A wooden spoon is best." }] }, step(b)]),
        json!([{ "@type": ["HowToStep", "ListItem"], "name": "Simmer", "text": a, "url": "https://example.invalid/#1", "image": "x.jpg" }, step(b)]),
        json!([{ "@type": "http://schema.org/HowToStep", "description": a }, { "type": "HowToStep", "name": b }]),
        json!({ "@type": "CreativeWork", "text": format!("{a}\n{b}") }),
        json!([{ "@type": "HowToStep", "text": { "@value": a, "@language": "en" } }, step(b)]),
    ] {
        let (_, f) = taken(&with(json!({ "recipeInstructions": shape })));
        let all: Vec<&str> = f.steps.iter().map(|s| s.text.as_str()).collect();
        let all = all.join(" ");
        assert!(
            all.contains("Simmer the oats in the milk for 5 minutes"),
            "{shape}: {all}"
        );
        assert!(all.contains("Add the salt"), "{shape}: {all}");
        assert_eq!(f.timers().count(), 1, "{shape}");
        assert!(
            !shape.to_string().contains("wooden") || all.contains("wooden spoon"),
            "{all}"
        );
    }
}

#[test]
fn yields_stand_in_many_shapes() {
    for (shape, portions, to, piece) in [
        (json!(4), 4.0, None, "portion"),
        (json!("4"), 4.0, None, "portion"),
        (json!("Serves 4-6"), 4.0, Some(6.0), "portion"),
        (json!(["4", "4 servings"]), 4.0, None, "portion"),
        (json!("12 buns"), 12.0, None, "bun"),
        (json!(["6 servings", "12 buns"]), 6.0, None, "bun"),
        (
            json!({ "@type": "QuantitativeValue", "value": 4, "unitText": "servings" }),
            4.0,
            None,
            "portion",
        ),
        (
            json!({ "@type": "QuantitativeValue", "minValue": 4, "maxValue": 6, "unitText": "servings" }),
            4.0,
            Some(6.0),
            "portion",
        ),
        (
            json!({ "@type": "QuantitativeValue", "value": "2", "unitText": "loaves" }),
            2.0,
            None,
            "loaf",
        ),
        (json!("1 (9-inch) pie"), 1.0, None, "pie"),
        (json!("2 dozen biscuits"), 24.0, None, "biscuit"),
    ] {
        let (_, f) = taken(&with(json!({ "recipeYield": shape })));
        assert_eq!(
            (
                f.makes.portions,
                f.makes.portions_to,
                f.makes.piece.as_str()
            ),
            (portions, to, piece),
            "{shape}"
        );
    }
}

/// What a formula has no place for, and nobody cooks by.
const DROPPED: [&str; 8] = [
    "aggregateRating",
    "review",
    "interactionStatistic",
    "datePublished",
    "dateModified",
    "video",
    "speakable",
    "isAccessibleForFree",
];

#[test]
fn what_bears_on_cooking_is_kept() {
    let all = with(json!({
        "description": "For cold mornings.",
        "prepTime": "PT5M", "cookTime": "PT10M", "performTime": "PT12M", "totalTime": "PT1H15M",
        "author": [{ "@type": "Person", "name": "A. Cook" }, "B. Baker"],
        "publisher": { "@type": "Organization", "name": "The Kitchen Press" },
        "recipeCategory": ["Breakfast"], "recipeCuisine": "Scottish", "keywords": "oats, quick",
        "cookingMethod": "Simmering", "suitableForDiet": "https://schema.org/VegetarianDiet",
        "nutrition": { "@type": "NutritionInformation", "calories": "240 kcal", "servingSize": "1 bowl" },
        "tool": [{ "@type": "HowToTool", "name": "small saucepan" }, "wooden spoon"],
        "estimatedCost": { "@type": "MonetaryAmount", "currency": "GBP", "value": "1.20" },
        "image": [{ "@type": "ImageObject", "url": "porridge.jpg" }],
        "comment": { "@type": "Comment", "text": "Good with honey." },
        "yield": "2", "inLanguage": "en",
        "aggregateRating": { "@type": "AggregateRating", "ratingValue": "4.8", "ratingCount": 99 },
        "review": [{ "@type": "Review", "reviewBody": "Lovely dish, 300 g sugar would ruin it." }],
        "interactionStatistic": { "@type": "InteractionCounter", "userInteractionCount": 12345 },
        "datePublished": "2020-01-01", "dateModified": "2021-01-01", "isAccessibleForFree": true,
        "video": { "@type": "VideoObject", "name": "How it is made", "contentUrl": "https://example.invalid/v.mp4", "uploadDate": "2020-02-02" },
        "speakable": { "@type": "SpeakableSpecification", "cssSelector": [".summary"] },
    }));
    let (recipe, f) = taken(&all);
    let toml = recipe.toml();
    assert_eq!(f.about, "For cold mornings.");
    for kept in [
        "A. Cook",
        "B. Baker",
        "The Kitchen Press",
        "Breakfast",
        "Scottish",
        "oats",
        "quick",
        "Simmering",
        "Vegetarian",
        "240 kcal",
        "small saucepan",
        "wooden spoon",
        "1.20",
        "porridge.jpg",
        "Good with honey",
        "5 minutes",
        "10 minutes",
        "1 hour 15 minutes",
    ] {
        assert!(toml.contains(kept), "{kept} is lost:\n{toml}");
    }
    assert_eq!(f.told.equipment, ["small saucepan", "wooden spoon"]);
    for dropped in [
        "4.8",
        "Lovely dish",
        "12345",
        "2020-01-01",
        "v.mp4",
        "cssSelector",
    ] {
        assert!(
            !toml.contains(dropped),
            "{dropped} of {DROPPED:?} is kept:\n{toml}"
        );
    }
}

#[test]
fn a_graph_is_read_across_its_links() {
    let oats = json!({ "@context": "https://schema.org", "@graph": [
        { "@type": "WebPage", "@id": "#page", "mainEntity": { "@id": "#recipe" } },
        { "@type": "Person", "@id": "#who", "name": "A. Cook" },
        { "@type": "HowToStep", "@id": "#one", "text": "Simmer the oats in the milk for 5 minutes." },
        { "@type": "ImageObject", "@id": "#picture", "url": "porridge.jpg" },
        { "@type": ["Thing", "schema:Recipe"], "@id": "#recipe", "name": { "@value": "Porridge", "@language": "en" },
          "author": { "@id": "#who" }, "image": { "@id": "#picture" }, "recipeYield": 2,
          "recipeIngredient": ["100 g rolled oats", "500 ml milk"], "recipeInstructions": [{ "@id": "#one" }] },
    ] });
    let reversed = json!({ "@context": "https://schema.org", "@type": "Person", "name": "A. Cook",
        "@reverse": { "author": { "@type": "Recipe", "name": "Porridge", "image": "porridge.jpg", "recipeYield": "2",
            "recipeIngredient": ["100 g rolled oats", "500 ml milk"],
            "recipeInstructions": "Simmer the oats in the milk for 5 minutes." } } });
    let languages = json!({ "@context": { "@vocab": "https://schema.org/", "name": { "@container": "@language" } }, "@type": "Recipe",
        "name": { "de": "Haferbrei", "en": "Porridge" }, "author": "A. Cook", "image": "porridge.jpg", "recipeYield": "2",
        "recipeIngredient": ["100 g rolled oats", "500 ml milk"],
        "recipeInstructions": { "en": "Simmer the oats in the milk for 5 minutes." } });
    for value in [oats.clone(), json!([oats]), reversed, languages] {
        let (recipe, f) = taken(&value);
        assert_eq!(
            (f.name.as_str(), f.ingredients.len(), f.steps.len()),
            ("Porridge", 2, 1),
            "{value}"
        );
        assert!(f.steps[0].text.contains("Simmer"), "{value}");
        assert_eq!(f.told.picture.as_deref(), Some("porridge.jpg"), "{value}");
        assert!(
            recipe.toml().contains("A. Cook") || value.get("@reverse").is_some(),
            "{value}"
        );
    }
    // A circle of links ends.
    let circle = json!([{ "@type": "Recipe", "@id": "#a", "name": "x", "recipeIngredient": [{ "@id": "#b" }], "recipeInstructions": [{ "@id": "#c" }] },
        { "@id": "#b", "item": { "@id": "#b" }, "name": "1 egg" }, { "@id": "#c", "itemListElement": [{ "@id": "#c" }], "x": 1 }]);
    let _ = import::read(circle.to_string().as_bytes(), "x");
}

#[test]
fn any_value_in_any_place_is_borne() {
    let odd = [
        json!(null),
        json!(true),
        json!(0),
        json!(-1e308),
        json!(""),
        json!([]),
        json!({}),
        json!([[[]]]),
        json!({ "@type": [] }),
        json!({ "@id": 7 }),
        json!({ "@value": null }),
        json!("P1Y2M3DT4H5M6S"),
        json!("PT"),
        json!("\u{0}\u{202e}"),
        json!([null, 1, "x", {}]),
        json!({ "itemListElement": { "itemListElement": {} } }),
        json!("999999999999999999999 g x"),
    ];
    for key in [
        "name",
        "description",
        "recipeYield",
        "yield",
        "recipeIngredient",
        "ingredients",
        "supply",
        "recipeInstructions",
        "step",
        "totalTime",
        "prepTime",
        "cookTime",
        "performTime",
        "cookingMethod",
        "suitableForDiet",
        "nutrition",
        "tool",
        "estimatedCost",
        "author",
        "image",
        "video",
        "@id",
        "@type",
        "@reverse",
        "keywords",
        "recipeCategory",
        "recipeCuisine",
        "url",
        "isBasedOn",
        "@context",
    ] {
        for value in &odd {
            let all = with(json!({ key: value.clone() }));
            if let Ok(recipe) = import::read(all.to_string().as_bytes(), "x") {
                let toml = recipe.toml();
                read("x", &toml).unwrap_or_else(|e| panic!("{all}: {}", e.explained(&toml)));
            }
        }
    }
}
