//! What can be said or pressed at this moment, what the chimes mean, what was heard, and what is missing.

use super::Bench;
use super::effect::{Chime, Effect, Why};
use super::pending::Pending;
use super::words;

impl Bench {
    /// The spoken tour: the few things that matter here, then what works anywhere.
    pub(super) fn help(&mut self, out: &mut Vec<Effect>) {
        let here = if self.keyed() {
            self.keys_here()
        } else {
            format!("You can say: {}.", self.words_here().join("; "))
        };
        let anywhere = self.hint(
            "Anywhere: again; slowly; where am I; louder; stop.",
            "Anywhere: plus says it again, nought minus tells where we are, dot opens the lists, and any key held for a \
             second says what it does.",
        );
        self.tell(out, &format!("{here}{anywhere}"));
    }

    /// What can be said here, as the cook would say it.
    fn words_here(&self) -> Vec<String> {
        let words = |list: &[&str]| list.iter().map(|w| (*w).to_owned()).collect::<Vec<_>>();
        if !self.rack.ringing().is_empty() {
            return words(&[
                "stop, for the alarm",
                "add five minutes",
                "how long is left",
            ]);
        }
        match self.dialogue.question() {
            Some(Pending::Which { .. }) => {
                return words(&["which of them", "the first one", "the second one", "no"]);
            }
            Some(Pending::HowLong { .. }) => {
                return words(&["how long, such as ten minutes", "no"]);
            }
            Some(Pending::Note { .. }) => return words(&["your note", "no"]),
            Some(
                Pending::Confirm { .. }
                | Pending::Offer { .. }
                | Pending::Early { .. }
                | Pending::Keep { .. },
            ) => {
                return words(&["yes", "no"]);
            }
            Some(Pending::Look { .. }) => {
                return words(&["yes", "not yet", "ten minutes longer"]);
            }
            Some(Pending::TooMuch { .. }) => return words(&["leave it", "yes"]),
            Some(Pending::TooLittle { .. }) => return words(&["yes", "no"]),
            Some(Pending::StepLook { .. } | Pending::OnScale { .. }) | None => {}
        }
        if self.is_finished() {
            return words(&["goodbye", "back", "how long is left"]);
        }
        let Some(step) = self.step() else {
            return words(&[
                "next, to begin",
                "read the ingredients",
                "make it one and a half times",
                "what are the allergens",
            ]);
        };
        if let Some((s, u)) = self.dish().called() {
            let name = self.dish().name((s, u));
            return vec![
                "it's in".to_owned(),
                "back, to take the last one back".to_owned(),
                format!("have I added the {name}"),
                "what's left to add".to_owned(),
            ];
        }
        let mut can = words(&["next", "back", "read the whole step"]);
        if self.dish().offered().is_some() {
            can.push("start it".to_owned());
        }
        if self.rack.live_count() > 0 {
            can.extend(words(&["how long is left", "add five minutes"]));
        } else {
            can.push("start a timer for ten minutes".to_owned());
        }
        if self.dishes.are_several() {
            let here = self.dishes.at_hand();
            let other = self.dishes.on().find(|id| *id != here);
            can.extend(other.map(|id| format!("go to {}", self.dishes.the(id))));
            can.extend(words(&["what is running", "how long until I am needed"]));
        }
        let uses = &self.formula().steps[step].uses;
        if let Some(i) = uses
            .first()
            .map(|u| u.ingredient)
            .or_else(|| (!self.formula().ingredients.is_empty()).then_some(0))
        {
            can.push(format!("how much {}", self.formula().ingredients[i].name));
        }
        can
    }

    /// What the keys do here.
    fn keys_here(&self) -> String {
        if !self.rack.ringing().is_empty() {
            return "An alarm rings: any key silences it.".to_owned();
        }
        let here = match self.dialogue.question() {
            Some(pending) => pending.keys(),
            None if self.is_finished() => "Dot, nought and four leaves. Minus goes back.",
            None if self.step().is_none() => {
                "Enter begins. Dot, nine and one reads the ingredients. Dot and six changes the size."
            }
            None if self.dish().called().is_some() => {
                "Enter: it is in. Minus takes the last one back. Slash says what goes on the scale. Nought slash tells what \
                 has not gone in."
            }
            None if self.dish().offered().is_some() => {
                "Enter goes on. Minus goes back. Star starts the timer of this step. Slash tells how much of what."
            }
            None if self.rack.live_count() > 0 => {
                "Enter goes on. Minus goes back. Star tells what is left. Five plus: five minutes more. Slash tells how much \
                 of what."
            }
            None => {
                "Enter goes on. Minus goes back. One, nought and star: a timer of ten minutes. Slash tells how much of what."
            }
        };
        here.to_owned()
    }

    /// Each chime, and what it means.
    pub(super) fn explain_chimes(&mut self, out: &mut Vec<Effect>) {
        for (chime, means) in [
            (Chime::Cue, "Once: a cue inside a timer."),
            (
                Chime::Due,
                "Again and again: a timer is due. It gets louder.",
            ),
            (Chime::Asked, "I ask you something."),
            (Chime::NotUnderstood, "I did not understand."),
            (Chime::Listening, "I am listening."),
            (Chime::Enough, "What you pour on the scale is there."),
        ] {
            out.push(Effect::Sample { chime });
            self.dialogue.aside(out, means, Why::Answer);
        }
    }

    /// What was heard last, and whether it was understood.
    pub(super) fn what_heard(&mut self, out: &mut Vec<Effect>) {
        let text = match self.dialogue.heard() {
            None => "I have heard nothing yet.".to_owned(),
            Some((words, true)) => format!("I heard: {words}."),
            Some((words, false)) => format!("I heard: {words}. I did not understand it."),
        };
        self.tell(out, &text);
    }

    /// Whether it listens, and every device that is missing.
    pub(super) fn troubles(&mut self, out: &mut Vec<Effect>) {
        let mut text = if self.dialogue.is_deaf() {
            "I cannot hear you.".to_owned()
        } else if self.dialogue.is_listening() {
            "I am listening.".to_owned()
        } else {
            "I have stopped listening.".to_owned()
        };
        for (_, note) in self.dialogue.missing() {
            text = format!("{text} {}", words::sentence(note));
        }
        if self.dialogue.missing().is_empty() {
            text.push_str(" Nothing is missing.");
        }
        self.tell(out, &text);
    }
}
