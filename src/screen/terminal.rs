//! The terminal as a screen: entered and left safely, drawn on only when something changed.

use std::io::{self, Stdout, Write};

use crossterm::execute;
use crossterm::terminal::{EnterAlternateScreen, enable_raw_mode};
use ratatui::Terminal;
use ratatui::backend::CrosstermBackend;
use ratatui::layout::Rect;

use super::given_back::{give_back, taken};
use super::{Theme, draw};
use crate::bench::View;
use crate::time::Moment;

/// The alternate screen. Leaving it, by dropping this or by a panic, gives the terminal back as it was.
pub struct Screen {
    terminal: Terminal<CrosstermBackend<Stdout>>,
    theme: Theme,
    shown: Option<(View, bool)>,
}

impl Screen {
    /// Enters the alternate screen and raw mode.
    ///
    /// # Errors
    /// When the terminal cannot be put into raw mode.
    pub fn enter(theme: Theme) -> io::Result<Self> {
        enable_raw_mode()?;
        taken();
        let entered = execute!(io::stdout(), EnterAlternateScreen)
            .and_then(|()| Terminal::new(CrosstermBackend::new(io::stdout())));
        let terminal = entered.inspect_err(|_| {
            give_back();
        })?;
        Ok(Self {
            terminal,
            theme,
            shown: None,
        })
    }

    /// Shows the bench; does nothing when it would look the same. `flash`: the rows of an alarm are the other way round.
    ///
    /// # Errors
    /// When the terminal cannot be written to.
    pub fn show(&mut self, view: &View, flash: bool) -> io::Result<()> {
        let seen = (as_seen(view), flash);
        if self.shown.as_ref() == Some(&seen) {
            return Ok(());
        }
        let theme = self.theme;
        self.terminal
            .draw(|frame| draw(frame, view, theme, flash))?;
        self.shown = Some(seen);
        Ok(())
    }

    /// Rings the terminal's bell.
    ///
    /// # Errors
    /// When the terminal cannot be written to.
    pub fn bell(&mut self) -> io::Result<()> {
        let mut out = io::stdout().lock();
        out.write_all(b"\x07").and_then(|()| out.flush())
    }

    /// The terminal has another size, or something wrote over it: the next showing draws everything.
    pub fn redraw(&mut self) {
        self.shown = None;
        // Not `clear`: that asks the terminal where its cursor is, and whoever reads the keys would get the answer.
        // A terminal that cannot be written to is told of by the next showing.
        let _ = self.terminal.size().and_then(|size| {
            self.terminal
                .resize(Rect::from((ratatui::layout::Position::ORIGIN, size)))
        });
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        give_back();
    }
}

/// The view without what does not show: milliseconds.
pub(super) fn as_seen(view: &View) -> View {
    let mut seen = view.clone();
    seen.now = Moment(0);
    for timer in &mut seen.timers {
        timer.left_ms = if timer.left_ms >= 0 {
            timer.left_ms.saturating_add(999) / 1000
        } else {
            timer.left_ms / 1000
        };
    }
    seen
}
