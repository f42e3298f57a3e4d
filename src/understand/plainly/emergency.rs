//! Somebody is hurt or in danger, said in whatever words come first.

use super::said::Said;
use crate::order::{EmergencyKind, Order};

/// Longer speech tells a story.
const LONGEST: usize = 40;

/// Parts of the body that are said without whose they are.
const HANDS: &[&str] = &[
    "hand",
    "hands",
    "finger",
    "fingers",
    "fingertip",
    "fingertips",
    "thumb",
    "thumbs",
    "wrist",
    "wrists",
    "forearm",
    "arm",
    "arms",
    "palm",
    "knuckle",
    "knuckles",
    "elbow",
];
/// Parts of the body that are so only where it is said whose they are: a leg is also of lamb.
const PARTS: &[&str] = &[
    "foot", "feet", "toe", "toes", "leg", "legs", "knee", "shin", "thigh", "face", "cheek", "chin",
    "nose", "ear", "ears", "skin", "neck", "chest", "belly", "stomach", "shoulder", "head",
    "forehead", "back", "bum",
];
/// The mouth.
const MOUTH: &[&str] = &["mouth", "tongue", "lip", "lips", "throat", "gums", "palate"];
const EYES: &[&str] = &["eye", "eyes"];
/// Whose.
const WHOSE: &[&str] = &["my", "me", "his", "her", "our", "their"];
/// What may stand between whose and what.
const QUALITY: &[&str] = &[
    "left", "right", "whole", "own", "poor", "bare", "little", "index", "big", "middle", "other",
    "bloody", "wee",
];
/// Things that have the name of a part of the body.
const NO_PART: &[&str] = &[
    "fish",
    "sponge",
    "lady",
    "chicken",
    "chocolate",
    "cheese",
    "your",
    "yer",
    "by",
    "second",
    "other",
    "cocktail",
];

const HEAT: &[&str] = &[
    "burnt",
    "burned",
    "burn",
    "burns",
    "burning",
    "scalded",
    "scald",
    "scalding",
    "singed",
    "scorched",
    "blistered",
];
const CUT: &[&str] = &[
    "cut", "sliced", "slice", "chopped", "stabbed", "gashed", "nicked", "grated", "slashed",
    "pricked", "jabbed", "severed",
];
/// What may stand between what hurt and the part, and between the part and what hurt.
const FILLERS: &[&str] = &[
    "my", "me", "his", "her", "our", "their", "the", "a", "an", "of", "off", "on", "into",
    "through", "tip", "tips", "top", "end", "side", "back", "inside", "bit", "little", "small",
    "slightly", "badly", "deeply", "nearly", "both", "half", "left", "right", "whole", "own",
    "poor", "bare", "index", "big", "middle", "bloody", "wee", "is", "are", "am", "was", "has",
    "have", "got", "been", "getting", "kinda", "quite", "very", "really", "all", "just", "don",
    "now", "and", "i", "bone", "to",
];

/// What makes a person of a sentence.
const PEOPLE: &[&str] = &[
    "i",
    "he",
    "she",
    "someone",
    "somebody",
    "anyone",
    "guest",
    "guests",
    "friend",
    "mum",
    "mom",
    "mother",
    "dad",
    "father",
    "husband",
    "wife",
    "son",
    "daughter",
    "baby",
    "child",
    "children",
    "kid",
    "kids",
    "boy",
    "girl",
    "gran",
    "granny",
    "grandma",
    "grandad",
    "grandpa",
    "grandfather",
    "grandmother",
    "nan",
    "uncle",
    "aunt",
    "auntie",
    "cousin",
    "brother",
    "sister",
    "neighbour",
    "man",
    "woman",
    "lad",
    "lass",
    "toddler",
    "partner",
    "colleague",
    "chef",
    "boss",
    "customer",
    "they",
    "person",
    "people",
    "him",
    "her",
    "me",
    "my",
    "mate",
    "nephew",
    "niece",
    "we",
];
/// It has not happened, or is warned of.
const NOT_SO: &[&str] = &[
    "not", "never", "careful", "mind", "nearly", "almost", "avoid", "without", "would", "might",
    "could", "may", "should", "can", "will", "cannot", "hate", "prevent", "lest", "where", "parts",
];
/// It was long ago.
const STORY: &[&str] = &[
    "yesterday",
    "remember",
    "always",
    "used",
    "once",
    "story",
    "ago",
    "tomorrow",
    "usually",
    "every",
    "usual",
];
const STORIES: &[&str] = &[
    "last week",
    "last year",
    "last time",
    "last month",
    "last night",
    "last christmas",
    "the day i",
    "the time i",
    "that time",
    "did i tell",
    "when i was",
    "first time",
    "how many times",
];

/// What has happened and is in danger; nothing where nobody is.
pub fn emergency(text: &str) -> Option<Order> {
    let said = Said::of(text);
    if said.words.is_empty() || said.words.len() > LONGEST || is_told(&said) {
        return None;
    }
    let kind = |kind| Order::Emergency { kind };
    danger(&said)
        .or_else(|| fire(&said))
        .or_else(|| illness(&said))
        .map(kind)
        .or_else(|| burn(&said))
        .or_else(|| cut(&said).then_some(kind(EmergencyKind::Cut)))
        .or_else(|| call(&said).then_some(kind(EmergencyKind::Call)))
}

/// It is told of another day.
fn is_told(said: &Said) -> bool {
    let at_once = said.says(&[
        "at once",
        "minutes ago",
        "minute ago",
        "second ago",
        "seconds ago",
    ]);
    said.says(STORIES) || said.has(STORY) && !at_once
}

/// It did not happen at this place: `do not burn`, `nearly cut`.
fn is_denied(said: &Said, at: usize) -> bool {
    let before = &said.words[at.saturating_sub(4)..at];
    before.iter().any(|word| NOT_SO.contains(&word.as_str()))
}

/// The parts of somebody's body that are named, with what kind they are of.
fn parts(said: &Said) -> Vec<(usize, &'static [&'static str])> {
    let mut all = Vec::new();
    for kind in [HANDS, PARTS, MOUTH, EYES] {
        for at in said.all(kind) {
            let mut owner = at;
            while owner > 0 && QUALITY.contains(&said.word(owner - 1)) {
                owner -= 1;
            }
            let whose = said.before(owner);
            let owned = WHOSE.contains(&whose);
            let bare = kind == HANDS
                && !NO_PART.contains(&whose)
                && !matches!(
                    said.word(at + 1),
                    "mixer"
                        | "blender"
                        | "whisk"
                        | "of"
                        | "oil"
                        | "sugar"
                        | "wash"
                        | "washed"
                        | "made"
                        | "bag"
                        | "heart"
                );
            if owned || bare {
                all.push((at, kind));
            }
        }
    }
    all
}

/// A part of the body and one of these verbs belong together.
fn hurts(said: &Said, verbs: &[&str]) -> Option<&'static [&'static str]> {
    parts(said).into_iter().find_map(|(part, kind)| {
        let meets = said.all(verbs).any(|verb| {
            let (from, to) = (part.min(verb), part.max(verb));
            to - from <= 7 && said.only(from, to, FILLERS) && !is_denied(said, verb)
        });
        meets.then_some(kind)
    })
}

/// One of these verbs with `myself`, or with `me` where that is not `my`.
fn hurts_oneself(said: &Said, verbs: &[&str]) -> bool {
    let ends = |at: usize| {
        matches!(
            said.word(at + 1),
            "" | "on"
                | "with"
                | "badly"
                | "what"
                | "quick"
                | "and"
                | "help"
                | "now"
                | "when"
                | "again"
                | "really"
                | "bad"
        )
    };
    said.all(verbs).any(|verb| {
        !is_denied(said, verb)
            && said
                .all(&["myself", "himself", "herself", "meself", "me", "him"])
                .any(|one| {
                    let plain = matches!(said.word(one), "me" | "him");
                    one > verb
                        && one - verb <= 3
                        && said.only(verb, one, FILLERS)
                        && (!plain || verbs != CUT && said.word(verb) != "burns" && ends(one))
                })
    })
}

fn burn(said: &Said) -> Option<Order> {
    const HOT: &[&str] = &["hot", "boiling", "scalding", "molten", "steam", "burning"];
    const LIQUID: &[&str] = &[
        "steam",
        "oil",
        "fat",
        "grease",
        "water",
        "sugar",
        "caramel",
        "syrup",
        "jam",
        "soup",
        "tea",
        "coffee",
        "stock",
        "gravy",
        "butter",
        "milk",
        "sauce",
        "custard",
        "porridge",
        "wax",
        "kettle",
        "toffee",
        "marmalade",
        "lard",
        "broth",
    ];
    const LANDS: &[&str] = &[
        "splash",
        "splashed",
        "spat",
        "spit",
        "spitting",
        "spits",
        "spilled",
        "spilt",
        "spill",
        "splattered",
        "jumped",
        "squirted",
        "burst",
        "sprayed",
        "exploded",
        "got",
        "hit",
        "caught",
        "had",
        "on",
        "over",
        "onto",
        "down",
        "all",
        "touched",
        "poured",
        "dripped",
        "landed",
        "up",
    ];
    const FLIES: &[&str] = &[
        "splash",
        "splashed",
        "spat",
        "spit",
        "spitting",
        "splattered",
        "jumped",
        "squirted",
        "sprayed",
        "exploded",
    ];
    const SURFACE: &[&str] = &[
        "oven", "tray", "tin", "pan", "pot", "rack", "hob", "grill", "element", "ring", "kettle",
        "handle", "shelf", "door", "hotplate", "iron", "lid", "dish", "stove", "burner", "sheet",
        "grate", "toaster", "plate",
    ];
    const TOUCH: &[&str] = &[
        "touched", "touch", "touching", "grabbed", "caught", "brushed", "leant", "leaned",
        "picked", "put", "held",
    ];
    const HURTS: &[&str] = &[
        "hot", "burn", "burnt", "burned", "burning", "red", "blister", "blisters", "scald",
        "hurts", "ow", "ouch", "oven", "hob", "element", "grill", "stove",
    ];
    if said.says(&["ears burning", "ears are burning"]) {
        return None;
    }
    if let Some(kind) = hurts(said, HEAT) {
        return Some(if kind == MOUTH {
            Order::Emergency {
                kind: EmergencyKind::BurntMouth,
            }
        } else {
            Order::BurnHelp
        });
    }
    let washes = said.has(&[
        "wash", "washed", "washing", "rinse", "rinsed", "warm", "dry", "clean", "soak",
    ]);
    let body = parts(said);
    let lands = !washes
        && said.all(LIQUID).any(|stuff| {
            let hot = said.word(stuff) == "steam"
                || HOT.contains(&said.before(stuff))
                || said.has(FLIES)
                    && said.has(&[
                        "oil", "fat", "grease", "sugar", "caramel", "jam", "syrup", "butter",
                        "kettle",
                    ]);
            let reached = |at: usize| {
                let between = said.words.get(stuff + 1..at).unwrap_or_default();
                at > stuff
                    && at - stuff <= 7
                    && !between
                        .iter()
                        .any(|w| matches!(w.as_str(), "and" | "to" | "for" | "ready" | "so"))
                    && (between.iter().any(|w| LANDS.contains(&w.as_str()))
                        || HOT.contains(&said.before(stuff)) && between.is_empty())
            };
            hot && !is_denied(said, stuff)
                && (body.iter().any(|(at, kind)| *kind != EYES && reached(*at))
                    || said.all(&["me", "myself", "him", "her"]).any(|at| {
                        reached(at)
                            && said.word(at + 1).is_empty()
                            && said.has(HOT)
                            && said.has(LANDS)
                    }))
        });
    let touches = !body.is_empty()
        && said.has(HURTS)
        && said.has(SURFACE)
        && said.all(TOUCH).any(|at| !is_denied(said, at))
        && (said.then(
            &["touched", "touch", "caught", "brushed", "grabbed"],
            SURFACE,
            6,
        ) || said.then(&["put", "leant", "leaned"], &["on"], 5)
            && said.near(&["hot"], SURFACE, 1));
    let noun = said.all(&["burn", "scald", "burns"]).any(|at| {
        [
            "a", "bad", "nasty", "little", "small", "this", "minor", "for", "the", "with", "treat",
        ]
        .contains(&said.before(at))
            && ![
                "off", "mark", "marks", "smell", "it", "the", "time", "through", "down",
            ]
            .contains(&said.word(at + 1))
            && said.has(&[
                "help", "treat", "what", "have", "got", "aid", "bad", "nasty", "how",
            ])
            && !said.has(&[
                "fat", "calories", "not", "fire", "candle", "why", "oven", "hob", "leave",
            ])
    });
    let am = said.says(&[
        "i am burnt",
        "i am burned",
        "i am scalded",
        "i got burnt",
        "i got burned",
        "i have been burnt",
        "i have been scalded",
    ]) && !said.has(&["out", "toast"]);
    (hurts_oneself(said, HEAT) || lands || touches || noun || am).then_some(Order::BurnHelp)
}

fn cut(said: &Said) -> bool {
    const BLADE: &[&str] = &[
        "knife",
        "blade",
        "glass",
        "mandoline",
        "mandolin",
        "grater",
        "peeler",
        "tin",
        "scissors",
        "cleaver",
        "skewer",
    ];
    if hurts(said, CUT).is_some_and(|kind| kind != EYES) || hurts_oneself(said, CUT) {
        return true;
    }
    let body = parts(said);
    let slips = said.all(BLADE).any(|blade| {
        body.iter().any(|(at, kind)| {
            *kind != MOUTH
                && at.abs_diff(blade) <= 6
                && said.has(&[
                    "slipped", "into", "through", "stuck", "stabbed", "caught", "went",
                ])
                && !is_denied(said, blade)
        })
    });
    let bleeds = said.says(&[
        "i am bleeding",
        "he is bleeding",
        "she is bleeding",
        "will not stop bleeding",
        "keeps bleeding",
        "not stop bleeding",
        "bleeding badly",
        "bleeding a lot",
        "bleeding everywhere",
        "bleeding heavily",
        "bleeding like",
    ]) || body.iter().any(|(at, _)| {
        said.all(&["bleeding", "bleeds", "bled"])
            .any(|bleeds| bleeds > *at && bleeds - at <= 3)
    });
    let blood = said.says(&[
        "blood everywhere",
        "there is blood",
        "lots of blood",
        "so much blood",
        "losing blood",
    ]) && !said.has(&["orange", "oranges", "pudding", "sausage"]);
    let noun = said.then(
        &["for", "about", "with", "treat", "have", "got"],
        &["cut"],
        2,
    ) && ["a", "bad", "deep", "nasty", "this"]
        .contains(&said.at(&["cut"]).map_or("", |at| said.before(at)))
        && said.has(&["what", "how", "treat", "help", "bad", "deep", "nasty"])
        && !said.has(&[
            "meat", "beef", "pork", "lamb", "of", "steak", "out", "between",
        ]);
    slips || bleeds || blood || noun
}

fn fire(said: &Said) -> Option<EmergencyKind> {
    const CLOTHES: &[&str] = &[
        "hair", "sleeve", "sleeves", "apron", "shirt", "clothes", "clothing", "jumper", "dress",
        "trousers", "beard", "cuff", "scarf", "jacket", "skirt", "blouse", "cardigan",
    ];
    const CLOTH: &[&str] = &[
        "towel",
        "cloth",
        "glove",
        "gloves",
        "curtain",
        "curtains",
        "paper",
        "bin",
        "rag",
        "napkin",
        "tea-towel",
        "tablecloth",
    ];
    const OVEN: &[&str] = &[
        "oven",
        "microwave",
        "toaster",
        "grill",
        "dishwasher",
        "socket",
        "plug",
        "mixer",
        "blender",
        "fridge",
        "extractor",
        "appliance",
        "broiler",
    ];
    const PAN: &[&str] = &[
        "pan", "oil", "fat", "grease", "wok", "fryer", "skillet", "pot", "frying", "hob", "stove",
        "cooker", "saucepan", "chips", "bacon",
    ];
    const FLAMING: &[&str] = &[
        "on fire",
        "in flames",
        "caught fire",
        "catches fire",
        "catching fire",
        "caught alight",
        "set alight",
        "set fire",
        "burst into flames",
        "gone up",
        "went up in flames",
        "up in flames",
    ];
    // What is meant to burn, the mouth, and the pot that is on the stove.
    let meant = said.has(&[
        "flambe", "flambé", "brandy", "rum", "cognac", "pudding", "crepes", "liqueur", "alcohol",
        "barbecue", "charcoal", "candle", "candles", "campfire", "bonfire", "song",
    ]) || said.has(MOUTH)
        || said.has(&["water", "milk", "stew", "soup", "rice", "beans"])
            && !said.has(OVEN)
            && !said.has(PAN)
        || said.says(&[
            "we are on fire",
            "you are on fire",
            "was on fire",
            "been on fire",
            "was fire",
            "already on fire",
            "house on fire",
        ])
        || said.all(&["fire"]).any(|at| {
            let before = &said.words[at.saturating_sub(3)..at];
            [
                "meat", "jars", "jar", "water", "milk", "stew", "soup", "minutes", "hours",
            ]
            .iter()
            .any(|w| before.iter().any(|b| b == w))
        })
        || said.has(&["like", "imagine", "joke"]);
    if meant {
        return None;
    }
    let denied = |phrase: &str| said.place(phrase).is_some_and(|at| is_denied(said, at));
    let burning = FLAMING
        .iter()
        .filter(|phrase| **phrase != "gone up" || said.has(&["flames"]))
        .any(|phrase| said.place(phrase).is_some() && !denied(phrase))
        || said.has(&["ablaze", "alight"]) && !said.has(&["set", "not"]);
    let flames = said.has(&["flames", "flame"])
        && said.has(&[
            "coming",
            "from",
            "out",
            "everywhere",
            "shooting",
            "huge",
            "leaping",
            "leapt",
            "big",
            "inside",
            "rising",
        ])
        && !said.has(&[
            "turn", "low", "lower", "down", "medium", "simmer", "small", "put", "over", "not",
            "blue", "set",
        ]);
    let oil = said.near(&["oil", "fat", "grease"], &["burning"], 2)
        && !said.says(&["burning off", "burning point", "burning hot"])
        && !said.has(&["not", "low", "calories"]);
    let burns = said.all(&[CLOTHES, CLOTH].concat()).any(|at| {
        said.all(&["burning"]).any(|burns| {
            burns > at && burns - at <= 3 && said.only(at, burns, &["is", "are", "all", "now"])
        })
    }) && !said.has(&["not"]);
    let told = said.says(&[
        "there is a fire",
        "there is fire",
        "we have a fire",
        "have got a fire",
        "a fire in the",
        "fire in the kitchen",
        "kitchen fire",
    ]) || said.then(
        &["pan", "oil", "fat", "grease", "electrical", "kitchen"],
        &["fire"],
        0,
    ) || said.then(
        &["extinguish", "smother", "douse", "fight", "extinguisher"],
        &["fire"],
        4,
    ) || said.then(&["put"], &["out"], 4)
        && said.has(&["fire"])
        && said.then(&["put", "out"], &["fire"], 5)
        || said.has(&["fire"]) && said.has(&["brigade", "department", "engine"])
        || said.has(&["fire"])
            && said.words.iter().all(|w| {
                matches!(
                    w.as_str(),
                    "fire" | "help" | "there" | "is" | "quick" | "oh" | "god"
                )
            });
    let lights =
        said.has(&["light", "lit", "start", "make", "low", "heating"]) && !burning && !flames;
    if !(burning || flames || oil || burns || told && !lights) {
        return None;
    }
    let i_am = said.says(&[
        "i am on fire",
        "he is on fire",
        "she is on fire",
        "i have caught fire",
    ]);
    let glove = said.then(&["oven"], &["glove", "gloves", "cloth", "mitt"], 0);
    Some(if i_am || said.has(CLOTHES) {
        EmergencyKind::ClothesFire
    } else if said.has(CLOTH) || glove {
        EmergencyKind::Fire
    } else if said.has(OVEN) {
        EmergencyKind::OvenFire
    } else if said.has(PAN) {
        EmergencyKind::PanFire
    } else {
        EmergencyKind::Fire
    })
}

/// Gas, electricity, and what was swallowed or splashed.
fn danger(said: &Said) -> Option<EmergencyKind> {
    const POISON: &[&str] = &[
        "bleach",
        "lye",
        "caustic",
        "detergent",
        "descaler",
        "antifreeze",
        "poison",
        "battery",
        "batteries",
        "ammonia",
        "drano",
        "acid",
        "cleaner",
        "disinfectant",
        "dishwasher",
        "paraffin",
        "turpentine",
        "magnet",
        "magnets",
        "tablets",
        "pills",
        "chemical",
        "chemicals",
        "glass",
        "pesticide",
        "washing",
    ];
    const WENT_IN: &[&str] = &[
        "swallowed",
        "swallow",
        "drank",
        "drunk",
        "drink",
        "drinking",
        "ate",
        "eaten",
        "inhaled",
        "licked",
        "sipped",
    ];
    let gas = said.near(
        &["gas"],
        &[
            "smell", "smells", "smelling", "smelt", "stinks", "stink", "reeks", "reek", "whiff",
            "leak", "leaking", "leaks",
        ],
        4,
    ) && !said.says(&["gas mark"])
        && !said.has(&["not"]);
    if gas || said.says(&["carbon monoxide"]) {
        return Some(EmergencyKind::Gas);
    }
    let electric = said.says(&["electric shock", "electrical shock"])
        || said.has(&["electrocuted", "electrocuting", "electrocution", "zapped"])
        || said.near(
            &["shock"],
            &[
                "mixer",
                "plug",
                "socket",
                "toaster",
                "kettle",
                "oven",
                "fridge",
                "blender",
                "wire",
                "cable",
                "microwave",
                "hob",
                "switch",
                "lead",
            ],
            5,
        ) && said.has(&["got", "gave", "had", "me", "him", "her", "a"])
            && !said.has(&["ice", "cold", "life"]);
    if electric {
        return Some(EmergencyKind::Shock);
    }
    let person = said.has(PEOPLE);
    let swallowed = person
        && said.all(WENT_IN).any(|verb| {
            let poison = said.all(POISON).any(|p| {
                p > verb
                    && p - verb <= 5
                    && (said.word(p) != "glass"
                        || said.word(p + 1) != "of" && said.word(verb).starts_with("swallow"))
                    && !(said.word(p) == "washing" && said.word(p + 1) != "up")
            });
            poison && !is_denied(said, verb)
        })
        || said.has(&["poisoned"]) && person && !said.has(&["food"]);
    if swallowed {
        return Some(EmergencyKind::Swallowed);
    }
    let eye = parts(said).into_iter().any(|(at, kind)| {
        kind == EYES
            && said
                .all(&[
                    "in", "into", "burning", "burns", "stinging", "stings", "spat", "splashed",
                    "squirted", "got", "hit",
                ])
                .any(|w| w.abs_diff(at) <= 5)
            && (said.has(&[
                "chilli",
                "chili",
                "chillies",
                "pepper",
                "onion",
                "lemon",
                "oil",
                "fat",
                "something",
                "cleaner",
                "bleach",
                "lye",
                "vinegar",
                "splashed",
                "squirted",
                "spat",
                "glass",
                "stinging",
                "burning",
                "burns",
                "juice",
                "acid",
                "sugar",
                "soap",
                "spray",
                "caustic",
                "washing",
            ]))
            && !is_denied(said, at)
            && !said.has(&["had"])
            && !said.says(&["keep an eye", "onion makes", "onions make"])
    });
    let on_skin = said.has(&["bleach", "lye", "caustic", "acid"])
        && parts(said).iter().any(|(_, kind)| *kind != EYES)
        && said.has(&[
            "on", "over", "splashed", "spilt", "spilled", "burnt", "burned", "burning", "touched",
        ])
        && !said.has(&["not", "gloves"]);
    (eye || on_skin).then_some(EmergencyKind::Splash)
}

/// Choking, an allergic reaction, and who has collapsed.
fn illness(said: &Said) -> Option<EmergencyKind> {
    let person = said.has(PEOPLE);
    let no_breath = said.says(&[
        "not breathing",
        "stopped breathing",
        "no pulse",
        "not breathe at all",
    ]) && !said.has(&["dough", "wine", "cloth"])
        && (person && said.words.len() <= 12)
        && !said.says(&["breathing out", "breathing in"]);
    let down = person
        && (said.has(&[
            "fainted",
            "unconscious",
            "unresponsive",
            "convulsing",
            "faint",
        ]) || said.says(&[
            "passed out",
            "blacked out",
            "having a stroke",
            "having a heart attack",
            "had a heart attack",
            "having a seizure",
            "having a fit",
            "chest pain",
            "chest pains",
            "will not wake up",
            "can not wake",
            "had a stroke",
            "had a seizure",
        ]) || said.has(&["collapsed"])
            && !said.has(&[
                "cake", "souffle", "soufflé", "dough", "loaf", "bread", "it", "meringue", "sponge",
                "pudding", "tower",
            ]));
    let stuck = said.near(&["stuck", "lodged", "caught"], &["throat", "windpipe"], 4) && person;
    let chokes = said.has(&["choking", "choked", "chokes"])
        && !said.says(&[
            "choking hazard",
            "choking risk",
            "choked up",
            "choked with",
            "choking hazards",
        ])
        && (person || said.words.len() <= 3)
        && !said
            .all(&["choking", "choked"])
            .any(|at| is_denied(said, at));
    if chokes || stuck {
        return Some(EmergencyKind::Choking);
    }
    let sleeps = said.has(&["couch", "sofa", "bed", "asleep"])
        || said.says(&["faint smell", "faint taste", "a faint"]);
    if no_breath || down && !sleeps {
        return Some(EmergencyKind::Collapse);
    }
    let reaction = said.says(&[
        "allergic reaction",
        "allergic shock",
        "reacting to the",
        "having a reaction",
        "anaphylactic shock",
    ]) || said.words.iter().any(|w| w.starts_with("anaphyla"))
        || said.has(&["epipen", "epipens", "adrenaline"])
        || said.says(&["epi pen", "auto injector"])
        || said.has(&["hives"]) && !said.has(&["bee", "bees", "honey"]);
    let swells = parts(said).into_iter().any(|(at, _)| {
        said.all(&[
            "swelling",
            "swollen",
            "swelled",
            "swells",
            "puffing",
            "puffy",
            "tingling",
            "closing",
            "tightening",
            "itching",
        ])
        .any(|swells| swells.abs_diff(at) <= 4 && !is_denied(said, swells))
    });
    let breath = person
        && said.says(&[
            "can not breathe",
            "cannot breathe",
            "trouble breathing",
            "struggling to breathe",
            "hard to breathe",
            "difficulty breathing",
            "is wheezing",
            "gasping for",
            "not breathe",
            "struggles to breathe",
            "short of breath",
        ])
        && !said.has(&["dough", "wine", "it", "mask", "steam", "so"]);
    let ate = said.has(&["ate", "eaten"])
        && said.has(&["allergic", "allergy"])
        && person
        && !said.has(&["can", "could", "before", "if", "what"]);
    let asks = said.has(&["cause", "causes", "avoid", "prevent", "which", "contain"])
        || said.says(&["could have", "might have"]);
    ((reaction && !asks) || swells || breath || ate).then_some(EmergencyKind::Allergy)
}

fn call(said: &Said) -> bool {
    (said.has(&["ambulance", "paramedic", "paramedics"])
        && said.has(&["call", "need", "get", "ring", "phone", "send"]))
        || said.says(&[
            "an emergency",
            "nine nine nine",
            "nine one one",
            "one one two",
            "first aid",
        ]) && !said.says(&["in an emergency loaf", "point nine"])
            && !said.has(&["grams", "gram", "minutes", "kit"])
        || said.says(&[
            "there has been an accident",
            "is badly hurt",
            "is seriously hurt",
            "am badly hurt",
        ])
}
