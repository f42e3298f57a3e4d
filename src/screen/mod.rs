//! The big, high-contrast view of the bench: one thing to read from two metres, and everything else in words.
//!
//! Meaning is in words and signs; colour, weight and reversal only help the eye. Nothing blinks.

mod glyphs;
mod rows;
mod terminal;
mod theme;

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::Line;

pub use rows::{Row, rows, timer_line};
pub use terminal::Screen;
pub use theme::{Depth, Ground, ROLES, Role, Theme};

use crate::bench::View;

/// Draws the bench over the whole frame.
pub fn draw(frame: &mut Frame<'_>, view: &View, theme: Theme) {
    let area = frame.area();
    frame.buffer_mut().set_style(area, theme.style(Role::Text));
    for (y, row) in (area.y..area.bottom()).zip(rows(view, area.width.into(), area.height.into())) {
        let line = Rect {
            y,
            height: 1,
            ..area
        };
        let style = theme.style(row.role);
        // Alarms and questions stand out over the whole width, so that their ground is seen from afar.
        frame.buffer_mut().set_style(line, style);
        frame.render_widget(Line::styled(row.text, style), line);
    }
}

#[cfg(test)]
mod tests;
