//! The plan as bars in a terminal: every meaning has a shape of its own, and no colour.

use super::minute::Minute;
use super::schedule::{Block, Part, Plan};
use crate::bench::Wall;

/// What bars are drawn with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Glyphs {
    /// Unicode block elements.
    Blocks,
    /// Plain ASCII, for any terminal or printer.
    Ascii,
}

impl Glyphs {
    /// Hands, waiting, waiting in the oven, oven getting hot.
    fn of(self, block: &Block) -> char {
        let which = match (block.id.part, block.heat_c.is_some()) {
            (Part::Hands, _) => 0,
            (Part::Wait, false) => 1,
            (Part::Wait, true) => 2,
            (Part::Preheat, _) => 3,
        };
        self.all()[which]
    }

    fn all(self) -> [char; 4] {
        match self {
            Self::Blocks => ['\u{2588}', '\u{2591}', '\u{2593}', '\u{2581}'],
            Self::Ascii => ['#', '.', '=', '~'],
        }
    }
}

/// Narrower than this, there is room for words only.
const NARROW: usize = 60;

/// The plan as lines of at most `width` characters: what starts when, how long it takes, and a bar on a common scale.
/// With little width there are no bars.
pub fn timeline(plan: &Plan, wall: &Wall, width: usize, glyphs: Glyphs) -> Vec<String> {
    let width = width.max(20);
    let several = plan.dishes.len() > 1;
    let mut lines = Vec::new();
    let names: Vec<&str> = plan.dishes.iter().map(|dish| dish.name.as_str()).collect();
    lines.push(format!(
        "{}: ready at {}, start at {}",
        names.join(", "),
        plan.ready_at.local(wall).clock(),
        plan.start().local(wall).clock()
    ));
    if plan.ready_at > plan.wanted_at {
        lines.push(format!(
            "{} min later than wanted",
            plan.ready_at.since(plan.wanted_at)
        ));
    }

    let from = plan.start();
    let last = plan.blocks.iter().map(|block| block.end).max();
    let to = last.map_or(plan.ready_at, |last| last.max(plan.ready_at));
    let label = |block: &Block| {
        let dish = if several {
            plan.dishes
                .get(block.id.dish)
                .map_or(String::new(), |dish| format!("{}: ", dish.name))
        } else {
            String::new()
        };
        format!("{dish}{}", row_words(block))
    };
    let longest = plan
        .blocks
        .iter()
        .map(|block| label(block).chars().count())
        .max();
    // `15:05  label  1:20  bar`
    let fixed = 5 + 2 + 2 + 5 + 2;
    let bars = width >= NARROW;
    let label_width = if bars {
        longest.unwrap_or(0).min((width - fixed) / 2)
    } else {
        longest.unwrap_or(0).min(width - (fixed - 2))
    };
    let bar_width = width.saturating_sub(fixed + label_width);
    let row = |time: &str, words: &str, length: &str| {
        let (shown, pad) = fit(words, label_width, glyphs);
        format!("{time:5}  {shown}{pad}  {length:>5}")
    };

    if bars {
        let scale = ruler(from, to, wall, bar_width);
        lines.push(
            format!("{}  {scale}", row("", "", ""))
                .trim_end()
                .to_owned(),
        );
    }
    let mut day = from.local(wall).day;
    for block in &plan.blocks {
        let local = block.start.local(wall);
        if local.day != day {
            day = local.day;
            lines.push("-- next day --".to_owned());
        }
        let length = block.end.since(block.start);
        let mut line = row(
            &local.clock(),
            &label(block),
            &format!("{}:{:02}", length / 60, length % 60),
        );
        if bars {
            line.push_str("  ");
            line.push_str(&bar(block, from, to, bar_width, glyphs));
        }
        lines.push(line.trim_end().to_owned());
        for (at, say) in &block.cues {
            lines.push(
                row(&at.local(wall).clock(), &format!("  - {say}"), "")
                    .trim_end()
                    .to_owned(),
            );
        }
    }
    lines.push(
        row(&plan.ready_at.local(wall).clock(), "Ready", "")
            .trim_end()
            .to_owned(),
    );
    if bars {
        let [hands, wait, oven, heat] = glyphs.all();
        lines.push(format!(
            "{hands} hands   {wait} waiting   {oven} in the oven   {heat} oven getting hot"
        ));
    }
    lines
        .into_iter()
        .map(|line| line.chars().take(width).collect())
        .collect()
}

fn row_words(block: &Block) -> String {
    match (block.id.part, block.heat_c) {
        (Part::Preheat, Some(heat)) => format!("Light the oven, {heat:.0} C"),
        (Part::Preheat, None) => "Light the oven".to_owned(),
        (Part::Hands, _) => block.title.clone(),
        (Part::Wait, _) => {
            let name = block.timer.as_deref().unwrap_or(&block.title);
            format!("  {name} (timer)")
        }
    }
}

/// The words cut to a width with a mark, and the blanks after them.
fn fit(words: &str, width: usize, glyphs: Glyphs) -> (String, String) {
    let count = words.chars().count();
    if count <= width {
        return (words.to_owned(), " ".repeat(width - count));
    }
    let mut shown: String = words.chars().take(width.saturating_sub(1)).collect();
    if width > 0 {
        shown.push(match glyphs {
            Glyphs::Blocks => '\u{2026}',
            Glyphs::Ascii => '>',
        });
    }
    (shown, String::new())
}

/// The column of a time, from 0 to `width`.
fn column(at: Minute, from: Minute, to: Minute, width: usize) -> usize {
    let all = to.since(from).max(1);
    let part = at.since(from).clamp(0, all);
    usize::try_from(part.saturating_mul(i64::try_from(width).unwrap_or(0)) / all).unwrap_or(0)
}

fn bar(block: &Block, from: Minute, to: Minute, width: usize, glyphs: Glyphs) -> String {
    // Every block is seen, however short.
    let left = column(block.start, from, to, width).min(width.saturating_sub(1));
    let right = column(block.end, from, to, width).max(left + 1).min(width);
    let glyph = glyphs.of(block).to_string();
    format!(
        "{}{}",
        " ".repeat(left),
        glyph.repeat(right.saturating_sub(left))
    )
}

/// Clock times over the bars: full hours, as many as have room.
fn ruler(from: Minute, to: Minute, wall: &Wall, width: usize) -> String {
    let mut line = vec![' '; width];
    let mut free = 0;
    let mut at = from;
    let every = [1, 2, 3, 4, 6, 12, 24]
        .into_iter()
        .find(|hours| {
            column(
                from.plus(hours * 60),
                from,
                to.max(from.plus(hours * 60)),
                width,
            ) >= 7
        })
        .unwrap_or(24);
    while at <= to {
        let local = at.local(wall);
        if local.minute == 0 && i64::from(local.hour) % every == 0 {
            let place = column(at, from, to, width);
            if place >= free && place + 5 <= width {
                for (cell, c) in line[place..].iter_mut().zip(local.clock().chars()) {
                    *cell = c;
                }
                free = place + 7;
            }
        }
        at = at.plus(1);
    }
    line.into_iter().collect()
}
