//! Somebody is hurt or in danger: what to do at once. It only tells; no timer and no step is touched.

use super::alike::{Said, SingleValue};
use super::book::{Book, give};
use super::emergency_kind::EmergencyKind;
use super::keys::{Keys, one_of, pairs};
use super::order::Order;
use super::place::Place;
use super::slots::Value;

macro_rules! emergency {
    ([$next:ident $($rest:ident)*] $($before:tt)*) => {
        $next! {
        [$($rest)*] $($before)*
        /// What to do for a small burn.
        BurnHelp,
        /// What to do where somebody is hurt or in danger in another way.
        Emergency {
            /// What has happened.
            kind: EmergencyKind,
        },
        }
    };
}

impl EmergencyKind {
    /// How it is said.
    pub(crate) fn words(self) -> &'static str {
        match self {
            Self::Cut => "a cut",
            Self::BurntMouth => "a burnt mouth",
            Self::PanFire => "a pan on fire",
            Self::OvenFire => "a fire in the oven",
            Self::ClothesFire => "hair or clothes on fire",
            Self::Fire => "a fire",
            Self::Gas => "a smell of gas",
            Self::Choking => "choking",
            Self::Allergy => "an allergic reaction",
            Self::Shock => "an electric shock",
            Self::Swallowed => "something swallowed",
            Self::Splash => "something in the eye",
            Self::Collapse => "somebody who has collapsed",
            Self::Call => "help",
        }
    }
}

impl SingleValue for EmergencyKind {
    fn turn_alike(&mut self) -> bool {
        false
    }

    fn said(&self) -> Said {
        Said::InSentence(self.words().to_owned())
    }
}

pub(super) fn lay(g: &mut Book) {
    let some = |pattern| vec![give(pattern, Value::Flag)];
    g.lay(
        "whose_skin",
        some("[my|his|her|the|a] (hand|hands|finger|fingers|thumb|arm|wrist|palm|foot|leg|face|skin|=knuckle|=toes)"),
    );
    g.lay("skin", some("<s:whose_skin>|myself|himself|herself|me"));
    g.lay(
        "somebody",
        some("i|he|she|we|somebody|someone|(my|our|the|a) (son|daughter|child|baby|boy|girl|wife|husband|partner|mother|father|friend|guest|brother|sister)"),
    );
    g.lay(
        "hot_thing",
        some("[the|a|some] [hot|boiling] (steam|oil|fat|jam|water|sugar|=caramel|soup|tea|coffee|milk|pan|tin|oven|tray|oven door|kettle|grill|=hob|=grease|=iron)"),
    );
    burns(g);
    hurts(g);
    fires(g);
    dangers(g);
    g.say(
        "emergency_call",
        &[
            "[this is|it is] an emergency",
            "(call|i need|get) an ambulance",
            "there has been an accident",
            "somebody is hurt|someone is hurt|i am hurt|i have hurt myself",
            "=call (=999|=911|=112|=000)|first aid|i need first aid",
        ],
        |_, _| kind(EmergencyKind::Call),
    );
}

#[allow(clippy::unnecessary_wraps)]
fn kind(kind: EmergencyKind) -> Option<Order> {
    Some(Order::Emergency { kind })
}

fn burns(g: &mut Book) {
    g.say(
        "burn_help",
        &[
            "<w:somebody> [have|has] [just] (burnt|burned|scalded) <p:skin> [on <h:hot_thing>|with <h:hot_thing>]",
            "(burnt|burned|scalded) (my|his|her) (hand|finger|fingers|thumb|arm|foot|leg|face)",
            "help with a burn|i have a burn|i have got a burn",
            "what do i do (for|with|about) a (burn|scald)|how do i treat a (burn|scald)",
            "[i have got|there is] hot (steam|oil|fat|jam|water|sugar|=grease|=caramel) (on|over) <p:skin>",
            "<p:whose_skin> (is|are) (burnt|burned|scalded)",
        ],
        |_, _| Some(Order::BurnHelp),
    );
    g.say(
        "burnt_mouth",
        &[
            "<w:somebody> [have|has] [just] (burnt|burned|scalded) (my|his|her|the) (mouth|tongue|lip|lips|throat)",
            "(my|his|her) (tongue|mouth) is (burnt|burned)",
        ],
        |_, _| kind(EmergencyKind::BurntMouth),
    );
}

fn hurts(g: &mut Book) {
    g.say(
        "cut_help",
        &[
            "<w:somebody> [have|has] [just] (cut|stabbed) (<p:skin>) [on|with] [the|a|my] [knife|glass|tin|=grater|=blade]",
            "(i am|he is|she is) bleeding|it will not stop bleeding",
            "help with a cut|what do i do (for|with|about) a cut",
            "there is blood everywhere",
        ],
        |_, _| kind(EmergencyKind::Cut),
    );
    g.say(
        "choking_help",
        &[
            "<w:somebody> (is|am) choking",
            "(help|=quick) <w:somebody> is choking|help choking",
            "there is something stuck in (my|his|her) throat",
        ],
        |_, _| kind(EmergencyKind::Choking),
    );
    g.say(
        "allergy_help",
        &[
            "<w:somebody> [is having|has|is having] an allergic reaction",
            "(his|her|my) (face|tongue|throat|lips|mouth) (is|are) (swelling|swollen) [up]",
            "<w:somebody> (can not|cannot) breathe",
            "help with an allergic reaction",
        ],
        |_, _| kind(EmergencyKind::Allergy),
    );
    g.say(
        "shock_help",
        &[
            "<w:somebody> [have|has] [just] (got|had) an electric shock",
            "help with an electric shock",
            "what do i do (for|about) an electric shock|an electric shock",
        ],
        |_, _| kind(EmergencyKind::Shock),
    );
    g.say(
        "swallowed_help",
        &[
            "<w:somebody> [have|has] [just] (swallowed|drunk|drank) (=bleach|poison|=lye|[a] battery|[a|some] glass|=detergent|cleaning (fluid|liquid)|[the] cleaner)",
            "<w:somebody> [have|has] [just] swallowed something",
        ],
        |_, _| kind(EmergencyKind::Swallowed),
    );
    g.say(
        "splash_help",
        &[
            "[i have got|there is] (=bleach|=lye|=chilli|oil|something|[the] cleaner) in (my|his|her) (eye|eyes)",
            "something went in (my|his|her) eye",
        ],
        |_, _| kind(EmergencyKind::Splash),
    );
    g.say(
        "collapse_help",
        &[
            "<w:somebody> [has] (=fainted|collapsed|passed out)",
            "<w:somebody> is (unconscious|not breathing)",
            "what do i do if <w:somebody> collapses|help with somebody who has collapsed",
        ],
        |_, _| kind(EmergencyKind::Collapse),
    );
}

fn fires(g: &mut Book) {
    g.lay(
        "burns",
        some_way(
            "(is|are) (on fire|in flames|burning)|(has|have) caught fire|=went =up =in =flames",
        ),
    );
    g.say(
        "pan_fire",
        &[
            "the (pan|frying pan|pot|=wok) (is on fire|is in flames|has caught fire|caught fire)",
            "[the] (oil|fat|=grease) <b:burns>",
            "there is a fire in the (pan|pot)|a pan is on fire|pan on fire|oil on fire",
            "there is oil burning in the pan",
        ],
        |_, _| kind(EmergencyKind::PanFire),
    );
    g.say(
        "oven_fire",
        &[
            "the (oven|grill|toaster|microwave) (is on fire|is in flames|has caught fire|caught fire)",
            "there is a fire in the (oven|grill|microwave)|(something is|it is) on fire in the oven|oven on fire",
        ],
        |_, _| kind(EmergencyKind::OvenFire),
    );
    g.say(
        "clothes_fire",
        &[
            "(my|his|her) (hair|sleeve|shirt|dress|clothes) (is on fire|are on fire|has caught fire|have caught fire|caught fire)",
            "(i am|he is|she is) on fire",
        ],
        |_, _| kind(EmergencyKind::ClothesFire),
    );
    g.say(
        "fire_help",
        &[
            "(there is|we have) a fire [in the kitchen]",
            "the (kitchen|towel|tea towel|cloth|curtain|paper) (is on fire|has caught fire|caught fire)",
            "(something is|it is) on fire",
            "(how do i|help me) put out (a|the) fire|call the fire brigade",
            "!fire|=fire =fire|help fire",
        ],
        |_, _| kind(EmergencyKind::Fire),
    );
}

fn some_way(pattern: &'static str) -> Vec<(&'static str, super::book::Build)> {
    vec![give(pattern, Value::Flag)]
}

fn dangers(g: &mut Book) {
    g.say(
        "gas_help",
        &[
            "(i|we) [can] smell gas",
            "(it|the kitchen) smells of gas|there is a smell of gas",
            "there is a gas leak|the gas is leaking|gas leak",
        ],
        |_, _| kind(EmergencyKind::Gas),
    );
}

/// How an order of this family is described back.
pub(super) fn describe(order: &Order) -> Option<String> {
    Some(match order {
        Order::BurnHelp => "what to do for a burn".to_owned(),
        Order::Emergency { kind } => format!("what to do for {}", kind.words()),
        _ => return None,
    })
}

/// It only asks.
pub(super) fn asks(order: &Order) -> bool {
    order.is_emergency()
}

/// What has happened, as it is offered: the most pressing first.
const HAPPENED: &[(&str, &str)] = &[
    ("a burn", "burn"),
    ("a cut", "cut"),
    ("a pan on fire", "pan_fire"),
    ("a fire in the oven", "oven_fire"),
    ("hair or clothes on fire", "clothes_fire"),
    ("another fire", "fire"),
    ("a smell of gas", "gas"),
    ("choking", "choking"),
    ("an allergic reaction", "allergy"),
    ("an electric shock", "shock"),
    ("somebody has collapsed", "collapse"),
    ("something swallowed", "swallowed"),
    ("something in the eye", "splash"),
    ("a burnt mouth", "burnt_mouth"),
    ("whom to call", "call"),
];

/// The keys of this family.
pub(super) fn keys(k: &mut Keys) {
    k.path(
        ". 10 9",
        "first aid, and fire",
        vec![one_of("What has happened?", |_| pairs(HAPPENED))],
        |a, _| {
            let kind = a.word(0).and_then(|word| word.parse().ok());
            Ok(kind.map_or(Order::BurnHelp, |kind| Order::Emergency { kind }))
        },
    );
    k.show(". 0 9 1", Place::Step, "what to do for a burn");
    k.show(". 0 9 8", Place::Step, "what to do when somebody chokes");
}

impl Order {
    /// Somebody is hurt or in danger: answered at once.
    pub fn is_emergency(&self) -> bool {
        matches!(self, Self::BurnHelp | Self::Emergency { .. })
    }
}
