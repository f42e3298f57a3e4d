//! What a formula contains, may contain, and what of it is not known: one source for every caller, with the sentences.

use serde::Serialize;

use super::law::{self, Allergen, Law};
use super::matter::Matters;
use super::name::{NameContents, read_name};
use super::phrase::tokens;

/// One ingredient, or a food that only a step names.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// As it is named.
    pub name: String,
    /// What it holds.
    pub reading: NameContents,
    /// What its packet says is in it.
    said: Matters,
    /// What its packet says is not in it.
    cleared: Matters,
    /// What it would bring if the cook took it in place of what is written.
    instead: Matters,
}

impl Item {
    fn new(name: String, reading: NameContents) -> Self {
        Self {
            name,
            reading,
            said: Matters::NONE,
            cleared: Matters::NONE,
            instead: Matters::NONE,
        }
    }

    /// It may hold anything, and its packet was not read for all of this.
    fn is_open(&self, of: Matters) -> bool {
        self.reading.unknown && !of.without(self.cleared).is_empty()
    }

    /// 'the margarine'; where its packet told it, that too.
    fn named(&self, of: Matters) -> String {
        let by = if self.said.meets(of) {
            ", by the packet that you read"
        } else {
            ""
        };
        format!("{}{by}", the(&self.name))
    }
}

/// The kinds of an allergen that are meant where only the class is named: those that the name tells, else the class.
fn kinds_of(of: Matters, told: Matters) -> Matters {
    let kinds = told.and(of);
    let one = of.words().next().and_then(Matters::named);
    let any = law::matters("nut").and(of);
    match (kinds.is_empty(), any.meets(of)) {
        (false, _) => kinds,
        (true, true) => Matters::named("nut").unwrap_or_default(),
        (true, false) => one.unwrap_or_default(),
    }
}

/// An allergen, and what brings it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Finding {
    /// The allergen.
    pub allergen: Allergen,
    /// The ingredients that bring it, as they were named.
    pub from: Vec<String>,
    /// Its kinds, where the law wants them named: 'almonds'.
    pub kinds: Vec<String>,
}

/// How things stand with one allergen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum State {
    /// It is in it.
    Holds,
    /// It may be: that depends on a packet.
    May,
    /// Something in it is not known at all.
    Unknown,
    /// None is known of.
    NoneKnown,
}

/// What the question wants to hear.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wish {
    /// 'Does it contain milk?': yes where it does.
    Present,
    /// 'Is it dairy free?', 'can a vegan eat it?': no where it does.
    Absent,
}

impl Wish {
    /// Whether the cook hopes that there is none.
    pub fn of(absent: bool) -> Self {
        if absent { Self::Absent } else { Self::Present }
    }
}

/// What a list of ingredients holds.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Contents {
    items: Vec<Item>,
}

impl Contents {
    /// Of these names, one each.
    pub fn of_names<'a>(names: impl IntoIterator<Item = &'a str>) -> Self {
        let mut all = Self::default();
        for name in names {
            all.add(name, &[], &[]);
        }
        all
    }

    /// One ingredient: its name, what else its author calls it, and the allergens that the author gave.
    pub fn add(&mut self, name: &str, others: &[&str], given: &[String]) {
        let mut reading = read_name(name);
        for other in others {
            if !reading.unknown {
                break;
            }
            let second = read_name(other);
            reading = NameContents {
                holds: reading.holds.with(second.holds),
                may: reading.may.with(second.may),
                unknown: second.unknown,
            };
        }
        let given = given
            .iter()
            .filter_map(|id| law::allergens(Law::Eu).find(|a| a.id == *id))
            .fold(Matters::NONE, |all, a| {
                all.with(kinds_of(a.of, reading.holds.with(reading.may)))
            });
        reading.holds = reading.holds.with(given);
        reading.may = reading.may.without(reading.holds);
        let item = Item::new(name.to_owned(), reading);
        // 'Or margarine' in two places is one margarine.
        if !self.items.contains(&item) {
            self.items.push(item);
        }
    }

    /// What may be taken in place of what is written: what it contains is in the dish only where the cook takes it.
    pub fn add_choice(&mut self, name: &str) {
        let mut reading = read_name(name);
        let instead = reading.holds;
        reading.may = reading.may.with(reading.holds);
        reading.holds = Matters::NONE;
        let item = Item {
            instead,
            ..Item::new(name.to_owned(), reading)
        };
        if !self.items.iter().any(|known| known.name == name) {
            self.items.push(item);
        }
    }

    /// What the packet of an ingredient says of an allergen.
    pub fn read_packet(&mut self, name: &str, topic: &Allergen, absent: bool) {
        for item in self.items.iter_mut().filter(|item| item.name == name) {
            if absent {
                item.reading.may = item.reading.may.without(topic.of);
                item.cleared = item.cleared.with(topic.of);
                item.instead = item.instead.without(topic.of);
            } else {
                let kinds = kinds_of(topic.of, item.reading.may);
                item.reading.may = item.reading.may.without(topic.of);
                item.reading.holds = item.reading.holds.with(kinds);
                item.said = item.said.with(kinds);
            }
        }
    }

    /// Is this ingredient known to contain it, whatever its packet says?
    pub fn known_in(&self, name: &str, topic: &Allergen) -> bool {
        let mut named = self.items.iter().filter(|item| item.name == name);
        named.any(|item| item.reading.holds.meets(topic.of))
    }

    /// Foods that only a step names: 'dust with flour'. What the cook has not taken is not meant by its name.
    pub fn add_from_text(&mut self, text: &str, untaken: &[&str]) {
        for (name, reading) in super::text::foods_in(text) {
            let words = tokens(&name);
            let known = self.items.iter().any(|item| {
                let there = tokens(&item.name);
                words.last().is_some_and(|head| there.contains(head))
            });
            let is_untaken = untaken.iter().any(|name| tokens(name) == words);
            let held = self
                .items
                .iter()
                .fold(Matters::NONE, |all, i| all.with(i.reading.holds));
            let brings = reading.holds.with(reading.may);
            if !known && !is_untaken && !brings.without(held).is_empty() {
                self.items.push(Item::new(name, reading));
            }
        }
    }

    /// Each thing in it.
    pub fn items(&self) -> &[Item] {
        &self.items
    }

    fn find(&self, allergen: &Allergen, part: fn(&NameContents) -> Matters) -> Option<Finding> {
        let from: Vec<&Item> = self
            .items
            .iter()
            .filter(|i| part(&i.reading).meets(allergen.of))
            .collect();
        let all = from
            .iter()
            .fold(Matters::NONE, |all, i| all.with(part(&i.reading)));
        (!from.is_empty()).then(|| Finding {
            allergen: allergen.clone(),
            from: from.iter().map(|i| i.name.clone()).collect(),
            kinds: if allergen.named {
                let kinds = all.and(allergen.of).words();
                kinds.map(|k| law::spoken(k).to_owned()).collect()
            } else {
                Vec::new()
            },
        })
    }

    /// The allergens in it, in the order of the law.
    pub fn holds(&self, law: Law) -> Vec<Finding> {
        law::allergens(law)
            .filter_map(|a| self.find(a, |r| r.holds))
            .collect()
    }

    /// The allergens that may be in it and are not known to be.
    pub fn may_hold(&self, law: Law) -> Vec<Finding> {
        law::allergens(law)
            .filter(|a| self.find(a, |r| r.holds).is_none())
            .filter_map(|a| self.find(a, |r| r.may))
            .collect()
    }

    /// What is not known: its packet has to be read.
    pub fn unknown(&self) -> Vec<&str> {
        self.items
            .iter()
            .filter(|i| i.reading.unknown)
            .map(|i| i.name.as_str())
            .collect()
    }

    /// How things stand with one allergen.
    pub fn state(&self, of: Matters) -> State {
        let any = |part: fn(&NameContents) -> Matters| {
            self.items.iter().any(|i| part(&i.reading).meets(of))
        };
        if any(|r| r.holds) {
            State::Holds
        } else if any(|r| r.may) {
            State::May
        } else if self.items.iter().any(|i| i.is_open(of)) {
            State::Unknown
        } else {
            State::NoneKnown
        }
    }

    /// The same, with what may come from something that is not named.
    pub fn state_with(&self, topic: &Allergen) -> State {
        match self.state(topic.of) {
            State::NoneKnown
                if self
                    .items
                    .iter()
                    .any(|i| i.reading.holds.meets(topic.perhaps)) =>
            {
                State::May
            }
            state => state,
        }
    }

    /// The answer to a question about one allergen or way of eating; its first word is the answer.
    pub fn answer(&self, topic: &Allergen, wish: Wish) -> String {
        let read = self.read_packets(topic);
        match self.state(topic.of) {
            State::Holds => {
                let first = if wish == Wish::Present { "Yes" } else { "No" };
                format!("{first}. It contains {}.", self.named_with(topic))
            }
            State::May => {
                let first = match wish {
                    Wish::Present => "Perhaps",
                    Wish::Absent => "Not for sure",
                };
                format!("{first}. {read}")
            }
            State::Unknown => format!("I cannot say. {read}"),
            State::NoneKnown
                if !self
                    .items
                    .iter()
                    .any(|i| i.reading.holds.meets(topic.perhaps)) =>
            {
                let with = topic
                    .nothing
                    .clone()
                    .unwrap_or_else(|| format!("with {}", topic.spoken));
                match self.cleared(topic.of) {
                    None => {
                        format!("Nothing {with} that I know of in this formula; check the packets.")
                    }
                    Some(read) => format!(
                        "Nothing {with} that I know of in this formula: {read} by the packet that you read; check the others."
                    ),
                }
            }
            State::NoneKnown => {
                let what = law::spoken(topic.perhaps.words().next().unwrap_or_default());
                let from = self.names(topic.perhaps, |r| r.holds);
                format!(
                    "Not for sure. It contains {what}, which may come from {}: {}.",
                    topic.spoken,
                    super::list(&from)
                )
            }
        }
    }

    fn names(&self, of: Matters, part: fn(&NameContents) -> Matters) -> Vec<String> {
        self.items
            .iter()
            .filter(|i| part(&i.reading).meets(of))
            .map(|i| i.named(of))
            .collect()
    }

    /// 'milk: the butter and the cream'; where each kind has its name, 'nuts: almonds in the frangipane'.
    fn named_with(&self, topic: &Allergen) -> String {
        let kinds_say = |kinds: &[(&'static str, Vec<String>)]| {
            let said: Vec<String> = kinds
                .iter()
                .map(|(kind, from)| format!("{kind}: {}", super::list(from)))
                .collect();
            said.join("; ")
        };
        if !topic.named {
            return format!(
                "{}: {}",
                topic.spoken,
                super::list(&self.names(topic.of, |r| r.holds))
            );
        }
        if law::allergens(Law::Eu).any(|a| a.of == topic.of) || topic.id.contains("nut") {
            let from: Vec<String> = self
                .items
                .iter()
                .filter(|i| i.reading.holds.meets(topic.of))
                .map(|i| {
                    let name = tokens(&i.name);
                    let hidden: Vec<String> = i
                        .reading
                        .holds
                        .and(topic.of)
                        .words()
                        .map(law::spoken)
                        .filter(|kind| {
                            *kind != topic.spoken
                                && tokens(kind).iter().any(|word| !name.contains(word))
                        })
                        .map(str::to_owned)
                        .collect();
                    if hidden.is_empty() {
                        the(&i.name)
                    } else {
                        format!("{} in {}", super::list(&hidden), the(&i.name))
                    }
                })
                .collect();
            return format!("{}: {}", topic.spoken, super::list(&from));
        }
        let kinds: Vec<(&'static str, Vec<String>)> = topic
            .of
            .words()
            .filter_map(|word| {
                let from = self.names(Matters::named(word)?, |r| r.holds);
                (!from.is_empty()).then(|| (law::spoken(word), from))
            })
            .collect();
        kinds_say(&kinds)
    }

    /// What may hold it, and what is not known.
    fn read_packets(&self, topic: &Allergen) -> String {
        let choices = self.items.iter().filter(|i| i.instead.meets(topic.of));
        let choices: Vec<String> = choices.map(|i| i.name.clone()).collect();
        let may: Vec<String> = self
            .items
            .iter()
            .filter(|i| i.reading.may.meets(topic.of) && !i.instead.meets(topic.of))
            .map(|i| i.named(topic.of))
            .collect();
        let mut said = Vec::new();
        if !choices.is_empty() {
            said.push(format!(
                "Only if you take {}: that contains {}.",
                super::list(&choices),
                topic.spoken
            ));
        }
        if !may.is_empty() {
            let (its, packet) = if may.len() == 1 {
                ("its", "packet")
            } else {
                ("their", "packets")
            };
            said.push(format!(
                "{} may contain {}: read {its} {packet}.",
                crate::measure::words::capital(&super::list(&may)),
                topic.spoken
            ));
        }
        let open: Vec<String> = self
            .items
            .iter()
            .filter(|i| i.is_open(topic.of))
            .map(|i| i.name.clone())
            .collect();
        said.extend(not_known(&open));
        said.join(" ")
    }

    /// What the cook read to be free of it.
    fn cleared(&self, of: Matters) -> Option<String> {
        let read = self.items.iter().filter(|i| i.cleared.meets(of));
        let read: Vec<String> = read.map(|i| the(&i.name)).collect();
        (!read.is_empty()).then(|| super::list(&read))
    }

    /// 'By the packets that you read: no milk in the margarine.'
    fn packets_words(&self, law: Law) -> Option<String> {
        let mut read = Vec::new();
        for item in &self.items {
            for allergen in law::allergens(law) {
                if item.cleared.meets(allergen.of) {
                    read.push(format!("no {} in {}", allergen.spoken, the(&item.name)));
                } else if item.said.meets(allergen.of) {
                    read.push(format!("{} in {}", allergen.spoken, the(&item.name)));
                }
            }
        }
        (!read.is_empty()).then(|| format!("By the packets that you read: {}.", super::list(&read)))
    }

    /// 'I do not know smoked paprika paste: read its packet.'
    pub fn unknown_words(&self) -> Option<String> {
        let unknown: Vec<String> = self.unknown().into_iter().map(str::to_owned).collect();
        not_known(&unknown)
    }

    /// Nothing may bring it but what the cook may take instead.
    fn only_by_choice(&self, found: &Finding) -> bool {
        let of = found.allergen.of;
        let may = self.items.iter().filter(|i| i.reading.may.meets(of));
        may.into_iter().all(|i| i.instead.meets(of))
    }

    /// A line of the whole: 'It contains gluten and milk. It may contain soya.'
    pub fn opening(&self, law: Law) -> String {
        let spoken = |found: Vec<Finding>| -> Vec<String> {
            found.into_iter().map(|f| f.allergen.spoken).collect()
        };
        let mut said = Vec::new();
        let holds = spoken(self.holds(law));
        if !holds.is_empty() {
            said.push(format!("It contains {}.", super::list(&holds)));
        }
        let (choice, may): (Vec<Finding>, Vec<Finding>) = self
            .may_hold(law)
            .into_iter()
            .partition(|found| self.only_by_choice(found));
        let may = spoken(may);
        if !may.is_empty() {
            said.push(format!("It may contain {}.", super::list(&may)));
        }
        for found in choice {
            said.push(format!(
                "With {} it contains {}.",
                super::list(&found.from),
                found.allergen.spoken
            ));
        }
        said.extend(self.unknown_words());
        if said.is_empty() {
            said.push("No listed allergen that I know of; check the packets.".to_owned());
        }
        said.extend(self.packets_words(law));
        said.join(" ")
    }

    /// Every allergen with what brings it.
    pub fn summary(&self, law: Law) -> String {
        let from = |f: &Finding| {
            let from: Vec<String> = f.from.iter().map(|n| the(n)).collect();
            let kinds = if f.kinds.is_empty() || f.kinds == [f.allergen.spoken.clone()] {
                String::new()
            } else {
                format!(" ({})", super::list(&f.kinds))
            };
            format!("{}{kinds}, from {}", f.allergen.spoken, super::list(&from))
        };
        let mut said = Vec::new();
        let holds: Vec<String> = self.holds(law).iter().map(from).collect();
        if !holds.is_empty() {
            said.push(format!("It contains {}.", holds.join("; ")));
        }
        let may: Vec<String> = self.may_hold(law).iter().map(from).collect();
        if !may.is_empty() {
            said.push(format!("It may contain {}.", may.join("; ")));
        }
        said.extend(self.unknown_words());
        if said.is_empty() {
            said.push("No listed allergen that I know of.".to_owned());
        }
        said.extend(self.packets_words(law));
        said.push("Check the packets, and ask whoever it is for.".to_owned());
        said.join(" ")
    }

    /// The line of `check`: 'contains gluten, milk; may contain soybeans; not known: smoked paprika paste'.
    pub fn line(&self, law: Law) -> String {
        let ids = |found: Vec<Finding>| -> String {
            let ids: Vec<String> = found.into_iter().map(|f| f.allergen.id).collect();
            ids.join(", ")
        };
        let mut parts = Vec::new();
        for (what, said) in [
            ("contains", ids(self.holds(law))),
            ("may contain", ids(self.may_hold(law))),
            ("not known:", self.unknown().join(", ")),
        ] {
            if !said.is_empty() {
                parts.push(format!("{what} {said}"));
            }
        }
        if parts.is_empty() {
            parts.push("no listed allergen known".to_owned());
        }
        parts.join("; ")
    }

    /// The answer about a food that is no allergen: by what is named in the formula.
    pub fn answer_food(&self, food: &str, wish: Wish) -> String {
        let words = tokens(food);
        let from: Vec<String> = self
            .items
            .iter()
            .filter(|i| {
                let there = tokens(&i.name);
                !words.is_empty() && there.windows(words.len()).any(|w| w == words)
            })
            .map(|i| the(&i.name))
            .collect();
        if let (true, Some(unknown)) = (from.is_empty(), self.unknown_words()) {
            return format!("I cannot say. {unknown}");
        }
        if from.is_empty() {
            return format!(
                "Nothing with {food} that I know of in this formula; check the packets."
            );
        }
        let first = if wish == Wish::Present { "Yes" } else { "No" };
        format!("{first}. It contains {food}: {}.", super::list(&from))
    }
}

/// An ingredient inside a sentence: 'the butter'; a name that has its own article keeps it.
fn not_known(names: &[String]) -> Option<String> {
    match names {
        [] => None,
        [one] => Some(format!("I do not know {one}: read its packet.")),
        several => Some(format!(
            "I do not know {}: read their packets.",
            super::list(several)
        )),
    }
}

fn the(name: &str) -> String {
    let first = name.split(' ').next().unwrap_or_default().to_lowercase();
    if matches!(first.as_str(), "the" | "a" | "an") {
        name.to_owned()
    } else {
        format!("the {name}")
    }
}

#[cfg(test)]
mod tests {
    use super::{Contents, State, Wish};
    use crate::safety::{Law, topic};

    fn ids(names: &[&str], law: Law) -> Vec<String> {
        Contents::of_names(names.iter().copied())
            .holds(law)
            .into_iter()
            .map(|f| f.allergen.id)
            .collect()
    }

    #[test]
    fn by_the_law_of_the_place() {
        assert_eq!(
            ids(&["strong white flour", "butter", "salt"], Law::Eu),
            ["gluten", "milk"]
        );
        assert_eq!(ids(&["rye flour"], Law::Eu), ["gluten"]);
        assert!(ids(&["rye flour"], Law::Us).is_empty());
        assert_eq!(ids(&["bread flour", "oat milk"], Law::Us), ["wheat"]);
        assert_eq!(
            ids(&["king prawn skewers"], Law::Us),
            ["crustacean shellfish"]
        );
        assert_eq!(ids(&["pine nuts"], Law::Us), ["tree nuts"]);
        assert!(ids(&["pine nuts", "roasted eggplant"], Law::Eu).is_empty());
        let nuts = Contents::of_names(["frangipane", "walnuts"]).holds(Law::Us);
        let nuts = nuts.iter().find(|f| f.allergen.id == "tree nuts").unwrap();
        assert_eq!(nuts.kinds, ["almonds", "walnuts"]);
    }

    #[test]
    fn the_first_word_is_the_answer() {
        let said = |names: &[&str], what: &str, wish| {
            Contents::of_names(names.iter().copied()).answer(&topic(what).unwrap(), wish)
        };
        let formula = ["strong white flour", "butter", "margarine", "walnuts"];
        assert_eq!(
            said(&formula, "milk", Wish::Present),
            "Yes. It contains milk: the butter."
        );
        assert_eq!(
            said(&formula, "dairy", Wish::Absent),
            "No. It contains milk: the butter."
        );
        assert_eq!(
            said(&formula, "soya", Wish::Absent),
            "Not for sure. The margarine may contain soya: read its packet."
        );
        assert_eq!(
            said(&formula, "nuts", Wish::Absent),
            "No. It contains nuts: the walnuts."
        );
        assert_eq!(
            said(&["frangipane"], "nuts", Wish::Present),
            "Yes. It contains nuts: almonds in the frangipane."
        );
        assert_eq!(
            said(&formula, "fish", Wish::Absent),
            "Nothing with fish that I know of in this formula; check the packets."
        );
        assert_eq!(
            said(&["rice", "smoked paprika paste"], "milk", Wish::Absent),
            "I cannot say. I do not know smoked paprika paste: read its packet."
        );
        assert_eq!(
            said(&formula, "vegan", Wish::Absent),
            "No. It contains milk: the butter."
        );
        assert_eq!(
            said(&["rice"], "vegan", Wish::Absent),
            "Nothing from animals that I know of in this formula; check the packets."
        );
        assert!(said(&["gelatine"], "pork", Wish::Absent).starts_with("Not for sure."));
        assert!(said(&["dark rum"], "alcohol", Wish::Present).starts_with("Yes."));
        assert!(said(&["lactose-free milk"], "lactose", Wish::Absent).starts_with("Nothing with"));
        assert!(said(&["lactose-free milk"], "milk", Wish::Absent).starts_with("No."));
    }

    #[test]
    fn nothing_unknown_is_passed_over() {
        let all = Contents::of_names(["rice", "smoked paprika paste"]);
        assert_eq!(
            all.opening(Law::Eu),
            "I do not know smoked paprika paste: read its packet."
        );
        assert!(!all.line(Law::Eu).contains("no listed"));
        assert!(!all.summary(Law::Eu).contains("No listed"));
        assert_eq!(all.state(topic("milk").unwrap().of), State::Unknown);
        assert!(
            all.answer_food("coconut", Wish::Absent)
                .starts_with("I cannot say.")
        );
        let plain = Contents::of_names(["rice", "salt"]);
        assert_eq!(
            plain.opening(Law::Us),
            "No listed allergen that I know of; check the packets."
        );
    }

    #[test]
    fn what_only_a_step_names() {
        let with = |names: &[&str], text: &str| {
            let mut all = Contents::of_names(names.iter().copied());
            all.add_from_text(text, &[]);
            let holds = all.holds(Law::Eu).into_iter().map(|f| f.allergen.id);
            holds.collect::<Vec<_>>()
        };
        assert_eq!(with(&["rice"], "Grease the tin with butter."), ["milk"]);
        assert_eq!(with(&["rice"], "Butter the tin well."), ["milk"]);
        assert_eq!(with(&["rice"], "Dust the bench with flour."), ["gluten"]);
        assert_eq!(with(&["rice"], "Brush with beaten egg."), ["eggs"]);
        for text in [
            "Add the flour and stir.",
            "Cut it with a bread knife into a cake tin.",
            "It looks like breadcrumbs, as thick as double cream.",
            "Cream the sugar until pale.",
            "Turn the bread out.",
            "Toast the rice.",
            "Fish out the bay leaf.",
        ] {
            assert!(
                with(&["gluten-free flour", "rice"], text).is_empty(),
                "{text}"
            );
        }
        assert!(with(&["oat cream"], "Pour the cream over.").contains(&"gluten".to_owned()));
    }
}
