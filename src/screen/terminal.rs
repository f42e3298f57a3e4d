//! The terminal as a screen: entered and left safely, drawn on only when something changed.

use std::io;

use ratatui::DefaultTerminal;

use super::{Theme, draw};
use crate::bench::{Moment, View};

/// The alternate screen. Leaving it, by dropping this or by a panic, gives the terminal back as it was.
pub struct Screen {
    terminal: DefaultTerminal,
    theme: Theme,
    shown: Option<View>,
}

impl Screen {
    /// Enters the alternate screen and raw mode.
    ///
    /// # Errors
    /// When the terminal cannot be put into raw mode.
    pub fn enter(theme: Theme) -> io::Result<Self> {
        let terminal = ratatui::try_init()?;
        Ok(Self {
            terminal,
            theme,
            shown: None,
        })
    }

    /// Shows the bench; does nothing when it would look the same.
    ///
    /// # Errors
    /// When the terminal cannot be written to.
    pub fn show(&mut self, view: &View) -> io::Result<()> {
        let seen = as_seen(view);
        if self.shown.as_ref() == Some(&seen) {
            return Ok(());
        }
        let theme = self.theme;
        self.terminal.draw(|frame| draw(frame, view, theme))?;
        self.shown = Some(seen);
        Ok(())
    }

    /// The terminal has another size, or something wrote over it: the next showing draws everything.
    pub fn redraw(&mut self) {
        self.shown = None;
        // A terminal that cannot be cleared cannot be drawn on either, and that is told then.
        let _ = self.terminal.clear();
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        ratatui::restore();
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
