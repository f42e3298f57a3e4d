//! Questions that hope that something is not in it: 'is it dairy free', 'can a vegan eat this', 'she is allergic to nuts'.

use super::book::{Book, give, way};
use super::order::Order;
use super::situation::Situation;
use super::slots::{Caps, Value};

pub(super) fn lay(g: &mut Book) {
    g.lay(
        "diet",
        vec![
            give("[a] vegan|vegans", Value::Sym("vegan")),
            give(
                "[a] vegetarian|=vegetarians|[a] =veggie|=veggies",
                Value::Sym("vegetarian"),
            ),
            give("[a] =pescatarian|=pescatarians", Value::Sym("pescatarian")),
            give(
                "[a] =coeliac|=coeliacs|[a] =celiac|=celiacs",
                Value::Sym("gluten"),
            ),
            give("lactose =intolerant [people]", Value::Sym("lactose")),
            give("gluten =intolerant [people]", Value::Sym("gluten")),
        ],
    );
    g.lay(
        "eater",
        vec![give(
            "(my|our|a|the|one) (friend|guest|mother|father|son|daughter|wife|husband|child|neighbour|partner|sister|brother|boy|girl|=mum|=mom|=dad|=colleague)|someone|somebody|anyone|anybody|people|guests|[a] person|i|me|he|she|him|her|they|them|we|us|friends|children|those",
            Value::Flag,
        )],
    );
    // What is wrong with it for somebody.
    g.lay(
        "cannot",
        vec![
            way(
                "([who|that] (is|are|am)|=being) allergic to <n:held>|allergic to <n:held>",
                |c, _| c.get("n").cloned(),
            ),
            way(
                "(with|who has|who have|has|have|that has) (a|an|the) [bad|=severe|=serious] <n:allergen> (allergy|=intolerance)|(with|who has|who have|has|have) (a|an) (allergy|=intolerance) to <n:held>",
                |c, _| c.get("n").cloned(),
            ),
            way(
                "[who|that] (cannot|can not|must not|may not|should not) (eat|have|=tolerate|touch) <n:held>|[who|that] (does not|do not) (eat|=tolerate) <n:held>",
                |c, _| c.get("n").cloned(),
            ),
            way("[who|that] (is|are|am) [a] <n:diet>", |c, _| {
                c.get("n").cloned()
            }),
        ],
    );
    g.say(
        "free_of",
        &[
            "is (it|this|that|the recipe|the formula) [really|completely|all] <w:allergen> free",
            "is (it|this|that|the recipe|the formula) [really|completely] free (of|from) <w:held>",
            "is (it|this|that) [made|cooked|baked] without <w:held>",
            "is there no <w:allergen> in (it|this|that)",
            "(it|this) (has|contains) no <w:allergen>|(it|this) is <w:allergen> free",
            "does (it|this|that) (contain|have) no <w:allergen>",
            "is (it|this|that) [really] <w:diet>",
            "is (it|this|that) (ok|okay|safe|=suitable|all right|fine|good|right) for <w:diet>",
            "(can|may|could) <w:diet> (eat|have) (it|this|that|some)",
            "is (it|this|that) (ok|okay|safe|=suitable|all right|fine|good) for <p:eater> <w:cannot>",
            "is (it|this|that) (ok|okay|safe|=suitable|all right|fine|good) for (a|an) <w:allergen> allergy",
            "is (it|this|that) (ok|okay|safe|all right|fine) (if|when) <p:eater> <w:cannot>",
            "(can|may|could|should) <p:eater> <w:cannot> (eat|have) (it|this|that|some)",
            "(can|may|could|should) <p:eater> (eat|have) (it|this|that|some) [if|when|because] [<q:eater>] <w:cannot>",
            "(can|may) <p:eater> (eat|have) (it|this|that|some) with (a|an) <w:allergen> allergy",
            "<p:eater> <w:cannot> [(can|may) <q:eater> (eat|have) (it|this|that|some)]",
            "<p:eater> <w:cannot> is (it|this|that) (ok|okay|safe|all right|fine) [for <q:eater>]",
            "(can|may) i (serve|give) (it|this|that) to <p:eater> <w:cannot>|(can|may) i (serve|give) (it|this|that) to <w:diet>",
        ],
        free_of,
    );
    g.say(
        "contains_more",
        &[
            "(is|are) <w:allergen> (used|an ingredient) [in (it|this|that)]",
            "[is there|are there] any <w:allergen> in (it|this|that)",
            "(could|might|may|can) (it|this|that) (contain|have) <w:held> [in it]",
            "(could|might|may|can) there be <w:held> in (it|this|that)",
            "(are|is) there =traces of <w:held> [in (it|this|that)]",
            "has (it|this|that) <w:allergen> in it|has (it|this|that) any <w:allergen>",
            "what about <w:allergen>|(any|and) <w:allergen>",
        ],
        |c, _| {
            Some(Order::Contains {
                what: c.text("w")?,
                absent: false,
            })
        },
    );
}

fn free_of(c: &Caps, _: &Situation) -> Option<Order> {
    Some(Order::Contains {
        what: c.text("w")?,
        absent: true,
    })
}
