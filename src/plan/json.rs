//! The plan as JSON for other programs.

use chrono::{DateTime, FixedOffset, SecondsFormat};
use serde_json::{Value, json};

use super::plan::Plan;
use crate::time::{Minute, Wall};

/// The plan as one JSON object. Times are local, as RFC 3339 writes them: `2026-11-25T15:05:00+01:00`. Steps are
/// numbered from 1, as they are spoken.
pub fn json(plan: &Plan, wall: &Wall) -> Value {
    let time = |at| rfc3339(at, wall);
    json!({
        "ready_at": time(plan.ready_at),
        "wanted_at": time(plan.wanted_at),
        "late_minutes": plan.ready_at.since(plan.wanted_at).max(0),
        "start": time(plan.start()),
        "proven": plan.proven,
        "standing": { "counted": plan.stands.0, "least": plan.stands.1 },
        "up_at_night": plan.waived.sleep,
        "hot_too_long": plan.waived.hot,
        "dishes": plan.dishes.iter().map(|dish| json!({
            "name": dish.name,
            "start": time(dish.start),
            "ready": time(dish.ready),
        })).collect::<Vec<_>>(),
        "blocks": plan.blocks.iter().map(|block| json!({
            "dish": plan.dishes.get(block.id.dish).map(|dish| &dish.name),
            "step": block.id.step + 1,
            "part": block.id.part,
            "title": block.title,
            "timer": block.timer,
            "start": time(block.start),
            "end": time(block.end),
            "minutes": block.end.since(block.start),
            "oven_c": block.heat_c,
            "oven_set_c": plan.set_to(block),
            "who": plan.who(block),
            "cues": block.cues.iter().map(|(at, say)| json!({
                "at": time(*at),
                "say": say,
            })).collect::<Vec<_>>(),
        })).collect::<Vec<_>>(),
    })
}

fn rfc3339(at: Minute, wall: &Wall) -> String {
    let offset = FixedOffset::east_opt(at.local(wall).offset_s);
    match (DateTime::from_timestamp(at.0.saturating_mul(60), 0), offset) {
        (Some(utc), Some(offset)) => utc
            .with_timezone(&offset)
            .to_rfc3339_opts(SecondsFormat::Secs, true),
        (Some(utc), None) => utc.to_rfc3339_opts(SecondsFormat::Secs, true),
        // Beyond what a calendar can write.
        (None, _) => at.0.to_string(),
    }
}
