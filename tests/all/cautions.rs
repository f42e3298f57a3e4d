//! Dangers in steps, and temperatures that are the same whoever tells them.

use commis::ask::{self, Context, Question};
use commis::bench::{Options, kitchen_lexicon};
use commis::measure::Region;
use commis::order::Order;
use commis::safety::{self, Danger, caution, dangers_in, limit, safe_temperature};
use commis::understand::{Understood, parse};

use super::program::{commis, out};
use super::rehearsal::Rehearsal;

/// Step, the dangers in it, the safe core temperature by the chart of the USDA Food Safety and Inspection Service, a
/// remark. The first two were written by somebody who had not seen the tables, the third by who knows them.
const STEPS: [&str; 3] = [
    include_str!("../tables/steps.tsv"),
    include_str!("../tables/steps_second.tsv"),
    include_str!("../tables/steps_kinds.tsv"),
];

/// Lists of later strangers, who do not agree with the first and with one another about the temperature of a soft egg, of
/// a frozen joint and of shellfish: no danger may be missed in them.
const LATER: [&str; 5] = [
    include_str!("../tables/steps_third.tsv"),
    include_str!("../tables/steps_fourth.tsv"),
    include_str!("../tables/steps_fifth.tsv"),
    include_str!("../tables/steps_sixth.tsv"),
    include_str!("../tables/steps_seventh.tsv"),
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
        "sealed-tin" => &["hot-tin", "pressure"],
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

/// Names that are asked about, and that no step tells: how hot ham gets hangs on how it was cooked and packed, which only
/// its wrapper knows. Whoever asks is told both heats.
const UNTOLD: [&str; 2] = ["cooked ham", "ham"];

/// A formula of one step that cooks this food.
fn cooked(food: &str) -> commis::formula::Formula {
    let text = format!(
        "name = \"Supper\"\nabout = \"One dish.\"\n[makes]\nportions = 4\npieces = 1\npiece = \"dish\"\n\
         [[ingredient]]\nid = \"salt\"\nname = \"salt\"\namount = \"5 g\"\n\
         [[step]]\ntitle = \"Begin\"\ntext = \"Measure {{salt}} of salt.\"\nuses = [\"salt\"]\n\
         [[step]]\ntitle = \"Supper\"\ntext = \"Cook the {food} in the pan, and serve.\"\n"
    );
    commis::formula::read("supper", &text).unwrap_or_else(|e| panic!("{food}: {e}"))
}

/// Over every food that the safety tables know, in every region: what `check` prints with a formula, what a session says
/// at the step, what is answered to a question by voice and to one that is typed are the same number.
#[test]
fn every_food_is_told_alike_everywhere() {
    let lexicon = kitchen_lexicon();
    let (mut foods, mut differ, mut played) = (0, Vec::new(), Vec::new());
    for (at, food) in safety::foods().into_iter().enumerate() {
        let formula = cooked(&food);
        let step = formula.steps.last().expect("two steps");
        let heat = step.dangers.iter().find_map(|d| match d {
            Danger::Core(core) => Some(*core),
            Danger::Caution(_) => None,
        });
        for (turn, region) in Region::ALL.into_iter().enumerate() {
            // Bread and cake are done by a heat, which is quality; ham that is cooked is only warmed.
            let Ok(row) = safe_temperature(&food, region) else {
                assert!(heat.is_none(), "{food}: {heat:?}");
                continue;
            };
            foods += 1;
            let context = Context {
                region,
                ..Context::default()
            };
            let mut told = vec![];
            for question in [
                format!("how hot should {food} be inside"),
                format!("{food} core temperature?"),
            ] {
                let answer = match parse(&question, &lexicon) {
                    Understood::Order(Order::Ask(asked)) => ask::answer(&asked, &context).ok(),
                    _ => None,
                };
                told.push((question, answer.map(|a| a.value)));
            }
            if !UNTOLD.contains(&food.as_str()) {
                told.push(("check".into(), heat.map(|core| core.of(region).celsius)));
            }
            for (whence, value) in told {
                if value != Some(row.celsius) {
                    differ.push(format!(
                        "{food}, {region:?}, {whence}: {value:?}, not {}",
                        row.celsius
                    ));
                }
            }
            // A whole session for each class of food, in one of the regions.
            if turn == at % Region::ALL.len()
                && let Some(core) = heat
                && !played.contains(&core.id)
            {
                played.push(core.id.clone());
                let options = Options {
                    region,
                    ..Options::default()
                };
                let session =
                    Rehearsal::play_with(cooked(&food), options, "0:00 say next\n0:20 say next\n");
                let said = session.said().join(" ").to_lowercase();
                let words = Danger::Core(core).spoken(region).to_lowercase();
                let number = words
                    .split(" done at ")
                    .nth(1)
                    .and_then(|w| w.split(" degrees").next());
                if !said.contains(&format!("{} degrees", number.unwrap_or("no")))
                    || said.matches(" done at ").count() != 1
                {
                    differ.push(format!("{food}, {region:?}, session: {said}"));
                }
            }
        }
    }
    assert!(foods > 300 && played.len() > 8, "{foods}, {played:?}");
    assert!(
        differ.is_empty(),
        "{} of {foods}:\n{}",
        differ.len(),
        differ.join("\n")
    );
}

/// What is asked of keeping by voice is the limit of the region, and the cautions of a step say the same.
#[test]
fn keeping_by_voice_is_the_limit_of_the_region() {
    let lexicon = kitchen_lexicon();
    for region in Region::ALL {
        let context = Context {
            region,
            ..Context::default()
        };
        for (question, name) in [
            ("how hot must i hold it", "hold hot"),
            ("how hot must i keep the stew", "hold hot"),
            ("how cold must i keep the chicken", "hold cold"),
            ("how cold must the fridge be", "hold cold"),
        ] {
            let limit = limit(name, region).unwrap();
            let Understood::Order(Order::Ask(asked)) = parse(question, &lexicon) else {
                panic!("{question}")
            };
            assert_eq!(
                ask::answer(&asked, &context).unwrap().value,
                limit.celsius,
                "{question}, {region:?}"
            );
        }
    }
}
