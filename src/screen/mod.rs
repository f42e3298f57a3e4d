//! The big, high-contrast view of the bench: one thing to read from two metres, and everything else in words.
//!
//! Meaning is in words and signs; colour, weight and reversal only help the eye. Nothing blinks
//! but an alarm that cannot be heard, once a second (WCAG 2.2, 2.3.1: no more than three flashes a second).

mod given_back;
mod glyphs;
mod rows;
mod terminal;
mod theme;

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Modifier;
use ratatui::text::Line;

pub(crate) use given_back::DRAWER;
pub use given_back::give_back;
pub use rows::{Row, rows, timer_line};
pub use terminal::Screen;
pub use theme::{Depth, Ground, ROLES, Role, Theme};

use crate::bench::View;
use crate::clean;

/// Draws the bench over the whole frame. `flash`: the rows of an alarm are the other way round.
pub fn draw(frame: &mut Frame<'_>, view: &View, theme: Theme, flash: bool) {
    let area = frame.area();
    frame.buffer_mut().set_style(area, theme.style(Role::Text));
    for (y, row) in (area.y..area.bottom()).zip(rows(view, area.width.into(), area.height.into())) {
        let line = Rect {
            y,
            height: 1,
            ..area
        };
        let mut style = theme.style(row.role);
        if flash && row.role == Role::Alarm {
            style = if style.add_modifier.contains(Modifier::REVERSED) {
                style.remove_modifier(Modifier::REVERSED)
            } else {
                style.add_modifier(Modifier::REVERSED)
            };
        }
        // Alarms and questions stand out over the whole width, so that their ground is seen from afar.
        frame.buffer_mut().set_style(line, style);
        let text = clean::spoken(&row.text);
        let text: String = text.chars().map(|c| theme.sign(c)).collect();
        frame.render_widget(Line::styled(text, style), line);
    }
}

#[cfg(test)]
mod tests;
