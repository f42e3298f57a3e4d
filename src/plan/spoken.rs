//! The plan in words, as a person at the bench would say it.

use super::error::PlanError;
use super::minute::Minute;
use super::replan::Change;
use super::schedule::{Block, Part, Plan};
use crate::bench::Wall;
use crate::measure::Span;
use crate::measure::say;
use crate::measure::words::capital;
use crate::understand::numbers::{say_clock, say_duration};
use crate::understand::{ClockTime, HalfDay};

const WEEKDAYS: [&str; 7] = [
    "Thursday",
    "Friday",
    "Saturday",
    "Sunday",
    "Monday",
    "Tuesday",
    "Wednesday",
];

/// A time as it is said now: `five past three` within twelve hours, then `five past three in the afternoon`,
/// `seven o'clock tomorrow morning`, `noon on Saturday`.
pub fn say_time(at: Minute, wall: &Wall) -> String {
    let now = Minute::of(wall);
    let (here, today) = (at.local(wall), now.local(wall));
    let clock = |half| {
        say_clock(ClockTime {
            hour: here.hour,
            minute: here.minute,
            half,
        })
    };
    let sharp = here.minute == 0 && here.hour.is_multiple_of(12);
    let soon = (0..720).contains(&at.since(now));
    if soon && !sharp {
        return clock(HalfDay::Unsaid);
    }
    let said = clock(HalfDay::Said);
    match here.day - today.day {
        _ if soon => said,
        0 => said,
        1 if sharp => format!("{said} tomorrow"),
        1 => said.replace(" in the ", " tomorrow "),
        _ => {
            let weekday = WEEKDAYS[usize::try_from(here.day.rem_euclid(7)).unwrap_or(0)];
            format!("{said} on {weekday}")
        }
    }
}

/// When to start: 'Start weighing at five past three.'
pub fn say_start(plan: &Plan, wall: &Wall) -> String {
    let mut firsts: Vec<&Block> = (0..plan.dishes.len())
        .filter_map(|dish| {
            plan.blocks
                .iter()
                .find(|b| b.id.dish == dish && b.id.part != Part::Preheat)
        })
        .collect();
    firsts.sort_by_key(|b| b.start);
    let mut sentences: Vec<String> = Vec::new();
    if let Some(oven) = plan
        .blocks
        .iter()
        .find(|b| firsts.first().is_some_and(|first| b.start < first.start))
    {
        let what = what(plan, oven);
        sentences.push(sentence(&format!(
            "{what} at {}",
            say_time(oven.start, wall)
        )));
    }
    for first in firsts {
        let time = say_time(first.start, wall);
        let dish = of_dish(plan, first, "for");
        sentences.push(if first.weigh_up {
            format!("Start weighing{dish} at {time}.")
        } else {
            format!("Start{dish} at {time}: {}.", small(&first.title))
        });
    }
    sentences.join(" ")
}

/// What starts next: 'Next, at twenty to six: light the oven, two hundred and twenty degrees.'
pub fn say_next(plan: &Plan, wall: &Wall) -> String {
    let now = Minute::of(wall);
    match plan.next(now) {
        Some(block) => format!(
            "Next, at {}: {}.",
            say_time(block.start, wall),
            what(plan, block)
        ),
        None if plan.ready_at >= now => format!(
            "Nothing more to start: ready at {}.",
            say_time(plan.ready_at, wall)
        ),
        None => "The plan is done.".to_owned(),
    }
}

/// The whole plan: when it is ready, then everything that the cook does.
pub fn say_plan(plan: &Plan, wall: &Wall) -> String {
    let mut sentences = vec![format!("Ready at {}.", say_time(plan.ready_at, wall))];
    sentences.extend(
        plan.blocks
            .iter()
            .filter(|block| is_told(plan, block))
            .map(|block| say_block(plan, block, wall)),
    );
    sentences.join(" ")
}

/// One block: 'At twenty to six, light the oven, two hundred and twenty degrees.'
pub fn say_block(plan: &Plan, block: &Block, wall: &Wall) -> String {
    format!("At {}, {}.", say_time(block.start, wall), what(plan, block))
}

/// Why there is no plan, with what is offered instead: 'That is too soon: ten to eight is the earliest.'
pub fn say_error(error: &PlanError, wall: &Wall) -> String {
    match error {
        PlanError::TooLate { earliest, .. } => {
            // To the next five minutes: nobody sits down at seven forty three.
            let shown = earliest.local(wall).minute;
            let rounded = earliest.plus(i64::from((5 - shown % 5) % 5));
            format!(
                "That is too soon: {} is the earliest.",
                say_time(rounded, wall)
            )
        }
        PlanError::Nothing => "There is nothing to plan.".to_owned(),
        PlanError::NoTimes { name } => {
            format!(
                "The formula for {} gives no times, so I cannot plan it.",
                small(name)
            )
        }
        PlanError::TooLong { name } => {
            format!(
                "{} takes more than thirty days, so I cannot plan it.",
                capital(name)
            )
        }
    }
}

/// What became different, and nothing else.
pub fn say_changes(plan: &Plan, changes: &[Change], wall: &Wall) -> String {
    let mut sentences = Vec::new();
    for dish in 0..plan.dishes.len() {
        for change in changes {
            match change {
                Change::Ends { block, was } if block.id.dish == dish => {
                    let name = block.timer.as_deref().unwrap_or(&block.title);
                    let the = if block.timer.is_some() { "the " } else { "" };
                    sentences.push(sentence(&format!(
                        "{the}{}{} ends at {}, {}",
                        small(name),
                        of_dish(plan, block, "of"),
                        say_time(block.end, wall),
                        later(block.end.since(*was))
                    )));
                }
                _ => {}
            }
        }
        sentences.extend(say_moves(plan, dish, changes, wall));
        for change in changes {
            match change {
                Change::Added { block } if block.id.dish == dish => {
                    sentences.push(say_block(plan, block, wall));
                }
                Change::Dropped { block } if block.id.dish == dish => {
                    sentences.push(format!(
                        "The oven stays hot{}: no need to light it again.",
                        of_dish(plan, block, "for")
                    ));
                }
                _ => {}
            }
        }
    }
    for change in changes {
        if let Change::Ready { at, was } = change {
            sentences.push(format!(
                "Ready at {} instead of {}.",
                say_time(*at, wall),
                say_time(*was, wall)
            ));
        }
    }
    if sentences.is_empty() {
        "The plan stands.".to_owned()
    } else {
        sentences.join(" ")
    }
}

fn say_moves(plan: &Plan, dish: usize, changes: &[Change], wall: &Wall) -> Vec<String> {
    let moves: Vec<(&Block, i64)> = changes
        .iter()
        .filter_map(|change| match change {
            Change::Moved { block, was } if block.id.dish == dish && is_told(plan, block) => {
                Some((block, block.start.since(*was)))
            }
            _ => None,
        })
        .collect();
    match moves.as_slice() {
        [(first, by), .., (_, _)] if moves.iter().all(|(_, each)| each == by) => {
            let mut said = vec![say_move(plan, first, *by, wall, true)];
            // The oven is lit by the clock and not by what is in hand, so that it is said by itself.
            said.extend(
                moves[1..]
                    .iter()
                    .filter(|(block, _)| block.id.part == Part::Preheat)
                    .map(|(block, by)| say_move(plan, block, *by, wall, false)),
            );
            said
        }
        _ => moves
            .iter()
            .map(|(block, by)| say_move(plan, block, *by, wall, false))
            .collect(),
    }
}

fn say_move(plan: &Plan, block: &Block, by: i64, wall: &Wall, rest: bool) -> String {
    let (what, time) = (capital(&what(plan, block)), say_time(block.start, wall));
    match (block.id.part, rest) {
        (Part::Preheat, false) => format!("{what}, at {time}."),
        (Part::Preheat, true) => format!("{what}, at {time}, and the rest {}.", later(by)),
        (_, false) => format!("{what} moves to {time}."),
        (_, true) => format!("{what} moves to {time}, and the rest with it."),
    }
}

/// A wait is told of only where no work of its own step comes before it.
fn is_told(plan: &Plan, block: &Block) -> bool {
    block.id.part != Part::Wait
        || plan.items[block.id.dish]
            .steps
            .iter()
            .any(|step| step.step == block.id.step && step.hands == 0)
}

/// What to do in a block, without its time.
fn what(plan: &Plan, block: &Block) -> String {
    let dish = of_dish(plan, block, "for");
    match block.id.part {
        Part::Preheat => match block.heat_c {
            Some(heat) => format!("light the oven{dish}, {} degrees", say::degrees(heat)),
            None => format!("light the oven{dish}"),
        },
        Part::Hands | Part::Wait => format!("{}{dish}", small(&block.title)),
    }
}

/// ` for the tin loaf` where there are several dishes; nothing where there is one.
fn of_dish(plan: &Plan, block: &Block, word: &str) -> String {
    match plan.dishes.as_slice() {
        [] | [_] => String::new(),
        dishes => dishes.get(block.id.dish).map_or(String::new(), |dish| {
            format!(" {word} the {}", small(&dish.name))
        }),
    }
}

fn later(minutes: i64) -> String {
    let length = say_duration(Span::minutes(minutes.unsigned_abs()));
    let word = if minutes < 0 { "earlier" } else { "later" };
    format!("{length} {word}")
}

/// The first letter small, unless the word is all capitals.
fn small(text: &str) -> String {
    let mut chars = text.chars();
    match (chars.next(), chars.clone().next()) {
        (Some(first), second) if !second.is_some_and(char::is_uppercase) => {
            first.to_lowercase().collect::<String>() + chars.as_str()
        }
        _ => text.to_owned(),
    }
}

fn sentence(text: &str) -> String {
    format!("{}.", capital(text))
}
