//! The weigh-up: what goes on the scale, what is in, what is left.

use super::book::Book;
use super::key::Key;
use super::keys::{Before, Keys, Press, number, numbered};
use super::order::Order;
use super::place::Place;
use super::said::say_amount;
use super::situation::Situation;

macro_rules! weighing {
    ([$next:ident $($rest:ident)*] $($before:tt)*) => {
        $next! {
        [$($rest)*] $($before)*
        /// What goes on the scale next.
        WeighNext,
        /// The thing asked for is done or in.
        Done,
        /// Has this ingredient gone in?
        HaveAdded {
            /// The ingredient, as its id in the formula when it is one of its own.
            ingredient: IngredientId,
        },
        /// This ingredient has gone in.
        MarkAdded {
            /// The ingredient.
            ingredient: IngredientId,
            /// More of them in the same breath.
            #[serde(default, skip_serializing_if = "Vec::is_empty")]
            also: Vec<IngredientId>,
        },
        /// This ingredient has not gone in after all.
        UnmarkAdded {
            /// The ingredient.
            ingredient: IngredientId,
        },
        /// What has not gone in yet.
        LeftToAdd,
        /// Everything that this step names has gone in.
        MarkStep,
        /// What has gone in so far.
        WhatIsIn,
        /// Of what may be taken for an ingredient, this; the next of them where none is named.
        Choose {
            /// The ingredient; none for the one that is called.
            ingredient: Option<IngredientId>,
            /// What is taken, as the formula names it.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            take: Option<Food>,
        },
        /// So much of an ingredient really went in.
        PutIn {
            /// The ingredient.
            ingredient: IngredientId,
            /// How much of it.
            mass: Mass,
        },
        }
    };
}

pub(super) fn lay(g: &mut Book) {
    progress(g);
    marks(g);
}

fn progress(g: &mut Book) {
    g.say(
        "weigh_next",
        &[
            "what do i (weigh|measure|add) [next|now]",
            "what (should|must|shall) i (weigh|measure|add) [next|now]",
            "what is next to (weigh|add|measure)",
            "what (goes|comes) (in|on the scale) next",
            "what goes in [now|next]",
            "what am i (weighing|adding) [next|now]",
            "what goes on the scale",
            "next to weigh|next on the scale",
            "what is the next ingredient",
            "which ingredient is next|which ingredient comes next",
            "what do i put (in|on the scale) [next|now]",
        ],
        |_, _| Some(Order::WeighNext),
    );
    g.say(
        "done",
        &[
            "done",
            "it is (in|done)",
            "that is (in|done)",
            "finished",
            "i am (done|finished)",
            "i have done (it|that)",
            "i did (it|that)",
            "all done|all in",
            "in it goes",
            "i have (added|weighed|finished) (it|that)",
            "i added it",
            "it is (weighed|added|=on)",
            "ready",
            "i am ready",
            "got it|i have got it|i got it",
            "that is that",
            "i have put it in",
            "i put it in|it has gone in",
            "!=check|=tick|=complete|=completed|=ta =da",
        ],
        |_, _| Some(Order::Done),
    );
    g.say(
        "choose",
        &[
            "(take|use) <o:the_alternative> [instead]",
            "(i will|let us|we|i) (take|use) <o:the_alternative> [instead]",
            "<o:the_alternative> (please|instead)",
            "(it is|make it) <o:the_alternative>",
        ],
        |c, _| chosen(&c.text::<String>("o")?),
    );
    g.say(
        "choose_next",
        &["(take|use) the other [one|=instead]"],
        |_, _| {
            Some(Order::Choose {
                ingredient: None,
                take: None,
            })
        },
    );
    g.say(
        "left_to_add",
        &[
            "what is left [to add|to weigh|to go in]",
            "what is (missing|still to go in|still missing)",
            "is (anything|something) [still] missing",
            "what have i not added [yet]",
            "what (else|more) [do i need|do i add|goes in|is there|should go in]",
            "what (else|more) do i need to (add|weigh)",
            "what (do i still need|still needs to go in)",
            "what do i (still|=yet) have to (add|weigh)",
            "what has not gone in [yet]",
            "have i (forgotten|missed) anything",
            "is everything in|is it all in",
            "did i (forget|miss) anything",
            "what is not in yet",
            "which ingredients are left|which ingredients are missing",
        ],
        |_, _| Some(Order::LeftToAdd),
    );
}

/// An id and a name, parted by a bar.
fn chosen(text: &str) -> Option<Order> {
    let (id, name) = text.split_once('|')?;
    Some(Order::Choose {
        ingredient: Some(id.into()),
        take: Some(name.into()),
    })
}

fn marks(g: &mut Book) {
    g.say(
        "have_added",
        &[
            "have i (added|put in|weighed|used) <i:the_any> [in] [yet|already]",
            "did i (add|put in|weigh|use) <i:the_known> [yet|already]",
            "(have|did) i put <i:the_known> (in|on) [yet|already]",
            "(is|are) <i:the_known> in [yet|already]",
            "(has|have) <i:the_known> gone in [yet|already]",
            "did <i:the_known> go in",
            "have i (forgotten|missed) <i:the_known>",
            "did i (forget|miss) <i:the_known>",
            "(is|are) <i:the_known> (added|in it|in there) [yet|already]",
            "is there <i:the_own> in (it|this|there) (already|yet)",
        ],
        |c, _| {
            Some(Order::HaveAdded {
                ingredient: c.text("i")?,
            })
        },
    );
    g.say(
        "mark_added",
        &[
            "i have (added|put in|weighed|used) <i:the_own> [in]",
            "i have put <i:the_own> in",
            "i (added|weighed|used|put in) <i:the_own>",
            "i put <i:the_own> (in|on)",
            "<i:the_own> (is|are) in [now]",
            "<i:the_own> (has|have) gone in",
            "<i:the_own> (is|are) (added|done|weighed)",
            "<i:the_own> (done|added|in|weighed)",
            "(tick|check) [off] <i:the_own> [off]|cross off <i:the_own>",
            "mark <i:the_own> as (added|done|in)",
            "i already (added|have|put in) <i:the_own>",
            "i have already (added|put in|weighed) <i:the_own>",
            "!=that =is <i:the_own> =in|=in =goes <i:the_own>",
        ],
        |c, _| {
            Some(Order::MarkAdded {
                ingredient: c.text("i")?,
                also: Vec::new(),
            })
        },
    );
    g.say(
        "mark_several",
        &[
            "<i:the_own> (is|are) in and <j:the_own> [(is|are) in] [too|as well|=also]",
            "<i:the_own> (is|are) in and so (is|are) <j:the_own>",
            "<i:the_own> and <j:the_own> [and <l:the_own>] (are|is) in [now]",
            "<i:the_own> and <j:the_own> [and <l:the_own>] have gone in",
            "i have (added|put in|weighed) <i:the_own> and <j:the_own> [and <l:the_own>]",
            "i have put <i:the_own> and <j:the_own> in",
            "!<i:the_own> <j:the_own> and <l:the_own> (are|is) in [now]",
            "<i:the_own> and <j:the_own> (too|as well)",
        ],
        |c, _| {
            let also = [c.text("j"), c.text("l")];
            Some(Order::MarkAdded {
                ingredient: c.text("i")?,
                also: also.into_iter().flatten().collect(),
            })
        },
    );
    g.say(
        "mark_step",
        &[
            "everything (is|has gone) in [now]",
            "it is all in [now]",
            "i have (added|put in) everything",
            "i have put everything in",
            "the whole step is (in|done)",
            "all of it is in",
        ],
        |_, _| Some(Order::MarkStep),
    );
    g.say(
        "what_is_in",
        &[
            "what (is|has gone) in (so far|already)",
            "what is in there [so far|already]",
            "what has gone in",
            "what have i (added|put in|weighed) [so far|already]",
            "what is already in",
        ],
        |_, _| Some(Order::WhatIsIn),
    );
    g.say(
        "put_in",
        &[
            "i (put in|added|weighed|used) <m:mass> [of] <i:the_own>",
            "i have (put in|added|weighed|used) <m:mass> [of] <i:the_own>",
            "i (put|have put) <m:mass> [of] <i:the_own> in",
            "<m:mass> [of] <i:the_own> (is|are|went|has gone) in",
            "it was <m:mass> of <i:the_own>",
        ],
        |c, _| {
            Some(Order::PutIn {
                ingredient: c.text("i")?,
                mass: c.mass("m")?,
            })
        },
    );
    g.say(
        "unmark_added",
        &[
            "i have not (added|put in|weighed|used) <i:the_own> [in] [yet]",
            "i have not put <i:the_own> in [yet]",
            "i did not (add|put in|weigh|use) <i:the_own>",
            "i did not put <i:the_own> in",
            "<i:the_own> (is|are) not in [yet]",
            "<i:the_own> (has|have) not gone in [yet]",
            "(i|i have) (forgot|forgotten|missed) <i:the_own>",
            "unmark <i:the_own>|mark <i:the_own> as not (added|done|in)",
            "take <i:the_own> off the list|=untick <i:the_own>",
            "<i:the_own> (is|are) still (missing|to go in)",
            "i still need to add <i:the_own>",
        ],
        |c, _| {
            Some(Order::UnmarkAdded {
                ingredient: c.text("i")?,
            })
        },
    );
}

/// How an order of this family is described back.
pub(super) fn describe(order: &Order, here: &Situation) -> Option<String> {
    Some(match order {
        Order::WeighNext => "what to weigh next".into(),
        Order::Done => "it is done".into(),
        Order::HaveAdded { ingredient } => {
            format!("have you added the {}", here.ingredient(ingredient))
        }
        Order::MarkAdded { ingredient, also } => {
            let mut text = format!("you have added the {}", here.ingredient(ingredient));
            for more in also {
                text.push_str(&format!(" and the {}", here.ingredient(more)));
            }
            text
        }
        Order::MarkStep => "everything in this step is in".into(),
        Order::WhatIsIn => "what has gone in".into(),
        Order::PutIn { ingredient, mass } => format!(
            "you put in {} of the {}",
            say_amount(mass.as_grams(), "g"),
            here.ingredient(ingredient)
        ),
        Order::UnmarkAdded { ingredient } => {
            format!("you have not added the {}", here.ingredient(ingredient))
        }
        Order::Choose { take, ingredient } => match (take, ingredient) {
            (Some(take), _) => format!("you take the {take}"),
            (None, Some(id)) => format!("something else than the {}", here.ingredient(id)),
            (None, None) => "you take the other one".into(),
        },
        Order::LeftToAdd => "what is left to add".into(),
        _ => return None,
    })
}

/// It only asks.
pub(super) fn asks(order: &Order) -> bool {
    matches!(
        order,
        Order::WeighNext | Order::HaveAdded { .. } | Order::LeftToAdd | Order::WhatIsIn
    )
}

/// The keys of this family.
pub(super) fn keys(k: &mut Keys) {
    k.key(
        Key::Enter,
        Place::Weighing,
        "it is in; on to the next",
        |_, _| Press::Order(Order::Done),
    );
    k.show("Enter", Place::Weighing, "it is in");
    k.key(
        Key::Divide,
        Place::Weighing,
        "tells what goes on the scale",
        |_, _| Press::Order(Order::WeighNext),
    );
    k.show("/", Place::Weighing, "what goes on the scale");
    k.stroke(
        Before::Nought,
        Key::Divide,
        Place::Step,
        "tells what has not gone in",
        |_, _| Press::Order(Order::LeftToAdd),
    );
    k.show("0 /", Place::Step, "what has not gone in");
    k.stroke(
        Before::NoughtAndNumber,
        Key::Divide,
        Place::Step,
        "tells whether ingredient number {n} is in",
        |n, here| numbered(n, here, |ingredient| Order::HaveAdded { ingredient }),
    );
    k.show("0 3 /", Place::Step, "has the third ingredient gone in");
    k.path(". 3 # 2", "has it gone in", vec![], |a, _| {
        Ok(Order::HaveAdded {
            ingredient: a.ingredient(0),
        })
    });
    k.show(". 3 3 2", Place::Step, "has the third ingredient gone in");
    k.path(". 3 # 3", "it is in", vec![], |a, _| {
        Ok(Order::MarkAdded {
            ingredient: a.ingredient(0),
            also: Vec::new(),
        })
    });
    k.show(". 3 3 3", Place::Step, "the third ingredient is in");
    k.path(". 3 # 4", "it is not in after all", vec![], |a, _| {
        Ok(Order::UnmarkAdded {
            ingredient: a.ingredient(0),
        })
    });
    k.show(
        ". 3 3 4",
        Place::Step,
        "the third ingredient is not in after all",
    );
    k.path(
        ". 3 # 10",
        "how much really went in",
        vec![number("How many grams really went in?")],
        |a, _| {
            Ok(Order::PutIn {
                ingredient: a.ingredient(0),
                mass: a.mass(1),
            })
        },
    );
    k.show(
        ". 3 3 0 1 2 Enter",
        Place::Step,
        "12 grams of the third ingredient really went in",
    );
    k.path(". 3 # 11", "something else in its place", vec![], |a, _| {
        Ok(Order::Choose {
            ingredient: Some(a.ingredient(0)),
            take: None,
        })
    });
    k.show(
        ". 3 3 - Enter",
        Place::Step,
        "the other that may be taken for the third ingredient",
    );
    k.path(". 9 12", "what has gone in", vec![], |_, _| {
        Ok(Order::WhatIsIn)
    });
    k.show(". 9 - - Enter", Place::Step, "what has gone in so far");
    k.item(
        ". 10 10",
        "everything in this step is in",
        "everything in this step is in",
        |_, _| Ok(Order::MarkStep),
    );
}
