//! Reads the name of an ingredient: its head and what stands before it, what it is said to be without, and what is one
//! of several things.

use super::law;
use super::matter::Matters;
use super::phrase::marked_tokens;
use super::vocabulary::{Food, Vocabulary, vocabulary};

/// What a name tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct NameContents {
    /// In it.
    pub holds: Matters,
    /// In it or not, as the packet says.
    pub may: Matters,
    /// Some of the name means nothing to the program: there may be anything in it.
    pub unknown: bool,
}

impl NameContents {
    fn with(self, other: Self) -> Self {
        let holds = self.holds.with(other.holds);
        Self {
            holds,
            may: self.may.with(other.may).without(holds),
            unknown: self.unknown || other.unknown,
        }
    }

    /// One or the other: what only one holds is not sure.
    fn or(self, other: Self) -> Self {
        let holds = self.holds.and(other.holds);
        let all = NameContents::with(self, other);
        Self {
            holds,
            may: all.may.with(all.holds).without(holds),
            unknown: all.unknown,
        }
    }

    fn softened(self) -> Self {
        Self {
            holds: Matters::NONE,
            may: self.may.with(self.holds),
            ..self
        }
    }
}

/// One piece of a name.
#[derive(Debug, Clone)]
enum Piece {
    /// A known food, and whether only its taste is meant.
    Food(Food, bool),
    Neutral,
    Unknown,
    /// A word or mark that parts two things.
    Joint(Joint),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Joint {
    /// A comma, `and`, `with`, `in`, `of`.
    And,
    /// `or`.
    Or,
    /// `for`, `to`: what follows is what it is for, up to a comma.
    Aside,
    /// A comma ends an aside.
    Comma,
}

/// Reads a name: 'gluten-free oat biscuits, or digestives'.
pub fn read_name(name: &str) -> NameContents {
    let vocabulary = vocabulary();
    let mut words = marked_tokens(name);
    split_closed(&mut words, vocabulary);
    let without = take_qualifiers(&mut words, vocabulary);
    let pieces = pieces_of(&words, vocabulary);
    without.apply(join(&pieces))
}

/// 'oatmilk' is oat milk, where the whole is not known and both halves are.
fn split_closed(words: &mut Vec<String>, vocabulary: &Vocabulary) {
    let known = |word: &str| vocabulary.food(&[word.to_owned()]).is_some();
    let mut at = 0;
    while at < words.len() {
        let word = words[at].clone();
        if word.len() >= 7 && word.is_ascii() && !known(&word) && !vocabulary.is_neutral(&word) {
            let cut = (3..=word.len() - 3).find(|&i| known(&word[..i]) && known(&word[i..]));
            if let Some(i) = cut {
                words.splice(at..=at, [word[..i].to_owned(), word[i..].to_owned()]);
            }
        }
        at += 1;
    }
}

/// What a name is said to be without, or to hold perhaps.
#[derive(Debug, Default)]
struct Qualifiers {
    without: Matters,
    /// A food that was left out: what is in it may still come from elsewhere.
    left_out: Matters,
    /// Sure of nothing: 'imitation', 'free from'.
    soft: bool,
    /// Made to stand in for it: what makes it so is in the packet.
    stands_in: bool,
    oats_stay: bool,
    traces: Matters,
}

impl Qualifiers {
    fn apply(&self, read: NameContents) -> NameContents {
        let mut out = if self.soft { read.softened() } else { read };
        out.may = out.may.with(out.holds.and(self.left_out));
        out.holds = out.holds.without(self.left_out);
        let taken = out.holds.with(out.may).meets(self.without);
        let oats = law::matters("oats").and(out.holds);
        out.holds = out.holds.without(self.without);
        out.may = out.may.without(self.without);
        if self.oats_stay {
            out.may = out.may.with(oats);
        }
        if self.stands_in && taken {
            let others = law::matters("soybeans").with(law::matters("tree nuts"));
            out.may = out.may.with(others.without(self.without));
        }
        out.may = out.may.with(self.traces).without(out.holds);
        out
    }
}

fn is_joint(word: &str) -> bool {
    matches!(word, "and" | "or" | "nor" | "free")
}

/// What can be left out.
#[derive(Debug, Clone, Copy)]
enum Named {
    /// An allergen or another matter: nothing of it is in the food.
    Matter(Matters),
    /// A food that holds some: other things may bring the same.
    Food(Matters),
}

fn named(word: &str, vocabulary: &Vocabulary) -> Option<Named> {
    let by_law = law::matters(word);
    if !by_law.is_empty() {
        return Some(Named::Matter(by_law));
    }
    vocabulary
        .food(&[word.to_owned()])
        .map(|food| food.holds)
        .filter(|m| !m.is_empty())
        .map(Named::Food)
}

/// Names of allergens alone: 'gluten and dairy free' leaves out both, in 'walnut and dairy free cake' the walnut stays.
const CLASSES: [&str; 11] = [
    "gluten", "dairy", "lactose", "allergen", "soya", "soy", "nut", "peanut", "wheat", "casein",
    "animal",
];

fn take_qualifiers(words: &mut Vec<String>, vocabulary: &Vocabulary) -> Qualifiers {
    let mut found = Qualifiers::default();
    let mut drop = vec![false; words.len()];
    let animal = law::matters("vegan");
    for at in 0..words.len() {
        let word = words[at].clone();
        let next = words.get(at + 1).map(String::as_str);
        if is_in_a_name(words, at, vocabulary) {
            continue;
        }
        match word.as_str() {
            "free" if matches!(next, Some("from" | "of")) => {
                drop[at] = true;
                drop[at + 1] = true;
                if !leave_out(words, at + 2, vocabulary, &mut drop, &mut found) {
                    found.soft = true;
                }
            }
            "free" => {
                let mut back = at;
                while back > 0 {
                    let before = words[back - 1].clone();
                    // Beyond the word itself only allergens by their own names: what is a food may be in it.
                    let in_row = back < at && !CLASSES.contains(&before.as_str());
                    if is_joint(&before) {
                        let class = back > 1 && named(&words[back - 2], vocabulary).is_some();
                        if !class {
                            break;
                        }
                    } else if let Some(out) = named(&before, vocabulary) {
                        if in_row {
                            found.traces = found.traces.with(match out {
                                Named::Matter(m) | Named::Food(m) => m,
                            });
                        } else {
                            leave(&mut found, &before, out);
                        }
                    } else {
                        break;
                    }
                    back -= 1;
                }
                drop[back..=at].fill(true);
            }
            "unsulphured" | "unsulfured" | "unsulphurated" => {
                drop[at] = true;
                found.without = found.without.with(law::matters("sulphites"));
            }
            // 'Non dairy' cream has casein in it as often as not.
            "non" if matches!(next, Some("dairy")) => {
                drop[at..=at + 1].fill(true);
                found.left_out = found.left_out.with(law::matters("dairy"));
                found.traces = found.traces.with(law::matters("dairy"));
                found.stands_in = true;
            }
            "no" | "without" | "sans" | "non" | "minus" | "excluding" | "zero" => {
                if leave_out(words, at + 1, vocabulary, &mut drop, &mut found) {
                    drop[at] = true;
                }
            }
            "vegan" | "plantbased" => {
                drop[at] = true;
                found.without = found.without.with(animal);
                found.stands_in = true;
            }
            "plant" if matches!(next, Some("based" | "base")) => {
                drop[at] = true;
                drop[at + 1] = true;
                found.without = found.without.with(animal);
                found.stands_in = true;
            }
            "vegetarian" | "veggie" => {
                drop[at] = true;
                found.without = found.without.with(law::matters("vegetarian"));
                found.stands_in = true;
            }
            "imitation" | "mock" | "fake" | "faux" | "artificial" | "substitute"
            | "alternative" | "replacer" | "replacement" | "replace" | "analogue" | "analog" => {
                drop[at] = true;
                found.soft = true;
                found.stands_in = true;
                if at > 0
                    && let Some(Named::Matter(out)) = named(&words[at - 1], vocabulary)
                    && words[at] != "imitation"
                    && words[at] != "mock"
                {
                    found.without = found.without.with(out.and(law::matters("eggs")));
                }
            }
            "may" if next == Some("contain") => {
                drop[at..].fill(true);
                for other in &words[at + 2..] {
                    found.traces = found.traces.with(law::matters(other));
                }
                break;
            }
            _ => {
                if let Some(stem) = word.strip_suffix("less")
                    && let Some(out) = named(stem, vocabulary)
                {
                    drop[at] = true;
                    leave(&mut found, stem, out);
                }
            }
        }
    }
    let mut at = 0;
    words.retain(|_| {
        at += 1;
        !drop[at - 1]
    });
    found
}

/// A name of several words that is known as a whole has the word in it: 'egg replacer', 'vegetarian sausage'.
fn is_in_a_name(words: &[String], at: usize, vocabulary: &Vocabulary) -> bool {
    let first = (at + 1).saturating_sub(vocabulary.longest);
    (first..=at).any(|start| {
        let longest = words.len().min(start + vocabulary.longest);
        (at.max(start + 1) + 1..=longest).any(|end| vocabulary.food(&words[start..end]).is_some())
    })
}

fn leave(found: &mut Qualifiers, word: &str, out: Named) {
    let out = match out {
        Named::Matter(out) => out,
        Named::Food(out) => {
            found.left_out = found.left_out.with(out);
            return;
        }
    };
    found.without = found.without.with(out);
    match word {
        "gluten" => found.oats_stay = true,
        "nut" => found.without = found.without.with(law::matters("peanuts")),
        "milk" | "dairy" => {
            found.stands_in = true;
            found.without = found.without.with(law::matters("lactose"));
        }
        _ => {}
    }
}

/// The row of allergens from here on: 'gluten, dairy or nuts'. Behind a comma it is only a row where an 'or' or 'and'
/// ends it. False where none stands here.
fn leave_out(
    words: &[String],
    from: usize,
    vocabulary: &Vocabulary,
    drop: &mut [bool],
    found: &mut Qualifiers,
) -> bool {
    let mut any = false;
    let mut at = from;
    while let Some(word) = words.get(at) {
        if let Some(out) = named(word, vocabulary) {
            leave(found, word, out);
            drop[from..=at].fill(true);
            any = true;
        } else if word == "," {
            let row = words[at + 1..]
                .iter()
                .take_while(|w| *w == "," || is_joint(w) || named(w, vocabulary).is_some());
            if !any || !row.clone().any(|w| is_joint(w)) {
                break;
            }
        } else if !is_joint(word)
            && !matches!(word.as_str(), "added" | "any" | "the" | "trace" | "of")
        {
            break;
        }
        at += 1;
    }
    any
}

/// The cheapest way to lay known names over the words: as few unknown words, then as few pieces, and the longest last.
fn pieces_of(words: &[String], vocabulary: &Vocabulary) -> Vec<Piece> {
    let n = words.len();
    let mut best: Vec<(usize, usize)> = vec![(usize::MAX, 0); n + 1];
    best[0] = (0, 0);
    for end in 1..=n {
        for start in end.saturating_sub(vocabulary.longest)..end {
            if best[start].0 == usize::MAX {
                continue;
            }
            let cost = if vocabulary.food(&words[start..end]).is_some() {
                10
            } else if end - start > 1 {
                continue;
            } else if joint(&words[start]).is_some() {
                9
            } else if vocabulary.is_neutral(&words[start]) {
                11
            } else {
                100
            };
            if best[start].0 + cost < best[end].0 {
                best[end] = (best[start].0 + cost, start);
            }
        }
    }
    let mut pieces = Vec::new();
    let mut end = n;
    while end > 0 {
        let start = best[end].1;
        let piece = match vocabulary.food(&words[start..end]) {
            Some(food) => Piece::Food(food, false),
            None => match joint(&words[start]) {
                Some(joint) => Piece::Joint(joint),
                None if vocabulary.is_neutral(&words[start]) => Piece::Neutral,
                None => Piece::Unknown,
            },
        };
        // 'cheese flavour': only the taste of it.
        if matches!(piece, Piece::Food(..))
            && words.get(end).is_some_and(|w| {
                matches!(
                    w.as_str(),
                    "flavour" | "flavor" | "flavoured" | "flavored" | "style" | "taste"
                )
            })
            && let Piece::Food(food, _) = piece
        {
            pieces.push(Piece::Food(food, true));
        } else {
            pieces.push(piece);
        }
        end = start;
    }
    pieces.reverse();
    pieces
}

fn joint(word: &str) -> Option<Joint> {
    Some(match word {
        "," => Joint::Comma,
        "and" | "with" | "in" | "of" | "on" | "from" | "plus" | "by" | "into" | "over" => {
            Joint::And
        }
        "or" | "such" | "like" => Joint::Or,
        "for" | "to" => Joint::Aside,
        _ => return None,
    })
}

/// The runs between the joints, joined as these say.
fn join(pieces: &[Piece]) -> NameContents {
    let mut all: Option<NameContents> = None;
    let mut group: Option<NameContents> = None;
    let mut run: Vec<&Piece> = Vec::new();
    let mut either = false;
    let mut aside = false;
    let end = Piece::Joint(Joint::Comma);
    for piece in pieces.iter().chain([&end]) {
        let Piece::Joint(joint) = piece else {
            if !aside {
                run.push(piece);
            }
            continue;
        };
        if aside && *joint != Joint::Comma {
            continue;
        }
        if let Some(read) = read_run(&run) {
            group = Some(match group {
                None => read,
                Some(before) if either => before.or(read),
                Some(before) => before.with(read),
            });
        }
        run.clear();
        either = *joint == Joint::Or;
        aside = *joint == Joint::Aside;
        if *joint == Joint::Comma
            && let Some(read) = group.take()
        {
            all = Some(all.map_or(read, |before| before.with(read)));
        }
    }
    all.unwrap_or(NameContents {
        unknown: true,
        ..NameContents::default()
    })
}

/// One run of pieces: the last food is the head.
fn read_run(run: &[&Piece]) -> Option<NameContents> {
    let head_at = run.iter().rposition(|p| matches!(p, Piece::Food(..)));
    let strange = run.iter().any(|p| matches!(p, Piece::Unknown));
    let Some(head_at) = head_at else {
        return strange.then_some(NameContents {
            unknown: true,
            ..NameContents::default()
        });
    };
    let Piece::Food(head, taste) = run[head_at] else {
        return None;
    };
    let before: Vec<(&Food, bool)> = run[..head_at]
        .iter()
        .filter_map(|p| match p {
            Piece::Food(food, taste) => Some((food, *taste)),
            _ => None,
        })
        .collect();
    let after_is_strange = run[head_at + 1..]
        .iter()
        .any(|p| matches!(p, Piece::Unknown));
    let tags = head.tags;
    let mut read = NameContents {
        holds: head.holds,
        may: head.may,
        unknown: after_is_strange
            || tags.has("opaque")
            || tags.has("form") && before.is_empty()
            || strange && !tags.has("plain"),
    };
    // 'ugali flour' may be of anything.
    if strange && tags.has("swaps") {
        read = read.softened();
    }
    let wheat = law::matters("wheat");
    let replaces = |food: &Food| {
        food.tags.has("base")
            && (!head.holds.meets(wheat) || tags.has("swaps") || food.tags.has("grain"))
    };
    if (tags.has("swaps") || tags.has("doubts")) && before.iter().any(|(f, _)| replaces(f)) {
        read.may = if tags.has("swaps") {
            Matters::NONE
        } else {
            read.may.with(read.holds)
        };
        read.holds = Matters::NONE;
    }
    if *taste {
        read = read.softened();
    }
    for (food, taste) in before {
        let mut one = NameContents {
            holds: food.holds,
            may: food.may,
            unknown: false,
        };
        if tags.has("dairy") {
            let flesh = law::matters("meat");
            one.holds = one.holds.without(flesh);
            one.may = one.may.without(flesh);
        }
        if taste || tags.has("for") && food.tags.has("dish") {
            one = one.softened();
        }
        read = read.with(one);
    }
    Some(read)
}

#[cfg(test)]
mod tests {
    use super::read_name;

    fn told(name: &str) -> String {
        let read = read_name(name);
        let words = |m: super::Matters| {
            m.words()
                .filter(|w| *w != "lactose")
                .collect::<Vec<_>>()
                .join(" ")
        };
        let unknown = if read.unknown { " ?" } else { "" };
        format!("{}|{}{unknown}", words(read.holds), words(read.may))
    }

    #[test]
    fn heads_and_what_stands_before_them() {
        for (name, wanted) in [
            ("strong white flour", "wheat|"),
            ("rice flour", "|"),
            ("oat milk", "oats|wheat barley"),
            ("oatmilk", "oats|wheat barley"),
            ("almond milk", "almond|"),
            ("crème fraîche", "milk|"),
            ("goats' cheese", "milk|rennet"),
            ("peanut butter", "peanut|"),
            ("butter beans", "|"),
            ("chickpea pasta", "|wheat egg"),
            ("rice noodles", "|"),
            ("egg noodles", "wheat egg|milk"),
            ("400 g tin of chopped tomatoes", "|"),
            ("tuna in brine, drained", "fish|"),
            ("butter, softened, plus extra for the tin", "milk|"),
            ("butter or sunflower oil", "|milk"),
            ("a knob of butter", "milk|"),
            ("dried apricots", "sulphites|"),
            ("eggplant", "|"),
            ("oyster mushrooms", "|"),
            ("prawn flavour crisps", "|wheat crustaceans soya milk"),
        ] {
            assert_eq!(told(name), wanted, "{name}");
        }
    }

    #[test]
    fn said_to_be_without() {
        for (name, wanted) in [
            ("gluten-free flour", "|"),
            ("flour (gluten free)", "|"),
            ("gluten-free oats", "|oats"),
            ("dairy-free spread", "|soya"),
            ("biscuits without nuts", "wheat|barley egg soya milk"),
            ("eggless mayonnaise", "|soya mustard"),
            ("nut-free pesto", "milk rennet|egg"),
            ("free from gluten and dairy pizza", "|"),
            ("free from gluten, dairy and nuts biscuits", "|"),
            ("oat milk, gluten free", "|"),
            ("bread (gluten free)", "|"),
            ("butter, gluten free", "milk|"),
            ("walnut and gluten free bread", "|"),
            ("shortbread without butter", "wheat|"),
            ("chocolate with no nuts, butter", "milk|"),
        ] {
            let told = told(name);
            assert_eq!(
                told.split('|').next(),
                wanted.split('|').next(),
                "{name}: {told}"
            );
        }
        for (name, perhaps) in [
            ("oat milk, gluten free", "oats"),
            ("walnut and gluten free bread", "walnut"),
            ("shortbread without butter", "milk"),
            ("non-dairy whipped topping", "milk"),
            ("peanut butter-free spread", "milk"),
            ("milk and gluten free flour", "milk"),
        ] {
            let read = read_name(name);
            assert!(!read.unknown, "{name}");
            assert!(
                read.may.with(read.holds).words().any(|w| w == perhaps),
                "{name}: {}",
                told(name)
            );
        }
        assert!(!read_name("vegan butter").holds.words().any(|w| w == "milk"));
        let lactose_free = read_name("lactose-free milk");
        assert_eq!(lactose_free.holds.words().collect::<Vec<_>>(), ["milk"]);
    }

    #[test]
    fn what_means_nothing_is_told() {
        for name in [
            "smoked paprika paste",
            "gubbins",
            "spice mix of the house",
            "umbrake sauce",
        ] {
            let read = read_name(name);
            assert!(read.unknown || !read.may.is_empty(), "{name}");
        }
        assert!(read_name("smoked paprika paste").unknown);
        assert!(read_name("").unknown);
    }
}
