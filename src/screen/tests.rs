use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::style::Modifier;

use super::terminal::as_seen;
use super::*;
use crate::bench::{Big, Listening, TimerState, TimerView};
use crate::time::Moment;

fn view() -> View {
    View {
        formula: "Seeded tin loaf".into(),
        scale: String::new(),
        step: 1,
        steps: 9,
        title: "Weigh the dry things".into(),
        text: "Put the large bowl on the scale.".into(),
        big: Big {
            main: "500 g".into(),
            under: "strong white flour".into(),
        },
        timers: vec![TimerView {
            name: "first rise".into(),
            left_ms: 754_000,
            state: TimerState::Running,
        }],
        weighing: vec![("fine salt".into(), "10 g".into(), true)],
        pouring: None,
        heard: Some(("how much salt".into(), true)),
        said: "Ten grams of fine salt.".into(),
        question: Some("Has it doubled?".into()),
        entry: "12".into(),
        choosing: String::new(),
        list: None,
        cautions: Vec::new(),
        contains: String::new(),
        keys: vec![("Enter".into(), "it is in".into())],
        listening: Listening::Yes,
        now: Moment(0),
        clock: "15:05".into(),
        ready: String::new(),
        others: Vec::new(),
        troubles: vec!["no microphone".into()],
    }
}

fn drawn(view: &View, w: u16, h: u16, theme: Theme) -> ratatui::buffer::Buffer {
    let mut terminal = Terminal::new(TestBackend::new(w, h)).expect("a test backend cannot fail");
    terminal
        .draw(|f| draw(f, view, theme, false))
        .expect("a test backend cannot fail");
    terminal.backend().buffer().clone()
}

fn text(view: &View, w: u16, h: u16) -> Vec<String> {
    rows(view, w.into(), h.into())
        .into_iter()
        .map(|r| r.text)
        .collect()
}

#[test]
fn the_smallest_screen_has_what_matters() {
    let shown = text(&view(), 40, 12).join("\n");
    for part in [
        "15:05  step 1 of 9",
        "█▀▀▀",
        "strong white flour",
        "? Has it doubled?",
        "entering: 12_",
        "12:34  first rise",
        "(o) listening   heard: how much salt",
    ] {
        assert!(shown.contains(part), "`{part}` is missing from\n{shown}");
    }
}

#[test]
fn larger_screens_have_everything() {
    for (w, h) in [(60, 30), (80, 24), (200, 60)] {
        let shown = text(&view(), w, h).join("\n");
        for part in [
            "Weigh the dry things",
            "Put the large bowl",
            "[in] 10 g  fine salt",
            "first rise",
            "no microphone",
            "said: Ten grams of fine salt.",
            "[Enter] it is in",
        ] {
            assert!(
                shown.contains(part),
                "{w}x{h}: `{part}` is missing from\n{shown}"
            );
        }
    }
}

#[test]
fn any_size_at_all() {
    let mut long = view();
    long.text = "A very long step. ".repeat(60);
    long.big.main = "Brush with crème fraîche".into();
    long.timers = (0..12)
        .map(|i| TimerView {
            name: format!("timer number {i}"),
            left_ms: i64::MAX / 2 - i * 3_000_000,
            state: TimerState::Over,
        })
        .collect();
    let mut empty = view();
    empty.big = Big::default();
    empty.choosing = "The lists. Dot goes on, Enter chooses. 1: what can be done here.".into();
    empty.timers.clear();
    for view in [view(), long, empty] {
        for w in (0..60).chain([80, 132, 200, 300]) {
            for h in (0..30).chain([60, 100]) {
                let rows = rows(&view, w, h);
                assert_eq!(rows.len(), h, "{w}x{h}");
                for r in &rows {
                    let wide = ratatui::text::Span::raw(r.text.as_str()).width();
                    assert!(wide <= w, "{w}x{h}: `{}`", r.text);
                }
            }
        }
    }
}

#[test]
fn the_big_thing_can_be_read_from_two_metres() {
    // A row of a terminal that fills a laptop's screen (about 18 cm high) in 24 rows is 7 mm high. Letters of four
    // rows are 28 mm, ten times what the eye needs at two metres (one minute of arc a stroke, Snellen: 2.9 mm).
    let rows = rows(&view(), 80, 24);
    let tall = rows
        .iter()
        .filter(|r| r.role == Role::Big && r.text.contains(['█', '▀', '▄']))
        .count();
    assert!(tall >= 4, "{rows:#?}");
}

#[test]
fn an_alarm_is_words_and_reversed_and_does_not_blink() {
    let mut view = view();
    view.timers[0].state = TimerState::Ringing;
    view.timers[0].left_ms = -65_000;
    let shown = text(&view, 80, 24).join("\n");
    assert!(shown.contains("over 1:05  first rise, RINGING"), "{shown}");
    for depth in [Depth::None, Depth::Sixteen, Depth::Full] {
        let theme = Theme {
            ground: Ground::Dark,
            depth,
            console: false,
        };
        for cell in drawn(&view, 80, 24, theme).content() {
            assert!(
                !cell
                    .modifier
                    .intersects(Modifier::SLOW_BLINK | Modifier::RAPID_BLINK)
            );
        }
    }
}

#[test]
fn without_colours_the_words_are_the_same() {
    let words = |depth| {
        let theme = Theme {
            ground: Ground::Light,
            depth,
            console: false,
        };
        drawn(&view(), 80, 24, theme)
            .content()
            .iter()
            .map(|c| c.symbol().to_owned())
            .collect::<String>()
    };
    assert_eq!(words(Depth::None), words(Depth::Full));
    assert_eq!(words(Depth::Sixteen), words(Depth::Full));
}

#[test]
fn every_cell_has_a_measured_pair() {
    for depth in [Depth::Sixteen, Depth::Full] {
        for ground in [Ground::Dark, Ground::Light] {
            let theme = Theme {
                ground,
                depth,
                console: false,
            };
            let pairs: Vec<_> = ROLES.into_iter().filter_map(|r| theme.pair(r)).collect();
            for cell in drawn(&view(), 100, 40, theme).content() {
                assert!(
                    pairs.contains(&(cell.fg, cell.bg)),
                    "{:?} on {:?}",
                    cell.fg,
                    cell.bg
                );
            }
        }
    }
}

#[test]
fn the_picture_changes_less_than_three_times_a_second() {
    // WCAG 2.2, success criterion 2.3.2: nothing flashes more than three times in any one second.
    let mut view = view();
    view.timers[0].state = TimerState::Ringing;
    let mut changes = 0;
    let mut last = as_seen(&view);
    for ms in 0..10_000 {
        view.now = Moment(ms);
        view.timers[0].left_ms = 2_000 - ms as i64;
        let seen = as_seen(&view);
        changes += usize::from(seen != last);
        last = seen;
    }
    assert!((9..=20).contains(&changes), "{changes} in ten seconds");
}
