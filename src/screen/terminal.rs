//! The terminal as a screen: entered and left safely, drawn on only when something changed.

use std::fs::File;
use std::io::{self, IsTerminal, Write};
use std::os::fd::OwnedFd;
use std::sync::Arc;

use ratatui::DefaultTerminal;
use ratatui::layout::Rect;

use super::{Theme, draw};
use crate::bench::View;
use crate::time::Moment;

/// The alternate screen. Leaving it, by dropping this or by a panic, gives the terminal back as it was.
pub struct Screen {
    terminal: DefaultTerminal,
    theme: Theme,
    shown: Option<(View, bool)>,
    /// Where messages of libraries go when the screen is left; while it is there they would be written across it.
    messages: Option<Arc<OwnedFd>>,
}

impl Screen {
    /// Enters the alternate screen and raw mode.
    ///
    /// # Errors
    /// When the terminal cannot be put into raw mode.
    pub fn enter(theme: Theme) -> io::Result<Self> {
        let terminal = ratatui::try_init()?;
        let messages = silence_messages();
        Ok(Self {
            terminal,
            theme,
            shown: None,
            messages,
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
        // Not `restore`, which would tell of a failure on a terminal that has gone.
        let restored = ratatui::try_restore().is_ok();
        // A terminal that has gone takes no messages, and those who write them would take that for a fault of ours.
        if let Some(to) = self.messages.as_ref().filter(|_| restored) {
            // Where this fails the messages stay away, which is no harm now.
            let _ = rustix::stdio::dup2_stderr(to);
        }
    }
}

/// Sends standard error nowhere while it is the terminal that is drawn on; a panic brings it back before it speaks.
fn silence_messages() -> Option<Arc<OwnedFd>> {
    let stderr = io::stderr();
    if !stderr.is_terminal() {
        return None;
    }
    let kept = Arc::new(rustix::io::fcntl_dupfd_cloexec(&stderr, 3).ok()?);
    let nowhere = File::options().write(true).open("/dev/null").ok()?;
    rustix::stdio::dup2_stderr(&nowhere).ok()?;
    let back = Arc::clone(&kept);
    let before = std::panic::take_hook();
    std::panic::set_hook(Box::new(move |panic| {
        let _ = rustix::stdio::dup2_stderr(&back);
        before(panic);
    }));
    Some(kept)
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
