//! The screen as text, compared with pictures kept beside the tests. To keep a new picture after looking at it:
//! `COMMIS_KEEP_SCREENS=1 cargo test screens`.

use commis::bench::{Big, Listening, Moment, TimerState, TimerView, View};
use commis::screen::{Theme, draw};
use ratatui::Terminal;
use ratatui::backend::TestBackend;

fn weighing() -> View {
    View {
        formula: "Seeded tin loaf".into(),
        scale: "one and a half times".into(),
        step: 2,
        steps: 9,
        title: "Weigh".into(),
        text: "Put the large bowl on the scale and set it to nought. Weigh in one thing after the other; stir the salt in before the yeast.".into(),
        big: Big { main: "750 g".into(), under: "strong white flour".into() },
        timers: vec![],
        weighing: vec![
            ("strong white flour".into(), "750 g".into(), false),
            ("fine salt".into(), "15 g".into(), false),
            ("instant yeast".into(), "9 g".into(), false),
        ],
        heard: Some(("what do i weigh next".into(), true)),
        said: "750 grams of strong white flour.".into(),
        question: None,
        entry: String::new(),
        keys: vec![
            ("Enter".into(), "it is in; on to the next".into()),
            ("+".into(), "says it again".into()),
            ("-".into(), "goes back a step".into()),
            ("/".into(), "tells what goes on the scale".into()),
            (".".into(), "opens the list of more".into()),
        ],
        listening: Listening::Yes,
        now: Moment(0),
        clock: "15:05".into(),
        ready: String::new(),
        troubles: vec![],
    }
}

fn looking() -> View {
    let timer = |name: &str, left_ms, state| TimerView {
        name: name.into(),
        left_ms,
        state,
    };
    View {
        step: 5,
        title: "First rise".into(),
        text: "Cover the bowl and leave it until the dough has doubled.".into(),
        big: Big {
            main: "First rise".into(),
            under: "has it doubled?".into(),
        },
        timers: vec![
            timer("first rise", -65_000, TimerState::Ringing),
            timer("oven", 754_000, TimerState::Running),
            timer("soak", 4_000_000, TimerState::Paused),
        ],
        weighing: vec![],
        heard: Some(("some words of the radio".into(), false)),
        said: "First rise: time is up. Has it doubled?".into(),
        question: Some("Has it doubled?".into()),
        entry: "10".into(),
        keys: vec![
            ("Enter".into(), "yes".into()),
            ("Back".into(), "no".into()),
            ("-".into(), "not yet".into()),
        ],
        listening: Listening::Deaf,
        troubles: vec!["the microphone is gone: use the keys".into()],
        ..weighing()
    }
}

fn baking() -> View {
    let mut view = looking();
    view.step = 8;
    view.title = "Bake".into();
    view.text = "Bake for 35 minutes; turn the tin after 20.".into();
    view.big = Big {
        main: "Bake".into(),
        under: String::new(),
    };
    view.timers.remove(0);
    view.question = None;
    view.entry = String::new();
    view.troubles.clear();
    view.listening = Listening::Off;
    view
}

fn picture(view: &View, w: u16, h: u16) -> String {
    let mut terminal = Terminal::new(TestBackend::new(w, h)).expect("a test backend cannot fail");
    terminal
        .draw(|f| draw(f, view, Theme::default()))
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
    for (name, view) in [
        ("weighing", weighing()),
        ("looking", looking()),
        ("baking", baking()),
    ] {
        for (w, h) in [(40, 12), (80, 24), (34, 60), (200, 60)] {
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
