//! A key path for everything that can be meant: the card, the table in the README and a test come from this one table.

use super::{Key, KeyAnswer, Keypad, Place, sign};
use crate::time::Moment;
use crate::understand::Intent;

/// One way to mean something by key.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct KeyPath {
    /// Which intent, by its full name: `next`, `ask.convert`, `scale.tin`.
    pub intent_name: &'static str,
    /// The strokes from nothing entered, with spaces between: `1 2 *`.
    pub strokes: &'static str,
    /// Where: a name that `example` knows.
    pub place: &'static str,
    /// What it does, for the card.
    pub says: &'static str,
}

const fn path(
    intent_name: &'static str,
    strokes: &'static str,
    place: &'static str,
    says: &'static str,
) -> KeyPath {
    KeyPath {
        intent_name,
        strokes,
        place,
        says,
    }
}

/// Every intent with its strokes. The first path of an intent is the one to learn.
pub const KEY_PATHS: &[KeyPath] = &[
    // What is done with dough on the hands: one or two strokes.
    path("next", "Enter", "at a step", "go on"),
    path("done", "Enter", "weighing", "it is in"),
    path("yes", "Enter", "a question", "yes"),
    path(
        "stop_chime",
        "Enter",
        "an alarm",
        "silence the alarm; any key does",
    ),
    path("repeat", "+", "at a step", "again"),
    path("back", "-", "at a step", "back"),
    path("back", "-", "weighing", "back by one: it is not in"),
    path("not_yet", "-", "a question", "not yet"),
    path("start_offered", "*", "a timer offered", "this step's timer"),
    path("time_left", "*", "a timer runs", "how long is left"),
    path(
        "start_timer",
        "*",
        "at a step",
        "a new timer: it asks how long",
    ),
    path("weigh_next", "/", "weighing", "what goes on the scale"),
    path(
        "how_much",
        "/ Enter",
        "at a step",
        "how much: a list of the ingredients",
    ),
    path("no", "Back", "a question", "no"),
    path("stop_talking", "Back", "at a step", "be silent"),
    // Nought first only tells.
    path(
        "what_next",
        "0 Enter",
        "at a step",
        "what comes next, without going there",
    ),
    path("repeat", "0 +", "at a step", "again, slowly"),
    path("where_am_i", "0 -", "at a step", "where are we"),
    path(
        "time_left",
        "0 *",
        "at a step",
        "how long is left on each timer",
    ),
    path("left_to_add", "0 /", "at a step", "what has not gone in"),
    path(
        "repeat_last",
        "0 3 +",
        "at a step",
        "the last 3 things again",
    ),
    path(
        "time_left",
        "0 2 *",
        "two timers",
        "how long is left on the second timer",
    ),
    path(
        "have_added",
        "0 3 /",
        "at a step",
        "has the third ingredient gone in",
    ),
    // A number first.
    path("go_to_step", "6 Enter", "at a step", "go to step 6"),
    path("start_timer", "1 2 *", "at a step", "a timer of 12 minutes"),
    path("start_timer", "1 2 Enter", "asked how long", "12 minutes"),
    path("add_time", "5 +", "a timer runs", "5 minutes more"),
    path("take_time", "5 -", "a timer runs", "5 minutes less"),
    path("needs_longer", "5 +", "a look", "it needs 5 minutes longer"),
    path(
        "how_much",
        "3 /",
        "at a step",
        "how much of the third ingredient",
    ),
    path(
        "add_time",
        "5 + 2",
        "two timers",
        "5 minutes more for the second timer",
    ),
    path(
        "take_time",
        "5 - Enter",
        "two timers",
        "5 minutes less for the first timer",
    ),
    // The lists.
    path("help", ". 1", "at a step", "what can be done here"),
    path("read_step", ". 2", "at a step", "the whole step"),
    path(
        "have_added",
        ". 3 3 2",
        "at a step",
        "has the third ingredient gone in",
    ),
    path(
        "mark_added",
        ". 3 3 3",
        "at a step",
        "the third ingredient is in",
    ),
    path(
        "unmark_added",
        ". 3 3 4",
        "at a step",
        "the third ingredient is not in after all",
    ),
    path(
        "how_much",
        ". 3 1 5",
        "at a step",
        "half of the first ingredient",
    ),
    path(
        "how_much",
        ". 3 1 7 6",
        "at a step",
        "the first ingredient in ounces",
    ),
    path(
        "next_on_clock",
        ". 4 1",
        "at a step",
        "what is next on the clock",
    ),
    path("tell_time", ". 4 2", "at a step", "what time it is"),
    path(
        "needs_longer",
        ". 4 3 1 0 Enter",
        "at a step",
        "this needs 10 minutes longer",
    ),
    path("when_start", ". 4 4", "at a step", "when to start"),
    path(
        "eat_at",
        ". 4 5 1 9 3 0 Enter",
        "at a step",
        "eat at half past seven in the evening",
    ),
    path("ready_when", ". 4 6", "at a step", "when it is ready"),
    path(
        "time_left",
        ". 5 3 1",
        "a timer runs",
        "how long is left on the first timer",
    ),
    path(
        "add_time",
        ". 5 3 2 5 Enter",
        "a timer runs",
        "5 minutes more for the first timer",
    ),
    path(
        "take_time",
        ". 5 3 3 5 Enter",
        "a timer runs",
        "5 minutes less for the first timer",
    ),
    path(
        "ready_when",
        ". 5 3 4",
        "a timer runs",
        "when the first timer is due",
    ),
    path(
        "pause_timer",
        ". 5 3 5",
        "a timer runs",
        "hold the first timer",
    ),
    path(
        "resume_timer",
        ". 5 3 6",
        "a timer runs",
        "let the first timer run on",
    ),
    path(
        "restart_timer",
        ". 5 3 7",
        "a timer runs",
        "start the first timer again",
    ),
    path(
        "stop_timer",
        ". 5 3 8",
        "a timer runs",
        "stop the first timer",
    ),
    path(
        "rename_timer",
        ". 5 3 9 4",
        "a timer runs",
        "call the first timer 'bake'",
    ),
    path(
        "add_cue",
        ". 5 3 0 1 1 2 Enter 1",
        "a timer runs",
        "after 12 minutes of the first timer: turn the tin",
    ),
    path(
        "start_timer",
        ". 5 1 1 2 Enter 5",
        "at a step",
        "a new timer of 12 minutes called 'bake'",
    ),
    path("stop_all_timers", ". 5 2", "at a step", "stop all timers"),
    path(
        "scale.factor",
        ". 6 1 1 . 5 Enter",
        "at a step",
        "one and a half times the formula",
    ),
    path("scale.portions", ". 6 2 1 2 Enter", "at a step", "for 12"),
    path(
        "scale.flour",
        ". 6 3 9 0 0 Enter",
        "at a step",
        "with 900 grams of flour",
    ),
    path(
        "scale.dough",
        ". 6 4 2 0 0 0 Enter",
        "at a step",
        "2000 grams of dough",
    ),
    path(
        "scale.pieces",
        ". 6 5 4 Enter 2 5 0 Enter",
        "at a step",
        "4 pieces of 250 grams",
    ),
    path(
        "scale.pieces",
        ". 6 0 8 Enter 9 5 Enter",
        "at a step",
        "8 pieces of 95 grams baked",
    ),
    path(
        "scale.limit",
        ". 6 6 1 3 8 0 Enter",
        "at a step",
        "only 380 grams of the first ingredient",
    ),
    path(
        "scale.tin",
        ". 6 7 3 2 0 Enter 3 0 Enter Enter",
        "at a step",
        "a tin of 20 by 30 centimetres",
    ),
    path(
        "scale.hydration",
        ". 6 8 7 0 Enter",
        "at a step",
        "70 percent hydration",
    ),
    path(
        "scale.as_written",
        ". 6 9",
        "at a step",
        "back to the formula as written",
    ),
    path(
        "ask.convert",
        ". 7 1 2 Enter 3 1 1",
        "at a step",
        "2 cups of the first ingredient in grams",
    ),
    path(
        "ask.convert",
        ". 7 7 9 Enter 2",
        "at a step",
        "9 inches in centimetres",
    ),
    path(
        "ask.convert_temperature",
        ". 7 2 2 2 0 Enter 1 2",
        "at a step",
        "220 Celsius in Fahrenheit",
    ),
    path(
        "ask.swap",
        ". 7 3 4 7 Enter",
        "at a step",
        "what to use instead of 7 grams of the fourth ingredient",
    ),
    path(
        "ask.water_temperature",
        ". 7 5 1 2 3 Enter Enter Enter",
        "at a step",
        "water temperature in a room of 23",
    ),
    path(
        "ask.rise_at",
        ". 7 5 2 1 8 Enter Enter",
        "at a step",
        "how long the rise takes at 18 degrees",
    ),
    path(
        "ask.safe_temperature",
        ". 7 6 1 1",
        "at a step",
        "how hot chicken must be inside",
    ),
    path(
        "ask.water_for_flour",
        ". 7 5 3 6 8 Enter 9 0 0 Enter",
        "at a step",
        "water for 900 grams of flour at 68 percent",
    ),
    path(
        "ask.percent_of",
        ". 7 5 4 2 Enter 9 0 0 Enter",
        "at a step",
        "2 percent of 900 grams",
    ),
    path(
        "ask.pieces_from",
        ". 7 5 7 9 5 Enter Enter",
        "at a step",
        "how many pieces of 95 grams",
    ),
    path(
        "ask.mass_of",
        ". 7 4 2 Enter 1",
        "at a step",
        "what 2 eggs weigh",
    ),
    path(
        "ask.percent_is",
        ". 7 5 5 3 6 0 Enter 6 0 0 Enter",
        "at a step",
        "what percent 360 grams is of 600",
    ),
    path(
        "ask.preferment",
        ". 7 5 6 1 3 0 Enter Enter",
        "at a step",
        "a poolish with 30 percent of the flour",
    ),
    path(
        "ask.baked_mass",
        ". 7 5 8 Enter",
        "at a step",
        "what the dough weighs baked",
    ),
    path(
        "ask.dough_for",
        ". 7 5 9 8 0 0 Enter",
        "at a step",
        "how much dough for 800 grams baked",
    ),
    path(
        "ask.friction",
        ". 7 5 0 2 7 Enter 2 0 Enter 2 2 Enter 3 0 Enter Enter",
        "at a step",
        "the mixer's friction: dough 27, flour 20, room 22, water 30",
    ),
    path(
        "ask.safe_time",
        ". 7 6 2 6 5 Enter",
        "at a step",
        "how long at 65 degrees inside is safe",
    ),
    path(
        "ask.keep",
        ". 7 6 6",
        "at a step",
        "how long food can stay out",
    ),
    path(
        "ask.caution",
        ". 7 6 7 1",
        "at a step",
        "what to mind: honey and infants",
    ),
    path(
        "ask.dough_mass",
        ". 7 8 1 8 0 0 Enter 7 2 Enter 2 Enter",
        "at a step",
        "what a dough of 800 grams of flour, 72 percent water and 2 percent salt weighs",
    ),
    path(
        "ask.flour_for",
        ". 7 8 2 3 5 0 Enter 7 0 Enter",
        "at a step",
        "the flour of which 350 grams are 70 percent",
    ),
    path(
        "ask.flour_in_dough",
        ". 7 8 3 1 5 0 0 Enter 6 2 Enter 2 Enter",
        "at a step",
        "the flour in 1500 grams of dough at 62 percent, with 2 percent salt",
    ),
    path(
        "ask.shares",
        ". 7 8 4 6 0 0 Enter 7 0 Enter 2 Enter",
        "at a step",
        "water and salt for 600 grams of flour: 70 and 2 percent",
    ),
    path(
        "ask.more_water",
        ". 7 8 5 5 0 0 Enter 6 5 Enter 7 2 Enter",
        "at a step",
        "the water from 65 to 72 percent for 500 grams of flour",
    ),
    path(
        "ask.hydration_of",
        ". 7 8 6 5 0 0 Enter 3 6 0 Enter 1 0 0 Enter",
        "at a step",
        "the hydration of 500 grams of flour, 360 of water and 100 of starter",
    ),
    path(
        "ask.in_starter",
        ". 7 8 7 4 5 0 Enter 1 2 5 Enter",
        "at a step",
        "the flour in 450 grams of starter at 125 percent",
    ),
    path(
        "ask.feed",
        ". 7 8 8 4 0 Enter 2 Enter 2 Enter",
        "at a step",
        "feeding 40 grams of starter one to two to two",
    ),
    path(
        "ask.final_dough",
        ". 7 8 9 1 0 0 0 Enter 6 8 0 Enter 3 0 0 Enter 3 0 0 Enter",
        "at a step",
        "what is left of 1000 flour and 680 water after 300 and 300",
    ),
    path(
        "ask.ice",
        ". 7 8 0 3 5 0 Enter 2 8 Enter 1 2 Enter",
        "at a step",
        "the ice for 350 grams of water from 28 to 12 degrees",
    ),
    path(
        "ask.rule_of_three",
        ". 7 9 1 1 0 Enter 5 0 0 Enter 8 5 0 Enter",
        "at a step",
        "if 500 takes 10 grams, what 850 takes",
    ),
    path(
        "ask.times",
        ". 7 9 2 1 . 5 Enter 3 4 0 Enter",
        "at a step",
        "one and a half times 340 grams",
    ),
    path(
        "ask.tins",
        ". 7 9 3 2 0 Enter 2 3 Enter",
        "at a step",
        "from a round tin of 20 centimetres to one of 23",
    ),
    path(
        "ask.eggs",
        ". 7 9 4 2 Enter 2 1",
        "at a step",
        "what two medium eggs weigh",
    ),
    path(
        "ask.self_raising",
        ". 7 9 5 2 0 0 Enter",
        "at a step",
        "what makes 200 grams of plain flour self-raising",
    ),
    path(
        "ask.sugar_stage",
        ". 7 9 6 2",
        "at a step",
        "how hot soft ball is",
    ),
    path(
        "ask.stage_at",
        ". 7 9 7 1 1 8 Enter",
        "at a step",
        "what stage sugar is at 118 degrees",
    ),
    path(
        "ask.frying",
        ". 7 9 8 2",
        "at a step",
        "how hot the oil should be for doughnuts",
    ),
    path(
        "ask.oven_word",
        ". 7 9 9 4",
        "at a step",
        "what a moderate oven is",
    ),
    path(
        "ask.gelatine",
        ". 7 9 0 1 0 Enter 2 4",
        "at a step",
        "10 grams of silver gelatine in platinum",
    ),
    path(
        "ask.loss_is",
        ". 7 0 1 8 6 0 Enter 7 5 0 Enter",
        "at a step",
        "what percent 860 grams lost that weigh 750 baked",
    ),
    path(
        "ask.into",
        ". 7 0 2 1 7 . 5 Enter 6 6 Enter",
        "at a step",
        "water in ounces for 17.5 ounces of flour at 66 percent",
    ),
    path(
        "ask.together",
        ". 7 0 3 2 0 0 Enter 1 5 0 Enter",
        "at a step",
        "200 and 150 grams in ounces",
    ),
    path("louder", ". 8 1", "at a step", "louder"),
    path("quieter", ". 8 2", "at a step", "quieter"),
    path("slower", ". 8 3", "at a step", "slower"),
    path("faster", ". 8 4", "at a step", "faster"),
    path("higher", ". 8 5", "at a step", "a higher voice"),
    path("lower", ". 8 6", "at a step", "a lower voice"),
    path("briefer", ". 8 7", "at a step", "fewer words"),
    path("fuller", ". 8 8", "at a step", "more words"),
    path("spell", ". 8 9", "at a step", "spell the last answer"),
    path("read_ingredients", ". 9 1", "at a step", "the ingredients"),
    path("allergens", ". 9 2", "at a step", "the allergens"),
    path("contains", ". 9 3 2", "at a step", "is there milk in it"),
    path("hydration", ". 9 4", "at a step", "the hydration"),
    path(
        "steps_left",
        ". 9 5",
        "at a step",
        "how many steps are left",
    ),
    path(
        "oven_heat",
        ". 9 6",
        "at a step",
        "how hot the oven should be",
    ),
    path(
        "todays_size",
        ". 9 7",
        "at a step",
        "what we are making, and its size",
    ),
    path("start_listening", ". 0 1", "at a step", "listen again"),
    path(
        "stop_listening",
        ". 0 2",
        "at a step",
        "stop listening; keys only",
    ),
    path(
        "explain_chimes",
        ". 0 3",
        "at a step",
        "what the chimes mean",
    ),
    path("goodbye", ". 0 4", "at a step", "leave"),
    path(
        "troubles",
        ". 0 5",
        "at a step",
        "is it listening, and is anything missing",
    ),
    path("what_heard", ". 0 6", "at a step", "what was heard last"),
];

/// An example of a place by its name in `KEY_PATHS`.
pub fn example(name: &str) -> Option<Place> {
    let words = |list: &[&str]| list.iter().map(|w| (*w).to_owned()).collect::<Vec<_>>();
    let step = Place {
        started: true,
        ingredients: words(&["flour", "water", "salt", "yeast"]),
        ingredient_names: words(&["strong white flour", "water", "salt", "instant yeast"]),
        step: 3,
        steps: 7,
        ..Place::default()
    };
    let asking = Place {
        asking: true,
        ..step.clone()
    };
    Some(match name {
        "at a step" => step,
        "weighing" => Place {
            weighing: true,
            ..step
        },
        "a question" => asking,
        "a look" => Place {
            look: true,
            ..asking
        },
        "asked how long" => Place {
            asks_length: true,
            ..step
        },
        "an alarm" => Place {
            alarm: true,
            ..step
        },
        "a timer offered" => Place {
            offered_timer: true,
            ..step
        },
        "a timer runs" => Place {
            timers: words(&["first rise"]),
            ..step
        },
        "two timers" => Place {
            timers: words(&["bake", "first rise"]),
            ..step
        },
        _ => return None,
    })
}

/// Reads strokes as `KEY_PATHS` writes them.
pub fn strokes(text: &str) -> Option<Vec<Key>> {
    text.split_whitespace()
        .map(|word| Key::all().find(|k| sign(*k) == word))
        .collect()
}

/// Presses all strokes, half a second apart, on a fresh keypad; the last answer's intent, if only the last gave one.
pub fn press_all(keys: &[Key], place: &Place) -> Option<Intent> {
    let mut pad = Keypad {
        // A question of the place has been heard before the first press.
        asked: place.asking,
        ..Keypad::default()
    };
    let mut given = None;
    for (i, key) in keys.iter().enumerate() {
        if given.is_some() {
            return None;
        }
        if let KeyAnswer::Intent(intent) = pad.press(*key, Moment(500 * i as u64), place) {
            given = Some(intent);
        }
    }
    given
}
