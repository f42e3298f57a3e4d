//! What was planned beside what it took, over the last bakes of a formula: a picture in large print.

use chrono::DateTime;

use super::service::length;
use crate::journal::{Bake, Log};
use crate::plan::{Fill, Svg};
use crate::time::Span;

/// So many bakes are shown, the latest last.
const BAKES: usize = 6;
/// Where the words begin, where the bars do, and where the longest of them ends.
const COLUMNS: (f64, f64, f64) = (60.0, 420.0, 1230.0);
const LINE: f64 = 42.0;
const BAR: f64 = 28.0;

/// The picture of the formula that was baked last; nothing where none was.
pub(super) fn picture(log: &Log) -> Option<String> {
    let name = &log.bakes.last()?.account.bake;
    let mut bakes: Vec<&Bake> = log
        .bakes
        .iter()
        .rev()
        .filter(|b| b.account.bake == *name)
        .take(BAKES)
        .collect();
    bakes.reverse();
    let mut titles: Vec<(&str, Span)> = Vec::new();
    for step in bakes.iter().rev().flat_map(|b| &b.account.steps) {
        if titles.iter().all(|(title, _)| *title != step.title) {
            titles.push((&step.title, step.planned));
        }
    }
    let of_step = |title: &str| {
        let all = bakes.iter().map(|b| (*b, b.account.steps.iter()));
        all.filter_map(|(b, mut steps)| Some((b, steps.find(|s| s.title == title)?)))
            .collect::<Vec<_>>()
    };
    let longest = titles
        .iter()
        .flat_map(|(title, planned)| {
            let took = of_step(title).into_iter().map(|(_, s)| s.took);
            took.chain([*planned])
        })
        .map(Span::as_millis)
        .max()?
        .max(1);
    let (words, bars, end) = COLUMNS;
    let wide = |span: Span| (end - bars) * span.as_millis() as f64 / longest as f64;
    let mut svg = Svg::new(1500.0);
    let title = format!("{name}: planned and real times of the last bakes");
    let mut told = Vec::new();
    let mut y = 60.0;
    for line in Svg::lines(&title, 1440.0) {
        svg.words(30.0, y, true, &line);
        y += LINE;
    }
    let row = |svg: &mut Svg, y: &mut f64, words_: &str, span: Span, fill: Fill| {
        svg.words(words, *y + BAR, false, words_);
        svg.bar(bars, *y + 4.0, wide(span), BAR, fill);
        svg.words(bars + wide(span) + 16.0, *y + BAR, false, &length(span));
        *y += LINE;
    };
    for (title, planned) in &titles {
        y += 16.0;
        for line in Svg::lines(title, 1440.0) {
            svg.words(30.0, y + BAR, true, &line);
            y += LINE;
        }
        row(&mut svg, &mut y, "planned", *planned, Fill::Empty);
        let mut times = Vec::new();
        for (bake, step) in of_step(title) {
            let day = when(bake.began_ms, bake.offset_s)
                .format("%-d %b %Y")
                .to_string();
            row(&mut svg, &mut y, &day, step.took, Fill::Full);
            times.push(format!("{day} {}", length(step.took)));
        }
        told.push(format!(
            "{title}: planned {}, {}.",
            length(*planned),
            times.join(", ")
        ));
    }
    svg.legend(&[
        (Fill::Empty, "as the formula says"),
        (Fill::Full, "as it was"),
    ]);
    Some(svg.finish(&title, &told.join(" ")))
}

/// When something was done, by the clock of that kitchen.
pub(super) fn when(at_ms: i64, offset_s: i32) -> DateTime<chrono::FixedOffset> {
    let offset = chrono::FixedOffset::east_opt(offset_s);
    let utc = DateTime::from_timestamp_millis(at_ms).unwrap_or_default();
    match offset {
        Some(offset) => utc.with_timezone(&offset),
        None => utc.fixed_offset(),
    }
}
