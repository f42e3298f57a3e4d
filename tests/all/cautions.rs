//! Dangers in steps, and temperatures that are the same whoever tells them.

use commis::ask::{self, Context, Question};
use commis::measure::Region;
use commis::safety::{Danger, caution, dangers_in, limit, safe_temperature};

use super::program::{commis, out};

/// Step, the dangers in it, the safe core temperature by the chart of the USDA Food Safety and Inspection Service, a
/// remark. Written by somebody who had not seen the tables.
const STEPS: [&str; 2] = [
    include_str!("../tables/steps.tsv"),
    include_str!("../tables/steps_second.tsv"),
];

/// Lists of later strangers, who do not agree with the first and with one another about the temperature of a soft egg, of
/// a frozen joint and of shellfish: no danger may be missed in them.
const LATER: [&str; 3] = [
    include_str!("../tables/steps_third.tsv"),
    include_str!("../tables/steps_fourth.tsv"),
    include_str!("../tables/steps_fifth.tsv"),
];

/// The cautions that tell of a danger of the list.
fn tells(id: &str) -> &[&str] {
    match id {
        "hot-oven" => &["hot-tin"],
        "steam" | "pressure" => &["steam"],
        "steam-in-oven" => &["steam", "hot-tin"],
        "blend-hot" => &["hot-blender"],
        "mixer" | "mandoline" | "slash" | "knife" | "blade" => &["sharp"],
        "lye" => &["caustic"],
        "shellfish-shells" | "raw-shellfish" => &["shellfish"],
        "herbs-oil" => &["garlic-oil"],
        "preserve" => &["canning"],
        "raw-poultry" => &["rinse-poultry"],
        "raw-meat" => &["whole-cut", "minced"],
        _ => &[],
    }
}

/// Dangers that a core temperature answers.
const BY_HEAT: [&str; 9] = [
    "poultry",
    "minced",
    "whole-cut",
    "stuffed",
    "game",
    "offal",
    "fish",
    "shellfish",
    "leftovers",
];

/// No danger missed, no wrong temperature, and of what is said less than a tenth is not wanted.
#[test]
fn dangers_of_the_list() {
    let (mut said, mut missed, mut false_ones, mut wrong) = (0, Vec::new(), Vec::new(), Vec::new());
    // Another list of the same columns can be looked at: STEPS_LIST=/path/to/list.tsv.
    let other = std::env::var_os("STEPS_LIST").map(|p| std::fs::read_to_string(p).unwrap());
    let lists = other.as_deref().map_or(STEPS.to_vec(), |other| vec![other]);
    let rows = lists
        .iter()
        .flat_map(|list| list.lines().skip(1))
        .filter(|l| !l.starts_with('#'));
    for line in rows {
        let columns: Vec<&str> = line.split('\t').collect();
        let list = columns.get(1).copied().unwrap_or_default();
        let wanted: Vec<&str> = list
            .split(',')
            .map(str::trim)
            .filter(|d| !d.is_empty())
            .collect();
        let core_c: Option<f64> = columns.get(2).and_then(|c| c.trim().parse().ok());
        let found = dangers_in(&[], columns[0]);
        said += found.len();
        let mut core = None;
        for danger in &found {
            match danger {
                Danger::Core(row) => core = Some(row.of(Region::Us).celsius),
                Danger::Caution(c) => {
                    let tells = tells(&c.id);
                    if !wanted.iter().any(|w| *w == c.id || tells.contains(w)) {
                        false_ones.push(format!("{}: {}", columns[0], c.id));
                    }
                }
            }
        }
        if core != core_c {
            wrong.push(format!("{}: {core:?}, wanted {core_c:?}", columns[0]));
        }
        for danger in wanted {
            let told = found
                .iter()
                .any(|f| f.id() == danger || tells(f.id()).contains(&danger));
            if !(told || core.is_some() && BY_HEAT.contains(&danger)) {
                missed.push(format!("{}: {danger}", columns[0]));
            }
        }
    }
    println!(
        "{said} said: missed {}, wrong temperatures {}, not wanted {}: {missed:#?} {wrong:#?} {false_ones:#?}",
        missed.len(),
        wrong.len(),
        false_ones.len()
    );
    assert!(said > 40, "{said}");
    assert_eq!(missed, Vec::<String>::new());
    assert_eq!(wrong, Vec::<String>::new());
    assert!(false_ones.len() * 10 < said, "{false_ones:#?}");
}

/// No danger of a later list is missed, and of what is said less than a tenth is not wanted.
#[test]
fn no_danger_of_a_later_list_is_missed() {
    let (mut said, mut missed, mut not_wanted) = (0, Vec::new(), 0);
    let rows = LATER.iter().flat_map(|list| list.lines().skip(1));
    for line in rows.filter(|l| !l.starts_with('#')) {
        let columns: Vec<&str> = line.split('\t').collect();
        let list = columns.get(1).copied().unwrap_or_default();
        let wanted: Vec<&str> = list
            .split(',')
            .map(str::trim)
            .filter(|d| !d.is_empty())
            .collect();
        let found = dangers_in(&[], columns[0]);
        said += found.len();
        let core = found.iter().any(|f| matches!(f, Danger::Core(_)));
        for danger in &wanted {
            let told = found
                .iter()
                .any(|f| f.id() == *danger || tells(f.id()).contains(danger));
            if !(told || core && BY_HEAT.contains(danger)) {
                missed.push(format!("{}: {danger}", columns[0]));
            }
        }
        not_wanted += found
            .iter()
            .filter(|f| matches!(f, Danger::Caution(_)))
            .filter(|f| {
                !wanted
                    .iter()
                    .any(|w| *w == f.id() || tells(f.id()).contains(w))
            })
            .count();
    }
    assert!(said > 100, "{said}");
    assert_eq!(missed, Vec::<String>::new());
    assert!(not_wanted * 10 < said, "{not_wanted} of {said}");
}

/// A food as it is asked for, and a step that cooks it.
const FOODS: [(&str, &str); 14] = [
    ("chicken", "Roast the chicken."),
    ("duck", "Fry the duck."),
    ("meatballs", "Fry the meatballs."),
    ("koftas", "Grill the koftas."),
    ("burgers", "Grill the burgers."),
    ("minced beef", "Brown the minced beef."),
    ("pork chop", "Grill the pork chop."),
    ("leg of lamb", "Roast the leg of lamb."),
    ("venison", "Roast the venison."),
    ("liver", "Fry the liver."),
    ("salmon", "Poach the salmon."),
    ("prawns", "Fry the prawns."),
    ("omelette", "Cook the omelette."),
    ("leftovers", "Reheat the leftovers."),
];

/// `check`, a step of a session, and the question tell one temperature for one food, in every region.
#[test]
fn one_temperature_for_one_food() {
    for region in Region::ALL {
        let context = Context {
            region,
            ..Context::default()
        };
        for (food, step) in FOODS {
            let row = safe_temperature(food, region).unwrap_or_else(|e| panic!("{food}: {e}"));
            let question = Question::SafeTemperature { food: food.into() };
            let asked = ask::answer(&question, &context).unwrap();
            assert_eq!(asked.value, row.celsius, "{food}");
            let dangers = dangers_in(&[], step);
            let core = dangers.iter().find_map(|d| match d {
                Danger::Core(core) => Some(core.of(region)),
                Danger::Caution(_) => None,
            });
            assert_eq!(core.map(|c| c.celsius), Some(row.celsius), "{step}");
            // The words of both hold the same number.
            let number = asked.words.split(" degrees").next().unwrap().to_lowercase();
            let said = dangers.last().unwrap().spoken(region);
            assert!(said.contains(&number), "{food}: {said}, {}", asked.words);
        }
    }
}

/// The program as a cook calls it: `check` and a rehearsed session say what `ask` says.
#[test]
fn check_session_and_ask_agree() {
    let folder = std::path::Path::new(env!("CARGO_TARGET_TMPDIR"));
    let (formula, script) = (folder.join("koftas.toml"), folder.join("koftas.txt"));
    let text = "name = \"Koftas\"\nabout = \"Skewers.\"\n[makes]\nportions = 4\npieces = 8\npiece = \"skewer\"\n\
        [[ingredient]]\nid = \"lamb\"\nname = \"minced lamb\"\namount = \"500 g\"\n\
        [[step]]\ntitle = \"Shape\"\ntext = \"Shape {lamb} of lamb into koftas.\"\nuses = [\"lamb\"]\n\
        [[step]]\ntitle = \"Grill\"\ntext = \"Grill the koftas on skewers, turning them often.\"\n\
        [[step]]\ntitle = \"Finish\"\ntext = \"Fry the last of the koftas in a pan.\"\n";
    std::fs::write(&formula, text).expect("written");
    std::fs::write(&script, "0:00 say go to step two\n0:30 say next\n").expect("written");
    let (formula, script) = (formula.display().to_string(), script.display().to_string());
    let seventy_one = "seventy one degrees";
    let asked = out(&commis(&["ask", "how hot should koftas be"], "")).to_lowercase();
    assert!(asked.contains(seventy_one), "{asked}");
    let checked = out(&commis(&["check", &formula], ""));
    let said = out(&commis(&["rehearse", &formula, &script], ""));
    for printed in [checked, said] {
        assert_eq!(
            printed.matches("degrees").count(),
            1,
            "said once: {printed}"
        );
        assert!(printed.contains(seventy_one), "{printed}");
    }
}

/// Hot holding as the law in force says: 63 C in the United Kingdom (Food Hygiene (England) Regulations 2013), 57 C
/// (135 F) in the United States (FDA Food Code 2022, 3-501.16), 60 C in Australia (standard 3.2.2).
#[test]
fn holding_and_cooling_by_region_agree_with_the_cautions() {
    for (region, celsius, words) in [
        (Region::Uk, 63.0, "sixty three"),
        (Region::Us, 57.0, "fifty seven"),
        (Region::Au, 60.0, "sixty"),
        (Region::Metric, 63.0, "sixty three"),
    ] {
        let context = Context {
            region,
            ..Context::default()
        };
        let keep = |how| ask::answer(&Question::Keep { how }, &context).unwrap();
        assert_eq!(keep(ask::Keeping::Hot).value, celsius);
        let hold = caution("hold-hot").unwrap().spoken(region);
        assert!(hold.contains(&format!("{words} degrees")), "{hold}");
        let cool = caution("cooling").unwrap().spoken(region).to_lowercase();
        let asked = keep(ask::Keeping::Cool).words.to_lowercase();
        let first = &limit("cool first", region).unwrap().say;
        assert!(
            cool.contains(first.as_str()) && asked.contains(first.as_str()),
            "{cool}"
        );
    }
}
