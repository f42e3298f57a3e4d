//! A formula's author must find the line: every fault with its place, what stood there and what was expected.

use commis::formula::read;

const GOOD: &str = r#"name = "Plain rolls"
[makes]
portions = 8
pieces = 8
piece = "roll"
[[ingredient]]
id = "flour"
name = "strong white flour"
amount = "500 g"
[[ingredient]]
id = "salt"
table = "table salt"
amount = "10 g"
[[step]]
title = "Weigh"
text = "Weigh it: {salt}."
uses = ["flour", "salt"]
weigh_up = true
"#;

fn fault(change: &str, with: &str) -> String {
    assert!(GOOD.contains(change), "`{change}` is in the good formula");
    let text = GOOD.replacen(change, with, 1);
    read("rolls.toml", &text)
        .map(|_| ())
        .expect_err("a fault")
        .to_string()
}

#[test]
fn the_good_one_reads() {
    let f = read("rolls.toml", GOOD).unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(f.ingredients.len(), 2);
    assert_eq!(f.steps[0].uses.len(), 2);
}

#[test]
fn an_unknown_unit_names_the_near_one() {
    assert_eq!(
        fault("\"10 g\"", "\"7 gg\""),
        r#"rolls.toml:13:10: salt: amount "7 gg": unknown unit "gg"; did you mean "g"?"#
    );
}

#[test]
fn an_unknown_key_is_an_error_and_not_silence() {
    assert_eq!(
        fault("portions", "portons"),
        "rolls.toml:3:1: unknown key `portons`; did you mean `portions`?"
    );
    assert_eq!(
        fault("weigh_up = true", "weighup = true"),
        "rolls.toml:18:1: unknown key `weighup`; did you mean `weigh_up`?"
    );
}

#[test]
fn what_is_used_and_what_is_listed_agree() {
    assert_eq!(
        fault("\"flour\", \"salt\"", "\"flour\", \"slat\""),
        "rolls.toml:11:6: no step uses `salt`: it would be forgotten\n\
         rolls.toml:17:18: uses: `slat` is no ingredient of this formula; did you mean `salt`?"
    );
    assert_eq!(
        fault("\"flour\", \"salt\"", "\"flour\", \"1/2 salt\""),
        "rolls.toml:11:6: the steps use 50 % of `salt`, expected 100 %"
    );
    assert_eq!(
        fault("{salt}", "{sallt}"),
        "rolls.toml:16:8: step `Weigh`: `{sallt}` is no ingredient of this formula; did you mean `{salt}`?"
    );
}

#[test]
fn numbers_out_of_range_are_refused() {
    assert_eq!(
        fault("portions = 8", "portions = -2"),
        "rolls.toml:3:12: portions: expected a number from 0.1 to 10000, found `-2`"
    );
    assert_eq!(
        fault("portions = 8", "portions = nan"),
        "rolls.toml:3:12: portions: expected a number from 0.1 to 10000, found `NaN`"
    );
    assert!(
        fault("\"500 g\"", "\"0 g\"").contains("rolls.toml:9:10: flour: "),
        "{}",
        fault("\"500 g\"", "\"0 g\"")
    );
}

#[test]
fn broken_toml_has_a_place_too() {
    assert!(
        fault("[makes]", "[makes").starts_with("rolls.toml:2:"),
        "{}",
        fault("[makes]", "[makes")
    );
    assert!(fault("name = \"Plain rolls\"\n", "").contains("missing key `name`"));
    let text = "\u{0}\u{ff}".to_owned();
    assert!(read("x.toml", &text).is_err());
    assert!(read("x.toml", "").is_err());
}

#[test]
fn every_shipped_formula_is_right_and_fits_the_published_schema() {
    let schema = serde_json::to_value(schemars::schema_for!(commis::formula::FormulaFile))
        .expect("a schema is JSON");
    let validator = jsonschema::validator_for(&schema).expect("the schema is valid");
    let folder = super::rehearsal::root().join("shared/formulas");
    let mut seen = 0;
    for entry in std::fs::read_dir(folder)
        .expect("shipped formulas")
        .flatten()
    {
        let text = std::fs::read_to_string(entry.path()).expect("readable");
        read(&entry.path().display().to_string(), &text).unwrap_or_else(|e| panic!("{e}"));
        let value: toml::Value = toml::from_str(&text).expect("TOML");
        let json = serde_json::to_value(value).expect("JSON");
        let errors: Vec<String> = validator
            .iter_errors(&json)
            .map(|e| e.to_string())
            .collect();
        assert!(errors.is_empty(), "{}: {errors:?}", entry.path().display());
        seen += 1;
    }
    assert!(seen >= 3);
    // The schema refuses what the reader refuses.
    let json = serde_json::json!({ "name": "x", "unknown": 1 });
    assert!(!validator.is_valid(&json));
}

#[test]
fn how_long_may_lie_between_steps_is_read() {
    assert_eq!(
        fault("weigh_up = true", "weigh_up = true\nwithin = \"5 min\""),
        "rolls.toml:19:10: within: expected a step before this one, found the first"
    );
    let second = |within: &str| {
        format!("{GOOD}[[step]]\ntitle = \"Shape\"\ntext = \"Shape it.\"\nwithin = \"{within}\"\n")
    };
    let bad = read("rolls.toml", &second("a while")).expect_err("a fault");
    assert!(
        bad.to_string()
            .starts_with("rolls.toml:22:10: within: expected a time such as"),
        "{bad}"
    );
    let good = read("rolls.toml", &second("1 h 30 min")).unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(good.steps[1].within, Some(commis::time::Span::minutes(90)));
    let none = read("rolls.toml", &second("0 min")).unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(none.steps[1].within, Some(commis::time::Span::ZERO));
}
