//! The pieces that a typed question is made of.

/// One piece.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Item {
    /// A number of a unit of mass or volume, or of a thing that is counted; the unit by its symbol.
    Amount(f64, String),
    /// A bare number.
    Number(f64),
    /// So many percent.
    Percent(f64),
    /// A heat and its scale: `c`, `f`, `gas` or `fan`.
    Heat(f64, Option<&'static str>),
    /// A length of time in minutes.
    Minutes(f64),
    /// A length in centimetres.
    Length(f64),
    /// One to two to two: parts of flour and of water for one.
    Ratio(f64, f64),
    /// An ingredient by its name in the table.
    Stuff(&'static str),
    /// A unit without a number, by its symbol.
    Unit(String),
    /// `cm` or `inch` without a number.
    LengthUnit(&'static str),
    /// A scale of heat without a number.
    Scale(&'static str),
    /// A name from one of the small tables: its kind (`stage`, `oven`, `size`, `leaf`) and itself.
    Named(&'static str, &'static str),
    /// A telling word, by its tag. Tags that begin with `~` may stand in any question.
    Tag(&'static str),
    /// A word that is not known.
    Unknown,
    /// The end of a clause.
    Stop,
}

impl Item {
    /// Is it a number of any kind?
    pub(super) fn is_number(&self) -> bool {
        matches!(
            self,
            Self::Amount(..)
                | Self::Number(_)
                | Self::Percent(_)
                | Self::Heat(..)
                | Self::Minutes(_)
                | Self::Length(_)
                | Self::Ratio(..)
        )
    }

    /// The same of another number; the parts of water of a ratio.
    pub(super) fn with_number(&self, n: f64) -> Self {
        match self {
            Self::Amount(_, unit) => Self::Amount(n, unit.clone()),
            Self::Number(_) => Self::Number(n),
            Self::Percent(_) => Self::Percent(n),
            Self::Heat(_, scale) => Self::Heat(n, *scale),
            Self::Minutes(_) => Self::Minutes(n),
            Self::Length(_) => Self::Length(n),
            Self::Ratio(flour, _) => Self::Ratio(*flour, n),
            other => other.clone(),
        }
    }
}
