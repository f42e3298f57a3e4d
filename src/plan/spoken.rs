//! The plan in words, as a person at the bench would say it.

use super::error::PlanError;
use super::plan::{Block, BlockId, BlockPart, Plan};
use super::replan::Change;
use crate::measure::say;
use crate::measure::spoken_time::{say_clock, say_duration};
use crate::measure::words::{capital, cardinal};
use crate::time::{ClockTime, HalfDay, Minute, Span, Wall};

/// Told of a plan that is not proven to be the best.
pub const UNPROVEN: &str = "This may not be the best order: I could not try them all.";

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
                .find(|b| b.id.dish == dish && b.id.part != BlockPart::Preheat)
        })
        .collect();
    firsts.sort_by_key(|b| b.start);
    let mut sentences: Vec<String> = Vec::new();
    if let Some(oven) = plan
        .blocks
        .iter()
        .find(|b| firsts.first().is_some_and(|first| b.start < first.start))
    {
        let what = say_what(plan, oven);
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
pub fn say_next(plan: &Plan, wall: &Wall, running: Option<BlockId>) -> String {
    let now = Minute::of(wall);
    match plan.next(now, running) {
        Some(block) => format!(
            "Next, at {}: {}.",
            say_time(block.start, wall),
            say_what(plan, block)
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
    sentences.extend(say_doubts(plan));
    sentences.join(" ")
}

/// What a cook should know before believing a plan; nothing where it keeps everything and is the best.
pub fn say_doubts(plan: &Plan) -> Vec<String> {
    let mut sentences = Vec::new();
    if plan.waived.sleep {
        sentences.push("You would have to get up at night for this.".to_owned());
    }
    sentences.extend(
        plan.kept_hot()
            .into_iter()
            .map(|(dish, stood)| say_kept_hot(plan, dish, stood)),
    );
    if !plan.proven {
        sentences.push(UNPROVEN.to_owned());
    }
    sentences
}

/// What a hot dish that is ready so many minutes before the rest wants: 'Keep the soup hot for twenty minutes, at sixty three
/// degrees or more. It stays good for forty five.'
pub fn say_kept_hot(plan: &Plan, dish: usize, stood: i64) -> String {
    let name = small(&plan.dishes[dish].name);
    let long = |minutes: i64| say_duration(Span::minutes(minutes.unsigned_abs()));
    let stands = long(stood);
    match plan.items[dish].keeps {
        Some(keeps) if stood > keeps => format!(
            "The {name} would have to stand hot for {stands}, longer than is good: bring it cold, or leave it out."
        ),
        keeps => {
            let hot = plan.kitchen.hold_hot;
            let at = hot.map_or(String::new(), |hot| format!(", {}", hot.say()));
            let good = keeps.map_or(String::new(), |keeps| {
                format!(" It stays good for {}.", long(keeps))
            });
            format!("Keep the {name} hot for {stands}{at}.{good}")
        }
    }
}

/// One block: 'At twenty to six, light the oven, two hundred and twenty degrees.'
pub fn say_block(plan: &Plan, block: &Block, wall: &Wall) -> String {
    format!(
        "At {}, {}.",
        say_time(block.start, wall),
        say_what(plan, block)
    )
}

/// Why there is no plan, with what is offered instead: 'That is too soon: ten to eight is the earliest.'
pub fn say_error(error: &PlanError, wall: &Wall) -> String {
    match error {
        PlanError::TooLate { earliest, .. } => say_too_soon(*earliest, "", wall),
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

/// That an hour is too soon: 'That is too soon for the custard: ten to eight is the earliest.' `whose` is what it is too soon
/// for, or nothing.
pub fn say_too_soon(earliest: Minute, whose: &str, wall: &Wall) -> String {
    let earliest = say_time(earliest.to_five(wall), wall);
    let whose = match whose {
        "" => String::new(),
        whose => format!(" for {whose}"),
    };
    format!("That is too soon{whose}: {earliest} is the earliest.")
}

/// What became different, and nothing else: 'Everything from the oven on is fifteen minutes later: on the table at ten
/// to eight.'
pub fn say_changes(plan: &Plan, changes: &[Change], wall: &Wall) -> String {
    let mut moves: Vec<(&Block, i64)> = Vec::new();
    let mut sentences = Vec::new();
    let mut table = None;
    for change in changes {
        match change {
            Change::Moved { block, was } if is_told(plan, block) => {
                moves.push((block, block.start.since(*was)));
            }
            Change::Added { block } => sentences.push(say_block(plan, block, wall)),
            Change::Dropped { block } => sentences.push(format!(
                "The oven stays hot{}: no need to light it again.",
                of_dish(plan, block, "for")
            )),
            Change::Ready { at, was } => table = Some((say_time(*at, wall), at.since(*was))),
            Change::Moved { .. } | Change::Ends { .. } => {}
        }
    }
    let at_table = match &table {
        Some((time, _)) => format!("on the table at {time}"),
        None => format!("still on the table at {}", say_time(plan.ready_at, wall)),
    };
    moves.sort_by_key(|(block, _)| block.start);
    match (moves.as_slice(), table) {
        ([], Some((_, by))) => sentences.insert(0, sentence(&format!("{at_table}, {}", later(by)))),
        ([], None) => {}
        ([(first, by), ..], _) if moves.iter().all(|(_, each)| each == by) => sentences.insert(
            0,
            format!(
                "Everything from {} on is {}: {at_table}.",
                doing(plan, first),
                later(*by)
            ),
        ),
        // What comes first matters now; the rest is told when it comes.
        ([(first, _), rest @ ..], _) => {
            let more = match rest.len() {
                0 => String::new(),
                1 => ", and one more thing moves".to_owned(),
                n => format!(", and {} more things move", cardinal(n as u64)),
            };
            let moved = capital(&thing(plan, first));
            let when = say_time(first.start, wall);
            sentences.push(format!("{moved} is now at {when}{more}."));
            sentences.push(sentence(&at_table));
        }
    }
    if sentences.is_empty() {
        "The plan stands.".to_owned()
    } else {
        sentences.join(" ")
    }
}

/// A block as a thing that moves: `the oven`, `step five, shape`, `step five of the loaf`.
pub(super) fn thing(plan: &Plan, block: &Block) -> String {
    if block.id.part == BlockPart::Preheat {
        return format!("the oven{}", of_dish(plan, block, "for"));
    }
    let step = cardinal(block.id.step as u64 + 1);
    match of_dish(plan, block, "of").as_str() {
        "" => format!("step {step}, {}", small(&block.title)),
        dish => format!("step {step}{dish}"),
    }
}

/// What a cook does, as it is said of the deed: 'weigh', and 'weighing' of it.
const DEEDS: &[&str] = &[
    "weigh", "mix", "knead", "shape", "fold", "fry", "boil", "simmer", "roast", "grill", "steam",
    "poach", "stew", "braise", "brown", "soften", "sweat", "toast", "whisk", "beat", "cream",
    "rub", "roll", "cut", "chop", "slice", "dice", "peel", "grate", "season", "stuff", "fill",
    "line", "grease", "dust", "glaze", "brush", "drain", "rinse", "wash", "soak", "warm", "heat",
    "melt", "stir", "pour", "make", "cook", "bake", "mash", "blend", "strain", "whip", "sear",
    "carve", "serve", "turn", "divide", "preshape", "laminate", "score", "spread", "layer",
    "assemble", "build", "prepare", "put", "lay", "set", "finish", "dress", "toss", "feed",
    "scale", "light",
];
/// Deeds whose last letter is doubled before 'ing'.
const DOUBLED: [&str; 7] = ["cut", "chop", "rub", "stir", "whip", "put", "set"];

/// A deed in going on: 'weigh the flour' as 'weighing the flour'; nothing of what is no deed.
fn going_on(title: &str) -> Option<String> {
    let (first, rest) = match title.split_once(' ') {
        Some((first, rest)) => (first, format!(" {rest}")),
        None => (title, String::new()),
    };
    if !DEEDS.contains(&first) {
        return None;
    }
    let stem = match first.strip_suffix('e') {
        _ if DOUBLED.contains(&first) => format!("{first}{}", &first[first.len() - 1..]),
        Some(stem) => stem.to_owned(),
        None => first.to_owned(),
    };
    Some(format!("{stem}ing{rest}"))
}

/// A block as what goes on from it: `frying the rice`, `weighing the flour for the loaf`, `the second rise`.
fn doing(plan: &Plan, block: &Block) -> String {
    if block.id.part == BlockPart::Preheat {
        return thing(plan, block);
    }
    let title = small(&block.title);
    match going_on(&title) {
        // A deed alone is done to the dish.
        Some(deed) if !deed.contains(' ') => format!("{deed}{}", of_dish(plan, block, "")),
        Some(deed) => format!("{deed}{}", of_dish(plan, block, "for")),
        None => format!("the {title}{}", of_dish(plan, block, "for")),
    }
}

/// A wait is told of only where no work of its own step comes before it.
fn is_told(plan: &Plan, block: &Block) -> bool {
    block.id.part != BlockPart::Wait
        || plan.items[block.id.dish]
            .steps
            .iter()
            .any(|step| step.step == block.id.step && step.hands == 0)
}

/// What to do in a block, without its time: 'light the oven, two hundred and twenty degrees'.
pub fn say_what(plan: &Plan, block: &Block) -> String {
    let dish = of_dish(plan, block, "for");
    let who = plan.who(block);
    match block.id.part {
        BlockPart::Preheat => {
            let oven = who.unwrap_or_else(|| "the oven".to_owned());
            match plan.set_to(block) {
                Some(heat) => format!("light {oven}{dish}, {} degrees", say::degrees(heat)),
                None => format!("light {oven}{dish}"),
            }
        }
        BlockPart::Hands => {
            let who = who.map_or(String::new(), |who| format!(", {who}"));
            format!("{}{dish}{who}", small(&block.title))
        }
        BlockPart::Wait => format!("{}{dish}", small(&block.title)),
    }
}

/// ` for the tin loaf` where there are several dishes; nothing where there is one.
fn of_dish(plan: &Plan, block: &Block, word: &str) -> String {
    match plan.dishes.as_slice() {
        [] | [_] => String::new(),
        dishes => dishes.get(block.id.dish).map_or(String::new(), |dish| {
            let word = if word.is_empty() {
                String::new()
            } else {
                format!(" {word}")
            };
            format!("{word} the {}", small(&dish.name))
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
