//! The spoken language as a whole: the page of examples, the network, doubts, talk that is no order.

use std::collections::{BTreeMap, BTreeSet};

use commis::order::{Order, StepId};
use commis::understand::{
    Lexicon, Network, Understood, literal_words, network, parse, question_between,
};
use proptest::prelude::*;

use super::sample::lexicon;

const PAGE: &str = include_str!("../../GRAMMAR.md");

/// The examples of the page: lines such as ``- `next`, `go on` -> `{"intent":"next"}` ``.
fn examples() -> Vec<(Vec<&'static str>, &'static str)> {
    let lines = PAGE.lines().filter(|line| line.starts_with("- `"));
    lines
        .filter_map(|line| {
            let (said, meaning) = line.trim_start_matches("- ").split_once(" -> ")?;
            let said = said.split("`, `").map(|s| s.trim_matches('`')).collect();
            Some((said, meaning.trim_matches('`')))
        })
        .collect()
}

fn kind(order: &Order) -> String {
    order.name()
}

fn all_kinds() -> BTreeSet<String> {
    Order::names().into_iter().collect()
}

fn understood(text: &str, lexicon: &Lexicon) -> Order {
    match parse(text, lexicon) {
        Understood::Order(intent) => intent,
        other => panic!("`{text}`: {other:?}"),
    }
}

#[test]
fn every_example_of_the_page_means_what_it_says() {
    let lexicon = lexicon().clone();
    let examples = examples();
    assert!(
        examples.len() >= 100,
        "the page lost its examples: {}",
        examples.len()
    );
    let mut wrong = Vec::new();
    for (said, meaning) in examples {
        let meant: Order =
            serde_json::from_str(meaning).unwrap_or_else(|e| panic!("`{meaning}`: {e}"));
        for text in said {
            let got = parse(text, &lexicon);
            if got != Understood::Order(meant.clone()) {
                wrong.push(format!("`{text}`: expected {meant:?}, found {got:?}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_meaning_has_at_least_four_wordings_on_the_page() {
    let mut count: BTreeMap<String, usize> = all_kinds().into_iter().map(|k| (k, 0)).collect();
    for (said, meaning) in examples() {
        let meant: Order = serde_json::from_str(meaning).expect("another test reads every meaning");
        *count.entry(kind(&meant)).or_default() += said.len();
    }
    let few: Vec<_> = count.iter().filter(|(_, n)| **n < 4).collect();
    assert!(few.is_empty(), "fewer than four wordings: {few:?}");
}

/// Kinds of meaning with an example that this network can hear.
fn heard_kinds(network: &Network) -> BTreeSet<String> {
    let mut heard = BTreeSet::new();
    for (said, meaning) in examples() {
        let meant: Order = serde_json::from_str(meaning).expect("another test reads every meaning");
        if said
            .iter()
            .any(|text| network.accepts(&text.split(' ').collect::<Vec<_>>()))
        {
            heard.insert(kind(&meant));
        }
    }
    heard
}

#[test]
fn every_meaning_can_be_heard() {
    let missing = &all_kinds() - &heard_kinds(&network(lexicon()));
    assert!(missing.is_empty(), "no wording in the network: {missing:?}");
}

#[test]
fn whatever_the_network_allows_has_a_meaning() {
    let lexicon = lexicon().clone().with_call_name("commis").with_choices(&[
        Order::GoToStep { step: StepId(13) },
        Order::GoToStep { step: StepId(30) },
    ]);
    let network = network(&lexicon);
    for seed in 1..=2 {
        for text in network.phrases(seed, 3000) {
            let got = parse(&text, &lexicon);
            assert!(
                !matches!(got, Understood::Nothing { .. }),
                "`{text}`: {got:?}"
            );
            assert!(
                network.accepts(&text.split(' ').collect::<Vec<_>>()),
                "{text}"
            );
        }
    }
    assert_eq!(network.phrases(7, 20), network.phrases(7, 20));
    assert_ne!(network.phrases(7, 20), network.phrases(8, 20));
}

#[test]
fn the_network_is_deterministic_minimal_and_without_dead_ends() {
    let network = network(lexicon());
    let finals: BTreeMap<u32, u32> = network
        .finals
        .iter()
        .map(|(s, c)| (*s, c.to_bits()))
        .collect();
    let mut futures = BTreeSet::new();
    for state in 0..network.states {
        let arcs = network.leaving(state);
        let words: BTreeSet<&str> = arcs.iter().map(|a| &*a.word).collect();
        assert_eq!(
            words.len(),
            arcs.len(),
            "state {state} has two arcs for one word"
        );
        assert!(
            !arcs.is_empty() || finals.contains_key(&state),
            "state {state} leads nowhere"
        );
        let mut future: Vec<_> = arcs
            .iter()
            .map(|a| (&*a.word, a.cost.to_bits(), a.to))
            .collect();
        future.sort_unstable();
        assert!(
            futures.insert((finals.get(&state), future)),
            "state {state} has a twin"
        );
    }
    assert!(
        network
            .arcs
            .iter()
            .all(|a| a.cost >= 0.0 && a.cost.is_finite() && !a.word.is_empty())
    );
    let targets: BTreeSet<u32> = network.arcs.iter().map(|a| a.to).collect();
    assert_eq!(
        targets.len() as u32,
        network.states - 1,
        "every state but the start is reached"
    );
    assert!(!targets.contains(&0));
}

#[test]
fn the_shipped_model_knows_the_words_of_the_grammar() {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/models/en-kitchen/graph/words.txt"
    );
    let text = std::fs::read_to_string(path).expect("the model is in the repository");
    let known: BTreeSet<&str> = text
        .lines()
        .filter_map(|line| line.split(' ').next())
        .collect();
    let missing: Vec<&str> = literal_words()
        .into_iter()
        .filter(|w| !known.contains(w))
        .collect();
    assert!(
        missing.is_empty(),
        "the model lacks {missing:?}: say it with other words, or add them to the model"
    );
}

#[test]
fn contractions_are_heard_and_read() {
    let lexicon = lexicon().clone();
    let network = network(&lexicon);
    for (said, meant) in [
        ("what's next", Order::WhatNext),
        ("it's in", Order::Done),
        (
            "i've added the water",
            Order::MarkAdded {
                ingredient: "water".into(),
                also: Vec::new(),
            },
        ),
        (
            "i haven't added the water",
            Order::UnmarkAdded {
                ingredient: "water".into(),
            },
        ),
    ] {
        assert!(
            network.accepts(&said.split(' ').collect::<Vec<_>>()),
            "{said}"
        );
        assert_eq!(understood(said, &lexicon), meant);
    }
    let long = commis::understand::network(&lexicon.without_contractions());
    assert!(!long.accepts(&["what's", "next"]) && long.accepts(&["what", "is", "next"]));
}

#[test]
fn a_short_name_that_two_ingredients_share_is_asked_about() {
    let lexicon = lexicon().clone();
    match parse("how much flour", &lexicon) {
        Understood::Doubt { question, readings } => {
            assert_eq!(
                question,
                "Did you say the strong white flour or the rye flour?"
            );
            assert_eq!(readings.len(), 2);
        }
        other => panic!("{other:?}"),
    }
    for (said, id) in [
        ("rye", "rye"),
        ("rye flour", "rye"),
        ("bread flour", "white"),
        ("white flour", "white"),
        ("strong flour", "white"),
    ] {
        let meant = Order::HowMuch {
            ingredient: id.into(),
            part: None,
            unit: None,
        };
        assert_eq!(understood(&format!("how much {said}"), &lexicon), meant);
    }
}

#[test]
fn the_answer_to_a_question_picks_the_reading() {
    let lexicon = lexicon().clone();
    let Understood::Doubt { readings, .. } = parse("have i added the flour", &lexicon) else {
        panic!("two flours");
    };
    let asked = lexicon.clone().with_choices(&readings);
    for said in [
        "rye",
        "the rye",
        "the rye flour",
        "the second one",
        "i said the rye",
    ] {
        assert_eq!(
            understood(said, &asked),
            Order::HaveAdded {
                ingredient: "rye".into()
            },
            "{said}"
        );
        assert!(
            network(&asked).accepts(&said.split(' ').collect::<Vec<_>>()),
            "{said}"
        );
    }
    let fifteen = understood("go to step fifteen", &lexicon);
    let fifty = fifteen.sounds_like().expect("fifteen sounds like fifty");
    let both = [fifteen.clone(), fifty.clone()];
    assert_eq!(
        question_between(&both, lexicon.situation()),
        "Did you say step fifteen or fifty?"
    );
    let asked = lexicon.with_choices(&both);
    assert_eq!(understood("fifteen", &asked), fifteen);
    assert_eq!(understood("fifty", &asked), fifty);
}

#[test]
fn near_misses_are_mended_only_when_clear_and_harmless() {
    let lexicon = lexicon().clone();
    let how_much = |id: &str| Order::HowMuch {
        ingredient: id.into(),
        part: None,
        unit: None,
    };
    for (said, meant) in [
        ("how much slat", how_much("salt")),
        ("how much of the the butter", how_much("butter")),
        ("um how much well water", how_much("water")),
        ("how much hony", how_much("honey")),
    ] {
        assert_eq!(understood(said, &lexicon), meant, "{said}");
    }
    // An order with a slip of the finger is asked about.
    match parse("pauze the oven", &lexicon) {
        Understood::Doubt { question, readings } => {
            assert_eq!(question, "Do you mean: pause the oven timer?");
            assert_eq!(
                readings,
                [Order::PauseTimer {
                    timer: Some("oven".into())
                }]
            );
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn talk_is_no_order() {
    let lexicon = lexicon().clone();
    for said in [
        "the weather is nice today",
        "i think the salt is in the cupboard",
        "did you see the match last night",
        "we should go to the shop for bread tomorrow",
        "fifteen",
        "one twenty five",
        "he said it was about half past seven when they came",
        "do not stop the oven timer",
        "i do not want five more minutes of this",
        "and now the news at six o'clock",
        "no one knows how much salt that was",
        "stop and have a look at this",
        "never add five minutes",
        "",
        "?!",
    ] {
        let got = parse(said, &lexicon);
        assert!(
            matches!(got, Understood::Nothing { .. }),
            "`{said}`: {got:?}"
        );
    }
    let long = "salt ".repeat(4000);
    assert!(matches!(parse(&long, &lexicon), Understood::Nothing { .. }));
}

#[test]
fn a_call_name_may_open_any_sentence() {
    let lexicon = lexicon().clone().with_call_name("Commis");
    assert_eq!(understood("commis what is next", &lexicon), Order::WhatNext);
    assert_eq!(understood("okay commis next", &lexicon), Order::Next);
    assert_eq!(understood("next please commis", &lexicon), Order::Next);
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 100, ..ProptestConfig::default() })]

    #[test]
    fn no_text_breaks_the_parser(text in "\\PC{0,80}") {
        let _ = parse(&text, lexicon());
    }

    #[test]
    fn no_word_salad_breaks_the_parser(words in prop::collection::vec(prop::sample::select(vec![
        "how", "much", "flour", "a", "half", "of", "the", "timer", "for", "ten", "minutes", "and", "two", "hundred", "grams", "in",
        "cups", "is", "add", "stop", "not", "yet", "1/2", "19:30", "7", "point", "oven", "first", "rise", "please", "no", "to",
    ]), 0..30)) {
        let _ = parse(&words.join(" "), lexicon());
    }
}
