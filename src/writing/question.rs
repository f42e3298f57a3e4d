//! What the dialogue asks.

/// What a question wants, for whoever takes its answer: which words may be heard, and what the keys of the pad mean.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AnswerKind {
    /// Any words.
    Words,
    /// A number.
    Number,
    /// An ingredient, with its amount or without.
    Ingredient,
    /// An amount.
    Amount,
    /// What is done in a step: typed, or spoken and kept.
    Step,
    /// Names of the ingredients that there are.
    Names,
    /// A time.
    Time,
    /// A heat.
    Heat,
    /// Yes or no.
    YesNo,
}

/// One question.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Prompt {
    /// In one line.
    pub text: String,
    /// What an empty answer means.
    pub guess: String,
    /// What is wanted.
    pub kind: AnswerKind,
}

impl Prompt {
    /// As it is printed and spoken: `How many portions? Enter for 4.`
    pub fn line(&self) -> String {
        match self.guess.as_str() {
            "" => self.text.clone(),
            guess => format!("{} Enter for {guess}.", self.text),
        }
    }
}
