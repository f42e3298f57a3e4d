use super::*;

/// A whole dialogue, and what the answers were answered with.
fn after(answers: &[&str]) -> Writing {
    let mut writing = Writing::default();
    for answer in answers {
        let question = writing.question().line();
        let came = writing.answer(answer);
        assert!(
            !matches!(came, Answered::Not(_)),
            "{question} {answer}: {came:?}"
        );
    }
    writing
}

const LOAF: [&str; 27] = [
    "small loaf",
    "",
    "six",
    "one loaf",
    "300 g strong white flour",
    "yeast",
    "3 g",
    "200 g water",
    "6 g fine salt",
    "done",
    "Mix the flour, the yeast and the water.",
    "flour, yeast, water",
    "",
    "",
    "Knead in the salt.",
    "",
    "none",
    "",
    "Let it rise.",
    "nothing",
    "rise one hour",
    "",
    "Bake it at 220 C for 30-35 minutes until golden.",
    "",
    "",
    "",
    "the tin is hot",
];

#[test]
fn a_loaf_comes_out_that_passes_check() {
    let mut writing = after(&LOAF);
    for end in ["done", "bread, sunday"] {
        assert!(matches!(writing.answer(end), Answered::Taken(_)), "{end}");
    }
    assert_eq!(
        writing.question().line(),
        "Small loaf: four ingredients, four steps. Shall I keep it? Enter for yes."
    );
    assert_eq!(writing.answer(""), Answered::Keep);
    let formula = writing.draft().check().expect("it passes");
    assert_eq!(formula.makes.portions, 6.0);
    let masses: Vec<f64> = formula
        .ingredients
        .iter()
        .map(|i| i.mass.as_grams())
        .collect();
    assert_eq!(masses, [300.0, 3.0, 200.0, 6.0]);
    let uses: Vec<usize> = formula.steps.iter().map(|s| s.uses.len()).collect();
    assert_eq!(uses, [3, 1, 0, 0], "the salt of step two is guessed");
    assert_eq!(formula.steps[2].timers[0].name, "rise");
    let bake = &formula.steps[3];
    assert_eq!(bake.oven_c, Some(220.0));
    assert_eq!(bake.timers[0].lasts, crate::time::Span::minutes(30));
    assert_eq!(bake.timers[0].most, Some(crate::time::Span::minutes(35)));
    assert_eq!(bake.cautions, ["The tin is hot."]);
    assert_eq!(formula.told.tags, ["bread", "sunday"]);
}

#[test]
fn undo_takes_back_one_answer_after_another_and_a_replay_is_the_same() {
    for n in [1, 5, 7, 12, 13, 16, 21, 24, 26] {
        let before = after(&LOAF[..n - 1]);
        let mut writing = after(&LOAF[..n]);
        assert_eq!(writing.answer("undo"), Answered::Undone);
        assert_eq!(writing.question(), before.question(), "after {n}");
        let (again, lost) = Writing::after(LOAF[..n].iter().copied());
        assert_eq!((again.question(), lost), (after(&LOAF[..n]).question(), 0));
    }
    let mut writing = Writing::default();
    assert!(matches!(writing.answer("undo"), Answered::Not(_)));
}

#[test]
fn what_cannot_be_is_said_and_asked_again() {
    let mut writing = after(&["loaf", "", "", ""]);
    for (wrong, why) in [
        ("done", "It needs an ingredient"),
        (
            "300 parsecs of 5 g flour and 2 g salt\u{7}",
            "control character",
        ),
    ] {
        let came = writing.answer(wrong);
        assert!(
            matches!(&came, Answered::Not(said) if said.contains(why)),
            "{wrong}: {came:?}"
        );
    }
    for good in [
        "200 g flour",
        "100 g butter",
        "done",
        "Rub half the butter into the flour.",
    ] {
        assert!(matches!(writing.answer(good), Answered::Taken(_)), "{good}");
    }
    let guess = writing.question().guess;
    assert!(
        guess.contains("1/2 butter") && guess.contains("flour"),
        "{guess}"
    );
    for (wrong, why) in [
        ("custard", "I have no custard here"),
        ("butter, butter", "All of the butter is in already"),
    ] {
        let came = writing.answer(wrong);
        assert!(
            matches!(&came, Answered::Not(said) if said.contains(why)),
            "{wrong}: {came:?}"
        );
    }
    assert!(matches!(
        writing.answer("flour and half the butter"),
        Answered::Taken(_)
    ));
    assert!(matches!(writing.answer("until golden"), Answered::Not(_)));
}

#[test]
fn nothing_is_forgotten() {
    let mut writing = after(&[
        "soup",
        "",
        "",
        "a pot",
        "1 kg carrots",
        "salt",
        "taste",
        "done",
        "Boil the carrots.",
        "half the carrots",
        "",
        "",
        "done",
    ]);
    assert!(
        writing
            .question()
            .text
            .starts_with("Not all of the carrots"),
        "{:?}",
        writing.question()
    );
    assert!(matches!(writing.answer("one"), Answered::Taken(_)));
    assert!(writing.question().text.starts_with("No step uses the salt"));
    assert!(matches!(writing.answer("step one"), Answered::Taken(_)));
    writing.answer("");
    assert_eq!(writing.answer("yes"), Answered::Keep);
    let formula = writing.draft().check().expect("it passes");
    assert_eq!(formula.ingredients[1].words.as_deref(), Some("to taste"));
}

#[test]
fn a_step_may_be_spoken_alone() {
    let mut writing = after(&[
        "soup",
        "",
        "",
        "",
        "1 kg carrots",
        "done",
        "recording: step-1.flac",
        "",
        "",
        "20 min",
        "",
        "",
    ]);
    writing.answer("done");
    for end in ["", "", ""] {
        writing.answer(end);
    }
    let text = writing.draft().toml(|file| format!("soup-{file}"));
    assert!(text.contains("recording = \"soup-step-1.flac\""), "{text}");
    assert!(text.contains(ONLY_SPOKEN), "{text}");
}
