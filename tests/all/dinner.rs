//! A whole dinner: several dishes in one session, by voice alone, by keys alone and in plain lines to the same end.

use commis::bench::{Bench, Beside, DishId, Effect, Event, Heard, Key, Options, TimerState, View};
use commis::journal::Entry;
use commis::time::{Moment, Span, Wall};

use super::live::Kitchen;
use super::program::{LOAF, commis, out};
use super::rehearsal::{Rehearsal, beside, formula, root, with_dishes};
use super::two_ways::known;

const FOUR: [&str; 4] = [
    "seeded-tin-loaf",
    "vegetable-soup",
    "roast-chicken",
    "baked-custard",
];

fn rehearse(dishes: &[&str], script: &str) -> Rehearsal {
    Rehearsal::dinner(dishes, script)
}

/// What a cook does next.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Does {
    Stop,
    Yes,
    Done,
    Start,
    Next,
}

/// The way in.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Way {
    Voice,
    Keys,
    Typed,
}

impl Way {
    fn event(self, does: Does) -> Event {
        let (words, key) = match does {
            Does::Stop => ("stop", Key::Enter),
            Does::Yes => ("yes", Key::Enter),
            Does::Done => ("it's in", Key::Enter),
            Does::Start => ("start it", Key::Times),
            Does::Next => ("next", Key::Enter),
        };
        match self {
            Self::Voice => Event::Heard(Heard::spoken(words, 1.0)),
            Self::Typed => Event::Heard(Heard::typed(words)),
            Self::Keys => Event::Key { key },
        }
    }
}

/// A cook who does as told: answers what rings, starts what is offered, says what is in, goes on, and waits where nothing
/// wants anybody.
struct Cook {
    bench: Bench,
    now: Moment,
    way: Way,
    /// What was said last.
    said: String,
    told: Vec<String>,
    /// The view after each deed, and the deed.
    seen: Vec<(Moment, Does, View)>,
    entries: Vec<Entry>,
}

impl Cook {
    fn new(bench: Bench, way: Way) -> Self {
        let mut cook = Self {
            bench,
            now: Moment(0),
            way,
            said: String::new(),
            told: Vec::new(),
            seen: Vec::new(),
            entries: Vec::new(),
        };
        // 2026-11-25 15:00:00 UTC.
        let wall = Wall::fixed(1_795_618_800_000, 0);
        cook.event(&Event::Start { wall });
        cook
    }

    fn event(&mut self, event: &Event) {
        let taken = self.bench.take(event, self.now);
        let effects = self.bench.apply(event, &taken, self.now);
        let kept = Entry::kept(event, &taken, self.now);
        self.entries
            .extend(kept.or((!effects.is_empty()).then(|| Entry::tick(self.now))));
        for effect in effects {
            if let Effect::Say { text, .. } = effect {
                self.said.clone_from(&text);
                self.told.push(text);
            }
        }
    }

    /// Time goes by, until the bench says something or so long.
    fn wait(&mut self, most: Span) -> bool {
        let until = self.now.plus(most);
        let told = self.told.len();
        while let Some(at) = self.bench.wake_at().filter(|at| *at <= until) {
            self.now = self.now.max(at);
            self.event(&Event::Tick);
            if self.told.len() > told {
                return true;
            }
        }
        self.now = until;
        false
    }

    fn does(&mut self, does: Does) {
        let event = self.way.event(does);
        self.event(&event);
        let view = self.bench.view(self.now);
        self.seen.push((self.now, does, view));
    }

    fn next_deed(&self) -> Does {
        let view = self.bench.view(self.now);
        let rings = view.timers.iter().any(|t| t.state == TimerState::Ringing);
        let offers = self.said.contains("start it for") || self.said.contains("Star starts");
        let is_called =
            |(name, _, inside): &(String, String, bool)| *name == view.big.under && !inside;
        if rings {
            Does::Stop
        } else if view.question.is_some() {
            Does::Yes
        } else if offers {
            Does::Start
        } else if view.weighing.iter().any(is_called) {
            Does::Done
        } else {
            Does::Next
        }
    }

    /// To the end of the dinner.
    fn cook(&mut self) {
        for _ in 0..900 {
            // An answer is given at once, work takes its time.
            let asked = self.bench.view(self.now).question.is_some();
            let rings = self.next_deed() == Does::Stop;
            let work = if asked || rings { 5 } else { 90 };
            if self.wait(Span::seconds(work)) {
                continue;
            }
            self.does(self.next_deed());
            if self
                .told
                .iter()
                .any(|t| t.contains("That was the last step. "))
            {
                return;
            }
            if self.said.contains("Nothing for ") {
                self.wait(Span::minutes(60 * 30));
            }
        }
        panic!("no end:\n{}", self.told.join("\n"));
    }
}

fn bench(dishes: &[&str]) -> Bench {
    Bench::new(formula(dishes[0]), with_dishes(&dishes[1..])).expect("as written")
}

#[test]
fn four_dishes_by_voice_by_keys_and_in_plain_lines() {
    let cooked = [Way::Voice, Way::Keys, Way::Typed].map(|way| {
        let mut cook = Cook::new(bench(&FOUR), way);
        cook.cook();
        cook
    });
    let [voice, keys, typed] = &cooked;
    for other in [keys, typed] {
        assert_eq!(voice.seen.len(), other.seen.len(), "{:?}", other.way);
        for ((at, does, a), (_, _, b)) in voice.seen.iter().zip(&other.seen) {
            assert_eq!(
                known(a),
                known(b),
                "{:?}: after {does:?} at {at:?}",
                other.way
            );
        }
    }
    for (cook, name) in cooked.iter().zip(["voice", "keys", "plain"]) {
        let text = cook.told.join("\n") + "\n";
        let path = root().join(format!("tests/dinners/four-dishes-{name}.txt"));
        if std::env::var_os("COMMIS_WRITE").is_some() {
            std::fs::write(&path, &text).expect("written");
        }
        let kept = std::fs::read_to_string(&path).expect("a transcript");
        assert_eq!(
            text, kept,
            "COMMIS_WRITE=1 cargo test --test all dinner:: writes {path:?}"
        );
    }
    // What wants another heat waits for the oven.
    let place = |text: &str| voice.told.iter().position(|t| t.contains(text));
    assert!(
        place("tremble only in the middle?") < place("The oven should be at two hundred degrees.")
    );
    // Every dish came to its end, and the waits of each were used for the others.
    let told = voice.told.join("\n");
    for dish in ["loaf", "soup", "chicken", "custard"] {
        assert!(
            told.contains(&format!("The {dish}: step ")),
            "{dish}:\n{told}"
        );
    }
    let each = FOUR.iter().map(|name| {
        let item = commis::plan::PlanItem::from_formula(&formula(name)).expect("it has times");
        item.steps.iter().map(|s| s.hands + s.wait).sum::<i64>()
    });
    let (alone, took) = (each.sum::<i64>(), (voice.now.0 / 60_000).cast_signed());
    assert!(
        took < alone * 3 / 4,
        "{took} minutes against {alone} one by one"
    );
}

/// Cut after any of its events, the journal brings the same dinner back, which goes on to the same end.
#[test]
fn a_dinner_that_is_cut_anywhere_is_taken_up_as_it_was() {
    let mut cook = Cook::new(bench(&FOUR[..3]), Way::Voice);
    cook.cook();
    let entries = &cook.entries;
    assert!(entries.len() > 100, "{}", entries.len());
    let mut whole = bench(&FOUR[..3]);
    let views: Vec<View> = entries
        .iter()
        .map(|entry| {
            entry.replay(&mut whole);
            whole.view(entry.at)
        })
        .collect();
    assert_eq!(whole.view(cook.now), cook.bench.view(cook.now));
    for cut in (1..entries.len()).step_by(7) {
        let text = serde_json::to_string(&entries[..cut]).expect("plain data");
        let read: Vec<Entry> = serde_json::from_str(&text).expect("as written");
        let mut bench = bench(&FOUR[..3]);
        for entry in &read {
            entry.replay(&mut bench);
        }
        let at = read.last().expect("one at least").at;
        assert_eq!(bench.view(at), views[cut - 1], "cut after {cut}");
    }
}

#[test]
fn two_dishes_ring_together_and_are_told_apart() {
    let script = "start 17:00\n+1s say go to the custard\n+5s say start it\n\
         +5s say go to the soup\n+5s say next on the soup\n";
    let r = rehearse(&["vegetable-soup", "baked-custard"], script);
    assert!(r.last().starts_with("Onion in"), "{}", r.last());
    let weighed = "+1s say it's in\n".repeat(3);
    let script = format!(
        "start 17:00\n+1s say go to the custard\n+5s say start it\n+5s say go to the soup\n{weighed}+1s say it's in\n\
         +1s say next on the soup\n+1s say start it\n+12m wait\n+1s say stop\n+1s say stop\n"
    );
    let r = rehearse(&["vegetable-soup", "baked-custard"], &script);
    let rings: Vec<&str> = r
        .said()
        .into_iter()
        .filter(|t| t.contains("time is up"))
        .collect();
    assert!(
        rings
            .iter()
            .any(|t| t.contains("Custard infuse: time is up.")),
        "{rings:?}"
    );
    assert!(
        rings.iter().any(|t| t.contains("oup vegetables")),
        "{rings:?}"
    );
    assert!(
        r.said().iter().any(|t| t.contains("Still ringing: the ")),
        "{:?}",
        r.said()
    );
}

#[test]
fn names_that_stand_in_several_dishes() {
    let dishes = ["seeded-tin-loaf", "vegetable-soup", "chickpea-rice"];
    let answer = |script: &str| {
        let r = rehearse(&dishes, &format!("start 17:00\n{script}"));
        r.last().to_owned()
    };
    // Where the cook is.
    assert_eq!(answer("+1s say how much salt\n"), "Ten grams of fine salt.");
    assert_eq!(
        answer("+1s say go to the soup\n+5s say how much salt\n"),
        "Twelve grams of fine salt."
    );
    // Named, from anywhere.
    assert_eq!(
        answer("+1s say how much salt in the soup\n"),
        "The soup: twelve grams of fine salt."
    );
    // Only one has it.
    assert_eq!(
        answer("+1s say how much celeriac\n"),
        "The soup: two hundred and fifty grams of celeriac."
    );
    // Two have it, and the one at hand has not: asked.
    assert_eq!(
        answer("+1s say how much garlic\n"),
        "Did you say the soup or the rice?"
    );
    assert!(
        answer("+1s say how much garlic\n+2s say the soup\n").starts_with("The soup: three cloves"),
        "{}",
        answer("+1s say how much garlic\n+2s say the soup\n")
    );
    assert!(
        answer("+1s say how much salt in all\n").starts_with(
            "Twenty eight grams of fine salt in all: ten grams for the loaf, twelve grams for the soup and six grams for the rice."
        ) || answer("+1s say how much salt in all\n").contains(" of fine salt in all: ten grams for the loaf, twelve grams for the soup and"),
        "{}",
        answer("+1s say how much salt in all\n")
    );
}

#[test]
fn allergens_are_told_of_every_dish() {
    let r = rehearse(
        &["seeded-tin-loaf", "vegetable-soup"],
        "start 17:00\n+1s say what are the allergens\n+9s say is there celery in it\n",
    );
    let all = r.said().join("\n");
    assert!(
        all.contains("The loaf: ") && all.contains("The soup: "),
        "{all}"
    );
    assert!(r.last().starts_with("Yes: the soup."), "{}", r.last());
}

#[test]
fn a_dish_is_put_off_left_out_and_taken_back() {
    let r = rehearse(
        &["vegetable-soup", "baked-custard"],
        "start 17:00\n+1s say next on the custard\n+5s say leave out the custard\n+5s say yes\n+5s say what is running\n\
         +5s say undo\n+5s say what is running\n+5s say go to the soup\n+5s say put the custard off\n\
         +5s say what is the custard doing\n",
    );
    let said = r.said();
    let has = |text: &str| said.iter().any(|t| t.contains(text));
    assert!(has("Leave out the custard?"), "{said:?}");
    assert!(has("Left out: the custard."), "{said:?}");
    assert!(has("The custard: on again."), "{said:?}");
    assert!(
        has("The custard waits until nothing else wants you."),
        "{said:?}"
    );
    assert!(r.last().contains(", put off."), "{said:?}");
}

#[test]
fn a_slip_of_the_hand_leads_back_to_the_dish_before() {
    let r = rehearse(
        &["vegetable-soup", "baked-custard"],
        "start 17:00\n+1s say go to the custard\n+5s say start it\n+5s say next\n+5s say back\n",
    );
    assert!(
        r.last().starts_with("Back to the custard: step one."),
        "{:?}",
        r.said()
    );
}

#[test]
fn the_screen_has_a_line_for_every_other_dish() {
    let r = rehearse(
        &["vegetable-soup", "baked-custard"],
        "start 17:00\n+1s say go to the custard\n+5s say start it\n+5s say go to the soup\n",
    );
    let view = r.bench.view(Moment(11_000));
    assert_eq!(view.formula, "Autumn vegetable soup");
    let others: Vec<(&str, &str, &str)> = view
        .others
        .iter()
        .map(|d| (d.name.as_str(), d.doing.as_str(), d.wants.as_str()))
        .collect();
    assert_eq!(others, [("custard", "warm the milk", "17:10")]);
    let rows = commis::screen::rows(&view, 60, 20);
    assert!(
        rows.iter()
            .any(|r| r.text == "custard: warm the milk, wants you 17:10"),
        "{rows:?}"
    );
}

#[test]
fn the_hour_of_serving_plans_every_dish() {
    let mut all = with_dishes(&["vegetable-soup"]);
    // 19:30 on the day of rehearsals.
    all.ready_at = Some(commis::time::Minute(29_459_520 + 19 * 60 + 30));
    let r = Rehearsal::play_with(
        formula("seeded-tin-loaf"),
        all,
        "start 15:00\n+1s say what is running\n+5s say how long until i am needed\n+2h wait\n",
    );
    let said = r.said();
    assert!(
        said[1].starts_with("On the table at half past seven."),
        "{said:?}"
    );
    let started = |dish: &str| {
        let text = format!("It is time to start the {dish}, for half past seven.");
        said.iter().any(|t| *t == text)
    };
    assert!(started("loaf"), "{said:?}");
}

#[test]
fn another_dish_of_the_book_while_cooking() {
    let script = root().join(format!("target/dinner-{}.txt", std::process::id()));
    std::fs::write(
        &script,
        "start 17:00\n+1s say let's also make the chickpea rice\n+9s say what is running\n",
    )
    .expect("written");
    let o = commis(&["rehearse", LOAF, &script.display().to_string()], "");
    let _ = std::fs::remove_file(&script);
    let text = out(&o);
    assert!(
        text.contains("The rice as well: Chickpea rice, makes four plates."),
        "{text}"
    );
    assert!(
        text.contains("The loaf: not begun. The rice: not begun."),
        "{text}"
    );
}

/// A real session with two dishes, killed and taken up again.
#[test]
fn two_dishes_in_plain_lines_survive_a_kill() {
    let kitchen = Kitchen::new("dinner");
    let text = |name: &str| beside(name).text;
    let soup = kitchen.file("soup.toml", &text("vegetable-soup"));
    let custard = kitchen.file("custard.toml", &text("baked-custard"));
    let custard = custard.display().to_string();
    let mut cook = kitchen.cook_other(&soup, &[&custard]);
    cook.until("Two dishes: the custard and the soup.");
    cook.types("go to the custard");
    cook.until("The custard: ");
    cook.types("start it");
    cook.until("Custard infuse started");
    cook.kill();
    let mut cook = kitchen.cook_other(&soup, &[&custard]);
    cook.until("I am back.");
    cook.types("what is running");
    let printed = cook.until("The soup: not begun.");
    assert!(
        printed.contains("The custard: step one, infuse, "),
        "{printed}"
    );
    cook.kill();
}

#[test]
fn one_dish_is_asked_about_the_others_and_says_so() {
    let r = rehearse(
        &["vegetable-soup"],
        "start 17:00\n+1s key 0\n+1s key 2\n+1s key enter\n",
    );
    assert_eq!(r.last(), "There is one dish.");
    assert!(r.bench.formula_of(DishId(1)).is_none());
}

#[test]
fn the_readme_shows_a_real_dinner() {
    let readme = std::fs::read_to_string(root().join("README.md")).expect("README.md");
    let args = [
        "rehearse",
        "shared/formulas/vegetable-soup.toml",
        "shared/rehearsals/dinner.txt",
        "--with",
        "shared/formulas/baked-custard.toml",
    ];
    let o = commis(&args, "");
    assert!(
        readme.contains(out(&o).trim_end()),
        "the transcript in README.md is old: paste\n{}",
        out(&o)
    );
}

/// Where an hour is too soon, the dish that needs longer even alone is named; and an hour is only asked about before any is
/// set.
#[test]
fn what_makes_an_hour_too_soon_is_named() {
    let script = "start 17:20\n0:01 say what if we eat at half past seven\n+20s say what if we eat at midnight\n\
                  +20s say i want to eat at half past seven\n";
    let played = rehearse(&["vegetable-soup", "baked-custard"], script);
    let said = played.said();
    // The custard stands three hours in the cold; the soup alone would be ready.
    let named = |line: &&str| line.starts_with("That is too soon for the custard: ");
    assert_eq!(said.iter().copied().filter(named).count(), 2, "{said:?}");
    assert!(
        said.iter().any(|l| l.starts_with("That can be done. ")),
        "{said:?}"
    );
    assert!(
        said.last()
            .is_some_and(|l| l.ends_with("Shall I plan for that?")),
        "{said:?}"
    );
}

/// Two dishes whose names are both in their timers' name, `bread`: what rings together is told apart by its dish.
#[test]
fn timers_of_one_name_that_ring_together_are_told_apart() {
    let text = |name: &str| {
        format!(
            "name = \"{name}\"\nabout = \"Of {name}.\"\n[makes]\nportions = 4\npiece = \"loaf\"\n[[ingredient]]\nid = \"flour\"\namount = \"500 g\"\n\
             [[step]]\ntitle = \"Bake it\"\ntext = \"Bake it.\"\nuses = [\"flour\"]\n[[step.timer]]\nname = \"bread\"\nlasts = \"30 min\"\n"
        )
    };
    let first = commis::formula::read("rye", &text("Rye bread")).expect("it passes");
    let options = Options {
        beside: vec![Beside {
            text: text("Spelt bread"),
            path: "spelt.toml".into(),
            ..Beside::default()
        }],
        ..Options::default()
    };
    let script = "start 17:00\n+1s say next\n+1s say it's in\n+1s say start it\n+1s say go to the spelt bread\n+1s say next\n\
                  +1s say it's in\n+1s say start it\n+40m say what runs\n";
    let r = Rehearsal::play_with(first, options, script);
    let told = r.said().join("\n");
    let both = r
        .said()
        .into_iter()
        .find(|s| s.contains("time is up") && s.contains("ye bread") && s.contains("pelt bread"));
    let each = ["Rye bread", "Spelt bread"].iter().all(|name| {
        r.said()
            .iter()
            .any(|s| s.contains(name) && s.contains("time is up"))
    });
    assert!(both.is_some() || each, "{told}");
    assert!(!told.contains("Bread: time is up"), "{told}");
}
