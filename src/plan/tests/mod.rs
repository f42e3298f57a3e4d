//! Plans against sums by hand, against trying everything, and against a calendar of other hands.

use super::*;
use crate::formula::{Cue, Formula, Makes, Oven, Step, TimerSpec};
use crate::time::{Minute, Span, Wall};

/// 2026-11-25 12:00 UTC.
const NOON: i64 = 1_795_608_000 / 60;

fn utc(now: i64) -> Wall {
    Wall {
        unix_ms: now * 60_000,
        offset_s: 0,
        changes: vec![],
    }
}

fn timer(name: &str, lasts: u64, cues: &[(u64, &str)]) -> TimerSpec {
    TimerSpec {
        name: name.to_owned(),
        lasts: Span::minutes(lasts),
        cues: cues
            .iter()
            .map(|(at, say)| Cue {
                at: Span::minutes(*at),
                left: None,
                say: (*say).to_owned(),
            })
            .collect(),
        ..TimerSpec::default()
    }
}

fn step(title: &str, hands_on: u64, timers: Vec<TimerSpec>, oven_c: Option<f64>) -> Step {
    Step {
        title: title.to_owned(),
        weigh_up: title.starts_with("Weigh"),
        timers,
        hands_on: Span::minutes(hands_on),
        oven_c,
        ..Step::default()
    }
}

fn formula(name: &str, lead: Option<u64>, steps: Vec<Step>) -> Formula {
    Formula {
        name: name.to_owned(),
        makes: Makes {
            portions: 4.0,
            portions_to: None,
            pieces: 1.0,
            piece: "loaf".to_owned(),
            loss_percent: 0.0,
        },
        oven: lead.map(|minutes| Oven {
            heat_c: 220.0,
            lead: Span::minutes(minutes),
        }),
        steps,
        ..Formula::default()
    }
}

fn three_rises() -> Formula {
    formula(
        "Tin loaf",
        Some(10),
        vec![
            step("First rise", 0, vec![timer("first rise", 45, &[])], None),
            step("Second rise", 0, vec![timer("second rise", 30, &[])], None),
            step("Third rise", 0, vec![timer("third rise", 45, &[])], None),
            step(
                "Bake",
                0,
                vec![timer("bake", 20, &[(12, "Turn the tin")])],
                Some(220.0),
            ),
        ],
    )
}

/// `loaf` with work, `soup` with work, one oven for the loaf.
fn loaf() -> Formula {
    formula(
        "Tin loaf",
        Some(25),
        vec![
            step("Weigh the dry things", 4, vec![], None),
            step("Mix", 6, vec![], None),
            step(
                "First rise",
                3,
                vec![timer("first rise", 60, &[(40, "Look at the dough")])],
                None,
            ),
            step("Shape", 8, vec![], None),
            step("Second rise", 1, vec![timer("second rise", 45, &[])], None),
            step(
                "Bake",
                2,
                vec![timer("bake", 35, &[(20, "Turn the tin")])],
                Some(220.0),
            ),
            step("Cool", 2, vec![timer("cooling", 60, &[])], None),
        ],
    )
}

fn soup() -> Formula {
    formula(
        "Autumn soup",
        None,
        vec![
            step("Weigh and cut", 20, vec![], None),
            step(
                "Simmer",
                2,
                vec![timer("soup", 25, &[(12, "Stir the soup")])],
                None,
            ),
            step("Blend", 6, vec![], None),
        ],
    )
}

fn items(formulas: &[Formula]) -> Vec<PlanItem> {
    formulas
        .iter()
        .map(|f| PlanItem::from_formula(f).unwrap())
        .collect()
}

fn clock(at: Minute, wall: &Wall) -> String {
    at.local(wall).clock()
}

mod believed;
mod everything;
mod late;
mod shown;
mod sums;
