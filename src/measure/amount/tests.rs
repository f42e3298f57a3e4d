//! Amounts as cooks write and say them.

use super::{Amount, Sense};
use crate::measure::{Region, Thing, Unit};

fn grams(text: &str) -> f64 {
    Amount::parse(text, Region::Metric)
        .unwrap_or_else(|e| panic!("{e}"))
        .mass(None)
        .unwrap()
        .as_grams()
}

fn ml(text: &str, region: Region) -> f64 {
    Amount::parse(text, region)
        .unwrap_or_else(|e| panic!("{e}"))
        .volume(None)
        .unwrap()
        .as_millilitres()
}

#[test]
fn masses_as_written() {
    for (text, value) in [
        ("500 g", 500.0),
        ("500g", 500.0),
        ("1.25 kg", 1250.0),
        ("1,5 kg", 1500.0),
        ("1,250 g", 1250.0),
        ("¾ oz", 0.75 * 28.349_523_125),
        ("1 lb 3 oz", 453.592_37 + 3.0 * 28.349_523_125),
        ("2 x 400 g tins", 800.0),
        ("2 400g tins", 800.0),
        ("1 (400 g) tin", 400.0),
        ("half a kilo", 500.0),
        ("two and a half grams", 2.5),
        ("one thousand two hundred and fifty grams", 1250.0),
        ("one kilo two fifty", 1250.0),
        ("one kilo fifty", 1050.0),
        ("two kilos and five grams", 2005.0),
        ("two point five grams", 2.5),
        ("zero point four grams", 0.4),
        ("a quarter of a gram", 0.25),
        ("ten and a half grams", 10.5),
        ("twenty-five grams", 25.0),
        ("a hundred grams", 100.0),
        ("two fifty grams", 250.0),
        ("about 30 g", 30.0),
        ("30-40 g", 35.0),
        ("between 30 and 40 g", 35.0),
    ] {
        assert!(
            (grams(text) - value).abs() < 1e-9,
            "{text}: {}",
            grams(text)
        );
    }
}

#[test]
fn volumes_as_written() {
    for (text, value) in [
        ("2 1/2 cups", 625.0),
        ("1½ tsp", 7.5),
        ("1 1/2 tsp", 7.5),
        ("200 ml + 2 tbsp", 230.0),
        ("two tablespoons and a teaspoon", 35.0),
        ("three quarters of a teaspoon", 3.75),
        ("one and a third cups", 250.0 * 4.0 / 3.0),
        ("an eighth of a teaspoon", 0.625),
        ("half a teaspoon", 2.5),
        ("a scant cup", 237.5),
        ("1 heaped tsp", 7.5),
        ("1 cup plus 2 tbsp", 280.0),
        ("1 T", 15.0),
        ("1 t", 5.0),
        ("2 us cups", 473.176_473),
        ("1 UK pint", 568.261_25),
        ("3 fl. oz.", 3.0 * 28.413_062_5),
        ("one and a half litres", 1500.0),
    ] {
        let found = ml(text, Region::Metric);
        assert!((found - value).abs() < 1e-9, "{text}: {found}");
    }
    assert_eq!(ml("1 tbsp", Region::Au), 20.0);
    assert_eq!(ml("1 cup", Region::Us), 236.588_236_5);
}

#[test]
fn counts_and_measures_by_feel() {
    let cloves = Amount::parse("3-4 cloves", Region::Uk).unwrap();
    assert_eq!((cloves.parts[0].low, cloves.parts[0].high), (3.0, 4.0));
    assert_eq!(cloves.parts[0].unit, Unit::Count(Thing::Clove));
    assert_eq!(cloves.count(), Some((3.5, "clove".into())));
    assert_eq!(
        Amount::parse("2", Region::Uk).unwrap().count(),
        Some((2.0, "piece".into()))
    );
    assert_eq!(
        Amount::parse("half a dozen eggs", Region::Uk)
            .unwrap()
            .count(),
        Some((6.0, "egg".into()))
    );
    assert_eq!(
        Amount::parse("two large eggs", Region::Uk).unwrap().count(),
        Some((2.0, "egg".into()))
    );
    let knob = Amount::parse("a knob of", Region::Uk).unwrap();
    assert!(knob.is_approximate());
    assert_eq!(knob.mass(None).unwrap().as_grams(), 15.0);
    assert_eq!(
        Amount::parse("a scant cup", Region::Uk).unwrap().sense,
        Sense::Scant
    );
    assert_eq!(
        Amount::parse("~2 tbsp", Region::Uk).unwrap().sense,
        Sense::About
    );
}

#[test]
fn both_measures_are_kept() {
    let both = Amount::parse("2 cups (250 g)", Region::Us).unwrap();
    assert_eq!(both.mass(None).unwrap().as_grams(), 250.0);
    assert_eq!(grams("250g/9oz"), 250.0);
}

#[test]
fn the_rest_of_a_line_is_given_back() {
    let (amount, rest) =
        Amount::parse_prefix("1 lb 3 oz strong flour, sifted", Region::Uk).unwrap();
    assert_eq!(amount.parts.len(), 2);
    assert_eq!(rest, "strong flour, sifted");
    let (amount, rest) = Amount::parse_prefix("2 large onions", Region::Uk).unwrap();
    assert_eq!(amount.count(), Some((2.0, "piece".into())));
    assert_eq!(rest, "large onions");
    let (_, rest) = Amount::parse_prefix("1 tsp salt and pepper", Region::Uk).unwrap();
    assert_eq!(rest, "salt and pepper");
}

#[test]
fn what_is_wrong_is_said() {
    for (text, message) in [
        ("", "expected an amount, found nothing"),
        (
            "7 gg",
            r#"amount "7 gg": unknown unit "gg"; did you mean "g"?"#,
        ),
        (
            "2 teaspons",
            r#"amount "2 teaspons": unknown unit "teaspons"; did you mean "teaspoons"?"#,
        ),
        (
            "5 zorkmids",
            r#"amount "5 zorkmids": unknown unit "zorkmids""#,
        ),
        ("some", r#"amount "some": expected a number, found "some""#),
        (
            "1/0 cup",
            r#"amount "1/0 cup": expected a fraction that can be divided, found "1/0""#,
        ),
        (
            "4-3 cloves",
            r#"amount "4-3 cloves": expected a range from small to large, found 4 to 3"#,
        ),
        (
            "5 g flour",
            r#"amount "5 g flour": expected the end of the amount, found "flour""#,
        ),
        (
            "9999999 g",
            r#"amount "9999999 g": amount: expected 0 to 1000000, found 9999999"#,
        ),
        ("-5 g", r#"amount "-5 g": expected a number, found "-5 g""#),
    ] {
        assert_eq!(
            Amount::parse(text, Region::Metric).unwrap_err().to_string(),
            message
        );
    }
}
