//! What recipes say beside 'five hundred grams of flour': nothing of it is lost, and none of it becomes a false number.

use commis::bench::Options;
use commis::formula::{Batch, WeighUp, read};
use commis::measure::Region;
use commis::order::ScaleBy;
use commis::plan::PlanItem;

use super::rehearsal::Rehearsal;

const PIE: &str = r#"name = "Onion pie"
source = "A card in my grandmother's hand"
note = "Better on the second day."
equipment = ["a heavy pan"]
keeps = "3 days in the fridge"
picture = "pie.jpg"
tags = ["pie", "sunday"]
[makes]
portions = 6
portions_to = 8
piece = "pie"
[[ingredient]]
id = "flour"
name = "plain flour"
amount = "200 g"
extra = "for dusting"
part = "crust"
[[ingredient]]
id = "fat"
name = "butter"
amount = "100 g"
or = ["margarine"]
note = "cold"
part = "crust"
[[ingredient]]
id = "onions"
amount = "2"
note = "finely sliced"
part = "filling"
[[ingredient]]
id = "frobnias"
name = "wild frobnias"
amount = "2-3 cloves"
part = "filling"
[[ingredient]]
id = "cheese"
name = "hard cheese"
amount = "80-100 g"
optional = true
part = "filling"
[[ingredient]]
id = "paste"
name = "zorkberry paste"
amount = "2 tbsp"
part = "filling"
[[ingredient]]
id = "salt"
amount = "to taste"
part = "filling"
[[ingredient]]
id = "oil"
amount = "for frying"
part = "filling"
[[step]]
title = "Crust"
text = "Rub {fat} of fat into the flour."
uses = ["flour", "fat"]
weigh_up = true
part = "crust"
[[step]]
title = "Chill"
text = "Leave the dough in the cold."
hands_on = "1 min"
part = "crust"
[[step.timer]]
name = "chill"
lasts = "8 to 16 h"
[[step]]
title = "Filling"
text = "Fry the onions with {frobnias} of frobnias and season."
uses = ["onions", "frobnias", "cheese", "paste", "salt", "oil"]
weigh_up = true
part = "filling"
[[step]]
title = "Bake blind"
text = "Bake the crust."
heat = "200 C"
hands_on = "1 min"
[[step.timer]]
name = "crust"
lasts = "12 min"
[[step]]
title = "Bake"
text = "Fill and bake. Salt again."
uses = ["salt"]
heat = "170 C"
hands_on = "2 min"
[[step.timer]]
name = "bake"
lasts = "30-40 min"
look = "Is it golden?"
[[step]]
title = "Salad"
text = "Make a salad."
hands_on = "10 min"
alongside = true
"#;

fn pie() -> commis::formula::Formula {
    read("pie.toml", PIE).unwrap_or_else(|e| panic!("{e}"))
}

#[test]
fn the_weigh_up_says_what_the_author_says() {
    let f = pie();
    let double = Batch::scaled(&f, &ScaleBy::Factor(2.0)).expect("twice");
    let list = WeighUp::new(&f, &double, 1.0, Region::Metric);
    let lines: Vec<(&str, String, String)> = list
        .lines
        .iter()
        .map(|l| {
            (
                l.id.as_str(),
                l.amount
                    .clone()
                    .unwrap_or_else(|| format!("{} g", l.weigh_g)),
                l.beside.join("; "),
            )
        })
        .collect();
    let expected = [
        ("flour", "400 g", "plus more for dusting"),
        ("fat", "200 g", "or margarine; cold"),
        ("onions", "440 g", "finely sliced"),
        ("frobnias", "4 to 6 cloves", ""),
        ("cheese", "160 to 200 g", "if you like"),
        ("paste", "4 tbsp", ""),
        ("salt", "to taste", ""),
        ("oil", "for frying", ""),
    ];
    for ((id, amount, beside), line) in expected.iter().zip(&lines) {
        assert_eq!(
            (line.0, line.1.as_str(), line.2.as_str()),
            (*id, *amount, *beside)
        );
    }
    let json = serde_json::to_value(&list).expect("JSON");
    assert!(
        json["lines"][6].get("grams").is_none(),
        "what is not weighed has no weight: {json}"
    );
    assert_eq!(json["parts"][0]["name"], "crust");
    assert_eq!(json["parts"][0]["total_g"], 600.0);
    let table = list.table(1.0);
    assert!(
        table.contains("The sum leaves out what has no mass: wild frobnias, zorkberry paste."),
        "{table}"
    );
    assert!(
        table.contains("crust:\n") && table.contains("filling:\n"),
        "{table}"
    );
    let pieces = Batch::scaled(&f, &ScaleBy::Dough(commis::measure::Mass::grams(1000.0)));
    assert!(
        pieces
            .expect("there is a sum")
            .notes()
            .iter()
            .any(|n| n.contains("leaves out"))
    );
}

#[test]
fn it_is_said_as_the_author_says_it() {
    let script = "start 9:00\n0:00 say more\n+1s say next\n+5s say it's in\n+5s say how much salt\n+5s say how much wild frobnias\n\
        +5s say does it contain milk\n+5s say go to step two\n+5s say start it\n+5s say go to step three\n\
        +5s say go to step five\n+5s say start it\n";
    let played = Rehearsal::play_with(pie(), Options::default(), script);
    let said = played.said().join("\n");
    for words in [
        "makes one pie, six to eight portions",
        "Now the crust. Step one.",
        "Plain flour: two hundred grams, plus more for dusting.",
        "Butter or margarine? One hundred grams, cold.",
        "Salt, to taste.",
        "Two to three cloves of wild frobnias.",
        "eight to sixteen hours",
        "Now set the oven to one hundred and seventy degrees",
        "thirty to forty minutes",
    ] {
        assert!(said.contains(words), "`{words}` is said in:\n{said}");
    }
    assert!(!said.contains("zero"), "{said}");
}

#[test]
fn a_plan_counts_the_longest_bake_the_shortest_cold_and_what_runs_beside() {
    let item = PlanItem::from_formula(&pie()).expect("a plan");
    let of = |title: &str| {
        item.steps
            .iter()
            .find(|s| s.title == title)
            .expect("a step")
    };
    assert_eq!(of("Chill").wait, 480);
    assert_eq!(
        (of("Bake blind").heat_c, of("Bake").heat_c),
        (Some(200.0), Some(170.0))
    );
    // Forty minutes of baking, of which the salad takes ten.
    assert_eq!(
        (of("Bake").wait, of("Salad").hands, of("Salad").wait),
        (0, 10, 30)
    );
    assert_eq!(of("Salad").timer.as_deref(), Some("bake"));
}

#[test]
fn what_is_wrong_has_its_place() {
    for (with, instead, fault) in [
        (
            "amount = \"to taste\"",
            "amount = \"taste\"",
            "salt: amount \"taste\": expected a number, found \"taste\"; or words such as `to taste`",
        ),
        (
            "lasts = \"8 to 16 h\"",
            "lasts = \"16 to 8 h\"",
            "timer `chill`: expected a range from short to long",
        ),
        (
            "heat = \"200 C\"",
            "heat = \"900 C\"",
            "heat: expected 30 C to 350 C",
        ),
        (
            "portions_to = 8",
            "portions_to = 3",
            "portions_to: expected a number from 6 to 10000",
        ),
        (
            "or = [\"margarine\"]",
            "or = [\" \"]",
            "fat: or: expected a name, found nothing",
        ),
        (
            "hands_on = \"10 min\"\nalongside",
            "part = \"fillin\"\nalongside",
            "part: no ingredient belongs to `fillin`; did you mean `filling`?",
        ),
        (
            "heat = \"170 C\"",
            "heat = \"170 C\"\noven = true",
            "a step has one of `oven` and `heat`",
        ),
        (
            "name = \"zorkberry paste\"",
            "name = \"zorkberry paste\"\nrole = \"flour\"",
            "paste: only what has a mass can count as flour",
        ),
        (
            "amount = \"2-3 cloves\"",
            "amount = \"3-2 cloves\"",
            "expected a range from small to large",
        ),
    ] {
        assert!(PIE.contains(with), "{with}");
        let text = PIE.replacen(with, instead, 1);
        let error = read("pie.toml", &text).expect_err(instead);
        let shown = error.explained(&text);
        assert!(error.to_string().contains(fault), "{error}");
        assert!(shown.contains('^') && error.faults[0].line > 0, "{shown}");
    }
}

#[test]
fn the_schema_knows_all_of_it() {
    let schema =
        serde_json::to_value(schemars::schema_for!(commis::formula::FormulaFile)).expect("JSON");
    let validator = jsonschema::validator_for(&schema).expect("a valid schema");
    let value: toml::Value = toml::from_str(PIE).expect("TOML");
    let json = serde_json::to_value(value).expect("JSON");
    let errors: Vec<String> = validator
        .iter_errors(&json)
        .map(|e| e.to_string())
        .collect();
    assert!(errors.is_empty(), "{errors:?}");
}
