//! The screen as rows of text with their roles: what is shown where, worked out for any size before anything is drawn.

use super::glyphs;
use super::theme::Role;
use crate::bench::{Big, DishView, ListView, Listening, Pouring, TimerState, TimerView, View};

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

/// So many letters of a text that is cut tell something.
const LEAST_LETTERS: usize = 4;
/// A timer's name under large figures is cut where it is longer than these and the figures.
const NAME_MOST: usize = 24;

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
        let art = glyphs::lines(&time, size);
        let wide = glyphs::measure(&time, size).0.max(NAME_MOST.min(columns));
        let state = match timer.state {
            TimerState::Paused => ", held",
            TimerState::Over => ", over",
            _ => "",
        };
        let name = cut(&timer.name, wide.saturating_sub(width(state)));
        let name = format!("{name}{state}");
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

/// A text in large letters: how large, and how it is broken into lines.
struct Large {
    size: usize,
    lines: Vec<String>,
    /// Blank rows between the lines.
    gap: usize,
}

impl Large {
    fn rows(&self, columns: usize) -> Vec<Row> {
        let mut out = Vec::new();
        for (i, text) in self.lines.iter().enumerate() {
            if i > 0 {
                out.extend(vec![row("", Role::Big); self.gap]);
            }
            let wide = glyphs::measure(text, self.size).0;
            out.extend(
                glyphs::lines(text, self.size)
                    .iter()
                    .map(|l| row(centred(l, columns, wide), Role::Big)),
            );
        }
        out
    }
}

/// A text in large letters over as many lines as it needs, as large as fits. Amounts and times are never broken.
fn large(text: &str, columns: usize, rows: usize) -> Option<Large> {
    if !glyphs::drawable(text) {
        return None;
    }
    let whole = text.bytes().any(|b| b.is_ascii_digit());
    // Lines may touch where there is no room for more, and be shorter where that needs fewer tails below the line.
    let sizes = (1..=rows).rev().map(|size| (size, 1, columns));
    let close = (columns / 2..=columns).rev().map(|columns| (1, 0, columns));
    for (size, gap, columns) in sizes.chain(close) {
        let fits = |t: &str| glyphs::measure(t, size).0 <= columns;
        let mut lines: Vec<String> = Vec::new();
        for word in text.split_whitespace() {
            match lines.last_mut() {
                Some(line) if whole || fits(&format!("{line} {word}")) => {
                    line.push(' ');
                    line.push_str(word);
                }
                _ => lines.push(word.to_owned()),
            }
        }
        let high: usize = lines.iter().map(|l| glyphs::measure(l, size).1).sum();
        if lines.iter().all(|l| fits(l)) && high + (lines.len() - 1) * gap <= rows {
            return Some(Large { size, lines, gap });
        }
    }
    None
}

/// As `large`; a name that fits at no size is cut, with an ellipsis. An amount and a question never are.
fn large_or_cut(text: &str, columns: usize, rows: usize) -> Option<Large> {
    large(text, columns, rows).or_else(|| {
        if text.contains(|c: char| c.is_ascii_digit() || c == '?') {
            return None;
        }
        let letters: Vec<char> = text.chars().collect();
        (LEAST_LETTERS..letters.len()).rev().find_map(|n| {
            let kept: String = letters[..n].iter().collect();
            large(&format!("{}…", kept.trim_end()), columns, rows)
        })
    })
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
    let mut under_rows = usize::from(!big.under.is_empty() && rows > 1);
    // A question that needs every row is asked by itself.
    if big.main.ends_with('?')
        && large(&big.main, margin, rows - under_rows.min(rows)).is_none()
        && large(&big.main, margin, rows).is_some()
    {
        under_rows = 0;
    }
    let Some(main) = large_or_cut(&big.main, margin, rows - under_rows.min(rows)) else {
        let mut out = plain(&big.main, rows - under_rows.min(rows));
        out.extend(plain(&big.under, rows - out.len().min(rows)));
        return out;
    };
    // Large words under a large amount where there is room for both; the amount gives way by no more than a third.
    if under_rows > 0 {
        for main_rows in (rows * 2 / 5..=rows * 3 / 4).rev() {
            let smaller = large(&big.main, margin, main_rows);
            let under = large(&big.under, margin, rows.saturating_sub(main_rows + 1));
            if let (Some(smaller), Some(under)) = (smaller, under)
                && smaller.size * 3 >= main.size * 2
                && under.size <= smaller.size
            {
                let mut out = smaller.rows(columns);
                out.push(row("", Role::Big));
                out.extend(under.rows(columns));
                return out;
            }
        }
    }
    let mut out = main.rows(columns);
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

/// Hints side by side in one row, as many as are shown whole.
fn hints(view: &View, columns: usize) -> Vec<Row> {
    let mut line = String::new();
    for (key, what) in view
        .keys
        .iter()
        .filter(|(_, what)| !what.is_empty() && what != "nothing here")
    {
        let gap = if line.is_empty() { "" } else { "  " };
        let hint = format!("{gap}[{key}] {what}");
        if width(&line) + width(&hint) > columns {
            break;
        }
        line.push_str(&hint);
    }
    let any = (!line.is_empty()).then(|| row(line, Role::Help));
    any.into_iter().collect()
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

/// The entries of a list with their numbers, every one of them: in large letters where those fit, else one a row, else side
/// by side. The one that Enter chooses stands out and has a mark.
fn list_rows(list: &ListView, columns: usize, rows: usize) -> Vec<Row> {
    let mark = |at: usize| if at == list.at { '>' } else { ' ' };
    let role = |at: usize| {
        if at == list.at {
            Role::Question
        } else {
            Role::Big
        }
    };
    let title = wrap(list.title.trim_end_matches('.'), columns);
    let title: Vec<Row> = title
        .into_iter()
        .take(2)
        .map(|l| row(l, Role::Big))
        .collect();
    let room = rows.saturating_sub(title.len());
    let entries: Vec<String> = list
        .items
        .iter()
        .enumerate()
        .map(|(at, says)| format!("{} {says}", at + 1))
        .collect();
    let high: usize = entries.iter().map(|e| glyphs::measure(e, 1).1).sum();
    let large = entries
        .iter()
        .all(|e| glyphs::drawable(e) && glyphs::measure(e, 1).0 + 2 <= columns);
    let body: Vec<Vec<Row>> = if large && high <= room {
        let entry = |(at, e): (usize, &String)| {
            let lines = glyphs::lines(e, 1).into_iter().enumerate();
            let lines = lines.map(|(n, l)| {
                let mark = if n == 0 { mark(at) } else { ' ' };
                row(format!("{mark} {l}"), role(at))
            });
            lines.collect()
        };
        entries.iter().enumerate().map(entry).collect()
    } else if entries.len() <= room {
        let line = |(at, e): (usize, &String)| {
            vec![row(cut(&format!("{} {e}", mark(at)), columns), role(at))]
        };
        entries.iter().enumerate().map(line).collect()
    } else {
        vec![side_by_side(&entries, list.at, columns, room)]
    };
    // The entries stand apart where there is room for that.
    let apart = body.iter().map(Vec::len).sum::<usize>() + body.len() <= room;
    let mut out = title;
    // Else the one that Enter chooses is large above the others.
    let free = room.saturating_sub(entries.len() + 1);
    if !apart
        && !large
        && let Some(current) = list.items.get(list.at)
        && let Some(shown) = large_or_cut(current, columns.saturating_sub(2), free)
    {
        let mut shown = shown.rows(columns);
        shown.push(row("", Role::Text));
        out = [shown, out].concat();
    }
    for entry in body {
        if apart {
            out.push(row("", Role::Text));
        }
        out.extend(entry);
    }
    out
}

/// More entries than rows: column after column, each entry cut to its column.
fn side_by_side(entries: &[String], at: usize, columns: usize, rows: usize) -> Vec<Row> {
    let rows = rows.max(1);
    let wide = columns / entries.len().div_ceil(rows).max(1);
    (0..rows.min(entries.len()))
        .map(|y| {
            let cells = entries.iter().enumerate().skip(y).step_by(rows);
            let cells = cells.map(|(n, entry)| {
                let mark = if n == at { '>' } else { ' ' };
                let cell = cut(&format!("{mark}{entry}"), wide.saturating_sub(1));
                let pad = wide.saturating_sub(width(&cell));
                format!("{cell}{}", " ".repeat(pad))
            });
            let role = if at % rows == y {
                Role::Question
            } else {
                Role::Big
            };
            row(cells.collect::<String>().trim_end(), role)
        })
        .collect()
}

/// An alarm, or the question of a look on a small screen, over as much of the screen as can be spared, in its own colours.
fn over_all(view: &View, columns: usize, high: usize, role: Role, foot: Vec<Row>) -> Vec<Row> {
    let room = high.saturating_sub(1 + foot.len());
    let block = big(&view.big, columns, room);
    let above = room.saturating_sub(block.len()) / 2;
    let mut out = vec![head(view, columns)];
    out.extend(vec![row("", role); above]);
    out.extend(block.into_iter().map(|r| row(r.text, role)));
    out.resize(high.saturating_sub(foot.len()), row("", role));
    out.extend(foot);
    out.truncate(high);
    out
}

/// What rings, and what is to be looked at.
fn alarm(view: &View, columns: usize, high: usize) -> Vec<Row> {
    let ringing = view
        .timers
        .iter()
        .filter(|t| t.state == TimerState::Ringing);
    // The newest is the one whose name is large.
    let ringing: Vec<Row> = ringing.rev().map(|t| timer_row(t, columns)).collect();
    let (tall, small) = (high >= 24, high < 10);
    let most = if small { 1 } else { 3 };
    let others = ringing.len().saturating_sub(most);
    let mut foot: Vec<Row> = ringing.into_iter().take(most).collect();
    if others > 0 {
        let more = format!("and {others} more alarms");
        foot.push(row(cut(&more, columns), Role::Alarm));
    }
    if let Some(q) = view.question.as_ref().filter(|q| **q != view.big.under) {
        foot.extend(sentence("? ", q, columns, 2, Role::Question));
    }
    if !small {
        foot.extend(warnings(view, columns, if tall { 3 } else { 1 }));
        foot.extend(view.others.iter().map(|dish| dish_row(dish, columns)));
        foot.push(listening(view, columns));
        foot.extend(hints(view, columns));
    }
    // The large letters keep half of the screen, whatever else there is.
    let least = 1 + BIG_LEAST.max(high / 2);
    foot.truncate(high.saturating_sub(least).max(1));
    over_all(view, columns, high, Role::Alarm, foot)
}

/// Cautions, then what the dish contains, in rows of their own.
fn warnings(view: &View, columns: usize, most: usize) -> Vec<Row> {
    let cautions = view
        .cautions
        .iter()
        .flat_map(|c| sentence("! ", c, columns, most, Role::Caution));
    let mut out: Vec<Row> = cautions.collect();
    if !view.contains.is_empty() {
        out.extend(sentence(
            "! ",
            &view.contains,
            columns,
            most.div_ceil(2),
            Role::Caution,
        ));
    }
    out
}

/// The whole screen: as many rows as it is high.
pub fn rows(view: &View, columns: usize, high: usize) -> Vec<Row> {
    if view.timers.iter().any(|t| t.state == TimerState::Ringing) {
        return alarm(view, columns, high);
    }
    let is_look = view.question.as_ref() == Some(&view.big.main);
    if is_look && high < 20 && view.list.is_none() {
        let foot = hints(view, columns);
        return over_all(view, columns, high, Role::Question, foot);
    }
    let least = match &view.list {
        Some(list) => (list.items.len() + 1)
            .max(BIG_LEAST)
            .min(high.saturating_sub(3)),
        None => BIG_LEAST.min(high.div_ceil(2).max(high.saturating_sub(4))),
    };
    // A tall screen has room for whole sentences.
    let most = match high {
        0..15 => 1,
        15..20 => 2,
        20..40 => 3,
        _ => 8,
    };
    let mut left = high - least;
    // In order of what is missed most when there is no room.
    let head = take(vec![head(view, columns)], &mut left);
    let listening = take(vec![listening(view, columns)], &mut left);
    let question = view.question.as_ref().filter(|q| **q != view.big.main);
    let question = question.map_or_else(Vec::new, |q| {
        sentence("? ", q, columns, most.max(3), Role::Question)
    });
    let question = take(question, &mut left);
    let mut entry = Vec::new();
    if view.list.is_none() && !view.choosing.is_empty() {
        entry = sentence("", &view.choosing, columns, most.max(2), Role::Question);
    }
    if !view.entry.is_empty() {
        entry.push(row(
            cut(&format!("entering: {}_", view.entry), columns),
            Role::Question,
        ));
    }
    let entry = take(entry, &mut left);
    let warnings = match &view.list {
        Some(_) if high < 20 => Vec::new(),
        _ => take(warnings(view, columns, most.max(2)), &mut left),
    };
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
    let keys = take(hints(view, columns), &mut left);
    let missing = view.troubles.join(", ");
    let missing = sentence("", &missing, columns, 1, Role::Help);
    let missing = take(missing, &mut left);
    // A question is not shown twice, nor a list.
    let shown = view.said.is_empty()
        || view.list.is_some()
        || view
            .question
            .as_ref()
            .is_some_and(|q| view.said.contains(q));
    let said = if shown {
        Vec::new()
    } else {
        sentence("said: ", &view.said, columns, most, Role::Text)
    };
    let said = take(said, &mut left);
    // Timers large, where that leaves the big thing its room.
    for size in [3, 2, 1] {
        let (strip, shown) = large_timers(&others, columns, size);
        let small: Vec<Row> = others
            .iter()
            .skip(shown)
            .map(|t| timer_row(t, columns))
            .collect();
        let more = (strip.len() + small.len()).saturating_sub(timers.len());
        if shown > 0 && view.list.is_none() && left >= more + 9 * size {
            left -= more;
            timers = [small, strip].concat();
            break;
        }
    }
    let room = left + least;
    let middle = match &view.list {
        Some(list) => {
            let mut rows = list_rows(list, columns, room);
            rows.truncate(room);
            rows
        }
        None => middle(view, &big_thing, columns, room),
    };
    let mut out = [head, middle].concat();
    let foot = [
        question, entry, warnings, dishes, timers, said, missing, listening, keys,
    ]
    .concat();
    out.resize(
        high.saturating_sub(foot.len()).max(out.len()),
        row("", Role::Text),
    );
    out.extend(foot);
    out.truncate(high);
    out
}

/// The big thing, and the step below it where that leaves room.
fn middle(view: &View, big_thing: &Big, columns: usize, room: usize) -> Vec<Row> {
    let wanted = step(view, big_thing, columns, usize::MAX).len();
    let is_title = big_thing.main == view.title && big_thing.under.is_empty();
    let for_step = match wanted {
        // What is to be done matters more than what it is called.
        n if is_title => n.min(room.saturating_sub(BIG_LEAST - 1)),
        _ if room <= BIG_LEAST + 2 => 0,
        // The whole step, where the big thing keeps half of the room.
        n if n <= room / 2 => n,
        n => n.min(room * 2 / 5),
    };
    let large = big(big_thing, columns, room - for_step);
    let free = room.saturating_sub(large.len());
    let text = step(
        view,
        big_thing,
        columns,
        free.saturating_sub(usize::from(free > wanted)),
    );
    let free = free - text.len().min(free);
    // The big thing stands free where there is room around it.
    let above = if text.is_empty() {
        free / 2
    } else {
        free.min(1)
    };
    let blank = |n: usize| vec![row("", Role::Text); n];
    [
        blank(above),
        large,
        blank(free.min(above + 1) - above.min(free)),
        text,
    ]
    .concat()
}
