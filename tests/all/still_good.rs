//! Is it done, is it still good, whom may it hurt, is the oven lit: the answer first, by the formula's own words where it has some.

use commis::bench::Options;
use commis::formula::read;

use super::program::{commis, out};
use super::rehearsal::{Rehearsal, formula};

/// What is answered to the last of these typed lines.
fn answer(name: &str, lines: &[&str]) -> String {
    let typed: Vec<String> = lines
        .iter()
        .map(|line| format!("+2s type {line}"))
        .collect();
    let script = format!("start 16:00\n{}\n", typed.join("\n"));
    Rehearsal::play(name, &script).last().to_owned()
}

fn starts(name: &str, lines: &[&str], first: &str) {
    let said = answer(name, lines);
    assert!(said.starts_with(first), "{lines:?}: {said}");
    assert!(!said.contains('`'), "{said}");
}

#[test]
fn done_at_a_heat_is_yes_or_no() {
    starts(
        "roast-chicken",
        &["is chicken done at sixty eight"],
        "No, not yet: this formula asks for seventy four degrees",
    );
    starts(
        "roast-chicken",
        &["would sixty degrees be enough for pork"],
        "No: sixty three degrees",
    );
    starts(
        "soft-rolls",
        &["is turkey cooked at 74"],
        "Yes, if that is in the thickest part",
    );
    starts(
        "fish-pie",
        &["is fish at sixty five degrees safe"],
        "No, not yet: this formula asks for seventy degrees for two minutes",
    );
    starts(
        "fish-pie",
        &["the fish is 66 degrees inside"],
        "No, not yet",
    );
    for (question, first) in [
        ("is pork done at 60 degrees", "No: sixty three"),
        ("is minced beef safe at 65", "No: seventy one"),
        ("is chicken safe at 74", "Yes, if"),
        ("is chicken done at 165 fahrenheit", "Yes, if"),
    ] {
        let said = out(&commis(&["ask", question], ""));
        assert!(said.starts_with(first), "{question}: {said}");
        assert!(said.contains("local food authority"), "{said}");
    }
}

#[test]
fn the_thermometer_answers_the_look_that_asks_for_it() {
    let begin =
        "start 16:00\n+1s say go to step three\n+1s say yes\n+1s say start the chicken timer\n";
    let played = Rehearsal::play(
        "roast-chicken",
        &format!("{begin}+81m type the thermometer says sixty eight\n"),
    );
    assert!(
        played.last().starts_with("Not yet: seventy four degrees"),
        "{}",
        played.last()
    );
    assert_eq!(played.bench.rack().live_count(), 1);
    let played = Rehearsal::play(
        "roast-chicken",
        &format!("{begin}+81m type yes it's seventy five\n"),
    );
    assert_eq!(played.bench.rack().live_count(), 0, "{}", played.last());
    let early = Rehearsal::play(
        "roast-chicken",
        &format!("{begin}+40m type the probe reads 61\n"),
    );
    assert!(early.last().starts_with("Not yet"), "{}", early.last());
    assert_eq!(early.bench.rack().live_count(), 1);
}

#[test]
fn what_stood_out_is_thrown_away() {
    for (name, line) in [
        ("fish-pie", "the pie was left out overnight, can i eat it"),
        ("fish-pie", "the cod has been out since this morning"),
        ("roast-chicken", "chicken has been on the counter all night"),
        (
            "vegetable-soup",
            "I forgot the soup, it stood on the table the whole night",
        ),
        (
            "baked-custard",
            "the custard sat out for five hours, is it still good",
        ),
    ] {
        starts(name, &[line], "No: throw it away");
    }
    starts(
        "fish-pie",
        &["the pie was left out for ninety minutes, is it still ok"],
        "Yes, if it was never above",
    );
    starts(
        "soft-rolls",
        &["my bread was left out overnight"],
        "Bread may stand out",
    );
    assert!(
        out(&commis(
            &["ask", "can i eat rice that was left out overnight"],
            ""
        ))
        .starts_with("No: throw it away")
    );
}

#[test]
fn how_it_keeps_is_the_formulas_to_say() {
    starts(
        "soft-rolls",
        &["can i freeze them"],
        "Yes: two days in a bag; they freeze well",
    );
    starts(
        "soft-rolls",
        &["how long will they last"],
        "Two days in a bag",
    );
    starts(
        "fish-pie",
        &["how long does fish pie keep"],
        "One day in the fridge",
    );
    starts(
        "fish-pie",
        &["can i reheat it tomorrow"],
        "Yes: one day in the fridge; warm it through",
    );
    starts(
        "fish-pie",
        &["can i freeze the fish pie"],
        "The formula does not say.",
    );
    starts(
        "fish-pie",
        &["could we make it the day before"],
        "The formula says only how it keeps",
    );
    starts(
        "roast-chicken",
        &["how long does the leftover chicken keep"],
        "The formula does not say. Cooked food keeps two days",
    );
    starts(
        "blackcurrant-jam",
        &["how long does the jam keep"],
        "A year, sealed",
    );
    starts("fish-pie", &["can i use frozen cod"], "Yes, thawed first");
    starts(
        "fish-pie",
        &["the cod is frozen solid still"],
        "Yes, thawed first",
    );
    starts(
        "roast-chicken",
        &["the tin is hot, how do i get it out"],
        "The tin is hot: both hands in dry oven gloves",
    );
    let said = out(&commis(
        &[
            "ask",
            "--region",
            "us",
            "how long does chicken keep in the fridge",
        ],
        "",
    ));
    assert!(
        said.starts_with("Cooked food keeps three to four days"),
        "{said}"
    );
}

#[test]
fn an_allergen_question_never_fails() {
    starts(
        "almond-cake",
        &["is there anything with nuts in it"],
        "Yes. It contains",
    );
    starts(
        "almond-cake",
        &["my mother can't have nuts, is that a problem"],
        "No. It contains",
    );
    starts(
        "vegetable-soup",
        &["would anything in this hurt someone with a celery allergy"],
        "No. It contains",
    );
    starts(
        "soft-rolls",
        &["which ones have milk in them"],
        "Yes. It contains",
    );
    starts(
        "chickpea-rice",
        &["what has gluten in it"],
        "Perhaps. Only if you take coarse bulgur",
    );
    let rice = formula("chickpea-rice").contents();
    assert_eq!(
        rice.opening(commis::safety::Law::Eu),
        "With coarse bulgur it contains gluten."
    );
}

#[test]
fn of_several_dishes_the_answer_says_which() {
    let ask = |line: &str| {
        let script = format!("start 16:00\n+2s type {line}\n");
        let dishes = ["soft-rolls", "roast-chicken", "baked-custard"];
        Rehearsal::dinner(&dishes, &script).last().to_owned()
    };
    for line in [
        "anybody coming is allergic to eggs, what can she eat",
        "my niece must not eat egg, which dish is all right",
    ] {
        let said = ask(line);
        assert!(
            said.starts_with("Not the rolls and the custard: both contain egg"),
            "{line}: {said}"
        );
        assert!(
            said.contains("The chicken has none that I know of"),
            "{said}"
        );
        assert!(said.split(' ').count() < 30, "{said}");
    }
    assert!(
        ask("which dish has egg").starts_with("Yes: the rolls and the custard."),
        "{}",
        ask("which dish has egg")
    );
    let one = ask("is the chicken safe for someone with an egg allergy");
    assert!(one.contains("chicken") && !one.contains("custard"), "{one}");
}

#[test]
fn the_oven_is_lit_and_not_hot_and_called_for_in_time() {
    starts(
        "roast-chicken",
        &["next", "light the oven"],
        "Two hundred degrees. It should be hot at",
    );
    starts(
        "roast-chicken",
        &["next", "I've just switched the oven on to 200"],
        "Two hundred degrees.",
    );
    starts(
        "roast-chicken",
        &["did i turn the oven off"],
        "Nobody has told me that it is on",
    );
    starts(
        "roast-chicken",
        &["put the oven on two hundred", "is the oven on"],
        "It should be on, since",
    );
    starts(
        "roast-chicken",
        &[
            "put the oven on",
            "switch off the oven",
            "is the oven still on",
        ],
        "Nobody has told me",
    );
    // 18 minutes of work before the roast, 20 to get hot: at once.
    let played = Rehearsal::play("roast-chicken", "start 16:00\n+1s say next\n");
    assert!(
        played
            .last()
            .starts_with("Light the oven now: two hundred degrees"),
        "{}",
        played.last()
    );
    let lit = Rehearsal::play(
        "roast-chicken",
        "start 16:00\n+1s say the oven is on\n+1s say next\n",
    );
    assert!(
        !lit.said()
            .iter()
            .any(|s| s.starts_with("Light the oven now")),
        "{:?}",
        lit.said()
    );
    // An hour of waits first: in its time, and once.
    let later = "name = \"Bake\"\n[makes]\nportions = 2\npieces = 1\npiece = \"loaf\"\n[oven]\nheat = \"220 C\"\nlead = \"25 min\"\n\
        [[ingredient]]\nid = \"flour\"\nname = \"plain flour\"\namount = \"200 g\"\n\
        [[step]]\ntitle = \"Mix\"\ntext = \"Mix it.\"\nuses = [\"flour\"]\nhands_on = \"40 min\"\n\
        [[step]]\ntitle = \"Bake\"\ntext = \"Bake it.\"\noven = true\nhands_on = \"1 min\"\n";
    let later = read("bake", later).expect("a formula");
    let said = |script: &str| {
        let played = Rehearsal::play_with(later.clone(), Options::default(), script);
        played
            .said()
            .iter()
            .filter(|s| s.starts_with("Light the oven now"))
            .count()
    };
    assert_eq!(said("start 16:00\n+1s say next\n+14m wait\n"), 0);
    assert_eq!(said("start 16:00\n+1s say next\n+16m wait\n+20m wait\n"), 1);
}

#[test]
fn pieces_and_potatoes_are_counted_and_weighed() {
    starts(
        "soft-rolls",
        &["how heavy should each roll be"],
        "Seventy five grams each: nine hundred grams for twelve",
    );
    starts(
        "soft-rolls",
        &["make it double", "how much does each ball weigh"],
        "Seventy five grams each: one thousand eight hundred",
    );
    starts(
        "soft-rolls",
        &["how much dough have we got altogether"],
        "Nine hundred grams in all",
    );
    starts("soft-rolls", &["how many rolls"], "Soft milk rolls");
    starts(
        "roast-chicken",
        &["how many potatoes"],
        "Eight hundred grams",
    );
    starts("roast-chicken", &["how many carrots"], "Five hundred grams");
}

#[test]
fn what_the_formula_allows_comes_first() {
    for said in ["can i use haddock", "i've got haddock"] {
        starts("fish-pie", &[said], "Haddock: six hundred grams");
    }
    starts(
        "fish-pie",
        &["i have haddock"],
        "Haddock: six hundred grams",
    );
    starts(
        "fish-pie",
        &["can i use salmon instead"],
        "The formula does not name salmon: it asks for cod or haddock",
    );
    starts(
        "baked-custard",
        &["i don't have a vanilla pod"],
        "The formula allows vanilla extract",
    );
    starts(
        "roast-chicken",
        &["i have no thyme"],
        "You can leave it out.",
    );
    let egg = out(&commis(&["ask", "what can i use instead of an egg"], ""));
    assert!(!egg.contains("egg white") && !egg.contains("yolk"), "{egg}");
    let celeriac = answer("vegetable-soup", &["what can i use instead of celeriac"]);
    assert!(
        !celeriac.contains('`') && celeriac.contains("celeriac"),
        "{celeriac}"
    );
}
