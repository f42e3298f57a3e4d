//! The plan as a picture in large print.

use super::plan::{Block, BlockPart, Plan};
use super::spoken::say_plan;
use super::svg::{Fill, LETTER, Svg};
use crate::time::{Minute, Wall};

/// Where the words begin, where the bars do, and where they end.
const COLUMNS: (f64, f64, f64) = (140.0, 660.0, 1470.0);
/// The height of a bar, and from line to line.
const BAR: f64 = 32.0;
const LINE: f64 = 36.0;

/// The plan as SVG: a row for everything that is done, its time before it and its length as a bar after it.
pub fn picture(plan: &Plan, wall: &Wall) -> String {
    let mut svg = Svg::new(1500.0);
    let (words, bars, end) = COLUMNS;
    let clock = |at: Minute| at.local(wall).clock();
    let names: Vec<&str> = plan.dishes.iter().map(|d| d.name.as_str()).collect();
    let title = format!("Ready at {}: {}", clock(plan.ready_at), names.join(", "));
    let mut y = 60.0;
    for line in Svg::lines(&title, end - 30.0) {
        svg.words(30.0, y, true, &line);
        y += LINE;
    }
    let from = plan.start();
    let last = plan.blocks.iter().map(|b| b.end).max();
    let to = last.map_or(plan.ready_at, |last| last.max(plan.ready_at));
    let long = to.since(from).max(1) as f64;
    let x = |at: Minute| bars + (end - bars) * at.since(from) as f64 / long;

    y += 20.0;
    let hours = y;
    y += 20.0;
    let top = y;
    let mut day = from.local(wall).day;
    for row in rows(plan) {
        let today = row.at().local(wall).day;
        if std::mem::replace(&mut day, today) != today {
            y += LINE;
            svg.words(30.0, y, true, "The next day");
            y += 12.0;
        }
        let label = match row {
            Row::Block(block) => label(plan, block),
            Row::Cue(_, say) => format!("- {say}"),
        };
        let lines = Svg::lines(&label, bars - words - 20.0);
        svg.words(30.0, y + LINE, true, &clock(row.at()));
        for (n, line) in lines.iter().enumerate() {
            svg.words(words, y + LINE * (n + 1) as f64, false, line);
        }
        match row {
            Row::Block(block) => {
                let width = x(block.end) - x(block.start);
                svg.bar(x(block.start), y + 8.0, width, BAR, fill(block));
            }
            Row::Cue(at, _) => svg.bar(x(*at), y + 8.0, 0.0, BAR, Fill::Full),
        }
        y += LINE * lines.len().max(1) as f64 + 12.0;
    }
    svg.words(30.0, y + LINE, true, &clock(plan.ready_at));
    svg.words(words, y + LINE, true, "Ready");
    y += LINE + 16.0;
    ruler(&mut svg, from, to, wall, hours, top, y, x);
    if !plan.proven {
        svg.words(30.0, y + LINE, false, super::spoken::UNPROVEN);
    }
    svg.legend(&[
        (Fill::Full, "your hands"),
        (Fill::Empty, "waiting"),
        (Fill::Lines, "in the oven"),
        (Fill::Points, "the oven gets hot"),
    ]);
    svg.finish(&title, &say_plan(plan, wall))
}

/// Something that happens: a block begins, or something is said in it.
#[derive(Clone, Copy)]
enum Row<'a> {
    Block(&'a Block),
    Cue(&'a Minute, &'a str),
}

impl Row<'_> {
    fn at(&self) -> Minute {
        match self {
            Self::Block(block) => block.start,
            Self::Cue(at, _) => **at,
        }
    }
}

/// Everything in order of time.
fn rows(plan: &Plan) -> Vec<Row<'_>> {
    let mut rows: Vec<Row> = plan
        .blocks
        .iter()
        .flat_map(|block| {
            let cues = block.cues.iter().map(|(at, say)| Row::Cue(at, say));
            std::iter::once(Row::Block(block)).chain(cues)
        })
        .collect();
    rows.sort_by_key(Row::at);
    rows
}

fn fill(block: &Block) -> Fill {
    match (block.id.part, block.heat_c.is_some()) {
        (BlockPart::Hands, _) => Fill::Full,
        (BlockPart::Wait, false) => Fill::Empty,
        (BlockPart::Wait, true) => Fill::Lines,
        (BlockPart::Preheat, _) => Fill::Points,
    }
}

fn label(plan: &Plan, block: &Block) -> String {
    let what = match (block.id.part, plan.set_to(block)) {
        (BlockPart::Preheat, Some(heat)) => format!("Light the oven, {heat:.0} \u{b0}C"),
        (BlockPart::Preheat, None) => "Light the oven".to_owned(),
        (BlockPart::Hands, _) => block.title.clone(),
        (BlockPart::Wait, _) => {
            format!("{} (timer)", block.timer.as_deref().unwrap_or(&block.title))
        }
    };
    let whose = plan
        .who(block)
        .map_or(String::new(), |who| format!(" ({who})"));
    match plan.dishes.as_slice() {
        [_] => format!("{what}{whose}"),
        dishes => {
            let dish = dishes.get(block.id.dish).map_or("", |d| d.name.as_str());
            format!("{dish}: {what}{whose}")
        }
    }
}

/// Full hours over the bars, as many as have room, and a line down from each.
#[allow(clippy::too_many_arguments)]
fn ruler(
    svg: &mut Svg,
    from: Minute,
    to: Minute,
    wall: &Wall,
    hours: f64,
    top: f64,
    foot: f64,
    x: impl Fn(Minute) -> f64,
) {
    let room = Svg::width_of("00:00") + 20.0;
    let mut free = 0.0;
    let mut at = from;
    while at <= to {
        let place = x(at);
        let width = Svg::width_of("00:00");
        if at.local(wall).minute == 0 && place >= free && place + width / 2.0 <= 1500.0 {
            svg.words(place - width / 2.0, hours, false, &at.local(wall).clock());
            svg.upright(place, hours + f64::from(LETTER) / 3.0, foot.max(top));
            free = place + room;
        }
        at = at.plus(1);
    }
}
