//! Every intent by name, from the types themselves: a variant that is added without a name does not compile.

use crate::ask::Question;
use crate::understand::{Intent, ScaleBy};

macro_rules! named {
    ($of:ident, $what:literal, $names:ident, $name:ident, $($variant:ident => $text:literal),+ $(,)?) => {
        #[doc = concat!("The names of all ", $what, ".")]
        pub const $names: &[&str] = &[$($text),+];

        #[doc = concat!("The name of one of the ", $what, ".")]
        pub fn $name(it: &$of) -> &'static str {
            match it {
                $($of::$variant { .. } => $text,)+
            }
        }
    };
}

named!(Intent, "intents", INTENTS, intent_tag,
    Next => "next", Back => "back", Repeat => "repeat", RepeatLast => "repeat_last", Spell => "spell", WhereAmI => "where_am_i",
    WhatNext => "what_next", StepsLeft => "steps_left", GoToStep => "go_to_step",
    ReadIngredients => "read_ingredients", ReadStep => "read_step", WeighNext => "weigh_next", Done => "done",
    HaveAdded => "have_added", MarkAdded => "mark_added", UnmarkAdded => "unmark_added",
    LeftToAdd => "left_to_add", HowMuch => "how_much", Ask => "ask", Contains => "contains",
    Allergens => "allergens", Hydration => "hydration", TodaysSize => "todays_size", OvenHeat => "oven_heat", Scale => "scale", StartTimer => "start_timer",
    StartOffered => "start_offered", TimeLeft => "time_left", ReadyWhen => "ready_when", AddTime => "add_time",
    TakeTime => "take_time", PauseTimer => "pause_timer", ResumeTimer => "resume_timer",
    RestartTimer => "restart_timer", AddCue => "add_cue", RenameTimer => "rename_timer", StopTimer => "stop_timer",
    StopAllTimers => "stop_all_timers", StopChime => "stop_chime", NextOnClock => "next_on_clock",
    TellTime => "tell_time", EatAt => "eat_at", WhenStart => "when_start", NeedsLonger => "needs_longer",
    Yes => "yes", No => "no", NotYet => "not_yet", Louder => "louder", Quieter => "quieter", Slower => "slower",
    Faster => "faster", Higher => "higher", Lower => "lower", Briefer => "briefer", Fuller => "fuller",
    StopTalking => "stop_talking", StopListening => "stop_listening", StartListening => "start_listening",
    WhatHeard => "what_heard", Troubles => "troubles", Help => "help", ExplainChimes => "explain_chimes", Goodbye => "goodbye",
);

named!(Question, "questions", QUESTIONS, question_tag,
    Convert => "convert", ConvertTemperature => "convert_temperature", Swap => "swap",
    WaterForFlour => "water_for_flour", PercentOf => "percent_of", WaterTemperature => "water_temperature",
    RiseAt => "rise_at", SafeTemperature => "safe_temperature", PiecesFrom => "pieces_from", MassOf => "mass_of",
    PercentIs => "percent_is", Preferment => "preferment", BakedMass => "baked_mass", DoughFor => "dough_for",
    Friction => "friction", SafeTime => "safe_time", Keep => "keep", Caution => "caution",
);

named!(ScaleBy, "ways to change the size", SCALES, scale_tag,
    AsWritten => "as_written", Factor => "factor", Portions => "portions", Flour => "flour", Dough => "dough",
    Pieces => "pieces", Limit => "limit", Tin => "tin", Hydration => "hydration",
);

/// The full name of an intent: `next`, `ask.convert`, `scale.tin`.
pub fn intent_name(intent: &Intent) -> String {
    match intent {
        Intent::Ask(question) => format!("ask.{}", question_tag(question)),
        Intent::Scale { by } => format!("scale.{}", scale_tag(by)),
        other => intent_tag(other).to_owned(),
    }
}

/// The full names of everything that can be meant.
pub fn all_names() -> Vec<String> {
    let mut names = Vec::new();
    for tag in INTENTS {
        match *tag {
            "ask" => names.extend(QUESTIONS.iter().map(|q| format!("ask.{q}"))),
            "scale" => names.extend(SCALES.iter().map(|s| format!("scale.{s}"))),
            plain => names.push(plain.to_owned()),
        }
    }
    names
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_those_of_the_journal() {
        for (intent, name) in [
            (Intent::WhereAmI, "where_am_i"),
            (Intent::TimeLeft { timer: None }, "time_left"),
            (
                Intent::Ask(Question::PercentOf {
                    percent: 2.0,
                    grams: 900.0,
                }),
                "ask",
            ),
        ] {
            let json = serde_json::to_value(&intent).expect("an intent is plain data");
            assert_eq!(json["intent"], name);
            assert_eq!(intent_tag(&intent), name);
        }
    }
}
