//! The screen as text, at moments of real bakes, compared with pictures kept beside the tests. To keep new pictures after
//! looking at them: `COMMIS_KEEP_SCREENS=1 cargo test --test all -- screens terminal`.

use std::collections::BTreeSet;

use commis::bench::{Listening, TimerState, View};
use commis::screen::{Role, Theme, draw, rows};
use commis::time::Moment;
use ratatui::Terminal;
use ratatui::backend::TestBackend;

use super::rehearsal::Rehearsal;

const RISING: &str = "start 15:05\n0:00 say make it one and a half times\n+5s say go to step five\n+5s say start it\n\
    +1s say start a timer for eleven minutes\n+1s say forty minutes called stock\n+1s say pause the stock\n\
    +20s say how long is left\n";

/// A bake up to a moment worth looking at.
const MOMENTS: [(&str, &str, &str); 6] = [
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
    let mut terminal = Terminal::new(TestBackend::new(w, h)).expect("a test backend cannot fail");
    terminal
        .draw(|f| draw(f, view, Theme::default(), false))
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
    for (name, formula, script) in MOMENTS {
        let view = at(formula, script);
        for (w, h) in [(40, 12), (80, 24), (200, 60)] {
            let path = folder.join(format!("{name}-{w}x{h}.txt"));
            let now = picture(&view, w, h);
            if keep {
                std::fs::create_dir_all(&folder).expect("the folder of pictures");
                std::fs::write(&path, &now).expect("a picture is kept");
            }
            let kept = std::fs::read_to_string(&path).unwrap_or_default();
            assert!(now == kept, "{name} at {w}x{h} looks different:\n{now}");
        }
    }
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
    texts.extend(view.troubles.clone());
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
        "list:",
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
    for (name, formula, script) in MOMENTS {
        let view = at(formula, script);
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
    for (name, formula, script) in MOMENTS {
        let view = at(formula, script);
        for (w, h) in [(40, 12), (80, 24), (200, 60), (30, 80), (300, 10), (34, 60)] {
            let shown = rows(&view, w, h);
            let large = shown
                .iter()
                .filter(|r| r.role == Role::Big || r.role == Role::Timer);
            let large = large.filter(|r| r.text.contains(['█', '▀', '▄'])).count();
            assert!(
                large >= 4,
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
            assert!(text.contains(state), "{name} at {w}x{h}:\n{text}");
            assert!(
                view.question.is_none() || text.contains("? "),
                "{name} at {w}x{h}:\n{text}"
            );
            let rings = view.timers.iter().any(|t| t.state == TimerState::Ringing);
            assert!(
                !rings || text.contains("RINGING"),
                "{name} at {w}x{h}:\n{text}"
            );
        }
    }
}
