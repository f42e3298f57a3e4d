//! The big, high-contrast view of the bench, and plain lines for a screen reader.

use ratatui::Frame;
use ratatui::layout::{Alignment, Constraint, Layout};
use ratatui::style::{Modifier, Style};
use ratatui::text::{Line, Text};
use ratatui::widgets::{Block, Borders, Paragraph, Wrap};

use crate::bench::{Listening, TimerState, View};

/// Draws the bench. Meaning is in words; weight and reverse video only help the eye, so that it works in one colour.
pub fn draw(frame: &mut Frame<'_>, view: &View) {
    let timers = u16::try_from(view.timers.len().min(4)).unwrap_or(4);
    let [head, big, text, clocks, foot] = Layout::vertical([
        Constraint::Length(1),
        Constraint::Length(4),
        Constraint::Min(3),
        Constraint::Length(timers + u16::from(timers > 0)),
        Constraint::Length(3),
    ])
    .areas(frame.area());
    let bold = Style::new().add_modifier(Modifier::BOLD);
    let place = if view.step == 0 {
        String::new()
    } else {
        format!("step {} of {}", view.step, view.steps)
    };
    let scale = if view.scale.is_empty() {
        String::new()
    } else {
        format!(", {}", view.scale)
    };
    frame.render_widget(
        Paragraph::new(format!("{}  {}{scale}   {place}", view.clock, view.formula)),
        head,
    );
    let large = Text::from(vec![
        Line::styled(
            spread(&view.big.main, big.width),
            bold.add_modifier(Modifier::REVERSED),
        ),
        Line::styled(view.big.under.clone(), bold),
    ]);
    frame.render_widget(
        Paragraph::new(large)
            .alignment(Alignment::Center)
            .block(Block::new().borders(Borders::TOP)),
        big,
    );
    let mut lines: Vec<Line<'_>> = vec![Line::raw(view.text.clone())];
    for (name, amount, added) in &view.weighing {
        lines.push(Line::raw(format!(
            "{}  {amount}  {name}",
            if *added { "[in]" } else { "[  ]" }
        )));
    }
    if let Some(question) = &view.question {
        lines.push(Line::styled(format!("? {question}"), bold));
    }
    frame.render_widget(Paragraph::new(lines).wrap(Wrap { trim: true }), text);
    let clocks_text: Vec<Line<'_>> = view
        .timers
        .iter()
        .take(4)
        .map(|t| Line::styled(timer_line(&t.name, t.left_ms, t.state), bold))
        .collect();
    frame.render_widget(
        Paragraph::new(clocks_text).block(Block::new().borders(if timers > 0 {
            Borders::TOP
        } else {
            Borders::NONE
        })),
        clocks,
    );
    let listening = match view.listening {
        Listening::Yes => "(o) listening",
        Listening::Off => "(-) not listening: say listen again",
        Listening::Deaf => "(x) keys only",
    };
    let heard = match &view.heard {
        Some((text, true)) => format!("   heard: {text}"),
        Some((text, false)) => format!("   heard, not understood: {text}"),
        None => String::new(),
    };
    let entry = if view.entry.is_empty() {
        String::new()
    } else {
        format!("   entering: {}", view.entry)
    };
    let keys: Vec<String> = view
        .keys
        .iter()
        .map(|(k, what)| format!("{k} {what}"))
        .collect();
    let foot_text = vec![
        Line::raw(view.said.clone()),
        Line::raw(format!("{listening}{heard}{entry}")),
        Line::raw(keys.join("   ")),
    ];
    frame.render_widget(Paragraph::new(foot_text), foot);
}

/// Letters set apart, where there is room: easier to read from across the room.
fn spread(text: &str, width: u16) -> String {
    let wide: String = text.chars().flat_map(|c| [c, ' ']).collect();
    let wide = format!("  {}  ", wide.trim_end());
    if wide.chars().count() <= usize::from(width) {
        wide
    } else {
        format!(" {text} ")
    }
}

/// A timer as one line: `12:30  first rise`, `over 4:05  oven, ringing`.
pub fn timer_line(name: &str, left_ms: i64, state: TimerState) -> String {
    let s = if left_ms >= 0 {
        (left_ms + 999) / 1000
    } else {
        -left_ms / 1000
    };
    let clock = if s >= 3600 {
        format!("{}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60)
    } else {
        format!("{}:{:02}", s / 60, s % 60)
    };
    match state {
        TimerState::Running => format!("{clock}  {name}"),
        TimerState::Paused => format!("{clock}  {name}, held"),
        TimerState::Ringing => format!("over {clock}  {name}, RINGING"),
        TimerState::Over => format!("over {clock}  {name}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::{Big, Moment, TimerView};
    use ratatui::Terminal;
    use ratatui::backend::TestBackend;

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
            heard: Some(("how much salt".into(), true)),
            said: "Ten grams of fine salt.".into(),
            question: Some("Has it doubled?".into()),
            entry: "12".into(),
            keys: vec![("Enter".into(), "it's in".into())],
            listening: Listening::Yes,
            now: Moment(0),
            clock: "15:05".into(),
            troubles: vec![],
        }
    }

    #[test]
    fn everything_is_there_at_every_size() {
        for (w, h) in [(40, 16), (80, 24), (200, 60)] {
            let mut terminal =
                Terminal::new(TestBackend::new(w, h)).expect("a test backend cannot fail");
            terminal
                .draw(|f| draw(f, &view()))
                .expect("a test backend cannot fail");
            let shown: String = terminal
                .backend()
                .buffer()
                .content()
                .iter()
                .map(ratatui::buffer::Cell::symbol)
                .collect();
            for part in [
                "5 0 0   g",
                "strong white flour",
                "12:34  first rise",
                "[in]  10 g  fine salt",
                "? Has it doubled?",
                "(o) listening",
            ] {
                assert!(shown.contains(part), "{w}x{h}: {part}");
            }
        }
        for (w, h) in [(1, 1), (3, 2), (10, 5), (300, 100)] {
            let mut terminal =
                Terminal::new(TestBackend::new(w, h)).expect("a test backend cannot fail");
            terminal
                .draw(|f| draw(f, &view()))
                .expect("a test backend cannot fail");
        }
    }
}
