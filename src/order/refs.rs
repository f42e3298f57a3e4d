//! What the slots of an order point at.

use std::fmt;
use std::ops::Deref;

use serde::{Deserialize, Serialize};

/// A word of one kind, that is taken for no other kind.
macro_rules! word {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(String);

        impl Deref for $name {
            type Target = str;
            fn deref(&self) -> &str {
                &self.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&self.0)
            }
        }

        impl From<String> for $name {
            fn from(word: String) -> Self {
                Self(word)
            }
        }

        impl From<&str> for $name {
            fn from(word: &str) -> Self {
                Self(word.to_owned())
            }
        }

        impl From<$name> for String {
            fn from(word: $name) -> Self {
                word.0
            }
        }

        impl PartialEq<str> for $name {
            fn eq(&self, other: &str) -> bool {
                self.0 == other
            }
        }

        impl PartialEq<&str> for $name {
            fn eq(&self, other: &&str) -> bool {
                self.0 == *other
            }
        }
    };
}

word!(
    /// One of the formula's ingredients by its id; one that is not in the formula by its name in the tables.
    IngredientId
);
word!(
    /// A part by its name: of the dish the filling, of an answer the salt.
    PartName
);
word!(
    /// A food, an ingredient of the tables or an allergen, by its name in the tables or as the cook said it.
    Food
);
word!(
    /// A caution by its name in the table: `honey`, `garlic-oil`, `raw-flour`.
    CautionName
);
word!(
    /// The size of an egg as the box calls it: `small`, `medium`, `large`.
    EggSize
);
word!(
    /// A strength of gelatine by its name in the table: `bronze`, `gold`, `powder`.
    GelatineStrength
);
word!(
    /// A word for the heat of an oven by its name in the table: `moderate`.
    OvenWord
);
word!(
    /// A stage of boiling sugar by its name in the table: `soft ball`.
    SugarStageName
);

word!(
    /// A formula of the book by its title.
    Title
);

/// A dish of several, in the order in which they came to the bench, from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct DishRef(pub u32);

/// A step by its number, from 1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct StepId(pub u32);

/// A timer that an order is for.
#[derive(Debug, Clone, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(untagged)]
pub enum TimerRef {
    /// This one.
    Id(u32),
    /// The one that these words of the cook fit.
    Said(String),
}

impl From<&str> for TimerRef {
    fn from(words: &str) -> Self {
        Self::Said(words.to_owned())
    }
}

impl From<String> for TimerRef {
    fn from(words: String) -> Self {
        Self::Said(words)
    }
}
