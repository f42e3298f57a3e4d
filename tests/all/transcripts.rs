//! Three bakes from the first word to the goodbye, by voice, by keys and in plain mode, and what four screens show of them:
//! kept in `tests/transcripts`, to be read. To keep new ones after reading them:
//! `COMMIS_KEEP_SCREENS=1 cargo test --test all -- transcripts`.

use commis::bench::{Effect, Options, TimerState, View};
use commis::formula::Formula;
use commis::kitchen::{Record, Stage, plain_lines};
use commis::screen::rows;
use commis::time::Moment;

use super::rehearsal::{Rehearsal, formula, root};

const BAKES: [&str; 3] = ["seeded-tin-loaf", "vegetable-soup", "lemon-shortbread"];
const SIZES: [(usize, usize); 4] = [(40, 15), (80, 24), (120, 40), (200, 60)];

/// What the cook does, in the words or the keys of one way.
struct Way {
    next: &'static str,
    is_in: &'static str,
    start: &'static str,
    silence: &'static str,
    yes: &'static str,
    how_long: &'static str,
    leave: &'static [&'static str],
}

const VOICE: Way = Way {
    next: "say next",
    is_in: "say it's in",
    start: "say start it",
    silence: "say stop",
    yes: "say yes",
    how_long: "say how long is left",
    leave: &["say goodbye", "say yes"],
};

const KEYS: Way = Way {
    next: "key enter",
    is_in: "key enter",
    start: "key times",
    silence: "key enter",
    yes: "key enter",
    how_long: "key times",
    leave: &["key dot", "key 0", "key 4", "key enter"],
};

/// A whole bake: each thing weighed, each timer started, waited for and answered.
fn script(formula: &Formula, way: &Way) -> String {
    let mut script = "start 15:05\n0:00 wait\n".to_owned();
    let mut add = |after_s: u64, act: &str| script.push_str(&format!("+{after_s}s {act}\n"));
    for step in &formula.steps {
        add(20, way.next);
        if step.weigh_up {
            for _ in &step.uses {
                add(15, way.is_in);
            }
        }
        // Nobody waits for one that runs alongside.
        for timer in step.timers.iter().filter(|t| !t.alongside) {
            add(5, way.start);
            add(30, way.how_long);
            add(timer.lasts.as_seconds(), "wait");
            add(3, way.silence);
            if timer.look.is_some() {
                add(4, way.yes);
            }
        }
        if step.look.is_some() {
            add(4, way.yes);
        }
    }
    add(20, way.next);
    for act in way.leave {
        add(5, act);
    }
    script
}

/// What is printed and shown, event by event.
#[derive(Default)]
struct Watcher {
    effects: Vec<Effect>,
    plain: Vec<String>,
    views: Vec<View>,
}

impl Stage for Watcher {
    fn play(&mut self, effect: &Effect, _: Moment) {
        self.effects.push(effect.clone());
    }
    fn cook(&mut self, _: &[i16], _: Moment) {}
    fn seen(&mut self, view: &View, _: Moment) {
        let effects = std::mem::take(&mut self.effects);
        self.plain.extend(plain_lines(&effects, 40));
        self.views.push(view.clone());
    }
}

fn kept(name: &str, now: &str) {
    let path = root().join("tests/transcripts").join(name);
    if std::env::var_os("COMMIS_KEEP_SCREENS").is_some() {
        std::fs::create_dir_all(root().join("tests/transcripts")).expect("a folder");
        std::fs::write(&path, now).expect("kept");
    }
    let kept = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(now == kept, "{name} reads differently:\n{now}");
}

/// One picture for each step, alarm and look.
fn pictures(views: &[View], (w, h): (usize, usize)) -> String {
    let mut out = String::new();
    let mut last = None;
    for view in views {
        let shown = rows(view, w, h);
        assert_eq!(shown.len(), h);
        let rings = view.timers.iter().any(|t| t.state == TimerState::Ringing);
        let is = (view.step, rings, view.question.clone());
        if last.replace(is.clone()) == Some(is) {
            continue;
        }
        out.push_str(&format!("{:-<w$}\n", ""));
        for row in shown {
            assert!(row.text.chars().count() <= w, "{}", row.text);
            out.push_str(row.text.trim_end());
            out.push('\n');
        }
    }
    out
}

#[test]
fn three_bakes_are_said_and_shown_as_they_were_read() {
    for name in BAKES {
        for (how, way) in [("voice", &VOICE), ("keys", &KEYS)] {
            let formula = formula(name);
            let script = script(&formula, way);
            let mut watcher = Watcher::default();
            let r = Rehearsal::play_on(formula, Options::default(), &script, &mut watcher);
            assert!(r.bench.is_over(), "{name}, {how}: {:#?}", r.said());
            assert!(
                !r.said().iter().any(|s| s.contains("not understand")),
                "{name}, {how}"
            );
            let lines: Vec<String> = r.records.iter().filter_map(Record::line).collect();
            kept(&format!("{name}-{how}.txt"), &(lines.join("\n") + "\n"));
            if how == "voice" {
                for line in &watcher.plain {
                    assert!(line.chars().count() <= 40, "{line}");
                }
                kept(
                    &format!("{name}-plain.txt"),
                    &(watcher.plain.join("\n") + "\n"),
                );
                continue;
            }
            for size in SIZES {
                let file = format!("{name}-{}x{}.txt", size.0, size.1);
                kept(&file, &pictures(&watcher.views, size));
            }
        }
    }
}
