//! A formula that is edited while its session waits: the session goes on by it, what was done keeps its place, and what
//! has changed is said.

use commis::bench::{Bench, Effect, Event, Heard, Options};
use commis::formula;
use commis::time::{Moment, Wall};
use commis::timer::DishId;

const HEAD: &str = r#"
name = "Plain rolls"
makes = { portions = 4, pieces = 4, piece = "roll" }
ingredient = [
  { id = "flour", name = "plain flour", amount = "500 g" },
  { id = "water", amount = "300 g" },
  { id = "salt", name = "fine salt", amount = "10 g" },
]
"#;
const MIX: &str = r#"
[[step]]
title = "Mix"
text = "Stir the {water} into the {flour}."
uses = ["flour", "water"]
"#;
const SALT: &str = r#"
[[step]]
title = "Salt"
text = "Work in the {salt}."
uses = ["salt"]
"#;
const KNEAD: &str = "\n[[step]]\ntitle = \"Knead\"\ntext = \"Knead it.\"\n";
const RISE: &str = r#"
[[step]]
title = "Rise"
text = "Let it rise."
timer = [{ name = "rise", lasts = "1 h" }]
"#;
const BAKE: &str = "\n[[step]]\ntitle = \"Bake\"\ntext = \"Bake them.\"\n";

fn rolls() -> String {
    [HEAD, MIX, SALT, KNEAD, RISE, BAKE].concat()
}

struct Session {
    bench: Bench,
    seconds: u64,
}

impl Session {
    fn of(text: &str) -> Self {
        let formula = formula::read("rolls.toml", text).expect("a formula");
        let bench = Bench::new(formula, Options::default()).expect("a bench");
        let mut session = Self { bench, seconds: 0 };
        let wall = Wall::fixed(1_767_603_600_000, 0);
        session.tell(&Event::Start { wall });
        session
    }

    fn tell(&mut self, event: &Event) -> String {
        self.seconds += 1;
        let effects = self.bench.handle(event, Moment(self.seconds * 1000));
        let said = effects.into_iter().filter_map(|e| match e {
            Effect::Say { text, .. } => Some(text),
            _ => None,
        });
        said.collect::<Vec<_>>().join(" ")
    }

    fn says(&mut self, words: &str) -> String {
        self.tell(&Event::Heard(Heard::typed(words)))
    }

    /// The program starts again, with this text in the formula's file.
    fn starts_again(&mut self, text: &str) -> String {
        self.tell(&Event::Resumed {
            wall: Wall::fixed(1_767_603_700_000, 0),
            gap_ms: 100,
            notes: Vec::new(),
            dish: DishId::default(),
            formula: Some(text.to_owned()),
        })
    }
}

#[test]
fn a_step_that_is_gone_is_said_with_where_we_are() {
    let mut session = Session::of(&rolls());
    for _ in 0..3 {
        session.says("next");
    }
    let told = session.starts_again(&[HEAD, MIX, SALT, KNEAD, BAKE].concat());
    let wanted = "The formula has changed: step four is gone. I am at step three.";
    assert!(told.contains(wanted), "{told}");
    assert_eq!(session.bench.formula().steps.len(), 4);
    assert!(session.says("next").contains("Bake"));
}

#[test]
fn a_cook_whose_step_is_gone_is_at_the_one_before_it() {
    let mut session = Session::of(&rolls());
    for _ in 0..4 {
        session.says("next");
    }
    let told = session.starts_again(&[HEAD, MIX, SALT, KNEAD, BAKE].concat());
    assert!(
        told.contains("step four is gone. I am at step three."),
        "{told}"
    );
    assert!(session.says("where am i").contains("tep three"));
}

#[test]
fn what_went_in_keeps_its_place_and_new_amounts_are_said() {
    let mut session = Session::of(&rolls());
    session.says("next");
    session.says("the flour is in");
    let text = rolls()
        .replace("500 g", "450 g")
        .replace("\"10 g\"", "\"9 g\"");
    // A step before it, and the first one under another title.
    let soak = "\n[[step]]\ntitle = \"Warm up\"\ntext = \"Warm the bowl.\"\n";
    let text = text.replace(MIX, &format!("{soak}{}", MIX.replace("Mix", "Stir")));
    let told = session.starts_again(&text);
    let flour = "the plain flour is four hundred and fifty grams now, not five hundred grams, and is in already";
    assert!(told.contains(flour), "{told}");
    assert!(
        told.contains("the fine salt is nine grams now, not ten grams"),
        "{told}"
    );
    let yes = session.says("have i added the flour");
    assert!(yes.starts_with("Yes"), "{yes}");
    let no = session.says("have i added the water");
    assert!(no.starts_with("No"), "{no}");
}

#[test]
fn a_timer_goes_on_with_its_step() {
    let mut session = Session::of(&rolls());
    for _ in 0..4 {
        session.says("next");
    }
    session.says("start it");
    let told = session.starts_again(&[HEAD, MIX, KNEAD, RISE, BAKE].concat().replace(
        "uses = [\"flour\", \"water\"]",
        "uses = [\"flour\", \"water\", \"salt\"]",
    ));
    assert!(
        told.contains("step two is gone. I am at step three."),
        "{told}"
    );
    assert!(told.contains("Rise: "), "{told}");
    // The salt that went in at its step is in where it goes in now.
    assert!(session.says("have i added the salt").starts_with("Yes"));
    // It is not offered again.
    assert!(!session.says("start it").contains("Rise started"));
}

#[test]
fn the_size_is_kept_and_where_it_cannot_be_the_formula_stays() {
    let mut session = Session::of(&rolls());
    session.says("double it");
    let told = session.starts_again(&rolls().replace("500 g", "450 g"));
    assert!(
        told.contains("nine hundred grams now, not one thousand grams"),
        "{told}"
    );
    let plain = rolls()
        .replace("plain flour", "potatoes")
        .replace("\"flour\"", "\"potato\"");
    let mut session = Session::of(&rolls());
    session.says("make it with one kilo of flour");
    let told = session.starts_again(&plain.replace("{flour}", "{potato}"));
    assert!(told.contains("I go on with it as it was."), "{told}");
    assert_eq!(session.bench.formula().ingredients[0].id, "flour");
}

#[test]
fn nothing_is_said_of_an_edit_that_changes_nothing() {
    let mut session = Session::of(&rolls());
    let told = session.starts_again(&format!("# a remark\n{}", rolls()));
    assert!(!told.contains("formula"), "{told}");
}
