//! 'How much pasta for six': what one person eats, times the people.

use std::collections::HashMap;
use std::sync::OnceLock;

use serde::Deserialize;

use super::error::within;
use super::{Answer, AskError, Context};
use crate::measure::words::{Style, counted};
use crate::measure::{Mass, print, round_to, say, singular};

#[derive(Deserialize)]
struct File {
    pasta_salt_g: f64,
    source: String,
    food: Vec<Row>,
}

#[derive(Deserialize)]
struct Row {
    name: String,
    also: Vec<String>,
    main: [f64; 2],
    side: [f64; 2],
    usual: Option<String>,
}

fn table() -> &'static File {
    static TABLE: OnceLock<File> = OnceLock::new();
    TABLE.get_or_init(|| {
        toml::from_str(include_str!("../../shared/tables/portions.toml"))
            .expect("the shipped table of portions is read by a test of every build")
    })
}

/// Grams of salt for a litre of pasta water.
pub fn pasta_salt_g() -> f64 {
    table().pasta_salt_g
}

fn plain(text: &str) -> String {
    text.split(' ').map(singular).collect::<Vec<_>>().join(" ")
}

/// Every name, as it is looked up, with its row.
fn by_name() -> &'static HashMap<String, &'static Row> {
    static NAMES: OnceLock<HashMap<String, &'static Row>> = OnceLock::new();
    NAMES.get_or_init(|| {
        let names = |row: &'static Row| {
            let all = std::iter::once(&row.name).chain(&row.also);
            all.map(move |name| (plain(name), row))
        };
        table().food.iter().flat_map(names).collect()
    })
}

fn find(name: &str) -> Option<&'static Row> {
    by_name().get(&plain(name)).copied()
}

/// The food of the table that these words name: the longest name that is among them, and only where no other is.
pub fn portion_of(words: &[String]) -> Option<&'static str> {
    let fresh = words.iter().any(|w| w == "fresh");
    let mut found: Vec<(usize, &'static str)> = Vec::new();
    let mut at = 0;
    while at < words.len() {
        let longest = (1..=3)
            .rev()
            .find_map(|len| Some((len, find(&words.get(at..at + len)?.join(" "))?)));
        match longest {
            Some((len, row)) => {
                found.push((len, &row.name));
                at += len;
            }
            None => at += 1,
        }
    }
    found.sort_by_key(|(len, _)| std::cmp::Reverse(*len));
    let (_, name) = *found.first()?;
    let bone = words
        .windows(2)
        .any(|pair| pair == ["the", "bone"] || pair == ["bone", "in"]);
    if bone && ["a joint without its bone", "meat without bones"].contains(&name) {
        return Some("meat on the bone");
    }
    // 'Fresh' may stand apart from its pasta.
    if name == "dried pasta" && fresh {
        return Some("fresh pasta");
    }
    Some(name)
}

/// So many grams for so many people, from little to much.
pub(super) fn portion(
    food: &str,
    people: f64,
    side: bool,
    context: &Context,
) -> Result<Answer, AskError> {
    within("people", people, 1.0, 10_000.0)?;
    let row = find(food).ok_or_else(|| AskError::UnknownWord {
        expected: "a food of the table of portions, such as pasta, rice or potatoes",
        found: food.to_owned(),
    })?;
    let side = side || row.usual.as_deref() == Some("side");
    let each = if side { row.side } else { row.main };
    let step = |g: f64| {
        if g < 200.0 {
            5.0
        } else if g < 2000.0 {
            50.0
        } else {
            100.0
        }
    };
    let said = |g: f64| {
        say::mass(
            Mass::grams(round_to(g, step(g)).max(step(g))),
            &context.say(),
        )
    };
    let [low, high] = each.map(|g| g * people);
    let course = if side {
        "beside a main course"
    } else {
        "as a main course"
    };
    let counted = counted(people, "person", "people", Style::Kitchen);
    Ok(Answer {
        value: low,
        high: Some(high),
        unit: "g".to_owned(),
        parts: Vec::new(),
        words: format!(
            "{} to {} of {}, {course} for {counted}",
            said(low),
            said(high),
            row.name
        ),
        sum: format!(
            "{} x {} to {} g",
            print::number(people, 2),
            print::number(each[0], 0),
            print::number(each[1], 0)
        ),
        source: table().source.clone(),
    })
}

#[cfg(test)]
mod tests {
    use super::{portion, portion_of, table};
    use crate::ask::Context;

    #[test]
    fn portions_go_from_little_to_much() {
        for row in &table().food {
            assert!(
                row.main[0] < row.main[1] && row.side[0] <= row.side[1],
                "{}",
                row.name
            );
            assert!(row.side[1] <= row.main[1], "{}", row.name);
        }
        let six = portion("spaghetti", 6.0, false, &Context::default()).unwrap();
        assert_eq!((six.value, six.high), (450.0, Some(600.0)));
        assert!(portion("gravel", 2.0, false, &Context::default()).is_err());
        let words = |text: &str| text.split(' ').map(str::to_owned).collect::<Vec<_>>();
        assert_eq!(
            portion_of(&words("fresh egg tagliatelle per head")),
            Some("fresh pasta")
        );
        assert_eq!(
            portion_of(&words("a leg of lamb for eight")),
            Some("meat on the bone")
        );
    }
}
