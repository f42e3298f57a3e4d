//! Several dishes at once: turning to one, what each is doing, when the cook is wanted, what goes in over all of them.

use super::book::{Book, way};
use super::key::Key;
use super::keys::{Answer, Before, Choices, Keys, Press, ingredients, one_of, titles_of_book};
use super::loss::Loss;
use super::order::Order;
use super::place::Place;
use super::refs::DishRef;
use super::said::say_ordered;
use super::situation::Situation;
use super::slots::{Caps, Value};

macro_rules! dishes {
    ([$next:ident $($rest:ident)*] $($before:tt)*) => {
        $next! {
        [$($rest)*] $($before)*
        /// An order for a dish that is named: 'next on the soup', 'how much salt in the pie'.
        AtDish {
            /// The dish.
            dish: DishRef,
            /// The order.
            order: Box<Order>,
        },
        /// Turn to a dish.
        GoToDish {
            /// The dish.
            dish: DishRef,
        },
        /// What a dish is doing, and when it wants the cook; every dish where none is named.
        DishDoing {
            /// The dish.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            dish: Option<DishRef>,
        },
        /// How long until the cook is needed.
        UntilNeeded,
        /// A dish waits: until no other wants the cook, or for so long.
        PutOff {
            /// The dish.
            dish: DishRef,
            /// For so long, where that was said.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            by: Option<Span>,
        },
        /// Leave a dish out.
        LeaveOut {
            /// The dish.
            dish: DishRef,
        },
        /// Make another dish of the book as well.
        AlsoMake {
            /// Its title, as the book has it.
            title: Title,
        },
        /// How much of something goes in over all dishes.
        InAll {
            /// What.
            ingredient: Food,
        },
        /// All that more than one dish takes, added up.
        WeighAll,
        }
    };
}

/// The dish that was named.
fn dish_of(c: &Caps) -> Option<DishRef> {
    c.text::<String>("d")?.parse().ok().map(DishRef)
}

pub(super) fn lay(g: &mut Book) {
    g.lay(
        "the_dish",
        vec![way("[the|=my|=that] <n:dish>", |c, _| c.get("n").cloned())],
    );
    // What may stand after any sentence where several dishes are made.
    g.lay(
        "whose",
        vec![way("(on|of|in|for|with) <n:the_dish>", |_, _| {
            Some(Value::Flag)
        })],
    );
    turning(g);
    asking(g);
    g.say(
        "put_off",
        &[
            "put <d:the_dish> off [for <b:duration>]",
            "put off <d:the_dish> [for <b:duration>]",
            "leave <d:the_dish> (for later|until later|for now)",
            "leave <d:the_dish> for <b:duration>",
            "<d:the_dish> can wait [for <b:duration>]",
            "(do|make) <d:the_dish> (later|last)",
        ],
        |c, _| {
            Some(Order::PutOff {
                dish: dish_of(c)?,
                by: c.span("b"),
            })
        },
    );
    g.say(
        "leave_out",
        &[
            "leave out <d:the_dish>",
            "leave <d:the_dish> out",
            "(no|without) <d:the_dish> (today|tonight)",
            "(do not|we do not) make <d:the_dish>",
            "give up [on] <d:the_dish>",
        ],
        |c, _| Some(Order::LeaveOut { dish: dish_of(c)? }),
    );
    g.say(
        "also_make",
        &[
            "let us also (make|cook|bake) [the|a|an|some] <t:book_title>",
            "let us (make|cook|bake) [the|a|an|some] <t:book_title> (too|as well)",
            "also (make|cook|bake) [the|a|an|some] <t:book_title>",
            "(make|cook|bake|do) [the|a|an|some] <t:book_title> (too|as well)",
            "i want to (make|cook|bake) [the|a|an|some] <t:book_title> (too|as well)",
            "add [the|a|an] <t:book_title> to the (dinner|meal|plan)",
        ],
        |c, _| {
            Some(Order::AlsoMake {
                title: c.text("t")?,
            })
        },
    );
}

fn turning(g: &mut Book) {
    g.say(
        "go_to_dish",
        &[
            "(go|go on|go back|move|move on|turn|back|on) to <d:the_dish>",
            "take me to <d:the_dish>",
            "(let us|i will) (do|go to|go on with) <d:the_dish> [now]",
            "let us go (on|back) to <d:the_dish>",
            "now <d:the_dish>",
            "back with <d:the_dish>",
            "<d:the_dish> (first|next)",
            "(start|begin) with <d:the_dish>",
            "(start|begin|do) <d:the_dish> (first|next)",
        ],
        |c, _| Some(Order::GoToDish { dish: dish_of(c)? }),
    );
}

fn asking(g: &mut Book) {
    g.say(
        "dish_doing",
        &[
            "what is <d:the_dish> doing [now]",
            "how is <d:the_dish> [doing|getting on|coming on|coming along]",
            "where is <d:the_dish>|where are we with <d:the_dish>",
            "how far is <d:the_dish>",
            "what does <d:the_dish> (need|want)",
            "what about <d:the_dish>",
            "when does <d:the_dish> (need|want) me",
        ],
        |c, _| {
            Some(Order::DishDoing {
                dish: Some(dish_of(c)?),
            })
        },
    );
    g.say(
        "dishes_doing",
        &[
            "what is running",
            "what is everything doing",
            "how is everything",
            "what are (the|all the|they all) (dishes|doing) [doing]",
            "how are (the|all the) dishes",
            "which dishes are we making|what dishes are there",
            "where is everything",
        ],
        |_, _| Some(Order::DishDoing { dish: None }),
    );
    g.say(
        "until_needed",
        &[
            "how long until (i am|you) (needed|wanted|need me|want me)",
            "how long (do|have) i (have|got)",
            "when am i (needed|wanted) [next|again]",
            "when do you (need|want) me [next|again]",
            "am i needed [now]",
            "(can|may) i (sit down|go out|leave the kitchen)",
            "do i have (time|a minute)|have i [got] time",
        ],
        |_, _| Some(Order::UntilNeeded),
    );
    g.say(
        "in_all",
        &[
            "how much <i:the_known_stuff> in (all|total)",
            "how much <i:the_known_stuff> altogether",
            "how much <i:the_known_stuff> (do i need|is there|goes in) (in all|in total|altogether)",
            "how much <i:the_known_stuff> for (everything|all the dishes|the whole dinner)",
            "how many <i:the_known_stuff> (in all|in total|altogether)",
        ],
        |c, _| {
            Some(Order::InAll {
                ingredient: c.text("i")?,
            })
        },
    );
    g.say(
        "weigh_all",
        &[
            "weigh everything [together|at once]",
            "weigh (it all|them all) (together|at once)",
            "weigh for all the dishes [together|at once]",
            "what do the dishes share",
            "what goes into more than one dish",
            "what do i weigh for everything",
        ],
        |_, _| Some(Order::WeighAll),
    );
}

/// How an order of this family is described back.
pub(super) fn describe(order: &Order, here: &Situation) -> Option<String> {
    Some(match order {
        Order::GoToDish { dish } => format!("go to the {}", here.dish(*dish)),
        Order::DishDoing { dish: Some(dish) } => {
            format!("what the {} is doing", here.dish(*dish))
        }
        Order::DishDoing { dish: None } => "what every dish is doing".to_owned(),
        Order::UntilNeeded => "how long until you are needed".to_owned(),
        Order::PutOff { dish, by: None } => format!("put the {} off", here.dish(*dish)),
        Order::PutOff { dish, by: Some(by) } => {
            format!("put the {} off for {}", here.dish(*dish), say_ordered(*by))
        }
        Order::LeaveOut { dish } => format!("leave out the {}", here.dish(*dish)),
        Order::AlsoMake { title } => format!("make {title} as well"),
        Order::InAll { ingredient } => format!("how much {ingredient} in all"),
        Order::WeighAll => "what the dishes share".to_owned(),
        _ => return None,
    })
}

/// It only asks.
pub(super) fn asks(order: &Order) -> bool {
    match order {
        Order::AtDish { order, .. } => order.only_asks(),
        Order::DishDoing { .. } | Order::UntilNeeded | Order::InAll { .. } | Order::WeighAll => {
            true
        }
        _ => false,
    }
}

/// What is lost.
pub(super) fn loses(order: &Order) -> Option<Loss<'_>> {
    match order {
        Order::AtDish { order, .. } => order.loses(),
        Order::LeaveOut { dish } => Some(Loss::Dish(*dish)),
        _ => None,
    }
}

/// The dishes that are made.
fn dishes(here: &Situation) -> Choices {
    if here.dishes.len() < 2 {
        return Err("There is one dish.".to_owned());
    }
    let choice = |dish: &super::situation::DishHere| (dish.name.clone(), Answer::Dish(dish.id));
    Ok(here.dishes.iter().map(choice).collect())
}

/// The dish of this number, counted as they are told.
fn numbered(text: &str, here: &Situation, order: fn(DishRef) -> Order) -> Press {
    let at = text.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
    match at.and_then(|at| here.dishes.get(at)) {
        Some(dish) => Press::Order(order(dish.id)),
        None if here.dishes.len() < 2 => Press::Say("There is one dish.".to_owned()),
        None => Press::Say(format!(
            "There is no dish {text}; they run from 1 to {}.",
            here.dishes.len()
        )),
    }
}

/// The keys of this family.
pub(super) fn keys(k: &mut Keys) {
    k.stroke(
        Before::NoughtAndNumber,
        Key::Enter,
        Place::Step,
        "turns to dish number {n}",
        |n, here| numbered(n, here, |dish| Order::GoToDish { dish }),
    );
    k.show("0 2 Enter", Place::Step, "turn to the second dish");
    k.stroke(
        Before::NoughtAndNumber,
        Key::Minus,
        Place::Step,
        "tells what dish number {n} is doing",
        |n, here| numbered(n, here, |dish| Order::DishDoing { dish: Some(dish) }),
    );
    k.show("0 2 -", Place::Step, "what the second dish is doing");
    k.list_of(". 4 11", "the dishes", "The dishes.", dishes);
    k.item(
        ". 4 11 1",
        "how long until I am needed",
        "how long until I am needed",
        |_, _| Ok(Order::UntilNeeded),
    );
    k.item(
        ". 4 11 2",
        "what every dish is doing",
        "what every dish is doing",
        |_, _| Ok(Order::DishDoing { dish: None }),
    );
    k.path(
        ". 4 11 3",
        "how much of something in all",
        vec![one_of("Of what?", ingredients)],
        |a, here| match a.food(0, here) {
            Some(ingredient) => Ok(Order::InAll { ingredient }),
            None => Err("There is nothing to add up.".to_owned()),
        },
    );
    k.show(
        ". 4 - Enter 3 3",
        Place::Step,
        "how much of the third ingredient in all dishes",
    );
    k.item(
        ". 4 11 4",
        "what several dishes take, in all",
        "what several dishes take, in all",
        |_, _| Ok(Order::WeighAll),
    );
    k.path(
        ". 4 11 5",
        "another dish of the book",
        vec![one_of("Which one?", titles_of_book)],
        |a, _| match a.word(0) {
            Some(title) => Ok(Order::AlsoMake {
                title: title.into(),
            }),
            None => Err("There is no other in the book.".to_owned()),
        },
    );
    k.show(
        ". 4 - Enter 5 1",
        Place::Step,
        "make another dish of the book",
    );
    one_dish(k);
}

/// What can be done with one dish.
fn one_dish(k: &mut Keys) {
    k.list(". 4 11 #", "", "");
    k.path(". 4 11 # 1", "go on with it", vec![], |a, _| {
        Ok(Order::AtDish {
            dish: a.dish(0)?,
            order: Box::new(Order::Next),
        })
    });
    k.show(
        ". 4 - Enter 7 1",
        Place::Step,
        "the next step of the second dish",
    );
    k.path(". 4 11 # 2", "turn to it", vec![], |a, _| {
        Ok(Order::GoToDish { dish: a.dish(0)? })
    });
    k.path(". 4 11 # 3", "what it is doing", vec![], |a, _| {
        Ok(Order::DishDoing {
            dish: Some(a.dish(0)?),
        })
    });
    k.path(". 4 11 # 4", "put it off", vec![], |a, _| {
        Ok(Order::PutOff {
            dish: a.dish(0)?,
            by: None,
        })
    });
    k.show(". 4 - Enter 7 4", Place::Step, "put the second dish off");
    k.path(". 4 11 # 5", "leave it out", vec![], |a, _| {
        Ok(Order::LeaveOut { dish: a.dish(0)? })
    });
    k.show(". 4 - Enter 7 5", Place::Step, "leave out the second dish");
}
