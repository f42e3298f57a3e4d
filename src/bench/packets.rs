//! What the cook read on packets, for this session: what is in this kitchen's margarine no table knows.

use super::Bench;
use super::effect::Effect;
use super::words;
use crate::safety::{self, Contents};

impl Bench {
    /// What the formula contains, by the tables and by the packets that the cook read.
    pub(super) fn contents(&self) -> Contents {
        let formula = self.formula();
        let mut contents = formula.contents();
        for (ingredient, what, absent) in self.dish().packets() {
            if let Some(topic) = safety::topic(what) {
                contents.read_packet(&formula.ingredients[*ingredient].name, &topic, *absent);
            }
        }
        contents
    }

    /// A packet says that something is in it, or that it is not. What is known to be in an ingredient stays in it.
    pub(super) fn packet(
        &mut self,
        ingredient: &str,
        what: &str,
        absent: bool,
        out: &mut Vec<Effect>,
    ) {
        let found = self.formula().find(ingredient);
        let (Some(at), Some(topic)) = (found, safety::topic(what)) else {
            self.tell(out, &words::none_in(ingredient));
            return;
        };
        let name = self.formula().ingredients[at].name.clone();
        let spoken = &topic.spoken;
        if absent && self.formula().contents().known_in(&name, &topic) {
            let text = format!(
                "As far as I know {name} contains {spoken}, so I will go on saying so. Read the packet again, and ask whoever it is for."
            );
            self.tell(out, &text);
            return;
        }
        self.dish_mut().note_packet(at, what, absent);
        let none = if absent { "no " } else { "" };
        let text = format!(
            "By the packet that you read, the {name}: {none}{spoken}. I will remember that until we are done."
        );
        self.tell(out, &text);
    }
}
