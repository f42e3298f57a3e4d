//! The names that can be said today: this formula's ingredients and timers, the tables' ingredients, foods.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, OnceLock};

use crate::formula::Formula;

use super::doubt::answers;
use super::expr::NameList;
use super::names::{Names, TIMER_NUMBERS, fold, plural};
use super::text::name_words;
use crate::order::{Asked, DishHere, DishRef, IngredientHere, Order, Situation, TimerHere};

/// Said of many ingredients, so they never stand for one alone.
const ADJECTIVES: &[&str] = &[
    "strong", "plain", "fine", "coarse", "warm", "cold", "hot", "iced", "tepid", "lukewarm",
    "large", "medium", "small", "fresh", "dried", "dry", "whole", "white", "brown", "dark",
    "light", "soft", "hard", "unsalted", "salted", "ground", "grated", "chopped", "sliced", "ripe",
    "raw", "cooked", "melted", "instant", "active", "free", "range", "extra", "virgin", "good",
    "quality", "table", "organic", "toasted", "roasted", "mixed", "whipped", "clear", "thick",
    "thin", "red", "green", "yellow", "black", "sea", "full", "fat", "semi", "skimmed", "double",
    "single", "all", "purpose", "self", "of", "the", "a", "for", "and", "or", "in",
];

/// Said of many ingredients, so that it stands for none alone.
pub fn is_common_adjective(word: &str) -> bool {
    ADJECTIVES.contains(&word)
}

/// Names that cooks give to timers, beside those of the formula.
const TIMER_NAMES: &[&str] = &[
    "oven",
    "bread",
    "eggs",
    "rice",
    "soup",
    "pasta",
    "potatoes",
    "vegetables",
    "meat",
    "chicken",
    "fish",
    "sauce",
    "tea",
    "coffee",
    "cake",
    "biscuits",
    "cookies",
    "pie",
    "roast",
    "dough",
    "rise",
    "first rise",
    "second rise",
    "third rise",
    "final rise",
    "first prove",
    "second prove",
    "final prove",
    "prove",
    "bake",
    "rest",
    "fridge",
    "freezer",
    "beans",
    "lentils",
    "stock",
    "custard",
    "jam",
    "starter",
    "sponge",
    "butter",
    "onions",
    "kettle",
    "pan",
    "turkey",
    "lamb",
    "beef",
    "pork",
    "noodles",
    "kitchen",
    "dinner",
    "yeast",
    "marinade",
    "caramel",
];

/// So many timers with names of the cook's own can be named aloud, the newest: each makes the network larger.
const OWN_TIMERS: usize = 12;

/// So many titles of the book can be named aloud; of a larger one they are typed, or chosen by key.
const BY_EAR: usize = 300;

/// Names by their words: what each may stand for, with cost.
type Listed = BTreeMap<Vec<String>, Vec<(String, u32)>>;

/// One ingredient of the formula, as the rules need it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Own {
    id: String,
    name: String,
    table: String,
    also: Vec<String>,
    /// What may be taken for it: in speech it is it as well, in the tables something else.
    or: Vec<String>,
    counted: bool,
}

impl Own {
    /// What it is called.
    pub(super) fn names(&self) -> impl Iterator<Item = &String> {
        [&self.name].into_iter().chain(&self.also).chain(&self.or)
    }

    fn here(&self) -> IngredientHere {
        IngredientHere {
            id: self.id.as_str().into(),
            name: self.name.clone(),
            table: self.table.clone(),
        }
    }
}

/// The parts of a dish, in the order of its ingredients.
fn parts_of(formula: &Formula) -> Vec<String> {
    let mut parts: Vec<String> = Vec::new();
    for part in formula.ingredients.iter().filter_map(|i| i.part.as_ref()) {
        if !parts.contains(part) {
            parts.push(part.clone());
        }
    }
    parts
}

/// Ways to say something, and what each stands for.
type Ways = Vec<(Vec<String>, Vec<(String, u32)>)>;

/// What may be taken for each ingredient that leaves a choice, the written one among them: its words, and its id with
/// its name behind a bar. Of the same words for several ingredients each is meant.
fn others_of(formula: &Formula) -> Ways {
    let mut all: BTreeMap<Vec<String>, Vec<(String, u32)>> = BTreeMap::new();
    for i in formula.ingredients.iter().filter(|i| !i.or.is_empty()) {
        for name in std::iter::once(&i.name).chain(&i.or) {
            let value = (format!("{}|{name}", i.id), 0);
            all.entry(name_words(name)).or_default().push(value);
        }
    }
    all.into_iter().collect()
}

/// One of several dishes, and what can be named of it.
#[derive(Debug, Clone)]
pub struct DishNames {
    /// Which.
    pub id: DishRef,
    /// Its everyday name: `soup`.
    pub name: String,
    /// What else it is called.
    pub also: Vec<String>,
    /// What can be named of it alone.
    pub lexicon: Arc<Lexicon>,
}

impl PartialEq for DishNames {
    fn eq(&self, other: &Self) -> bool {
        (self.id, &self.name, &self.also) == (other.id, &other.name, &other.also)
            && (Arc::ptr_eq(&self.lexicon, &other.lexicon) || self.lexicon == other.lexicon)
    }
}

impl DishNames {
    /// Everything that it answers to, in words: its names, and what ends one of them.
    pub(super) fn spoken(&self) -> Vec<Vec<String>> {
        let mut all: Vec<Vec<String>> = Vec::new();
        for name in std::iter::once(&self.name).chain(&self.also) {
            let words = name_words(name);
            // `seeded tin loaf`, `tin loaf`, `loaf`; of `fish pie with a potato top` also `fish pie` and `pie`.
            let joins = ["with", "of", "in", "for", "and", "on"];
            let head = words.iter().position(|w| joins.contains(&w.as_str()));
            let mut ends = vec![words.clone()];
            if let Some(head) = head.filter(|at| *at > 0 && words[*at] != "and") {
                ends.extend((0..head).map(|from| words[from..head].to_vec()));
            } else {
                ends.extend((1..words.len()).map(|from| words[from..].to_vec()));
            }
            for end in ends {
                let begins_well = end.first().is_some_and(|w| !joins.contains(&w.as_str()));
                if begins_well && !all.contains(&end) {
                    all.push(end);
                }
            }
        }
        all
    }
}

/// Every name that can be said today.
#[derive(Debug, Clone)]
pub struct Lexicon {
    pub(super) own: Vec<Own>,
    pub(super) formula_timers: Vec<String>,
    pub(super) situation: Situation,
    table: Arc<Vec<(String, Vec<String>)>>,
    /// The same by the words that are said; several lists begin with it.
    table_words: OnceLock<Arc<Listed>>,
    foods: Vec<String>,
    pub(super) call: Option<String>,
    piece: String,
    /// What may be taken for an ingredient, in words, each with its id and its name.
    others: Ways,
    /// The dishes that are made, where there are several.
    dishes: Arc<Vec<DishNames>>,
    /// By `NameList`; a copy shares what has been worked out.
    lists: [OnceLock<Arc<Names>>; NameList::ALL.len()],
    pub(super) contracted: bool,
}

/// The same names; what was worked out from them does not count.
impl PartialEq for Lexicon {
    fn eq(&self, other: &Self) -> bool {
        let Self {
            own,
            formula_timers,
            situation,
            table,
            table_words: _,
            foods,
            call,
            piece,
            others,
            dishes,
            lists: _,
            contracted,
        } = self;
        *own == other.own
            && *formula_timers == other.formula_timers
            && *situation == other.situation
            && *table == other.table
            && *foods == other.foods
            && *call == other.call
            && *piece == other.piece
            && *others == other.others
            && *dishes == other.dishes
            && *contracted == other.contracted
    }
}

impl Lexicon {
    /// The names of one formula.
    pub fn new(formula: &Formula) -> Self {
        let own = formula.ingredients.iter().map(|i| Own {
            id: i.id.clone(),
            name: i.name.clone(),
            table: if i.table.is_empty() {
                i.name.clone()
            } else {
                i.table.clone()
            },
            also: i.also.clone(),
            or: i.or.clone(),
            counted: i.count.is_some(),
        });
        let own: Vec<Own> = own.collect();
        let timers = formula
            .steps
            .iter()
            .flat_map(|s| &s.timers)
            .map(|t| t.name.clone());
        Self {
            formula_timers: timers.collect(),
            piece: formula.makes.piece.clone(),
            others: others_of(formula),
            situation: Situation {
                ingredients: own.iter().map(Own::here).collect(),
                steps: formula.steps.iter().map(|s| s.title.clone()).collect(),
                parts: parts_of(formula),
                pieces: formula.makes.pieces,
                ..Situation::default()
            },
            own,
            ..Self::empty()
        }
    }

    /// The names without a formula, for questions that need none.
    pub fn without_formula() -> Self {
        Self::empty()
    }

    fn empty() -> Self {
        Self {
            own: Vec::new(),
            formula_timers: Vec::new(),
            situation: Situation {
                pieces: 1.0,
                ..Situation::default()
            },
            table: Arc::default(),
            table_words: OnceLock::new(),
            foods: Vec::new(),
            call: None,
            piece: String::new(),
            others: Vec::new(),
            dishes: Arc::default(),
            lists: Default::default(),
            contracted: true,
        }
    }

    /// Adds the ingredients of the tables: the canonical name, and other ways to say it.
    pub fn with_table_names(
        mut self,
        names: impl IntoIterator<Item = (String, Vec<String>)>,
    ) -> Self {
        Arc::make_mut(&mut self.table).extend(names);
        self.table_words = OnceLock::new();
        self.changed()
    }

    /// With the timers that run now, each by its id and its name, and no others.
    pub fn with_timers(mut self, timers: impl IntoIterator<Item = (u32, String)>) -> Self {
        let here = |(id, name)| TimerHere { id, name };
        self.situation.timers = timers.into_iter().map(here).collect();
        self.changed_list(NameList::Timer)
    }

    /// Adds foods with a safe temperature.
    pub fn with_foods(mut self, foods: impl IntoIterator<Item = String>) -> Self {
        self.foods.extend(foods);
        self.changed()
    }

    /// The name by which the program is called; it may open or close any sentence.
    pub fn with_call_name(mut self, name: &str) -> Self {
        self.call = (!name.trim().is_empty()).then(|| name.to_string());
        self.changed_list(NameList::Call)
    }

    /// With the dishes that are made, where there are several; these names are those of the one at hand.
    pub fn with_dishes(mut self, dishes: Vec<DishNames>) -> Self {
        let here = |dish: &DishNames| DishHere {
            id: dish.id,
            name: dish.name.clone(),
        };
        self.situation.dishes = dishes.iter().map(here).collect();
        self.dishes = Arc::new(dishes);
        self.changed_list(NameList::Dish)
            .changed_list(NameList::Timer)
    }

    /// With the titles of the book.
    pub fn with_book(mut self, titles: Arc<Vec<String>>) -> Self {
        self.situation.book = titles;
        self.changed_list(NameList::Title)
    }

    /// The dishes that are made; none where there is one.
    pub fn dishes(&self) -> &[DishNames] {
        &self.dishes
    }

    /// The name by which the program is called.
    pub(super) fn call(&self) -> Option<&str> {
        self.call.as_deref()
    }

    /// It is one of the formula's own ingredients, by its id.
    pub(super) fn has(&self, ingredient: &str) -> bool {
        self.own.iter().any(|own| own.id == ingredient)
    }

    /// While the program waits for the answer to `do you mean ... or ...?`: the telling words of each reading, and
    /// `the first one`, stand for that reading.
    pub fn with_choices(mut self, readings: &[Order]) -> Self {
        self.situation.asked = if readings.is_empty() {
            Asked::Nothing
        } else {
            Asked::Which(readings.to_vec())
        };
        self.changed_list(NameList::Choice)
    }

    /// The same for the ear: a timer that can be named anyway, by its number or a usual name, adds nothing to what is heard,
    /// so that starting one asks for no other network.
    pub fn for_the_ear(&self) -> Self {
        let heard_anyway = |name: &str| {
            let number = name.strip_prefix("timer ");
            TIMER_NAMES.contains(&name)
                || self.known_timers().any(|t| t == name)
                || number.is_some_and(|n| TIMER_NUMBERS.contains(&n))
        };
        let mut own: Vec<&TimerHere> = self
            .situation
            .timers
            .iter()
            .filter(|here| !heard_anyway(&here.name))
            .collect();
        own.sort_by_key(|here| std::cmp::Reverse(here.id));
        own.truncate(OWN_TIMERS);
        let mut names: Vec<String> = own.into_iter().map(|here| here.name.clone()).collect();
        names.sort();
        // Which of them it is makes no difference to how it sounds.
        let mut ear = self.of_all_dishes();
        ear = ear.with_timers(names.into_iter().map(|name| (0, name)));
        if ear.situation.book.len() > BY_EAR {
            ear = ear.with_book(Arc::default());
        }
        ear
    }

    /// The same with the names of every dish, whichever is at hand: what only another dish has can be said as well, and
    /// turning to a dish asks for no other network.
    fn of_all_dishes(&self) -> Self {
        let Some((first, others)) = self.dishes.split_first() else {
            return self.clone();
        };
        let mut all = (*first.lexicon).clone();
        all.situation.asked = self.situation.asked.clone();
        all.situation.dishes.clone_from(&self.situation.dishes);
        all.situation.book = self.situation.book.clone();
        all.dishes = self.dishes.clone();
        all.call.clone_from(&self.call);
        for Self {
            own,
            formula_timers,
            situation,
            others,
            ..
        } in others.iter().map(|dish| &*dish.lexicon)
        {
            let new: Vec<Own> = own
                .iter()
                .filter(|o| !all.own.contains(o))
                .cloned()
                .collect();
            all.own.extend(new);
            all.formula_timers.extend(formula_timers.iter().cloned());
            all.situation.steps.extend(situation.steps.iter().cloned());
            all.situation.parts.extend(situation.parts.iter().cloned());
            all.others.extend(others.iter().cloned());
        }
        all.changed()
    }

    /// The readings that can be chosen from now.
    pub fn choices(&self) -> &[Order] {
        self.situation.readings()
    }

    /// What is known of the formula and the session.
    pub fn situation(&self) -> &Situation {
        &self.situation
    }

    /// For a recogniser that is not to be offered contractions such as `what's` beside the long forms.
    pub fn without_contractions(mut self) -> Self {
        self.contracted = false;
        self
    }

    /// The lists that have a name beginning with this word, one bit each.
    pub(super) fn opened_by(&self, word: &str) -> u32 {
        let folded = fold(word);
        NameList::ALL
            .into_iter()
            .filter(|list| self.names(*list).opened_by(&folded))
            .map(|list| 1 << list as usize)
            .sum()
    }

    pub(super) fn names(&self, list: NameList) -> &Names {
        self.lists[list as usize].get_or_init(|| Arc::new(Names::new(self.listed(list))))
    }

    /// The lists are made anew when they are next asked for.
    fn changed(mut self) -> Self {
        self.lists = Default::default();
        self
    }

    fn changed_list(mut self, list: NameList) -> Self {
        self.lists[list as usize] = OnceLock::new();
        self
    }

    fn listed(&self, list: NameList) -> Listed {
        // 'Potatoes' that the formula has are no 'potato' of the tables beside.
        let folded = |words: &Vec<String>| words.iter().map(|w| fold(w)).collect::<Vec<_>>();
        let with_tables = |mut names: Listed| {
            let own: BTreeSet<Vec<String>> = names.keys().map(folded).collect();
            for (words, values) in self.table_names() {
                if !own.contains(&folded(&words)) {
                    names.insert(words, values);
                }
            }
            names
        };
        match list {
            NameList::Own => self.own_names(|o| &o.id, true),
            NameList::Any => with_tables(self.own_names(|o| &o.id, true)),
            NameList::Stuff => with_tables(self.own_names(|o| &o.table, false)),
            NameList::TableStuff => {
                let mut names = self.table_names();
                for (words, values) in self.own_names(|o| &o.table, false) {
                    names.entry(words).or_insert(values);
                }
                names
            }
            NameList::OwnStuff => self.own_names(|o| &o.table, false),
            NameList::Replaceable => {
                let mut names = self.table_names();
                for values in names.values_mut() {
                    values.retain(|(name, _)| crate::swap::options(name).is_ok());
                }
                names.retain(|_, values| !values.is_empty());
                names
            }
            NameList::Timer => self.timer_names(),
            NameList::Food => self.food_names(),
            NameList::Piece => self.piece_names(),
            NameList::Part => self.part_names(),
            NameList::Other => self.others.iter().cloned().collect(),
            NameList::Call => self.call_names(),
            NameList::Choice => self.choice_names(),
            NameList::Step => self.step_names(),
            NameList::Dish => self.dish_names(),
            NameList::Title => self.title_names(),
        }
    }

    /// The formula's ingredients by every way to say them. A full name or alias stands for its own ingredient; a
    /// shorter form stands for every ingredient that it may mean.
    fn own_names(&self, value: impl Fn(&Own) -> &String, with_others: bool) -> Listed {
        let mut full = Listed::new();
        let mut short = Listed::new();
        for own in &self.own {
            let id = own.id.replace(['_', '-'], " ");
            let names: Vec<&str> = std::iter::once(own.name.as_str())
                .chain(own.also.iter().map(String::as_str))
                .chain(own.or.iter().filter(|_| with_others).map(String::as_str))
                .collect();
            for name in names {
                let words = name_words(name);
                for form in numbers_of(&words, own.counted) {
                    full.entry(form).or_default().push((value(own).clone(), 0));
                }
                for part in parts(&words) {
                    for form in numbers_of(&part, own.counted) {
                        short
                            .entry(form)
                            .or_default()
                            .push((value(own).clone(), 40));
                    }
                }
            }
            short
                .entry(name_words(&id))
                .or_default()
                .push((value(own).clone(), 40));
        }
        for (words, values) in short {
            full.entry(words).or_insert(values);
        }
        full
    }

    fn table_names(&self) -> Listed {
        let listed = || Arc::new(self.words_of_table());
        Listed::clone(self.table_words.get_or_init(listed))
    }

    fn words_of_table(&self) -> Listed {
        let mut out = Listed::new();
        for (canonical, _) in self.table.iter() {
            out.entry(name_words(canonical))
                .or_insert_with(|| vec![(canonical.clone(), 50)]);
        }
        for (canonical, spoken) in self.table.iter() {
            for name in spoken {
                // An alias that two ingredients claim stands for both; a canonical name only for itself.
                let entry = out.entry(name_words(name)).or_default();
                if !entry.iter().any(|(v, cost)| v == canonical || *cost == 50) {
                    entry.push((canonical.clone(), 60));
                }
            }
        }
        out
    }

    /// The timers of several dishes, as they are called then.
    fn dish_timers(&self) -> Vec<String> {
        let of = |dish: &DishNames| {
            let timers = dish.lexicon.formula_timers.clone();
            let name = dish.name.clone();
            timers
                .into_iter()
                .map(move |timer| timer_of_dish(&name, &timer))
        };
        self.dishes.iter().flat_map(of).collect()
    }

    fn known_timers(&self) -> impl Iterator<Item = String> {
        self.formula_timers
            .clone()
            .into_iter()
            .chain(self.dish_timers())
    }

    fn timer_names(&self) -> Listed {
        let mut out = Listed::new();
        let dish_timers = self.dish_timers();
        let known: Vec<&String> = self
            .formula_timers
            .iter()
            .chain(&dish_timers)
            .chain(self.situation.timers.iter().map(|here| &here.name))
            .collect();
        let mut last: BTreeMap<String, Vec<&String>> = BTreeMap::new();
        for name in known {
            let words = name_words(name);
            if let Some(word) = words.last().filter(|_| words.len() > 1) {
                let owners = last.entry(word.clone()).or_default();
                if !owners.contains(&name) {
                    owners.push(name);
                }
            }
            out.entry(words).or_insert_with(|| vec![(name.clone(), 0)]);
        }
        for (word, owners) in last {
            // The bench knows which of several runs, so a shared last word is passed on as it was said.
            let value = if owners.len() == 1 {
                owners[0].clone()
            } else {
                word.clone()
            };
            out.entry(vec![word]).or_insert_with(|| vec![(value, 10)]);
        }
        for name in TIMER_NAMES {
            let words = name_words(name);
            let same: Vec<String> = words.iter().map(|w| fold(w)).collect();
            let taken = out
                .keys()
                .any(|k| k.iter().map(|w| fold(w)).eq(same.iter().cloned()));
            if !taken {
                out.insert(words, vec![((*name).to_string(), 30)]);
            }
        }
        out
    }

    fn food_names(&self) -> Listed {
        let mut out = Listed::new();
        for name in &self.foods {
            let words = name_words(name);
            // `leftover` and `leftovers` are one food.
            let folded = |words: &[String]| words.iter().map(|w| fold(w)).collect::<Vec<_>>();
            let same = folded(&words);
            if !out.keys().any(|known| folded(known) == same) {
                out.insert(words, vec![(name.clone(), 0)]);
            }
        }
        out
    }

    fn piece_names(&self) -> Listed {
        let words = name_words(&self.piece);
        numbers_of(&words, true)
            .into_iter()
            .map(|w| (w, vec![(self.piece.clone(), 0)]))
            .collect()
    }

    fn part_names(&self) -> Listed {
        let parts = self.situation.parts.iter();
        parts
            .map(|part| (name_words(part), vec![(part.clone(), 0)]))
            .collect()
    }

    fn choice_names(&self) -> Listed {
        let mut out: Listed = BTreeMap::new();
        for (words, i) in answers(self.choices(), &self.situation) {
            out.entry(words).or_default().push((i.to_string(), 0));
        }
        for (i, place) in PLACES.iter().enumerate().take(self.choices().len()) {
            out.insert(
                name_words(&format!("{place} one")),
                vec![(i.to_string(), 0)],
            );
            out.insert(name_words(place), vec![(i.to_string(), 0)]);
        }
        // A word that tells nothing is no answer.
        out.retain(|_, values| values.iter().all(|(v, _)| *v == values[0].0));
        out
    }

    fn step_names(&self) -> Listed {
        let mut out = Listed::new();
        for (at, title) in self.situation.steps.iter().enumerate() {
            let number = (at + 1).to_string();
            out.entry(name_words(title)).or_default().push((number, 0));
        }
        out
    }

    fn dish_names(&self) -> Listed {
        let mut out = Listed::new();
        for dish in self.dishes.iter() {
            for words in dish.spoken() {
                let value = (dish.id.0.to_string(), 0);
                out.entry(words).or_default().push(value);
            }
        }
        // Its own everyday name stands for one dish, whatever others end so.
        for dish in self.dishes.iter() {
            out.insert(name_words(&dish.name), vec![(dish.id.0.to_string(), 0)]);
        }
        out
    }

    fn title_names(&self) -> Listed {
        let mut out = Listed::new();
        for title in self.situation.book.iter() {
            let names = DishNames {
                id: DishRef(0),
                name: title.clone(),
                also: Vec::new(),
                lexicon: Arc::new(Self::empty()),
            };
            for words in names.spoken() {
                out.entry(words).or_default().push((title.clone(), 0));
            }
        }
        // A name in full stands for itself.
        for title in self.situation.book.iter() {
            out.insert(name_words(title), vec![(title.clone(), 0)]);
        }
        out
    }

    fn call_names(&self) -> Listed {
        self.call
            .iter()
            .map(|n| (name_words(n), vec![(n.clone(), 0)]))
            .collect()
    }
}

/// What a dish's timer is called where several are made: `soup simmer`.
pub fn timer_of_dish(dish: &str, timer: &str) -> String {
    let (dish_words, timer_words) = (name_words(dish), name_words(timer));
    let says_it = dish_words.iter().any(|w| timer_words.contains(w));
    if says_it {
        timer.to_owned()
    } else {
        format!("{dish} {timer}")
    }
}

/// The ways to point at one of several readings by its place.
const PLACES: [&str; 4] = ["first", "second", "third", "fourth"];

/// A name, and for things that are counted the name in the other number.
fn numbers_of(words: &[String], counted: bool) -> Vec<Vec<String>> {
    let mut out = vec![words.to_vec()];
    if let Some(last) = words.last().filter(|_| counted) {
        let other = if fold(last) == *last {
            plural(last)
        } else {
            fold(last)
        };
        if other != *last {
            let mut form = words.to_vec();
            form.pop();
            form.push(other);
            out.push(form);
        }
    }
    out
}

/// Shorter ways to say a name: what is left when describing words drop out, and a telling first word alone.
fn parts(words: &[String]) -> Vec<Vec<String>> {
    let n = words.len();
    let mut out = Vec::new();
    if let Some(of) = words
        .iter()
        .position(|w| w == "of" || w == "for" || w == "in")
        .filter(|at| *at > 0 && *at + 1 < n)
    {
        let (head, tail) = (&words[..of], &words[of + 1..]);
        out.push(tail.to_vec());
        if words[of] != "of" {
            out.push(head.to_vec());
        }
    } else if (2..=5).contains(&n) {
        // Every choice of the words before the last, kept in order.
        for mask in 0..(1_u32 << (n - 1)) - 1 {
            let kept = (0..n - 1).filter(|i| mask & (1 << i) != 0).chain([n - 1]);
            out.push(kept.map(|i| words[i].clone()).collect());
        }
        if !ADJECTIVES.contains(&words[0].as_str()) {
            out.push(vec![words[0].clone()]);
        }
    }
    out
}
