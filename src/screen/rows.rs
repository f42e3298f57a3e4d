//! The screen as rows of text with their roles: what is shown where, worked out for any size before anything is drawn.

use super::glyphs;
use super::theme::Role;
use crate::bench::{Big, DishView, Listening, Pouring, TimerState, TimerView, View};

/// One row of the screen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// Its text, as wide as the screen at most.
    pub text: String,
    /// What it is for.
    pub role: Role,
}

/// Rows that the big thing needs: a line of large letters and the line under it.
const BIG_LEAST: usize = 6;

fn row(text: impl Into<String>, role: Role) -> Row {
    Row {
        text: text.into(),
        role,
    }
}

fn width(text: &str) -> usize {
    ratatui::text::Span::raw(text).width()
}

/// Cuts a text to a width between words, with a mark where something is missing; a word longer than that is cut itself.
fn cut(text: &str, columns: usize) -> String {
    if width(text) <= columns {
        return text.to_owned();
    }
    let mut out = String::new();
    for c in text.chars() {
        if width(&out) + width(c.encode_utf8(&mut [0; 4])) + 1 > columns {
            break;
        }
        out.push(c);
    }
    if !text[out.len()..].starts_with(' ')
        && let Some((whole, _)) = out.trim_end().rsplit_once(' ')
        && !whole.trim().is_empty()
    {
        out.truncate(whole.trim_end().len());
    }
    if columns > 0 {
        out.push('…');
    }
    out
}

/// Marks the end of a line as not the end of the text.
fn cut_short(text: &str, columns: usize) -> String {
    let room = columns.saturating_sub(2);
    let kept = if width(text) <= room {
        text.to_owned()
    } else {
        cut(text, room)
    };
    cut(&format!("{} …", kept.trim_end_matches('…')), columns)
}

/// Breaks a text into lines between words; a word longer than a line is cut.
fn wrap(text: &str, columns: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if width(line) + 1 + width(word) <= columns => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(cut(word, columns)),
        }
    }
    lines
}

fn centred(text: &str, columns: usize, of: usize) -> String {
    format!("{}{text}", " ".repeat(columns.saturating_sub(of) / 2))
}

/// `12:34`, `1:02:03`; a timer that is over counts up.
fn clock(left_ms: i64) -> String {
    // Rounded so that a timer of ten minutes begins as 10:00 and reads 0:00 only when it is due.
    let s = if left_ms >= 0 {
        left_ms.saturating_add(999) / 1000
    } else {
        left_ms.saturating_neg() / 1000
    };
    if s >= 3600 {
        format!("{}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60)
    } else {
        format!("{}:{:02}", s / 60, s % 60)
    }
}

/// A timer as one line: `12:30  first rise`, `over 4:05  oven, RINGING`.
pub fn timer_line(name: &str, left_ms: i64, state: TimerState) -> String {
    let clock = clock(left_ms);
    match state {
        TimerState::Running => format!("{clock}  {name}"),
        TimerState::Paused => format!("{clock}  {name}, held"),
        TimerState::Ringing => format!("over {clock}  {name}, RINGING"),
        TimerState::Over => format!("over {clock}  {name}"),
    }
}

fn timer_role(timer: &TimerView) -> Role {
    if timer.state == TimerState::Ringing {
        Role::Alarm
    } else {
        Role::Timer
    }
}

fn timer_row(timer: &TimerView, columns: usize) -> Row {
    row(
        cut(
            &timer_line(&timer.name, timer.left_ms, timer.state),
            columns,
        ),
        timer_role(timer),
    )
}

/// Timers side by side in large letters, with their names below; and how many of them found room.
fn large_timers(timers: &[TimerView], columns: usize, size: usize) -> (Vec<Row>, usize) {
    let (mut clocks, mut names, mut used, mut shown) = (Vec::<String>::new(), String::new(), 0, 0);
    for timer in timers {
        let mut time = clock(timer.left_ms);
        if timer.left_ms < 0 {
            time.insert(0, '+');
        }
        let name = match timer.state {
            TimerState::Paused => format!("{}, held", timer.name),
            TimerState::Over => format!("{}, over", timer.name),
            _ => timer.name.clone(),
        };
        let art = glyphs::lines(&time, size);
        let wide = glyphs::measure(&time, size).0.max(width(&name));
        let gap = if used == 0 { 0 } else { 4 };
        if used + gap + wide > columns {
            break;
        }
        clocks.resize(art.len().max(clocks.len()), String::new());
        for (line, piece) in clocks.iter_mut().zip(&art) {
            let pad = (used + gap).saturating_sub(width(line));
            line.push_str(&" ".repeat(pad));
            line.push_str(piece);
        }
        let pad = (used + gap).saturating_sub(width(&names));
        names.push_str(&" ".repeat(pad));
        names.push_str(&name);
        used += gap + wide;
        shown += 1;
    }
    if shown == 0 {
        return (Vec::new(), 0);
    }
    clocks.push(names);
    (
        clocks.into_iter().map(|l| row(l, Role::Timer)).collect(),
        shown,
    )
}

/// A text in large letters over as many lines as it needs, as large as fits. Amounts and times are never broken.
fn large(text: &str, columns: usize, rows: usize) -> Option<(usize, Vec<String>)> {
    if !glyphs::drawable(text) {
        return None;
    }
    let whole = text.bytes().any(|b| b.is_ascii_digit());
    for size in (1..=rows).rev() {
        let fits = |t: &str| glyphs::measure(t, size).0 <= columns;
        let mut broken: Vec<String> = Vec::new();
        for word in text.split_whitespace() {
            match broken.last_mut() {
                Some(line) if whole || fits(&format!("{line} {word}")) => {
                    line.push(' ');
                    line.push_str(word);
                }
                _ => broken.push(word.to_owned()),
            }
        }
        let high: usize = broken.iter().map(|l| glyphs::measure(l, size).1).sum();
        if broken.iter().all(|l| fits(l)) && high + broken.len() - 1 <= rows {
            return Some((size, broken));
        }
    }
    None
}

fn large_rows(size: usize, broken: &[String], columns: usize) -> Vec<Row> {
    let mut out = Vec::new();
    for (i, text) in broken.iter().enumerate() {
        if i > 0 {
            out.push(row("", Role::Big));
        }
        let wide = glyphs::measure(text, size).0;
        out.extend(
            glyphs::lines(text, size)
                .iter()
                .map(|l| row(centred(l, columns, wide), Role::Big)),
        );
    }
    out
}

/// The one big thing in at most so many rows.
fn big(big: &Big, columns: usize, rows: usize) -> Vec<Row> {
    let plain = |text: &str, rows: usize| -> Vec<Row> {
        wrap(text, columns)
            .into_iter()
            .take(rows)
            .map(|l| row(centred(&l, columns, width(&l)), Role::Big))
            .collect()
    };
    let margin = columns.saturating_sub(2);
    let under_rows = usize::from(!big.under.is_empty() && rows > 1);
    let Some((size, broken)) = large(&big.main, margin, rows - under_rows.min(rows)) else {
        let mut out = plain(&big.main, rows - under_rows.min(rows));
        out.extend(plain(&big.under, rows - out.len().min(rows)));
        return out;
    };
    // Large words under a large amount where there is room for both; the amount gives way by no more than a third.
    if under_rows > 0 {
        for main_rows in (rows * 2 / 5..=rows * 3 / 4).rev() {
            let main = large(&big.main, margin, main_rows);
            let under = large(&big.under, margin, rows.saturating_sub(main_rows + 1));
            if let (Some((m, main)), Some((u, under))) = (main, under)
                && m * 3 >= size * 2
                && u <= m
            {
                let mut out = large_rows(m, &main, columns);
                out.push(row("", Role::Big));
                out.extend(large_rows(u, &under, columns));
                return out;
            }
        }
    }
    let mut out = large_rows(size, &broken, columns);
    if under_rows > 0 {
        out.extend(plain(&big.under, rows - out.len().min(rows)));
    }
    out
}

/// Where nothing is to be weighed and no alarm rings, what is left on the next timer is the big thing.
fn big_timer(view: &View) -> Option<usize> {
    if !view.big.under.is_empty() {
        return None;
    }
    view.timers
        .iter()
        .position(|t| t.state == TimerState::Running)
}

/// Hints side by side, over at most so many rows; one longer than a row takes several, and is shown whole or not at all.
fn hints(view: &View, columns: usize, rows: usize) -> Vec<Row> {
    let mut lines: Vec<String> = Vec::new();
    for (key, what) in &view.keys {
        let hint = format!("[{key}] {what}");
        match lines.last_mut() {
            Some(line) if width(line) + 2 + width(&hint) <= columns => {
                line.push_str("  ");
                line.push_str(&hint);
            }
            _ => {
                let broken = wrap(&hint, columns);
                if lines.len() + broken.len() > rows {
                    break;
                }
                lines.extend(broken);
            }
        }
    }
    lines.into_iter().map(|l| row(l, Role::Help)).collect()
}

fn head(view: &View, columns: usize) -> Row {
    let place = if view.step == 0 {
        format!("{} steps", view.steps)
    } else {
        format!("step {} of {}", view.step, view.steps)
    };
    let scale = if view.scale.is_empty() {
        String::new()
    } else {
        format!(", {}", view.scale)
    };
    let ready = if view.ready.is_empty() {
        String::new()
    } else {
        format!("  table {}", view.ready)
    };
    let line = format!("{}{ready}  {place}  {}{scale}", view.clock, view.formula);
    row(cut(&line, columns), Role::Text)
}

fn listening(view: &View, columns: usize) -> Row {
    let state = match view.listening {
        Listening::Name => "(.) say the name",
        Listening::Yes => "(o) listening",
        Listening::Off => "(-) not listening",
        Listening::Deaf => "(x) keys only",
    };
    let heard = match &view.heard {
        Some((text, true)) => format!("   heard: {text}"),
        Some((text, false)) => format!("   not understood: {text}"),
        None => String::new(),
    };
    row(cut(&format!("{state}{heard}"), columns), Role::Text)
}

/// How far what is poured has come, over the whole width.
fn bar(pouring: Pouring, columns: usize) -> String {
    let share = (pouring.grams / pouring.wanted).clamp(0.0, 1.0);
    let full = (share * columns as f64).floor() as usize;
    format!(
        "{}{}",
        "\u{2588}".repeat(full),
        "\u{2591}".repeat(columns - full)
    )
}

/// The step's text and what is weighed in it.
fn step(view: &View, big: &Big, columns: usize, rows: usize) -> Vec<Row> {
    let mut lines = Vec::new();
    if let Some(pouring) = view.pouring {
        lines.push(bar(pouring, columns));
    }
    if rows > 2 && !view.title.is_empty() && view.title != big.main {
        lines.push(cut(&view.title, columns));
    }
    lines.extend(wrap(&view.text, columns));
    for (name, amount, added) in &view.weighing {
        let mark = if *added { "[in]" } else { "[  ]" };
        lines.push(cut(&format!("{mark} {amount}  {name}"), columns));
    }
    if lines.len() > rows {
        lines.truncate(rows);
        if let Some(last) = lines.last_mut() {
            *last = cut_short(last, columns);
        }
    }
    lines.into_iter().map(|l| row(l, Role::Text)).collect()
}

/// `soup: simmer, wants you 18:20`.
fn dish_row(dish: &DishView, columns: usize) -> Row {
    let (role, wants) = match dish.wants.as_str() {
        "" => (Role::Text, String::new()),
        "NOW" => (Role::Alarm, ", wants you NOW".to_owned()),
        "in hand" => (Role::Text, ", in hand".to_owned()),
        when => (Role::Text, format!(", wants you {when}")),
    };
    let line = format!("{}: {}{wants}", dish.name, dish.doing);
    row(cut(&line, columns), role)
}

/// A sentence behind a mark, over at most so many rows; cut where it is longer.
fn sentence(mark: &str, text: &str, columns: usize, most: usize, role: Role) -> Vec<Row> {
    let mut lines = wrap(&format!("{mark}{text}"), columns);
    if lines.len() > most {
        lines.truncate(most);
        if let Some(last) = lines.last_mut() {
            *last = cut_short(last, columns);
        }
    }
    lines.into_iter().map(|l| row(l, role)).collect()
}

/// Takes from `from` what still fits into `left` rows.
fn take(from: Vec<Row>, left: &mut usize) -> Vec<Row> {
    let taken: Vec<Row> = from.into_iter().take(*left).collect();
    *left -= taken.len();
    taken
}

/// The whole screen: as many rows as it is high.
pub fn rows(view: &View, columns: usize, high: usize) -> Vec<Row> {
    let least = BIG_LEAST.min(high.div_ceil(2).max(high.saturating_sub(4)));
    // A tall screen has room for whole sentences.
    let most = match high {
        0..20 => 1,
        20..40 => 3,
        _ => 8,
    };
    let mut left = high - least;
    // In order of what is missed most when there is no room.
    let head = take(vec![head(view, columns)], &mut left);
    let listening = take(vec![listening(view, columns)], &mut left);
    let question = view.question.as_ref().map_or_else(Vec::new, |q| {
        sentence("? ", q, columns, most.max(3), Role::Question)
    });
    let question = take(question, &mut left);
    let choosing = if view.choosing.is_empty() {
        Vec::new()
    } else {
        sentence(
            "list: ",
            &view.choosing,
            columns,
            most.max(2),
            Role::Question,
        )
    };
    let entry = if view.entry.is_empty() {
        choosing
    } else {
        let entered = format!("entering: {}_", view.entry);
        [choosing, vec![row(cut(&entered, columns), Role::Question)]].concat()
    };
    let entry = take(entry, &mut left);
    // Every other dish in one line: what it does, and when it wants the cook.
    let dishes = view.others.iter().map(|dish| dish_row(dish, columns));
    let dishes = take(dishes.collect(), &mut left);
    let mut big_thing = view.big.clone();
    let mut others = view.timers.clone();
    if let Some(at) = big_timer(view) {
        let timer = others.remove(at);
        big_thing = Big {
            main: clock(timer.left_ms),
            under: timer.name,
        };
    }
    let most_timers = match others.len() {
        n if n > 4 && high < 30 => 3,
        n => n,
    };
    let mut timers: Vec<Row> = others
        .iter()
        .take(most_timers)
        .map(|t| timer_row(t, columns))
        .collect();
    if others.len() > most_timers {
        let more = others.len() - most_timers;
        timers.push(row(
            cut(&format!("and {more} more timers"), columns),
            Role::Timer,
        ));
    }
    let mut timers = take(timers, &mut left);
    let troubles = view
        .troubles
        .iter()
        .take(if high < 20 { 1 } else { 3 })
        .flat_map(|t| sentence("! ", t, columns, most.div_ceil(2), Role::Alarm))
        .collect();
    let troubles = take(troubles, &mut left);
    let keys = take(
        hints(view, columns, if high < 20 { 1 } else { most - 1 }),
        &mut left,
    );
    // A question is not shown twice.
    let said = if view.said.is_empty()
        || view
            .question
            .as_ref()
            .is_some_and(|q| view.said.starts_with(q))
    {
        Vec::new()
    } else {
        sentence("said: ", &view.said, columns, most, Role::Text)
    };
    let said = take(said, &mut left);
    // Timers large, where that leaves the big thing its room. A ringing one keeps a row of its own, reversed over the
    // whole width; it is the big thing anyhow.
    let (ringing, quiet): (Vec<_>, Vec<_>) = others
        .into_iter()
        .partition(|t| t.state == TimerState::Ringing);
    for size in [3, 2, 1] {
        let (strip, shown) = large_timers(&quiet, columns, size);
        let small: Vec<Row> = ringing
            .iter()
            .chain(quiet.iter().skip(shown))
            .map(|t| timer_row(t, columns))
            .collect();
        let more = (strip.len() + small.len()).saturating_sub(timers.len());
        if shown > 0 && left >= more + 9 * size {
            left -= more;
            timers = [small, strip].concat();
            break;
        }
    }
    let room = left + least;
    let wanted = step(view, &big_thing, columns, usize::MAX).len();
    let for_step = if room <= BIG_LEAST + 2 {
        0
    } else {
        wanted.min(room * 2 / 5)
    };
    let mut middle = big(&big_thing, columns, room - for_step);
    let free = room.saturating_sub(middle.len());
    let text = step(
        view,
        &big_thing,
        columns,
        free.saturating_sub(usize::from(free > 1)),
    );
    let free = free - text.len().min(free);
    // The big thing stands free where there is room around it.
    let above = if text.is_empty() {
        free / 2
    } else {
        free.min(1)
    };
    let blank = |n: usize| vec![row("", Role::Text); n];
    middle = [
        blank(above),
        middle,
        blank(free.min(above + 1) - above.min(free)),
        text,
    ]
    .concat();
    let mut out = [head, middle].concat();
    let foot = [
        question, entry, dishes, timers, troubles, said, listening, keys,
    ]
    .concat();
    out.extend(blank(high.saturating_sub(out.len() + foot.len())));
    out.extend(foot);
    out.truncate(high);
    out
}
