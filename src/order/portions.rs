//! How much for so many people, and one part of a dough.

use super::book::{Book, give};
use super::keys::{Keys, number, one_of, words};
use super::order::Order;
use super::place::Place;
use super::question::{Question, Share};
use super::slots::Value;

/// The foods whose portions can be asked for aloud, as the table calls them, and as they are said.
const FOODS: &[(&str, &str)] = &[
    ("dried pasta", "[dried|dry] (pasta|spaghetti)"),
    ("fresh pasta", "fresh pasta"),
    ("uncooked rice", "rice"),
    ("potatoes", "potatoes|=potato"),
    ("dry couscous", "couscous"),
    ("dried lentils", "lentils"),
    ("meat without bones", "meat"),
    ("fish without bones", "fish"),
    ("vegetables", "vegetables"),
    ("salad leaves", "salad"),
    ("soup", "soup"),
];

fn share(name: &str, percent: f64) -> Share {
    Share {
        name: name.into(),
        percent,
    }
}

pub(super) fn lay(g: &mut Book) {
    g.lay(
        "portion_food",
        FOODS
            .iter()
            .map(|(name, said)| give(said, Value::Sym(name)))
            .collect(),
    );
    g.say(
        "portion",
        &["how much <f:portion_food> for <n:count> (people|=persons)"],
        |c, _| {
            Some(Order::Ask(Question::Portion {
                food: c.text("f")?,
                people: c.num("n")?,
                side: false,
            }))
        },
    );
    g.say(
        "water_in_dough",
        &["how much water (in|for) <d:mass> of dough at <p:level_number> percent [hydration]"],
        |c, _| Some(Order::Ask(water_of(c.mass("d")?.as_grams(), c.num("p")?))),
    );
}

fn water_of(dough_g: f64, percent: f64) -> Question {
    Question::Part {
        of: Box::new(Question::FlourInDough {
            dough_g,
            shares: vec![share("water", percent)],
        }),
        name: "water".into(),
    }
}

pub(super) fn keys(k: &mut Keys) {
    k.path(
        ". 7 10 6",
        "how much for so many people",
        vec![
            one_of("Of what?", |_| {
                words(FOODS.iter().map(|(name, _)| *name).collect::<Vec<_>>())
            }),
            number("For how many?"),
        ],
        |a, _| {
            Ok(Order::Ask(Question::Portion {
                food: a.word(0).unwrap_or_default().into(),
                people: a.number(1),
                side: false,
            }))
        },
    );
    k.show(". 7 0 6 1 6 Enter", Place::Step, "pasta for six people");
    k.path(
        ". 7 10 7",
        "the water in a dough",
        vec![
            number("How many grams of dough?"),
            number("Water, in percent of the flour?"),
        ],
        |a, _| Ok(Order::Ask(water_of(a.number(0), a.number(1)))),
    );
    k.show(
        ". 7 0 7 1 2 0 0 Enter 6 5 Enter",
        Place::Step,
        "the water in 1200 grams of dough at 65 percent",
    );
}
