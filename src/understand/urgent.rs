//! Words of somebody who is hurt or whose kitchen burns: they are answered at once, whatever else is asked.

use super::text::{Token, tokens};
use crate::order::{Order, Question};

/// Where it hurts.
const BODY: [&str; 30] = [
    "hand", "hands", "finger", "fingers", "thumb", "arm", "arms", "wrist", "foot", "feet", "leg",
    "legs", "face", "tongue", "lip", "lips", "mouth", "palm", "skin", "knuckle", "knuckles", "eye",
    "eyes", "toe", "toes", "elbow", "myself", "himself", "herself", "me",
];

const BURNT: [&str; 9] = [
    "burn", "burnt", "burned", "burning", "scald", "scalded", "scalding", "splashed", "spilt",
];

const HOT: [&str; 5] = ["hot", "boiling", "scalding", "molten", "burning"];

/// What burns where it should not.
const ALIGHT: [&str; 12] = [
    "on fire",
    "caught fire",
    "catching fire",
    "caught alight",
    "is alight",
    "in flames",
    "is burning in the pan",
    "burning in the pan",
    "oil is burning",
    "fat is burning",
    "pan fire",
    "oil fire",
];

/// A fire that is wanted.
const WANTED: [&str; 12] = [
    "put the pot",
    "put the pan",
    "put it on fire",
    "pot on fire",
    "brandy",
    "rum",
    "flambe",
    "pudding",
    "wood",
    "charcoal",
    "barbecue",
    "torch",
];

const GAS: [&str; 5] = [
    "smell gas",
    "smells of gas",
    "smell of gas",
    "gas leak",
    "leaking gas",
];

const REACTION: [&str; 10] = [
    "allergic reaction",
    "cannot breathe",
    "can't breathe",
    "can not breathe",
    "anaphylaxis",
    "anaphylactic",
    "has hives",
    "got hives",
    "lips are swelling",
    "throat is swelling",
];

const CHOKING: [&str; 3] = ["is choking", "are choking", "choking on"];

/// The order that helps; nothing where nobody is in need.
pub fn urgent(text: &str) -> Option<Order> {
    let words: Vec<String> = tokens(text)
        .iter()
        .map(|t| Token::word(t).to_owned())
        .collect();
    if words.len() > 24 {
        return None;
    }
    let line = format!(" {} ", words.join(" "));
    let says = |phrases: &[&str]| phrases.iter().any(|p| line.contains(&format!(" {p} ")));
    let said = |all: &[&str]| words.iter().any(|w| all.contains(&w.as_str()));
    let about = |name: &str| Some(Order::Ask(Question::Caution { about: name.into() }));
    if says(&REACTION) {
        return about("reaction");
    }
    if says(&CHOKING) {
        return about("choking");
    }
    if says(&ALIGHT) && !says(&WANTED) {
        return about("fire");
    }
    if says(&GAS) {
        return about("gas");
    }
    // 'I burnt my hand', 'I've got hot jam on my wrist'; 'burn' alone may be what became of the crust.
    let mine = BODY.iter().any(|part| {
        says(&[
            &format!("my {part}"),
            &format!("his {part}"),
            &format!("her {part}"),
            &format!("the {part}"),
        ]) || ["myself", "himself", "herself"].contains(part) && said(&[part])
    }) || says(&["on me", "over me"]);
    if mine
        && (said(&BURNT)
            || said(&HOT) && says(&["on my", "over my", "on his", "on her", "on me", "over me"]))
    {
        return Some(Order::BurnHelp);
    }
    if mine
        && says(&[
            "i cut",
            "i have cut",
            "i've cut",
            "she cut",
            "he cut",
            "has cut",
            "i sliced",
            "i've sliced",
        ])
        || says(&[
            "is bleeding",
            "am bleeding",
            "i'm bleeding",
            "bleeding badly",
            "won't stop bleeding",
        ])
    {
        return about("cut");
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn named(text: &str) -> String {
        match urgent(text) {
            Some(Order::BurnHelp) => "burn".to_owned(),
            Some(Order::Ask(Question::Caution { about })) => about.to_string(),
            other => format!("{other:?}"),
        }
    }

    #[test]
    fn who_is_hurt_is_understood_at_once() {
        for (text, help) in [
            ("i burnt my hand on the tin", "burn"),
            ("i've scalded my foot with hot water", "burn"),
            ("i've got hot jam on my hand", "burn"),
            ("i burnt my arm on the oven door", "burn"),
            ("i burned myself", "burn"),
            ("the oil is on fire", "fire"),
            ("there's oil burning in the pan", "fire"),
            ("my hair caught fire", "fire"),
            ("how do i put out a pan fire", "fire"),
            ("i smell gas", "gas"),
            ("i cut my finger", "cut"),
            ("my thumb is bleeding", "cut"),
            ("my guest is choking", "choking"),
            ("someone is having an allergic reaction", "reaction"),
            ("she's got hives and can't breathe", "reaction"),
        ] {
            assert_eq!(named(text), help, "{text}");
        }
    }

    #[test]
    fn talk_of_heat_is_no_cry_for_help() {
        for text in [
            "the crust was burnt at the back",
            "i put the pot on fire",
            "is it done when the pudding is in flames",
            "set the brandy on fire",
            "hot water is in",
            "cut the butter in",
            "i cut the loaf",
            "the oven is hot",
            "can my friend eat this she is allergic to nuts",
            "give me a hand",
        ] {
            assert_eq!(urgent(text), None, "{text}");
        }
    }
}
