//! The screen as text, at moments of real bakes, compared with pictures kept beside the tests. To keep new pictures after
//! looking at them: `COMMIS_KEEP_SCREENS=1 cargo test --test all -- screens terminal`.

use std::collections::BTreeSet;

use commis::bench::{Listening, TimerState, View};
use commis::screen::{Role, Theme, draw, rows};
use commis::time::Moment;
use ratatui::Terminal;
use ratatui::backend::TestBackend;

use super::rehearsal::{Rehearsal, formula};

const RISING: &str = "start 15:05\n0:00 say make it one and a half times\n+5s say go to step five\n+5s say start it\n\
    +1s say start a timer for eleven minutes\n+1s say forty minutes called stock\n+1s say pause the stock\n\
    +20s say how long is left\n";

/// A bake up to a moment worth looking at.
const MOMENTS: [(&str, &str, &str); 16] = [
    ("opening", "seeded-tin-loaf", "start 15:05\n0:00 wait\n"),
    (
        "look",
        "seeded-tin-loaf",
        "start 15:05\n0:00 say go to step five\n+5s say start it\n+61m say stop\n",
    ),
    (
        "alarms",
        "seeded-tin-loaf",
        "start 15:05\n0:00 say ten minute timer for the dried white beans\n\
         +1s say eleven minute timer for the pumpkin and sunflower seeds in the oven\n+1s say twelve minute timer for the eggs\n\
         +1s say twelve minute timer for the stock\n+20m wait\n",
    ),
    (
        "answered",
        "seeded-tin-loaf",
        "start 15:05\n0:00 say ten minute timer for the eggs\n+1s say next\n+10m say stop\n+5s say how much salt\n",
    ),
    (
        "hot",
        "seeded-tin-loaf",
        "start 15:05\n0:00 say go to step eight\n+5s say start it\n+1s loudspeaker gone\n",
    ),
    (
        "lists",
        "seeded-tin-loaf",
        "start 15:05\n0:00 key enter\n+1s key dot\n",
    ),
    (
        "ingredients",
        "vegetable-soup",
        "start 15:05\n0:00 key enter\n+1s key dot\n+1s key 3\n+1s key dot\n",
    ),
    (
        "minutes",
        "seeded-tin-loaf",
        "start 15:05\n0:00 key enter\n+1s key dot\n+1s key 5\n+1s key 1\n+1s key 1\n+1s key 2\n",
    ),
    (
        "pouring",
        "seeded-tin-loaf",
        "start 15:05\n0:00 say next\n+0 pour 412..700 over 8s\n+4s wait\n",
    ),
    (
        "end",
        "lemon-shortbread",
        "start 15:05\n0:00 say go to step six\n+5s say next\n+2s say yes\n",
    ),
    (
        "weighing",
        "seeded-tin-loaf",
        "start 15:05\n0:00 say make it one and a half times\n+5s say next\n+20s say it's in\n+2s say what do i weigh next\n",
    ),
    ("rising", "seeded-tin-loaf", RISING),
    (
        "alarm",
        "seeded-tin-loaf",
        "start 15:05\n0:00 say go to step five\n+5s say start it\n+5s say start a timer for two hours\n+61m wait\n",
    ),
    (
        "asking",
        "seeded-tin-loaf",
        "start 15:05\n0:00 say next\n+5s say how much flour\n+1s key enter\n+1s key dot\n",
    ),
    (
        "troubled",
        "vegetable-soup",
        "start 15:05\n0:00 say next\n+5s say a pinch of wobbly spoons\n+1s microphone gone\n+1s loudspeaker gone\n+1s keypad gone\n\
         +1s key 1\n+1s key 2\n",
    ),
    (
        "deaf",
        "lemon-shortbread",
        "start 15:05\n0:00 say go to step five\n+5s say start it\n+5s say stop listening\n",
    ),
];

fn at(formula: &str, script: &str) -> View {
    let r = Rehearsal::play(formula, script);
    let end = r.records.last().expect("a rehearsal has records").t;
    r.bench.view(Moment((end * 1000.0) as u64))
}

fn picture(view: &View, w: u16, h: u16) -> String {
    drawn(view, w, h, Theme::default())
}

fn drawn(view: &View, w: u16, h: u16, theme: Theme) -> String {
    let mut terminal = Terminal::new(TestBackend::new(w, h)).expect("a test backend cannot fail");
    terminal
        .draw(|f| draw(f, view, theme, false))
        .expect("a test backend cannot fail");
    let buffer = terminal.backend().buffer();
    let mut out = String::new();
    for y in 0..h {
        let line: String = (0..w).map(|x| buffer[(x, y)].symbol()).collect();
        out.push_str(line.trim_end());
        out.push('\n');
    }
    out
}

#[test]
fn screens_look_as_they_were_approved() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/all/screens");
    let keep = std::env::var_os("COMMIS_KEEP_SCREENS").is_some();
    let console = Theme {
        console: true,
        ..Theme::default()
    };
    for (name, view) in moments() {
        let sizes = [(40, 12), (40, 15), (80, 24), (120, 40), (200, 60)];
        let mut pictures: Vec<(String, String)> = sizes
            .into_iter()
            .map(|(w, h)| (format!("{w}x{h}"), picture(&view, w, h)))
            .collect();
        // A Linux console has 80 columns and 25 rows.
        let on_console = drawn(&view, 80, 25, console);
        let odd: String = on_console.chars().filter(|c| !on_a_console(*c)).collect();
        assert!(odd.is_empty(), "{name}: `{odd}`");
        pictures.push(("console".to_owned(), on_console));
        for (size, now) in pictures {
            let path = folder.join(format!("{name}-{size}.txt"));
            if keep {
                std::fs::create_dir_all(&folder).expect("the folder of pictures");
                std::fs::write(&path, &now).expect("a picture is kept");
            }
            let kept = std::fs::read_to_string(&path).unwrap_or_default();
            assert!(now == kept, "{name} at {size} looks different:\n{now}");
        }
    }
}

/// Every moment as the screen gets it, and one of a meal of two dishes.
fn moments() -> Vec<(&'static str, View)> {
    let mut all: Vec<(&str, View)> = MOMENTS
        .iter()
        .map(|(name, formula, script)| (*name, at(formula, script)))
        .collect();
    let options = super::rehearsal::with_dishes(&["baked-custard"]);
    let script = "start 15:05\n0:00 say next\n+5s say it's in\n+5s say ten minute timer\n";
    let r = Rehearsal::play_with(formula("vegetable-soup"), options, script);
    all.push(("dinner", r.bench.view(Moment(11_000))));
    all
}

/// Code page 437, which the fonts of text consoles have (from memory): ASCII, these letters and signs, and boxes.
fn on_a_console(c: char) -> bool {
    c.is_ascii() || "ÇüéâäàåçêëèïîìÄÅÉæÆôöòûùÿÖÜáíóúñÑ½¼°»«█▄▀░▒▓±·".contains(c)
}

/// Every text that the screen has to show, in words.
fn words_of(view: &View) -> BTreeSet<String> {
    let mut texts = vec![
        view.formula.clone(),
        view.scale.clone(),
        view.title.clone(),
        view.text.clone(),
        view.big.main.clone(),
        view.big.under.clone(),
        view.said.clone(),
        view.entry.clone(),
        view.choosing.clone(),
        view.clock.clone(),
    ];
    texts.extend(view.question.clone());
    texts.extend(view.heard.iter().map(|h| h.0.clone()));
    texts.extend(view.timers.iter().map(|t| t.name.clone()));
    texts.extend(view.weighing.iter().map(|(n, a, _)| format!("{n} {a}")));
    texts.extend(view.keys.iter().map(|(k, what)| format!("[{k}] {what}")));
    texts.push(view.troubles.join(", "));
    texts.extend(view.cautions.clone());
    texts.push(view.contains.clone());
    if let Some(list) = &view.list {
        texts.push(list.title.clone());
        texts.extend(list.items.clone());
    }
    for dish in &view.others {
        texts.push(format!("{}: {}, {}", dish.name, dish.doing, dish.wants));
    }
    let texts = texts.join(" ");
    texts.split_whitespace().map(str::to_owned).collect()
}

/// On any screen that holds the longest word, words are shown whole: a line ends between words.
#[test]
fn no_word_is_broken_at_any_size() {
    let signs = [
        "step",
        "of",
        "steps",
        "said:",
        "heard:",
        "not",
        "understood:",
        "listening",
        "keys",
        "only",
        "over",
        "held",
        "RINGING",
        "entering:",
        "alarms",
        "wants",
        "you",
        ">",
        "and",
        "more",
        "timers",
        "[in]",
        "[",
        "]",
        "?",
        "!",
        "(o)",
        "(-)",
        "(x)",
    ];
    for (name, view) in moments() {
        let known = words_of(&view);
        let longest = known.iter().map(|w| w.chars().count()).max().unwrap_or(0);
        for (w, h) in [
            (20, 6),
            (30, 80),
            (34, 60),
            (40, 12),
            (80, 24),
            (200, 60),
            (300, 10),
        ] {
            for row in rows(&view, w, h) {
                if row.text.contains(['█', '▀', '▄']) {
                    continue;
                }
                for word in row.text.split_whitespace() {
                    let word = word.trim_start_matches('>');
                    let bare = word.trim_end_matches(['…', ',', '_']);
                    let number = bare.chars().all(|c| c.is_ascii_digit() || ":+".contains(c));
                    let whole = known.contains(word)
                        || known.iter().any(|k| k.trim_end_matches(['.', ',']) == bare)
                        || signs.contains(&bare)
                        || number;
                    assert!(
                        whole || (longest + 6 > w && word.ends_with('…')),
                        "{name} at {w}x{h}: `{word}` in `{}`",
                        row.text
                    );
                }
            }
        }
    }
}

/// What matters most is on every screen, and it is as large as the screen allows.
#[test]
fn what_matters_is_on_every_screen() {
    for (name, view) in moments() {
        for (w, h) in [(40, 12), (80, 24), (200, 60), (30, 80), (300, 10), (34, 60)] {
            let shown = rows(&view, w, h);
            let large = shown
                .iter()
                .filter(|r| matches!(r.role, Role::Big | Role::Timer | Role::Alarm));
            let large = large.filter(|r| r.text.contains(['█', '▀', '▄'])).count();
            // A list shows all that it has, and a long question is asked whole, where that leaves no room for large letters.
            let whole = view.list.is_some() || view.big.main.ends_with('?') && h < 15;
            assert!(
                large >= 4 || whole,
                "{name} at {w}x{h}: nothing large\n{}",
                picture(&view, w as u16, h as u16)
            );
            let text = shown
                .iter()
                .map(|r| r.text.as_str())
                .collect::<Vec<_>>()
                .join("\n");
            let state = match view.listening {
                Listening::Name => "(.) say the name",
                Listening::Yes => "(o) listening",
                Listening::Off => "(-) not listening",
                Listening::Deaf => "(x) keys only",
            };
            // An alarm or a look takes a small screen for itself.
            let rings = view.timers.iter().any(|t| t.state == TimerState::Ringing);
            let look = view.question.as_ref() == Some(&view.big.main);
            let alone = rings && h < 12 || look && h < 20;
            assert!(alone || text.contains(state), "{name} at {w}x{h}:\n{text}");
            // A look is asked in large letters.
            let asked_large = view
                .question
                .as_ref()
                .is_some_and(|q| *q == view.big.main || *q == view.big.under);
            assert!(
                view.question.is_none() || asked_large || text.contains("? "),
                "{name} at {w}x{h}:\n{text}"
            );
            assert!(
                !rings || text.contains("RINGING"),
                "{name} at {w}x{h}:\n{text}"
            );
        }
    }
}

/// The alarm is the largest thing on the screen: its letters are no smaller than any others, and its ground takes half of it.
#[test]
fn the_alarm_is_the_largest_thing() {
    for (name, view) in moments() {
        if !view.timers.iter().any(|t| t.state == TimerState::Ringing) {
            continue;
        }
        for (w, h) in [(40, 12), (40, 15), (80, 24), (80, 25), (120, 40), (200, 60)] {
            let shown = rows(&view, w, h);
            let alarm: Vec<_> = shown.iter().filter(|r| r.role == Role::Alarm).collect();
            assert!(
                alarm.len() * 2 >= h,
                "{name} at {w}x{h}: {} rows",
                alarm.len()
            );
            let other = shown.iter().filter(|r| r.role != Role::Alarm);
            let other = other.filter(|r| r.text.contains(['█', '▀', '▄'])).count();
            assert_eq!(other, 0, "{name} at {w}x{h}");
        }
    }
}

/// A list shows all of its entries with their numbers, at every size.
#[test]
fn lists_are_shown_whole() {
    let mut seen = 0;
    for (name, view) in moments() {
        let Some(list) = &view.list else { continue };
        seen += 1;
        for (w, h) in [(40, 15), (80, 24), (80, 25), (120, 40), (200, 60)] {
            let shown = rows(&view, w, h);
            let text: Vec<&str> = shown.iter().map(|r| r.text.as_str()).collect();
            let large = text.iter().any(|t| t.contains(['█', '▀', '▄']));
            for (at, _) in list.items.iter().enumerate() {
                let number = format!("{}", at + 1);
                let there = text
                    .iter()
                    .any(|t| t.split([' ', '>']).any(|word| word == number));
                assert!(
                    large || there,
                    "{name} at {w}x{h}: {number}\n{}",
                    text.join("\n")
                );
            }
        }
    }
    assert!(seen >= 3);
}

/// What rings no more and is dealt with is gone from the screen.
#[test]
fn answered_timers_go() {
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        "0:00 say ten minute timer for the eggs\n+11m say stop\n",
    );
    assert_eq!(r.bench.view(Moment(700_000)).timers, []);
    let r = Rehearsal::play(
        "seeded-tin-loaf",
        "0:00 say go to step five\n+1s say start it\n+61m say stop\n",
    );
    assert_eq!(
        r.bench.view(Moment(4_000_000)).timers.len(),
        1,
        "its look is open"
    );
}

/// The step that is shown is not shown again as what was said.
#[test]
fn the_step_has_no_echo() {
    for (name, view) in moments() {
        assert!(!view.said.starts_with("Step "), "{name}: {}", view.said);
    }
}
