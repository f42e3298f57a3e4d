//! 'Butter or margarine?' is answered by word or key, and what the dish holds follows; one part of a dish is made larger alone,
//! and the sums tell both.

use commis::bench::Options;
use commis::formula::{Batch, Formula, WeighUp, read};
use commis::measure::Region;
use commis::order::ScaleBy;
use commis::safety::Law;

use super::program::{commis, out};
use super::rehearsal::{Rehearsal, formula};

const BISCUITS: &str = "name = \"Biscuits\"\n[makes]\nportions = 12\npieces = 12\npiece = \"biscuit\"\n\
    [[ingredient]]\nid = \"flour\"\nname = \"plain flour\"\namount = \"200 g\"\n\
    [[ingredient]]\nid = \"fat\"\nname = \"butter\"\namount = \"100 g\"\nor = [\"margarine\", \"coconut oil\"]\n\
    [[ingredient]]\nid = \"sugar\"\nname = \"caster sugar\"\namount = \"80 g\"\n\
    [[step]]\ntitle = \"Mix\"\ntext = \"Rub the butter into the flour and stir in the sugar.\"\n\
    uses = [\"flour\", \"fat\", \"sugar\"]\nweigh_up = true\n";

fn biscuits() -> Formula {
    read("biscuits", BISCUITS).expect("a formula")
}

fn play(script: &str) -> Rehearsal {
    Rehearsal::play_with(biscuits(), Options::default(), script)
}

fn holds(played: &Rehearsal) -> String {
    played.bench.formula().contents().line(Law::Eu)
}

#[test]
fn the_weigh_up_asks_and_every_answer_is_taken() {
    let begin = "start 9:00\n0:00 say next\n+2s say it's in\n";
    let asked = play(begin);
    assert!(
        asked
            .last()
            .ends_with("Butter or margarine or coconut oil? One hundred grams."),
        "{}",
        asked.last()
    );
    assert!(
        holds(&asked).contains("milk"),
        "until it is chosen it may be any of them"
    );
    for (answer, taken) in [
        ("say margarine", "margarine"),
        ("say take the margarine", "margarine"),
        ("say coconut oil please", "coconut oil"),
        ("say butter", "butter"),
        ("say the other one", "margarine"),
        (
            "key dot\n+0 key 3\n+0 key 2\n+0 key minus\n+0 key enter",
            "margarine",
        ),
    ] {
        let played = play(&format!("{begin}+2s {answer}\n"));
        let fat = &played.bench.formula().ingredients[1];
        assert_eq!(fat.name, taken, "{answer}: {}", played.last());
        assert_eq!(fat.mass.as_grams(), 100.0);
        assert_eq!(
            holds(&played).contains("contains gluten, milk"),
            taken == "butter",
            "{answer}: {}",
            holds(&played)
        );
        assert!(
            played.last().contains("one hundred grams"),
            "{answer}: {}",
            played.last()
        );
    }
}

#[test]
fn a_choice_is_taken_back_and_another_made() {
    let begin = "start 9:00\n0:00 say next\n+2s say it's in\n+2s say margarine\n";
    let undone = play(&format!("{begin}+2s say undo that\n"));
    assert_eq!(undone.bench.formula(), undone.bench.written());
    assert!(
        undone
            .last()
            .contains("butter or margarine or coconut oil again"),
        "{}",
        undone.last()
    );
    let other = play(&format!("{begin}+2s say take the coconut oil\n"));
    assert_eq!(other.bench.formula().ingredients[1].name, "coconut oil");
    let in_it = play(&format!(
        "{begin}+2s say it's in\n+2s say have i added the margarine\n"
    ));
    assert!(
        in_it.last().starts_with("Yes, the margarine is in"),
        "{}",
        in_it.last()
    );
    let asked = play(&format!("{begin}+2s say is there milk in it\n"));
    assert!(!asked.last().starts_with("Yes"), "{}", asked.last());
}

#[test]
fn where_nothing_can_be_chosen_it_says_so() {
    let played = play("start 9:00\n0:00 say next\n+2s say take the other one\n");
    assert!(
        played
            .last()
            .starts_with("The formula names nothing else for the plain flour"),
        "{}",
        played.last()
    );
}

#[test]
fn a_session_taken_up_again_has_what_was_taken() {
    // The journal keeps the order as it was meant; the fold of it is the same bench.
    let script = "start 9:00\n0:00 say next\n+2s say it's in\n+2s say margarine\n";
    assert_eq!(play(script).bench, play(script).bench);
    assert_eq!(play(script).bench.written(), &biscuits());
}

#[test]
fn one_part_is_made_larger_alone_and_the_sums_tell_both() {
    let buns = formula("orange-buns");
    let written = Batch::as_written(&buns);
    let part = |part: &str, times| ScaleBy::Part {
        part: part.into(),
        times,
    };
    let doubled = Batch::scaled(&buns, &part("filling", 2.0)).expect("it can be made");
    for (at, i) in buns.ingredients.iter().enumerate() {
        let times = if i.part.as_deref() == Some("filling") {
            2.0
        } else {
            1.0
        };
        assert!(
            (doubled.mass(at).as_grams() - written.mass(at).as_grams() * times).abs() < 1e-9,
            "{}",
            i.name
        );
    }
    assert_eq!(doubled.portions(&buns), 12.0);
    assert_eq!(doubled.by(), "twice the filling");
    let list = WeighUp::new(&buns, &doubled, 1.0, Region::Metric);
    let sum: f64 = list.parts.iter().map(|p| p.total_g).sum();
    assert!(
        (sum - list.total_g).abs() < 1e-6,
        "the parts make the whole"
    );
    let filling = list
        .parts
        .iter()
        .find(|p| p.name == "filling")
        .expect("a filling");
    assert_eq!(filling.times, 2.0);
    // A size beside it is the size of the whole with its larger part: baker's arithmetic, no source needed.
    let both = doubled
        .then(
            &buns,
            &ScaleBy::Dough(commis::measure::Mass::grams(2_000.0)),
        )
        .expect("it can be made");
    assert!((both.dough(&buns).as_grams() - 2_000.0).abs() < 1e-6);
    let back = both
        .then(&buns, &part("filling", 1.0))
        .expect("it can be made");
    assert!((back.dough(&buns).as_grams() - 2_000.0).abs() < 1e-6);
    assert_eq!(
        doubled
            .then(&buns, &ScaleBy::AsWritten)
            .expect("as written"),
        written
    );
    assert!(Batch::scaled(&buns, &part("frobnia", 2.0)).is_err());
    assert!(Batch::scaled(&buns, &part("filling", -1.0)).is_err());
}

#[test]
fn it_is_said_pressed_and_typed() {
    for order in [
        "say double the filling",
        "say twice the filling",
        "say make the filling two times",
        "key dot\n+0 key 6\n+0 key minus\n+0 key minus\n+0 key enter\n+0 key 2\n+0 key 2\n+0 key enter",
    ] {
        let script = format!("start 9:00\n0:00 {order}\n");
        let played = Rehearsal::play("orange-buns", &script);
        assert_eq!(
            played.bench.batch().part_times("filling"),
            2.0,
            "{order}: {}",
            played.last()
        );
        assert!(
            played.last().starts_with("Twice the filling"),
            "{order}: {}",
            played.last()
        );
    }
    let typed = out(&commis(
        &[
            "weigh",
            "shared/formulas/orange-buns.toml",
            "--part",
            "filling=2",
            "--portions",
            "24",
        ],
        "",
    ));
    let almonds = typed
        .lines()
        .find(|l| l.starts_with("ground almonds"))
        .expect("a line");
    assert!(almonds.contains("480 g"), "{almonds}");
    assert!(
        typed.contains("2 times as written beside the rest"),
        "{typed}"
    );
    let o = commis(
        &[
            "weigh",
            "shared/formulas/orange-buns.toml",
            "--part",
            "frobnia=2",
        ],
        "",
    );
    assert_eq!(o.status.code(), Some(2));
}

#[test]
fn a_step_with_a_recording_is_as_safe_as_its_path() {
    let text = BISCUITS.replace(
        "title = \"Mix\"",
        "title = \"Mix\"\nrecording = \"biscuits-step-1.flac\"",
    );
    let f = read("biscuits", &text).expect("a formula");
    assert_eq!(
        f.steps[0].recording.as_deref(),
        Some("biscuits-step-1.flac")
    );
    for odd in [
        "/etc/x.flac",
        "../x.flac",
        "a/../x.flac",
        ".hidden.flac",
        "x.wav",
        "a\\\\x.flac",
        "c:x.flac",
        "",
        "a//x.flac",
    ] {
        let text = BISCUITS.replace(
            "title = \"Mix\"",
            &format!("title = \"Mix\"\nrecording = \"{odd}\""),
        );
        let e = read("biscuits", &text).expect_err(odd).to_string();
        assert!(e.contains("recording: expected a sound file"), "{odd}: {e}");
    }
    let played = Rehearsal::play_with(f, Options::default(), "start 9:00\n0:00 say next\n");
    let (words, file) = played.bench.recorded().expect("the step has one");
    assert_eq!(file, "biscuits-step-1.flac");
    assert!(
        played.last().contains(&words) && !words.is_empty(),
        "its words are where it is played"
    );
}
