//! The plan as bars in a terminal: every meaning has a shape of its own, and no colour.

use chrono::DateTime;

use super::plan::{Block, BlockPart, Plan};
use super::spoken::say_doubts;
use crate::measure::print::wrapped;
use crate::time::{Minute, Wall};

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
            (BlockPart::Hands, _) => 0,
            (BlockPart::Wait, false) => 1,
            (BlockPart::Wait, true) => 2,
            (BlockPart::Preheat, _) => 3,
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
    let hours = format!(
        "eady at {}, start at {}",
        dated(plan.ready_at, wall),
        dated(plan.start(), wall)
    );
    match plan.dishes.as_slice() {
        [one] => lines.push(format!("{}: r{hours}", one.name)),
        dishes => {
            lines.push(format!("R{hours}"));
            lines.extend(dishes.iter().enumerate().map(|(dish, each)| {
                let (start, ready) = (each.start.local(wall), each.ready.local(wall));
                let name = &each.name;
                format!(
                    "{} {name}, {} to {}",
                    letter(dish),
                    start.clock(),
                    ready.clock()
                )
            }));
        }
    }
    if plan.ready_at > plan.wanted_at {
        lines.push(format!(
            "{} min later than wanted",
            plan.ready_at.since(plan.wanted_at)
        ));
    }

    let from = plan.start();
    let last = plan.blocks.iter().map(|block| block.end).max();
    let to = last.map_or(plan.ready_at, |last| last.max(plan.ready_at));
    let of_dish = |block: &Block, words: &str| {
        if several {
            format!("{} {words}", letter(block.id.dish))
        } else {
            words.to_owned()
        }
    };
    let label = |block: &Block| {
        let who = plan
            .who(block)
            .map_or(String::new(), |who| format!(" ({who})"));
        of_dish(block, &(row_words(plan, block) + &who))
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
    let mut rows: Vec<(Minute, String)> = Vec::new();
    for block in &plan.blocks {
        let clock = block.start.local(wall).clock();
        let length = block.end.since(block.start);
        let length = format!("{}:{:02}", length / 60, length % 60);
        let mut line = row(&clock, &label(block), &length);
        if bars {
            line.push_str("  ");
            line.push_str(&bar(block, from, to, bar_width, glyphs));
        }
        rows.push((block.start, line));
        rows.extend(block.cues.iter().map(|(at, say)| {
            let words = of_dish(block, &format!("  - {say}"));
            (*at, row(&at.local(wall).clock(), &words, ""))
        }));
    }
    rows.push((
        plan.ready_at,
        row(&plan.ready_at.local(wall).clock(), "Ready", ""),
    ));
    rows.sort_by_key(|(at, _)| *at);
    let mut day = from.local(wall).day;
    for (at, line) in rows {
        let today = at.local(wall).day;
        if std::mem::replace(&mut day, today) != today {
            lines.push("-- next day --".to_owned());
        }
        lines.push(line.trim_end().to_owned());
    }
    if bars {
        let [hands, wait, oven, heat] = glyphs.all();
        lines.push(format!(
            "{hands} hands   {wait} waiting   {oven} in the oven   {heat} oven getting hot"
        ));
    }
    lines.extend(oven_in_turn(plan, wall));
    for sentence in say_doubts(plan) {
        lines.extend(wrapped(&sentence, width));
    }
    lines
        .into_iter()
        .map(|line| line.chars().take(width).collect())
        .collect()
}

/// Where dishes want the oven at different heats: which has it when.
fn oven_in_turn(plan: &Plan, wall: &Wall) -> Vec<String> {
    if plan.kitchen.ovens > 1 {
        return Vec::new();
    }
    let mut uses: Vec<(usize, f64, Minute, Minute)> = Vec::new();
    for block in &plan.blocks {
        let dish = block.id.dish;
        let Some(heat) = plan
            .set_to(block)
            .filter(|_| block.id.part != BlockPart::Preheat)
        else {
            continue;
        };
        match uses.last_mut() {
            // The dish keeps the oven, or has lit it for this.
            Some(before) if before.0 == dish && before.1 == heat => before.3 = block.end,
            _ => uses.push((dish, heat, block.start, block.end)),
        }
    }
    if uses.windows(2).all(|pair| pair[0].1 == pair[1].1) {
        return Vec::new();
    }
    let each = uses.iter().map(|(dish, heat, from, to)| {
        let (from, to) = (from.local(wall).clock(), to.local(wall).clock());
        let name = plan.dishes.get(*dish).map_or("", |dish| dish.name.as_str());
        format!("{from} to {to}  {heat:.0} C  {name}")
    });
    std::iter::once("One oven, each heat in its turn:".to_owned())
        .chain(each)
        .collect()
}

/// What stands for a dish where there are several.
fn letter(dish: usize) -> char {
    char::from(b'A' + u8::try_from(dish % 26).unwrap_or(0))
}

/// `19:30`, and on another day than the wall clock's `19:30 on Thu 26 Nov`.
fn dated(at: Minute, wall: &Wall) -> String {
    let local = at.local(wall);
    let date = DateTime::from_timestamp(local.day.saturating_mul(86_400), 0);
    match date.filter(|_| local.day != Minute::of(wall).local(wall).day) {
        Some(date) => format!("{} on {}", local.clock(), date.format("%a %-d %b")),
        None => local.clock(),
    }
}

fn row_words(plan: &Plan, block: &Block) -> String {
    match (block.id.part, plan.set_to(block)) {
        (BlockPart::Preheat, Some(heat)) => format!("Light the oven, {heat:.0} C"),
        (BlockPart::Preheat, None) => "Light the oven".to_owned(),
        (BlockPart::Hands, _) => block.title.clone(),
        (BlockPart::Wait, _) => {
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
