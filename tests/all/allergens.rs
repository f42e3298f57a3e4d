//! Allergens of everyday names that somebody wrote down without having seen the tables.

use commis::bench::kitchen_lexicon;
use commis::order::Order;
use commis::safety::{Contents, Law, Matters, Wish, allergens, read_name, topic};
use commis::understand::{Lexicon, Understood, parse};

use super::rehearsal::Rehearsal;

/// Name, what is practically always in it, what often is, a remark. By what such food is commonly made of: common
/// practice, no source.
const NAMES: [&str; 4] = [
    include_str!("../tables/allergens.tsv"),
    include_str!("../tables/allergens_second.tsv"),
    include_str!("../tables/allergens_third.tsv"),
    include_str!("../tables/allergens_fourth.tsv"),
];

fn ids(of: Matters) -> Vec<&'static str> {
    allergens(Law::Eu)
        .filter(|a| a.of.meets(of))
        .map(|a| a.id.as_str())
        .collect()
}

/// Nothing is missed that is neither 'may' nor 'not known'; few names are not known, and little is said to be in it that
/// is not.
#[test]
fn everyday_names() {
    let (mut rows, mut unknown, mut held) = (0, Vec::new(), 0);
    let (mut missed, mut wrong) = (Vec::new(), Vec::new());
    // Another list of the same columns can be looked at: ALLERGENS_LIST=/path/to/list.tsv.
    let other = std::env::var_os("ALLERGENS_LIST").map(|p| std::fs::read_to_string(p).unwrap());
    let lists = other.as_deref().map_or(NAMES.to_vec(), |other| vec![other]);
    for line in lists
        .iter()
        .flat_map(|list| list.lines().skip(1))
        .filter(|l| !l.starts_with('#'))
    {
        let mut columns = line.split('\t');
        let name = columns.next().unwrap();
        let mut set = || -> Vec<&str> {
            let list = columns.next().unwrap_or_default().split(',');
            list.map(str::trim).filter(|a| !a.is_empty()).collect()
        };
        let (contains, may) = (set(), set());
        for id in contains.iter().chain(&may) {
            assert!(allergens(Law::Eu).any(|a| a.id == *id), "{name}: {id}");
        }
        rows += 1;
        let read = read_name(name);
        let (holds, perhaps) = (ids(read.holds), ids(read.may));
        held += holds.len();
        if read.unknown {
            unknown.push(name);
        }
        for id in &contains {
            if !holds.contains(id) && !perhaps.contains(id) && !read.unknown {
                missed.push(format!("{name}: {id}"));
            }
        }
        for id in &holds {
            if !contains.contains(id) && !may.contains(id) {
                wrong.push(format!("{name}: {id}"));
            }
        }
    }
    println!(
        "{rows} names: missed {}, not known {}, of {held} held {} not in it: {missed:?}, {unknown:?}, {wrong:?}",
        missed.len(),
        unknown.len(),
        wrong.len()
    );
    assert!(rows >= 400 || other.is_some(), "{rows} names");
    assert_eq!(missed, Vec::<String>::new());
    assert!(unknown.len() * 10 <= rows, "not known: {unknown:?}");
    assert!(wrong.len() * 100 <= held * 3, "not in it: {wrong:?}");
}

/// How presence is asked for, how absence, how for a person, and how for a way of eating.
const PRESENT: &[&str] = &[
    "is there WHAT in it",
    "is there any WHAT in this",
    "does it contain WHAT",
    "does this have any WHAT in it",
    "is WHAT in this",
    "could it contain WHAT",
    "are there traces of WHAT in it",
    "has it got any WHAT in it",
];
const ABSENT: &[&str] = &[
    "is it WHAT free",
    "is this free of WHAT",
    "is it free from WHAT",
    "is it made without WHAT",
    "is there no WHAT in it",
    "is it safe for someone with a WHAT allergy",
    "can my friend eat this she is allergic to WHAT",
    "my guest is allergic to WHAT can she eat it",
    "i am allergic to WHAT can i eat this",
    "can someone who is allergic to WHAT eat this",
    "is this ok for people who cannot eat WHAT",
    "can i serve this to someone allergic to WHAT",
];
const DIETS: &[&str] = &[
    "is it DIET",
    "is this DIET",
    "can a DIET eat this",
    "is it suitable for DIETs",
    "my friend is DIET can she eat this",
    "is this ok for a DIET",
];

fn contains(text: &str, lexicon: &Lexicon) -> (String, Wish) {
    match parse(text, lexicon) {
        Understood::Order(Order::Contains { what, absent }) => (what.to_string(), Wish::of(absent)),
        other => panic!("`{text}`: {other:?}"),
    }
}

/// All wordings, all allergens, all states: the first words are the answer.
#[test]
fn the_first_word_is_the_answer() {
    let lexicon = kitchen_lexicon();
    // What is asked, what has it, what may, and how an absence is told.
    let asked = [
        ("gluten", "plain flour", "baking powder", "gluten"),
        ("wheat", "plain flour", "baking powder", "wheat"),
        ("milk", "butter", "margarine", "milk"),
        ("dairy", "cream", "margarine", "milk"),
        ("egg", "meringue", "custard powder", "egg"),
        ("nuts", "walnuts", "dark chocolate", "nuts"),
        ("peanuts", "peanut butter", "mixed nuts", "peanuts"),
        ("sesame", "tahini", "mixed seeds", "sesame"),
        ("soya", "tofu", "margarine", "soya"),
        ("fish", "tuna", "thai green curry paste", "fish"),
        ("shellfish", "prawns", "thai green curry paste", "shellfish"),
        (
            "crustaceans",
            "prawns",
            "thai green curry paste",
            "crustaceans",
        ),
        ("molluscs", "squid", "fish sauce", "molluscs"),
        ("celery", "celeriac", "stock cube", "celery"),
        ("mustard", "dijon mustard", "curry powder", "mustard"),
        ("lupin", "lupin flour", "egg replacer", "lupin"),
        ("sulphites", "white wine", "raisins", "sulphites"),
        ("lactose", "whole milk", "margarine", "lactose"),
        ("pork", "bacon", "sausages", "pork"),
        ("alcohol", "dark rum", "cider", "alcohol"),
    ];
    let tells = |names: &[&str], text: &str, said: &str| {
        let (what, wish) = contains(text, &lexicon);
        let topic = topic(&what).unwrap_or_else(|| panic!("{text}: {what}"));
        let answer = Contents::of_names(names.iter().copied()).answer(&topic, wish);
        assert!(answer.starts_with(said), "{text}: {names:?}: {answer}");
    };
    for (word, holds, may, spoken) in asked {
        let none =
            format!("Nothing with {spoken} that I know of in this formula; check the packets.");
        for (wordings, yes, perhaps) in [
            (PRESENT, "Yes. It contains ", "Perhaps. "),
            (ABSENT, "No. It contains ", "Not for sure. "),
        ] {
            for wording in wordings {
                let text = wording.replace("WHAT", word);
                tells(&["rice", holds], &text, yes);
                tells(&["rice", may], &text, perhaps);
                tells(
                    &["rice", "umbrake"],
                    &text,
                    "I cannot say. I do not know umbrake",
                );
                tells(&["rice"], &text, &none);
            }
        }
    }
    for (diet, against, of) in [
        ("vegan", "honey", "from animals"),
        ("vegetarian", "bacon", "with meat or fish"),
    ] {
        for wording in DIETS {
            let text = wording.replace("DIET", diet);
            tells(&["rice", against], &text, "No. It contains ");
            tells(&["rice", "umbrake"], &text, "I cannot say.");
            tells(&["rice"], &text, &format!("Nothing {of} that I know of"));
        }
    }
}

/// The session says it, and so do its opening and the keys.
#[test]
fn the_session_answers_from_the_same_source() {
    let said = |script: &str| {
        Rehearsal::play("lemon-shortbread", script)
            .last()
            .to_owned()
    };
    assert_eq!(
        said("0:00 say is it dairy free\n"),
        "No. It contains milk: the cold butter."
    );
    assert_eq!(
        said("0:00 say is there any milk in it\n"),
        "Yes. It contains milk: the cold butter."
    );
    assert_eq!(
        said("0:00 say can my friend eat this she is allergic to nuts\n"),
        "Nothing with nuts that I know of in this formula; check the packets."
    );
    let by_key = Rehearsal::play(
        "lemon-shortbread",
        "0:00 say next\n+20s key dot\n+1s key 9\n+1s key 3\n+1s key 2\n",
    );
    assert!(by_key.last().contains("milk"), "{}", by_key.last());
}
