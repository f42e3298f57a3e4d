//! A formula of our own for the tests of the language: two flours, two rises, eggs.

use std::sync::{Arc, LazyLock};

use commis::formula::{Formula, Ingredient, Makes, Oven, Step, TimerSpec, Use};
use commis::measure::Mass;
use commis::measure::tin::{Shape, Size};
use commis::order::DishRef;
use commis::time::Span;
use commis::understand::{DishNames, Lexicon};

fn ingredient(id: &str, name: &str, grams: f64) -> Ingredient {
    Ingredient {
        id: id.into(),
        name: name.into(),
        also: Vec::new(),
        table: name.into(),
        mass: Mass::grams(grams),
        is_flour: name.ends_with("flour"),
        is_water: id == "water",
        ..Ingredient::default()
    }
}

fn step(title: &str, timers: Vec<TimerSpec>) -> Step {
    Step {
        title: title.into(),
        text: title.into(),
        uses: vec![Use {
            ingredient: 0,
            part: 1.0,
        }],
        timers,
        hands_on: Span::minutes(5),
        ..Step::default()
    }
}

fn timer(name: &str, minutes: u64) -> TimerSpec {
    TimerSpec {
        name: name.into(),
        lasts: Span::minutes(minutes),
        ..TimerSpec::default()
    }
}

/// An enriched seeded loaf: strong white flour and rye flour, so that `flour` alone is doubtful.
pub fn formula() -> Formula {
    let mut ingredients = vec![
        ingredient("white", "strong white flour", 450.0),
        ingredient("rye", "rye flour", 150.0),
        ingredient("water", "water", 360.0),
        ingredient("salt", "fine sea salt", 11.0),
        ingredient("yeast", "instant yeast", 7.0),
        ingredient("butter", "unsalted butter", 40.0),
        ingredient("egg", "egg", 50.0),
        ingredient("seeds", "sunflower seeds", 60.0),
        ingredient("honey", "honey", 20.0),
    ];
    ingredients[5].or = vec!["margarine".into()];
    for seed in &mut ingredients[7..] {
        seed.part = Some("topping".into());
    }
    ingredients[0].also = vec!["bread flour".into()];
    ingredients[6].count = Some((1.0, "egg".into()));
    Formula {
        name: "seeded tin loaf".into(),
        about: "A loaf.".into(),
        makes: Makes {
            portions: 12.0,
            portions_to: None,
            pieces: 2.0,
            piece: "loaf".into(),
            loss_percent: 12.0,
        },
        tin: Some(Size {
            shape: Shape::Loaf,
            length_cm: 23.0,
            width_cm: 13.0,
            depth_cm: Some(7.0),
        }),
        oven: Some(Oven {
            heat_c: 220.0,
            lead: Span::minutes(20),
        }),
        dough_c: Some(25.0),
        ingredients,
        steps: vec![
            step("mix", vec![]),
            step("first rise", vec![timer("first rise", 60)]),
            step("second rise", vec![timer("second rise", 45)]),
            step("bake", vec![timer("bake", 35)]),
        ],
        ..Formula::default()
    }
}

/// What is made beside the loaf.
fn soup() -> Formula {
    Formula {
        name: "vegetable soup".into(),
        ingredients: vec![
            ingredient("leek", "leek", 200.0),
            ingredient("salt", "fine sea salt", 12.0),
        ],
        steps: vec![
            step("sweat", vec![]),
            step("simmer", vec![timer("simmer", 25)]),
        ],
        ..Formula::default()
    }
}

fn dish(id: u32, name: &str, formula: &Formula) -> DishNames {
    DishNames {
        id: DishRef(id),
        name: name.into(),
        also: vec![formula.name.clone()],
        lexicon: Arc::new(Lexicon::new(formula)),
    }
}

/// The formula's names with a few from the tables and a timer that runs, built once.
pub fn lexicon() -> &'static Lexicon {
    static LEXICON: LazyLock<Lexicon> = LazyLock::new(build);
    &LEXICON
}

fn build() -> Lexicon {
    let table = [
        ("caster sugar", vec!["superfine sugar"]),
        ("granulated sugar", vec!["sugar", "white sugar"]),
        ("whole milk", vec!["milk"]),
        ("olive oil", vec!["oil"]),
        ("bicarbonate of soda", vec!["baking soda", "bicarb"]),
        ("plain flour", vec!["flour", "all-purpose flour"]),
        ("cornflour", vec!["cornstarch"]),
        ("rolled oats", vec!["oats"]),
        ("unsalted butter", vec!["butter"]),
    ];
    Lexicon::new(&formula())
        .with_table_names(table.map(|(name, spoken)| {
            (
                name.to_string(),
                spoken.into_iter().map(String::from).collect(),
            )
        }))
        .with_foods(commis::safety::foods())
        .with_timers([(1, "stock pot".to_string())])
        .with_dishes(vec![dish(0, "loaf", &formula()), dish(1, "soup", &soup())])
        .with_book(Arc::new(vec!["Chickpea rice".into(), "Plum tart".into()]))
}
