//! Every order by its name, as the journal and the key table have it. The names are those of the types.

use strum::VariantNames;

use super::order::Order;
use super::question::Question;
use super::scale_by::ScaleBy;

impl Order {
    /// The full name: `next`, `ask.convert`, `scale.tin`.
    pub fn name(&self) -> String {
        match self {
            Self::Ask(question) => format!("ask.{}", question.name()),
            Self::Scale { by } => format!("scale.{}", by.name()),
            plain => <&str>::from(plain).to_owned(),
        }
    }

    /// The full names of everything that can be meant.
    pub fn names() -> Vec<String> {
        let inside = |kind: &str, names: &[&str]| -> Vec<String> {
            names.iter().map(|name| format!("{kind}.{name}")).collect()
        };
        Self::VARIANTS
            .iter()
            .flat_map(|name| match *name {
                "ask" => inside(name, Question::VARIANTS),
                "scale" => inside(name, ScaleBy::VARIANTS),
                plain => vec![plain.to_owned()],
            })
            .collect()
    }
}

impl Question {
    /// Its name: `convert`, `percent_of`.
    pub fn name(&self) -> &'static str {
        self.into()
    }
}

impl ScaleBy {
    /// Its name: `factor`, `tin`.
    pub fn name(&self) -> &'static str {
        self.into()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_those_of_the_journal() {
        for (order, name) in [
            (Order::WhereAmI, "where_am_i"),
            (Order::TimeLeft { timer: None }, "time_left"),
            (
                Order::Ask(Question::PercentOf {
                    percent: 2.0,
                    grams: 900.0,
                }),
                "ask.percent_of",
            ),
        ] {
            let json = serde_json::to_value(&order).expect("an order is plain data");
            assert_eq!(json["intent"], name.split('.').next().unwrap_or_default());
            assert_eq!(order.name(), name);
            assert!(Order::names().iter().any(|n| n == name));
        }
    }
}
