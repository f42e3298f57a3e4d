//! The names of all variants, for tests and tables that must leave none out. The compiler refuses a missing one.

use crate::ask::Question;

use super::intent::{Intent, ScaleBy};

macro_rules! names_of {
    ($type:ident: $($variant:ident),* $(,)?) => {
        impl $type {
            /// The names of all variants, in the order of the type.
            pub const ALL_NAMES: &'static [&'static str] = &[$(stringify!($variant)),*];

            /// The name of this variant.
            pub fn name(&self) -> &'static str {
                match self {
                    $(Self::$variant { .. } => stringify!($variant)),*
                }
            }
        }
    };
}

names_of!(Intent:
    Next, Back, Repeat, RepeatLast, Spell, WhereAmI, WhatNext, StepsLeft, GoToStep, ReadIngredients, ReadStep, OvenHeat,
    WeighNext, Done, HaveAdded, MarkAdded, UnmarkAdded, LeftToAdd, HowMuch, Ask, Contains, Allergens, Hydration, TodaysSize,
    Scale,
    StartTimer, StartOffered, TimeLeft, ReadyWhen, AddTime, TakeTime, PauseTimer, ResumeTimer, RestartTimer,
    AddCue, RenameTimer, StopTimer, StopAllTimers, StopChime, NextOnClock, TellTime, EatAt, WhenStart, NeedsLonger,
    Yes, No, NotYet, Louder, Quieter, Slower, Faster, Higher, Lower, Briefer, Fuller, StopTalking, StopListening,
    StartListening, WhatHeard, Troubles, Help, ExplainChimes, Goodbye,
);

names_of!(Question:
    Convert, ConvertTemperature, Swap, WaterForFlour, PercentOf, WaterTemperature, RiseAt, SafeTemperature, PiecesFrom,
    MassOf, PercentIs, Preferment, BakedMass, DoughFor, Friction, SafeTime, Keep, Caution,
);

names_of!(ScaleBy: AsWritten, Factor, Portions, Flour, Dough, Pieces, Limit, Tin, Hydration);
