//! A cook who sees nothing: plain lines and the keypad tell every amount, time, temperature and caution of a formula.

use std::io::Write;
use std::process::{Command, Stdio};

use commis::bench::Options;
use commis::formula::Formula;
use commis::kitchen::Silence;
use commis::measure::say;
use commis::order::ScaleBy;
use commis::safety::Law;
use commis::understand::numbers;

use super::program::Lines;
use super::rehearsal::{Rehearsal, formula, root};

/// What a cook must be told of each shipped formula at its own size: read off the files by hand, in words.
const BY_HAND: [(&str, &[&str]); 3] = [
    (
        "seeded-tin-loaf",
        &[
            "one loaf",
            "twelve portions",
            "twenty three by thirteen by seven centimetres",
            "two hundred and twenty degrees",
            "twenty five degrees",
            "four hundred grams",
            "one hundred grams",
            "seven grams",
            "ten grams",
            "three hundred and forty grams",
            "fifteen grams",
            "forty grams",
            "fifteen minutes",
            "eight minutes",
            "one hour",
            "forty five minutes",
            "thirty five minutes",
            "gluten",
            "sesame",
            "stand back from the steam",
            "The tin is very hot",
        ],
    ),
    (
        "lemon-shortbread",
        &[
            "twelve wedges",
            "twenty three by four centimetres",
            "one hundred and sixty degrees",
            "two hundred and twenty grams",
            "forty grams",
            "eighty grams",
            "two grams",
            "one hundred and seventy grams",
            "four grams",
            "ten grams",
            "fifteen minutes",
            "forty minutes",
            "thirty minutes",
            "gluten",
            "milk",
            "The oven is hot",
            "The tin is still hot",
        ],
    ),
    (
        "vegetable-soup",
        &[
            "six bowls",
            "thirty grams",
            "one hundred and fifty grams",
            "two hundred grams",
            "four hundred grams",
            "two hundred and fifty grams",
            "three cloves",
            "nine grams",
            "one hundred and twenty grams",
            "one thousand four hundred grams",
            "twelve grams",
            "four grams",
            "ten minutes",
            "twenty five minutes",
            "five minutes",
            "celery",
            "Hot oil spits",
            "Hot soup bursts",
        ],
    ),
];

/// Enter at its times: every step, every weighing, and each timer of a step started, waited for and answered.
fn whole_bake(formula: &Formula) -> String {
    // The rest of what is told in parts.
    let more = "+1s key dot\n+0s key 8\n+0s key 0\n".repeat(4);
    let mut script = format!("+1s wait\n{more}+5s key enter\n");
    for step in &formula.steps {
        script += &more;
        if step.weigh_up {
            script += &"+20s key enter\n".repeat(step.uses.len());
        }
        for timer in &step.timers {
            script += "+10s key times\n";
            script += &format!("+{}s key enter\n", timer.lasts.as_seconds() + 5);
            if timer.look.is_some() {
                script += "+5s key enter\n";
            }
        }
        script += "+10s key enter\n";
    }
    script
}

/// Everything that the formula holds at a size, from the formula itself.
fn everything(formula: &Formula, options: &Options) -> Vec<String> {
    let written = commis::formula::Batch::as_written(formula);
    let batch = options.size.iter().fold(written, |batch, by| {
        batch.then(formula, by).expect("a size within reach")
    });
    let how = || say::SayOptions {
        step_g: options.scale_step_g,
        ..say::SayOptions::default()
    };
    let mut all: Vec<String> = Vec::new();
    for step in &formula.steps {
        for part in &step.uses {
            let mass = batch.mass(part.ingredient).times(part.part);
            // While it is weighed the exact amount comes first, and what the scale can show after it.
            let weighed = || say::mass(mass, &how());
            all.push(if step.weigh_up {
                weighed().split(',').next().unwrap_or_default().to_owned()
            } else {
                say::plain_mass(mass, &how())
            });
        }
        all.extend(step.cautions.iter().cloned());
        all.extend(step.dangers.iter().map(|d| d.spoken(options.region)));
        all.extend(step.look.clone());
        for timer in &step.timers {
            all.push(timer.name.clone());
            all.push(commis::measure::spoken_time::say_duration(timer.lasts));
            all.extend(timer.look.clone());
            all.extend(timer.cues.iter().map(|c| c.say.clone()));
        }
    }
    all.extend(
        formula
            .contents()
            .holds(Law::of(options.region))
            .into_iter()
            .map(|found| found.allergen.spoken),
    );
    all.extend(
        formula
            .oven
            .iter()
            .map(|o| format!("{} degrees", numbers::say_number(o.heat_c))),
    );
    all.extend(
        formula
            .dough_c
            .map(|c| format!("{} degrees", numbers::say_number(c))),
    );
    if let Some(tin) = &formula.tin {
        all.push(numbers::say_number(tin.length_cm));
        all.extend(tin.depth_cm.map(numbers::say_number));
    }
    all
}

fn holds(said: &str, wanted: &[String], where_: &str) {
    let said = said.to_lowercase();
    let missing: Vec<&String> = wanted
        .iter()
        .filter(|w| !said.contains(&w.to_lowercase()))
        .collect();
    assert!(
        missing.is_empty(),
        "{where_}: never told {missing:?} in\n{said}"
    );
}

#[test]
fn a_whole_bake_by_keys_tells_everything_at_any_size() {
    let sizes = [
        None,
        Some(ScaleBy::Factor(1.5)),
        Some(ScaleBy::Factor(2.0 / 3.0)),
        Some(ScaleBy::Portions(7.0)),
    ];
    for (name, by_hand) in BY_HAND {
        let formula = formula(name);
        for size in &sizes {
            for brief in [false, true] {
                let options = Options {
                    size: size.clone().into_iter().collect(),
                    brief,
                    ..Options::default()
                };
                let r = Rehearsal::play_on(
                    formula.clone(),
                    options.clone(),
                    &whole_bake(&formula),
                    &mut Silence,
                );
                let lines: Vec<String> = r
                    .records
                    .iter()
                    .filter_map(commis::kitchen::Record::line)
                    .collect();
                let lines = lines.join("\n");
                let at = format!("{name}, {size:?}, brief {brief}");
                assert!(lines.contains("That was the last step."), "{at}:\n{lines}");
                holds(&lines, &everything(&formula, &options), &at);
                if size.is_none() {
                    let by_hand: Vec<String> = by_hand.iter().map(|w| (*w).to_owned()).collect();
                    holds(&lines, &by_hand, &format!("{at}, by hand"));
                }
                for i in &formula.ingredients {
                    let named = |n: &String| lines.to_lowercase().contains(&n.to_lowercase());
                    let any_word = i.name.split(' ').any(|w| named(&w.to_owned()));
                    assert!(any_word || i.also.iter().any(named), "{at}: {}", i.name);
                }
                // Each cue comes at its time inside its timer.
                let cues = formula
                    .steps
                    .iter()
                    .flat_map(|s| &s.timers)
                    .flat_map(|t| &t.cues);
                assert_eq!(r.chimes("cue").len(), cues.count(), "{at}");
            }
        }
    }
}

/// The program itself, with nothing but `key` lines: `. 2` reads the whole step, and Enter goes on.
#[test]
fn plain_mode_and_the_keypad_tell_everything() {
    for (name, by_hand) in BY_HAND {
        let formula = formula(name);
        let home = std::env::temp_dir().join(format!("commis-blind-{name}-{}", std::process::id()));
        let mut child = Command::new(env!("CARGO_BIN_EXE_commis"))
            .args(["cook", "--plain", &format!("shared/formulas/{name}.toml")])
            .current_dir(root())
            .env("XDG_STATE_HOME", home.join("state"))
            .env("XDG_CONFIG_HOME", home.join("config"))
            .env("ALSA_CONFIG_PATH", "/dev/null")
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("the program starts");
        let mut pipe = child.stdin.take().expect("piped");
        let mut lines = Lines::of(&mut child);
        let mut press = |keys: &str| {
            for key in keys.split(' ') {
                writeln!(pipe, "key {key}").expect("written");
            }
        };
        press("dot 8 0");
        press("enter");
        for step in &formula.steps {
            press("dot 2");
            if step.weigh_up {
                press(&vec!["enter"; step.uses.len()].join(" "));
            }
            press("enter");
            // A timer that was not started is asked about.
            if step.timers.iter().any(|t| !t.alongside) {
                press("enter");
            }
        }
        press("dot 0 4 enter");
        let told = lines.until("Goodbye.");
        drop(pipe);
        child.wait().expect("it ends");
        let _ = std::fs::remove_dir_all(&home);
        holds(&told, &everything(&formula, &Options::default()), name);
        let by_hand: Vec<String> = by_hand.iter().map(|w| (*w).to_owned()).collect();
        holds(&told, &by_hand, name);
        // One line an event, and nothing that a braille display would stumble over.
        for line in told.lines() {
            assert!(!line.contains('\u{1b}') && !line.contains('\t'), "`{line}`");
        }
    }
}
