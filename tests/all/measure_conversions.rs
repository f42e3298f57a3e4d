//! 10,000 conversions against GNU `units`, which `pint` confirms where it knows the measure (see
//! `tests/tables/conversions.py`).

use commis::measure::{Length, Region, Temperature, Unit};

const TABLE: &str = include_str!("../tables/conversions.tsv");

fn converted(number: f64, from: &str, to: &str) -> f64 {
    match (from, to) {
        ("C", "F") => Temperature::celsius(number).as_fahrenheit(),
        ("F", "C") => Temperature::fahrenheit(number).as_celsius(),
        ("cm", "in") => Length::centimetres(number).as_inches(),
        ("in", "cm") => Length::inches(number).as_centimetres(),
        _ => {
            let unit = |name: &str| {
                Unit::find(name, Region::Metric).unwrap_or_else(|e| panic!("{name}: {e}"))
            };
            number * unit(from).factor_to(unit(to)).unwrap()
        }
    }
}

#[test]
fn ten_thousand_conversions_agree_to_a_part_in_a_milliard() {
    let mut rows = 0;
    let mut worst = 0.0_f64;
    for row in TABLE.lines() {
        let columns: Vec<&str> = row.split('\t').collect();
        let [number, from, to, result, _] = columns[..] else {
            panic!("five columns: {row}")
        };
        let (number, result): (f64, f64) = (number.parse().unwrap(), result.parse().unwrap());
        let ours = converted(number, from, to);
        // Near 0 C or 0 F the scale, not the digits, sets what an error of one part means.
        let scale = if matches!(from, "C" | "F") {
            result.abs().max(1.0)
        } else {
            result.abs()
        };
        let error = (ours - result).abs() / scale;
        assert!(
            error <= 1e-9,
            "{number} {from} in {to}: {ours}, expected {result}"
        );
        worst = worst.max(error);
        rows += 1;
    }
    assert_eq!(rows, 10_000);
    // The bound that `measure` states for itself, and the 15 digits of the table.
    assert!(worst < 1e-13, "worst relative error {worst:e}");
}
