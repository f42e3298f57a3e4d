//! The big screen of a live session, drawn on a thread of its own: a terminal that is stalled or gone holds up nothing.

use std::io;
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use crossbeam_channel::{Sender, bounded};

use crate::bench::View;
use crate::screen::{DRAWER, Screen, Theme};

/// A screen that is left is waited for no longer than this.
const PATIENCE: Duration = Duration::from_millis(500);

/// What is to be seen next; what came before and was not drawn is left out.
#[derive(Default)]
struct Next {
    view: Option<(View, bool)>,
    anew: bool,
    bell: bool,
}

/// The screen, and the thread that draws on it.
pub(super) struct Display {
    next: Arc<Mutex<Next>>,
    wake: Option<Sender<()>>,
    thread: JoinHandle<()>,
}

impl Display {
    /// Enters the screen.
    pub(super) fn start(theme: Theme) -> io::Result<Self> {
        let mut screen = Screen::enter(theme)?;
        let next = Arc::new(Mutex::new(Next::default()));
        let theirs = Arc::clone(&next);
        let (wake, woken) = bounded(1);
        let thread = std::thread::Builder::new()
            .name(DRAWER.to_owned())
            .spawn(move || {
                while let Ok(()) = woken.recv() {
                    let next =
                        std::mem::take(&mut *theirs.lock().unwrap_or_else(PoisonError::into_inner));
                    if next.anew {
                        screen.redraw();
                    }
                    // A terminal that cannot be drawn on is no reason to stop cooking.
                    if next.bell {
                        let _ = screen.bell();
                    }
                    if let Some((view, flash)) = next.view {
                        let _ = screen.show(&view, flash);
                    }
                }
            })?;
        Ok(Self {
            next,
            wake: Some(wake),
            thread,
        })
    }

    fn tell(&self, change: impl FnOnce(&mut Next)) {
        change(&mut self.next.lock().unwrap_or_else(PoisonError::into_inner));
        if let Some(wake) = &self.wake {
            // One that is full is awake.
            let _ = wake.try_send(());
        }
    }

    /// Shows the bench; `flash`: its alarm lights up, since it cannot be heard.
    pub(super) fn show(&self, view: View, flash: bool) {
        self.tell(|next| next.view = Some((view, flash)));
    }

    /// Draws everything anew.
    pub(super) fn redraw(&self) {
        self.tell(|next| next.anew = true);
    }

    /// Rings the terminal's bell.
    pub(super) fn bell(&self) {
        self.tell(|next| next.bell = true);
    }
}

impl Drop for Display {
    fn drop(&mut self) {
        self.wake = None;
        let until = Instant::now() + PATIENCE;
        while !self.thread.is_finished() && Instant::now() < until {
            std::thread::sleep(Duration::from_millis(5));
        }
        if !self.thread.is_finished() {
            // It is stuck in the drawing; what can be given back without a word is.
            let _ = crossterm::terminal::disable_raw_mode();
        }
    }
}
